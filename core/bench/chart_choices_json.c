/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The choices of the chart as JSON members. */
#include "choices_json.h"

#include "callout.h"
#include "json_members.h"
#include "session.h"

#include <stddef.h>

/* A number of the paper: its name, where it lives, and what is allowed. */
typedef struct {
  const char *name;
  gsize offset;
  double least, most;
} Length;

static const Length lengths[] = {
  { "width_mm", offsetof (SbPaper, width_mm), 10, 2000 },
  { "height_mm", offsetof (SbPaper, height_mm), 10, 2000 },
  { "dpi", offsetof (SbPaper, dpi), 36, 2400 },
  { "font_pt", offsetof (SbPaper, font_pt), 1, 200 },
};

static double
length_in (const SbPaper *paper, const Length *length)
{
  return *(const double *) (gconstpointer) ((const char *) paper + length->offset);
}

/* Only where there are any: a chart without labels keeps the bytes that it had before there were labels. */
static void
build_labels (JsonBuilder *builder, const SbChartChoices *chart)
{
  sb_json_begin_list (builder, "labels");
  for (int kind = 0; kind < SB_N_LABELS; kind++)
    if (chart->labels & 1u << kind)
      json_builder_add_string_value (builder, sb_label_kind_key ((SbLabelKind) kind));
  json_builder_end_array (builder);
}

void
sb_chart_choices_build (JsonBuilder *builder, const SbBench *bench)
{
  const SbChartChoices *chart = &bench->chart;
  sb_json_add_string (builder, "view", sb_view_key (chart->view));
  sb_json_begin_list (builder, "panels");
  for (int p = 0; p < SB_N_PANELS; p++)
    if (chart->panels & 1u << p)
      json_builder_add_string_value (builder, sb_panel_key ((SbPanel) p));
  json_builder_end_array (builder);
  sb_json_add_boolean (builder, "trial_lines", chart->trial_lines);
  sb_json_add_boolean (builder, "moving_band", chart->moving_band);
  if (chart->labels != 0)
    build_labels (builder, chart);
  sb_json_add_number (builder, "view_from_s", chart->view_s[0]);
  sb_json_add_number (builder, "view_to_s", chart->view_s[1]);
  sb_json_add_string (builder, "title", chart->title);
  sb_json_add_boolean (builder, "difference_only", chart->difference_only);
  sb_json_begin_list (builder, "measures");
  SbMeasureId measures[SB_N_MEASURES];
  gsize n = sb_chart_choices_measures (chart, measures);
  for (gsize i = 0; i < n; i++)
    json_builder_add_string_value (builder, sb_measure_info (measures[i])->key);
  json_builder_end_array (builder);
  sb_json_add_string (builder, "setting", chart->setting);
  sb_json_add_boolean (builder, "in_order", chart->in_order);
  sb_json_add_boolean (builder, "excluded_repeats", chart->excluded_repeats);
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    sb_json_add_number (builder, lengths[i].name, length_in (&chart->paper, &lengths[i]));
  sb_json_add_string (builder, "ground", sb_ground_key (chart->paper.ground));
  sb_json_add_boolean (builder, "grey", chart->paper.grey);
  sb_json_add_string (builder, "legend", sb_legend_place_key (chart->paper.legend));
  sb_json_add_boolean (builder, "foot_line", !chart->paper.no_foot);
}

static gboolean
wrong (GError **error, const char *name, const char *what)
{
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "the choice '%s' must be %s", name, what);
  return FALSE;
}

/* The bit that a word stands for; 0 when it stands for none. */
typedef guint (*BitOfWord) (const char *word);

static guint
panel_bit (const char *word)
{
  for (int p = 0; p < SB_N_PANELS; p++)
    if (g_str_equal (word, sb_panel_key ((SbPanel) p)))
      return 1u << p;
  return 0;
}

static guint
measure_bit (const char *word)
{
  SbMeasureId id;
  return sb_measure_id_from_key (word, &id) ? 1u << id : 0;
}

/* The bits of a list of words, those of a later version passed over. 0 when there is none, or no list. */
static guint
read_bits (JsonObject *object, const char *name, BitOfWord bit_of)
{
  guint bits = 0;
  JsonArray *array = sb_json_array (object, name);
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++) {
    JsonNode *element = json_array_get_element (array, i);
    const char *word = JSON_NODE_HOLDS_VALUE (element) ? json_node_get_string (element) : NULL;
    bits |= word != NULL ? bit_of (word) : 0;
  }
  return bits;
}

/* What a later version may name beside these is not passed over: nothing would say that a label is missing. */
static gboolean
read_labels (JsonObject *object, SbChartChoices *chart, GError **error)
{
  if (!json_object_has_member (object, "labels"))
    return TRUE;
  JsonArray *array = sb_json_array (object, "labels");
  if (array == NULL)
    return wrong (error, "labels", "a list of peaks, slope, overshoot, ringing");
  guint bits = 0;
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *element = json_array_get_element (array, i);
    const char *word = JSON_NODE_HOLDS_VALUE (element) ? json_node_get_string (element) : NULL;
    guint bit = word != NULL ? sb_label_bit_from_key (word) : 0;
    if (bit == 0) {
      g_autofree char *what
          = g_strdup_printf ("a list of peaks, slope, overshoot, ringing; it has '%s'. Correct that, or take it out",
                             word != NULL ? word : "what is no word");
      return wrong (error, "labels", what);
    }
    bits |= bit;
  }
  chart->labels = bits;
  return TRUE;
}

