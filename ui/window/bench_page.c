/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_page.h"

#include "chart_hand.h"
#include "chart_tools.h"
#include "chart_view.h"
#include "configuration_list.h"
#include "edits.h"
#include "notices_view.h"
#include "text_scale.h"
#include "rise_range.h"
#include "time_bar.h"
#include "view_edits.h"

#define LIST_WIDTH_PX     252 /* this and the others at the usual size of text */
#define MEASURES_MIN_PX   300
#define NOTICES_HEIGHT_PX 112
#define CENTRE_MIN_PX     496 /* what the controls above the chart take */
#define TABLE_ROOM_FOR    3   /* configurations; what is beyond is scrolled to */

struct _SbBenchPage {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  GtkWidget *list, *tools, *chart, *time_bar, *figures, *notices;
  GtkWidget *divider; /* between chart and measures */
  int first_width_px;
  int evidence;      /* the measure marked on the chart; -1: none */
  guint tick;        /* waits for the frame with the curves */
  guint load;        /* that the steps since the last frame have brought */
  guint step_source; /* then brings the other parts up, a piece at a time */
};

G_DEFINE_FINAL_TYPE (SbBenchPage, sb_bench_page, GTK_TYPE_BOX)

SbChartModel *
sb_bench_page_chart (SbBenchPage *page)
{
  SbAnalysis *results = sb_document_results (page->document);
  return results != NULL ? sb_chart_model_new (results, page->evidence) : NULL;
}

static void
update_chart (SbBenchPage *page)
{
  SbChartModel *model = sb_bench_page_chart (page);
  if (model != NULL) /* the list beside it has all names */
    sb_chart_model_let_legend_give_way (model);
  sb_chart_view_set_model (SB_CHART_VIEW (page->chart), model, sb_document_bench (page->document));
}

static void follow (SbBenchPage *page);

/* What the toolkit has to lay out for a step of the list, the figures, the notices with their long texts, and how much
 * of that a frame may bring: what comes at once is laid out at once, while no key is heard. */
#define LIST_LOAD    1
#define FIGURES_LOAD 2
#define NOTICES_LOAD 4
#define FRAME_LOAD   8

/* One piece of the parts that follow the curves: its load; 0 when all are up with the results. */
static guint
take_step (SbBenchPage *page)
{
  if (sb_configuration_list_step (SB_CONFIGURATION_LIST (page->list)))
    return LIST_LOAD;
  if (sb_figures_pane_step (SB_FIGURES_PANE (page->figures)))
    return FIGURES_LOAD;
  return sb_notices_view_step (SB_NOTICES_VIEW (page->notices)) ? NOTICES_LOAD : 0;
}

static gboolean
on_step_due (gpointer user_data)
{
  SbBenchPage *page = user_data;
  guint load = take_step (page);
  page->load += load;
  if (load > 0 && (page->load < FRAME_LOAD || !gtk_widget_get_mapped (GTK_WIDGET (page))))
    return G_SOURCE_CONTINUE;
  page->step_source = 0;
  if (load > 0)
    follow (page); /* the rest with the next frame */
  return G_SOURCE_REMOVE;
}

static void
begin_steps (SbBenchPage *page)
{
  if (page->step_source == 0)
    page->step_source = g_idle_add (on_step_due, page);
}

/* The frame that is begun here paints the curves before anything idle is done. */
static gboolean
on_frame (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  SbBenchPage *page = SB_BENCH_PAGE (widget);
  page->tick = 0;
  page->load = 0;
  begin_steps (page);
  return G_SOURCE_REMOVE;
}

/* The curves come first: the parts beside them are many widgets. */
static void
follow (SbBenchPage *page)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (page)))
    begin_steps (page);
  else if (page->tick == 0)
    page->tick = gtk_widget_add_tick_callback (GTK_WIDGET (page), on_frame, NULL, NULL);
}

/* Chart and table side by side from the first frame on, so that nothing jumps when the numbers come. */
static void
place_divider (SbBenchPage *page)
{
  const SbBench *bench = sb_document_bench (page->document);
  guint n_drawn = 0;
  for (guint i = 0; i < bench->configurations->len; i++)
    n_drawn += sb_bench_configuration (bench, i)->drawn ? 1 : 0;
  int width = gtk_widget_get_width (GTK_WIDGET (page));
  int right = (width > 0 ? width : page->first_width_px) - sb_text_scale_px (GTK_WIDGET (page), LIST_WIDTH_PX);
  int measures = sb_measures_view_width_for (sb_figures_pane_measures (SB_FIGURES_PANE (page->figures)),
                                             CLAMP (n_drawn, 2, TABLE_ROOM_FOR));
  gtk_paned_set_position (GTK_PANED (page->divider), MAX (CENTRE_MIN_PX, right - measures));
}

