/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pdf_pages.h"

#include "chart_export.h"
#include "chart_painter.h"
#include "pdf_paper.h"

#include <string.h>

#define FAMILIES "Inter, DejaVu Sans, sans-serif"
#define CODE     "DejaVu Sans Mono, monospace"

#define PT_PER_MM  (72 / 25.4)
#define MARGIN     (16 * PT_PER_MM)
#define FOOT_ROOM  18.0
#define FOOT_PT    7.5
#define CARE_INSET 8.0

static const struct {
  const char *key;
  double width_pt, height_pt;
} sheets[SB_N_PAPER_SIZES] = {
  [SB_PAPER_SIZE_A4] = { "a4", 210 * PT_PER_MM, 297 * PT_PER_MM },
  [SB_PAPER_SIZE_LETTER] = { "letter", 8.5 * 72, 11 * 72 },
};

const char *
sb_paper_size_key (SbPaperSize sheet)
{
  return sheets[sheet].key;
}

gboolean
sb_paper_size_from_key (const char *key, SbPaperSize *sheet)
{
  for (int i = 0; i < SB_N_PAPER_SIZES; i++)
    if (strcmp (sheets[i].key, key) == 0) {
      *sheet = (SbPaperSize) i;
      return TRUE;
    }
  return FALSE;
}

