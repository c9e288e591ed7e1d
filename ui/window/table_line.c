/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table_line.h"

#include "curve_sample.h"

#include <math.h>

#define PADDING_PX     4
#define SAMPLE_GAP_PX  3
#define DETAIL_SCALE   0.88
#define DETAIL_OPACITY 0.72f
#define DIM_OPACITY    0.55f
#define DOUBT_SCALE    0.8
#define DOUBT_GAP_PX   4
#define DOUBT_SIDE_PX  3

/* The column of names stays where it is. */
#define FIRST_SCROLLED 1

struct SbTableColumns {
  GPtrArray *lines; /* SbTableLine, borrowed */
  GArray *widths;   /* int, px */
  int row_height, heading_height;
  double seen_from, seen_to; /* px, of the scrolled lines */
  gboolean valid;
  guint ref_count;
};

typedef struct {
  PangoLayout *value, *detail, *mark; /* mark: NULL without doubt */
  SbTableCell is;                     /* without its texts */
  int width, height;
} Cell;

struct _SbTableLine {
  GtkWidget parent_instance;
  SbTableColumns *columns;
  guint first;
  GArray *cells; /* Cell */
};

G_DEFINE_FINAL_TYPE (SbTableLine, sb_table_line, GTK_TYPE_WIDGET)

SbTableColumns *
sb_table_columns_new (void)
{
  SbTableColumns *columns = g_new0 (SbTableColumns, 1);
  columns->lines = g_ptr_array_new ();
  columns->widths = g_array_new (FALSE, TRUE, sizeof (int));
  columns->seen_from = -INFINITY;
  columns->seen_to = INFINITY;
  columns->ref_count = 1;
  return columns;
}

SbTableColumns *
sb_table_columns_ref (SbTableColumns *columns)
{
  columns->ref_count++;
  return columns;
}

void
sb_table_columns_unref (SbTableColumns *columns)
{
  if (--columns->ref_count > 0)
    return;
  g_ptr_array_unref (columns->lines);
  g_array_unref (columns->widths);
  g_free (columns);
}

/* Half a number is read as another one. A cell that is wider than what can be seen is still better than none. */
static gboolean
is_seen_whole (const SbTableColumns *columns, int from, int to)
{
  double wide = columns->seen_to - columns->seen_from;
  return (from >= columns->seen_from - 1 && to <= columns->seen_to + 1)
         || (to - from > wide && from < columns->seen_to && to > columns->seen_from);
}

typedef struct {
  guint first, n;
} SeenColumns;

static SeenColumns
seen_columns (const SbTableColumns *columns)
{
  SeenColumns seen = { 0, 0 };
  int from = 0;
  for (guint i = FIRST_SCROLLED; i < columns->widths->len; i++) {
    int to = from + g_array_index (columns->widths, int, i);
    if (is_seen_whole (columns, from, to)) {
      seen.first = seen.n == 0 ? i : seen.first;
      seen.n++;
    }
    from = to;
  }
  return seen;
}

/* Scrolling draws anew only when other columns are seen whole. */
void
sb_table_columns_set_view (SbTableColumns *columns, double from, double to)
{
  if (!(to > from))
    return;
  SeenColumns before = seen_columns (columns);
  columns->seen_from = from;
  columns->seen_to = to;
  SeenColumns now = seen_columns (columns);
  if (now.first == before.first && now.n == before.n)
    return;
  for (guint i = 0; i < columns->lines->len; i++)
    gtk_widget_queue_draw (g_ptr_array_index (columns->lines, i));
}

static void
clear_cell (gpointer data)
{
  Cell *cell = data;
  g_clear_object (&cell->value);
  g_clear_object (&cell->detail);
  g_clear_object (&cell->mark);
}

static void
measure_cell (Cell *cell)
{
  int width, height, detail_width, detail_height;
  pango_layout_get_pixel_size (cell->value, &width, &height);
  pango_layout_get_pixel_size (cell->detail, &detail_width, &detail_height);
  if (cell->mark != NULL) {
    int mark_width;
    pango_layout_get_pixel_size (cell->mark, &mark_width, NULL);
    width += mark_width + 2 * DOUBT_SIDE_PX + DOUBT_GAP_PX;
  }
  cell->width = MAX (width, detail_width);
  cell->height = height + detail_height;
  if (cell->is.style >= 0) {
    cell->width = MAX (cell->width, SB_CURVE_SAMPLE_WIDTH_PX);
    cell->height += SB_CURVE_SAMPLE_HEIGHT_PX + SAMPLE_GAP_PX;
  }
}

static void
measure_line (SbTableColumns *columns, const SbTableLine *line)
{
  if (columns->widths->len < line->first + line->cells->len)
    g_array_set_size (columns->widths, line->first + line->cells->len);
  for (guint i = 0; i < line->cells->len; i++) {
    Cell *cell = &g_array_index (line->cells, Cell, i);
    measure_cell (cell);
    int *width = &g_array_index (columns->widths, int, line->first + i);
    int *height = cell->is.heading ? &columns->heading_height : &columns->row_height;
    *width = MAX (*width, cell->width + 2 * PADDING_PX);
    *height = MAX (*height, cell->height);
  }
}

