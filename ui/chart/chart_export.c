/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_export.h"

#include "chart_painter.h"
#include "durable_file.h"
#include "file_facts.h"
#include "png_writer.h"
#include "proof_file.h"
#include "svg_file.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <gio/gio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#define HUGE_PAGE     ((gsize) 2 << 20)
#define MM_PER_INCH   25.4
#define PT_PER_INCH   72.0
#define SMALLEST_MM   10.0
#define LARGEST_MM    2000.0
#define SMALLEST_DPI  36.0
#define LARGEST_DPI   2400.0
#define SMALLEST_FONT 1.0
#define LARGEST_FONT  200.0

/* Bound of cairo's image surfaces, and 400 MB. */
#define LARGEST_SIDE_PX 32767.0
#define LARGEST_PIXELS  1e8

#define PROGRAM "Slewbench " SB_VERSION

G_DEFINE_QUARK (sb_chart_error_quark, sb_chart_error)

gboolean
sb_chart_format_from_path (const char *path, SbChartFormat *format, GError **error)
{
  static const char *const endings[] = { [SB_CHART_PNG] = ".png", [SB_CHART_SVG] = ".svg", [SB_CHART_PDF] = ".pdf" };
  g_autofree char *lower = g_ascii_strdown (path, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (lower, endings[i])) {
      *format = (SbChartFormat) i;
      return TRUE;
    }
  g_autofree char *name = g_path_get_basename (path);
  g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_FORMAT,
               "%s: cannot tell which kind of picture is wanted. Give the file a name that ends in .png, .svg or .pdf.",
               name);
  return FALSE;
}

static double
pixels (double mm, double dpi)
{
  return fmax (1, round (mm / MM_PER_INCH * dpi));
}

SbChartSize
sb_chart_size_of (const SbPaper *paper)
{
  return (SbChartSize){ paper->width_mm, paper->height_mm, paper->dpi, paper->font_pt };
}

static gboolean
is_within (double value, double low, double high)
{
  return value >= low && value <= high; /* and no NaN */
}

gboolean
sb_chart_size_check (const SbChartSize *size, SbChartFormat format, GError **error)
{
  if (!is_within (size->width_mm, SMALLEST_MM, LARGEST_MM) || !is_within (size->height_mm, SMALLEST_MM, LARGEST_MM)) {
    g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE,
                 "A chart of %.6g mm by %.6g mm cannot be made. Choose a width and a height of 10 to 2000 mm.",
                 size->width_mm, size->height_mm);
    return FALSE;
  }
  if (!is_within (size->font_pt, SMALLEST_FONT, LARGEST_FONT)) {
    g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE,
                 "Text of %.6g pt cannot be set. Choose a size of 1 to 200 pt; 8 is usual.", size->font_pt);
    return FALSE;
  }
  if (format != SB_CHART_PNG)
    return TRUE;
  if (!is_within (size->dpi, SMALLEST_DPI, LARGEST_DPI)) {
    g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE,
                 "A resolution of %.6g dpi cannot be made. Choose 36 to 2400 dpi; 300 is usual.", size->dpi);
    return FALSE;
  }
  double width = pixels (size->width_mm, size->dpi), height = pixels (size->height_mm, size->dpi);
  if (width > LARGEST_SIDE_PX || height > LARGEST_SIDE_PX || width * height > LARGEST_PIXELS) {
    g_set_error (
        error, SB_CHART_ERROR, SB_CHART_ERROR_SIZE,
        "A picture of %.0f by %.0f pixels is too large. Choose fewer dpi or a smaller size, or export as SVG or "
        "PDF, which have no pixels.",
        width, height);
    return FALSE;
  }
  return TRUE;
}

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
paint_on (const SbChartModel *model, cairo_surface_t *surface, const SbChartSize *size, double scale_x, double scale_y)
{
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale_x, scale_y);
  sb_chart_paint (model, cr, size->width_mm / MM_PER_INCH * PT_PER_INCH, size->height_mm / MM_PER_INCH * PT_PER_INCH,
                  size->font_pt, NULL);
  cairo_destroy (cr);
}

static gboolean
check_surface (cairo_surface_t *surface, GError **error)
{
  cairo_status_t status = cairo_surface_status (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_WRITE,
               "The picture could not be made: %s. Try a smaller size or another format.",
               cairo_status_to_string (status));
  return FALSE;
}

/* A picture for print has thousands of small pages, and the first touch of each costs more than painting on it: huge
 * ones are asked for. The memory goes with the surface, and the painter fills all of it. */
