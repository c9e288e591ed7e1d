/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg_file.h"

#include "proof_file.h"
#include "svg_compact.h"

#include <string.h>

/* cairo numbers its surfaces through the life of the process and writes that number. */
static char *
without_numbers (const GByteArray *svg)
{
  g_autoptr (GRegex) names = g_regex_new ("(\"|#)surface[0-9]+", 0, 0, NULL);
  return g_regex_replace (names, (const char *) svg->data, (gssize) svg->len, 0, "\\1chart", 0, NULL);
}

static void
append_element (GString *svg, const char *name, const char *text)
{
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  g_string_append_printf (svg, "\n<%s>%s</%s>", name, escaped, name);
}

/* cairo draws in pt, which its 8 binary places need for well-shaped letters; the picture's size is stated in mm. As an
 * image its title and description are what a screen reader reads (SVG Accessibility API Mappings 1.0). */
GBytes *
sb_svg_file (const GByteArray *svg, double width_mm, double height_mm, const SbFileFacts *facts)
{
  g_autofree char *whole_text = without_numbers (svg);
  g_autofree char *text = sb_svg_compact (whole_text);
  const char *width = strstr (text, "width=\""), *view_box = strstr (text, "viewBox=\"");
  const char *inside = view_box != NULL ? strchr (view_box, '>') : NULL;
  g_assert (width != NULL && width < view_box && inside != NULL);
  char width_text[G_ASCII_DTOSTR_BUF_SIZE], height_text[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (width_text, sizeof width_text, "%.6g", width_mm);
  g_ascii_formatd (height_text, sizeof height_text, "%.6g", height_mm);
  GString *whole = g_string_new_len (text, width - text);
  g_string_append_printf (whole, "width=\"%smm\" height=\"%smm\" ", width_text, height_text);
  g_string_append_len (whole, view_box, inside - view_box);
  g_string_append (whole, " role=\"img\">");
  append_element (whole, "title", facts->title);
  append_element (whole, "desc", facts->description);
  g_string_append_printf (whole, "\n<metadata id=\"" SB_PROOF_ID "\">%s</metadata>", facts->proof);
  g_string_append (whole, inside + 1);
  return g_string_free_to_bytes (whole);
}
