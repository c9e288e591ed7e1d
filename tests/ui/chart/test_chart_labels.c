/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two hundred random benches: no text lies on another text or leaves the page, no text within a plot lies on a figure,
 * and neither a label of a curve nor a callout that no one has moved on a curve, a band or another label; labels keep a
 * gap that the eye sees. Places of figures and curves are worked out here from the axes. */
#include "chart_fixture.h"

#include "paint.h"

#include <math.h>
#include <string.h>

#define N_BENCHES 200
#define MOST      6
#define PT_PER_MM (72 / 25.4)
#define PERMITTED_GAP                                                                                                  \
  0.3 /* pt that a shape may reach beyond its middle into a label's line without touching letters                      \
       */

/* In sizes of axis numbers: a space is about a quarter of one, so less would read as one line of words. */
#define APART_ASIDE 1.0
#define APART_ABOVE 0.3

typedef struct {
  ChartFixture chart;
  GRand *random;
  GPtrArray *names;
  cairo_surface_t *surface;
  cairo_t *cr;
  SbChartLayout layout;
} Labels;

static int
set_up (void **state)
{
  Labels *labels = g_new0 (Labels, 1);
  labels->random = g_rand_new_with_seed (200);
  labels->names = g_ptr_array_new_with_free_func (g_free);
  *state = labels;
  return 0;
}

static int
tear_down (void **state)
{
  Labels *labels = *state;
  g_rand_free (labels->random);
  g_ptr_array_unref (labels->names);
  g_clear_pointer (&labels->cr, cairo_destroy);
  g_clear_pointer (&labels->surface, cairo_surface_destroy);
  void *chart = g_memdup2 (&labels->chart, sizeof labels->chart);
  g_free (labels);
  return chart_fixture_teardown (&chart);
}

static double
between (Labels *labels, double low, double high)
{
  return g_rand_double_range (labels->random, low, high);
}

static guint
below (Labels *labels, guint n)
{
  return (guint) g_rand_int_range (labels->random, 0, (gint32) n);
}

static const char *
keep (Labels *labels, char *text)
{
  g_ptr_array_add (labels->names, text);
  return text;
}

static const char *
random_name (Labels *labels, guint c)
{
  static const char *const words[] = { "Alder", "slope", "with the long shaft", "0.3", "Bryony", "rim 320 mm", "µ" };
  GString *name = g_string_new (NULL);
  for (guint i = 0, n = 1 + below (labels, 4); i < n; i++)
    g_string_append_printf (name, "%s%s", i > 0 ? " " : "", words[below (labels, G_N_ELEMENTS (words))]);
  g_string_append_printf (name, " %u", c + 1);
  return keep (labels, g_string_free (name, FALSE));
}

/* Figures about one another or far apart, large or small, with claims on them or none. */
static void
random_figures (Labels *labels, const SampleConfiguration *configurations, guint n)
{
  SbMeasureId ids[] = { SB_MEASURE_PEAK_TORQUE_SLOPE, SB_MEASURE_OVERSHOOT };
  double scale = pow (10, between (labels, -2, 4));
  for (gsize m = 0; m < G_N_ELEMENTS (ids); m++) {
    for (guint c = 0; c < n; c++) {
      double middle = scale * between (labels, 0.2, 3), spread = middle * pow (10, between (labels, -4, -0.5));
      double values[4];
      for (gsize t = 0; t < configurations[c].n_trials; t++)
        values[t] = middle + spread * between (labels, -1, 1);
      sample_set_figures (labels->chart.analysis, c, ids[m], values);
    }
    for (guint k = below (labels, 3); k > 0; k--)
      sample_state (labels->chart.analysis, ids[m], scale * between (labels, 0.2, 3));
  }
}

/* Somewhere on the curves, of the first repeat; the summary takes the instant from there. */
static void
random_labels (Labels *labels, const SampleConfiguration *configurations, guint n)
{
  static const struct {
    SbMeasureId id;
    SbEvidenceKind kind;
  } named[]
      = { { SB_MEASURE_PEAK_VELOCITY, SB_EVIDENCE_PEAK },        { SB_MEASURE_PEAK_TORQUE, SB_EVIDENCE_PEAK },
          { SB_MEASURE_PEAK_TORQUE_SLOPE, SB_EVIDENCE_TANGENT }, { SB_MEASURE_OVERSHOOT, SB_EVIDENCE_PEAK },
          { SB_MEASURE_RINGING_FREQUENCY, SB_EVIDENCE_CREST },   { SB_MEASURE_RINGING_DAMPING, SB_EVIDENCE_CREST } };
  labels->chart.analysis->bench->chart.labels = below (labels, 1u << SB_N_LABELS);
  for (gsize m = 0; m < G_N_ELEMENTS (named); m++)
    for (guint c = 0; c < n; c++) {
      double values[4];
      for (gsize t = 0; t < configurations[c].n_trials; t++)
        values[t] = between (labels, 1, 1000);
      SbMeasure *measure = sample_measure (labels->chart.analysis, c, named[m].id);
      measure->evidence[0] = (SbEvidence){ named[m].kind, between (labels, -0.05, 0.4), 0, 0 };
      measure->n_evidence = 1;
      sample_set_figures (labels->chart.analysis, c, named[m].id, values);
    }
}

