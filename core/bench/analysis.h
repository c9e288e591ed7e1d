/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results: a pure function of (log files, choices). The window and the batch commands call the same one, so that they
 * cannot disagree. Immutable; shared between threads. */
#pragma once

#include "audit.h"
#include "bench.h"
#include "difference_curve.h"
#include "drive_model.h"
#include "plan.h"
#include "repeat_curves.h"
#include "trial_facts.h"

typedef struct {
  gboolean included;      /* by the person; a failed log is never used */
  char *exclusion_reason; /* NULL when none was given */
  char *path;
  guint step, n_steps;     /* as in SbTrialEntry */
  double from_s, to_s;     /* the stretch of the log, as chosen; NaN: its start, its end */
  gboolean log_told;       /* an earlier trial of the analysis is of the same log: what is to be said of the log as a
                            * whole (faults, rows left out) is said there */
  char *failure;           /* why the log could not be used; NULL when it could, or when it was passed over */
  gboolean is_lost;        /* the log cannot be opened, or is another than the session was saved with */
  SbTrialFacts *facts;     /* NULL when failed or passed over */
  SbMeasures *measures;    /* NULL when failed */
  SbTrial *trial;          /* NULL when failed or not kept */
  double off_mean;         /* of fewer than seven used trials, how far its curve is from their mean curve: root mean
                            * square as of sb_repeat_curves_distances(), SI; else NaN */
  GPtrArray *remarks;      /* char *: what the log is when held against the session and its neighbours, and what to do
                            * about it; NULL: nothing to tell */
  GPtrArray *remark_facts; /* char *: the same without what to do, as a reader of the results is told */
} SbTrialResult;

typedef struct {
  char *name;
  guint style;
  gboolean drawn;
  GPtrArray *trials;     /* SbTrialResult, in the bench's order */
  gsize n_used;          /* included and usable */
  SbRepeatDistances off; /* what off_mean of its trials is of; empty where that is NaN */
  SbEnsemble *ensemble;  /* of the used trials; NULL when there are none */
  SbSummary *summary;    /* likewise */
  SbDriveModel *drive;   /* NULL unless chosen, and there is an ensemble */
} SbConfigurationResult;

/* One setting, over configurations that differ in it. */
typedef struct {
  char *title;            /* "torque slope", "torque slope of Teasel" where there are several */
  GArray *configurations; /* guint, indices; those of one level stand for it together */
  SbAudit *audit;
} SbAuditedSetting;

typedef struct {
  SbBench *bench;            /* the choices that made it */
  GPtrArray *configurations; /* SbConfigurationResult, in the bench's order */
  SbComparison *comparison;  /* NULL unless reference and other are two different configurations with used trials */
  GPtrArray *audits;    /* SbAuditedSetting; of the settings chosen, or of all that differ while all else is alike */
  GPtrArray *unaudited; /* char *, sentences: settings that differ while none are alike in all else, and the nearest */
  GPtrArray *claims;    /* SbClaimResult, for each claim of the bench */
  SbDifferenceCurve *difference[SB_N_CHANNELS]; /* of the compared pair, for velocity and torque; else NULL */
  SbPlan *plan;                                 /* of all measures; NULL unless chosen, and there are repeats */
  gsize n_failed;                               /* logs that could not be used */
  char *data_checksum; /* see sb_analysis_data_checksum(); NULL: worked out when it is asked for */
  gatomicrefcount ref_count;
} SbAnalysis;

/* Logs read and trials cut, by what they were made from; makes a repeat of an analysis after a toggle cheap.
 * Thread-safe. Without one, nothing is kept but grids and facts, so that a batch run holds no whole logs. */
typedef struct SbCache SbCache;
SbCache *sb_cache_new (void);
void sb_cache_free (SbCache *cache);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbCache, sb_cache_free)
void sb_cache_forget (SbCache *cache, const char *path); /* the file changed, read it again */

typedef enum {
  SB_ANALYSIS_DEFAULT = 0,
  SB_ANALYSIS_CACHED_ONLY = 1 << 0,   /* passes over logs not read yet: for a first picture while the rest is read */
  SB_ANALYSIS_KEEP_TRIALS = 1 << 1,   /* without a cache: keep them all the same, for per-trial lines and quartiles */
  SB_ANALYSIS_IN_BACKGROUND = 1 << 2, /* workers give way to other threads, the one that paints a window before all */
} SbAnalysisFlags;

/* n_done of n_total logs are read; called from worker threads. */
typedef void (*SbAnalysisProgress) (gsize n_done, gsize n_total, gpointer user_data);

/* Reads what is not in the cache on as many threads as there are processors, and computes everything. Single logs that
 * fail are results too (SbTrialResult.failure); NULL is returned only when cancelled. The answer does not depend on the
 * number of threads. `cache`, `cancellable`, `progress` may be NULL. (transfer full) */
SbAnalysis *sb_analysis_run (SbBench *bench, SbCache *cache, SbAnalysisFlags flags, SbAnalysisProgress progress,
                             gpointer user_data, GCancellable *cancellable, GError **error);

SbAnalysis *sb_analysis_ref (SbAnalysis *analysis);
void sb_analysis_unref (SbAnalysis *analysis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbAnalysis, sb_analysis_unref)

const SbConfigurationResult *sb_analysis_configuration (const SbAnalysis *analysis, guint index);
const SbTrialResult *sb_configuration_result_trial (const SbConfigurationResult *configuration, guint index);

/* "run-03.csv"; "run-03.csv, step 2 of 6 (at 1.500 s)", the time being that of the onset in the log; without it while
 * that is not known. For people, in UTF-8. (transfer full) */
char *sb_trial_result_label (const SbTrialResult *trial);

/* Included, and read. */
gboolean sb_trial_result_is_used (const SbTrialResult *trial);

/* "torque slope 0.3 N·m/ms, rim 320 mm": the settings of this configuration that differ from the other drawn ones; ""
 * when none does. (transfer full) */
char *sb_analysis_differing_settings (const SbAnalysis *analysis, guint index);

/* Whether any log was read with this layout of the bench. */
gboolean sb_analysis_uses_layout (const SbAnalysis *analysis, const SbLayoutChoice *choice);

/* First 8 hexadecimal digits of the SHA-256 over the SHA-256s of all used logs in order, each as often as it is in a
 * configuration of its own: the data's checksum of a foot
 * line. (transfer full) */
char *sb_analysis_data_checksum (const SbAnalysis *analysis);
