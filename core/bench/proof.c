/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof.h"

#include "layout_json.h"

#include "json_file.h"
#include "json_members.h"
#include "proof_names.h"
#include "proof_seal.h"
#include "session.h"

#include <string.h>

G_DEFINE_QUARK (sb_proof_error_quark, sb_proof_error)

/* Raised when a reader of the older form could no longer read the proof. */
#define FORMAT 1

#define MARK "slewbench_proof"

#define SHARED SB_PROOF_SHARED

/* Stands where a log was not found: there is no such file, since "/dev/null" is no folder. */
#define NOWHERE "/dev/null"

/* writing */

static void
give_path (SbTrialEntry *entry, char *path)
{
  g_ref_string_release (entry->path);
  entry->path = g_ref_string_new (path);
  g_free (path);
}

/* Layouts that logs were read with; NULL when there are none. Others shaped nothing. (transfer full) */
static GPtrArray *
used_layouts (const SbAnalysis *analysis)
{
  const GPtrArray *layouts = analysis->bench->layouts;
  GPtrArray *used = sb_layout_choices_new ();
  for (guint i = 0; layouts != NULL && i < layouts->len; i++)
    if (sb_analysis_uses_layout (analysis, g_ptr_array_index (layouts, i)))
      g_ptr_array_add (used, sb_layout_choice_ref (g_ptr_array_index (layouts, i)));
  if (used->len == 0)
    g_clear_pointer (&used, g_ptr_array_unref);
  return used;
}

/* The choices without anything of the computer they were made on, and with the checksums of the logs. A log that is
 * another than the session was saved with keeps the checksum that it should have; the list of logs has the one it has.
 */
static SbBench *
plain_bench (const SbAnalysis *analysis, GHashTable *names, const char *folder, const SbProofPicture *picture)
{
  SbBench *plain = sb_bench_edit (analysis->bench);
  g_clear_pointer (&plain->passed_over, g_ptr_array_unref);
  plain->exported_as = SB_CHART_PNG; /* what was exported before shapes nothing */
  g_clear_pointer (&plain->layouts, g_ptr_array_unref);
  plain->layouts = used_layouts (analysis);
  if (picture != NULL && picture->title != NULL) {
    g_free (plain->chart.title);
    plain->chart.title = g_strdup (picture->title);
  }
  if (picture != NULL && picture->paper != NULL)
    plain->chart.paper = *picture->paper;
  for (guint c = 0; c < plain->configurations->len; c++) {
    SbConfiguration *configuration = sb_bench_edit_configuration (plain, c);
    sb_bench_set_folder (plain, c, NULL, NULL);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      const SbTrialFacts *facts = sb_configuration_result_trial (sb_analysis_configuration (analysis, c), t)->facts;
      give_path (entry, g_strconcat (folder, "/", g_hash_table_lookup (names, entry->path), NULL));
      entry->size_bytes = 0; /* the list of logs has it */
      if (facts != NULL && entry->sha256 == NULL)
        entry->sha256 = g_ref_string_new (facts->sha256); /* else the one it was saved with: another is remarked on */
    }
  }
  return plain;
}

char *
sb_proof_session_text (const SbAnalysis *analysis, GHashTable *names, const char *folder)
{
  g_autofree char *path = g_strconcat (SHARED "/", folder, NULL);
  g_autoptr (SbBench) plain = plain_bench (analysis, names, path, NULL);
  return sb_session_text (plain, NULL, SHARED);
}

static void
build_logs (JsonBuilder *builder, const SbAnalysis *analysis, GHashTable *names)
{
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);
  sb_json_begin_list (builder, "logs");
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialFacts *facts = sb_configuration_result_trial (configuration, t)->facts;
      const char *path = sb_configuration_entry (sb_bench_configuration (analysis->bench, c), t)->path;
      char *name = g_hash_table_lookup (names, path);
      if (facts == NULL || !g_hash_table_add (told, name))
        continue;
      json_builder_begin_object (builder);
      sb_json_add_string (builder, "file", name);
      sb_json_add_integer (builder, "bytes", (gint64) facts->n_bytes);
      sb_json_add_string (builder, "sha256", facts->sha256);
      json_builder_end_object (builder);
    }
  }
  json_builder_end_array (builder);
}

