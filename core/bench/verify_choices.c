/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_choices.h"

#include "choices_json.h"
#include "json_members.h"

#include <math.h>
#include <string.h>

static void
append_exclusion (GString *text, const SbTrialEntry *entry)
{
  g_autofree char *label = sb_trial_entry_label (entry);
  g_string_append_printf (text, "; %s left out: %s", label,
                          entry->exclusion_reason != NULL ? entry->exclusion_reason : "no reason given");
}

static void
append_configuration (GString *text, const SbConfiguration *configuration)
{
  guint n = configuration->entries->len, n_included = 0;
  for (guint t = 0; t < n; t++)
    n_included += sb_configuration_entry (configuration, t)->included ? 1 : 0;
  g_string_append_printf (text, "%s (%u", configuration->name, n_included);
  if (n_included < n)
    g_string_append_printf (text, " of %u", n);
  g_string_append_printf (text, " repeat%s", n == 1 ? "" : "s");
  for (guint t = 0; t < n; t++)
    if (!sb_configuration_entry (configuration, t)->included)
      append_exclusion (text, sb_configuration_entry (configuration, t));
  g_string_append_c (text, ')');
}

/* How the name of a choice says its unit. */
static const struct {
  const char *ending, *unit;
  double factor;
} units[]
    = { { "_s", " ms", 1e3 }, { "_hz", " Hz", 1 }, { "_mm", " mm", 1 }, { "_pt", " pt", 1 }, { "_ratio", " %", 100 } };

static void
append_value (GString *text, JsonNode *value, const char *unit, double factor)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  if (JSON_NODE_HOLDS_ARRAY (value)) {
    JsonArray *array = json_node_get_array (value);
    for (guint i = 0; i < json_array_get_length (array); i++) {
      g_string_append (text, i > 0 ? ", " : " ");
      append_value (text, json_array_get_element (array, i), "", 1);
    }
  } else if (!JSON_NODE_HOLDS_VALUE (value)) {
    g_string_append (text, JSON_NODE_HOLDS_NULL (value) ? " open" : " set");
  } else if (json_node_get_value_type (value) == G_TYPE_STRING) {
    g_string_append_printf (text, "%s“%s”", text->str[text->len - 1] == ' ' ? "" : " ", json_node_get_string (value));
  } else if (json_node_get_value_type (value) == G_TYPE_BOOLEAN) {
    g_string_append (text, json_node_get_boolean (value) ? " on" : " off");
  } else {
    double number = json_node_get_double (value) * factor;
    g_ascii_formatd (digits, sizeof digits, "%.6g", fabs (number));
    g_string_append_printf (text, "%s%s%s%s", text->str[text->len - 1] == ' ' ? "" : " ", number < 0 ? "−" : "", digits,
                            unit);
  }
}

/* "slope window 2 ms" of { "slope_window_s": 0.002 }. */
static char *
choice_text (const char *name, JsonNode *value)
{
  g_autofree char *words = g_strdup (name);
  const char *unit = "";
  double factor = 1;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_str_has_suffix (name, units[i].ending)) {
      words[strlen (name) - strlen (units[i].ending)] = '\0';
      unit = units[i].unit;
      factor = units[i].factor;
      break;
    }
  GString *text = g_string_new (g_strdelimit (words, "_", ' '));
  append_value (text, value, unit, factor);
  return g_string_free (text, FALSE);
}

/* The members of an object that are not what a new bench has. */
static void
add_unusual (GPtrArray *unusual, JsonObject *chosen, JsonObject *usual)
{
  JsonObjectIter iter;
  const char *name;
  JsonNode *value;
  json_object_iter_init_ordered (&iter, chosen);
  while (json_object_iter_next_ordered (&iter, &name, &value)) {
    JsonNode *same = json_object_get_member (usual, name);
    if (same == NULL || !json_node_equal (value, same))
      g_ptr_array_add (unusual, choice_text (name, value));
  }
}

static JsonNode *
build_choices (void (*build) (JsonBuilder *builder, const SbBench *bench), const SbBench *bench)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_object (builder);
  build (builder, bench);
  json_builder_end_object (builder);
  return json_builder_get_root (builder);
}

static void
append_unusual (GString *text, const SbBench *bench)
{
  g_autoptr (GPtrArray) unusual = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (SbBench) usual = sb_bench_new ();
  void (*const builds[]) (JsonBuilder *, const SbBench *) = { sb_choices_build, sb_chart_choices_build };
  for (gsize i = 0; i < G_N_ELEMENTS (builds); i++) {
    g_autoptr (JsonNode) chosen = build_choices (builds[i], bench);
    g_autoptr (JsonNode) plain = build_choices (builds[i], usual);
    add_unusual (unusual, json_node_get_object (chosen), json_node_get_object (plain));
  }
  if (unusual->len == 0) {
    g_string_append (text, " All other choices are the usual ones.");
    return;
  }
  g_string_append (text, " Other than usual:");
  for (guint i = 0; i < unusual->len; i++)
    g_string_append_printf (text, "%s %s", i > 0 ? ";" : "", (const char *) g_ptr_array_index (unusual, i));
  g_string_append_c (text, '.');
}

/* What was asked to be judged. */
static void
append_lists (GString *text, const SbBench *bench)
{
  guint n_claims = bench->claims != NULL ? bench->claims->len : 0;
  if (n_claims > 0)
    g_string_append_printf (text, " %u stated figure%s checked.", n_claims, n_claims == 1 ? " is" : "s are");
  for (guint i = 0; bench->audits != NULL && i < bench->audits->len; i++)
    g_string_append_printf (text, "%s%s%s", i == 0 ? " Audited: " : ", ",
                            (const char *) g_ptr_array_index (bench->audits, i),
                            i + 1 == bench->audits->len ? "." : "");
}

char *
sb_verify_choices_text (const SbVerification *verification)
{
  const SbBench *bench = verification->analysis->bench; /* its logs by their names */
  guint n = bench->configurations->len;
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "%u configuration%s: ", n, n == 1 ? "" : "s");
  for (guint c = 0; c < n; c++) {
    g_string_append (text, c > 0 ? ", " : "");
    append_configuration (text, sb_bench_configuration (bench, c));
  }
  g_string_append_c (text, '.');
  if (bench->reference >= 0 && bench->other >= 0 && bench->reference != bench->other)
    g_string_append_printf (text, " “%s” is compared with “%s”.",
                            sb_bench_configuration (bench, (guint) bench->other)->name,
                            sb_bench_configuration (bench, (guint) bench->reference)->name);
  SbMeasureId id;
  const char *evidence = verification->proof->evidence;
  if (evidence != NULL && sb_measure_id_from_key (evidence, &id))
    g_string_append_printf (text, " The chart marks where this comes from: %s.", sb_measure_info (id)->name);
  append_lists (text, bench);
  append_unusual (text, bench);
  return g_string_free (text, FALSE);
}