/* Some words at some points, where nobody has moved them. */
static void
random_callouts (Labels *labels, guint n)
{
  static const double label[] = { SB_CALLOUT_LABEL_X, SB_CALLOUT_LABEL_Y };
  for (guint k = 1 + below (labels, 3); k > 0; k--) {
    SbConfiguration *configuration = sb_bench_edit_configuration (labels->chart.analysis->bench, below (labels, n));
    SbPanel panel = below (labels, 2) == 0 ? SB_PANEL_TORQUE : SB_PANEL_VELOCITY;
    sb_callouts_add (configuration->callouts, panel, between (labels, -0.02, 0.38), random_name (labels, k), label);
  }
}

static SbView
random_bench (Labels *labels)
{
  ChartFixture *chart = &labels->chart;
  SampleConfiguration configurations[MOST];
  guint n = 1 + below (labels, MOST);
  SbView view = (SbView) below (labels, SB_N_VIEWS);
  g_clear_pointer (&chart->model, sb_chart_model_unref);
  g_clear_pointer (&chart->analysis, sb_analysis_unref);
  chart->bench = sb_bench_new ();
  chart->bench->chart.view = view;
  chart->bench->chart.measures = 1u << SB_MEASURE_PEAK_TORQUE_SLOPE;
  if (below (labels, 2) == 0)
    chart->bench->chart.measures |= 1u << SB_MEASURE_OVERSHOOT;
  chart->bench->chart.panels = 1 + below (labels, 7);
  chart->bench->chart.in_order = below (labels, 2) == 0;
  for (guint c = 0; c < n; c++)
    configurations[c] = (SampleConfiguration){
      .name = random_name (labels, c),
      .n_trials = 1 + below (labels, 4),
      .level_nm = between (labels, 0.5, 25),
      .spread_nm = between (labels, 0, 0.5),
      .setting = keep (labels, g_strdup_printf ("%.1f N·m/ms", 0.1 + c * between (labels, 0.1, 1))),
    };
  make_analysis (chart, configurations, n);
  random_labels (labels, configurations, n);
  random_callouts (labels, n);
  random_figures (labels, configurations, n);
  if (view == SB_VIEW_DIFFERENCE && n > 1)
    sample_set_difference (chart->analysis);
  chart->model = sb_chart_model_new (chart->analysis, -1);
  return view;
}

/* What the export sheet and its preview offer. */
static SbPaper
random_paper (Labels *labels)
{
  SbPaper paper = sb_paper_preset (below (labels, SB_N_PAPER_PRESETS))->paper;
  paper.legend = (SbLegendPlace) below (labels, SB_N_LEGEND_PLACES);
  paper.no_foot = below (labels, 4) == 0;
  return paper;
}

static void
paint (Labels *labels, double width_pt, double height_pt, double font_pt)
{
  g_clear_pointer (&labels->cr, cairo_destroy);
  g_clear_pointer (&labels->surface, cairo_surface_destroy);
  g_clear_pointer (&labels->chart.boxes, g_array_unref);
  labels->chart.boxes = g_array_new (FALSE, FALSE, sizeof (SbRect));
  labels->surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 8, 8); /* where text goes hangs on no pixel */
  labels->cr = cairo_create (labels->surface);
  sb_chart_paint_noting (labels->chart.model, labels->cr, width_pt, height_pt, font_pt, &labels->layout,
                         labels->chart.boxes);
}

static gboolean
overlaps (const SbRect *a, const SbRect *b)
{
  double hair = 0.05;
  return a->x + a->width > b->x + hair && b->x + b->width > a->x + hair && a->y + a->height > b->y + hair
         && b->y + b->height > a->y + hair;
}

/* How far along an axis a value lies. */
static double
share_of (double value, double low, double high, gboolean logarithmic)
{
  return logarithmic ? log (value / low) / log (high / low) : (value - low) / (high - low);
}

