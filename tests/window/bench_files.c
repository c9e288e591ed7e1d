/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_files.h"
#include "folder.h"

#include <math.h>

#define STEP_S          0.05
#define TIME_CONSTANT_S 0.01
#define N_SAMPLES       350

char *
bench_files_folder_new (void)
{
  return g_dir_make_tmp ("slewbench-test-XXXXXX", NULL);
}

void
bench_files_folder_free (char *folder)
{
  if (folder != NULL)
    remove_folder (folder);
  g_free (folder);
}

char *
bench_files_log (double top_nm)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n");
  for (int i = 0; i < N_SAMPLES; i++) {
    double t = i / 1000.0;
    double since = t - STEP_S;
    double share = since > 0 ? 1 - exp (-since / TIME_CONSTANT_S) : 0;
    double velocity = since > 0 ? 20 * since : 0;
    double angle = since > 0 ? 10 * since * since : 0;
    g_string_append_printf (text, "%.3f,%.3f,%.9f,%.9f,%.9f\n", t, since >= 0 ? 5.0 : 0.0, angle, velocity,
                            top_nm * share);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
bench_files_write (const char *folder, const char *name, const char *content)
{
  char *path = g_build_filename (folder, name, NULL);
  g_file_set_contents (path, content, -1, NULL);
  return path;
}

char *
bench_files_write_configuration (const char *folder, const char *name, guint n_logs, double top_nm)
{
  char *path = g_build_filename (folder, name, NULL);
  g_mkdir_with_parents (path, 0700);
  for (guint i = 0; i < n_logs; i++) {
    g_autofree char *file = g_strdup_printf ("run-%u.csv", i + 1);
    g_autofree char *log = bench_files_log (top_nm + 0.1 * i);
    g_autofree char *written = bench_files_write (path, file, log);
  }
  return path;
}
