/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_judgements.h"

#include "json_members.h"
#include "number_text.h"
#include "proof_figures.h"
#include "results_drive.h"
#include "results_judgements.h"
#include "results_pair.h"

#include <math.h>
#include <string.h>

/* Deeper than any judgement; a proof may come from anybody. */
#define DEEPEST 8

/* Sentences and curves: they follow from the rest. */
static gboolean
is_left_out (const char *name)
{
  static const char *const names[]
      = { "reasons", "reason", "fairness", "unaudited", "doubts", "words", "residuals", "curve", "unit", NULL };
  return g_strv_contains (names, name);
}

static JsonNode *plain_copy (JsonNode *node);

static JsonNode *
plain_object (JsonObject *object)
{
  g_autoptr (JsonObject) plain = json_object_new ();
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &member))
    if (!is_left_out (name))
      json_object_set_member (plain, name, plain_copy (member));
  JsonNode *node = json_node_new (JSON_NODE_OBJECT);
  json_node_set_object (node, plain);
  return node;
}

/* The node without what is left out. (transfer full) */
static JsonNode *
plain_copy (JsonNode *node)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    return plain_object (json_node_get_object (node));
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return json_node_copy (node);
  g_autoptr (JsonArray) plain = json_array_new ();
  JsonArray *list = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (list); i++)
    json_array_add_element (plain, plain_copy (json_array_get_element (list, i)));
  JsonNode *copy = json_node_new (JSON_NODE_ARRAY);
  json_node_set_array (copy, plain);
  return copy;
}

JsonNode *
sb_proof_judgements_node (const SbAnalysis *analysis)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_object (builder);
  sb_judgements_build (builder, analysis);
  sb_drive_models_build (builder, analysis);
  sb_plan_build (builder, analysis);
  json_builder_end_object (builder);
  g_autoptr (JsonNode) whole = json_builder_get_root (builder);
  return plain_copy (whole);
}

static void
fact_clear (gpointer data)
{
  SbProofFact *fact = data;
  g_free (fact->about);
  g_free (fact->name);
  g_free (fact->text);
}

static const char *
text_of (JsonObject *object, const char *name)
{
  JsonNode *node = object != NULL ? sb_json_value (object, name, G_TYPE_STRING) : NULL;
  return node != NULL ? json_node_get_string (node) : NULL;
}

/* "Setting torque slope of Teasel"; "Stated peak torque slope of Fern"; "Drive model of Fern"; `index` from 0 on. */
static char *
about_of (const char *list, JsonObject *object, guint index)
{
  SbMeasureId id;
  const char *measure = text_of (object, "measure"), *configuration = text_of (object, "configuration");
  const char *title = text_of (object, "title"),
             *of = configuration != NULL ? configuration : text_of (object, "device");
  if (strcmp (list, "audits") == 0 && title != NULL)
    return g_strdup_printf ("Setting %s", title);
  if (strcmp (list, "claims") == 0 && measure != NULL && sb_measure_id_from_key (measure, &id)) {
    g_autofree char *name = g_utf8_strdown (sb_measure_info (id)->name, -1);
    return g_strdup_printf ("Stated figure %u, %s%s%s", index + 1, name, of != NULL ? " of " : "",
                            of != NULL ? of : "");
  }
  if (strcmp (list, "drive_models") == 0 && configuration != NULL)
    return g_strdup_printf ("Drive model of %s", configuration);
  return g_strdup_printf ("%s %u", list, index + 1);
}

static void
add_fact (GArray *facts, const char *about, const char *name, JsonNode *value)
{
  SbProofFact fact = { g_strdup (about), g_strdelimit (g_strdup (name), "_", ' '), NULL, NAN };
  GType type = JSON_NODE_HOLDS_VALUE (value) ? json_node_get_value_type (value) : G_TYPE_INVALID;
  if (type == G_TYPE_STRING)
    fact.text = json_node_dup_string (value);
  else if (type == G_TYPE_BOOLEAN)
    fact.text = g_strdup (json_node_get_boolean (value) ? "yes" : "no");
  else if (type != G_TYPE_INVALID)
    fact.number = json_node_get_double (value);
  g_array_append_val (facts, fact);
}

