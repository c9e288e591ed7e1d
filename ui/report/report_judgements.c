/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_judgements.h"

#include "doubt.h"
#include "results_judgements.h"
#include "results_pair.h"
#include "verdict_words.h"

static void
add_judgement_heading (SbReportDocument *document, const char *heading, const char *verdict)
{
  sb_report_add_heading (document, 3, g_strdup_printf ("%s: %s", heading, verdict));
}

static void
add_audit (SbReportDocument *document, const SbAnalysis *analysis, const SbAuditedSetting *audited)
{
  g_autofree char *heading = sb_audited_setting_heading (audited);
  g_autofree char *verdict = sb_audit_shown_verdict (analysis->bench, audited->audit);
  add_judgement_heading (document, heading, verdict);
  SbReportBlock *list = sb_report_add_list (document);
  for (guint i = 0; i < audited->audit->reasons->len; i++)
    sb_report_list_add (list, g_strdup (g_ptr_array_index (audited->audit->reasons, i)));
  for (guint i = 0; i < audited->audit->fairness->len; i++)
    sb_report_list_add (
        list, g_strconcat ("Not alike: ", (const char *) g_ptr_array_index (audited->audit->fairness, i), NULL));
}

static void
add_claim (SbReportDocument *document, const SbAnalysis *analysis, const SbClaimResult *claim)
{
  g_autofree char *heading = sb_claim_heading (analysis, claim);
  g_autofree char *verdict = sb_claim_shown_verdict (analysis->bench, claim);
  add_judgement_heading (document, heading, verdict);
  SbReportBlock *list = sb_report_add_list (document);
  for (guint i = 0; i < claim->sides->len; i++)
    sb_report_list_add (list, sb_bench_claim_reason (analysis->bench, sb_claim_result_side (claim, i)));
  if (claim->sides->len == 0)
    sb_report_list_add (list, g_strdup ("No usable trial is of it."));
}

/* Sentences, each with indented lines below it, as paragraphs and lists. */
static void
add_plain (SbReportDocument *document, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  SbReportBlock *list = NULL;
  for (gsize i = 0; lines[i] != NULL; i++) {
    gboolean item = lines[i][0] == ' ';
    if (g_strstrip (lines[i])[0] == '\0')
      continue;
    if (!item) {
      sb_report_add (document, SB_BLOCK_PARAGRAPH, g_strdup (lines[i]));
      list = NULL;
      continue;
    }
    if (list == NULL)
      list = sb_report_add_list (document);
    sb_report_list_add (list, g_strdup (lines[i]));
  }
}

static void
add_pair (SbReportDocument *document, const SbAnalysis *analysis)
{
  g_autofree char *settle = sb_settle_text (analysis), *curves = sb_difference_curves_text (analysis);
  g_autofree char *plan = sb_plan_text (analysis);
  if (settle[0] != '\0' || curves[0] != '\0' || plan[0] != '\0')
    sb_report_add_heading (document, 2, g_strdup ("Difference"));
  add_plain (document, settle);
  add_plain (document, curves);
  add_plain (document, plan);
}

/* Of the configurations `fitted` (indices), n from `first` on: a row for each parameter. */
static void
add_drive_table (SbReportDocument *document, const SbAnalysis *analysis, const GArray *fitted, guint first, guint n)
{
  SbReportTable *table = sb_report_add_table (document, "Drive model");
  sb_report_table_add (table, g_strdup ("Parameter"));
  for (guint i = first; i < first + n; i++)
    sb_report_table_add (table,
                         g_strdup (sb_analysis_configuration (analysis, g_array_index (fitted, guint, i))->name));
  sb_report_table_end_heading (table);
  for (int k = 0; k < SB_N_DRIVE_PARAMETERS; k++) {
    sb_report_table_add (table, g_strdup (sb_drive_parameter_info ((SbDriveParameterId) k)->name));
    for (guint i = first; i < first + n; i++) {
      const SbDriveModel *model = sb_analysis_configuration (analysis, g_array_index (fitted, guint, i))->drive;
      sb_report_table_add (table,
                           sb_drive_parameter_format (model, (SbDriveParameterId) k, analysis->bench->units, TRUE));
    }
  }
}

static void
add_drive_tables (SbReportDocument *document, const SbAnalysis *analysis)
{
  g_autoptr (GArray) fitted = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbDriveModel *model = sb_analysis_configuration (analysis, c)->drive;
    if (model != NULL && model->present)
      g_array_append_val (fitted, c);
  }
  for (guint first = 0, n; first < fitted->len; first += n) {
    n = sb_report_next_columns (fitted->len - first);
    add_drive_table (document, analysis, fitted, first, n);
  }
  if (fitted->len > 0)
    sb_report_add (document, SB_BLOCK_PARAGRAPH,
                   g_strdup ("Value ± standard error of the model fitted to the mean curves (dark dashes in the "
                             "chart). A – marks a parameter that these logs cannot tell; the reason stands below."));
}

static void
add_drive_words (SbReportDocument *document, const SbConfigurationResult *configuration, SbUnits units)
{
  const SbDriveModel *model = configuration->drive;
  sb_report_add_heading (document, 3, g_strdup (configuration->name));
  SbReportBlock *list = sb_report_add_list (document);
  if (!model->present) {
    sb_report_list_add (list, g_strdup (model->absent_reason));
    return;
  }
  g_autofree char *form = sb_drive_form_words (model->form);
  g_autofree char *limits = sb_drive_model_limits_text (model);
  sb_report_list_add (list, g_strdup_printf ("%s; %s.", form, limits));
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++)
    if (!model->parameter[i].identified) {
      g_autofree char *reason = sb_figures_write (model->parameter[i].reason, units);
      sb_report_list_add (list, g_strdup_printf ("%s: not identifiable (%s)",
                                                 sb_drive_parameter_info ((SbDriveParameterId) i)->name, reason));
    }
  for (guint i = 0; i < model->doubts->len; i++)
    sb_report_list_add (list, sb_doubt_text (sb_doubts_get (model->doubts, i), units));
}

static void
add_drive_models (SbReportDocument *document, const SbAnalysis *analysis)
{
  if (analysis->bench->drive_model == SB_DRIVE_MODEL_NONE)
    return;
  sb_report_add_heading (document, 2, g_strdup ("Drive model"));
  add_drive_tables (document, analysis);
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (sb_analysis_configuration (analysis, c)->drive != NULL)
      add_drive_words (document, sb_analysis_configuration (analysis, c), analysis->bench->units);
}

void
sb_report_add_judgements (SbReportDocument *document, const SbAnalysis *analysis)
{
  add_pair (document, analysis);
  if (analysis->audits->len + analysis->unaudited->len > 0)
    sb_report_add_heading (document, 2, g_strdup ("Settings"));
  for (guint i = 0; i < analysis->audits->len; i++)
    add_audit (document, analysis, g_ptr_array_index (analysis->audits, i));
  for (guint i = 0; i < analysis->unaudited->len; i++)
    sb_report_add (document, SB_BLOCK_PARAGRAPH, g_strdup (g_ptr_array_index (analysis->unaudited, i)));
  if (analysis->claims->len > 0)
    sb_report_add_heading (document, 2, g_strdup ("Stated figures"));
  for (guint i = 0; i < analysis->claims->len; i++)
    add_claim (document, analysis, g_ptr_array_index (analysis->claims, i));
  add_drive_models (document, analysis);
}
