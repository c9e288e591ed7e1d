/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "due_cut.h"

#include "cut_steps.h"

void
sb_due_cut_expect (SbDueCut *due, SbBench *bench)
{
  sb_due_cut_forget (due);
  due->is_due = TRUE;
  due->base = sb_bench_ref (bench);
}

void
sb_due_cut_forget (SbDueCut *due)
{
  due->is_due = FALSE;
  g_clear_pointer (&due->base, sb_bench_unref);
}

gboolean
sb_due_cut_make (SbDueCut *due, const SbAnalysis *results, SbHistory *history, SbNews *news)
{
  if (!due->is_due)
    return FALSE;
  g_auto (SbCutReport) report = { 0 };
  SbBench *cut = sb_bench_cut_steps (results, &report);
  gboolean same_step = due->base == sb_history_current (history);
  sb_due_cut_forget (due);
  if (cut == NULL)
    return FALSE;
  if (same_step) {
    sb_history_replace (history, cut);
  } else {
    g_autofree char *step = g_strdup_printf ("cut %" G_GSIZE_FORMAT " steps", report.n_steps);
    sb_history_push (history, cut, step);
  }
  g_autofree char *did = sb_cut_report_did (&report);
  g_ptr_array_add (report.logs, NULL);
  sb_news_tell (news, (const char *const *) report.logs->pdata, did);
  return TRUE;
}
