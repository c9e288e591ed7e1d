/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_hand.h"

#include "callout_edits.h"
#include "chart_menu.h"
#include "edits.h"
#include "point_edits.h"
#include "window.h"
#include "window_edits.h"

#include <math.h>

#define LABEL_STEP   0.5 /* of a callout's label by keys, in sizes of axis numbers */
#define MOST_FIGURES 4

typedef struct {
  SbChartView *view;
  SbDocument *document;
  SbAnalysis *before; /* results before an edge was moved; NULL: none was */
  char *edited;       /* the name of that configuration, and what was done to it */
  char *what;
} Hand;

static void
hand_free (gpointer data)
{
  Hand *hand = data;
  g_clear_pointer (&hand->before, sb_analysis_unref);
  g_free (hand->edited);
  g_free (hand->what);
  g_free (hand);
}

/* The configuration of the bench that is shown as `shown`, which may be of slightly older results. */
static gboolean
find_configuration (Hand *hand, guint shown, guint *configuration)
{
  const SbChartModel *model = sb_chart_view_model (hand->view);
  const SbBench *bench = sb_document_bench (hand->document);
  if (model == NULL || shown >= model->analysis->configurations->len)
    return FALSE;
  const char *name = sb_analysis_configuration (model->analysis, shown)->name;
  for (guint c = 0; c < bench->configurations->len; c++)
    if (g_str_equal (sb_bench_configuration (bench, c)->name, name)) {
      *configuration = c;
      return TRUE;
    }
  return FALSE;
}

static gboolean
find_followed (Hand *hand, guint *configuration)
{
  guint shown;
  return sb_chart_view_followed (hand->view, &shown) && find_configuration (hand, shown, configuration);
}

static void
on_text_given (const char *text, gpointer user_data)
{
  Hand *hand = user_data;
  SbChartSpot spot;
  guint configuration;
  gtk_widget_grab_focus (GTK_WIDGET (hand->view));
  if (!sb_chart_view_spot (hand->view, &spot) || !find_configuration (hand, spot.configuration, &configuration))
    return;
  const SbChartPanel *panel = g_ptr_array_index (sb_chart_view_model (hand->view)->panels, spot.panel);
  int callout = sb_edit_add_callout (hand->document, configuration, panel->panel, spot.time_s, text);
  if (callout >= 0)
    sb_chart_view_choose_callout (hand->view, spot.configuration, (guint) callout);
}

static void
add_callout (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  SbChartSpot spot;
  if (!sb_chart_view_spot (hand->view, &spot))
    return;
  const SbChartPanel *panel = g_ptr_array_index (sb_chart_view_model (hand->view)->panels, spot.panel);
  if (!panel->difference && panel->derived == NULL)
    sb_chart_menu_ask_text (hand->view, "", on_text_given, hand);
  else
    gtk_widget_error_bell (GTK_WIDGET (hand->view));
}

static gboolean
find_callout (Hand *hand, guint *configuration, guint *callout)
{
  guint shown;
  return sb_chart_view_chosen_callout (hand->view, &shown, callout) && find_configuration (hand, shown, configuration)
         && *callout < sb_bench_configuration (sb_document_bench (hand->document), *configuration)->callouts->len;
}

static void
on_text_changed (const char *text, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration, callout;
  gtk_widget_grab_focus (GTK_WIDGET (hand->view));
  if (find_callout (hand, &configuration, &callout))
    sb_edit_set_callout_text (hand->document, configuration, callout, text);
}

static void
edit_callout (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration, callout;
  if (!find_callout (hand, &configuration, &callout))
    return;
  const GArray *callouts = sb_bench_configuration (sb_document_bench (hand->document), configuration)->callouts;
  sb_chart_menu_ask_text (hand->view, sb_callouts_get (callouts, callout)->text, on_text_changed, hand);
}

static void
delete_callout (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration, callout;
  if (find_callout (hand, &configuration, &callout))
    sb_edit_delete_callout (hand->document, configuration, callout);
}

static void
next_callout (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sb_chart_view_choose_next_callout (((Hand *) user_data)->view);
}

static void
nudge_callout (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration, callout;
  double x, y;
  g_variant_get (parameter, "(dd)", &x, &y);
  if (!find_callout (hand, &configuration, &callout))
    return;
  const GArray *callouts = sb_bench_configuration (sb_document_bench (hand->document), configuration)->callouts;
  const SbCallout *stored = sb_callouts_get (callouts, callout);
  double label[2] = { stored->label[0], stored->label[1] };
  if (!sb_callout_was_moved (label) && !sb_chart_view_callout_label (hand->view, label))
    return; /* the chart chose its place, and has not been painted since */
  sb_edit_move_callout (hand->document, configuration, callout, label[0] + x, label[1] + y);
}

static void
put_point (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sb_chart_view_put_point (((Hand *) user_data)->view);
}