/* A figure of a spread or a sweep as a spot on the page. */
static SbRect
spot_of (const Labels *labels, gsize p, double at, double value, double aside)
{
  const SbChartLayout *layout = &labels->layout;
  const SbRect *plot = &layout->plot[p];
  const SbChartModel *model = labels->chart.model;
  const SbChartPanel *panel = g_ptr_array_index (model->panels, (guint) p);
  double share = share_of (value, layout->y_min[p], layout->y_max[p], panel->y_log);
  double x, y, rows = model->rows->len;
  if (model->view == SB_VIEW_SPREAD) {
    x = plot->x + share * plot->width;
    y = plot->y + at / rows * plot->height + aside * layout->font_pt;
  } else {
    x = plot->x + share_of (at, layout->x_min, layout->x_max, model->x_log) * plot->width + aside * layout->font_pt;
    y = plot->y + plot->height - share * plot->height;
  }
  return (SbRect){ x - PERMITTED_GAP, y - PERMITTED_GAP, 2 * PERMITTED_GAP, 2 * PERMITTED_GAP };
}

static gboolean
hides_a_figure (const Labels *labels, const SbRect *box)
{
  const SbChartModel *model = labels->chart.model;
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    for (guint i = 0; i < panel->points->len; i++) {
      const SbPoint *point = &g_array_index (panel->points, SbPoint, i);
      SbRect spot = spot_of (labels, p, point->at, point->value, point->aside);
      if (overlaps (box, &spot))
        return TRUE;
    }
    for (guint i = 0; i < panel->means->len; i++) {
      const SbMeanMark *mark = &g_array_index (panel->means, SbMeanMark, i);
      SbRect spot = spot_of (labels, p, mark->at, mark->mean, 0);
      if (overlaps (box, &spot))
        return TRUE;
    }
  }
  return FALSE;
}

/* y of a curve at x, on the page; NaN: it is not there. */
static double
y_of (const SbChartLayout *layout, gsize p, gsize n, double x0, double dx, const double *y, double at)
{
  double place = (at - x0) / dx;
  if (!(place >= 0 && place < (double) n - 1))
    return NAN;
  gsize i = (gsize) place;
  return sb_chart_layout_y_of (layout, p, y[i] + (place - (double) i) * (y[i + 1] - y[i]));
}

static gboolean
lies_on_a_curve (const Labels *labels, const SbLabelPlace *label)
{
  enum { N_LOOKS = 100 };
  const SbChartLayout *layout = &labels->layout;
  const SbChartPanel *panel = g_ptr_array_index (labels->chart.model->panels, (guint) label->panel);
  double top = label->box.y, bottom = top + label->box.height;
  for (int k = 0; k <= N_LOOKS; k++) {
    double at = sb_chart_layout_time_at (layout, label->box.x + (double) k / N_LOOKS * label->box.width);
    for (guint i = 0; i < panel->curves->len; i++) {
      const SbCurve *curve = &g_array_index (panel->curves, SbCurve, i);
      double y = y_of (layout, label->panel, curve->n_points, curve->x0, curve->dx, curve->y, at);
      if (y > top && y < bottom)
        return TRUE;
    }
    for (guint i = 0; i < panel->bands->len; i++) {
      const SbBandArea *band = &g_array_index (panel->bands, SbBandArea, i);
      double lower = y_of (layout, label->panel, band->n_points, band->x0, band->dx, band->lower, at);
      double upper = y_of (layout, label->panel, band->n_points, band->x0, band->dx, band->upper, at);
      if (upper < bottom && lower > top)
        return TRUE;
    }
  }
  return FALSE;
}

/* The lines of the onset and of the value zero are drawn through the whole plot. */
static gboolean
is_struck_through (const Labels *labels, const SbLabelPlace *label)
{
  const SbChartLayout *layout = &labels->layout;
  double left = sb_chart_layout_time_at (layout, label->box.x);
  double right = sb_chart_layout_time_at (layout, label->box.x + label->box.width);
  double zero = sb_chart_layout_y_of (layout, label->panel, 0);
  return (left < 0 && right > 0) || (zero > label->box.y && zero < label->box.y + label->box.height);
}

/* Those of points that are in view, and those whose point is nowhere. */
static guint
count_wanted (const Labels *labels)
{
  guint n = 0;
  for (guint p = 0; p < labels->chart.model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (labels->chart.model->panels, p);
    for (guint i = 0; i < panel->labels->len; i++) {
      double x = g_array_index (panel->labels, SbLabelMark, i).x;
      n += x < labels->layout.x_min || x > labels->layout.x_max ? 0 : 1;
    }
  }
  return n;
}

typedef struct {
  guint off_page, on_text, on_figure, on_curve, lost, too_near, struck, boxes, placed, callouts, callouts_over;
} Findings;

static guint
count_texts (const Labels *labels, const SbRect *box)
{
  guint n = 0;
  for (guint k = 0; k < labels->chart.boxes->len; k++)
    n += overlaps (box, &g_array_index (labels->chart.boxes, SbRect, k)) ? 1 : 0;
  return n;
}

