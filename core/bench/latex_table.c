/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "latex_table.h"

/* The text of a page of LaTeX's own article class, on A4 and Letter alike, pt: what 10 pt type asks for. */
#define PAGE_PT 345.0

/* Between columns: LaTeX's own, and that of a table in blocks. */
#define USUAL_GAP_PT 12.0
#define BLOCK_GAP_PT 6.0

/* Smaller type: \footnotesize of 10 pt. */
#define USUAL_PT 10.0
#define SMALL_PT 8.0

/* A heading is broken into lines of its column's width, but no narrower. */
#define HEADING_PT 56.0

/* Signs of formulas that a font of text need not have are set as formulas. */
const char *
sb_latex_escape (gunichar character)
{
  static const struct {
    gunichar character;
    const char *written;
  } escapes[] = {
    { '\\', "\\textbackslash{}" },
    { '~', "\\textasciitilde{}" },
    { '^', "\\textasciicircum{}" },
    { '#', "\\#" },
    { '$', "\\$" },
    { '%', "\\%" },
    { '&', "\\&" },
    { '_', "\\_" },
    { '{', "\\{" },
    { '}', "\\}" },
    { '<', "$<$" },
    { '>', "$>$" },
    { '\n', " " },
    { 0xa0, "~" },
    { 0xb1, "$\\pm$" },
    { 0xb7, "$\\cdot$" },
    { 0xb2, "$^2$" },
    { 0x2212, "$-$" },
    { 0x2013, "--" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (escapes); i++)
    if (escapes[i].character == character)
      return escapes[i].written;
  return NULL;
}

/* About how wide a character is in the type of LaTeX, in sizes of it. */
static double
width_of_character (gunichar character)
{
  if (g_unichar_isdigit (character))
    return 0.53;
  if (g_unichar_isalpha (character))
    return g_unichar_isupper (character) ? 0.72 : 0.48;
  if (character == ' ')
    return 0.35;
  return character == 0xb1 || character == 0x2212 || character == '<' || character == '>' || character == '%' ? 0.85
                                                                                                              : 0.35;
}

static double
width_of (const char *words, double size_pt)
{
  g_autofree char *readable = g_utf8_make_valid (words, -1);
  double width = 0;
  for (const char *c = readable; *c != '\0'; c = g_utf8_next_char (c))
    width += width_of_character (g_utf8_get_char (c)) * size_pt;
  return width;
}

static char
place_of (const SbMarkupTable *table, guint column)
{
  return sb_markup_is_left (table, column) ? 'l' : 'r';
}

/* Of the rows below the heading. */
static double
width_of_cells (const SbMarkupTable *table, guint column, double size_pt)
{
  double widest = 0;
  for (guint row = 1; row < table->n_rows; row++)
    widest = MAX (widest, width_of (sb_markup_cell (table, row, column), size_pt));
  return widest;
}

/* The heading's lines, broken at blanks. (transfer full) */
static GPtrArray *
heading_lines (const SbMarkupTable *table, guint column, double size_pt)
{
  double room = MAX (width_of_cells (table, column, size_pt), HEADING_PT);
  g_autofree char *heading = sb_markup_keep_together (sb_markup_cell (table, 0, column));
  g_auto (GStrv) words = g_strsplit (heading, " ", -1);
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) line = g_string_new (NULL);
  for (gsize i = 0; words[i] != NULL; i++) {
    if (line->len > 0 && width_of (line->str, size_pt) + width_of (words[i], size_pt) + 0.35 * size_pt > room) {
      g_ptr_array_add (lines, g_strdup (line->str));
      g_string_truncate (line, 0);
    }
    g_string_append_printf (line, "%s%s", line->len > 0 ? " " : "", words[i]);
  }
  g_ptr_array_add (lines, g_strdup (line->str));
  return lines;
}

static double
width_of_column (const SbMarkupTable *table, guint column, double size_pt)
{
  g_autoptr (GPtrArray) lines = heading_lines (table, column, size_pt);
  double widest = width_of_cells (table, column, size_pt);
  for (guint i = 0; i < lines->len; i++)
    widest = MAX (widest, width_of (g_ptr_array_index (lines, i), size_pt));
  return widest;
}

static gboolean
fits_as_it_is (const SbMarkupTable *table)
{
  double width = 0;
  for (guint column = 0; column < table->n_columns; column++)
    width += USUAL_GAP_PT
             + MAX (width_of_cells (table, column, USUAL_PT), width_of (sb_markup_cell (table, 0, column), USUAL_PT));
  return width <= PAGE_PT;
}

static void
append_heading (GString *text, const SbMarkupTable *table, guint column)
{
  g_autoptr (GPtrArray) lines = heading_lines (table, column, SMALL_PT);
  if (lines->len > 1)
    g_string_append_printf (text, "\\shortstack[%c]{\\strut ", place_of (table, column));
  for (guint i = 0; i < lines->len; i++) {
    g_string_append (text, i > 0 ? "\\\\" : "");
    sb_markup_append (text, g_ptr_array_index (lines, i), sb_latex_escape);
  }
  g_string_append (text, lines->len > 1 ? "}" : "");
}

/* The first column and those from `from` on, before `end`; `narrow`: in a block, headings in lines. */
static void
append_block (GString *text, const SbMarkupTable *table, guint from, guint end, gboolean narrow)
{
  g_string_append_printf (text, "\\begin{tabular}{%s%c", narrow ? "@{}" : "", place_of (table, 0));
  for (guint column = from; column < end; column++)
    g_string_append_c (text, place_of (table, column));
  g_string_append_printf (text, "%s}\n\\hline\n", narrow ? "@{}" : "");
  for (guint row = 0; row < table->n_rows; row++) {
    for (guint k = from - 1; k < end; k++) {
      guint column = k < from ? 0 : k;
      g_string_append (text, k < from ? "" : " & ");
      if (row == 0 && narrow)
        append_heading (text, table, column);
      else
        sb_markup_append (text, sb_markup_cell (table, row, column), sb_latex_escape);
    }
    g_string_append (text, row == 0 ? " \\\\\n\\hline\n" : " \\\\\n");
  }
  g_string_append (text, "\\hline\n\\end{tabular}\n");
}

/* The columns that fit beside the first one; one at least. The comparison's own stay together where they can. */
static guint
end_of_block (const SbMarkupTable *table, guint from)
{
  guint compared = table->has_verdict ? table->n_columns - 4 : table->n_columns, end = from;
  double width = width_of_column (table, 0, SMALL_PT);
  for (; end < table->n_columns && (end != compared || end == from); end++) {
    width += BLOCK_GAP_PT + width_of_column (table, end, SMALL_PT);
    if (width > PAGE_PT && end > from)
      break;
  }
  return end;
}

void
sb_latex_append_table (GString *text, const SbMarkupTable *table)
{
  if (fits_as_it_is (table)) {
    append_block (text, table, 1, table->n_columns, FALSE);
    return;
  }
  g_string_append_printf (text, "{\\footnotesize\\setlength{\\tabcolsep}{%gpt}%%\n", BLOCK_GAP_PT / 2);
  for (guint from = 1, end; from < table->n_columns; from = end) {
    end = end_of_block (table, from);
    g_string_append (text, from > 1 ? "\n\\medskip\\noindent\n" : "\\noindent\n");
    append_block (text, table, from, end, TRUE);
  }
  g_string_append (text, "\\par\\medskip}\n");
}
