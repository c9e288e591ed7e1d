/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint.h"

#include "chart_points.h"

#include <string.h>

#define GROUND_ALPHA 0.85

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
  paint->fonts = pango_cairo_create_context (cr);
  pango_cairo_context_set_font_options (paint->fonts, options);
  pango_cairo_context_set_resolution (paint->fonts, 72);
  pango_context_set_round_glyph_positions (paint->fonts, FALSE);
  pango_context_set_language (paint->fonts, pango_language_from_string ("en"));
  paint->measured = pango_layout_new (paint->fonts);
  cairo_font_options_destroy (options);
}

void
sb_paint_end (SbPaint *paint)
{
  g_clear_object (&paint->measured);
  g_clear_object (&paint->fonts);
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

/* All that the look of a text hangs on but its colour: advances are rounded in the pixels of what is drawn on. */
typedef struct {
  double font_pt, value_size, wrap, scale[2];
  int role, max_lines, surface, alignment;
  const char *text;
} TextKey;

static TextKey
key_of (const SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, PangoAlignment alignment)
{
  cairo_matrix_t matrix;
  TextKey key;
  cairo_get_matrix (paint->cr, &matrix);
  memset (&key, 0, sizeof key); /* compared byte by byte */
  key.font_pt = paint->font_pt;
  key.value_size = paint->value_size;
  key.wrap = wrap;
  key.scale[0] = matrix.xx;
  key.scale[1] = matrix.yy;
  key.role = (int) role;
  key.max_lines = max_lines;
  key.surface = (int) cairo_surface_get_type (cairo_get_target (paint->cr));
  key.alignment = (int) alignment;
  key.text = text;
  return key;
}

static guint
key_hash (gconstpointer data)
{
  const TextKey *key = data;
  return g_str_hash (key->text) ^ (guint) (key->role + 8 * key->max_lines) ^ g_double_hash (&key->wrap);
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
  const TextKey *one = a, *other = b;
  return memcmp (one, other, offsetof (TextKey, text)) == 0 && g_str_equal (one->text, other->text);
}

/* Its words are in the same piece of memory. (transfer full: g_free) */
static TextKey *
key_copy (const TextKey *key)
{
  gsize length = strlen (key->text) + 1;
  TextKey *copy = g_malloc (sizeof *copy + length);
  *copy = *key;
  copy->text = memcpy (copy + 1, key->text, length);
  return copy;
}

typedef struct {
  double width, height;
  gboolean is_cut;
} Size;

/* What this thread has laid out before: a chart that is panned or zoomed writes the same names every time. Sizes are
 * asked of many texts that are never painted, and take less room. */
#define MOST_SIZES   4096
#define MOST_LAYOUTS 256

static GPrivate sizes_of_thread = G_PRIVATE_INIT ((GDestroyNotify) g_hash_table_unref);
static GPrivate layouts_of_thread = G_PRIVATE_INIT ((GDestroyNotify) g_hash_table_unref);

static GHashTable *
known_to_thread (GPrivate *of_thread, guint most, GDestroyNotify value_free)
{
  GHashTable *known = g_private_get (of_thread);
  if (known == NULL)
    g_private_set (of_thread, known = g_hash_table_new_full (key_hash, key_equal, g_free, value_free));
  if (g_hash_table_size (known) >= most)
    g_hash_table_remove_all (known);
  return known;
}

/* The foot is a hair smaller than the axis numbers where it can still be read. */
static double
size_pt (SbTextRole role, double font_pt, double value_size)
{
  double size = text_style (role)->size * font_pt;
  if (role == SB_TEXT_VALUE)
    return size * value_size;
  return MAX (size, MIN (font_pt, SB_LEAST_READ_PT));
}

double
sb_text_pt (const SbPaint *paint, SbTextRole role)
{
  return size_pt (role, paint->font_pt, paint->value_size);
}

static void
set_text (const TextKey *key, PangoLayout *layout)
{
  const TextStyle *style = text_style ((SbTextRole) key->role);
  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family_static (font, FAMILIES);
  pango_font_description_set_weight (font, style->weight);
  pango_font_description_set_absolute_size (font, size_pt ((SbTextRole) key->role, key->font_pt, key->value_size)
                                                      * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_width (layout, key->wrap > 0 ? (int) (key->wrap * PANGO_SCALE) : -1);
  pango_layout_set_wrap (layout, key->role == SB_TEXT_VALUE ? PANGO_WRAP_WORD : PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, key->wrap > 0 ? -key->max_lines : -1);
  pango_layout_set_ellipsize (layout, key->wrap > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  pango_layout_set_alignment (layout, (PangoAlignment) key->alignment);
  pango_layout_set_text (layout, key->text, -1);
}

/* (transfer none: until the next call on this thread) */
static PangoLayout *
find_layout (SbPaint *paint, const TextKey *key)
{
  GHashTable *layouts = known_to_thread (&layouts_of_thread, MOST_LAYOUTS, g_object_unref);
  PangoLayout *layout = g_hash_table_lookup (layouts, key);
  if (layout == NULL) {
    layout = pango_layout_new (paint->fonts);
    set_text (key, layout);
    g_hash_table_insert (layouts, key_copy (key), layout);
  }
  return layout;
}

static Size
get_size (PangoLayout *layout, PangoRectangle *logical)
{
  pango_layout_get_extents (layout, NULL, logical);
  return (Size){ (double) logical->width / PANGO_SCALE, (double) logical->height / PANGO_SCALE, FALSE };
}

static const Size *
size_of (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines)
{
  GHashTable *sizes = known_to_thread (&sizes_of_thread, MOST_SIZES, g_free);
  TextKey key = key_of (paint, role, text, wrap, max_lines, PANGO_ALIGN_LEFT);
  Size *size = g_hash_table_lookup (sizes, &key);
  if (size == NULL) {
    PangoRectangle logical;
    set_text (&key, paint->measured);
    Size found = get_size (paint->measured, &logical);
    found.is_cut = pango_layout_is_ellipsized (paint->measured);
    size = g_memdup2 (&found, sizeof found);
    g_hash_table_insert (sizes, key_copy (&key), size);
  }
  return size;
}

void
sb_text_measure (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double *width,
                 double *height)
{
  const Size *size = size_of (paint, role, text, wrap, max_lines);
  *width = size->width;
  *height = size->height;
}

gboolean
sb_text_is_cut (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines)
{
  return size_of (paint, role, text, wrap, max_lines)->is_cut;
}

static void
note_box (SbPaint *paint, SbRect box)
{
  if (paint->boxes != NULL)
    g_array_append_val (paint->boxes, box);
}

static void
show (SbPaint *paint, SbTextRole role, PangoLayout *layout, const PangoRectangle *logical, double x, double y)
{
  SbColour colour = text_style (role)->colour;
  sb_paint_source (paint, colour, 1);
  cairo_move_to (paint->cr, x - (double) logical->x / PANGO_SCALE, y - (double) logical->y / PANGO_SCALE);
  pango_cairo_show_layout (paint->cr, layout);
}

void
sb_text_paint (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double x, double y,
               double align)
{
  PangoRectangle logical;
  TextKey key = key_of (paint, role, text, wrap, max_lines, PANGO_ALIGN_LEFT);
  PangoLayout *layout = find_layout (paint, &key);
  Size size = get_size (layout, &logical);
  double left = x - align * size.width;
  note_box (paint, (SbRect){ left, y, size.width, size.height });
  show (paint, role, layout, &logical, left, y);
}

void
sb_text_paint_on_ground (SbPaint *paint, SbTextRole role, const char *text, const SbRect *box, double air)
{
  sb_paint_source (paint, (SbColour){ 1, 1, 1 }, GROUND_ALPHA);
  cairo_rectangle (paint->cr, box->x - air, box->y, box->width + 2 * air, box->height);
  cairo_fill (paint->cr);
  sb_text_paint (paint, role, text, 0, 1, box->x, box->y, 0);
}

void
sb_text_paint_upwards (SbPaint *paint, SbTextRole role, const char *text, double wrap, int max_lines, double right,
                       double middle_y)
{
  PangoRectangle logical;
  TextKey key = key_of (paint, role, text, wrap, max_lines, PANGO_ALIGN_CENTER);
  PangoLayout *layout = find_layout (paint, &key);
  Size size = get_size (layout, &logical);
  note_box (paint, (SbRect){ right - size.height, middle_y - size.width / 2, size.height, size.width });
  cairo_save (paint->cr);
  cairo_translate (paint->cr, right - size.height, middle_y + size.width / 2);
  cairo_rotate (paint->cr, -G_PI / 2);
  show (paint, role, layout, &logical, 0, 0);
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

/* Appends the byte, kept together with what follows it in "N·m/ms". */
static void
append_in_unit (GString *kept, const char *c)
{
  g_string_append_c (kept, *c);
  if (*c == '/' && g_ascii_isalpha (c[1]))
    g_string_append (kept, WORD_JOINER);
}

char *
sb_text_keep_numbers (const char *text)
{
  GString *kept = g_string_new (NULL);
  for (const char *c = text; *c != '\0'; c++) {
    gboolean before_number = g_ascii_isdigit (c[1]);
    gboolean after_number = c > text && g_ascii_isdigit (c[-1]) && (g_ascii_isalpha (c[1]) || c[1] == '%');
    if (*c == ' ' && (before_number || after_number || is_after_sign (text, c)))
      g_string_append (kept, NO_BREAK_SPACE);
    else
      append_in_unit (kept, c);
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
      append_in_unit (kept, c);
  return g_string_free (kept, FALSE);
}
