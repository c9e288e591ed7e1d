/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_fixture.h"

#include "paint.h"

#define PT_PER_MM (72 / 25.4)

static const SampleConfiguration five[] = {
  { .name = "Bracken slope 0.3",
    .device = "Bracken",
    .n_trials = 3,
    .level_nm = 10,
    .spread_nm = 0.4,
    .setting = "0.3 N·m/ms" },
  { .name = "Bracken slope 2.0", .n_trials = 3, .level_nm = 12, .spread_nm = 0.1, .setting = "2.0 N·m/ms" },
  { .name = "Teasel slope 0.3", .n_trials = 2, .level_nm = 11, .spread_nm = 0.2, .setting = "0.3 N·m/ms" },
  { .name = "Teasel slope 2.0", .n_trials = 2, .level_nm = 13, .spread_nm = 0.2, .setting = "2.0 N·m/ms" },
  { .name = "A name that somebody made rather long to say what was done", .n_trials = 1, .level_nm = 9 },
};

typedef struct {
  ChartFixture chart;
  cairo_surface_t *surface;
  cairo_t *cr;
  SbChartLayout layout;
} Painting;

static int
set_up (void **state)
{
  void *chart;
  chart_fixture_setup (&chart);
  Painting *painting = g_new0 (Painting, 1);
  painting->chart = *(ChartFixture *) chart;
  g_free (chart);
  *state = painting;
  return 0;
}

static int
tear_down (void **state)
{
  Painting *painting = *state;
  g_clear_pointer (&painting->cr, cairo_destroy);
  g_clear_pointer (&painting->surface, cairo_surface_destroy);
  void *chart = g_memdup2 (&painting->chart, sizeof painting->chart);
  g_free (painting);
  return chart_fixture_teardown (&chart);
}

/* Paints at `scale` pixels per pt and notes where text went. */
static void
paint (Painting *painting, double width_pt, double height_pt, double font_pt, double scale)
{
  g_clear_pointer (&painting->cr, cairo_destroy);
  g_clear_pointer (&painting->surface, cairo_surface_destroy);
  g_clear_pointer (&painting->chart.boxes, g_array_unref);
  painting->chart.boxes = g_array_new (FALSE, FALSE, sizeof (SbRect));
  painting->surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (width_pt * scale), (int) ceil (height_pt * scale));
  painting->cr = cairo_create (painting->surface);
  cairo_scale (painting->cr, scale, scale);
  sb_chart_paint_noting (painting->chart.model, painting->cr, width_pt, height_pt, font_pt, &painting->layout,
                         painting->chart.boxes);
  assert_int_equal (cairo_status (painting->cr), CAIRO_STATUS_SUCCESS);
  cairo_surface_flush (painting->surface);
}

static guint32
pixel (const Painting *painting, int x, int y)
{
  const guchar *data = cairo_image_surface_get_data (painting->surface);
  guint32 value;
  memcpy (&value, data + y * cairo_image_surface_get_stride (painting->surface) + 4 * x, sizeof value);
  return value & 0xffffff;
}

/* Overlap of more than a hair; the empty space above and below letters within their line counts as text. */
static gboolean
overlaps (const SbRect *a, const SbRect *b)
{
  double hair = 0.05;
  return a->x + a->width > b->x + hair && b->x + b->width > a->x + hair && a->y + a->height > b->y + hair
         && b->y + b->height > a->y + hair;
}

static void
set_look (Painting *painting, SbLegendPlace legend, gboolean no_foot)
{
  SbPaper paper = sb_paper_preset (0)->paper;
  paper.legend = legend;
  paper.no_foot = no_foot;
  sb_chart_model_set_paper (painting->chart.model, &paper);
}

static void
check_text (const Painting *painting, double width_pt, double height_pt)
{
  const GArray *boxes = painting->chart.boxes;
  for (guint i = 0; i < boxes->len; i++) {
    const SbRect *box = &g_array_index (boxes, SbRect, i);
    if (box->x < 0 || box->y < 0 || box->x + box->width > width_pt || box->y + box->height > height_pt)
      fail_msg ("%g x %g pt: text %u at %g, %g, %g x %g leaves the page", width_pt, height_pt, i, box->x, box->y,
                box->width, box->height);
    for (guint k = i + 1; k < boxes->len; k++)
      if (overlaps (box, &g_array_index (boxes, SbRect, k)))
        fail_msg ("%g x %g pt: texts %u and %u overlap", width_pt, height_pt, i, k);
    for (gsize p = 0; p < painting->layout.n_plots; p++)
      if (overlaps (box, &painting->layout.plot[p]))
        fail_msg ("%g x %g pt: text %u lies in plot %zu", width_pt, height_pt, i, (size_t) p);
  }
}

