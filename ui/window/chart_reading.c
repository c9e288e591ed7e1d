/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_reading.h"

#include <math.h>
#include <string.h>

#define PADDING_PX 6.0
#define SAMPLE_PX  20.0
#define POINTER_PX 12.0
#define GAP_PX     10.0 /* between name and number, and between columns */
#define MAX_DASHES 8
#define TEXT_SCALE 0.9

/* Names take no more of a plot's width than this; what is narrower reads by samples and the legend. */
#define MOST_OF_PLOT 0.4
#define NAME_PX      160 /* of a name at most */

static const GdkRGBA ink = { 0.10f, 0.11f, 0.13f, 1.0f };
static const GdkRGBA line_colour = { 0.25f, 0.27f, 0.30f, 0.75f };
static const GdkRGBA paper = { 1.0f, 1.0f, 1.0f, 0.94f };
static const GdkRGBA edge = { 0.0f, 0.0f, 0.0f, 0.25f };

/* With a minus sign, and none before a zero that only rounding made. */
char *
sb_chart_reading_number (double value, int decimals)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE], format[16];
  g_snprintf (format, sizeof format, "%%.%df", CLAMP (decimals, 0, 15));
  g_ascii_formatd (digits, sizeof digits, format, value);
  const char *shown = digits[0] == '-' ? digits + 1 : digits;
  gboolean is_zero = strspn (shown, "0.") == strlen (shown);
  return g_strconcat (shown != digits && !is_zero ? "−" : "", shown, NULL);
}

char *
sb_chart_reading_time (const SbChartModel *model, double time_s)
{
  double step = (model->x_max - model->x_min) * model->x_display_factor / 1000;
  int decimals = step > 0 ? CLAMP ((int) ceil (-log10 (step)), 0, 6) : 3;
  const char *unit = model->x_display_factor > 1 ? "ms" : "s";
  g_autofree char *number = sb_chart_reading_number (time_s * model->x_display_factor, decimals);
  return g_strconcat (number, " ", unit, NULL);
}

/* As many decimals as tell a thousandth of the axis apart. */
char *
sb_chart_reading_value (const SbChartPanel *panel, double value)
{
  double step = (panel->y_max - panel->y_min) / 1000;
  int decimals = step > 0 ? CLAMP ((int) ceil (-log10 (step)), 0, 6) : 3;
  return sb_chart_reading_number (value, decimals);
}

#define NO_SAMPLE G_MAXUINT /* of the line that counts those that have no room */

/* One line of a panel's reading. */
typedef struct {
  guint style;
  PangoLayout *name, *number;
} Line;

static PangoLayout *
make_layout (GtkWidget *widget, const char *text)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_scale_new (TEXT_SCALE));
  pango_layout_set_attributes (layout, attributes);
  return layout;
}

/* The share of a plot that a reading may cover: all of it where nothing but names tells the curves. */
static double
most_of_plot (gboolean needs_names)
{
  return needs_names ? 1 : MOST_OF_PLOT;
}

/* The lines that have room in that share. */
static guint
room_for (GtkWidget *widget, const SbChartPanel *panel, double plot_width, double plot_height, gboolean needs_names)
{
  g_autofree char *low = sb_chart_reading_value (panel, panel->y_min);
  g_autofree char *high = sb_chart_reading_value (panel, panel->y_max);
  g_autoptr (PangoLayout) layout = make_layout (widget, strlen (low) > strlen (high) ? low : high);
  int width, height;
  pango_layout_get_pixel_size (layout, &width, &height);
  double rows = floor ((plot_height - 2 * PADDING_PX) / height);
  double column_width = SAMPLE_PX + 2 * GAP_PX + width + (needs_names ? NAME_PX + GAP_PX : 0);
  double columns = floor ((most_of_plot (needs_names) * plot_width - 2 * PADDING_PX + GAP_PX) / column_width);
  return (guint) (fmax (rows, 1) * fmax (columns, 1));
}

