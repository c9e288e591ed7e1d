/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fairness.h"

#include "aspects.h"
#include "values.h"

#include <string.h>

static void
fairness_free (gpointer data)
{
  SbFairness *fairness = data;
  g_free (fairness->what);
  g_free (fairness->reference);
  g_free (fairness->other);
  g_free (fairness);
}

static void
add (GPtrArray *list, char *what, char *reference, char *other)
{
  SbFairness *fairness = g_new (SbFairness, 1);
  *fairness = (SbFairness){ what, reference, other, FALSE };
  g_ptr_array_add (list, fairness);
}

static void
add_values (GPtrArray *list, const char *what, const SbValues *reference, const SbValues *other)
{
  add (list, g_strdup (what), sb_values_describe (reference), sb_values_describe (other));
}

static void
add_aspects (GPtrArray *list, SbSide reference, SbSide other)
{
  for (gsize i = 0; i < sb_n_aspects; i++) {
    g_autoptr (SbValues) a = sb_aspect_values (i, reference);
    g_autoptr (SbValues) b = sb_aspect_values (i, other);
    if (!sb_values_alike (a, b))
      add_values (list, sb_aspect_name (i), a, b);
  }
}

static void
add_filters (GPtrArray *list, GPtrArray *names, SbSide reference, SbSide other)
{
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    if (!sb_setting_is_filter (name))
      continue;
    g_autoptr (SbValues) a = sb_side_setting_values (name, reference, SB_SETTING_RATIO);
    g_autoptr (SbValues) b = sb_side_setting_values (name, other, SB_SETTING_RATIO);
    g_autofree char *not_at_zero = g_strdup_printf ("%s, not at zero", name);
    if (!sb_values_alike (a, b))
      add_values (list, name, a, b);
    else if (!sb_values_zero (a))
      add_values (list, not_at_zero, a, b);
  }
}

static void
add_supply (GPtrArray *list, GPtrArray *names, SbSide reference, SbSide other)
{
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autoptr (SbValues) a = sb_side_setting_values (name, reference, SB_SETTING_RATIO);
    g_autoptr (SbValues) b = sb_side_setting_values (name, other, SB_SETTING_RATIO);
    if (sb_setting_is_supply (name) && !sb_setting_is_filter (name) && !sb_values_alike (a, b))
      add_values (list, name, a, b);
  }
}

/* One setting that differs is the one under study. Of several, no one can say which of them moved a figure; nor of one
 * that a side does not state, or that its logs disagree on. */
static void
add_other_settings (GPtrArray *list, GPtrArray *names, SbSide reference, SbSide other)
{
  g_autoptr (GPtrArray) differ = g_ptr_array_new_with_free_func (fairness_free);
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autoptr (SbValues) a = sb_side_setting_values (name, reference, SB_SETTING_RATIO);
    g_autoptr (SbValues) b = sb_side_setting_values (name, other, SB_SETTING_RATIO);
    if (!sb_setting_is_filter (name) && !sb_setting_is_supply (name) && !sb_values_alike (a, b))
      add_values (sb_values_is_one (a) && sb_values_is_one (b) ? differ : list, name, a, b);
  }
  if (differ->len > 1)
    g_ptr_array_extend_and_steal (list, g_steal_pointer (&differ));
}

static char *
count_words (gsize n)
{
  return g_strdup_printf ("%" G_GSIZE_FORMAT "%s", n, n == 1 ? " repeat" : " repeats");
}

static gsize
count_shared (SbSide side, SbSide with)
{
  gsize n = 0;
  for (gsize i = 0; i < side.n; i++) {
    gboolean shared = FALSE;
    for (gsize k = 0; k < with.n && !shared; k++)
      shared = sb_trial_facts_are_of_one_repeat (side.facts[i], with.facts[k]);
    n += shared ? 1 : 0;
  }
  return n;
}

/* Sides that share repeats are alike by that alone. */
static void
add_shared (GPtrArray *list, SbSide reference, SbSide other)
{
  gsize n = count_shared (reference, other);
  if (n > 0)
    add (list, g_strdup ("repeats that stand on both sides"),
         g_strdup_printf ("%" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT, n, reference.n),
         g_strdup_printf ("%" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT, count_shared (other, reference), other.n));
}

/* Of one log, cut and read alike: all that is measured of it is the same. */
static gboolean
are_the_same (const SbTrialFacts *a, const SbTrialFacts *b)
{
  return sb_trial_facts_are_of_one_repeat (a, b) && !(a->onset_s < b->onset_s || a->onset_s > b->onset_s)
         && !(a->active_end_s < b->active_end_s || a->active_end_s > b->active_end_s)
         && (a->layout == b->layout
             || (a->layout != NULL && b->layout != NULL && sb_layout_equal (a->layout, b->layout)));
}

/* Each repeat has one of its own on the other side. */
static gboolean
sides_are_the_same (SbSide reference, SbSide other)
{
  if (reference.n == 0 || reference.n != other.n)
    return FALSE;
  g_autofree gboolean *taken = g_new0 (gboolean, other.n);
  for (gsize i = 0; i < reference.n; i++) {
    gsize k = 0;
    while (k < other.n && (taken[k] || !are_the_same (reference.facts[i], other.facts[k])))
      k++;
    if (k == other.n)
      return FALSE;
    taken[k] = TRUE;
  }
  return TRUE;
}

static void
add_same (GPtrArray *list, SbSide reference, SbSide other)
{
  SbFairness *same = g_new (SbFairness, 1);
  *same = (SbFairness){ g_strdup ("both sides are the same recordings"), count_words (reference.n),
                        count_words (other.n), TRUE };
  g_ptr_array_add (list, same);
}

const char *
sb_fairness_heading (const SbFairness *fairness)
{
  return fairness->same ? "The same" : "Not alike";
}

char *
sb_fairness_text (const SbFairness *fairness)
{
  return fairness->same ? g_strconcat (fairness->what, "; any difference is zero by construction", NULL)
                        : g_strdup_printf ("%s: %s against %s", fairness->what, fairness->reference, fairness->other);
}

GPtrArray *
sb_fairness_list (SbTrialFacts *const *reference, gsize n_reference, SbTrialFacts *const *other, gsize n_other)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (fairness_free);
  SbSide a = { reference, n_reference }, b = { other, n_other };
  g_autoptr (GPtrArray) names = sb_side_setting_names (a, b);
  gboolean same = sides_are_the_same (a, b);
  if (same)
    add_same (list, a, b);
  add_aspects (list, a, b);
  add_supply (list, names, a, b);
  add_filters (list, names, a, b);
  add_other_settings (list, names, a, b);
  if (!same)
    add_shared (list, a, b);
  if (n_reference != n_other)
    add (list, g_strdup ("repeats"), count_words (n_reference), count_words (n_other));
  return list;
}

/* "mean torque slope, transition duration". (transfer full) */
static char *
drifting_words (guint drifting)
{
  GString *words = g_string_new (NULL);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if ((drifting & 1u << m) == 0)
      continue;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", name);
  }
  if (words->len == 0)
    g_string_append (words, "none");
  return g_string_free (words, FALSE);
}

void
sb_fairness_add_drifts (GPtrArray *list, const guint drifting[2])
{
  if ((drifting[0] | drifting[1]) != 0)
    add (list, g_strdup ("drift over the repeats"), drifting_words (drifting[0]), drifting_words (drifting[1]));
}
