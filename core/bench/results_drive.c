/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drive models as JSON and in words. */
#include "results_drive.h"

#include "doubt.h"
#include "json_members.h"

#include <math.h>

static void
add_parameters (JsonBuilder *builder, const SbDriveModel *model)
{
  sb_json_begin (builder, "parameters");
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    const SbDriveParameter *parameter = &model->parameter[i];
    const SbDriveParameterInfo *info = sb_drive_parameter_info ((SbDriveParameterId) i);
    sb_json_begin (builder, info->key);
    if (parameter->identified) {
      sb_json_add_number (builder, "value", parameter->value);
      sb_json_add_number (builder, "standard_error", parameter->standard_error);
      sb_json_add_pair (builder, "ci95", parameter->ci95);
      sb_json_add_string (builder, "unit", info->unit);
    } else {
      g_autofree char *reason = sb_figures_write (parameter->reason, (SbUnits){ 0 });
      sb_json_add_string (builder, "not_identifiable", reason);
    }
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

static void
add_limits (JsonBuilder *builder, const SbDriveModel *model)
{
  sb_json_begin_list (builder, "limits");
  for (guint i = 0; i < model->stretches->len; i++) {
    const SbDriveStretch *stretch = &g_array_index (model->stretches, SbDriveStretch, i);
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "limit", sb_drive_limit_key (stretch->limit));
    sb_json_add_number (builder, "from_s", stretch->from_s);
    sb_json_add_number (builder, "to_s", stretch->to_s);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

/* Mean minus model; null outside the window of the fit. */
static void
add_residual_list (JsonBuilder *builder, const char *name, const double *mean, const double *model, gsize n)
{
  sb_json_begin_list (builder, name);
  for (gsize i = 0; i < n; i++)
    sb_json_add_element (builder, mean[i] - model[i]);
  json_builder_end_array (builder);
}

static void
add_residuals (JsonBuilder *builder, const SbEnsemble *ensemble, const SbDriveModel *model)
{
  sb_json_begin (builder, "residuals");
  sb_json_add_number (builder, "from_s", (double) ensemble->first * ensemble->grid_step_s);
  sb_json_add_number (builder, "step_s", ensemble->grid_step_s);
  add_residual_list (builder, "torque_nm", ensemble->curve[SB_CHANNEL_TORQUE]->mean, model->torque, model->n_points);
  if (model->has_motion)
    add_residual_list (builder, "velocity_rad_s", ensemble->curve[SB_CHANNEL_VELOCITY]->mean, model->velocity,
                       model->n_points);
  json_builder_end_object (builder);
}

static void
add_model (JsonBuilder *builder, const SbConfigurationResult *configuration, gboolean residuals)
{
  const SbDriveModel *model = configuration->drive;
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "configuration", configuration->name);
  if (!model->present) {
    sb_json_add_string (builder, "absent", model->absent_reason);
    json_builder_end_object (builder);
    return;
  }
  g_autofree char *form = sb_drive_form_words (model->form);
  sb_json_add_string (builder, "form", form);
  sb_json_add_integer (builder, "n", (gint64) model->n_trials);
  sb_json_add_pair (builder, "window_s", model->window_s);
  add_parameters (builder, model);
  add_limits (builder, model);
  sb_json_add_number (builder, "torque_rms_nm", model->torque_rms_nm);
  if (model->has_motion)
    sb_json_add_number (builder, "velocity_rms_rad_s", model->velocity_rms_rad_s);
  sb_json_begin_list (builder, "doubts");
  for (guint i = 0; i < model->doubts->len; i++)
    json_builder_add_string_value (builder, sb_doubts_get (model->doubts, i)->text);
  json_builder_end_array (builder);
  if (residuals)
    add_residuals (builder, configuration->ensemble, model);
  json_builder_end_object (builder);
}

void
sb_drive_models_build (JsonBuilder *builder, const SbAnalysis *analysis)
{
  if (analysis->bench->drive_model == SB_DRIVE_MODEL_NONE)
    return;
  sb_json_begin_list (builder, "drive_models");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    if (configuration->drive != NULL)
      add_model (builder, configuration, analysis->bench->drive_model == SB_DRIVE_MODEL_RESIDUALS);
  }
  json_builder_end_array (builder);
}

static void
append_parameters (GString *text, const SbDriveModel *model, SbUnits units)
{
  for (int i = 0; i < SB_N_DRIVE_PARAMETERS; i++) {
    const SbDriveParameter *parameter = &model->parameter[i];
    const char *name = sb_drive_parameter_info ((SbDriveParameterId) i)->name;
    g_autofree char *value = sb_drive_parameter_format (model, (SbDriveParameterId) i, units, TRUE);
    g_autofree char *reason = parameter->identified ? NULL : sb_figures_write (parameter->reason, units);
    if (parameter->identified)
      g_string_append_printf (text, "  %s: %s\n", name, value);
    else
      g_string_append_printf (text, "  %s: not identifiable (%s)\n", name, reason);
  }
}

char *
sb_drive_models_text (const SbAnalysis *analysis)
{
  GString *text = g_string_new (NULL);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    const SbDriveModel *model = configuration->drive;
    if (model == NULL)
      continue;
    g_string_append_printf (text, "\nDrive model of %s", configuration->name);
    if (!model->present) {
      g_string_append_printf (text, ": none, because %s.\n", model->absent_reason);
      continue;
    }
    g_autofree char *form = sb_drive_form_words (model->form);
    g_autofree char *limits = sb_drive_model_limits_text (model);
    g_string_append_printf (text, " (%s), value ± standard error:\n", form);
    append_parameters (text, model, analysis->bench->units);
    g_string_append_printf (text, "  Limits: %s.\n", limits);
    for (guint i = 0; i < model->doubts->len; i++) {
      g_autofree char *doubt = sb_doubt_text (sb_doubts_get (model->doubts, i), analysis->bench->units);
      g_string_append_printf (text, "  %s\n", doubt);
    }
  }
  return g_string_free (text, FALSE);
}