static void
line_clear (gpointer data)
{
  Line *line = data;
  g_object_unref (line->name);
  g_object_unref (line->number);
}

static const char *
name_of (const SbChartModel *model, guint configuration)
{
  return sb_analysis_configuration (model->analysis, configuration)->name;
}

static gboolean
is_compared (const SbChartModel *model, guint configuration)
{
  const SbBench *bench = model->analysis->bench;
  return bench->reference == (int) configuration || bench->other == (int) configuration;
}

static void
add_line (GtkWidget *widget, GArray *lines, guint style, const char *name, const char *number)
{
  Line line = { style, make_layout (widget, name), make_layout (widget, number) };
  pango_layout_set_width (line.name, NAME_PX * PANGO_SCALE);
  pango_layout_set_ellipsize (line.name, PANGO_ELLIPSIZE_END);
  pango_layout_set_height (line.name, -1);
  g_array_append_val (lines, line);
}

/* How many curves have a value at that time, and how many of these are of the compared pair. */
static void
count_values (const SbChartModel *model, gsize panel, double time_s, guint *n, guint *n_compared)
{
  *n = *n_compared = 0;
  for (guint i = 0; i < model->legend->len; i++) {
    guint configuration = g_array_index (model->legend, SbLegendEntry, i).configuration;
    if (isnan (sb_chart_model_value_at (model, panel, configuration, time_s)))
      continue;
    (*n)++;
    *n_compared += is_compared (model, configuration) ? 1 : 0;
  }
}

/* Where there is no room for all, the compared pair and the first others, and how many more there are. */
static GArray *
read_panel (GtkWidget *widget, const SbChartModel *model, gsize index, double time_s, guint most)
{
  const SbChartPanel *panel = g_ptr_array_index (model->panels, index);
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_array_set_clear_func (lines, line_clear);
  guint n, n_compared;
  count_values (model, index, time_s, &n, &n_compared);
  guint n_shown = n <= most ? n : MAX (most, n_compared + 1) - 1, n_others = n_shown - MIN (n_compared, n_shown);
  for (guint i = 0; i < model->legend->len; i++) {
    const SbLegendEntry *entry = &g_array_index (model->legend, SbLegendEntry, i);
    double value = sb_chart_model_value_at (model, index, entry->configuration, time_s);
    if (isnan (value) || (!is_compared (model, entry->configuration) && n_others == 0))
      continue;
    n_others -= is_compared (model, entry->configuration) ? 0 : 1;
    g_autofree char *number = sb_chart_reading_value (panel, value);
    const char *name = panel->difference ? "difference" : name_of (model, entry->configuration);
    add_line (widget, lines, panel->difference ? SB_STYLE_INK : entry->style, name, number);
  }
  if (n_shown < n) {
    g_autofree char *rest = g_strdup_printf ("and %u more", n - n_shown);
    add_line (widget, lines, NO_SAMPLE, "", rest);
  }
  return lines;
}

static void
draw_layout (GtkSnapshot *snapshot, PangoLayout *layout, double x, double y)
{
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
  gtk_snapshot_restore (snapshot);
}

static void
draw_sample (cairo_t *cr, guint style_index, double x, double y)
{
  const SbStyle *style = sb_style_get (style_index);
  double dash[MAX_DASHES];
  int n = MIN (style->n_dash, MAX_DASHES);
  for (int i = 0; i < n; i++)
    dash[i] = style->dash[i] * 2;
  cairo_set_source_rgb (cr, style->colour.red, style->colour.green, style->colour.blue);
  cairo_set_line_width (cr, 2);
  cairo_set_dash (cr, dash, n, 0);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + SAMPLE_PX, y);
  cairo_stroke (cr);
}

