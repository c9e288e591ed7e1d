# SPDX-License-Identifier: GPL-3.0-or-later
# Rscript read_fread.R THREADS FILE...: logs by data.table's fread, all columns kept. Prints seconds and processor seconds.
arguments <- commandArgs(TRUE)
suppressMessages(library(data.table))
start <- proc.time()
kept <- lapply(arguments[-1], fread, nThread = as.integer(arguments[1]), skip = "time_s", showProgress = FALSE)
took <- proc.time() - start
cat(took[["elapsed"]], took[["user.self"]] + took[["sys.self"]], "\n")
stopifnot(all(sapply(kept, function(table) all(sapply(table, class) == "numeric") && ncol(table) == 5)))