/* Every value within `node`, named by the members that lead to it: "peak torque slope, change ci95 2". */
static void
add_facts (GArray *facts, const char *about, const char *name, JsonNode *node, guint depth)
{
  if (depth == DEEPEST)
    return;
  if (JSON_NODE_HOLDS_OBJECT (node)) {
    JsonObjectIter iter;
    const char *member;
    JsonNode *value;
    json_object_iter_init_ordered (&iter, json_node_get_object (node));
    while (json_object_iter_next_ordered (&iter, &member, &value)) {
      gboolean groups = strcmp (member, "measures") == 0 || strcmp (member, "parameters") == 0;
      g_autofree char *longer = groups            ? g_strdup (name)
                                : name[0] == '\0' ? g_strdup (member)
                                                  : g_strdup_printf ("%s, %s", name, member);
      add_facts (facts, about, longer, value, depth + 1);
    }
  } else if (JSON_NODE_HOLDS_ARRAY (node)) {
    JsonArray *list = json_node_get_array (node);
    for (guint i = 0; i < json_array_get_length (list); i++) {
      g_autofree char *longer = g_strdup_printf ("%s %u", name, i + 1);
      add_facts (facts, about, longer, json_array_get_element (list, i), depth + 1);
    }
  } else {
    add_fact (facts, about, name, node);
  }
}

GArray *
sb_proof_facts (JsonNode *node)
{
  GArray *facts = g_array_new (FALSE, TRUE, sizeof (SbProofFact));
  g_array_set_clear_func (facts, fact_clear);
  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
    return facts;
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;
  json_object_iter_init_ordered (&iter, json_node_get_object (node));
  while (json_object_iter_next_ordered (&iter, &name, &member)) {
    if (!JSON_NODE_HOLDS_ARRAY (member)) {
      add_facts (facts, "Planned repeats", "", member, 0);
      continue;
    }
    JsonArray *list = json_node_get_array (member);
    for (guint i = 0; i < json_array_get_length (list); i++) {
      JsonNode *element = json_array_get_element (list, i);
      JsonObject *object = JSON_NODE_HOLDS_OBJECT (element) ? json_node_get_object (element) : NULL;
      g_autofree char *about = about_of (name, object, i);
      add_facts (facts, about, "", element, 0);
    }
  }
  return facts;
}

static gboolean
is_p_value (const SbProofFact *fact)
{
  static const char *const endings_of_p[] = { "p", "p holm", "p jonckheere", NULL };
  const char *comma = strrchr (fact->name, ',');
  return comma != NULL && comma[1] == ' ' && g_strv_contains (endings_of_p, comma + 2);
}

char *
sb_proof_fact_text (const SbProofFact *fact)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  double number = fabs (fact->number) < SB_PROOF_DUST ? 0 : fact->number;
  if (fact->text != NULL)
    return g_strdup_printf ("“%s”", fact->text);
  if (isnan (number))
    return g_strdup ("nothing");
  if (is_p_value (fact))
    return g_strdup (number < 0.001 ? "< 0.001" : g_ascii_formatd (digits, sizeof digits, "%.3f", number));
  if (fabs (number - round (number)) <= 0) /* a count, above all */
    return sb_number_plain (number);
  gboolean fine = g_str_has_prefix (fact->about, "Drive model");
  g_ascii_formatd (digits, sizeof digits, fine ? "%.6g" : "%.5g", number);
  return sb_number_plain (g_ascii_strtod (digits, NULL));
}

char *
sb_proof_fact_digits (const SbProofFact *fact)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  return fact->text != NULL || isnan (fact->number) ? sb_proof_fact_text (fact)
                                                    : g_strdup (g_ascii_dtostr (digits, sizeof digits, fact->number));
}
