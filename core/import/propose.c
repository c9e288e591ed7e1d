/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "propose.h"

#include "dialect.h"
#include "header.h"
#include "line.h"
#include "log_build.h"

#include <stdio.h>
#include <string.h>

#define HEAD_SIZE   ((gsize) 1 << 16)
#define SHOWN_LINES 40

static void
table_free (gpointer data)
{
  SbTable *table = data;
  g_free (table->title);
  g_free (table);
}

void
sb_proposal_free (SbProposal *proposal)
{
  if (proposal == NULL)
    return;
  sb_layout_unref (proposal->layout);
  g_ptr_array_unref (proposal->lines);
  g_ptr_array_unref (proposal->tables);
  g_free (proposal);
}

static void
name_columns (SbLayout *layout, const char *header)
{
  g_autoptr (SbCells) cells = sb_cells_new ();
  layout->delimiter = sb_dialect_find_delimiter (cells, header, strlen (header));
  sb_cells_split (cells, header, strlen (header), layout->delimiter);
  guint n = sb_cells_count (cells);
  if (n > 1 && *sb_cells_get (cells, n - 1, NULL) == '\0')
    n--;
  for (guint i = 0; i < n; i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, sb_cells_get (cells, i, NULL));
    SbLayoutColumn *column = sb_layout_add_column (layout, meaning.name);
    column->role = meaning.channel >= 0 ? (SbRole) meaning.channel : SB_ROLE_OTHER;
    column->unit = meaning.unit;
    column->certainty = meaning.channel >= 0 && meaning.unit == NULL ? SB_CERTAINTY_ASSUMED : SB_CERTAINTY_STATED;
    column->question = g_strdup (meaning.problem);
    sb_column_meaning_clear (&meaning);
  }
}

SbProposal *
sb_propose_memory (const char *name, const char *bytes, gsize n_bytes, const SbDialectChoices *fixed, GError **error)
{
  g_autoptr (SbProposal) proposal = g_new0 (SbProposal, 1);
  proposal->layout = sb_layout_new ();
  proposal->lines = g_ptr_array_new_with_free_func (g_free);
  proposal->tables = g_ptr_array_new_with_free_func (table_free);
  proposal->first_shown_line = 1;
  proposal->layout->header_line = 0;
  guint64 wanted = fixed != NULL && fixed->header_line > 0 ? (guint64) fixed->header_line : 0;
  guint64 number = 0;
  SbLine line;
  const char *end = bytes + n_bytes;
  for (const char *p = bytes; p < end && proposal->lines->len < SHOWN_LINES && sb_line_find (p, end, TRUE, &line);
       p = line.next) {
    char *text = sb_text_to_utf8 (line.text, line.length);
    g_ptr_array_add (proposal->lines, text);
    number++;
    const char *first = text + strspn (text, " \t");
    gboolean candidate = wanted > 0 ? number == wanted : *first != '\0' && *first != '#';
    if (proposal->layout->header_line != 0 || !candidate)
      continue;
    proposal->layout->header_line = number;
    proposal->layout->first_line = number + 1;
    name_columns (proposal->layout, text);
  }
  if (proposal->layout->header_line == 0) {
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
                 "%s: the file has no header and no rows. Export the log again.", name);
    return NULL;
  }
  SbTable *table = g_new0 (SbTable, 1);
  table->header_line = proposal->layout->header_line;
  table->first_line = proposal->layout->first_line;
  table->title = g_strdup ("");
  table->n_columns = proposal->layout->columns->len;
  g_ptr_array_add (proposal->tables, table);
  proposal->layout->n_tables = 1;
  return g_steal_pointer (&proposal);
}

SbProposal *
sb_propose_file (const char *path, const SbDialectChoices *fixed, GCancellable *cancellable, GError **error)
{
  g_autofree char *head = g_malloc (HEAD_SIZE);
  g_autofree char *name = g_filename_display_basename (path);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  FILE *file = fopen (path, "rb");
  gsize n = file != NULL ? fread (head, 1, HEAD_SIZE, file) : 0;
  if (file == NULL) {
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN, "%s: the file cannot be opened. Check its name.", name);
    return NULL;
  }
  fclose (file);
  return sb_propose_memory (name, head, n, fixed, error);
}
