/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_point_json.h"

#include "callout.h"
#include "json_members.h"
#include "session.h"

#include <math.h>

static const char *const places[SB_N_CHART_POINTS] = { "first", "second" };
static const char *const grounds[SB_N_POINT_GROUNDS] = {
  [SB_POINT_ON_CURVE] = "curve",
  [SB_POINT_ON_DIFFERENCE] = "difference",
  [SB_POINT_ON_SLOPE] = "slope",
};

void
sb_chart_points_build (JsonBuilder *builder, const SbChartPoint points[SB_N_CHART_POINTS])
{
  if (!points[0].is_put && !points[1].is_put)
    return;
  sb_json_begin_list (builder, "points");
  for (int k = 0; k < SB_N_CHART_POINTS; k++) {
    if (!points[k].is_put)
      continue;
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "place", places[k]);
    sb_json_add_string (builder, "panel", sb_panel_key (points[k].panel));
    sb_json_add_string (builder, "on", grounds[points[k].on]);
    sb_json_add_number (builder, "time_s", points[k].time_s);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static gboolean
wrong (GError **error, const char *what)
{
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "a point's %s", what);
  return FALSE;
}

/* Which of the n words the member is; -1: none of them. */
static int
read_word (JsonObject *object, const char *name, const char *const *words, int n)
{
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  for (int i = 0; node != NULL && i < n; i++)
    if (g_str_equal (json_node_get_string (node), words[i]))
      return i;
  return -1;
}

static gboolean
read_point (JsonObject *object, SbChartPoint points[SB_N_CHART_POINTS], GError **error)
{
  const char *panels[SB_N_PANELS];
  for (int p = 0; p < SB_N_PANELS; p++)
    panels[p] = sb_panel_key ((SbPanel) p);
  int place = read_word (object, "place", places, SB_N_CHART_POINTS);
  int panel = read_word (object, "panel", panels, SB_N_PANELS);
  int on = json_object_has_member (object, "on") ? read_word (object, "on", grounds, SB_N_POINT_GROUNDS) : 0;
  double time_s = sb_json_number_or_nan (object, "time_s");
  if (place < 0)
    return wrong (error, "place must be first or second");
  if (panel < 0)
    return wrong (error, "panel must be one of velocity, torque, angle, command");
  if (on < 0)
    return wrong (error, "on must be one of curve, difference, slope");
  if (!isfinite (time_s))
    return wrong (error, "time_s must be a number");
  if (points[place].is_put) {
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ,
                 "'points' has the place '%s' twice. Take one of the two out", places[place]);
    return FALSE;
  }
  points[place] = (SbChartPoint){ TRUE, (SbPanel) panel, (SbPointGround) on, time_s };
  return TRUE;
}

gboolean
sb_chart_points_read (JsonObject *object, SbChartPoint points[SB_N_CHART_POINTS], GError **error)
{
  if (!json_object_has_member (object, "points"))
    return TRUE;
  JsonArray *array = sb_json_array (object, "points");
  if (array == NULL) {
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "'points' must be a list of points");
    return FALSE;
  }
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *node = json_array_get_element (array, i);
    if (!JSON_NODE_HOLDS_OBJECT (node))
      return wrong (error, "entry must be an object");
    if (!read_point (json_node_get_object (node), points, error))
      return FALSE;
  }
  return TRUE;
}

gboolean
sb_chart_points_check (const SbBench *bench, GError **error)
{
  for (int k = 0; k < SB_N_CHART_POINTS; k++) {
    guint n = 0;
    for (guint c = 0; c < bench->configurations->len; c++)
      n += sb_bench_configuration (bench, c)->point[k].is_put ? 1 : 0;
    if (n > 1) {
      g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ,
                   "'points' has the place '%s' in two configurations. Take it out of one of them", places[k]);
      return FALSE;
    }
  }
  return TRUE;
}
