/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stays known of a trial when its samples are gone: where it came from, its time base, its onset, its settings.
 * A batch run keeps these and not the logs. Immutable; shared between threads. */
#pragma once

#include "trial.h"

typedef struct {
  char *path, *name;
  char sha256[65];
  guint64 n_bytes; /* of the file, as the digest is */
  gsize n_rows, n_rows_left_out;
  guint64 n_rows_of_others; /* of recordings behind this one in its file, not read */
  SbLayout *layout;         /* that the log was read by */
  GPtrArray *faults;        /* SbFault */
  guint64 n_faults;
  guint64 n_other_tables;                         /* of the file, behind the one that was read */
  GPtrArray *fault_groups;                        /* SbFaultGroup */
  GPtrArray *settings;                            /* SbSetting */
  char *device, *firmware, *operator_name, *date; /* NULL when not stated */
  double rotation_deg, inertia_kg_m2;             /* NaN when not stated */

  SbAside aside[SB_N_ASIDES]; /* of the whole log */

  gboolean has[SB_N_CHANNELS];
  char *derived_words[SB_N_CHANNELS]; /* how, as of sb_trial_derived_words; NULL where it was logged */
  gboolean mirrored;
  double sample_interval_s, jitter_s;
  double rows_per_s;     /* over the trial without its gaps; rows that were left out count */
  double start_s, end_s; /* first and last sample, after the onset */
  double onset_s;        /* time of the log */
  SbOnsetFrom onset_from;
  double onset_uncertainty_s;             /* standard; 0 where it is none or not known */
  double command_base_nm, command_top_nm; /* NaN without a command */
  double active_end_s;                    /* after the onset */
  GArray *steps;           /* SbStep of the trial's stretch of the log, in the log's time; may be empty */
  GPtrArray *notes;        /* SbNote */
  gboolean asks_for_units; /* sb_unit_doubts_ask() */
  gatomicrefcount ref_count;
} SbTrialFacts;

/* Whether both are of one stretch of one log: the onset of either lies before the end of the other's active window. */
gboolean sb_trial_facts_are_of_one_repeat (const SbTrialFacts *a, const SbTrialFacts *b);

/* One over the sample interval; of times that jitter, whose median is itself uncertain, the rows over the time. */
double sb_trial_facts_rate_hz (const SbTrialFacts *facts);

SbTrialFacts *sb_trial_facts_new (const SbTrial *trial);
SbTrialFacts *sb_trial_facts_ref (SbTrialFacts *facts);
void sb_trial_facts_unref (SbTrialFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbTrialFacts, sb_trial_facts_unref)