/* From a narrow column to a frame for a slide, one to four panels, with one and with five configurations. */
static void
text_stays_on_the_page_and_apart_at_every_size (void **state)
{
  Painting *painting = *state;
  static const struct {
    double width_mm, height_mm, font_pt;
  } sizes[]
      = { { 85, 60, 8 },  { 85, 120, 7 }, { 175, 120, 8 }, { 175, 60, 10 }, { 338.7, 190.5, 16 }, { 339, 191, 8 },
          { 60, 200, 8 }, { 300, 40, 8 }, { 30, 30, 8 },   { 10, 10, 8 },   { 10, 2000, 8 },      { 120, 90, 20 } };
  guint masks[] = { 1u << SB_PANEL_TORQUE, 1u << SB_PANEL_TORQUE | 1u << SB_PANEL_VELOCITY,
                    1u << SB_PANEL_TORQUE | 1u << SB_PANEL_VELOCITY | 1u << SB_PANEL_COMMAND };
  for (gsize m = 0; m < G_N_ELEMENTS (masks); m++)
    for (gsize n = 1; n <= 5; n += 4) {
      ChartFixture *chart = &painting->chart;
      g_clear_pointer (&chart->model, sb_chart_model_unref);
      g_clear_pointer (&chart->analysis, sb_analysis_unref);
      chart->bench = chart->bench != NULL ? chart->bench : sb_bench_new ();
      chart->bench->chart.panels = masks[m];
      g_free (chart->bench->chart.title);
      chart->bench->chart.title
          = g_strdup (n == 5 ? "Slope limits of two drives, each at a low and a high setting" : "");
      make_model (chart, five, n);
      for (gsize s = 0; s < G_N_ELEMENTS (sizes) * SB_N_LEGEND_PLACES; s++) {
        gsize at = s / SB_N_LEGEND_PLACES;
        double width = sizes[at].width_mm * PT_PER_MM, height = sizes[at].height_mm * PT_PER_MM;
        set_look (painting, s % SB_N_LEGEND_PLACES, s % 2 == 1);
        paint (painting, width, height, sizes[at].font_pt, 0.5);
        check_text (painting, width, height);
      }
    }
}

/* A spread and a sweep of one, three and eight measures. */
static void
text_of_points_stays_on_the_page_and_apart (void **state)
{
  Painting *painting = *state;
  static const double sizes_mm[][2]
      = { { 85, 60 }, { 85, 120 }, { 175, 120 }, { 175, 60 }, { 60, 200 }, { 339, 191 }, { 120, 90 }, { 30, 30 } };
  static const guint measures[] = { 1, 0x49, 0x7f8 };
  static const double figures[][3]
      = { { 300, 310, 290 }, { 1990, 2000, 2050 }, { 280, 330, 0 }, { 2500, 2100, 0 }, { 7 } };
  for (int view = SB_VIEW_SPREAD; view <= SB_VIEW_SWEEP; view++)
    for (gsize m = 0; m < G_N_ELEMENTS (measures); m++) {
      ChartFixture *chart = &painting->chart;
      g_clear_pointer (&chart->model, sb_chart_model_unref);
      g_clear_pointer (&chart->analysis, sb_analysis_unref);
      chart->bench = chart->bench != NULL ? chart->bench : sb_bench_new ();
      chart->bench->chart.view = (SbView) view;
      chart->bench->chart.measures = measures[m];
      make_analysis (chart, five, G_N_ELEMENTS (five));
      for (guint c = 0; c < G_N_ELEMENTS (five); c++)
        for (int id = 0; id < SB_N_MEASURES; id++)
          sample_set_figures (chart->analysis, c, (SbMeasureId) id, figures[c]);
      chart->model = sb_chart_model_new (chart->analysis, -1);
      for (gsize s = 0; s < G_N_ELEMENTS (sizes_mm); s++) {
        double width = sizes_mm[s][0] * PT_PER_MM, height = sizes_mm[s][1] * PT_PER_MM;
        paint (painting, width, height, 8, 0.5);
        check_text (painting, width, height);
      }
    }
}

