/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cells.h"

#include <csv.h>

struct _SbCells {
  struct csv_parser parser;
  char quote;
  GString *text;  /* the cells one after the other, each with a NUL */
  GArray *starts; /* gsize: where each begins, and where the next would */
};

SbCells *
sb_cells_new (void)
{
  SbCells *cells = g_new0 (SbCells, 1);
  csv_init (&cells->parser, 0);
  /* These abort when memory ends, as everything made by GLib does: libcsv then has no error left to report. */
  csv_set_realloc_func (&cells->parser, g_realloc);
  csv_set_free_func (&cells->parser, g_free);
  csv_set_blk_size (&cells->parser, 4096);
  cells->quote = '"';
  cells->text = g_string_new (NULL);
  cells->starts = g_array_new (FALSE, FALSE, sizeof (gsize));
  return cells;
}

void
sb_cells_free (SbCells *cells)
{
  csv_free (&cells->parser);
  g_string_free (cells->text, TRUE);
  g_array_unref (cells->starts);
  g_free (cells);
}

static void
end_cell (SbCells *cells)
{
  g_string_append_c (cells->text, '\0');
  gsize next = cells->text->len;
  g_array_append_val (cells->starts, next);
}

static void
on_cell (void *text, size_t length, void *data)
{
  SbCells *cells = data;
  g_string_append_len (cells->text, text, (gssize) length);
  end_cell (cells);
}

void
sb_cells_set_quote (SbCells *cells, char quote)
{
  cells->quote = quote;
  csv_set_quote (&cells->parser, (unsigned char) quote);
}

static gboolean
is_blank (char c)
{
  return c == ' ' || c == '\t';
}

/* A quoted cell holds its blanks; a doubled quote in it is one. The end of the cell. */
static const char *
split_quoted (SbCells *cells, const char *p, const char *end)
{
  while (p < end) {
    gboolean doubled = *p == cells->quote && p + 1 < end && p[1] == cells->quote;
    if (*p == cells->quote && !doubled)
      return p + 1;
    g_string_append_c (cells->text, *p);
    p += doubled ? 2 : 1;
  }
  return p;
}

static void
split_runs (SbCells *cells, const char *p, const char *end)
{
  while (p < end && is_blank (*p))
    p++;
  while (p < end) {
    if (*p == cells->quote && cells->quote != '\0')
      p = split_quoted (cells, p + 1, end);
    while (p < end && !is_blank (*p))
      g_string_append_c (cells->text, *p++);
    end_cell (cells);
    while (p < end && is_blank (*p))
      p++;
  }
}

void
sb_cells_split (SbCells *cells, const char *line, gsize length, char delimiter)
{
  gsize first = 0;
  g_string_truncate (cells->text, 0);
  g_array_set_size (cells->starts, 0);
  g_array_append_val (cells->starts, first);
  if (delimiter == ' ') {
    split_runs (cells, line, line + length);
    return;
  }
  csv_set_delim (&cells->parser, (unsigned char) delimiter);
  csv_parse (&cells->parser, line, length, on_cell, NULL, cells);
  csv_fini (&cells->parser, on_cell, NULL, cells);
}

guint
sb_cells_count (const SbCells *cells)
{
  return cells->starts->len - 1;
}

const char *
sb_cells_get (const SbCells *cells, guint index, gsize *length)
{
  gsize start = g_array_index (cells->starts, gsize, index);
  if (length != NULL)
    *length = g_array_index (cells->starts, gsize, index + 1) - start - 1;
  return cells->text->str + start;
}