void
sb_pdf_set_font (SbPdfPaper *paper, const SbPdfFont *font)
{
  PangoFontDescription *description = pango_font_description_from_string (font->code ? CODE : FAMILIES);
  pango_font_description_set_absolute_size (description, font->size_pt * PANGO_SCALE);
  pango_font_description_set_weight (description, font->bold ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (paper->text, description);
  pango_layout_set_line_spacing (paper->text, 0);
  pango_font_description_free (description);
  cairo_set_source_rgb (paper->cr, font->colour.red, font->colour.green, font->colour.blue);
}

/* The title at the foot of a page, on one line. */
static void
set_running_title (SbPdfPaper *paper, double width, double y)
{
  pango_layout_set_width (paper->text, (int) (width * PANGO_SCALE));
  pango_layout_set_ellipsize (paper->text, PANGO_ELLIPSIZE_END);
  pango_layout_set_text (paper->text, paper->title, -1);
  cairo_move_to (paper->cr, paper->left, y);
  pango_cairo_show_layout (paper->cr, paper->text);
  pango_layout_set_ellipsize (paper->text, PANGO_ELLIPSIZE_NONE);
}

void
sb_pdf_end_page (SbPdfPaper *paper)
{
  if (paper->n_pages == 0)
    return;
  SbPdfFont font = { FOOT_PT, FALSE, FALSE, SB_PDF_FAINT };
  g_autofree char *number = g_strdup_printf ("%d of %d", paper->page, paper->n_pages);
  sb_pdf_set_font (paper, &font);
  pango_layout_set_alignment (paper->text, PANGO_ALIGN_LEFT); /* a cell may have changed it */
  pango_layout_set_width (paper->text, -1);
  pango_layout_set_text (paper->text, number, -1);
  int width;
  pango_layout_get_size (paper->text, &width, NULL);
  double number_width = (double) width / PANGO_SCALE, y = paper->bottom + FOOT_ROOM - FOOT_PT;
  cairo_move_to (paper->cr, paper->right - number_width, y);
  pango_cairo_show_layout (paper->cr, paper->text);
  if (paper->page > 1) /* the first has it as its heading */
    set_running_title (paper, paper->right - paper->left - number_width - 20, y);
  cairo_show_page (paper->cr);
}

gboolean
sb_pdf_need (SbPdfPaper *paper, double height)
{
  if (paper->y + height <= paper->bottom || paper->y <= paper->top)
    return FALSE;
  sb_pdf_end_page (paper);
  paper->page++;
  paper->y = paper->top;
  return TRUE;
}

/* Sets the layout of the paper to the text, wrapped `indent` from the left. */
static void
lay_out (SbPdfPaper *paper, const SbPdfFont *font, const char *text, double indent)
{
  sb_pdf_set_font (paper, font);
  pango_layout_set_width (paper->text, (int) ((paper->right - paper->left - indent) * PANGO_SCALE));
  pango_layout_set_wrap (paper->text, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_text (paper->text, text, -1);
}

/* Each text is asked for several times: before its heading, before its first line, and in each pass. */
int
sb_pdf_count_lines (SbPdfPaper *paper, const SbPdfFont *font, const char *text, double indent)
{
  g_autofree char *key
      = g_strdup_printf ("%d %d %d %s", (int) (font->size_pt * 100), (int) (indent * 100), font->bold, text);
  int n = GPOINTER_TO_INT (g_hash_table_lookup (paper->lines, key));
  if (n > 0)
    return n;
  lay_out (paper, font, text, indent);
  n = pango_layout_get_line_count (paper->text);
  g_hash_table_insert (paper->lines, g_steal_pointer (&key), GINT_TO_POINTER (n));
  return n;
}

int
sb_pdf_lines_together (int line, int n_lines)
{
  if (n_lines <= 3)
    return n_lines - line;
  return line == 0 || line == n_lines - 2 ? 2 : 1;
}

/* Wrapped lines from paper->y on, `indent` from the left; a page may end between two of them. `bold_bytes` at the
 * beginning stand out. */
static void
set_lines (SbPdfPaper *paper, const SbPdfFont *font, const char *text, double indent, guint bold_bytes)
{
  if (bold_bytes > 0) {
    PangoAttrList *attributes = pango_attr_list_new ();
    PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD);
    bold->end_index = bold_bytes;
    pango_attr_list_insert (attributes, bold);
    pango_layout_set_attributes (paper->text, attributes);
    pango_attr_list_unref (attributes);
  }
  double step = font->size_pt * SB_PDF_LEADING;
  int n = sb_pdf_count_lines (paper, font, text, indent);
  for (int i = 0; i < n; i++) {
    gboolean begun = sb_pdf_need (paper, sb_pdf_lines_together (i, n) * step);
    if (paper->n_pages > 0) {
      if (i == 0 || begun) /* the foot has used the layout */
        lay_out (paper, font, text, indent);
      cairo_move_to (paper->cr, paper->left + indent, paper->y + font->size_pt);
      pango_cairo_show_layout_line (paper->cr, pango_layout_get_line_readonly (paper->text, i));
    }
    paper->y += step;
  }
  pango_layout_set_attributes (paper->text, NULL);
}

/* Headings by level: the ids that the outline has for them, so that one level lies within the other. */
typedef struct {
  int title, section;
} Outline;

static void
add_outline (SbPdfPaper *paper, int *id, int parent, const char *text)
{
  g_autofree char *where = NULL;
  char y[G_ASCII_DTOSTR_BUF_SIZE], x[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (x, sizeof x, "%.1f", paper->left);
  g_ascii_formatd (y, sizeof y, "%.1f", paper->y);
  where = g_strdup_printf ("page=%d pos=[%s %s]", paper->page, x, y);
  *id = cairo_pdf_surface_add_outline (paper->surface, parent, text, where, CAIRO_PDF_OUTLINE_FLAG_OPEN);
}

static void
set_heading (SbPdfPaper *paper, const SbReportBlock *block, Outline *outline)
{
  SbPdfFont font = sb_pdf_heading_font (block->level);
  if (paper->y > paper->top)
    paper->y += sb_pdf_heading_space (block->level);
  int id;
  add_outline (paper, &id, block->level == 2 ? outline->title : outline->section, block->text);
  if (block->level == 2)
    outline->section = id;
  set_lines (paper, &font, block->text, 0, 0);
  paper->y += SB_PDF_HEADING_GAP;
}

static void
set_care (SbPdfPaper *paper, const SbReportBlock *block)
{
  SbPdfFont font = SB_PDF_BODY;
  g_autofree char *text = g_strdup_printf ("%s %s", block->lead, block->text);
  paper->y += 4;
  double top = paper->y;
  int page = paper->page;
  set_lines (paper, &font, text, 2 * CARE_INSET, (guint) strlen (block->lead));
  if (page == paper->page) {
    cairo_set_source_rgb (paper->cr, 0.70, 0.33, 0.12);
    cairo_rectangle (paper->cr, paper->left, top, 3, paper->y - top + 2);
    cairo_fill (paper->cr);
  }
  paper->y += 6;
}

static void
set_list (SbPdfPaper *paper, const SbReportBlock *block)
{
  SbPdfFont font = SB_PDF_BODY;
  for (guint i = 0; i < block->items->len; i++) {
    const char *item = g_ptr_array_index (block->items, i);
    int n = sb_pdf_count_lines (paper, &font, item, SB_PDF_INDENT);
    sb_pdf_need (paper, sb_pdf_lines_together (0, n) * font.size_pt * SB_PDF_LEADING); /* before its dot */
    cairo_set_source_rgb (paper->cr, SB_PDF_INK.red, SB_PDF_INK.green, SB_PDF_INK.blue);
    cairo_new_path (paper->cr);
    cairo_arc (paper->cr, paper->left + 3, paper->y + font.size_pt * 0.66, 1.2, 0, 2 * G_PI);
    cairo_fill (paper->cr);
    set_lines (paper, &font, item, SB_PDF_INDENT, 0);
    paper->y += 2;
  }
  paper->y += 4;
}

/* As wide as the text, in the proportions of its own paper. */
static void
set_chart (SbPdfPaper *paper, const SbChartModel *model)
{
  double width = paper->right - paper->left, height = sb_pdf_chart_height (paper, model);
  sb_pdf_need (paper, height);
  if (paper->n_pages > 0) {
    cairo_save (paper->cr);
    cairo_translate (paper->cr, paper->left, paper->y);
    cairo_rectangle (paper->cr, 0, 0, width, height);
    cairo_clip (paper->cr);
    sb_chart_paint (model, paper->cr, width, height, CLAMP (model->analysis->bench->chart.paper.font_pt, 6, 9), NULL);
    cairo_restore (paper->cr);
  }
  paper->y += height + 4;
}

static void
set_block (SbPdfPaper *paper, const SbReportDocument *document, const SbReportBlock *block, Outline *outline)
{
  SbPdfFont font = SB_PDF_BODY;
  switch (block->kind) {
  case SB_BLOCK_HEADING:
    set_heading (paper, block, outline);
    break;
  case SB_BLOCK_CARE:
    set_care (paper, block);
    break;
  case SB_BLOCK_PARAGRAPH:
    set_lines (paper, &font, block->text, 0, 0);
    paper->y += SB_PDF_PARAGRAPH_GAP;
    break;
  case SB_BLOCK_LIST:
    set_list (paper, block);
    break;
  case SB_BLOCK_TABLE:
    sb_pdf_table (paper, block->table);
    paper->y += SB_PDF_TABLE_GAP;
    break;
  case SB_BLOCK_CHART:
    set_chart (paper, document->model);
    break;
  }
}

/* The look of text must not hang on a screen's settings. */
static PangoLayout *
make_text (cairo_t *cr)
{
  PangoLayout *text = pango_cairo_create_layout (cr);
  PangoContext *context = pango_layout_get_context (text);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_context_set_language (context, pango_language_from_string ("en"));
  cairo_font_options_destroy (options);
  return text;
}

/* Each block where it and what must not part from it have room. */
static void
set_blocks (SbPdfPaper *paper, const SbReportDocument *document, Outline *outline)
{
  double headings = 0; /* height of those right above */
  for (guint i = 0; i < document->blocks->len; i++) {
    const SbReportBlock *block = g_ptr_array_index (document->blocks, i);
    sb_pdf_need (paper, sb_pdf_together (paper, document, i, headings));
    headings = block->kind == SB_BLOCK_HEADING ? headings + sb_pdf_heading_height (paper, block) : 0;
    set_block (paper, document, block, outline);
  }
}

/* What one pass over the report keeps for the next. */
typedef struct {
  GHashTable *tables, *lines; /* as the paper has them */
} Known;

/* Sets the whole report; returns the number of its pages, which are only counted when `n_pages` is 0. */
static int
set_all (const SbReportDocument *document, SbPaperSize sheet, cairo_surface_t *surface, const Known *known, int n_pages)
{
  cairo_t *cr = cairo_create (surface);
  g_autoptr (PangoLayout) text = make_text (cr);
  SbPdfPaper paper = {
    .surface = surface,
    .cr = cr,
    .text = text,
    .title = document->title,
    .tables = known->tables,
    .lines = known->lines,
    .left = MARGIN,
    .right = sheets[sheet].width_pt - MARGIN,
    .top = MARGIN,
    .bottom = sheets[sheet].height_pt - MARGIN - FOOT_ROOM / 2,
    .y = MARGIN,
    .page = 1,
    .n_pages = n_pages,
  };
  SbPdfFont font = { 18, TRUE, FALSE, SB_PDF_INK };
  Outline outline;
  add_outline (&paper, &outline.title, CAIRO_PDF_OUTLINE_ROOT, document->title);
  outline.section = outline.title;
  set_lines (&paper, &font, document->title, 0, 0);
  set_blocks (&paper, document, &outline);
  sb_pdf_end_page (&paper);
  cairo_destroy (cr);
  return paper.page;
}

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  if (closure != NULL)
    g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* How many pages there are: the same without a file. */
static int
count_pages (const SbReportDocument *document, SbPaperSize sheet, const Known *known)
{
  cairo_surface_t *surface
      = cairo_pdf_surface_create_for_stream (append_bytes, NULL, sheets[sheet].width_pt, sheets[sheet].height_pt);
  int n_pages = set_all (document, sheet, surface, known, 0);
  cairo_surface_destroy (surface);
  return n_pages;
}

GBytes *
sb_pdf_pages (const SbReportDocument *document, SbPaperSize sheet, const char *proof, GError **error)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface
      = cairo_pdf_surface_create_for_stream (append_bytes, bytes, sheets[sheet].width_pt, sheets[sheet].height_pt);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, document->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, "Report of step tests, with its data's proof");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_KEYWORDS, proof);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Slewbench " SB_VERSION);
  g_autoptr (GHashTable) tables = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GHashTable) lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  const Known known = { tables, lines };
  set_all (document, sheet, surface, &known, count_pages (document, sheet, &known));
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  g_autoptr (GBytes) pdf = g_byte_array_free_to_bytes (bytes);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_steal_pointer (&pdf);
  g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_WRITE, "The report could not be made as PDF: %s.",
               cairo_status_to_string (status));
  return NULL;
}
