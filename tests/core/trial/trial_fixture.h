/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs written by a test and the trials made of them, freed also when an assertion leaves the test early. */
#pragma once

#include "close.h"
#include "trial_facts.h"

#include <string.h>

typedef struct {
  GString *text;
  SbLog *log;
  SbTrial *trial, *other;
  SbTrialFacts *facts;
  GError *error;
  double *t, *y, *slope; /* scratch for tests of bare signals */
} TrialFixture;

static inline int
trial_fixture_setup (void **state)
{
  TrialFixture *fixture = g_new0 (TrialFixture, 1);
  fixture->text = g_string_new (NULL);
  *state = fixture;
  return 0;
}

static inline int
trial_fixture_teardown (void **state)
{
  TrialFixture *fixture = *state;
  sb_trial_unref (fixture->trial);
  sb_trial_unref (fixture->other);
  sb_trial_facts_unref (fixture->facts);
  g_clear_pointer (&fixture->log, sb_log_unref);
  g_clear_error (&fixture->error);
  g_string_free (fixture->text, TRUE);
  g_free (fixture->t);
  g_free (fixture->y);
  g_free (fixture->slope);
  g_free (fixture);
  return 0;
}

/* Room for n samples in all three scratch arrays. */
static inline void
make_room (TrialFixture *fixture, gsize n)
{
  g_free (fixture->t);
  g_free (fixture->y);
  g_free (fixture->slope);
  fixture->t = g_new0 (double, n);
  fixture->y = g_new0 (double, n);
  fixture->slope = g_new0 (double, n);
}

/* Every digit, so that the log holds the very numbers of the test. */
static inline void
add_number (TrialFixture *fixture, double value, char after)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append (fixture->text, g_ascii_dtostr (digits, sizeof digits, value));
  g_string_append_c (fixture->text, after);
}

static inline void
read_log (TrialFixture *fixture)
{
  g_clear_pointer (&fixture->log, sb_log_unref);
  fixture->log = sb_log_read_memory ("run.csv", fixture->text->str, fixture->text->len, 0, &fixture->error);
  if (fixture->log == NULL)
    fail_msg ("%s", fixture->error->message);
}

/* The trial of what stands in the text; fails the test when there is none. `choices` may be NULL. */
static inline const SbTrial *
make_trial (TrialFixture *fixture, const SbTrialChoices *choices)
{
  read_log (fixture);
  g_clear_pointer (&fixture->trial, sb_trial_unref);
  fixture->trial = sb_trial_new (fixture->log, choices, &fixture->error);
  if (fixture->trial == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->trial;
}

/* The message of a log that makes no trial. */
static inline const char *
trial_error (TrialFixture *fixture, const SbTrialChoices *choices, SbTrialError code)
{
  read_log (fixture);
  fixture->trial = sb_trial_new (fixture->log, choices, &fixture->error);
  assert_null (fixture->trial);
  assert_true (g_error_matches (fixture->error, SB_TRIAL_ERROR, (int) code));
  return fixture->error->message;
}

static inline gboolean
has_note (const SbTrial *trial, const char *part)
{
  for (guint i = 0; i < trial->notes->len; i++)
    if (strstr (sb_notes_text (trial->notes, i), part) != NULL)
      return TRUE;
  return FALSE;
}

/* Noise that is the same on every machine: a linear congruential generator (Knuth's MMIX constants), evenly spread over
 * -1..1. */
static inline double
next_noise (guint64 *seed)
{
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double) (*seed >> 33) / 1073741824.0 - 1;
}

/* Sum of twelve: variance 12 * 1/3, so that a half has standard deviation 1. */
static inline double
next_normal (guint64 *seed)
{
  double sum = 0;
  for (int i = 0; i < 12; i++)
    sum += next_noise (seed);
  return sum / 2;
}

#define trial_test(name) cmocka_unit_test_setup_teardown (name, trial_fixture_setup, trial_fixture_teardown)
