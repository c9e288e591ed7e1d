/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pdf_paper.h"

#include <math.h>
#include <string.h>

#define LARGEST_PT  8.0
#define READABLE_PT 6.5
#define SMALLEST_PT 5.5
#define STEP_PT     0.5
#define N_SIZES     6   /* from the largest to the smallest */
#define GAP         9.0 /* between columns */
#define PADDING     2.0 /* above and below a row's text */

#define MOST_COLUMNS 64 /* as many bits as a table has for them */

/* The widths of the columns at one size of text: on one line, and at least. */
typedef struct {
  double size_pt;
  double whole[MOST_COLUMNS], least[MOST_COLUMNS], width[MOST_COLUMNS];
} Columns;

/* A table as it will be set. */
typedef struct {
  Columns columns;
  double height;       /* of all rows */
  double row_height[]; /* the heading is row 0 */
} Measured;

static gboolean
has_bit (guint64 bits, guint column)
{
  return (bits >> column & 1) != 0;
}

static void
set_cell (SbPdfPaper *paper, const SbReportTable *table, guint row, guint column, double size_pt, double width)
{
  gboolean code = has_bit (table->code, column) && row > 0, left = has_bit (table->left, column);
  SbPdfFont font = { code ? size_pt * 0.8 : size_pt, row == 0, code, SB_PDF_INK };
  sb_pdf_set_font (paper, &font);
  pango_layout_set_alignment (paper->text, left ? PANGO_ALIGN_LEFT : PANGO_ALIGN_RIGHT);
  pango_layout_set_wrap (paper->text, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_width (paper->text, width > 0 ? (int) (width * PANGO_SCALE) : -1);
  pango_layout_set_text (paper->text, sb_report_table_cell (table, row, column), -1);
}

static double
text_width (SbPdfPaper *paper)
{
  int width;
  pango_layout_get_size (paper->text, &width, NULL);
  return (double) width / PANGO_SCALE;
}

/* The widest part of a cell that cannot be broken; digits that may be are taken to fit in half. */
static double
least_width (SbPdfPaper *paper, const SbReportTable *table, guint row, guint column, double size_pt, double whole)
{
  if (has_bit (table->code, column) && row > 0)
    return whole / 2;
  set_cell (paper, table, row, column, size_pt, 0);
  pango_layout_set_wrap (paper->text, PANGO_WRAP_WORD);
  pango_layout_set_width (paper->text, PANGO_SCALE);
  PangoRectangle ink, logical;
  pango_layout_get_extents (paper->text, &ink, &logical);
  return (double) logical.width / PANGO_SCALE;
}

static void
measure_columns (SbPdfPaper *paper, const SbReportTable *table, double size_pt, Columns *columns)
{
  columns->size_pt = size_pt;
  for (guint c = 0; c < table->n_columns; c++) {
    columns->whole[c] = columns->least[c] = 0;
    for (guint row = 0; row < sb_report_table_rows (table); row++) {
      set_cell (paper, table, row, c, size_pt, 0);
      double whole = text_width (paper);
      columns->whole[c] = fmax (columns->whole[c], whole);
      if (whole > columns->least[c])
        columns->least[c] = fmax (columns->least[c], least_width (paper, table, row, c, size_pt, whole));
    }
  }
}

static double
sum_of (const double *width, guint n)
{
  double sum = 0;
  for (guint c = 0; c < n; c++)
    sum += width[c];
  return sum;
}

/* Each column as wide as its text when all fit; else each gives up its share of what can be broken. FALSE: not even
 * that is enough at this size. */
static gboolean
share_out (Columns *columns, guint n, double room)
{
  double whole = sum_of (columns->whole, n), least = sum_of (columns->least, n);
  for (guint c = 0; c < n; c++) {
    double spare = columns->whole[c] - columns->least[c];
    if (whole <= room)
      columns->width[c] = columns->whole[c] + 0.5;
    else if (least <= room)
      columns->width[c] = columns->least[c] + spare * (room - least) / (whole - least);
    else
      columns->width[c] = columns->least[c] * room / least;
  }
  return whole <= room || least <= room;
}

static double
size_pt (int i)
{
  return LARGEST_PT - i * STEP_PT;
}

/* Smaller text on one line reads better than broken cells, down to a size; then cells are broken before it shrinks
 * further. */
static void
find_widths (SbPdfPaper *paper, const SbReportTable *table, Columns *columns)
{
  double room = paper->right - paper->left - GAP * (table->n_columns - 1);
  Columns tried[N_SIZES];
  for (int i = 0; size_pt (i) >= READABLE_PT - 0.01; i++) {
    measure_columns (paper, table, size_pt (i), &tried[i]);
    *columns = tried[i];
    if (sum_of (columns->whole, table->n_columns) <= room && share_out (columns, table->n_columns, room))
      return;
  }
  for (int i = 0; i < N_SIZES; i++) {
    if (size_pt (i) < READABLE_PT - 0.01)
      measure_columns (paper, table, size_pt (i), &tried[i]);
    *columns = tried[i];
    if (share_out (columns, table->n_columns, room))
      return;
  }
}

static double
row_height (SbPdfPaper *paper, const SbReportTable *table, const Columns *columns, guint row)
{
  double height = 0;
  for (guint c = 0; c < table->n_columns; c++) {
    int h;
    set_cell (paper, table, row, c, columns->size_pt, columns->width[c]);
    pango_layout_get_size (paper->text, NULL, &h);
    height = fmax (height, (double) h / PANGO_SCALE);
  }
  return height + 2 * PADDING;
}

static void
rule (SbPdfPaper *paper, const SbReportTable *table, const Columns *columns, double width, double grey)
{
  double end = paper->left + sum_of (columns->width, table->n_columns) + GAP * (table->n_columns - 1);
  cairo_set_source_rgb (paper->cr, grey, grey, grey);
  cairo_set_line_width (paper->cr, width);
  cairo_move_to (paper->cr, paper->left, paper->y);
  cairo_line_to (paper->cr, fmin (end, paper->right), paper->y);
  cairo_stroke (paper->cr);
}

static void
set_row (SbPdfPaper *paper, const SbReportTable *table, const Columns *columns, guint row, double height)
{
  double x = paper->left;
  for (guint c = 0; paper->n_pages > 0 && c < table->n_columns; c++) {
    set_cell (paper, table, row, c, columns->size_pt, columns->width[c]);
    cairo_set_source_rgb (paper->cr, SB_PDF_INK.red, SB_PDF_INK.green, SB_PDF_INK.blue);
    cairo_move_to (paper->cr, x, paper->y + PADDING);
    pango_cairo_show_layout (paper->cr, paper->text);
    x += columns->width[c] + GAP;
  }
  paper->y += height;
  if (paper->n_pages > 0)
    rule (paper, table, columns, row == 0 ? 1 : 0.4, row == 0 ? 0.35 : 0.82);
}

static gboolean
can_be_set (const SbReportTable *table)
{
  return table->n_columns > 0 && table->n_columns <= MOST_COLUMNS;
}

/* Measured once for all passes over the report, as that takes most of its time. Belongs to the paper. */
static const Measured *
measured (SbPdfPaper *paper, const SbReportTable *table)
{
  Measured *known = g_hash_table_lookup (paper->tables, table);
  if (known != NULL)
    return known;
  guint n_rows = sb_report_table_rows (table);
  known = g_malloc0 (sizeof (Measured) + n_rows * sizeof (double));
  find_widths (paper, table, &known->columns);
  for (guint row = 0; row < n_rows; row++)
    known->height += known->row_height[row] = row_height (paper, table, &known->columns, row);
  pango_layout_set_alignment (paper->text, PANGO_ALIGN_LEFT);
  g_hash_table_insert (paper->tables, GSIZE_TO_POINTER ((gsize) table), known);
  return known;
}

double
sb_pdf_table_height (SbPdfPaper *paper, const SbReportTable *table, double *beginning)
{
  *beginning = 0;
  if (!can_be_set (table))
    return 0;
  const Measured *known = measured (paper, table);
  for (guint row = 0; row < MIN (3, sb_report_table_rows (table)); row++)
    *beginning += known->row_height[row];
  return known->height;
}

void
sb_pdf_table (SbPdfPaper *paper, const SbReportTable *table)
{
  if (!can_be_set (table))
    return;
  const Measured *known = measured (paper, table);
  guint n_rows = sb_report_table_rows (table);
  set_row (paper, table, &known->columns, 0, known->row_height[0]);
  for (guint row = 1; row < n_rows; row++) {
    double last = row + 2 == n_rows ? known->row_height[row + 1] : 0; /* which must not stand alone */
    if (sb_pdf_need (paper, known->row_height[row] + last))
      set_row (paper, table, &known->columns, 0, known->row_height[0]);
    set_row (paper, table, &known->columns, row, known->row_height[row]);
  }
  pango_layout_set_alignment (paper->text, PANGO_ALIGN_LEFT);
}