static cairo_surface_t *
make_image (int width, int height, cairo_format_t format)
{
  static const cairo_user_data_key_t memory;
  int stride = cairo_format_stride_for_width (format, width);
  gsize size = (gsize) stride * (gsize) height;
  gsize rounded = (size + HUGE_PAGE - 1) / HUGE_PAGE * HUGE_PAGE;
  void *pixels = aligned_alloc (HUGE_PAGE, rounded);
  if (pixels == NULL)
    return cairo_image_surface_create (format, width, height); /* which says so in its own way */
  madvise (pixels, rounded, MADV_HUGEPAGE);
  if (format == CAIRO_FORMAT_ARGB32)
    memset (pixels, 0, rounded); /* the painter leaves the ground as it is */
  cairo_surface_t *surface = cairo_image_surface_create_for_data (pixels, format, width, height, stride);
  if (cairo_surface_set_user_data (surface, &memory, pixels, free) != CAIRO_STATUS_SUCCESS)
    free (pixels); /* the surface is in error and will not touch it */
  return surface;
}

static GBytes *
render_png (const SbChartModel *model, const SbChartSize *size, GError **error)
{
  int width = (int) pixels (size->width_mm, size->dpi), height = (int) pixels (size->height_mm, size->dpi);
  cairo_surface_t *surface = make_image (
      width, height, sb_ground_is_transparent (model->paper.ground) ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24);
  paint_on (model, surface, size, width / (size->width_mm / MM_PER_INCH * PT_PER_INCH),
            height / (size->height_mm / MM_PER_INCH * PT_PER_INCH));
  cairo_surface_flush (surface);
  GBytes *png = NULL;
  if (check_surface (surface, error)) {
    g_auto (SbFileFacts) own = { 0 };
    sb_file_facts_init (&own, model);
    const SbPngText texts[] = {
      { "Title", own.title },
      { "Description", own.description },
      { "Software", PROGRAM },
      { SB_PROOF_PNG_KEYWORD, own.proof },
    };
    SbPngFacts facts = { size->dpi, texts, G_N_ELEMENTS (texts) };
    png = sb_png_write (surface, &facts);
  }
  cairo_surface_destroy (surface);
  return png;
}

static GBytes *
render_svg (const SbChartModel *model, const SbChartSize *size, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (
      append_bytes, bytes, size->width_mm / MM_PER_INCH * PT_PER_INCH, size->height_mm / MM_PER_INCH * PT_PER_INCH);
  paint_on (model, surface, size, 1, 1);
  cairo_surface_finish (surface);
  gboolean is_good = check_surface (surface, error);
  cairo_surface_destroy (surface);
  if (!is_good)
    return NULL;
  g_auto (SbFileFacts) facts = { 0 };
  sb_file_facts_init (&facts, model);
  return sb_svg_file (bytes, size->width_mm, size->height_mm, &facts);
}

static GBytes *
render_pdf (const SbChartModel *model, const SbChartSize *size, GError **error)
{
  g_auto (SbFileFacts) facts = { 0 };
  sb_file_facts_init (&facts, model);
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (
      append_bytes, bytes, size->width_mm / MM_PER_INCH * PT_PER_INCH, size->height_mm / MM_PER_INCH * PT_PER_INCH);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, facts.title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, facts.description);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_KEYWORDS, facts.proof);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, PROGRAM);
  paint_on (model, surface, size, 1, 1);
  cairo_surface_finish (surface);
  gboolean is_good = check_surface (surface, error);
  cairo_surface_destroy (surface);
  g_autoptr (GBytes) pdf = g_byte_array_free_to_bytes (bytes);
  return is_good ? g_steal_pointer (&pdf) : NULL;
}

GBytes *
sb_chart_render (const SbChartModel *model, SbChartFormat format, const SbChartSize *size, GError **error)
{
  g_return_val_if_fail (model != NULL && size != NULL, NULL);
  if (!sb_chart_size_check (size, format, error))
    return NULL;
  if (model->panels->len == 0) {
    g_set_error (
        error, SB_CHART_ERROR, SB_CHART_ERROR_EMPTY, "There is nothing to draw. %s",
        model->absent_reason != NULL
            ? model->absent_reason
            : "Draw a configuration that has at least one usable, included log with the channels of the panels.");
    return NULL;
  }
  switch (format) {
  case SB_CHART_PNG:
    return render_png (model, size, error);
  case SB_CHART_SVG:
    return render_svg (model, size, error);
  case SB_CHART_PDF:
    return render_pdf (model, size, error);
  case SB_N_CHART_FORMATS:
    break;
  }
  g_assert_not_reached ();
}

gboolean
sb_chart_export (const SbChartModel *model, const char *path, const SbChartSize *size, GError **error)
{
  SbChartFormat format;
  if (!sb_chart_format_from_path (path, &format, error))
    return FALSE;
  g_autoptr (GBytes) bytes = sb_chart_render (model, format, size, error);
  if (bytes == NULL)
    return FALSE;
  gsize n;
  const char *data = g_bytes_get_data (bytes, &n);
  g_autoptr (GError) failure = NULL;
  if (sb_durable_file_write (path, data, n, &failure))
    return TRUE;
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, SB_CHART_ERROR, SB_CHART_ERROR_WRITE,
               "%s could not be written: %s. Choose another folder or name.", shown, failure->message);
  return FALSE;
}