/* Zoomed in until numbers get long, and out until they get large. */
static void
numbers_stay_apart_at_every_zoom (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 2);
  SbChartModel *model = painting->chart.model;
  SbChartPanel *torque = g_ptr_array_index (model->panels, 1);
  for (int power = -11; power <= 9; power++) {
    double span = pow (10, power);
    model->x_min = 0.123456789;
    model->x_max = model->x_min + span;
    torque->y_min = -12.3456789;
    torque->y_max = torque->y_min + span;
    const double widths_mm[] = { 60, 85, 175 };
    for (gsize w = 0; w < G_N_ELEMENTS (widths_mm); w++) {
      paint (painting, widths_mm[w] * PT_PER_MM, 80 * PT_PER_MM, 8, 0.5);
      check_text (painting, widths_mm[w] * PT_PER_MM, 80 * PT_PER_MM);
    }
  }
}

/* The difference of the ends is beyond the doubles: no tick can be put there, so the axes run from 0 to 1. */
static void
range_that_no_double_spans_is_laid_out_all_the_same (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 2);
  SbChartModel *model = painting->chart.model;
  SbChartPanel *torque = g_ptr_array_index (model->panels, 1);
  model->x_min = torque->y_min = -1e308;
  model->x_max = torque->y_max = 1e308;
  paint (painting, 400, 300, 8, 0.5);
  assert_close (painting->layout.x_min, 0, 0);
  assert_close (painting->layout.x_max, 1, 0);
  assert_close (painting->layout.y_max[1], 1, 0);
}

static void
panels_are_equal_aligned_and_apart (void **state)
{
  Painting *painting = *state;
  painting->chart.bench->chart.panels = 1u << SB_PANEL_TORQUE | 1u << SB_PANEL_VELOCITY | 1u << SB_PANEL_COMMAND;
  make_model (&painting->chart, five, 5);
  paint (painting, 500, 340, 8, 1);
  assert_int_equal (painting->layout.n_plots, 3);
  const SbRect *plot = painting->layout.plot;
  for (int i = 1; i < 3; i++) {
    assert_close (plot[i].height, plot[0].height, 1e-9);
    assert_close (plot[i].width, plot[0].width, 1e-9);
    assert_close (plot[i].x, plot[0].x, 1e-9);
    assert_true (plot[i].y > plot[i - 1].y + plot[i - 1].height);
  }
  assert_true (plot[2].width > 0.8 * 500);
}

/* Dark (not the white ground, not the pale grid): ink of axis or curve. */
static gboolean
is_ink (guint32 colour)
{
  return (colour & 0xff) + (colour >> 8 & 0xff) + (colour >> 16) < 3 * 190;
}

/* A curve y = 10 t over 0..1 s, in one colour and without a band, is found by looking for its pixels column by column.
 */
static void
curve_lies_where_the_layout_says (void **state)
{
  Painting *painting = *state;
  gsize n = 100001;
  double *y = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    y[i] = 10.0 * (double) i / (double) (n - 1);
  painting->chart.analysis = sample_analysis_of_curve (y, n, 0, 1e-5, 1);
  painting->chart.model = sb_chart_model_new (painting->chart.analysis, -1);
  double scale = 2;
  paint (painting, 400, 300, 8, scale);
  for (int tenth = 0; tenth < 10; tenth++) {
    double t = 0.05 + 0.1 * tenth;
    int column = (int) (sb_chart_layout_x_of (&painting->layout, t) * scale);
    double expected = sb_chart_layout_y_of (&painting->layout, 0, 10 * t) * scale;
    const SbRect *plot = &painting->layout.plot[0];
    double sum = 0, weight = 0;
    for (int row = (int) (plot->y * scale) + 2; row < (int) ((plot->y + plot->height) * scale) - 4; row++)
      if (is_ink (pixel (painting, column, row))) {
        sum += row + 0.5;
        weight++;
      }
    /* A line of 1.5 pt is 3 pixels across. */
    assert_true (weight >= 2 && weight <= 8);
    assert_close (sum / weight, expected, 1.5);
  }
}

/* The same with values missing from 0.4 s to 0.6 s: the columns between hold no ink. */
static void
gap_in_a_curve_stays_white (void **state)
{
  Painting *painting = *state;
  gsize n = 100001;
  double *y = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    y[i] = i > 40000 && i < 60000 ? (double) NAN : 5 + 1e-5 * (double) i;
  painting->chart.analysis = sample_analysis_of_curve (y, n, 0, 1e-5, 1);
  painting->chart.model = sb_chart_model_new (painting->chart.analysis, -1);
  paint (painting, 400, 300, 8, 1);
  const SbRect *plot = &painting->layout.plot[0];
  int from = (int) sb_chart_layout_x_of (&painting->layout, 0.4) + 3;
  int to = (int) sb_chart_layout_x_of (&painting->layout, 0.6) - 3;
  for (int column = from; column < to; column++)
    for (int row = (int) plot->y + 2; row < (int) (plot->y + plot->height) - 2; row++)
      assert_false (is_ink (pixel (painting, column, row)));
}

