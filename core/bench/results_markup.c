/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_markup.h"

#include "latex_table.h"
#include "results_grid.h"

#include <string.h>

const char *
sb_markup_key (SbMarkup markup)
{
  static const char *const keys[SB_N_MARKUPS]
      = { [SB_MARKUP_MARKDOWN] = "markdown", [SB_MARKUP_HTML] = "html", [SB_MARKUP_LATEX] = "latex" };
  return keys[markup];
}

static const char *
markdown_escape (gunichar character)
{
  static const char special[] = "\\`*_[]<>|~$&";
  static const char *const written[]
      = { "\\\\", "\\`", "\\*", "\\_", "\\[", "\\]", "\\<", "\\>", "\\|", "\\~", "\\$", "\\&" };
  if (character == '\n' || character == '\r')
    return " ";
  const char *at = character < 0x80 && character != 0 ? strchr (special, (int) character) : NULL;
  return at != NULL ? written[at - special] : NULL;
}

static const char *
html_escape (gunichar character)
{
  return character == '<' ? "&lt;" : character == '>' ? "&gt;" : character == '&' ? "&amp;" : NULL;
}

void
sb_markup_append_markdown (GString *text, const SbMarkupTable *table)
{
  for (guint row = 0; row < table->n_rows; row++) {
    for (guint column = 0; column < table->n_columns; column++) {
      g_string_append (text, "| ");
      sb_markup_append (text, sb_markup_cell (table, row, column), markdown_escape);
      g_string_append_c (text, ' ');
    }
    g_string_append (text, "|\n");
    for (guint column = 0; row == 0 && column < table->n_columns; column++)
      g_string_append (text, sb_markup_is_left (table, column) ? "|:---" : "|---:");
    g_string_append (text, row == 0 ? "|\n" : "");
  }
}

static void
append_html_cell (GString *text, const SbMarkupTable *table, guint row, guint column)
{
  const char *tag = row == 0 || column == 0 ? "th" : "td";
  const char *scope = row == 0 ? " scope=\"col\"" : column == 0 ? " scope=\"row\"" : "";
  g_string_append_printf (text, "<%s%s style=\"text-align:%s\">", tag, scope,
                          sb_markup_is_left (table, column) ? "left" : "right");
  g_autofree char *words = sb_markup_keep_together (sb_markup_cell (table, row, column));
  sb_markup_append (text, words, html_escape);
  g_string_append_printf (text, "</%s>", tag);
}

static void
append_html (GString *text, const SbMarkupTable *table)
{
  g_string_append (text, "<table>\n<thead>\n");
  for (guint row = 0; row < table->n_rows; row++) {
    g_string_append (text, "<tr>");
    for (guint column = 0; column < table->n_columns; column++)
      append_html_cell (text, table, row, column);
    g_string_append (text, row == 0 ? "</tr>\n</thead>\n<tbody>\n" : "</tr>\n");
  }
  g_string_append (text, "</tbody>\n</table>\n");
}

/* The sentences below, each a paragraph. */
static void
append_legend (GString *text, const SbAnalysis *analysis, SbMarkup markup)
{
  static const SbMarkupEscape escapes[SB_N_MARKUPS] = { markdown_escape, html_escape, sb_latex_escape };
  g_autofree char *legend = sb_results_grid_legend (analysis);
  g_auto (GStrv) lines = g_strsplit (legend, "\n", -1);
  for (gsize i = 0; lines[i] != NULL; i++) {
    if (lines[i][0] == '\0')
      continue;
    g_string_append (text, markup == SB_MARKUP_HTML ? "<p>" : "\n");
    sb_markup_append (text, lines[i], escapes[markup]);
    g_string_append (text, markup == SB_MARKUP_HTML ? "</p>\n" : "\n");
  }
}

char *
sb_results_table_markup (const SbAnalysis *analysis, SbMarkup markup)
{
  SbMarkupTable table = { .has_verdict = analysis->comparison != NULL };
  g_autoptr (GPtrArray) cells = sb_results_grid (analysis, &table.n_columns);
  table.cells = cells;
  table.n_rows = cells->len / table.n_columns;
  GString *text = g_string_new (NULL);
  switch (markup) {
  case SB_MARKUP_MARKDOWN:
    sb_markup_append_markdown (text, &table);
    break;
  case SB_MARKUP_HTML:
    append_html (text, &table);
    break;
  case SB_MARKUP_LATEX:
    sb_latex_append_table (text, &table);
    break;
  case SB_N_MARKUPS:
    break;
  }
  append_legend (text, analysis, markup);
  return g_string_free (text, FALSE);
}
