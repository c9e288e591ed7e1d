/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "claim.h"

#include "claim_side.h"

#include <math.h>
#include <string.h>

const char *
sb_claim_relation_words (SbClaimRelation relation)
{
  static const char *const words[SB_N_CLAIM_RELATIONS] = {
    [SB_CLAIM_AT_LEAST] = "at least",
    [SB_CLAIM_AT_MOST] = "at most",
    [SB_CLAIM_ABOUT] = "about",
  };
  return words[relation];
}

const char *
sb_claim_verdict_words (SbClaimVerdict verdict)
{
  static const char *const words[SB_N_CLAIM_VERDICTS] = {
    [SB_CLAIM_CANNOT_TELL] = "cannot tell",
    [SB_CLAIM_REACHED] = "reached",
    [SB_CLAIM_NOT_REACHED] = "not reached",
  };
  return words[verdict];
}

SbClaim *
sb_claim_copy (const SbClaim *claim)
{
  SbClaim *copy = g_memdup2 (claim, sizeof *claim);
  if (copy->device != NULL)
    copy->device = g_ref_string_acquire (copy->device);
  return copy;
}

void
sb_claim_free (gpointer data)
{
  SbClaim *claim = data;
  if (claim == NULL)
    return;
  g_clear_pointer (&claim->device, g_ref_string_release);
  g_free (claim);
}

static gboolean
same_number (double a, double b)
{
  return fabs (a - b) <= 0;
}

gboolean
sb_claim_equal (const SbClaim *a, const SbClaim *b)
{
  return a->configuration == b->configuration && g_strcmp0 (a->device, b->device) == 0 && a->measure == b->measure
         && a->relation == b->relation && same_number (a->value, b->value) && same_number (a->tolerance, b->tolerance);
}

char *
sb_claim_text (const SbClaim *claim, SbUnits units)
{
  g_autofree char *value = sb_claim_value_text (claim, units);
  return g_strdup_printf ("%s %s %s", sb_measure_info (claim->measure)->name, sb_claim_relation_words (claim->relation),
                          value);
}

const SbClaimSide *
sb_claim_result_side (const SbClaimResult *result, guint index)
{
  g_assert (index < result->sides->len);
  return g_ptr_array_index (result->sides, index);
}

/* How far a side's mean is on the good side of what is stated. */
static double
lead (const SbClaim *claim, const SbClaimSide *side)
{
  if (isnan (side->mean))
    return -INFINITY;
  double above = side->mean - claim->value;
  switch (claim->relation) {
  case SB_CLAIM_AT_LEAST:
    return above;
  case SB_CLAIM_AT_MOST:
    return -above;
  case SB_CLAIM_ABOUT:
  case SB_N_CLAIM_RELATIONS:
    break;
  }
  return -fabs (above);
}

static void
decide (SbClaimResult *result)
{
  gsize n_not = 0;
  for (guint i = 0; i < result->sides->len; i++) {
    const SbClaimSide *side = sb_claim_result_side (result, i);
    n_not += side->verdict == SB_CLAIM_NOT_REACHED ? 1 : 0;
    const SbClaimSide *best = result->decisive >= 0 ? sb_claim_result_side (result, (guint) result->decisive) : NULL;
    gboolean better = best == NULL || (side->verdict == SB_CLAIM_REACHED && best->verdict != SB_CLAIM_REACHED)
                      || ((side->verdict == SB_CLAIM_REACHED) == (best->verdict == SB_CLAIM_REACHED)
                          && lead (result->claim, side) > lead (result->claim, best));
    if (better)
      result->decisive = (int) i;
  }
  if (result->decisive < 0)
    return;
  if (sb_claim_result_side (result, (guint) result->decisive)->verdict == SB_CLAIM_REACHED)
    result->verdict = SB_CLAIM_REACHED;
  else if (n_not == result->sides->len)
    result->verdict = SB_CLAIM_NOT_REACHED;
}

static guint
count (const SbClaimResult *result, SbClaimVerdict verdict)
{
  guint n = 0;
  for (guint i = 0; i < result->sides->len; i++)
    n += sb_claim_result_side (result, i)->verdict == verdict ? 1 : 0;
  return n;
}

static gboolean
is_own (SbClaimVerdict verdict, const char *word)
{
  return strcmp (word, sb_claim_verdict_words (verdict)) != 0;
}

/* Some sides miss it for certain and the others cannot tell: neither word alone may stand for all. */
static char *
words_of_some_that_miss (const SbClaimResult *result, const char *missed, const char *open)
{
  guint n = result->sides->len, n_not = count (result, SB_CLAIM_NOT_REACHED);
  /* A person's own words stand by themselves, as nobody knows how they bend. */
  if (is_own (SB_CLAIM_NOT_REACHED, missed) || is_own (SB_CLAIM_CANNOT_TELL, open))
    return g_strdup_printf ("%s: %u; %s: %u", missed, n_not, open, n - n_not);
  return g_strdup_printf ("%s by %u of %u, %s for %u", missed, n_not, n, open, n - n_not);
}

char *
sb_claim_result_words (const SbClaimResult *result, const char *const words[SB_N_CLAIM_VERDICTS])
{
  guint n_reached = count (result, SB_CLAIM_REACHED), n = result->sides->len;
  const char *word = words[result->verdict];
  if (result->verdict == SB_CLAIM_CANNOT_TELL && count (result, SB_CLAIM_NOT_REACHED) > 0)
    return words_of_some_that_miss (result, words[SB_CLAIM_NOT_REACHED], word);
  if (n < 2 || result->verdict == SB_CLAIM_CANNOT_TELL)
    return g_strdup (word);
  if (is_own (result->verdict, word)) /* "by all 3" may not go with words of another kind */
    return g_strdup_printf ("%s (%u / %u)", word, n_reached, n);
  if (result->verdict == SB_CLAIM_NOT_REACHED)
    return g_strdup_printf ("%s by any of %u", word, n);
  return n_reached == n ? g_strdup_printf ("%s by all %u", word, n)
                        : g_strdup_printf ("%s by %u of %u", word, n_reached, n);
}

SbClaimResult *
sb_claim_result_new (const SbClaim *claim, const SbClaimInput *input, gsize n_input, SbUnits units)
{
  SbClaimResult *result = g_new0 (SbClaimResult, 1);
  g_atomic_ref_count_init (&result->ref_count);
  result->claim = sb_claim_copy (claim);
  result->sides = g_ptr_array_new_with_free_func (sb_claim_side_free);
  result->decisive = -1;
  for (gsize i = 0; i < n_input; i++)
    g_ptr_array_add (result->sides, sb_claim_side_new (claim, &input[i], n_input, units));
  decide (result);
  return result;
}

SbClaimResult *
sb_claim_result_ref (SbClaimResult *result)
{
  g_atomic_ref_count_inc (&result->ref_count);
  return result;
}

void
sb_claim_result_unref (SbClaimResult *result)
{
  if (result == NULL || !g_atomic_ref_count_dec (&result->ref_count))
    return;
  sb_claim_free (result->claim);
  g_ptr_array_unref (result->sides);
  g_free (result);
}
