/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds for every log that was read, whatever the bytes: the importer's promises, checked from outside. */
#pragma once

#include "log.h"

/* Stops the program with `what` when the log, read from these bytes, breaks a promise. */
void check_log (const SbLog *log, const char *bytes, gsize n_bytes);

/* The same for an error. */
void check_error (const GError *error);
