/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_fit.h"

#include "paint.h"

#include <math.h>

#define PT_PER_MM (72 / 25.4)

/* Larger papers are tried in such steps, so often: five times as large at most. */
#define LARGER      1.15
#define MOST_LARGER 11

/* Named papers are whole multiples of it, mm. */
#define ROUND_MM 5.0

/* How a chart would come out on a paper. */
typedef struct {
  double font_pt;
  double names_pt; /* of the value axes */
  gboolean legend_moved;
  gboolean title_cut;
  guint n_below; /* labels and callouts without a place in the panels */
  gboolean counts_below;
} Outcome;

/* Labels of figures that are nowhere on their curve stand below on every paper; where labels are counted there, so are
 * they. */
static guint
count_below (const SbPaint *paint)
{
  guint n = paint->callouts_below->len;
  for (guint i = 0; i < paint->below->len; i++)
    n += !paint->counts_below && isnan (((const SbLabelMark *) g_ptr_array_index (paint->below, i))->y) ? 0 : 1;
  return n;
}

/* Without a picture. TRUE when the text stands at its size. */
static gboolean
lay_out (const SbChartModel *model, cairo_t *cr, double width_mm, double height_mm, double font_pt, Outcome *outcome)
{
  SbPaint paint;
  SbPage page;
  sb_paint_begin (&paint, model, cr);
  sb_page_lay_out (&paint, width_mm * PT_PER_MM, height_mm * PT_PER_MM, font_pt, &page);
  *outcome = (Outcome){ .font_pt = paint.font_pt, .legend_moved = page.legend_moved };
  outcome->names_pt = sb_text_pt (&paint, SB_TEXT_VALUE);
  outcome->title_cut = sb_text_is_cut (&paint, SB_TEXT_TITLE, model->title, page.title.width, SB_TITLE_LINES);
  if (paint.below != NULL)
    outcome->n_below = count_below (&paint);
  outcome->counts_below = paint.counts_below;
  sb_paint_end (&paint);
  return outcome->font_pt > font_pt * (1 - 1e-9);
}

/* FALSE: not by more height or more width alone. */
static gboolean
find_paper (const SbChartModel *model, cairo_t *cr, const SbChartSize *size, double *width_mm, double *height_mm)
{
  Outcome unused;
  for (int side = 0; side < 2; side++)
    for (int k = 1; k <= MOST_LARGER; k++) {
      double larger = pow (LARGER, k);
      *width_mm = side == 0 ? size->width_mm : ceil (size->width_mm * larger / ROUND_MM) * ROUND_MM;
      *height_mm = side == 1 ? size->height_mm : ceil (size->height_mm * larger / ROUND_MM) * ROUND_MM;
      if (lay_out (model, cr, *width_mm, *height_mm, size->font_pt, &unused))
        return TRUE;
    }
  return FALSE;
}

/* Of a chart whose text stands at its size; NULL: it is as it was asked for. */
static char *
advise_on_places (const Outcome *found)
{
  if (found->names_pt < SB_LEAST_READ_PT) {
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    return g_strdup_printf (
        "the names of the value axes are set at %s pt, which is hardly read in print, to stand beside "
        "panels so low: a larger height or fewer panels would do",
        g_ascii_formatd (digits, sizeof digits, "%.1f", found->names_pt));
  }
  if (found->legend_moved)
    return g_strdup ("the legend stands below: its names are too wide for the right side of this size");
  if (found->n_below == 0)
    return NULL;
  gboolean one = found->n_below == 1;
  if (found->counts_below)
    return g_strdup_printf (
        "%u label%s no place in the panels and %s counted below them, as their words would take too "
        "much room: a larger size or fewer labels would do",
        found->n_below, one ? " has" : "s have", one ? "is" : "are");
  return g_strdup_printf ("%u label%s no place in the panels and stand%s in words below them: a larger size or fewer "
                          "labels would do",
                          found->n_below, one ? " has" : "s have", one ? "s" : "");
}

/* NULL: all is as it was asked for. (transfer full) */
static char *
advise (const SbChartModel *model, cairo_t *cr, const SbChartSize *size, const Outcome *found, gboolean stands)
{
  double width_mm, height_mm;
  if (stands)
    return advise_on_places (found);
  GString *text = g_string_new (NULL);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append_printf (text, "the text is set at %s pt",
                          g_ascii_formatd (digits, sizeof digits, "%.1f", found->font_pt));
  g_autofree char *asked = sb_number_plain (size->font_pt), *width = sb_number_plain (size->width_mm),
                  *height = sb_number_plain (size->height_mm);
  g_string_append_printf (text, " in place of %s pt: %s × %s mm is too small for all of it. ", asked, width, height);
  if (find_paper (model, cr, size, &width_mm, &height_mm)) {
    g_autofree char *wide = sb_number_plain (width_mm), *high = sb_number_plain (height_mm);
    g_string_append_printf (text, "%s × %s mm would do, or less on it: no foot line, no legend, fewer panels", wide,
                            high);
  } else {
    g_string_append (text, "Choose a larger size, or less on it: no foot line, no legend, fewer panels");
  }
  return g_string_free (text, FALSE);
}

/* A title that is cut is told beside all else. (transfer full) */
static char *
advise_on_title (const Outcome *found)
{
  return found->title_cut ? g_strdup_printf ("the title is cut: it has no room in %d lines; a shorter one or a larger "
                                             "width would do",
                                             SB_TITLE_LINES)
                          : NULL;
}

char *
sb_chart_fit_advice (const SbChartModel *model, const SbChartSize *size)
{
  /* What cannot be made at all is an error of its own; only a PNG has pixels to be too many. */
  if (model->panels->len == 0 || !sb_chart_size_check (size, SB_CHART_PDF, NULL))
    return NULL;
  if (size->font_pt < SB_LEAST_READ_PT) {
    g_autofree char *asked = sb_number_plain (size->font_pt);
    return g_strdup_printf ("text of %s pt is hardly read in print: 5 pt is the least that journals take", asked);
  }
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (surface);
  Outcome found;
  gboolean stands = lay_out (model, cr, size->width_mm, size->height_mm, size->font_pt, &found);
  g_autofree char *title = advise_on_title (&found), *rest = advise (model, cr, size, &found, stands);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  if (title == NULL || rest == NULL)
    return g_strdup (title != NULL ? title : rest);
  return g_strconcat (title, ". Besides, ", rest, NULL);
}