JsonNode *
sb_proof_node (const SbAnalysis *analysis, const SbProofPicture *picture)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (GHashTable) names = sb_proof_names (analysis->bench);
  g_autoptr (SbBench) plain = plain_bench (analysis, names, SHARED, picture);
  g_autoptr (GArray) figures = sb_proof_figures_of (analysis);
  json_builder_begin_object (builder);
  sb_json_add_integer (builder, MARK, FORMAT);
  sb_json_add_string (builder, "version", SB_VERSION);
  if (picture != NULL && picture->evidence >= 0)
    sb_json_add_string (builder, "evidence", sb_measure_info ((SbMeasureId) picture->evidence)->key);
  if (picture != NULL && picture->report != NULL)
    sb_json_add_string (builder, "report", picture->report);
  g_autofree char *session = sb_session_text (plain, NULL, SHARED);
  json_builder_set_member_name (builder, "session");
  json_builder_add_value (builder, json_from_string (session, NULL));
  build_logs (builder, analysis, names);
  sb_proof_figures_build (builder, figures, analysis);
  json_builder_set_member_name (builder, "judgements");
  json_builder_add_value (builder, sb_proof_judgements_node (analysis));
  json_builder_end_object (builder);
  JsonNode *node = json_builder_get_root (builder);
  sb_proof_seal (node);
  return node;
}

char *
sb_proof_text (const SbAnalysis *analysis, const SbProofPicture *picture)
{
  g_autoptr (JsonNode) node = sb_proof_node (analysis, picture);
  return sb_proof_line (node);
}

/* reading */

static void
log_free (gpointer data)
{
  SbProofLog *log = data;
  g_free (log->file);
  g_free (log->sha256);
  g_free (log);
}

void
sb_proof_free (SbProof *proof)
{
  if (proof == NULL)
    return;
  g_free (proof->version);
  g_free (proof->evidence);
  g_free (proof->report);
  g_clear_pointer (&proof->judgements, json_node_unref);
  g_clear_pointer (&proof->session, json_node_unref);
  g_ptr_array_unref (proof->logs);
  g_array_unref (proof->figures);
  g_ptr_array_unref (proof->names);
  g_free (proof);
}

static gboolean
damaged (GError **error, const char *what)
{
  g_set_error (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED, "the proof inside cannot be read: %s", what);
  return FALSE;
}

static char *
dup_text (JsonObject *object, const char *name)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  return node != NULL ? json_node_dup_string (node) : NULL;
}

static gboolean
is_sha256 (const char *text)
{
  return strlen (text) == 64 && strspn (text, "0123456789abcdef") == 64;
}

static gboolean
read_log (JsonNode *node, GPtrArray *logs)
{
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  JsonNode *bytes = object != NULL ? sb_json_value (object, "bytes", G_TYPE_INT64) : NULL;
  if (bytes == NULL || json_node_get_int (bytes) < 0)
    return FALSE;
  SbProofLog *log = g_new0 (SbProofLog, 1);
  g_ptr_array_add (logs, log);
  log->file = dup_text (object, "file");
  log->sha256 = dup_text (object, "sha256");
  log->n_bytes = (guint64) json_node_get_int (bytes);
  return log->file != NULL && sb_proof_name_is_safe (log->file) && log->sha256 != NULL && is_sha256 (log->sha256);
}

static gboolean
read_logs (JsonObject *root, GPtrArray *logs, GError **error)
{
  JsonArray *list = sb_json_array (root, "logs");
  if (list == NULL)
    return damaged (error, "it has no list of logs.");
  for (guint i = 0; i < json_array_get_length (list); i++)
    if (!read_log (json_array_get_element (list, i), logs))
      return damaged (error, "a log in it has no proper name, size or SHA-256.");
  return TRUE;
}

static gboolean
read_root (JsonNode *node, SbProof *proof, GError **error)
{
  JsonObject *root = json_node_get_object (node);
  JsonNode *format = sb_json_value (root, MARK, G_TYPE_INT64);
  if (format != NULL && json_node_get_int (format) > FORMAT) {
    g_set_error (error, SB_PROOF_ERROR, SB_PROOF_ERROR_VERSION,
                 "the proof inside is of form %" G_GINT64_FORMAT "; this version reads up to %d. Use a later version.",
                 json_node_get_int (format), FORMAT);
    return FALSE;
  }
  proof->version = dup_text (root, "version");
  proof->evidence = dup_text (root, "evidence");
  proof->report = dup_text (root, "report");
  JsonNode *session = json_object_get_member (root, "session");
  if (format == NULL || proof->version == NULL || session == NULL)
    return damaged (error, "it says neither its form nor the program's version, or it has no session.");
  proof->session = json_node_copy (session);
  proof->is_whole = sb_proof_seal_fits (node);
  if (!read_logs (root, proof->logs, error))
    return FALSE;
  if (!sb_proof_figures_read (root, proof->figures, proof->names, &proof->n_unknown))
    return damaged (error, "its figures are not listed as they should be.");
  JsonNode *judgements = json_object_get_member (root, "judgements");
  if (judgements != NULL && !JSON_NODE_HOLDS_OBJECT (judgements))
    return damaged (error, "its judgements are not listed as they should be.");
  proof->judgements = judgements != NULL ? json_node_copy (judgements) : NULL;
  return TRUE;
}

