/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the small tables of data/. */
#pragma once

#include "close.h"

/* Rows of cells (char **, NULL-terminated) without the header. A missing file fails the test. (transfer full) */
static inline GPtrArray *
table_read (const char *name)
{
  g_autofree char *path = g_build_filename (SB_REFERENCE_DATA, name, NULL);
  g_autofree char *text = NULL;
  if (!g_file_get_contents (path, &text, NULL, NULL)) {
    print_error ("cannot read %s\n", path);
    fail ();
  }
  g_auto (GStrv) lines = g_strsplit (g_strchomp (text), "\n", -1);
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  for (gsize i = 1; lines[i] != NULL; i++)
    g_ptr_array_add (rows, g_strsplit (g_strchomp (lines[i]), ",", -1));
  return rows;
}

static inline double
table_number (GPtrArray *rows, guint row, guint column)
{
  char **cells = g_ptr_array_index (rows, row);
  return g_ascii_strtod (cells[column], NULL);
}

/* One column of numbers, rows->len of them. (transfer full) */
static inline double *
table_column (GPtrArray *rows, guint column)
{
  double *values = g_new (double, rows->len);
  for (guint i = 0; i < rows->len; i++)
    values[i] = table_number (rows, i, column);
  return values;
}