void
sb_bench_page_expect_width (SbBenchPage *page, int width_px)
{
  if (width_px <= 0 || width_px == page->first_width_px)
    return;
  page->first_width_px = width_px;
  place_divider (page);
}

static void
on_bench_changed (SbDocument *document, SbBenchPage *page)
{
  sb_chart_tools_update (SB_CHART_TOOLS (page->tools));
  sb_configuration_list_update (SB_CONFIGURATION_LIST (page->list));
  if (sb_document_results (document) == NULL) {
    update_chart (page);
    sb_figures_pane_update (SB_FIGURES_PANE (page->figures));
    sb_notices_view_update (SB_NOTICES_VIEW (page->notices));
    place_divider (page);
  }
  follow (page);
}

static void
on_results_changed (SbDocument *document, SbBenchPage *page)
{
  update_chart (page);
  sb_chart_tools_update (SB_CHART_TOOLS (page->tools)); /* the settings to sweep over */
  sb_configuration_list_update (SB_CONFIGURATION_LIST (page->list));
  sb_figures_pane_update (SB_FIGURES_PANE (page->figures));
  sb_notices_view_update (SB_NOTICES_VIEW (page->notices));
  follow (page);
}

static void
on_news_changed (SbDocument *document, SbBenchPage *page)
{
  sb_notices_view_update (SB_NOTICES_VIEW (page->notices));
  follow (page);
}

static void
on_measure_chosen (SbMeasuresView *measures, int measure, SbBenchPage *page)
{
  page->evidence = measure;
  if (measure >= 0 && sb_view_is_of_points (sb_document_bench (page->document)->chart.view))
    sb_edit_set_measure (page->document, (SbMeasureId) measure);
  update_chart (page);
}

void
sb_bench_page_show_view (SbBenchPage *page, SbView view)
{
  sb_edit_set_chart_view (page->document, view, page->evidence);
}

static void
on_go_to (SbNoticesView *notices, int configuration, int trial, int measure, SbBenchPage *page)
{
  if (measure >= 0) {
    sb_figures_pane_show_measures (SB_FIGURES_PANE (page->figures));
    sb_measures_view_choose (sb_figures_pane_measures (SB_FIGURES_PANE (page->figures)), measure);
  }
  if (configuration >= 0)
    sb_configuration_list_select (SB_CONFIGURATION_LIST (page->list), (guint) configuration, trial);
}

static void
on_view_chosen (SbChartView *chart, double from_s, double to_s, SbBenchPage *page)
{
  sb_edit_set_view (page->document, from_s, to_s);
}

/* What the verdict on a setting rests on before all. */
static void
on_show_setting (SbJudgementsView *judgements, const char *setting, SbBenchPage *page)
{
  sb_edit_show_sweep (page->document, setting, SB_MEASURE_MEAN_TORQUE_SLOPE);
}

SbFiguresPane *
sb_bench_page_figures (SbBenchPage *page)
{
  return SB_FIGURES_PANE (page->figures);
}

void
sb_bench_page_fit (SbBenchPage *page)
{
  sb_chart_view_fit (SB_CHART_VIEW (page->chart));
}

gboolean
sb_bench_page_fit_rise (SbBenchPage *page)
{
  SbAnalysis *results = sb_document_results (page->document);
  SbTimeRange range;
  if (results == NULL || !sb_rise_range (results, &range))
    return FALSE;
  return sb_chart_view_set_range (SB_CHART_VIEW (page->chart), range);
}

void
sb_bench_page_zoom (SbBenchPage *page, double factor)
{
  sb_chart_view_zoom (SB_CHART_VIEW (page->chart), factor);
}

void
sb_bench_page_go (SbBenchPage *page, int direction)
{
  sb_chart_view_go (SB_CHART_VIEW (page->chart), direction);
}

void
sb_bench_page_type_time (SbBenchPage *page)
{
  if (gtk_widget_get_visible (page->time_bar))
    sb_time_bar_type (SB_TIME_BAR (page->time_bar));
}

void
sb_bench_page_rename (SbBenchPage *page)
{
  sb_configuration_list_rename_selected (SB_CONFIGURATION_LIST (page->list));
}

