/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "session_parts.h"

#include "bench_claims.h"
#include "callout_json.h"
#include "chart_point_json.h"
#include "choices_json.h"
#include "json_members.h"
#include "layout_json.h"
#include "table_choices_json.h"

#include <math.h>
#include <string.h>

/* Relative to the session's folder when the log lies in or beside it, so that a folder can be moved whole. */
static char *
relative_path (const char *path, const char *folder)
{
  g_auto (GStrv) to = g_strsplit (path, "/", -1);
  g_auto (GStrv) from = g_strsplit (folder, "/", -1);
  guint shared = 0;
  while (to[shared] != NULL && from[shared] != NULL && strcmp (to[shared], from[shared]) == 0)
    shared++;
  guint up = g_strv_length (from) - shared;
  if (shared <= 1 || up > 3)
    return g_strdup (path);
  GString *relative = g_string_new (NULL);
  for (guint i = 0; i < up; i++)
    g_string_append (relative, "../");
  g_autofree char *rest = g_strjoinv ("/", to + shared);
  g_string_append (relative, rest);
  if (relative->len == 0)
    g_string_append_c (relative, '.');
  return g_string_free (relative, FALSE);
}

static void
add_trial (JsonBuilder *builder, const SbTrialEntry *entry, const SbTrialFacts *facts, const char *folder)
{
  g_autofree char *file = relative_path (entry->path, folder);
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "file", file);
  const char *sha256 = facts != NULL ? facts->sha256 : entry->sha256;
  if (sha256 != NULL)
    sb_json_add_string (builder, "sha256", sha256);
  guint64 size_bytes = facts != NULL ? facts->n_bytes : entry->size_bytes;
  if (size_bytes > 0)
    sb_json_add_integer (builder, "size_bytes", (gint64) size_bytes);
  sb_json_add_boolean (builder, "included", entry->included);
  if (entry->exclusion_reason != NULL)
    sb_json_add_string (builder, "exclusion_reason", entry->exclusion_reason);
  if (!isnan (entry->choices.onset_s))
    sb_json_add_number (builder, "onset_s", entry->choices.onset_s);
  if (!isnan (entry->choices.active_end_s))
    sb_json_add_number (builder, "active_end_s", entry->choices.active_end_s);
  if (!isnan (entry->choices.from_s))
    sb_json_add_number (builder, "from_s", entry->choices.from_s);
  if (!isnan (entry->choices.to_s))
    sb_json_add_number (builder, "to_s", entry->choices.to_s);
  if (entry->n_steps > 0) {
    sb_json_add_integer (builder, "step", entry->step);
    sb_json_add_integer (builder, "steps", entry->n_steps);
  }
  if (entry->kept_whole)
    sb_json_add_boolean (builder, "kept_whole", TRUE);
  if (entry->layout != NULL) {
    json_builder_set_member_name (builder, "layout");
    sb_layout_choice_build (builder, entry->layout);
  }
  json_builder_end_object (builder);
}

/* A folder whose name JSON cannot hold is not watched when the session is opened again. */
static void
add_path (JsonBuilder *builder, const char *name, const char *path, const char *folder)
{
  if (path == NULL || !g_utf8_validate (path, -1, NULL))
    return;
  g_autofree char *relative = relative_path (path, folder);
  sb_json_add_string (builder, name, relative);
}

static void
add_passed_over (JsonBuilder *builder, const GPtrArray *passed_over, const char *folder)
{
  if (passed_over == NULL || passed_over->len == 0)
    return;
  json_builder_set_member_name (builder, "passed_over");
  json_builder_begin_array (builder);
  for (guint i = 0; i < passed_over->len; i++) {
    g_autofree char *relative = relative_path (g_ptr_array_index (passed_over, i), folder);
    if (g_utf8_validate (relative, -1, NULL))
      json_builder_add_string_value (builder, relative);
  }
  json_builder_end_array (builder);
}

static void
add_configuration (JsonBuilder *builder, const SbConfiguration *configuration, const SbConfigurationResult *result,
                   const char *folder)
{
  json_builder_begin_object (builder);
  sb_json_add_string (builder, "name", configuration->name);
  sb_json_add_integer (builder, "style", configuration->style);
  sb_json_add_boolean (builder, "drawn", configuration->drawn);
  if (configuration->dimmed)
    sb_json_add_boolean (builder, "dimmed", TRUE);
  sb_callouts_build (builder, configuration->callouts);
  sb_chart_points_build (builder, configuration->point);
  add_path (builder, "folder", configuration->folder, folder);
  add_path (builder, "opened_folder", configuration->opened_folder, folder);
  json_builder_set_member_name (builder, "trials");
  json_builder_begin_array (builder);
  for (guint t = 0; t < configuration->entries->len; t++) {
    const SbTrialFacts *facts = result != NULL ? sb_configuration_result_trial (result, t)->facts : NULL;
    add_trial (builder, sb_configuration_entry (configuration, t), facts, folder);
  }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_role (JsonBuilder *builder, const char *name, int role)
{
  if (role >= 0)
    sb_json_add_integer (builder, name, role);
  else
    sb_json_add_number (builder, name, NAN);
}

void
sb_session_build (JsonBuilder *builder, const SbBench *bench, const SbAnalysis *analysis, const char *folder)
{
  json_builder_begin_object (builder);
  sb_json_add_integer (builder, "slewbench_session", SB_SESSION_FORMAT);
  sb_json_add_string (builder, "written_by", SB_VERSION);
  json_builder_set_member_name (builder, "configurations");
  json_builder_begin_array (builder);
  for (guint c = 0; c < bench->configurations->len; c++) {
    /* Checksums belong to the logs of the configuration that was analysed; another one has none to give. */
    gboolean same = analysis != NULL && c < analysis->bench->configurations->len
                    && sb_bench_configuration (analysis->bench, c) == sb_bench_configuration (bench, c);
    add_configuration (builder, sb_bench_configuration (bench, c),
                       same ? sb_analysis_configuration (analysis, c) : NULL, folder);
  }
  json_builder_end_array (builder);
  add_passed_over (builder, bench->passed_over, folder);
  if (bench->layouts != NULL && bench->layouts->len > 0) {
    json_builder_set_member_name (builder, "layouts");
    sb_layout_choices_build (builder, bench->layouts);
  }
  sb_bench_claims_build (builder, bench);
  add_role (builder, "reference", bench->reference);
  add_role (builder, "other", bench->other);
  json_builder_set_member_name (builder, "choices");
  json_builder_begin_object (builder);
  sb_choices_build (builder, bench);
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "chart");
  json_builder_begin_object (builder);
  sb_chart_choices_build (builder, bench);
  json_builder_end_object (builder);
  if (bench->exported_as != SB_CHART_PNG)
    sb_json_add_string (builder, "exported_as", sb_chart_format_key (bench->exported_as));
  sb_json_begin (builder, "table");
  sb_table_choices_build (builder, &bench->table);
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}