static void
measure_columns (SbTableColumns *columns)
{
  if (columns->valid)
    return;
  columns->valid = TRUE;
  columns->row_height = columns->heading_height = 0;
  g_array_set_size (columns->widths, 0);
  for (guint i = 0; i < columns->lines->len; i++)
    measure_line (columns, g_ptr_array_index (columns->lines, i));
}

static void
invalidate (SbTableColumns *columns)
{
  if (!columns->valid)
    return;
  columns->valid = FALSE;
  for (guint i = 0; i < columns->lines->len; i++)
    gtk_widget_queue_resize (g_ptr_array_index (columns->lines, i));
}

static int
width_of (const SbTableLine *line, guint cell)
{
  guint column = line->first + cell;
  return column < line->columns->widths->len ? g_array_index (line->columns->widths, int, column) : 0;
}

static PangoLayout *
make_layout (SbTableLine *line, const char *text, double scale, gboolean bold, gboolean left)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (GTK_WIDGET (line), text);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  if (scale < 1)
    pango_attr_list_insert (attributes, pango_attr_scale_new (scale));
  if (bold)
    pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_alignment (layout, left ? PANGO_ALIGN_LEFT : PANGO_ALIGN_RIGHT);
  return layout;
}

static gboolean
is_same (const Cell *cell, const SbTableCell *wanted)
{
  return g_str_equal (pango_layout_get_text (cell->value), wanted->value)
         && g_str_equal (pango_layout_get_text (cell->detail), wanted->detail) && !cell->is.left == !wanted->left
         && !cell->is.heading == !wanted->heading && !cell->is.dim == !wanted->dim && !cell->is.doubt == !wanted->doubt
         && cell->is.style == wanted->style;
}

static Cell
make_cell (SbTableLine *line, const SbTableCell *wanted)
{
  Cell cell = { .is = *wanted };
  cell.is.value = cell.is.detail = NULL;
  cell.value = make_layout (line, wanted->value, 1, wanted->heading, wanted->left);
  cell.detail = make_layout (line, wanted->detail, DETAIL_SCALE, FALSE, wanted->left);
  if (wanted->doubt)
    cell.mark = make_layout (line, "?", DOUBT_SCALE, TRUE, TRUE);
  measure_cell (&cell); /* shaped here, line by line, and not all of the table within one frame */
  return cell;
}

/* A choice mostly changes one of the configurations: the others' cells stay. */
void
sb_table_line_set_cells (SbTableLine *line, const SbTableCell *cells, guint n_cells)
{
  gboolean same = line->cells->len == n_cells;
  g_array_set_size (line->cells, MIN (line->cells->len, n_cells));
  for (guint i = 0; i < n_cells; i++) {
    if (i < line->cells->len && is_same (&g_array_index (line->cells, Cell, i), &cells[i]))
      continue;
    same = FALSE;
    Cell cell = make_cell (line, &cells[i]);
    if (i < line->cells->len) {
      clear_cell (&g_array_index (line->cells, Cell, i));
      g_array_index (line->cells, Cell, i) = cell;
    } else {
      g_array_append_val (line->cells, cell);
    }
  }
  if (same)
    return;
  invalidate (line->columns);
  gtk_widget_queue_draw (GTK_WIDGET (line));
}

int
sb_table_line_cell_at (SbTableLine *line, double x)
{
  for (guint i = 0; i < line->cells->len; i++) {
    x -= width_of (line, i);
    if (x < 0)
      return (int) i;
  }
  return -1;
}

guint
sb_table_line_cells_beyond (SbTableLine *line, double x)
{
  guint n = 0;
  double end = 0;
  for (guint i = 0; i < line->cells->len; i++) {
    end += width_of (line, i);
    n += end > x + 1 ? 1 : 0;
  }
  return n;
}

double
sb_table_line_cell_beyond (SbTableLine *line, double x)
{
  double start = 0;
  for (guint i = 0; i < line->cells->len; i++) {
    int width = width_of (line, i);
    if (start + width > x + 1)
      return start;
    start += width;
  }
  return start;
}

static void
sb_table_line_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  SbTableLine *line = SB_TABLE_LINE (widget);
  measure_columns (line->columns);
  *minimum = 0;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    for (guint i = 0; i < line->cells->len; i++)
      *minimum += width_of (line, i);
  else if (line->cells->len > 0)
    *minimum
        = g_array_index (line->cells, Cell, 0).is.heading ? line->columns->heading_height : line->columns->row_height;
  *natural = *minimum;
}

/* The layout with its right edge at x + width, or its left edge at x; gives its width. */
static int
append_layout (GtkSnapshot *snapshot, PangoLayout *layout, const GdkRGBA *colour, gboolean left, int x, int y,
               int width)
{
  PangoRectangle extents;
  pango_layout_get_pixel_extents (layout, NULL, &extents);
  int at = (left ? x : x + width - extents.width) - extents.x;
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) at, (float) y));
  gtk_snapshot_append_layout (snapshot, layout, colour);
  gtk_snapshot_restore (snapshot);
  return extents.width;
}