/* Noise of -1 to 1 fills each pixel column: between -0.5 and 0.5 there is no place without ink, though the style is a
 * dashed one. */
static void
dense_noise_is_painted_without_specks (void **state)
{
  Painting *painting = *state;
  gsize n = 400000;
  double *y = g_new (double, n);
  guint32 random = 1;
  for (gsize i = 0; i < n; i++) {
    random = random * 1664525u + 1013904223u;
    y[i] = (double) random / 2147483648.0 - 1;
  }
  painting->chart.analysis = sample_analysis_of_curve (y, n, 0, 1e-6, 1);
  ((SbConfigurationResult *) g_ptr_array_index (painting->chart.analysis->configurations, 0))->style = 1;
  painting->chart.model = sb_chart_model_new (painting->chart.analysis, -1);
  paint (painting, 400, 300, 8, 1);
  const SbChartLayout *layout = &painting->layout;
  for (int column = (int) sb_chart_layout_x_of (layout, 0.01); column < (int) sb_chart_layout_x_of (layout, 0.39);
       column++)
    for (int row = (int) sb_chart_layout_y_of (layout, 0, 0.5); row < (int) sb_chart_layout_y_of (layout, 0, -0.5);
         row++)
      assert_true (is_ink (pixel (painting, column, row)));
}

/* A single value among missing ones still leaves a dot. */
static void
lone_point_leaves_a_dot (void **state)
{
  Painting *painting = *state;
  double *y = g_new (double, 101);
  for (gsize i = 0; i < 101; i++)
    y[i] = i == 50 ? 5 : (double) NAN;
  painting->chart.analysis = sample_analysis_of_curve (y, 101, 0, 0.01, 1);
  painting->chart.model = sb_chart_model_new (painting->chart.analysis, -1);
  paint (painting, 400, 300, 8, 2);
  int x = (int) (2 * sb_chart_layout_x_of (&painting->layout, 0.5));
  int at = (int) (2 * sb_chart_layout_y_of (&painting->layout, 0, 5));
  assert_true (is_ink (pixel (painting, x, at)));
}

static void
nothing_is_painted_over_the_plot_s_edges (void **state)
{
  Painting *painting = *state;
  gsize n = 1001;
  double *y = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    y[i] = i % 2 == 0 ? 1e12 : -1e12;
  painting->chart.analysis = sample_analysis_of_curve (y, n, 0, 1e-3, 1);
  painting->chart.model = sb_chart_model_new (painting->chart.analysis, -1);
  SbChartPanel *panel = g_ptr_array_index (painting->chart.model->panels, 0);
  panel->y_min = -1;
  panel->y_max = 1;
  paint (painting, 400, 300, 8, 1);
  const SbRect *plot = &painting->layout.plot[0];
  for (int column = (int) plot->x + 20; column < (int) (plot->x + plot->width); column++)
    assert_false (is_ink (pixel (painting, column, (int) plot->y - 2)));
}

static void
layout_turns_points_into_times_and_back (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 2);
  paint (painting, 500, 340, 8, 1);
  const SbChartLayout *layout = &painting->layout;
  assert_close (sb_chart_layout_x_of (layout, layout->x_min), layout->plot[0].x, 1e-9);
  assert_close (sb_chart_layout_time_at (layout, layout->plot[0].x + layout->plot[0].width), layout->x_max, 1e-12);
  assert_close (sb_chart_layout_time_at (layout, sb_chart_layout_x_of (layout, 0.123)), 0.123, 1e-12);
  assert_close (sb_chart_layout_y_of (layout, 1, layout->y_max[1]), layout->plot[1].y, 1e-9);
}

static void
empty_model_paints_a_white_page_without_plots (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, NULL, 0);
  paint (painting, 100, 80, 8, 1);
  assert_int_equal (painting->layout.n_plots, 0);
  for (int y = 0; y < 80; y++)
    for (int x = 0; x < 100; x++)
      assert_int_equal (pixel (painting, x, y), 0xffffff);
}

