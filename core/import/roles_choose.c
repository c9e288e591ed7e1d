/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles_choose.h"

#include "vocabulary.h"

#include <string.h>

/* Of two columns for one role: a measured N·m before percent, a time in s before a clock time and a number of samples;
 * what is stated before what is guessed. */
static int
rank (const SbLayoutColumn *column)
{
  int clear = column->certainty == SB_CERTAINTY_STATED ? 8 : column->certainty == SB_CERTAINTY_ASSUMED ? 7 : 0;
  if (column->role == SB_ROLE_TIME && (sb_layout_column_has (column, SB_DIMENSION_CLOCK) || clear == 0))
    return clear > 0 ? 4 : 3;
  if (sb_layout_column_has (column, SB_DIMENSION_SAMPLES))
    return clear > 0 ? 2 : 1;
  gboolean wanting = sb_layout_column_has (column, SB_DIMENSION_PERCENT) || sb_layout_column_has (column, SB_DIMENSION_COUNTS)
                     || (column->role != SB_ROLE_CURRENT && sb_layout_column_has (column, SB_DIMENSION_CURRENT))
                     || (column->role != SB_ROLE_SUPPLY && sb_layout_column_has (column, SB_DIMENSION_VOLTAGE));
  if (wanting)
    return clear > 0 ? 4 : 1;
  if (column->role == SB_ROLE_TIME || column->role == SB_ROLE_SUPPLY)
    return clear > 0 ? clear : 1;
  /* A name without unit is as clear as one with it: more is asked of them in score(). */
  return clear > 0 ? 8 : 2;
}

/* The current that makes the torque goes by "iq". */
static gboolean
is_quadrature (const SbLayoutColumn *column)
{
  g_autoptr (GPtrArray) words = sb_words_split (column->name);
  for (guint i = 0; i < words->len; i++)
    if (strcmp (words->pdata[i], "iq") == 0 || (i > 0 && strcmp (words->pdata[i], "q") == 0))
      return TRUE;
  return FALSE;
}

/* Of names as clear as each other: "measured torque" before "modelled torque", "torque" before "friction torque" and
 * before "estimated torque". */
#define LEVELS_OF_NAME 4

static int
level_of_name (const char *name)
{
  g_autoptr (GPtrArray) words = sb_words_split (name);
  gboolean all_known = TRUE;
  if (sb_words_say (name, SB_WORD_ESTIMATED))
    return 0;
  for (guint i = 0; i < words->len; i++) {
    guint kinds = sb_word_kinds (words->pdata[i]);
    all_known = all_known && (kinds != 0 || sb_unit_find (words->pdata[i]) != NULL);
  }
  return (sb_words_say (name, SB_WORD_ACTUAL) ? 2 : 0) + (all_known ? 1 : 0);
}

/* What a column has to say for its role; 0: it has another. A stated unit decides between names as clear as each
 * other. */
static int
score (const SbLayoutColumn *column, SbRole role)
{
  int clear = column->role == role ? rank (column) : 0;
  if (clear > 0 && role == SB_ROLE_CURRENT && is_quadrature (column))
    clear++;
  return clear > 0 ? 2 * (clear * LEVELS_OF_NAME + level_of_name (column->name)) + (column->unit != NULL ? 1 : 0) : 0;
}

static int
find_best (const SbLayout *layout, SbRole role)
{
  int best = -1, best_score = 0;
  for (guint i = 0; i < layout->columns->len; i++) {
    int here = score (sb_layout_column (layout, i), role);
    if (here > best_score) {
      best = (int) i;
      best_score = here;
    }
  }
  return best;
}

/* "'Torque raw [Nm]'", with the number of the column where another has its name. (transfer full) */
static char *
name_of (const SbLayout *layout, guint index)
{
  const char *name = sb_layout_column (layout, index)->name;
  for (guint i = 0; i < layout->columns->len; i++)
    if (i != index && strcmp (sb_layout_column (layout, i)->name, name) == 0)
      return g_strdup_printf ("'%s' (column %u)", name, index + 1);
  return g_strdup_printf ("'%s'", name);
}

