/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials made from arrays, by way of the importer, for the tests of what is measured in them. */
#pragma once

#include "close.h"
#include "trial.h"

#include <string.h>

/* Columns of `n` values each; NULL: not in the log. `comment` (may be NULL) stands before the header, "# key: value\n".
 */
typedef struct {
  gsize n;
  double *t, *command, *angle, *velocity, *torque;
  const char *comment;
} MadeLog;

/* What a test holds; freed by the fixture, also when the test fails. */
typedef struct {
  GPtrArray *arrays; /* double * */
  GPtrArray *trials; /* SbTrial * */
} MadeTrials;

static inline MadeTrials *
made_trials_new (void)
{
  MadeTrials *made = g_new0 (MadeTrials, 1);
  made->arrays = g_ptr_array_new_with_free_func (g_free);
  made->trials = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_trial_unref);
  return made;
}

static inline void
made_trials_free (MadeTrials *made)
{
  g_ptr_array_unref (made->trials);
  g_ptr_array_unref (made->arrays);
  g_free (made);
}

/* n zeros, owned by `made`. */
static inline double *
make_column (MadeTrials *made, gsize n)
{
  double *column = g_new0 (double, n + 1);
  g_ptr_array_add (made->arrays, column);
  return column;
}

/* Times `interval_s` apart of which the one at `onset` is 0, and a command that steps to `size_nm` there. */
static inline MadeLog
make_step_log (MadeTrials *made, gsize n, gsize onset, double interval_s, double size_nm)
{
  MadeLog log = { .n = n, .t = make_column (made, n), .command = make_column (made, n) };
  for (gsize i = 0; i < n; i++) {
    log.t[i] = ((double) i - (double) onset) * interval_s;
    log.command[i] = i >= onset ? size_nm : 0;
  }
  return log;
}

static inline void
write_cell (GString *text, double value, char after)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append (text, g_ascii_dtostr (digits, sizeof digits, value));
  g_string_append_c (text, after);
}

/* Owned by `made`; `choices` may be NULL. Fails the test when the log is no step. */
static inline SbTrial *
make_trial (MadeTrials *made, const MadeLog *log, const SbTrialChoices *choices)
{
  static const char *const names[] = { "time_s", "command_Nm", "angle_rad", "velocity_rad_s", "torque_Nm" };
  const double *columns[] = { log->t, log->command, log->angle, log->velocity, log->torque };
  g_autoptr (GString) text = g_string_new (log->comment);
  for (gsize c = 0; c < G_N_ELEMENTS (names); c++)
    if (columns[c] != NULL)
      g_string_append_printf (text, "%s,", names[c]);
  text->str[text->len - 1] = '\n';
  for (gsize i = 0; i < log->n; i++) {
    for (gsize c = 0; c < G_N_ELEMENTS (names); c++)
      if (columns[c] != NULL)
        write_cell (text, columns[c][i], ',');
    text->str[text->len - 1] = '\n';
  }
  g_autoptr (GError) error = NULL;
  g_autoptr (SbLog) read = sb_log_read_memory ("made.csv", text->str, text->len, 0, &error);
  if (read == NULL)
    print_error ("%s\n", error->message);
  assert_non_null (read);
  assert_int_equal (read->n_rows + read->n_rows_left_out, log->n);
  SbTrial *trial = sb_trial_new (read, choices, &error);
  if (trial == NULL)
    print_error ("%s\n", error->message);
  assert_non_null (trial);
  g_ptr_array_add (made->trials, trial);
  return trial;
}

/* Normal deviates from a seed, the same on every machine (Box & Muller 1958 on a 64-bit congruential generator). */
typedef struct {
  guint64 state;
} MadeNoise;

static inline double
made_uniform (MadeNoise *noise)
{
  noise->state = noise->state * 6364136223846793005u + 1442695040888963407u;
  return ((double) (noise->state >> 11) + 0.5) / 9007199254740992.0;
}

static inline double
made_normal (MadeNoise *noise)
{
  double radius = sqrt (-2 * log (made_uniform (noise)));
  return radius * cos (2 * G_PI * made_uniform (noise));
}
