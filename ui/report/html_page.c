/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "html_page.h"

#include "markup_table.h"
#include "proof_file.h"

#include <string.h>

static const char style[]
    = "body{font:11pt/1.45 Inter,'DejaVu Sans',sans-serif;color:#1b1f23;background:#fff;max-width:64rem;margin:2rem "
      "auto;padding:0 1rem}"
      "h1{font-size:1.6rem;margin:0 0 .5rem}h2{font-size:1.15rem;margin:2rem 0 .5rem}h3{font-size:1rem;margin:1rem 0 "
      ".25rem}"
      "figure{margin:0}figure svg{display:block;width:100%;height:auto}"
      ".scroll{overflow-x:auto;margin:0 0 1rem}"
      "table{border-collapse:collapse;font-size:9.5pt;font-variant-numeric:tabular-nums}"
      "th,td{padding:.25rem .6rem;border-bottom:1px solid #d5d9de;text-align:right;vertical-align:baseline}"
      "td{white-space:nowrap}td.left{white-space:normal}"
      "th:first-child,td:first-child,.left{text-align:left}tbody th{font-weight:normal}"
      "thead th{border-bottom:2px solid #5b636c;vertical-align:bottom}"
      "ul{padding-left:1.2rem}code{font-size:8.5pt;overflow-wrap:anywhere}"
      ".care{border-left:4px solid #b3541e;padding:.5rem 1rem;background:#fbf3ee}"
      "@page{margin:16mm}"
      "@media "
      "print{body{margin:0;padding:0;max-width:none;font-size:9.5pt}h2,h3{break-after:avoid}tr,figure,table{break-"
      "inside:avoid}.scroll{overflow:visible}table{font-size:7pt}th,td{padding:.12rem .3rem}td{white-space:normal}"
      "code{font-size:6pt}}";

static void
append_escaped (GString *html, const char *text)
{
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  g_string_append (html, escaped);
}

/* The drawing without what only a file of its own needs: the declaration, the names of its languages, and its proof,
 * which the page has. Two elements of one page must not share an id, and no other drawing is in it. */
static void
append_chart (GString *html, GBytes *svg)
{
  gsize n;
  const char *bytes = g_bytes_get_data (svg, &n);
  g_autofree char *text = g_strndup (bytes, n);
  static const char *const unwanted[]
      = { "<\\?xml.*?\\?>\\s*", "<metadata.*?</metadata>\\s*", " xmlns(:xlink)?=\"[^\"]*\"", " version=\"1\\.[0-9]\"" };
  for (gsize i = 0; i < G_N_ELEMENTS (unwanted); i++) {
    g_autoptr (GRegex) part = g_regex_new (unwanted[i], G_REGEX_DOTALL, 0, NULL);
    char *without = g_regex_replace_literal (part, text, -1, 0, "", 0, NULL);
    g_free (text);
    text = without;
  }
  g_string_append_printf (html, "<figure>\n%s</figure>\n", text);
}

static void
append_cell (GString *html, const SbReportTable *table, guint row, guint column)
{
  gboolean heads = row == 0 || column == 0, code = (table->code >> column & 1) != 0 && row > 0;
  const char *tag = heads ? "th" : "td";
  const char *scope = row == 0 ? " scope=\"col\"" : column == 0 ? " scope=\"row\"" : "";
  gboolean left = column > 0 && (table->left >> column & 1) != 0;
  g_string_append_printf (html, "<%s%s%s>%s", tag, scope, left ? " class=\"left\"" : "", code ? "<code>" : "");
  g_autofree char *words = sb_markup_keep_together (sb_report_table_cell (table, row, column));
  append_escaped (html, words);
  g_string_append_printf (html, "%s</%s>", code ? "</code>" : "", tag);
}

/* A table wider than the window can be moved, with the keyboard too. */
static void
append_table (GString *html, const SbReportTable *table, guint number)
{
  g_string_append (html, "<section class=\"scroll\" aria-label=\"");
  append_escaped (html, table->name);
  g_string_append_printf (html, ", table %u\" tabindex=\"0\"><table>\n", number);
  for (guint row = 0; row < sb_report_table_rows (table); row++) {
    g_string_append (html, row == 0 ? "<thead><tr>" : row == 1 ? "<tbody>\n<tr>" : "<tr>");
    for (guint column = 0; column < table->n_columns; column++)
      append_cell (html, table, row, column);
    g_string_append (html, row == 0 ? "</tr></thead>\n" : "</tr>\n");
  }
  g_string_append (html, sb_report_table_rows (table) > 1 ? "</tbody></table></section>\n" : "</table></section>\n");
}

static void
append_text (GString *html, const char *open, const SbReportBlock *block, const char *close)
{
  g_string_append (html, open);
  if (block->lead != NULL) {
    g_string_append (html, "<strong>");
    append_escaped (html, block->lead);
    g_string_append (html, "</strong> ");
  }
  append_escaped (html, block->text);
  g_string_append (html, close);
}

static void
append_list (GString *html, const SbReportBlock *block)
{
  if (block->items->len == 0)
    return;
  g_string_append (html, "<ul>\n");
  for (guint i = 0; i < block->items->len; i++) {
    g_string_append (html, "<li>");
    append_escaped (html, g_ptr_array_index (block->items, i));
    g_string_append (html, "</li>\n");
  }
  g_string_append (html, "</ul>\n");
}

static void
append_block (GString *html, const SbReportBlock *block, GBytes *svg, guint *n_tables)
{
  switch (block->kind) {
  case SB_BLOCK_HEADING:
    append_text (html, block->level == 2 ? "<h2>" : "<h3>", block, block->level == 2 ? "</h2>\n" : "</h3>\n");
    break;
  case SB_BLOCK_CARE:
    append_text (html, "<p class=\"care\">", block, "</p>\n");
    break;
  case SB_BLOCK_PARAGRAPH:
    append_text (html, "<p>", block, "</p>\n");
    break;
  case SB_BLOCK_LIST:
    append_list (html, block);
    break;
  case SB_BLOCK_TABLE:
    append_table (html, block->table, ++*n_tables);
    break;
  case SB_BLOCK_CHART:
    append_chart (html, svg);
    break;
  }
}

char *
sb_html_page (const SbReportDocument *document, GBytes *svg, const char *proof)
{
  GString *html = g_string_new ("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
  append_escaped (html, document->title);
  g_string_append_printf (
      html, "</title>\n<style>%s</style>\n" SB_PROOF_PAGE_TAG "%s</script>\n</head>\n<body>\n<main>\n<h1>", style,
      proof);
  append_escaped (html, document->title);
  g_string_append (html, "</h1>\n");
  guint n_tables = 0;
  for (guint i = 0; i < document->blocks->len; i++)
    append_block (html, g_ptr_array_index (document->blocks, i), svg, &n_tables);
  g_string_append (html, "</main>\n</body>\n</html>\n");
  return g_string_free (html, FALSE);
}