static void
draw_box (GtkSnapshot *snapshot, const graphene_rect_t *box)
{
  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (&outline, box, 4);
  gtk_snapshot_push_rounded_clip (snapshot, &outline);
  gtk_snapshot_append_color (snapshot, &paper, box);
  gtk_snapshot_pop (snapshot);
  float widths[4] = { 1, 1, 1, 1 };
  GdkRGBA colours[4] = { edge, edge, edge, edge };
  gtk_snapshot_append_border (snapshot, &outline, widths, colours);
}

/* How the lines of a panel lie in their box: in columns where the panel is too low for one. */
typedef struct {
  double name_width; /* 0: without names */
  double number_width, line_height, column_width;
  guint n_rows, n_columns;
} Arrangement;

static double
box_width (const Arrangement *a)
{
  return a->n_columns * a->column_width + (a->n_columns - 1) * GAP_PX + 2 * PADDING_PX;
}

static Arrangement
measure_lines (const GArray *lines, double plot_height)
{
  Arrangement a = { 0 };
  for (guint i = 0; i < lines->len; i++) {
    const Line *line = &g_array_index (lines, Line, i);
    int width, height;
    pango_layout_get_pixel_size (line->name, &width, &height);
    a.name_width = MAX (a.name_width, width);
    a.line_height = MAX (a.line_height, height);
    pango_layout_get_pixel_size (line->number, &width, &height);
    a.number_width = MAX (a.number_width, line->style == NO_SAMPLE ? width - SAMPLE_PX - GAP_PX : width);
  }
  a.n_rows = (guint) CLAMP ((plot_height - 2 * PADDING_PX) / a.line_height, 1, lines->len);
  a.n_columns = (lines->len + a.n_rows - 1) / a.n_rows;
  a.n_rows = (lines->len + a.n_columns - 1) / a.n_columns;
  return a;
}

/* With names where they leave most of the plot to be seen, or nothing else tells the curves. */
static Arrangement
arrange (const GArray *lines, double plot_width, double plot_height, gboolean needs_names)
{
  Arrangement a = measure_lines (lines, plot_height);
  double bare = SAMPLE_PX + GAP_PX + a.number_width;
  a.column_width = bare + GAP_PX + a.name_width;
  if (box_width (&a) <= most_of_plot (needs_names) * plot_width)
    return a;
  a.name_width = 0;
  a.column_width = bare;
  return a;
}

static void
draw_line (GtkSnapshot *snapshot, const Line *line, const Arrangement *a, double left, double top)
{
  int number_width;
  pango_layout_get_pixel_size (line->number, &number_width, NULL);
  if (line->style == NO_SAMPLE) {
    draw_layout (snapshot, line->number, left, top);
    return;
  }
  if (a->name_width > 0)
    draw_layout (snapshot, line->name, left + SAMPLE_PX + GAP_PX, top);
  draw_layout (snapshot, line->number, left + a->column_width - number_width, top);
}

/* The box stands beside the pointer, on the side with room, and inside its panel as far as that is tall enough. */
static void
draw_values (GtkSnapshot *snapshot, const GArray *lines, const SbRect *plot, double k, double x, gboolean needs_names)
{
  if (lines->len == 0)
    return;
  Arrangement a = arrange (lines, plot->width * k, plot->height * k, needs_names);
  double width = box_width (&a), height = a.line_height * a.n_rows + 2 * PADDING_PX;
  double right = (plot->x + plot->width) * k;
  double left = x + POINTER_PX + width <= right ? x + POINTER_PX : MAX (x - POINTER_PX - width, 0);
  double top = plot->y * k + MAX (0, MIN (4, plot->height * k - height));
  graphene_rect_t box = GRAPHENE_RECT_INIT ((float) left, (float) top, (float) width, (float) height);
  draw_box (snapshot, &box);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &box);
  for (guint i = 0; i < lines->len; i++) {
    const Line *line = &g_array_index (lines, Line, i);
    double at_x = left + PADDING_PX + (i / a.n_rows) * (a.column_width + GAP_PX);
    double at_y = top + PADDING_PX + (i % a.n_rows) * a.line_height;
    if (line->style != NO_SAMPLE)
      draw_sample (cr, line->style, at_x, at_y + a.line_height / 2);
    draw_line (snapshot, line, &a, at_x, at_y);
  }
  cairo_destroy (cr);
}