/* WCAG 2.1: relative luminance, and a contrast of 3 : 1 for graphics (1.4.11). */
static double
linear (double channel)
{
  return channel <= 0.03928 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static void
every_style_is_seen_on_white_and_is_one_of_its_kind (void **state)
{
  for (guint i = 0; i < SB_N_STYLES; i++) {
    const SbStyle *style = sb_style_get (i);
    double luminance = 0.2126 * linear (style->colour.red) + 0.7152 * linear (style->colour.green)
                       + 0.0722 * linear (style->colour.blue);
    assert_true (1.05 / (luminance + 0.05) >= 3);
    for (guint k = i + 1; k < SB_N_STYLES; k++)
      assert_string_not_equal (style->name, sb_style_get (k)->name);
    assert_ptr_equal (style, sb_style_get (i + SB_N_STYLES));
  }
}

/* In grey print the first seven are told apart by their dashes alone. */
static void
first_seven_styles_have_seven_dashes (void **state)
{
  for (guint i = 0; i < 7; i++)
    for (guint k = i + 1; k < 7; k++)
      assert_ptr_not_equal (sb_style_get (i)->dash, sb_style_get (k)->dash);
}

#define TEST(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

/* Forty names are as high as most of the page; those that give way leave three quarters of the room to the panels. */
static void
a_legend_of_many_names_gives_way_where_it_may (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 5);
  double width = 120 * PT_PER_MM, height = 100 * PT_PER_MM;
  for (int i = 5; i < 40; i++) {
    SbLegendEntry entry = { .configuration = 1, .style = 1, .series = -1 };
    entry.text = g_strdup_printf ("Configuration number %d", i);
    g_array_append_val (painting->chart.model->legend, entry);
  }
  set_look (painting, SB_LEGEND_ABOVE, TRUE);
  paint (painting, width, height, 8, 1);
  guint n_texts = painting->chart.boxes->len;
  assert_true (painting->layout.plot[0].y > 0.4 * height);
  sb_chart_model_let_legend_give_way (painting->chart.model);
  paint (painting, width, height, 8, 1);
  assert_true (painting->layout.plot[0].y < 0.3 * height); /* with the gap to the panels */
  assert_true (painting->chart.boxes->len < n_texts);
  check_text (painting, width, height);
}

/* Texts that end above the first panel: of a chart without title and caption, the entries of its legend. */
static guint
n_texts_above (const Painting *painting)
{
  guint n = 0;
  for (guint i = 0; i < painting->chart.boxes->len; i++) {
    const SbRect *box = &g_array_index (painting->chart.boxes, SbRect, i);
    n += box->y + box->height < painting->layout.plot[0].y ? 1 : 0;
  }
  return n;
}

/* Settings, which make entries too wide for a second column, go before any name does. */
static void
a_legend_that_gives_way_goes_without_settings_before_names (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 5);
  double width = 120 * PT_PER_MM, height = 100 * PT_PER_MM;
  GArray *legend = painting->chart.model->legend;
  for (int i = 0; i < 9; i++) {
    SbLegendEntry entry = { .configuration = 1, .style = 1, .series = -1 };
    entry.text = g_strdup_printf ("Number %d (n = 5), torque slope %d N·m/ms, inertia high", i, i);
    entry.count_at = strlen ("Number 0 ");
    entry.count_end = strlen ("Number 0 (n = 5)");
    g_array_append_val (legend, entry);
  }
  g_array_remove_range (legend, 0, legend->len - 9); /* whose texts are freed by nobody */
  set_look (painting, SB_LEGEND_ABOVE, TRUE);
  paint (painting, width, height, 8, 1);
  double top = painting->layout.plot[0].y;
  assert_int_equal (n_texts_above (painting), 9);
  sb_chart_model_let_legend_give_way (painting->chart.model);
  paint (painting, width, height, 8, 1);
  assert_int_equal (n_texts_above (painting), 9);
  assert_true (painting->layout.plot[0].y < top);
  check_text (painting, width, height);
}