const char *
sb_bench_page_log (SbBenchPage *page)
{
  return sb_configuration_list_log (SB_CONFIGURATION_LIST (page->list));
}

static GtkWidget *
make_centre (SbBenchPage *page)
{
  page->tools = sb_chart_tools_new (page->document);
  page->chart = sb_chart_view_new ();
  gtk_widget_set_vexpand (page->chart, TRUE);
  gtk_widget_set_hexpand (page->chart, TRUE);
  g_signal_connect (page->chart, "view-chosen", G_CALLBACK (on_view_chosen), page);
  sb_chart_hand_attach (SB_CHART_VIEW (page->chart), page->document);
  page->time_bar = sb_time_bar_new (SB_CHART_VIEW (page->chart));
  GtkWidget *centre = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (centre, "centre");
  gtk_box_append (GTK_BOX (centre), page->tools);
  gtk_box_append (GTK_BOX (centre), page->chart);
  gtk_box_append (GTK_BOX (centre), page->time_bar);
  return centre;
}

static GtkWidget *
make_paned (const char *name, GtkOrientation orientation, GtkWidget *start, GtkWidget *end, gboolean grow_start,
            gboolean grow_end)
{
  GtkWidget *paned = gtk_paned_new (orientation);
  gtk_accessible_update_property (GTK_ACCESSIBLE (paned), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_paned_set_start_child (GTK_PANED (paned), start);
  gtk_paned_set_end_child (GTK_PANED (paned), end);
  gtk_paned_set_resize_start_child (GTK_PANED (paned), grow_start);
  gtk_paned_set_resize_end_child (GTK_PANED (paned), grow_end);
  gtk_paned_set_shrink_start_child (GTK_PANED (paned), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (paned), FALSE);
  return paned;
}

static void
sb_bench_page_dispose (GObject *object)
{
  SbBenchPage *page = SB_BENCH_PAGE (object);
  g_clear_handle_id (&page->step_source, g_source_remove);
  G_OBJECT_CLASS (sb_bench_page_parent_class)->dispose (object);
}

static void
sb_bench_page_class_init (SbBenchPageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_bench_page_dispose;
}

static void
sb_bench_page_init (SbBenchPage *page)
{
  page->evidence = -1;
}

static void
assemble (SbBenchPage *page)
{
  page->list = sb_configuration_list_new (page->document);
  gtk_widget_set_size_request (page->list, sb_text_scale_px (GTK_WIDGET (page), LIST_WIDTH_PX), -1);
  page->figures = sb_figures_pane_new (page->document);
  gtk_widget_set_size_request (page->figures, MEASURES_MIN_PX, -1);
  g_signal_connect (sb_figures_pane_measures (SB_FIGURES_PANE (page->figures)), "chosen",
                    G_CALLBACK (on_measure_chosen), page);
  g_signal_connect (sb_figures_pane_judgements (SB_FIGURES_PANE (page->figures)), "show-setting",
                    G_CALLBACK (on_show_setting), page);
  page->notices = sb_notices_view_new (page->document);
  gtk_widget_set_size_request (page->notices, -1, sb_text_scale_px (GTK_WIDGET (page), NOTICES_HEIGHT_PX));
  g_signal_connect (page->notices, "go-to", G_CALLBACK (on_go_to), page);

  GtkWidget *centre
      = make_paned ("Chart and notices", GTK_ORIENTATION_VERTICAL, make_centre (page), page->notices, TRUE, FALSE);
  page->divider = make_paned ("Chart and figures", GTK_ORIENTATION_HORIZONTAL, centre, page->figures, TRUE, TRUE);
  GtkWidget *left = make_paned ("List and chart", GTK_ORIENTATION_HORIZONTAL, page->list, page->divider, FALSE, TRUE);
  gtk_widget_set_hexpand (left, TRUE);
  gtk_box_append (GTK_BOX (page), left);
}

GtkWidget *
sb_bench_page_new (SbDocument *document, int width_px)
{
  SbBenchPage *page = g_object_new (SB_TYPE_BENCH_PAGE, NULL);
  page->document = document;
  page->first_width_px = width_px;
  assemble (page);
  place_divider (page);
  update_chart (page);
  follow (page);
  g_signal_connect_object (document, "bench-changed", G_CALLBACK (on_bench_changed), page, 0);
  g_signal_connect_object (document, "results-changed", G_CALLBACK (on_results_changed), page, 0);
  g_signal_connect_object (document, "news-changed", G_CALLBACK (on_news_changed), page, 0);
  return GTK_WIDGET (page);
}