static void
draw_time (GtkWidget *widget, GtkSnapshot *snapshot, const SbChartModel *model, const SbRect *plot, double k, double x,
           double time_s)
{
  g_autofree char *text = sb_chart_reading_time (model, time_s);
  g_autoptr (PangoLayout) layout = make_layout (widget, text);
  int width, height;
  pango_layout_get_pixel_size (layout, &width, &height);
  double box_width = width + 2 * PADDING_PX;
  double left = CLAMP (x - box_width / 2, 0, MAX (0, gtk_widget_get_width (widget) - box_width));
  double top = MAX (0, (plot->y + plot->height) * k + 2);
  graphene_rect_t box = GRAPHENE_RECT_INIT ((float) left, (float) top, (float) box_width, (float) height + 4);
  draw_box (snapshot, &box);
  draw_layout (snapshot, layout, left + PADDING_PX, top + 2);
}

void
sb_chart_reading_box (GtkWidget *widget, GtkSnapshot *snapshot, const char *text, double left, double top)
{
  g_autoptr (PangoLayout) layout = make_layout (widget, text);
  int width, height;
  pango_layout_get_pixel_size (layout, &width, &height);
  double box_width = width + 2 * PADDING_PX, box_height = height + 2 * PADDING_PX;
  left = CLAMP (left, 0, MAX (0, gtk_widget_get_width (widget) - box_width));
  top = CLAMP (top, 0, MAX (0, gtk_widget_get_height (widget) - box_height));
  graphene_rect_t box = GRAPHENE_RECT_INIT ((float) left, (float) top, (float) box_width, (float) box_height);
  draw_box (snapshot, &box);
  draw_layout (snapshot, layout, left + PADDING_PX, top + PADDING_PX);
}

void
sb_chart_reading_snapshot (GtkWidget *widget, GtkSnapshot *snapshot, const SbChartModel *model,
                           const SbChartLayout *layout, double px_per_pt, double time_s)
{
  if (layout->n_plots == 0 || time_s < layout->x_min || time_s > layout->x_max)
    return;
  double x = sb_chart_layout_x_of (layout, time_s) * px_per_pt;
  gboolean needs_names = model->paper.legend == SB_LEGEND_NONE;
  for (gsize i = 0; i < layout->n_plots; i++) {
    const SbRect *plot = &layout->plot[i];
    graphene_rect_t line
        = GRAPHENE_RECT_INIT ((float) x, (float) (plot->y * px_per_pt), 1, (float) (plot->height * px_per_pt));
    gtk_snapshot_append_color (snapshot, &line_colour, &line);
    guint most = room_for (widget, g_ptr_array_index (model->panels, i), plot->width * px_per_pt,
                           plot->height * px_per_pt, needs_names);
    g_autoptr (GArray) lines = read_panel (widget, model, i, time_s, most);
    draw_values (snapshot, lines, plot, px_per_pt, x, needs_names);
  }
  draw_time (widget, snapshot, model, &layout->plot[layout->n_plots - 1], px_per_pt, x, time_s);
}

char *
sb_chart_reading_describe (const SbChartModel *model, double time_s)
{
  g_autofree char *time = sb_chart_reading_time (model, time_s);
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text, "At %s.", time);
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    g_string_append_printf (text, " %s:", panel->label);
    for (guint i = 0; i < model->legend->len; i++) {
      guint configuration = g_array_index (model->legend, SbLegendEntry, i).configuration;
      double value = sb_chart_model_value_at (model, p, configuration, time_s);
      g_autofree char *number = isnan (value) ? g_strdup ("no value") : sb_chart_reading_value (panel, value);
      g_string_append_printf (text, "%s %s %s", i > 0 ? "," : "", name_of (model, configuration), number);
    }
    g_string_append_c (text, '.');
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}
