/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_claims.h"

#include "json_members.h"
#include "session.h"

#include <math.h>
#include <string.h>

guint
sb_bench_n_claims (const SbBench *bench)
{
  return bench->claims != NULL ? bench->claims->len : 0;
}

const SbClaim *
sb_bench_claim (const SbBench *bench, guint index)
{
  g_assert (index < sb_bench_n_claims (bench));
  return g_ptr_array_index (bench->claims, index);
}

/* Other benches may hold the list that is there: a new one takes its place. */
static void
replace_claims (SbBench *edited, GPtrArray *claims)
{
  g_clear_pointer (&edited->claims, g_ptr_array_unref);
  if (claims->len > 0)
    edited->claims = claims;
  else
    g_ptr_array_unref (claims);
}

static GPtrArray *
copy_claims (const SbBench *bench)
{
  GPtrArray *claims = g_ptr_array_new_with_free_func (sb_claim_free);
  for (guint i = 0; i < sb_bench_n_claims (bench); i++)
    g_ptr_array_add (claims, sb_claim_copy (sb_bench_claim (bench, i)));
  return claims;
}

void
sb_bench_add_claim (SbBench *edited, const SbClaim *claim)
{
  GPtrArray *claims = copy_claims (edited);
  g_ptr_array_add (claims, sb_claim_copy (claim));
  replace_claims (edited, claims);
}

void
sb_bench_set_claim (SbBench *edited, guint index, const SbClaim *claim)
{
  g_return_if_fail (index < sb_bench_n_claims (edited));
  GPtrArray *claims = copy_claims (edited);
  sb_claim_free (g_ptr_array_index (claims, index));
  g_ptr_array_index (claims, index) = sb_claim_copy (claim);
  replace_claims (edited, claims);
}

void
sb_bench_remove_claim (SbBench *edited, guint index)
{
  g_return_if_fail (index < sb_bench_n_claims (edited));
  GPtrArray *claims = copy_claims (edited);
  g_ptr_array_remove_index (claims, index);
  replace_claims (edited, claims);
}

void
sb_bench_move_claims (SbBench *edited, guint from, guint to)
{
  GPtrArray *claims = copy_claims (edited);
  for (guint i = 0; i < claims->len; i++) {
    SbClaim *claim = g_ptr_array_index (claims, i);
    if (claim->configuration == (int) from)
      claim->configuration = (int) to;
  }
  replace_claims (edited, claims);
}

void
sb_bench_claims_after_removal (SbBench *edited, guint index)
{
  GPtrArray *claims = copy_claims (edited);
  for (guint i = 0; i < claims->len;) {
    SbClaim *claim = g_ptr_array_index (claims, i);
    if (claim->configuration == (int) index) {
      g_ptr_array_remove_index (claims, i);
      continue;
    }
    claim->configuration -= claim->configuration > (int) index ? 1 : 0;
    i++;
  }
  replace_claims (edited, claims);
}

void
sb_bench_set_audits (SbBench *edited, const char *const *settings, gsize n)
{
  g_clear_pointer (&edited->audits, g_ptr_array_unref);
  if (settings == NULL)
    return;
  edited->audits = g_ptr_array_new_with_free_func (g_free);
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (edited->audits, g_strdup (settings[i]));
}

char *
sb_bench_claim_owner (const SbBench *bench, const SbClaim *claim)
{
  if (claim->configuration >= 0 && claim->configuration < (int) bench->configurations->len)
    return g_strdup (sb_bench_configuration (bench, (guint) claim->configuration)->name);
  return claim->device != NULL ? g_strdup_printf ("%s (device)", claim->device) : g_strdup ("some configuration");
}

/* the session file */

static void
build_claim (JsonBuilder *builder, const SbClaim *claim)
{
  const SbMeasureInfo *info = sb_measure_info (claim->measure);
  json_builder_begin_object (builder);
  if (claim->configuration >= 0)
    sb_json_add_integer (builder, "configuration", claim->configuration);
  if (claim->device != NULL)
    sb_json_add_string (builder, "device", claim->device);
  sb_json_add_string (builder, "measure", info->key);
  sb_json_add_string (builder, "relation", sb_claim_relation_words (claim->relation));
  sb_json_add_number (builder, "value", claim->value);
  if (claim->relation == SB_CLAIM_ABOUT)
    sb_json_add_number (builder, "tolerance", claim->tolerance);
  json_builder_end_object (builder);
}

