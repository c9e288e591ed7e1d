/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "callout_json.h"

#include "json_members.h"
#include "session.h"

#include <math.h>

void
sb_callouts_build (JsonBuilder *builder, const GArray *callouts)
{
  if (callouts->len == 0)
    return;
  sb_json_begin_list (builder, "callouts");
  for (guint i = 0; i < callouts->len; i++) {
    const SbCallout *callout = sb_callouts_get (callouts, i);
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "panel", sb_panel_key (callout->panel));
    sb_json_add_number (builder, "time_s", callout->time_s);
    sb_json_add_string (builder, "text", callout->text);
    sb_json_add_number (builder, "label_x", callout->label[0]);
    sb_json_add_number (builder, "label_y", callout->label[1]);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static gboolean
wrong (GError **error, const char *what)
{
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "a callout's %s", what);
  return FALSE;
}

static gboolean
read_panel (JsonObject *object, SbPanel *panel)
{
  JsonNode *key = sb_json_value (object, "panel", G_TYPE_STRING);
  for (int p = 0; key != NULL && p < SB_N_PANELS; p++)
    if (g_str_equal (json_node_get_string (key), sb_panel_key ((SbPanel) p))) {
      *panel = (SbPanel) p;
      return TRUE;
    }
  return FALSE;
}

static gboolean
read_place (JsonObject *object, const char *name, double otherwise, double *place)
{
  *place = json_object_has_member (object, name) ? sb_json_number_or_nan (object, name) : otherwise;
  return fabs (*place) <= SB_CALLOUT_FARTHEST;
}

static gboolean
read_callout (JsonObject *object, GArray *callouts, GError **error)
{
  SbPanel panel;
  double label[2];
  if (!read_panel (object, &panel))
    return wrong (error, "panel must be one of velocity, torque, angle, command");
  double time_s = sb_json_number_or_nan (object, "time_s");
  JsonNode *text = sb_json_value (object, "text", G_TYPE_STRING);
  if (!isfinite (time_s))
    return wrong (error, "time_s must be a number");
  if (text == NULL || json_node_get_string (text)[0] == '\0')
    return wrong (error, "text must not be empty");
  if (!read_place (object, "label_x", SB_CALLOUT_LABEL_X, &label[0])
      || !read_place (object, "label_y", SB_CALLOUT_LABEL_Y, &label[1]))
    return wrong (error, "label_x and label_y must be numbers from -200 to 200");
  sb_callouts_add (callouts, panel, time_s, json_node_get_string (text), label);
  return TRUE;
}

gboolean
sb_callouts_read (JsonObject *object, GArray *callouts, GError **error)
{
  if (!json_object_has_member (object, "callouts"))
    return TRUE;
  JsonArray *array = sb_json_array (object, "callouts");
  if (array == NULL) {
    g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "'callouts' must be a list of callouts");
    return FALSE;
  }
  for (guint i = 0; i < json_array_get_length (array); i++) {
    JsonNode *node = json_array_get_element (array, i);
    if (!JSON_NODE_HOLDS_OBJECT (node))
      return wrong (error, "entry must be an object");
    if (!read_callout (json_node_get_object (node), callouts, error))
      return FALSE;
  }
  return TRUE;
}