static void
dim (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint c;
  if (find_followed (hand, &c))
    sb_edit_set_dimmed (hand->document, c, !sb_bench_configuration (sb_document_bench (hand->document), c)->dimmed);
}

static void
solo (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration;
  if (find_followed (hand, &configuration))
    sb_edit_solo (hand->document, configuration);
}

static void
hide (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration;
  if (find_followed (hand, &configuration))
    sb_edit_set_drawn (hand->document, configuration, FALSE);
}

/* What becomes of the figures is told when they are there. */
static void
remember (Hand *hand, guint configuration, const char *what)
{
  SbAnalysis *results = sb_document_results (hand->document);
  g_clear_pointer (&hand->before, sb_analysis_unref);
  hand->before = results != NULL ? sb_analysis_ref (results) : NULL;
  g_free (hand->edited);
  hand->edited = g_strdup (sb_bench_configuration (sb_document_bench (hand->document), configuration)->name);
  g_free (hand->what);
  hand->what = g_strdup (what);
}

static const SbConfigurationResult *
result_named (const SbAnalysis *analysis, const char *name)
{
  for (guint c = 0; c < analysis->configurations->len; c++)
    if (g_str_equal (sb_analysis_configuration (analysis, c)->name, name))
      return sb_analysis_configuration (analysis, c);
  return NULL;
}

static void
on_results_changed (SbDocument *document, GtkWidget *view)
{
  Hand *hand = g_object_get_data (G_OBJECT (view), "chart-hand");
  GtkRoot *root = gtk_widget_get_root (view);
  if (hand->before == NULL || !sb_document_results_are_current (document) || !SB_IS_WINDOW (root))
    return;
  g_autoptr (SbAnalysis) before = g_steal_pointer (&hand->before);
  const SbConfigurationResult *old = result_named (before, hand->edited);
  const SbConfigurationResult *new = result_named (sb_document_results (document), hand->edited);
  if (old == NULL || new == NULL)
    return;
  g_autofree char *figures = sb_figures_changed (old, new, sb_document_bench (document)->units, MOST_FIGURES);
  g_autofree char *text = g_strdup_printf ("%s of %s: %s", hand->what, hand->edited, figures);
  sb_window_tell (SB_WINDOW (root), GTK_MESSAGE_INFO, text);
}

static void
move_edge (Hand *hand, guint configuration, SbChartEdge edge, int trial, double to_s)
{
  remember (hand, configuration, edge == SB_EDGE_ONSET ? "Onset moved" : "End of the active window moved");
  if (edge == SB_EDGE_ONSET)
    sb_edit_move_onset (hand->document, configuration, trial, to_s);
  else
    sb_edit_set_active_end (hand->document, configuration, trial, to_s);
}

/* The parameter is a trial, or SB_EVERY_TRIAL. */
static void
edge_here (Hand *hand, SbChartEdge edge, GVariant *parameter)
{
  SbChartSpot spot;
  guint configuration;
  if (sb_chart_view_spot (hand->view, &spot) && find_configuration (hand, spot.configuration, &configuration))
    move_edge (hand, configuration, edge, g_variant_get_int32 (parameter), spot.time_s);
}

static void
onset_here (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  edge_here (user_data, SB_EDGE_ONSET, parameter);
}

static void
end_here (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  edge_here (user_data, SB_EDGE_END, parameter);
}

static void
find_window (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration;
  if (!find_followed (hand, &configuration))
    return;
  remember (hand, configuration, "Onset and end found anew");
  sb_edit_find_window (hand->document, configuration, g_variant_get_int32 (parameter));
}

static void
show_menu (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  Hand *hand = user_data;
  guint configuration, of, callout;
  if (!find_followed (hand, &configuration))
    return;
  SbChartMenu menu = {
    .configuration = sb_bench_configuration (sb_document_bench (hand->document), configuration),
    .on_callout = find_callout (hand, &of, &callout),
  };
  sb_chart_menu_show (hand->view, &menu);
}

static void
on_secondary (GtkGestureClick *gesture, int n_press, double x, double y, Hand *hand)
{
  gtk_widget_grab_focus (GTK_WIDGET (hand->view));
  sb_chart_view_choose_callout_at (hand->view, x, y);
  sb_chart_view_follow_at (hand->view, x, y);
  show_menu (NULL, NULL, hand);
}

static void
on_label_moved (SbChartView *view, guint shown, guint callout, double x, double y, Hand *hand)
{
  guint configuration;
  if (find_configuration (hand, shown, &configuration))
    sb_edit_move_callout (hand->document, configuration, callout, x, y);
}

static void
on_mark_moved (SbChartView *view, guint shown, int edge, double to_s, Hand *hand)
{
  guint configuration;
  if (find_configuration (hand, shown, &configuration))
    move_edge (hand, configuration, (SbChartEdge) edge, SB_EVERY_TRIAL, to_s);
}

