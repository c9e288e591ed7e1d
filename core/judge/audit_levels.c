/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The levels of a setting in their order. */
#include "audit_parts.h"
#include "slope_unit.h"
#include "steady_math.h"
#include "unit.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Settings are typed: closer numbers are one level. */
#define SAME_RATIO 1e-9
/* A slope that turns by a smaller share may do so by chance. */
#define CLEAR_TURN 0.1

/* Words in the order of what they stand for. A word beside numbers ("off") has no place among them. */
static const char *const ranked_words[]
    = { "off",  "no",        "none",    "disabled", "min",     "minimum", "lowest",  "very low", "low",
        "soft", "slow",      "mid",     "middle",   "medium",  "normal",  "default", "high",     "hard",
        "fast", "very high", "highest", "max",      "maximum", "on",      "enabled", "yes" };

static int
rank_of_word (const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (ranked_words); i++)
    if (strcmp (g_strstrip (folded), ranked_words[i]) == 0)
      return (int) i;
  return -1;
}

/* A level while it is put together. */
typedef struct {
  SbAuditInput input; /* with arrays of its own */
  GPtrArray *measures, *facts;
} Merged;

static void
merged_free (gpointer data)
{
  Merged *merged = data;
  g_ptr_array_unref (merged->measures);
  g_ptr_array_unref (merged->facts);
  g_free (merged);
}

static gboolean
has_repeat (const GPtrArray *facts, const SbTrialFacts *wanted)
{
  for (guint i = 0; i < facts->len; i++)
    if (sb_trial_facts_are_of_one_repeat (g_ptr_array_index (facts, i), wanted))
      return TRUE;
  return FALSE;
}

/* A repeat that stands in two configurations is one all the same. */
static void
merged_add (SbAudit *audit, Merged *merged, const SbAuditInput *input)
{
  guint n_known = merged->facts->len, n_twice = 0;
  for (gsize i = 0; i < input->n; i++) {
    if (n_known > 0 && has_repeat (merged->facts, input->facts[i])) {
      n_twice++;
      continue;
    }
    g_ptr_array_add (merged->measures, input->measures[i]);
    g_ptr_array_add (merged->facts, input->facts[i]);
  }
  merged->input.measures = (SbMeasures *const *) merged->measures->pdata;
  merged->input.facts = (SbTrialFacts *const *) merged->facts->pdata;
  merged->input.n = merged->measures->len;
  merged->input.drifting |= input->drifting;
  if (merged->input.drive == NULL)
    merged->input.drive = input->drive;
  if (merged->input.n_other_step == 0) {
    merged->input.other_step = input->other_step;
    merged->input.n_other_step = input->n_other_step;
  }
  if (n_twice > 0)
    sb_audit_add_reason (audit, "At %s %u %s in two configurations and %s once.", merged->input.text, n_twice,
                         n_twice == 1 ? "repeat stands" : "repeats stand", n_twice == 1 ? "counts" : "count");
}

static gboolean
same_level (const SbAuditInput *a, const SbAuditInput *b)
{
  if (isnan (a->value) || isnan (b->value))
    return isnan (a->value) && isnan (b->value) && g_ascii_strcasecmp (a->text, b->text) == 0;
  return fabs (a->value - b->value) <= SAME_RATIO * fmax (fabs (a->value), fabs (b->value))
         && g_ascii_strcasecmp (a->unit, b->unit) == 0;
}

static void
add_level (SbAudit *audit, GPtrArray *list, const SbAuditInput *input)
{
  for (guint i = 0; i < list->len; i++) {
    Merged *merged = g_ptr_array_index (list, i);
    if (same_level (&merged->input, input)) {
      merged_add (audit, merged, input);
      return;
    }
  }
  Merged *merged = g_new0 (Merged, 1);
  merged->input = *input;
  merged->measures = g_ptr_array_new ();
  merged->facts = g_ptr_array_new ();
  g_ptr_array_add (list, merged);
  merged_add (audit, merged, input);
}

static gint
by_number (gconstpointer a, gconstpointer b)
{
  const SbAuditInput *first = *(const SbAuditInput *const *) a, *second = *(const SbAuditInput *const *) b;
  return first->value < second->value ? -1 : first->value > second->value ? 1 : 0;
}

static gint
by_rank (gconstpointer a, gconstpointer b)
{
  const SbAuditInput *first = *(const SbAuditInput *const *) a, *second = *(const SbAuditInput *const *) b;
  return rank_of_word (first->text) - rank_of_word (second->text);
}

/* How many `to` one `from` is: of torque slopes, and of units of one dimension. NaN: they are no measure of the same.
 */
static double
unit_ratio (const char *from, const char *to)
{
  double slopes = sb_slope_unit_size (from) / sb_slope_unit_size (to);
  const SbUnit *a = sb_unit_find (from), *b = sb_unit_find (to);
  if (!isnan (slopes))
    return slopes;
  if (a == NULL || b == NULL || a->dimension != b->dimension)
    return NAN;
  return a->factor / b->factor * sb_pow (10, a->power_of_ten - b->power_of_ten);
}

