/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pair.h"

#include "both_ways.h"
#include "judgements.h"
#include "repeat_remarks.h"

gboolean
sb_pair_chosen (const SbBench *bench)
{
  return bench->reference >= 0 && bench->other >= 0 && bench->reference != bench->other;
}

GHashTable *
sb_pair_trials_new (const SbAnalysis *analysis)
{
  const SbBench *bench = analysis->bench;
  GHashTable *compared = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_ptr_array_unref);
  for (guint c = 0; sb_pair_chosen (bench) && c < analysis->configurations->len; c++)
    if ((int) c == bench->reference || (int) c == bench->other)
      g_hash_table_insert (compared, g_ptr_array_index (analysis->configurations, c),
                           g_ptr_array_new_with_free_func ((GDestroyNotify) sb_trial_unref));
  return compared;
}

void
sb_pair_keep (GHashTable *trials_of, const SbConfigurationResult *configuration, SbTrial *trial)
{
  GPtrArray *trials = g_hash_table_lookup (trials_of, configuration);
  if (trials != NULL && trials->len < SB_DIFFERENCE_MOST_REPEATS)
    g_ptr_array_add (trials, sb_trial_ref (trial));
}

void
sb_pair_forget (GHashTable *trials_of, const SbConfigurationResult *configuration)
{
  GPtrArray *trials = g_hash_table_lookup (trials_of, configuration);
  if (trials != NULL)
    g_ptr_array_set_size (trials, 0);
}

void
sb_pair_compare_curves (SbAnalysis *analysis, GHashTable *trials)
{
  static const SbChannel channels[] = { SB_CHANNEL_VELOCITY, SB_CHANNEL_TORQUE };
  if (!sb_pair_chosen (analysis->bench))
    return;
  const SbConfigurationResult *reference = sb_analysis_configuration (analysis, (guint) analysis->bench->reference);
  const SbConfigurationResult *other = sb_analysis_configuration (analysis, (guint) analysis->bench->other);
  if (reference->ensemble == NULL || other->ensemble == NULL)
    return;
  GPtrArray *of_reference = g_hash_table_lookup (trials, reference);
  GPtrArray *of_other = g_hash_table_lookup (trials, other);
  for (gsize c = 0; c < G_N_ELEMENTS (channels); c++)
    analysis->difference[channels[c]]
        = sb_difference_curve_new (reference->ensemble, (SbTrial *const *) of_reference->pdata, other->ensemble,
                                   (SbTrial *const *) of_other->pdata, channels[c]);
}

void
sb_pair_compare (SbAnalysis *analysis)
{
  const SbBench *bench = analysis->bench;
  if (!sb_pair_chosen (bench))
    return;
  const SbConfigurationResult *reference = sb_analysis_configuration (analysis, (guint) bench->reference);
  const SbConfigurationResult *other = sb_analysis_configuration (analysis, (guint) bench->other);
  if (reference->summary == NULL || other->summary == NULL)
    return;
  g_autoptr (GPtrArray) of_reference = sb_configuration_used_facts (reference);
  SbMargin margin[SB_N_MEASURES];
  sb_bench_margins (bench, margin);
  g_autoptr (GPtrArray) of_other = sb_configuration_used_facts (other);
  analysis->comparison = sb_comparison_new (reference->summary, (SbTrialFacts *const *) of_reference->pdata,
                                            of_reference->len, other->summary, (SbTrialFacts *const *) of_other->pdata,
                                            of_other->len, margin, bench->verdict_level);
  /* First: three up and then three down drift as well. */
  const guint ways[2] = { sb_both_ways_differing (reference), sb_both_ways_differing (other) };
  sb_comparison_note_ways (analysis->comparison, ways);
  const guint drifting[2] = { sb_repeats_drifting (reference), sb_repeats_drifting (other) };
  sb_comparison_note_drifts (analysis->comparison, drifting);
}
