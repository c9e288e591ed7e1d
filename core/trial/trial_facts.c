/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_facts.h"

#include "derived_words.h"
#include "unit_doubts.h"

#include <string.h>

/* Of an interval that jitters by less the median is certain to far less than a hundredth. */
#define EVEN_RATIO 0.01

double
sb_trial_facts_rate_hz (const SbTrialFacts *facts)
{
  gboolean even = !(facts->jitter_s > EVEN_RATIO * facts->sample_interval_s);
  return even ? 1 / facts->sample_interval_s : facts->rows_per_s;
}

static double
rows_per_s (const SbTrial *trial)
{
  const SbLog *log = trial->log;
  double left_out_ratio = (double) log->n_rows_left_out / (double) MAX (log->n_rows, 1);
  double n_intervals = (double) (trial->n_samples - 1) * (1 + left_out_ratio);
  double time_s = trial->time_s[trial->n_samples - 1] - trial->time_s[0];
  for (guint i = 0; i < trial->gaps->len; i++) {
    SbGap gap = g_array_index (trial->gaps, SbGap, i);
    time_s -= gap.end_s - gap.start_s;
    n_intervals--;
  }
  return n_intervals / time_s;
}

SbTrialFacts *
sb_trial_facts_new (const SbTrial *trial)
{
  const SbLog *log = trial->log;
  SbTrialFacts *facts = g_new0 (SbTrialFacts, 1);
  g_atomic_ref_count_init (&facts->ref_count);
  facts->path = g_strdup (log->path);
  facts->name = g_strdup (log->name);
  memcpy (facts->sha256, log->sha256, sizeof facts->sha256);
  facts->n_bytes = log->size_bytes;
  facts->n_rows = log->n_rows;
  facts->n_rows_left_out = log->n_rows_left_out;
  facts->n_rows_of_others = log->n_rows_of_others;
  facts->n_other_tables = log->n_other_tables;
  facts->layout = log->layout != NULL ? sb_layout_ref (log->layout) : NULL;
  facts->faults = g_ptr_array_ref (log->faults);
  facts->n_faults = log->n_faults;
  facts->fault_groups = g_ptr_array_ref (log->fault_groups);
  facts->settings = g_ptr_array_ref (log->settings);
  facts->device = g_strdup (log->device);
  facts->firmware = g_strdup (log->firmware);
  facts->operator_name = g_strdup (log->operator_name);
  facts->date = g_strdup (log->date);
  facts->rotation_deg = log->rotation_deg;
  facts->inertia_kg_m2 = log->inertia_kg_m2;
  memcpy (facts->aside, log->aside, sizeof facts->aside);

  for (int c = 0; c < SB_N_CHANNELS; c++) {
    facts->has[c] = trial->signal[c] != NULL;
    facts->derived_words[c] = sb_trial_derived_words (trial, (SbChannel) c);
  }
  facts->mirrored = trial->mirrored;
  facts->sample_interval_s = trial->sample_interval_s;
  facts->jitter_s = trial->jitter_s;
  facts->rows_per_s = rows_per_s (trial);
  facts->start_s = trial->time_s[0] - trial->onset_s;
  facts->end_s = trial->time_s[trial->n_samples - 1] - trial->onset_s;
  facts->onset_s = trial->onset_s;
  facts->onset_from = trial->onset_from;
  facts->onset_uncertainty_s = trial->onset_uncertainty_s;
  facts->command_base_nm = trial->command_base_nm;
  facts->command_top_nm = trial->command_top_nm;
  facts->active_end_s = trial->active_end_s - trial->onset_s;
  facts->steps = g_array_ref (trial->steps);
  facts->notes = g_ptr_array_ref (trial->notes);
  facts->asks_for_units = sb_unit_doubts_ask (trial);
  return facts;
}

SbTrialFacts *
sb_trial_facts_ref (SbTrialFacts *facts)
{
  g_atomic_ref_count_inc (&facts->ref_count);
  return facts;
}

void
sb_trial_facts_unref (SbTrialFacts *facts)
{
  if (facts == NULL || !g_atomic_ref_count_dec (&facts->ref_count))
    return;
  g_free (facts->path);
  g_free (facts->name);
  sb_layout_unref (facts->layout);
  g_ptr_array_unref (facts->faults);
  g_ptr_array_unref (facts->fault_groups);
  g_ptr_array_unref (facts->settings);
  g_free (facts->device);
  g_free (facts->firmware);
  g_free (facts->operator_name);
  g_free (facts->date);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    g_free (facts->derived_words[c]);
  g_array_unref (facts->steps);
  g_ptr_array_unref (facts->notes);
  g_free (facts);
}

gboolean
sb_trial_facts_are_of_one_repeat (const SbTrialFacts *a, const SbTrialFacts *b)
{
  if (a->sha256[0] == '\0' || strcmp (a->sha256, b->sha256) != 0)
    return FALSE;
  return a->onset_s < b->onset_s + b->active_end_s && b->onset_s < a->onset_s + a->active_end_s;
}