void
sb_bench_claims_build (JsonBuilder *builder, const SbBench *bench)
{
  if (bench->audits != NULL) {
    sb_json_begin_list (builder, "audits");
    for (guint i = 0; i < bench->audits->len; i++)
      json_builder_add_string_value (builder, g_ptr_array_index (bench->audits, i));
    json_builder_end_array (builder);
  }
  if (sb_bench_n_claims (bench) == 0)
    return;
  sb_json_begin_list (builder, "claims");
  for (guint i = 0; i < bench->claims->len; i++)
    build_claim (builder, sb_bench_claim (bench, i));
  json_builder_end_array (builder);
}

static gboolean
wrong (GError **error, const char *what)
{
  g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, what);
  return FALSE;
}

static gboolean
read_owner (JsonObject *object, const SbBench *bench, SbClaim *claim, GError **error)
{
  JsonNode *device = sb_json_value (object, "device", G_TYPE_STRING);
  claim->configuration = -1;
  if (device != NULL)
    claim->device = g_ref_string_new (json_node_get_string (device));
  if (!json_object_has_member (object, "configuration"))
    return TRUE;
  JsonNode *index = sb_json_value (object, "configuration", G_TYPE_INT64);
  gint64 configuration = index != NULL ? json_node_get_int (index) : -1;
  if (configuration < 0 || configuration >= bench->configurations->len)
    return wrong (error, "a stated figure names a configuration that is not there");
  if (device != NULL)
    return wrong (error, "a stated figure names a configuration and a device; it can be of one of them");
  claim->configuration = (int) configuration;
  return TRUE;
}

static gboolean
read_figure (JsonObject *object, SbClaim *claim, GError **error)
{
  JsonNode *key = sb_json_value (object, "measure", G_TYPE_STRING);
  if (key == NULL || !sb_measure_id_from_key (json_node_get_string (key), &claim->measure))
    return wrong (error, "a stated figure names no measure that there is");
  JsonNode *relation = sb_json_value (object, "relation", G_TYPE_STRING);
  int found = -1;
  for (int r = 0; relation != NULL && r < SB_N_CLAIM_RELATIONS; r++)
    if (strcmp (json_node_get_string (relation), sb_claim_relation_words ((SbClaimRelation) r)) == 0)
      found = r;
  if (found < 0)
    return wrong (error, "the relation of a stated figure must be at least, at most or about");
  claim->relation = (SbClaimRelation) found;
  claim->value = sb_json_number_or_nan (object, "value");
  claim->tolerance = claim->relation == SB_CLAIM_ABOUT ? sb_json_number_or_nan (object, "tolerance") : 0;
  if (!isfinite (claim->value))
    return wrong (error, "the value of a stated figure must be a number");
  if (!(claim->tolerance >= 0) || !isfinite (claim->tolerance))
    return wrong (error, "the tolerance of a stated figure must be a number from 0 on");
  return TRUE;
}

static gboolean
read_claim (JsonNode *node, const SbBench *bench, GPtrArray *claims, GError **error)
{
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return wrong (error, "a stated figure must be an object");
  SbClaim claim = { 0 };
  gboolean well = read_owner (json_node_get_object (node), bench, &claim, error)
                  && read_figure (json_node_get_object (node), &claim, error);
  if (well)
    g_ptr_array_add (claims, sb_claim_copy (&claim));
  g_clear_pointer (&claim.device, g_ref_string_release);
  return well;
}

static gboolean
read_audits (JsonObject *root, SbBench *bench, GError **error)
{
  if (!json_object_has_member (root, "audits"))
    return TRUE;
  JsonArray *array = sb_json_array (root, "audits");
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++) {
    JsonNode *node = json_array_get_element (array, i);
    if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
      return wrong (error, "'audits' must be a list of names of settings");
    g_ptr_array_add (names, (gpointer) (gsize) json_node_get_string (node));
  }
  if (array == NULL)
    return wrong (error, "'audits' must be a list of names of settings");
  g_ptr_array_add (names, NULL);
  sb_bench_set_audits (bench, (const char *const *) names->pdata, names->len - 1);
  return TRUE;
}

gboolean
sb_bench_claims_read (JsonObject *root, SbBench *bench, GError **error)
{
  if (!read_audits (root, bench, error))
    return FALSE;
  if (!json_object_has_member (root, "claims"))
    return TRUE;
  JsonArray *array = sb_json_array (root, "claims");
  if (array == NULL)
    return wrong (error, "'claims' must be a list of stated figures");
  g_autoptr (GPtrArray) claims = copy_claims (bench);
  for (guint i = 0; i < json_array_get_length (array); i++)
    if (!read_claim (json_array_get_element (array, i), bench, claims, error))
      return FALSE;
  replace_claims (bench, g_steal_pointer (&claims));
  return TRUE;
}