static void
append_mark (GtkSnapshot *snapshot, PangoLayout *mark, const GdkRGBA *colour, int right, int y, int line_height)
{
  int width, height;
  pango_layout_get_pixel_size (mark, &width, &height);
  int x = right - DOUBT_SIDE_PX - width;
  y += (line_height - height) / 2;
  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (
      &outline,
      &GRAPHENE_RECT_INIT ((float) (x - DOUBT_SIDE_PX), (float) y, (float) (width + 2 * DOUBT_SIDE_PX), (float) height),
      (float) height / 2);
  const float thin[4] = { 1, 1, 1, 1 };
  const GdkRGBA colours[4] = { *colour, *colour, *colour, *colour };
  gtk_snapshot_append_border (snapshot, &outline, thin, colours);
  append_layout (snapshot, mark, colour, TRUE, x, y, width);
}

static GdkRGBA
faded (GdkRGBA colour, float opacity)
{
  colour.alpha *= opacity;
  return colour;
}

static void
snapshot_cell (SbTableLine *line, GtkSnapshot *snapshot, const Cell *cell, int x, int width)
{
  GdkRGBA colour, detail_colour;
  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (line)), &colour);
  detail_colour = faded (colour, DETAIL_OPACITY);
  if (cell->is.dim)
    colour = faded (colour, DIM_OPACITY);
  gboolean left = cell->is.left;
  int y = cell->is.heading ? gtk_widget_get_height (GTK_WIDGET (line)) - cell->height : 0;
  x += PADDING_PX;
  width -= 2 * PADDING_PX;
  if (cell->is.style >= 0) {
    int at = left ? x : x + width - SB_CURVE_SAMPLE_WIDTH_PX;
    sb_curve_sample_snapshot (snapshot, (guint) cell->is.style, at, y);
    y += SB_CURVE_SAMPLE_HEIGHT_PX + SAMPLE_GAP_PX;
  }
  int value_width = append_layout (snapshot, cell->value, &colour, left, x, y, width), value_height;
  pango_layout_get_pixel_size (cell->value, NULL, &value_height);
  if (cell->mark != NULL)
    append_mark (snapshot, cell->mark, &colour, x + width - value_width - DOUBT_GAP_PX, y, value_height);
  append_layout (snapshot, cell->detail, &detail_colour, left, x, y + value_height, width);
}

static void
sb_table_line_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SbTableLine *line = SB_TABLE_LINE (widget);
  int x = 0;
  gboolean scrolled = line->first >= FIRST_SCROLLED;
  for (guint i = 0; i < line->cells->len; i++) {
    int end = x + width_of (line, i);
    if (!scrolled || is_seen_whole (line->columns, x, end))
      snapshot_cell (line, snapshot, &g_array_index (line->cells, Cell, i), x, end - x);
    x = end;
  }
}

/* Another font makes other layouts of the same texts. */
static void
sb_table_line_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  SbTableLine *line = SB_TABLE_LINE (widget);
  GTK_WIDGET_CLASS (sb_table_line_parent_class)->css_changed (widget, change);
  for (guint i = 0; i < line->cells->len; i++) {
    Cell *cell = &g_array_index (line->cells, Cell, i);
    pango_layout_context_changed (cell->value);
    pango_layout_context_changed (cell->detail);
    if (cell->mark != NULL)
      pango_layout_context_changed (cell->mark);
  }
  invalidate (line->columns);
}

static void
sb_table_line_dispose (GObject *object)
{
  SbTableLine *line = SB_TABLE_LINE (object);
  if (line->columns != NULL) {
    g_ptr_array_remove_fast (line->columns->lines, line);
    invalidate (line->columns);
  }
  g_clear_pointer (&line->columns, sb_table_columns_unref);
  g_array_set_size (line->cells, 0);
  G_OBJECT_CLASS (sb_table_line_parent_class)->dispose (object);
}

static void
sb_table_line_finalize (GObject *object)
{
  g_array_unref (SB_TABLE_LINE (object)->cells);
  G_OBJECT_CLASS (sb_table_line_parent_class)->finalize (object);
}

static void
sb_table_line_class_init (SbTableLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sb_table_line_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_table_line_finalize;
  widget_class->measure = sb_table_line_measure;
  widget_class->snapshot = sb_table_line_snapshot;
  widget_class->css_changed = sb_table_line_css_changed;
  gtk_widget_class_set_css_name (widget_class, "tableline");
}

static void
sb_table_line_init (SbTableLine *line)
{
  line->cells = g_array_new (FALSE, FALSE, sizeof (Cell));
  g_array_set_clear_func (line->cells, clear_cell);
}

GtkWidget *
sb_table_line_new (SbTableColumns *columns, guint first, GtkAccessibleRole role)
{
  SbTableLine *line = g_object_new (SB_TYPE_TABLE_LINE, "accessible-role", role, NULL);
  line->columns = sb_table_columns_ref (columns);
  line->first = first;
  g_ptr_array_add (columns->lines, line);
  return GTK_WIDGET (line);
}