/* Without a title the entries of the legend are the first texts, and the foot line is the last. */
static void
legend_and_foot_line_are_where_the_paper_has_them (void **state)
{
  Painting *painting = *state;
  make_model (&painting->chart, five, 5);
  guint n_texts[SB_N_LEGEND_PLACES];
  for (SbLegendPlace place = 0; place < SB_N_LEGEND_PLACES; place++) {
    set_look (painting, place, FALSE);
    paint (painting, 175 * PT_PER_MM, 120 * PT_PER_MM, 8, 1);
    n_texts[place] = painting->chart.boxes->len;
    const SbRect *first = &painting->layout.plot[0], *last = &painting->layout.plot[painting->layout.n_plots - 1];
    for (guint i = 0; i < 5 && place != SB_LEGEND_NONE; i++) {
      const SbRect *entry = &g_array_index (painting->chart.boxes, SbRect, i);
      assert_true (place != SB_LEGEND_ABOVE || entry->y + entry->height <= first->y);
      assert_true (place != SB_LEGEND_BELOW || entry->y >= last->y + last->height);
      assert_true (place != SB_LEGEND_RIGHT || entry->x >= first->x + first->width);
    }
  }
  assert_int_equal (n_texts[SB_LEGEND_BELOW], n_texts[SB_LEGEND_ABOVE]);
  set_look (painting, SB_LEGEND_ABOVE, FALSE);
  paint (painting, 175 * PT_PER_MM, 120 * PT_PER_MM, 8, 1);
  const SbRect *foot = &g_array_index (painting->chart.boxes, SbRect, n_texts[SB_LEGEND_ABOVE] - 1);
  assert_true (foot->y > painting->layout.plot[painting->layout.n_plots - 1].y);
  double before = painting->layout.plot[0].height;
  set_look (painting, SB_LEGEND_NONE, FALSE);
  paint (painting, 175 * PT_PER_MM, 120 * PT_PER_MM, 8, 1);
  assert_true (painting->layout.plot[0].height > before);
  before = painting->layout.plot[0].height;
  set_look (painting, SB_LEGEND_NONE, TRUE);
  paint (painting, 175 * PT_PER_MM, 120 * PT_PER_MM, 8, 1);
  assert_true (painting->layout.plot[0].height > before);
}

/* One sample of 5000 stands out: it is seen wherever it is, among the last ones and where slices of a pixel meet too.
 */
static void
lone_peak_of_a_dense_curve_is_seen_wherever_it_is (void **state)
{
  Painting *painting = *state;
  ChartFixture *chart = &painting->chart;
  gsize n = 120017; /* no whole number of blocks (reduce.h) */
  static const gsize from_end[] = { 1, 2, 17, 31, 33, 1000, 40001, 40002, 77777 };
  for (gsize k = 0; k < G_N_ELEMENTS (from_end); k++) {
    double *y = g_new0 (double, n);
    y[n - from_end[k]] = 10;
    g_clear_pointer (&chart->model, sb_chart_model_unref);
    g_clear_pointer (&chart->analysis, sb_analysis_unref);
    chart->analysis = sample_analysis_of_curve (y, n, 0, 1e-5, 1);
    chart->model = sb_chart_model_new (chart->analysis, -1);
    paint (painting, 300, 200, 8, 1);
    const SbRect *plot = &painting->layout.plot[0];
    int row = (int) (plot->y + plot->height / 2), left = (int) plot->x, dark = 0;
    for (int x = left + 2; x < (int) (plot->x + plot->width) + 1; x++)
      dark += (pixel (painting, x, row) & 0xff) < 0xc0 || (pixel (painting, x, row) >> 16) < 0xc0 ? 1 : 0;
    if (dark == 0)
      fail_msg ("the peak %zu samples before the end is not seen", (size_t) from_end[k]);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    TEST (text_stays_on_the_page_and_apart_at_every_size),
    TEST (legend_and_foot_line_are_where_the_paper_has_them),
    TEST (text_of_points_stays_on_the_page_and_apart),
    TEST (numbers_stay_apart_at_every_zoom),
    TEST (range_that_no_double_spans_is_laid_out_all_the_same),
    TEST (panels_are_equal_aligned_and_apart),
    TEST (curve_lies_where_the_layout_says),
    TEST (gap_in_a_curve_stays_white),
    TEST (dense_noise_is_painted_without_specks),
    TEST (lone_peak_of_a_dense_curve_is_seen_wherever_it_is),
    TEST (lone_point_leaves_a_dot),
    TEST (nothing_is_painted_over_the_plot_s_edges),
    TEST (layout_turns_points_into_times_and_back),
    TEST (empty_model_paints_a_white_page_without_plots),
    cmocka_unit_test (every_style_is_seen_on_white_and_is_one_of_its_kind),
    TEST (a_legend_of_many_names_gives_way_where_it_may),
    TEST (a_legend_that_gives_way_goes_without_settings_before_names),
    cmocka_unit_test (first_seven_styles_have_seven_dashes),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
