/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The guide's tables of units and of header words are those of the program. */
#include "close.h"
#include "unit.h"
#include "vocabulary.h"

#include <stdio.h>
#include <string.h>

typedef struct {
  char *guide;
  GString *expected;
} Fixture;

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->expected = g_string_new (NULL);
  *state = fixture;
  return g_file_get_contents (SB_GUIDE, &fixture->guide, NULL, NULL) ? 0 : -1;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  g_free (fixture->guide);
  g_string_free (fixture->expected, TRUE);
  g_free (fixture);
  return 0;
}

static void
assert_in_guide (const Fixture *fixture, const char *where)
{
  if (strstr (fixture->guide, fixture->expected->str) != NULL)
    return;
  /* Longer than cmocka's own messages may be. */
  fputs (fixture->expected->str, stderr);
  fail_msg ("the table of %s in the guide should be the one above", where);
}

static void
guide_lists_the_units_of_every_role (void **state)
{
  Fixture *fixture = *state;
  g_string_append (fixture->expected, "| Role | Units |\n|---|---|\n");
  for (int role = 0; role < SB_ROLE_OTHER; role++) {
    g_autofree char *list = sb_role_unit_list ((SbRole) role);
    g_string_append_printf (fixture->expected, "| %s | %s |\n", sb_role_key ((SbRole) role), list);
  }
  assert_in_guide (fixture, "units");
}

static void
append_words (GString *table, SbWordKind kind)
{
  gboolean first = TRUE;
  for (guint i = 0; sb_vocabulary_at (i) != NULL; i++) {
    const SbVocabulary *row = sb_vocabulary_at (i);
    if (row->kind != kind)
      continue;
    g_auto (GStrv) words = g_strsplit (row->words, " ", -1);
    g_autofree char *list = g_strjoinv (", ", words);
    g_string_append_printf (table, "%s%s", first ? "" : "; ", list);
    first = FALSE;
  }
}

static void
guide_lists_the_words_of_every_role (void **state)
{
  static const struct {
    SbWordKind kind;
    const char *says;
  } rows[] = {
    { SB_WORD_TIME, "time" },
    { SB_WORD_SAMPLE, "time, as the number of a sample" },
    { SB_WORD_COMMAND, "commanded" },
    { SB_WORD_ACTUAL, "measured" },
    { SB_WORD_ESTIMATED, "estimated" },
    { SB_WORD_ANGLE, "angle" },
    { SB_WORD_VELOCITY, "velocity" },
    { SB_WORD_TORQUE, "torque" },
    { SB_WORD_CURRENT, "current" },
    { SB_WORD_TEMPERATURE, "temperature" },
    { SB_WORD_VOLTAGE, "voltage" },
    { SB_WORD_SUPPLY, "supply" },
  };
  Fixture *fixture = *state;
  g_string_append (fixture->expected, "| Says | Words |\n|---|---|\n");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_string_append_printf (fixture->expected, "| %s | ", rows[i].says);
    append_words (fixture->expected, rows[i].kind);
    g_string_append (fixture->expected, " |\n");
  }
  assert_in_guide (fixture, "words");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (guide_lists_the_units_of_every_role, setup, teardown),
    cmocka_unit_test_setup_teardown (guide_lists_the_words_of_every_role, setup, teardown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