/* Each frame holds one text, its own. */
static void
check_callouts (const Labels *labels, Findings *findings)
{
  const SbChartLayout *layout = &labels->layout;
  for (gsize i = 0; i < layout->n_callouts; i++) {
    const SbCalloutPlace *place = &layout->callout[i];
    if (place->below)
      continue;
    SbLabelPlace label = { place->panel, place->x, place->y, place->label };
    gboolean over = count_texts (labels, &place->label) != 1 || lies_on_a_curve (labels, &label);
    for (gsize k = 0; k < layout->n_callouts; k++)
      over = over || (k != i && overlaps (&place->label, &layout->callout[k].label));
    findings->callouts_over += over ? 1 : 0;
    findings->callouts++;
  }
}

static gboolean
too_near (const SbRect *a, const SbRect *b, double font_pt)
{
  double aside = APART_ASIDE * font_pt, above = APART_ABOVE * font_pt;
  SbRect wide = { a->x - aside, a->y - above, a->width + 2 * aside, a->height + 2 * above };
  return overlaps (&wide, b);
}

/* Each label holds one text, its own. */
static void
check_labels (const Labels *labels, Findings *findings)
{
  const SbChartLayout *layout = &labels->layout;
  assert_true (layout->n_labels < SB_CHART_MAX_LABELS);
  for (gsize i = 0; i < layout->n_labels; i++) {
    for (gsize k = i + 1; k < layout->n_labels; k++)
      findings->too_near += too_near (&layout->label[i].box, &layout->label[k].box, layout->font_pt) ? 1 : 0;
    findings->on_text += count_texts (labels, &layout->label[i].box) != 1 ? 1 : 0;
    findings->on_curve += lies_on_a_curve (labels, &layout->label[i]) ? 1 : 0;
    findings->struck += is_struck_through (labels, &layout->label[i]) ? 1 : 0;
  }
  findings->placed += (guint) layout->n_labels;
  findings->lost += count_wanted (labels) != layout->n_labels + layout->n_below ? 1 : 0;
}

static void
check (Labels *labels, double width_pt, double height_pt, Findings *findings)
{
  const GArray *boxes = labels->chart.boxes;
  const SbChartModel *model = labels->chart.model;
  gboolean has_figures = model->view == SB_VIEW_SPREAD || model->view == SB_VIEW_SWEEP;
  findings->boxes += boxes->len;
  check_labels (labels, findings);
  check_callouts (labels, findings);
  for (guint i = 0; i < boxes->len; i++) {
    const SbRect *box = &g_array_index (boxes, SbRect, i);
    if (box->x < -0.05 || box->y < -0.05 || box->x + box->width > width_pt + 0.05
        || box->y + box->height > height_pt + 0.05)
      findings->off_page++;
    for (guint k = i + 1; k < boxes->len; k++)
      if (overlaps (box, &g_array_index (boxes, SbRect, k)))
        findings->on_text++;
    if (has_figures && hides_a_figure (labels, box))
      findings->on_figure++;
  }
}

static void
labels_stay_apart_and_off_the_figures_in_random_benches (void **state)
{
  Labels *labels = *state;
  guint n_placed = 0, n_callouts = 0;
  for (int k = 0; k < N_BENCHES; k++) {
    SbView view = random_bench (labels);
    Findings findings = { 0 };
    SbPaper paper = random_paper (labels);
    double width = paper.width_mm * PT_PER_MM, height = paper.height_mm * PT_PER_MM;
    sb_chart_model_set_paper (labels->chart.model, &paper);
    paint (labels, width, height, paper.font_pt);
    check (labels, width, height, &findings);
    n_placed += findings.placed;
    n_callouts += findings.callouts;
    if (findings.off_page + findings.on_text + findings.on_figure + findings.on_curve + findings.lost
            + findings.too_near + findings.struck + findings.callouts_over
        > 0)
      fail_msg ("bench %d, view %s, %g x %g mm: of %u texts %u leave the page, %u lie on others, %u on figures, %u on "
                "curves; %s",
                k, sb_view_key (view), paper.width_mm, paper.height_mm, findings.boxes, findings.off_page,
                findings.on_text, findings.on_figure, findings.on_curve,
                findings.lost > 0            ? "labels are lost"
                : findings.too_near > 0      ? "labels run into one another"
                : findings.struck > 0        ? "the line of the onset or of zero strikes a label through"
                : findings.callouts_over > 0 ? "callouts lie on something"
                                             : "");
  }
  assert_true (n_callouts > N_BENCHES / 5); /* they are in two of the views only */
  assert_true (n_placed > N_BENCHES);       /* or nothing was tried */
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (labels_stay_apart_and_off_the_figures_in_random_benches, set_up, tear_down),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