static gboolean
read_lists (JsonObject *object, SbChartChoices *chart, GError **error)
{
  guint panels = read_bits (object, "panels", panel_bit), measures = read_bits (object, "measures", measure_bit);
  if (panels == 0 && json_object_has_member (object, "panels"))
    return wrong (error, "panels", "a list with at least one of velocity, torque, angle, command");
  if (measures == 0 && json_object_has_member (object, "measures"))
    return wrong (error, "measures", "a list with the key of at least one measure");
  if (!read_labels (object, chart, error))
    return FALSE;
  chart->panels = panels != 0 ? panels : chart->panels;
  chart->measures = measures != 0 ? measures : chart->measures;
  return TRUE;
}

static gboolean
read_view (JsonObject *object, SbChartChoices *chart, GError **error)
{
  if (!json_object_has_member (object, "view"))
    return TRUE;
  JsonNode *view = sb_json_value (object, "view", G_TYPE_STRING);
  if (view == NULL || !sb_view_from_key (json_node_get_string (view), &chart->view))
    return wrong (error, "view", "one of response, difference, spread, sweep, slope, ringing, phase, plan");
  return TRUE;
}

static gboolean
read_length (JsonObject *object, const Length *length, SbPaper *paper, GError **error)
{
  if (!json_object_has_member (object, length->name))
    return TRUE;
  double value = sb_json_number_or_nan (object, length->name);
  if (!(value >= length->least && value <= length->most)) {
    g_autofree char *range = g_strdup_printf ("a number from %g to %g", length->least, length->most);
    return wrong (error, length->name, range);
  }
  *(double *) (gpointer) ((char *) paper + length->offset) = value;
  return TRUE;
}

static gboolean
read_paper (JsonObject *object, SbPaper *paper, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    if (!read_length (object, &lengths[i], paper, error))
      return FALSE;
  paper->grey = sb_json_boolean_or (object, "grey", paper->grey);
  paper->no_foot = !sb_json_boolean_or (object, "foot_line", !paper->no_foot);
  JsonNode *ground = sb_json_value (object, "ground", G_TYPE_STRING);
  if (json_object_has_member (object, "ground")
      && (ground == NULL || !sb_ground_from_key (json_node_get_string (ground), &paper->ground)))
    return wrong (error, "ground", "one of white, dark, transparent, transparent-dark");
  JsonNode *legend = sb_json_value (object, "legend", G_TYPE_STRING);
  if (json_object_has_member (object, "legend")
      && (legend == NULL || !sb_legend_place_from_key (json_node_get_string (legend), &paper->legend)))
    return wrong (error, "legend", "one of above, below, right, none");
  return TRUE;
}

/* An end that is null is open: the view goes on to the end of the curves. */
static double
view_end_or (JsonObject *object, const char *name, double otherwise)
{
  return json_object_has_member (object, name) ? sb_json_number_or_nan (object, name) : otherwise;
}

static void
read_text (JsonObject *object, const char *name, char **text)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  if (node == NULL)
    return;
  g_free (*text);
  *text = json_node_dup_string (node);
}

gboolean
sb_chart_choices_read (JsonObject *object, SbBench *edited, GError **error)
{
  static const char *const switches[]
      = { "trial_lines", "moving_band", "difference_only", "in_order", "grey", "excluded_repeats", "foot_line" };
  SbChartChoices *chart = &edited->chart;
  if (!sb_json_check_booleans (object, switches, G_N_ELEMENTS (switches), error) || !read_lists (object, chart, error)
      || !read_view (object, chart, error) || !read_paper (object, &chart->paper, error))
    return FALSE;
  chart->trial_lines = sb_json_boolean_or (object, "trial_lines", chart->trial_lines);
  chart->moving_band = sb_json_boolean_or (object, "moving_band", chart->moving_band);
  chart->difference_only = sb_json_boolean_or (object, "difference_only", chart->difference_only);
  chart->in_order = sb_json_boolean_or (object, "in_order", chart->in_order);
  chart->excluded_repeats = sb_json_boolean_or (object, "excluded_repeats", chart->excluded_repeats);
  double from_s = view_end_or (object, "view_from_s", chart->view_s[0]);
  double to_s = view_end_or (object, "view_to_s", chart->view_s[1]);
  if (from_s >= to_s)
    return wrong (error, "view_from_s",
                  "less than 'view_to_s': the time shown begins before it ends. Exchange the two");
  chart->view_s[0] = from_s;
  chart->view_s[1] = to_s;
  read_text (object, "title", &chart->title);
  read_text (object, "setting", &chart->setting);
  return TRUE;
}