/* Columns that have as much to say as the one that counts, or a unit where it has none, as a list; NULL: none. */
static char *
find_rivals (const SbLayout *layout, SbRole role, guint best)
{
  const SbLayoutColumn *chosen = sb_layout_column (layout, best);
  GString *list = NULL;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (i == best || column->role != role)
      continue;
    gboolean better_unit = chosen->unit == NULL && column->unit != NULL && rank (column) >= rank (chosen);
    if (score (column, role) < score (chosen, role) && !better_unit)
      continue;
    g_autofree char *name = name_of (layout, i);
    list = list != NULL ? g_string_append (list, ", ") : g_string_new (NULL);
    g_string_append (list, name);
  }
  return list != NULL ? g_string_free (list, FALSE) : NULL;
}

/* Nobody shall publish the filtered signal for the raw one because it stood in front. */
static void
ask_which (SbLayout *layout, SbRole role, guint best, const char *rivals)
{
  SbLayoutColumn *chosen = sb_layout_column (layout, best);
  if (rivals == NULL || chosen->certainty == SB_CERTAINTY_MISSING)
    return;
  g_autofree char *name = name_of (layout, best), *before = g_steal_pointer (&chosen->question);
  chosen->question = g_strdup_printf (
      "%s%s%s may be the %s as well as %s, and only the order of the columns decides: give "
      "the right one the role %s in the import sheet or a layout",
      before != NULL ? before : "", before != NULL ? "; " : "", rivals, sb_role_key (role), name, sb_role_key (role));
  chosen->certainty = SB_CERTAINTY_GUESSED;
}

/* A clock beside the time of the logger is another choice; the number of the sample is none. */
static gboolean
is_other_time (const SbLayoutColumn *column)
{
  return sb_layout_column_has (column, SB_DIMENSION_CLOCK) || sb_layout_column_has (column, SB_DIMENSION_TIME)
         || (column->certainty != SB_CERTAINTY_GUESSED && !sb_layout_column_has (column, SB_DIMENSION_SAMPLES));
}

/* It is no fault of the log, and told with the column that counts. */
static void
tell_other_times (SbLayoutColumn *chosen, const char *others, gboolean clock)
{
  if (*others == '\0')
    return;
  char *question
      = g_strdup_printf ("%s%sis read as the time, and the other time in %s is read past; to read that one, "
                         "give it the role time%s in the import sheet or a layout",
                         chosen->question != NULL ? chosen->question : "", chosen->question != NULL ? "; " : "", others,
                         clock ? " and the unit clock time" : "");
  g_free (chosen->question);
  chosen->question = question;
}

/* One column for each role. What is as clear as the one that counts is told; a guess, or the raw form of what is there
 * in a ready one, is passed over in silence. */
void
sb_roles_choose (SbLayout *layout, SbRole role)
{
  int best = find_best (layout, role);
  if (best < 0)
    return;
  const SbLayoutColumn *chosen = sb_layout_column (layout, (guint) best);
  gboolean matters = role != SB_ROLE_TIME && sb_role_channel (role) >= 0;
  g_autofree char *rivals = matters ? find_rivals (layout, role, (guint) best) : NULL;
  g_autofree char *name = name_of (layout, (guint) best);
  int least_told = role == SB_ROLE_TIME ? 7 : rank (chosen);
  g_autoptr (GString) others = g_string_new (NULL);
  gboolean clock = FALSE;
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role != role || (int) i == best)
      continue;
    gboolean told
        = sb_role_channel (role) >= 0 && column->certainty != SB_CERTAINTY_GUESSED && rank (column) >= least_told;
    g_free (column->question);
    column->question
        = told ? g_strdup_printf (
              "%s is already read from the column %s; this one is read past%s", sb_role_key (role), name,
              role == SB_ROLE_TIME ? "; to read this one, give it the role time in the import sheet or a layout" : "")
               : NULL;
    if (role == SB_ROLE_TIME && !told && is_other_time (column)) {
      g_string_append_printf (others, "%s'%s'", others->len > 0 ? ", " : "", column->name);
      clock |= sb_layout_column_has (column, SB_DIMENSION_CLOCK);
    }
    column->role = SB_ROLE_OTHER;
    column->unit = NULL;
    column->certainty = SB_CERTAINTY_STATED;
  }
  tell_other_times (sb_layout_column (layout, (guint) best), others->str, clock);
  ask_which (layout, role, (guint) best, rivals);
}
