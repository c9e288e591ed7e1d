/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fairness.h"

#include "values.h"

#include <math.h>
#include <string.h>

#define ALIKE_RATIO 0.01
/* Settings are typed, not measured: only the rounding of their text may differ. */
#define SETTING_RATIO 1e-9

typedef struct {
  SbTrialFacts *const *facts;
  gsize n;
} Side;

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

static double
rotation_deg (const SbTrialFacts *facts)
{
  return facts->rotation_deg;
}

static double
sample_rate_hz (const SbTrialFacts *facts)
{
  return 1 / facts->sample_interval_s;
}

static double
command_size_nm (const SbTrialFacts *facts)
{
  return facts->command_top_nm - facts->command_base_nm;
}

static double
inertia_kg_m2 (const SbTrialFacts *facts)
{
  return facts->inertia_kg_m2;
}

/* Time means and settling depend on how long the step lasted. */
static double
active_length_ms (const SbTrialFacts *facts)
{
  return 1000 * facts->active_end_s;
}

static const char *
direction (const SbTrialFacts *facts)
{
  return facts->mirrored ? "down" : "up";
}

static const char *
onset_source (const SbTrialFacts *facts)
{
  return sb_onset_from_key (facts->onset_from);
}

static const char *
device (const SbTrialFacts *facts)
{
  return facts->device;
}

static const char *
firmware (const SbTrialFacts *facts)
{
  return facts->firmware;
}

static const struct {
  const char *what, *unit;
  double (*number) (const SbTrialFacts *facts); /* NaN: not stated */
  const char *(*text) (const SbTrialFacts *facts);
} aspects[] = {
  { "rotation range", "deg", rotation_deg, NULL },
  { "sample rate", "Hz", sample_rate_hz, NULL },
  { "command size", "N·m", command_size_nm, NULL },
  { "inertia", "kg·m²", inertia_kg_m2, NULL },
  { "length of the active window", "ms", active_length_ms, NULL },
  { "direction of the step", NULL, NULL, direction },
  { "onset taken from", NULL, NULL, onset_source },
  { "device", NULL, NULL, device },
  { "firmware", NULL, NULL, firmware },
};

static SbValues *
values_of_aspect (gsize aspect, Side side)
{
  SbValues *values = sb_values_new (aspects[aspect].unit, ALIKE_RATIO);
  for (gsize i = 0; i < side.n; i++) {
    if (aspects[aspect].number != NULL)
      sb_values_add_number (values, aspects[aspect].number (side.facts[i]));
    else
      sb_values_add_text (values, aspects[aspect].text (side.facts[i]), NAN, "");
  }
  return values;
}

static void
add_aspects (GPtrArray *list, Side reference, Side other)
{
  for (gsize i = 0; i < G_N_ELEMENTS (aspects); i++) {
    g_autoptr (SbValues) a = values_of_aspect (i, reference);
    g_autoptr (SbValues) b = values_of_aspect (i, other);
    if (!sb_values_alike (a, b))
      add_values (list, aspects[i].what, a, b);
  }
}

/* Names of all settings, in order of first appearance; what differs in case only is one setting. */
static GPtrArray *
setting_names (Side reference, Side other)
{
  GPtrArray *names = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (gsize i = 0; i < reference.n + other.n; i++) {
    const SbTrialFacts *facts = i < reference.n ? reference.facts[i] : other.facts[i - reference.n];
    for (guint k = 0; k < facts->settings->len; k++) {
      const SbSetting *setting = g_ptr_array_index (facts->settings, k);
      if (g_hash_table_add (seen, g_utf8_casefold (setting->name, -1)))
        g_ptr_array_add (names, setting->name);
    }
  }
  return names;
}

static const SbSetting *
find_setting (const SbTrialFacts *facts, const char *name)
{
  g_autofree char *wanted = g_utf8_casefold (name, -1);
  for (guint k = 0; k < facts->settings->len; k++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, k);
    g_autofree char *folded = g_utf8_casefold (setting->name, -1);
    if (g_str_equal (folded, wanted))
      return setting;
  }
  return NULL;
}

static SbValues *
values_of_setting (const char *name, Side side)
{
  SbValues *values = sb_values_new (NULL, SETTING_RATIO);
  for (gsize i = 0; i < side.n; i++) {
    const SbSetting *setting = find_setting (side.facts[i], name);
    if (setting != NULL)
      sb_values_add_text (values, setting->text, setting->value, setting->unit);
    else
      sb_values_add_text (values, NULL, NAN, "");
  }
  return values;
}

static gboolean
speaks_of (const char *name, const char *const *words)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  for (gsize i = 0; words[i] != NULL; i++)
    if (strstr (folded, words[i]) != NULL)
      return TRUE;
  return FALSE;
}

/* Settings that reshape the response by themselves, and belong at zero in a step or slope test. */
static gboolean
is_filter (const char *name)
{
  static const char *const words[]
      = { "filter", "friction", "damp", "inertia", "smooth", "interpolation", "reconstruction", "spring", NULL };
  return speaks_of (name, words);
}

/* What feeds the drive is no setting of it: it is told of even where nothing else differs. */
static gboolean
is_supply (const char *name)
{
  static const char *const words[] = { "supply", "voltage", NULL };
  return speaks_of (name, words);
}

static void
add_filters (GPtrArray *list, GPtrArray *names, Side reference, Side other)
{
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    if (!is_filter (name))
      continue;
    g_autoptr (SbValues) a = values_of_setting (name, reference);
    g_autoptr (SbValues) b = values_of_setting (name, other);
    g_autofree char *not_at_zero = g_strdup_printf ("%s, not at zero", name);
    if (!sb_values_alike (a, b))
      add_values (list, name, a, b);
    else if (!sb_values_zero (a))
      add_values (list, not_at_zero, a, b);
  }
}

static void
add_supply (GPtrArray *list, GPtrArray *names, Side reference, Side other)
{
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autoptr (SbValues) a = values_of_setting (name, reference);
    g_autoptr (SbValues) b = values_of_setting (name, other);
    if (is_supply (name) && !is_filter (name) && !sb_values_alike (a, b))
      add_values (list, name, a, b);
  }
}

/* One setting that differs is the one under study. Of several, no one can say which of them moved a figure; nor of one
 * that a side does not state, or that its logs disagree on. */
static void
add_other_settings (GPtrArray *list, GPtrArray *names, Side reference, Side other)
{
  g_autoptr (GPtrArray) differ = g_ptr_array_new_with_free_func (fairness_free);
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autoptr (SbValues) a = values_of_setting (name, reference);
    g_autoptr (SbValues) b = values_of_setting (name, other);
    if (!is_filter (name) && !is_supply (name) && !sb_values_alike (a, b))
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
count_shared (Side side, Side with)
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
add_shared (GPtrArray *list, Side reference, Side other)
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
sides_are_the_same (Side reference, Side other)
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
add_same (GPtrArray *list, Side reference, Side other)
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
  Side a = { reference, n_reference }, b = { other, n_other };
  g_autoptr (GPtrArray) names = setting_names (a, b);
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