static void
on_points_changed (SbChartView *view, Hand *hand)
{
  guint shown[SB_N_CHART_POINTS];
  SbChartPoint points[SB_N_CHART_POINTS];
  SbPlacedPoint placed[SB_N_CHART_POINTS];
  guint n = sb_chart_view_points (view, shown, points);
  for (guint k = 0; k < n; k++)
    if (find_configuration (hand, shown[k], &placed[k].configuration))
      placed[k].point = points[k];
    else
      return;
  sb_edit_set_points (hand->document, placed, n);
}

static void
on_callout_activated (SbChartView *view, guint configuration, guint callout, Hand *hand)
{
  edit_callout (NULL, NULL, hand);
}

static const GActionEntry entries[] = {
  { .name = "callout", .activate = add_callout },
  { .name = "edit-callout", .activate = edit_callout },
  { .name = "delete-callout", .activate = delete_callout },
  { .name = "next-callout", .activate = next_callout },
  { .name = "nudge-callout", .activate = nudge_callout, .parameter_type = "(dd)" },
  { .name = "point", .activate = put_point },
  { .name = "dim", .activate = dim },
  { .name = "solo", .activate = solo },
  { .name = "hide", .activate = hide },
  { .name = "onset", .activate = onset_here, .parameter_type = "i" },
  { .name = "end", .activate = end_here, .parameter_type = "i" },
  { .name = "find-window", .activate = find_window, .parameter_type = "i" },
  { .name = "menu", .activate = show_menu },
};

static void
add_key (GtkEventController *controller, const char *keys, const char *action, GVariant *parameter)
{
  GtkShortcut *shortcut = gtk_shortcut_new (gtk_shortcut_trigger_parse_string (keys), gtk_named_action_new (action));
  gtk_shortcut_set_arguments (shortcut, parameter);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (controller), shortcut);
}

static void
add_keys (SbChartView *view)
{
  static const struct {
    const char *keys, *action;
  } plain[] = {
    { "c", "chart.callout" },
    { "Return", "chart.edit-callout" },
    { "Delete", "chart.delete-callout" },
    { "n", "chart.next-callout" },
    { "m", "chart.point" },
    { "d", "chart.dim" },
    { "s", "chart.solo" },
    { "h", "chart.hide" },
    { "Menu", "chart.menu" },
    { "<Shift>F10", "chart.menu" },
  };
  static const struct {
    const char *keys;
    double x, y;
  } nudges[] = {
    { "<Control><Shift>Left", -LABEL_STEP, 0 },
    { "<Control><Shift>Right", LABEL_STEP, 0 },
    { "<Control><Shift>Up", 0, -LABEL_STEP },
    { "<Control><Shift>Down", 0, LABEL_STEP },
  };
  GtkEventController *controller = gtk_shortcut_controller_new ();
  for (guint i = 0; i < G_N_ELEMENTS (plain); i++)
    add_key (controller, plain[i].keys, plain[i].action, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (nudges); i++)
    add_key (controller, nudges[i].keys, "chart.nudge-callout", g_variant_new ("(dd)", nudges[i].x, nudges[i].y));
  add_key (controller, "o", "chart.onset", g_variant_new_int32 (SB_EVERY_TRIAL));
  add_key (controller, "e", "chart.end", g_variant_new_int32 (SB_EVERY_TRIAL));
  add_key (controller, "f", "chart.find-window", g_variant_new_int32 (SB_EVERY_TRIAL));
  gtk_widget_add_controller (GTK_WIDGET (view), controller);
}

void
sb_chart_hand_attach (SbChartView *view, SbDocument *document)
{
  Hand *hand = g_new0 (Hand, 1);
  hand->view = view;
  hand->document = document;
  g_object_set_data_full (G_OBJECT (view), "chart-hand", hand, hand_free);
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (group), entries, G_N_ELEMENTS (entries), hand);
  gtk_widget_insert_action_group (GTK_WIDGET (view), "chart", G_ACTION_GROUP (group));
  add_keys (view);
  g_signal_connect (view, "label-moved", G_CALLBACK (on_label_moved), hand);
  g_signal_connect (view, "mark-moved", G_CALLBACK (on_mark_moved), hand);
  g_signal_connect (view, "points-changed", G_CALLBACK (on_points_changed), hand);
  g_signal_connect (view, "callout-activated", G_CALLBACK (on_callout_activated), hand);
  g_signal_connect_object (document, "results-changed", G_CALLBACK (on_results_changed), view, 0);
  GtkGesture *secondary = gtk_gesture_click_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (secondary), GDK_BUTTON_SECONDARY);
  g_signal_connect (secondary, "pressed", G_CALLBACK (on_secondary), hand);
  gtk_widget_add_controller (GTK_WIDGET (view), GTK_EVENT_CONTROLLER (secondary));
}
