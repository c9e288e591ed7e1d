/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document: which logs belong to which configuration, and every choice a person made. It holds no result; results
 * are a pure function of it and the log files (analysis.h).
 *
 * A bench and its configurations are immutable once shared. To change one, take sb_bench_edit(), change the copy and
 * give it to the history; configurations not touched stay shared, so a step of undo costs little. */
#pragma once

#include "audit.h"
#include "callout.h"
#include "chart_choices.h"
#include "chart_point.h"
#include "claim.h"
#include "comparison.h"
#include "layout_choice.h"
#include "table_choices.h"
#include "units.h"

/* One trial of a configuration: a log, or the stretch of one that its choices name. */
typedef struct {
  char *path;          /* GRefString; absolute */
  guint step, n_steps; /* which of the steps that its log was cut into, from 1 on; 0 of 0: a whole log */
  gboolean kept_whole; /* a person wants this log whole, whatever steps are found in it */
  gboolean included;
  char *exclusion_reason; /* GRefString or NULL */
  char *sha256;           /* of the log when the session was saved; GRefString, or NULL when not known */
  guint64 size_bytes;     /* likewise; 0 when not known */
  char *found_at;         /* GRefString; of a bench made to check a proof (proof.h): where the log called `path` there
                             lies here; NULL: at `path` */
  SbTrialChoices choices;
  SbLayoutChoice *layout; /* stated for its log alone, the first of its trials that has one counts; NULL: none */
  char *unknown;          /* what a later version says of it (unknown_members.h); GRefString, NULL: nothing */
} SbTrialEntry;

SbTrialEntry sb_trial_entry_copy (const SbTrialEntry *entry); /* to be cleared */
void sb_trial_entry_clear (gpointer entry);                   /* lets go what it holds */

typedef struct {
  char *name;
  guint style; /* which colour and dash; see style.h of ui/chart */
  gboolean drawn;
  gboolean dimmed;                       /* its curves are drawn faint, behind the others */
  GArray *callouts;                      /* SbCallout, on its mean curves (callout.h) */
  SbChartPoint point[SB_N_CHART_POINTS]; /* those of the two that are on its curves */
  char *folder;                          /* GRefString; new logs in it join while the window is open; NULL: none do */
  char *opened_folder; /* GRefString; what was opened: `folder`, or the one it lies in; NULL with `folder` */
  GArray *entries;     /* SbTrialEntry */
  char *unknown;       /* likewise */
  gatomicrefcount ref_count;
} SbConfiguration;

/* "run-03.csv" or "run-03.csv, step 2 of 6". For people, in UTF-8. (transfer full) */
char *sb_trial_entry_label (const SbTrialEntry *entry);

/* What becomes of a log that holds several steps. */
typedef enum {
  SB_STEPS_ALL,   /* each is a trial of its own (cut_steps.h) */
  SB_STEPS_FIRST, /* the first one is measured */
} SbStepsChoice;

/* Whether the drive model is fitted, and told with what it leaves. */
typedef enum {
  SB_DRIVE_MODEL_NONE,
  SB_DRIVE_MODEL_FIT,
  SB_DRIVE_MODEL_RESIDUALS, /* and mean minus model at each point, in the JSON */
  SB_N_DRIVE_MODELS,
} SbDriveModelChoice;