/* As stated figures are: 500 N·m/s beside 1 N·m/ms is 0.5 N·m/ms. The text stays as it was written. */
static SbAuditInput
in_first_unit (const SbAuditInput *input, const SbAuditInput *of, gsize n_of)
{
  SbAuditInput converted = *input;
  gsize first = 0;
  while (first < n_of && (isnan (of[first].value) || of[first].n == 0))
    first++;
  double ratio = first < n_of && !isnan (input->value) ? unit_ratio (input->unit, of[first].unit) : (double) NAN;
  if (isnan (ratio) || g_ascii_strcasecmp (input->unit, of[first].unit) == 0)
    return converted;
  converted.value *= ratio;
  converted.unit = of[first].unit;
  return converted;
}

/* Levels of another unit than the first number's, or words beside numbers, cannot be ordered with them. */
static void
keep_numbers (SbAudit *audit, GPtrArray *list)
{
  const char *unit = NULL;
  for (guint i = 0; i < list->len;) {
    const SbAuditInput *input = g_ptr_array_index (list, i);
    gboolean number = !isnan (input->value);
    if (number && unit == NULL)
      unit = input->unit;
    if (number && g_ascii_strcasecmp (unit, input->unit) == 0) {
      i++;
      continue;
    }
    sb_audit_add_reason (audit, "The level %s is left out: it %s.", input->text,
                         number ? "has another unit than the others" : "is no number, as the others are");
    g_ptr_array_remove_index (list, i);
  }
  audit->unit = g_strdup (unit != NULL ? unit : "");
}

static double
mean_slope (const SbAuditInput *input)
{
  gsize n;
  g_autofree double *values = sb_audit_values (input, SB_MEASURE_MEAN_TORQUE_SLOPE, &n);
  return n > 0 ? gsl_stats_mean (values, 1, n) : (double) NAN;
}

/* Zero of a setting is as a rule that it is off: then the slope there is not where the other levels lead, and says
 * nothing of direction. Levels are in their order. */
static void
leave_out_zero (SbAudit *audit, GPtrArray *list)
{
  const SbAuditInput *zero = list->len > 2 ? g_ptr_array_index (list, 0) : NULL;
  if (zero == NULL || zero->value > 0 || zero->value < 0)
    return;
  double off = mean_slope (zero), first = mean_slope (g_ptr_array_index (list, 1));
  double last = mean_slope (g_ptr_array_index (list, list->len - 1)), least = CLEAR_TURN * fabs (first);
  gboolean turns = (off - first > least && last - first > least) || (first - off > least && first - last > least);
  if (!turns)
    return;
  sb_audit_add_reason (audit,
                       "The level %s is left out: zero has no proportion, and the slope turns there, as where zero "
                       "stands for off.",
                       zero->text);
  g_ptr_array_remove_index (list, 0);
}

static void
order_words (SbAudit *audit, GPtrArray *list)
{
  gboolean known = TRUE;
  for (guint i = 0; i < list->len; i++)
    known = known && rank_of_word (((const SbAuditInput *) g_ptr_array_index (list, i))->text) >= 0;
  if (known)
    g_ptr_array_sort (list, by_rank);
  else if (list->len > 2)
    sb_audit_add_reason (audit, "The levels are words: they are taken in the order of the configurations.");
  audit->unit = g_strdup ("");
}

GPtrArray *
sb_audit_order (SbAudit *audit, const SbAuditInput *input, gsize n_input)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (merged_free);
  for (gsize i = 0; i < n_input; i++) {
    SbAuditInput converted = in_first_unit (&input[i], input, n_input);
    if (input[i].n > 0)
      add_level (audit, list, &converted);
  }
  guint n_numbers = 0;
  for (guint i = 0; i < list->len; i++)
    n_numbers += isnan (((const SbAuditInput *) g_ptr_array_index (list, i))->value) ? 0 : 1;
  audit->numeric = n_numbers > 1;
  if (audit->numeric) {
    keep_numbers (audit, list);
    g_ptr_array_sort (list, by_number);
    leave_out_zero (audit, list);
  } else {
    order_words (audit, list);
  }
  for (guint i = 0; i < list->len; i++) {
    const SbAuditInput *of = g_ptr_array_index (list, i);
    SbAuditLevel *level = g_new (SbAuditLevel, 1);
    *level = (SbAuditLevel){ g_strdup (of->text), audit->numeric ? of->value : i + 1.0, of->n };
    g_ptr_array_add (audit->levels, level);
  }
  return list;
}

double
sb_audit_stated_slope (const SbAuditInput *level)
{
  return level->value * sb_slope_unit_size (level->unit); /* NaN when either is */
}