/* The proof itself, or the one that other JSON has as a member. */
static JsonNode *
find_root (JsonNode *node)
{
  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
    return NULL;
  JsonObject *object = json_node_get_object (node);
  if (json_object_has_member (object, MARK))
    return node;
  JsonNode *member = json_object_get_member (object, "proof");
  return member != NULL && JSON_NODE_HOLDS_OBJECT (member) ? member : NULL;
}

SbProof *
sb_proof_parse (const char *text, gsize n_bytes, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) cause = NULL;
  if (!sb_json_parse_text (parser, "proof", text, n_bytes, &cause)) {
    damaged (error, cause->message);
    return NULL;
  }
  JsonNode *node = find_root (json_parser_get_root (parser));
  if (node == NULL) {
    g_set_error_literal (error, SB_PROOF_ERROR, SB_PROOF_ERROR_NONE, "there is no proof inside");
    return NULL;
  }
  SbProof *proof = g_new0 (SbProof, 1);
  proof->logs = g_ptr_array_new_with_free_func (log_free);
  proof->figures = sb_proof_figures_new ();
  proof->names = g_ptr_array_new_with_free_func (g_free);
  if (read_root (node, proof, error))
    return proof;
  sb_proof_free (proof);
  return NULL;
}

/* Where there is no such file. (transfer full) */
static char *
nowhere (const SbTrialEntry *entry)
{
  const char *name = sb_proof_name_of (entry->path);
  g_autofree char *base = g_path_get_basename (entry->path);
  return g_build_filename (NOWHERE, name != NULL ? name : base, NULL);
}

static char *
place_of (const SbTrialEntry *entry, GHashTable *paths)
{
  const char *name = sb_proof_name_of (entry->path);
  const char *path = name != NULL ? g_hash_table_lookup (paths, name) : NULL;
  return path != NULL ? g_strdup (path) : nowhere (entry);
}

/* Of two copies in one configuration of which one file is left, the first has it: no bench has a log twice. */
static void
place_logs (SbConfiguration *configuration, GHashTable *paths)
{
  g_autoptr (GHashTable) there = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint t = 0; t < configuration->entries->len; t++) {
    SbTrialEntry *entry = sb_configuration_entry (configuration, t);
    g_autofree char *otherwise = nowhere (entry);
    give_path (entry, place_of (entry, paths));
    if (!g_hash_table_add (there, sb_trial_entry_stretch_key (entry)))
      give_path (entry, g_steal_pointer (&otherwise));
  }
}

/* The choices, with nothing of the folders that they were made in. */
static SbBench *
read_bench (const SbProof *proof, GError **error)
{
  SbBench *bench = sb_session_read (proof->session, SHARED, error);
  if (bench == NULL)
    return NULL;
  for (guint c = 0; c < bench->configurations->len; c++)
    sb_bench_set_folder (bench, c, NULL, NULL);
  g_clear_pointer (&bench->passed_over, g_ptr_array_unref);
  return bench;
}

SbBench *
sb_proof_bench (const SbProof *proof, GHashTable *paths, GError **error)
{
  SbBench *bench = read_bench (proof, error);
  for (guint c = 0; bench != NULL && c < bench->configurations->len; c++)
    place_logs (sb_bench_edit_configuration (bench, c), paths);
  return bench;
}

SbBench *
sb_proof_bench_by_name (const SbProof *proof, GHashTable *paths, GError **error)
{
  SbBench *bench = read_bench (proof, error);
  for (guint c = 0; bench != NULL && c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_edit_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      g_autofree char *place = place_of (entry, paths);
      entry->found_at = g_ref_string_new (place);
    }
  }
  return bench;
}

void
sb_proof_unread_names (const SbProof *proof, const SbBench *by_name, GHashTable *names)
{
  g_autoptr (GHashTable) listed = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < proof->logs->len; i++)
    g_hash_table_add (listed, ((SbProofLog *) g_ptr_array_index (proof->logs, i))->file);
  for (guint c = 0; c < by_name->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (by_name, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const char *name = sb_proof_name_of (sb_configuration_entry (configuration, t)->path);
      if (name != NULL && sb_proof_name_is_safe (name) && !g_hash_table_contains (listed, name))
        g_hash_table_insert (names, g_strdup (name), NULL);
    }
  }
}
