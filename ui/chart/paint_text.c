/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint.h"

#include "chart_points.h"

#include <string.h>

#define FAMILIES "Inter, DejaVu Sans, sans-serif"

typedef struct {
  double size; /* multiple of the size of axis numbers */
  PangoWeight weight;
  SbColour colour;
} TextStyle;

static const TextStyle *
text_style (SbTextRole role)
{
  static const TextStyle styles[SB_N_TEXTS] = {
    [SB_TEXT_TICK] = { 1, PANGO_WEIGHT_NORMAL, { 0.27, 0.29, 0.32 } },
    [SB_TEXT_AXIS] = { 1.06, PANGO_WEIGHT_MEDIUM, { 0.13, 0.14, 0.16 } },
    [SB_TEXT_VALUE] = { 1.06, PANGO_WEIGHT_MEDIUM, { 0.13, 0.14, 0.16 } },
    [SB_TEXT_LEGEND] = { 1, PANGO_WEIGHT_NORMAL, { 0.13, 0.14, 0.16 } },
    [SB_TEXT_TITLE] = { 1.35, PANGO_WEIGHT_SEMIBOLD, { 0.13, 0.14, 0.16 } },
    [SB_TEXT_FOOT] = { 0.94, PANGO_WEIGHT_NORMAL, { 0.36, 0.38, 0.41 } },
  };
  return &styles[role];
}

