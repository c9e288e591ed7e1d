/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_members.h"
#include "results_judgements.h"

#include <math.h>

static void
add_number_if (JsonBuilder *builder, const char *name, double value)
{
  if (isfinite (value))
    sb_json_add_number (builder, name, value);
}

static void
add_pair_if (JsonBuilder *builder, const char *name, const double pair[2])
{
  if (isfinite (pair[0]) && isfinite (pair[1]))
    sb_json_add_pair (builder, name, pair);
}

static void
add_sentences (JsonBuilder *builder, const char *name, const GPtrArray *sentences)
{
  sb_json_begin_list (builder, name);
  for (guint i = 0; i < sentences->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (sentences, i));
  json_builder_end_array (builder);
}

static void
add_level (JsonBuilder *builder, const SbAudit *audit, guint index)
{
  const SbAuditLevel *level = sb_audit_level (audit, index);
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "text", level->text);
  sb_json_add_number (builder, "x", level->x);
  sb_json_add_integer (builder, "n", (gint64) level->n);
  json_builder_end_object (builder);
}

static void
add_points (JsonBuilder *builder, const SbAudit *audit, const SbAuditMeasure *measure)
{
  sb_json_begin_list (builder, "means");
  for (guint i = 0; i < audit->levels->len; i++)
    sb_json_add_element (builder, measure->points[i].mean);
  json_builder_end_array (builder);
}

static void
add_measure (JsonBuilder *builder, const SbAudit *audit, SbMeasureId id)
{
  const SbAuditMeasure *measure = &audit->measure[id];
  sb_json_begin (builder, sb_measure_info (id)->key);
  if (measure->effect == SB_EFFECT_ABSENT) {
    sb_json_add_string (builder, "absent", measure->absent_reason);
    json_builder_end_object (builder);
    return;
  }
  sb_json_add_string (builder, "effect", sb_audit_effect_words (measure->effect));
  add_points (builder, audit, measure);
  sb_json_add_number (builder, "change", measure->change.difference);
  add_pair_if (builder, "change_ci95", measure->change.ci95);
  if (measure->has_trend) {
    sb_json_add_number (builder, "trend", measure->trend.slope);
    sb_json_add_pair (builder, "trend_ci95", measure->trend.ci95);
  }
  if (measure->has_jonckheere)
    sb_json_add_number (builder, "p_jonckheere", measure->jonckheere.p);
  sb_json_add_number (builder, "p", measure->p);
  sb_json_add_number (builder, "p_holm", measure->p_holm);
  sb_json_add_number (builder, "margin", measure->margin);
  sb_json_add_boolean (builder, "doubted", measure->doubted);
  json_builder_end_object (builder);
}

static void
add_audit (JsonBuilder *builder, const SbAnalysis *analysis, const SbAuditedSetting *audited)
{
  static const char *const proportions[] = {
    [SB_PROPORTION_UNKNOWN] = "unknown",
    [SB_PROPORTION_DIRECT] = "direct",
    [SB_PROPORTION_INVERSE] = "inverse",
    [SB_PROPORTION_NONE] = "none",
  };
  const SbAudit *audit = audited->audit;
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "setting", audit->setting);
  sb_json_add_string (builder, "title", audited->title);
  sb_json_begin_list (builder, "configurations");
  for (guint i = 0; i < audited->configurations->len; i++)
    json_builder_add_string_value (
        builder, sb_analysis_configuration (analysis, g_array_index (audited->configurations, guint, i))->name);
  json_builder_end_array (builder);
  sb_json_begin_list (builder, "levels");
  for (guint i = 0; i < audit->levels->len; i++)
    add_level (builder, audit, i);
  json_builder_end_array (builder);
  sb_json_add_string (builder, "verdict", sb_audit_verdict_words (audit->verdict, audit->of_range));
  sb_json_add_boolean (builder, "doubted", audit->doubted);
  sb_json_add_string (builder, "proportion", proportions[audit->proportion]);
  if (audit->ceiling >= 0) {
    sb_json_add_string (builder, "ceiling_from", sb_audit_level (audit, (guint) audit->ceiling)->text);
    sb_json_add_number (builder, "ceiling_nm_per_s", audit->ceiling_slope);
  }
  if (audit->shown_to >= 0)
    sb_json_add_string (builder, "seen_up_to", sb_audit_level (audit, (guint) audit->shown_to)->text);
  add_number_if (builder, "rig_hz", audit->rig_hz);
  add_number_if (builder, "rig_damping", audit->rig_damping);
  add_sentences (builder, "reasons", audit->reasons);
  add_sentences (builder, "fairness", audit->fairness);
  sb_json_begin (builder, "measures");
  for (int m = 0; m < SB_N_MEASURES; m++)
    add_measure (builder, audit, (SbMeasureId) m);
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}

static void
add_side (JsonBuilder *builder, const SbClaimSide *side)
{
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "configuration", side->name);
  sb_json_add_string (builder, "verdict", sb_claim_verdict_words (side->verdict));
  sb_json_add_integer (builder, "n", (gint64) side->n);
  add_number_if (builder, "mean", side->mean);
  add_number_if (builder, "sd", side->sd);
  add_pair_if (builder, "interval", side->interval);
  if (fabs (side->bias) > 0)
    sb_json_add_number (builder, "bias", side->bias);
  add_number_if (builder, "resolution", side->resolution);
  add_number_if (builder, "steepest_nm_per_s", side->steepest_nm_per_s);
  if (side->n_needed > 0)
    sb_json_add_integer (builder, "n_needed", (gint64) side->n_needed);
  sb_json_add_boolean (builder, "doubted", side->doubted);
  sb_json_add_string (builder, "reason", side->reason);
  json_builder_end_object (builder);
}

static void
add_claim (JsonBuilder *builder, const SbAnalysis *analysis, const SbClaimResult *result)
{
  const SbClaim *claim = result->claim;
  json_builder_begin_object (builder);
  if (claim->configuration >= 0)
    sb_json_add_string (builder, "configuration",
                        sb_analysis_configuration (analysis, (guint) claim->configuration)->name);
  if (claim->device != NULL)
    sb_json_add_string (builder, "device", claim->device);
  sb_json_add_string (builder, "measure", sb_measure_info (claim->measure)->key);
  sb_json_add_string (builder, "relation", sb_claim_relation_words (claim->relation));
  sb_json_add_number (builder, "value", claim->value);
  if (claim->relation == SB_CLAIM_ABOUT)
    sb_json_add_number (builder, "tolerance", claim->tolerance);
  sb_json_add_string (builder, "unit", sb_measure_info (claim->measure)->unit);
  sb_json_add_string (builder, "verdict", sb_claim_verdict_words (result->verdict));
  sb_json_begin_list (builder, "sides");
  for (guint i = 0; i < result->sides->len; i++)
    add_side (builder, sb_claim_result_side (result, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

void
sb_judgements_build (JsonBuilder *builder, const SbAnalysis *analysis)
{
  sb_json_begin_list (builder, "audits");
  for (guint i = 0; analysis->audits != NULL && i < analysis->audits->len; i++)
    add_audit (builder, analysis, g_ptr_array_index (analysis->audits, i));
  json_builder_end_array (builder);
  if (analysis->unaudited != NULL && analysis->unaudited->len > 0)
    add_sentences (builder, "unaudited", analysis->unaudited);
  sb_json_begin_list (builder, "claims");
  for (guint i = 0; analysis->claims != NULL && i < analysis->claims->len; i++)
    add_claim (builder, analysis, g_ptr_array_index (analysis->claims, i));
  json_builder_end_array (builder);
}
