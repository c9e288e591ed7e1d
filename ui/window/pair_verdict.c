/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pair_verdict.h"

#include "verdict_words.h"

#include <string.h>

guint
sb_pair_count (const SbComparison *comparison, SbVerdict verdict)
{
  guint n = 0;
  for (int m = 0; m < SB_N_MEASURES; m++)
    n += comparison->measure[m].present && comparison->measure[m].verdict == verdict ? 1 : 0;
  return n;
}

static gboolean
is_compared (const SbComparison *comparison)
{
  for (int m = 0; m < SB_N_MEASURES; m++)
    if (comparison->measure[m].present)
      return TRUE;
  return FALSE;
}

SbJudgementMark
sb_pair_mark (const SbComparison *comparison)
{
  if (sb_pair_count (comparison, SB_VERDICT_DIFFERS) > 0)
    return SB_MARK_DIFFER;
  if (!is_compared (comparison) || sb_pair_count (comparison, SB_VERDICT_UNDECIDED) > 0)
    return SB_MARK_OPEN;
  return SB_MARK_EQUAL;
}

/* "GREATER: 10 measures; ALIKE: 3": a person's own words stand by themselves, as nobody knows how they bend. */
static char *
own_words (const SbBench *bench, const SbComparison *comparison)
{
  static const SbVerdict verdicts[] = { SB_VERDICT_DIFFERS, SB_VERDICT_PRACTICALLY_EQUAL, SB_VERDICT_UNDECIDED };
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (verdicts); i++) {
    guint n = sb_pair_count (comparison, verdicts[i]);
    g_string_append_printf (text, "%s%s: %u%s", i > 0 ? "; " : "",
                            sb_bench_word (bench, sb_verdict_words (verdicts[i])), n,
                            i > 0    ? ""
                            : n == 1 ? " measure"
                                     : " measures");
  }
  return g_string_free (text, FALSE);
}

char *
sb_pair_verdict_words (const SbBench *bench, const SbComparison *comparison)
{
  if (!is_compared (comparison))
    return g_strdup (SB_NOT_COMPARED);
  if (bench->words != NULL)
    return own_words (bench, comparison);
  guint n_differ = sb_pair_count (comparison, SB_VERDICT_DIFFERS);
  guint n_open = sb_pair_count (comparison, SB_VERDICT_UNDECIDED);
  guint n_equal = sb_pair_count (comparison, SB_VERDICT_PRACTICALLY_EQUAL);
  return g_strdup_printf ("%u %s, %u %s practically equal, %u undecided", n_differ,
                          n_differ == 1 ? "measure differs" : "measures differ", n_equal, n_equal == 1 ? "is" : "are",
                          n_open);
}

static gboolean
is_of (const SbComparison *comparison, int measure, const char *reason)
{
  return g_strcmp0 (comparison->measure[measure].absent_reason, reason) == 0;
}

/* An earlier measure has the same reason, and told it. */
static gboolean
is_told (const SbComparison *comparison, int measure)
{
  for (int m = 0; m < measure; m++)
    if (is_of (comparison, m, comparison->measure[measure].absent_reason))
      return TRUE;
  return FALSE;
}

GPtrArray *
sb_pair_why_not_compared (const SbComparison *comparison)
{
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  for (int m = 0; m < SB_N_MEASURES && !is_compared (comparison); m++) {
    const char *reason = comparison->measure[m].absent_reason;
    if (reason == NULL || is_told (comparison, m))
      continue;
    GString *text = g_string_new (sb_measure_info ((SbMeasureId) m)->name);
    for (int k = m + 1; k < SB_N_MEASURES; k++)
      if (is_of (comparison, k, reason))
        g_string_append_printf (text, ", %s", sb_measure_info ((SbMeasureId) k)->name);
    g_string_append_printf (text, ": %s", reason);
    g_ptr_array_add (sentences, g_string_free (text, FALSE));
  }
  return sentences;
}
