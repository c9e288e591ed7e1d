/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs for tests, written into a folder of their own: a step of command at 0.05 s, answered by a first-order torque
 * with a known time constant and a known top, 1 kHz, 0.35 s. No noise: the repeats of a configuration differ by their
 * top. */
#pragma once

#include <glib.h>

char *bench_files_folder_new (void);         /* (transfer full) */
void bench_files_folder_free (char *folder); /* with everything in it */

/* Writes `n_logs` logs FOLDER/NAME/run-1.csv, ...; the first has the top `top_nm`, each following one 0.1 N·m more. The
 * path of FOLDER/NAME. (transfer full) */
char *bench_files_write_configuration (const char *folder, const char *name, guint n_logs, double top_nm);

/* The text of one such log. (transfer full) */
char *bench_files_log (double top_nm);

/* Writes FOLDER/NAME with `content`; its path. (transfer full) */
char *bench_files_write (const char *folder, const char *name, const char *content);
