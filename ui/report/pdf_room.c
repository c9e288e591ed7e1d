/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must not be parted by the end of a page: a heading from what it heads, a table that one page holds, a table from
 * the sentence below that explains it, the first lines of a paragraph. */
#include "pdf_paper.h"

#include <math.h>

/* The chart is no taller than this share of a page. */
#define TALLEST_CHART 0.62

SbPdfFont
sb_pdf_heading_font (guint level)
{
  return (SbPdfFont){ level == 2 ? 13 : 10.5, TRUE, FALSE, SB_PDF_INK };
}

double
sb_pdf_heading_space (guint level)
{
  return level == 2 ? 14 : 7;
}

double
sb_pdf_heading_height (SbPdfPaper *paper, const SbReportBlock *heading)
{
  SbPdfFont font = sb_pdf_heading_font (heading->level);
  int n_lines = sb_pdf_count_lines (paper, &font, heading->text, 0);
  return sb_pdf_heading_space (heading->level) + n_lines * font.size_pt * SB_PDF_LEADING + SB_PDF_HEADING_GAP;
}

double
sb_pdf_chart_height (const SbPdfPaper *paper, const SbChartModel *model)
{
  const SbPaper *own = &model->analysis->bench->chart.paper;
  double width = paper->right - paper->left, tallest = TALLEST_CHART * (paper->bottom - paper->top);
  return fmin (width * own->height_mm / own->width_mm, tallest);
}

/* The first lines of a text; with `all`, every line. */
static double
text_height (SbPdfPaper *paper, const char *text, double indent, gboolean all)
{
  SbPdfFont font = SB_PDF_BODY;
  int n_lines = sb_pdf_count_lines (paper, &font, text, indent);
  return (all ? n_lines : sb_pdf_lines_together (0, n_lines)) * font.size_pt * SB_PDF_LEADING;
}

static const SbReportBlock *
block_at (const SbReportDocument *document, guint i)
{
  return i < document->blocks->len ? g_ptr_array_index (document->blocks, i) : NULL;
}

/* Whole, with the paragraph below it, where a page holds that under the headings; else whole; else its beginning. */
static double
table_together (SbPdfPaper *paper, const SbReportDocument *document, guint i, double headings)
{
  double beginning, page = paper->bottom - paper->top - headings;
  double whole = sb_pdf_table_height (paper, block_at (document, i)->table, &beginning);
  const SbReportBlock *below = block_at (document, i + 1);
  double explained = whole;
  if (below != NULL && below->kind == SB_BLOCK_PARAGRAPH)
    explained += SB_PDF_TABLE_GAP + text_height (paper, below->text, 0, TRUE);
  return explained <= page ? explained : whole <= page ? whole : beginning;
}

double
sb_pdf_together (SbPdfPaper *paper, const SbReportDocument *document, guint i, double headings)
{
  const SbReportBlock *block = block_at (document, i);
  if (block == NULL)
    return 0;
  switch (block->kind) {
  case SB_BLOCK_HEADING: {
    double height = sb_pdf_heading_height (paper, block);
    return height + sb_pdf_together (paper, document, i + 1, headings + height);
  }
  case SB_BLOCK_TABLE:
    return table_together (paper, document, i, headings);
  case SB_BLOCK_CHART:
    return sb_pdf_chart_height (paper, document->model);
  case SB_BLOCK_LIST:
    return block->items->len > 0 ? text_height (paper, g_ptr_array_index (block->items, 0), SB_PDF_INDENT, FALSE) : 0;
  case SB_BLOCK_CARE:
  case SB_BLOCK_PARAGRAPH:
    break;
  }
  return text_height (paper, block->text, 0, FALSE);
}