/* The look of text must not hang on the screen's settings: what is exported is what was shown. */
void
sb_paint_begin (SbPaint *paint, const SbChartModel *model, cairo_t *cr)
{
  *paint = (SbPaint){ .model = model, .cr = cr };
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  paint->text = pango_cairo_create_layout (cr);
  PangoContext *context = pango_layout_get_context (paint->text);
  pango_cairo_context_set_font_options (context, options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_context_set_language (context, pango_language_from_string ("en"));
  pango_layout_context_changed (paint->text);
  cairo_font_options_destroy (options);
}

void
sb_paint_end (SbPaint *paint)
{
  g_clear_object (&paint->text);
  g_clear_pointer (&paint->labels, g_array_unref);
  g_clear_pointer (&paint->callouts, g_array_unref);
  g_clear_pointer (&paint->callouts_below, g_ptr_array_unref);
  g_clear_pointer (&paint->below, g_ptr_array_unref);
  g_clear_pointer (&paint->below_text, g_free);
}

void
sb_paint_set_font (SbPaint *paint, double font_pt)
{
  paint->font_pt = font_pt;
  paint->unit = font_pt / 8;
  paint->value_size = 1;
}

static void
set_text (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines)
{
  const TextStyle *style = text_style (role);
  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family_static (font, FAMILIES);
  pango_font_description_set_weight (font, style->weight);
  double size = role == SB_TEXT_VALUE ? style->size * paint->value_size : style->size;
  pango_font_description_set_absolute_size (font, size * paint->font_pt * PANGO_SCALE);
  pango_layout_set_font_description (paint->text, font);
  pango_font_description_free (font);
  pango_layout_set_width (paint->text, wrap > 0 ? (int) (wrap * PANGO_SCALE) : -1);
  pango_layout_set_wrap (paint->text, role == SB_TEXT_VALUE ? PANGO_WRAP_WORD : PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (paint->text, wrap > 0 ? -max_lines : -1);
  pango_layout_set_ellipsize (paint->text, wrap > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  pango_layout_set_text (paint->text, text, -1);
}

static void
get_size (SbPaint *paint, PangoRectangle *logical, double *width, double *height)
{
  pango_layout_get_extents (paint->text, NULL, logical);
  *width = (double) logical->width / PANGO_SCALE;
  *height = (double) logical->height / PANGO_SCALE;
}

/* All that the size of a text hangs on: advances are rounded in the pixels of what is drawn on. */
static char *
size_key (const SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines)
{
  cairo_matrix_t matrix;
  cairo_get_matrix (paint->cr, &matrix);
  int surface = (int) cairo_surface_get_type (cairo_get_target (paint->cr));
  const double of[] = { paint->font_pt, paint->value_size, wrap, matrix.xx, matrix.yy, role, max_lines, surface };
  g_autofree char *where = g_base64_encode ((const guchar *) of, sizeof of);
  return g_strconcat (where, text, NULL);
}

#define MOST_SIZES 4096

typedef struct {
  double width, height;
} Size;

/* Sizes of texts that this thread has laid out: a chart that is panned or zoomed writes the same names every time. */
static GPrivate sizes_of_thread = G_PRIVATE_INIT ((GDestroyNotify) g_hash_table_unref);

static GHashTable *
known_sizes (void)
{
  GHashTable *sizes = g_private_get (&sizes_of_thread);
  if (sizes == NULL)
    g_private_set (&sizes_of_thread, sizes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free));
  if (g_hash_table_size (sizes) >= MOST_SIZES)
    g_hash_table_remove_all (sizes);
  return sizes;
}

void
sb_text_measure (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double *width,
                 double *height)
{
  GHashTable *sizes = known_sizes ();
  g_autofree char *key = size_key (paint, role, text, wrap, max_lines);
  Size *size = g_hash_table_lookup (sizes, key);
  if (size == NULL) {
    PangoRectangle logical;
    size = g_new (Size, 1);
    set_text (paint, role, text, wrap, max_lines);
    pango_layout_set_alignment (paint->text, PANGO_ALIGN_LEFT);
    get_size (paint, &logical, &size->width, &size->height);
    g_hash_table_insert (sizes, g_steal_pointer (&key), size);
  }
  *width = size->width;
  *height = size->height;
}

gboolean
sb_text_is_cut (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines)
{
  set_text (paint, role, text, wrap, max_lines);
  return pango_layout_is_ellipsized (paint->text);
}

static void
note_box (SbPaint *paint, SbRect box)
{
  if (paint->boxes != NULL)
    g_array_append_val (paint->boxes, box);
}

static void
show (SbPaint *paint, SbTextRole role, const PangoRectangle *logical, double x, double y)
{
  SbColour colour = text_style (role)->colour;
  sb_paint_source (paint, colour, 1);
  cairo_move_to (paint->cr, x - (double) logical->x / PANGO_SCALE, y - (double) logical->y / PANGO_SCALE);
  pango_cairo_show_layout (paint->cr, paint->text);
}

void
sb_text_paint (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double x, double y,
               double align)
{
  PangoRectangle logical;
  double width, height;
  set_text (paint, role, text, wrap, max_lines);
  pango_layout_set_alignment (paint->text, PANGO_ALIGN_LEFT);
  get_size (paint, &logical, &width, &height);
  double left = x - align * width;
  note_box (paint, (SbRect){ left, y, width, height });
  show (paint, role, &logical, left, y);
}

void
sb_text_paint_upwards (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double right,
                       double middle_y)
{
  PangoRectangle logical;
  double width, height;
  set_text (paint, role, text, wrap, max_lines);
  pango_layout_set_alignment (paint->text, PANGO_ALIGN_CENTER);
  get_size (paint, &logical, &width, &height);
  note_box (paint, (SbRect){ right - height, middle_y - width / 2, height, width });
  cairo_save (paint->cr);
  cairo_translate (paint->cr, right - height, middle_y + width / 2);
  cairo_rotate (paint->cr, -G_PI / 2);
  show (paint, role, &logical, 0, 0);
  cairo_restore (paint->cr);
}

#define NO_BREAK_SPACE "\u00a0"
#define WORD_JOINER    "\u2060"

/* Whether `at` comes right after the sign of a series, which begins what it speaks of. */
static gboolean
is_after_sign (const char *text, const char *at)
{
  for (guint series = 0; series < SB_N_SHAPES; series++) {
    const char *sign = sb_shape_sign (series);
    if ((gsize) (at - text) >= strlen (sign) && memcmp (at - strlen (sign), sign, strlen (sign)) == 0)
      return TRUE;
  }
  return FALSE;
}

char *
sb_text_keep_numbers (const char *text)
{
  GString *kept = g_string_new (NULL);
  for (const char *c = text; *c != '\0'; c++) {
    gboolean before_number = g_ascii_isdigit (c[1]);
    gboolean after_number = c > text && g_ascii_isdigit (c[-1]) && (g_ascii_isalpha (c[1]) || c[1] == '%');
    gboolean in_unit = *c == '/' && g_ascii_isalpha (c[1]);
    if (*c == ' ' && (before_number || after_number || is_after_sign (text, c)))
      g_string_append (kept, NO_BREAK_SPACE);
    else
      g_string_append_c (kept, *c);
    if (in_unit)
      g_string_append (kept, WORD_JOINER);
  }
  return g_string_free (kept, FALSE);
}

char *
sb_text_keep_settings (const char *text, gsize from)
{
  GString *kept = g_string_new (NULL);
  for (const char *c = text; *c != '\0'; c++)
    if (*c == ' ' && (gsize) (c - text) > from && c[-1] != ',')
      g_string_append (kept, NO_BREAK_SPACE);
    else
      g_string_append_c (kept, *c);
  return g_string_free (kept, FALSE);
}