typedef struct {
  GPtrArray *configurations; /* SbConfiguration */
  int reference, other;      /* indices of configurations; -1: none */

  SbMeasureChoices measure;
  SbBandKind band;
  double band_k; /* for SB_BAND_SD; 1 */
  SbSpan span;
  double moving_window_s;         /* single-log view; 0.05 */
  double margin_ratio;            /* practical equality; 0.05 */
  SbMargin margin[SB_N_MEASURES]; /* of single measures; both NaN: margin_ratio counts */
  double verdict_level;           /* what is rare enough for a verdict on a pair; 0.05 */
  SbAuditChoices audit;           /* of the verdicts on settings */
  gboolean difference_curves;     /* whether the JSON has the difference curves at each instant; FALSE */
  gboolean plan;                  /* whether repeats are planned; FALSE */
  double plan_ratio;              /* the difference planned for, as a share of the reference mean; 0: each margin */
  SbStepsChoice steps;
  SbDriveModelChoice drive_model; /* none */
  SbUnits units;                  /* that figures and axes are shown in */
  SbTableChoices table;
  SbChartChoices chart;
  SbChartFormat exported_as; /* the last time; PNG. Kept with the session alone: no proof holds it */
  GPtrArray *passed_over; /* char *, paths in watched folders that were taken out and must not join again; not changed
                             once set; NULL: none */
  GPtrArray *layouts; /* SbLayoutChoice, stated for all logs that they are for (log_reading.h); not changed once set;
                         NULL: none */
  GPtrArray *audits;  /* char *, names of settings to be audited; not changed once set; NULL: every one that can be */
  GPtrArray *words;   /* char *, verdicts in a person's own words (verdict_words.h); not changed once set; NULL: none */
  GPtrArray *claims;  /* SbClaim, stated figures (bench_claims.h); not changed once set; NULL: none */
  char *unknown;      /* likewise, of the session, its choices and its chart */
  gatomicrefcount ref_count;
} SbBench;

SbBench *sb_bench_new (void); /* empty, every choice at its default */
SbBench *sb_bench_ref (SbBench *bench);
void sb_bench_unref (SbBench *bench);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbBench, sb_bench_unref)

/* A copy to be changed before it is shared; its configurations are the same objects until edited. (transfer full) */
SbBench *sb_bench_edit (const SbBench *bench);

/* Configuration `index` of a bench that is being edited, made the copy's own. Borrowed. */
SbConfiguration *sb_bench_edit_configuration (SbBench *edited, guint index);

/* The entry of a configuration, borrowed; for changing it, the configuration must be the edited bench's own. */
SbTrialEntry *sb_configuration_entry (const SbConfiguration *configuration, guint index);
const SbConfiguration *sb_bench_configuration (const SbBench *bench, guint index);

/* Adds a configuration named `name` with the n logs `paths`, drawn, in the first style not in use. The first two
 * configurations of a bench become reference and other by themselves. A name already there gets a number. Returns its
 * index. */
guint sb_bench_add_configuration (SbBench *edited, const char *name, const char *const *paths, gsize n_paths);

/* Says where configuration `index` comes from; see SbConfiguration. */
void sb_bench_set_folder (SbBench *edited, guint index, const char *folder, const char *opened_folder);

/* Takes the configuration out; reference and other follow the remaining ones, its stated figures go. */
void sb_bench_remove_configuration (SbBench *edited, guint index);

/* Adds logs to a configuration; paths already in it, whole or in stretches, are passed over. */
void sb_bench_add_logs (SbBench *edited, guint index, const char *const *paths, gsize n_paths);

/* Adds what `entry` names, with all that it says, at the end of a configuration. NULL when the same stretch of the same
 * log is there already; else the configuration's own copy, borrowed. */
SbTrialEntry *sb_bench_add_entry (SbBench *edited, guint index, const SbTrialEntry *entry);

/* sb_bench_add_entry() of n of them, in a time that grows with their number. */
void sb_bench_add_entries (SbBench *edited, guint index, const SbTrialEntry *const *entries, gsize n);

/* The same without looking: the caller knows that no such trial is there. Reading thousands would look at all of them
 * for each. Borrowed. */
SbTrialEntry *sb_bench_append_entry (SbBench *edited, guint index, const SbTrialEntry *entry);

/* Of the same stretch of the same log: so are their keys. (transfer full) */
char *sb_trial_entry_stretch_key (const SbTrialEntry *entry);
gboolean sb_trial_entry_same_stretch (const SbTrialEntry *a, const SbTrialEntry *b);

/* Moves trial `entry` of configuration `from` to the end of configuration `to`; when the same stretch of its log is
 * there already, that one stays as it is and the moved one goes. */
void sb_bench_move_trial (SbBench *edited, guint from, guint entry, guint to);

gboolean sb_bench_is_empty (const SbBench *bench);

/* What counts as equal in each measure. */
void sb_bench_margins (const SbBench *bench, SbMargin margin[SB_N_MEASURES]);

/* Panels that can be drawn are known only to the results; this is the asked-for order. n is at most SB_N_PANELS. */
gsize sb_bench_panels (const SbBench *bench, SbPanel panels[SB_N_PANELS]);
