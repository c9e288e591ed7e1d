/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "dialect.h"
#include "header.h"
#include "number.h"

#include <math.h>
#include <string.h>

/* The delimiter is plain from the first names of a header; more would only cost time. */
#define MAX_NAMES_TRIED 64

static guint
count_channels (const SbCells *cells)
{
  guint found = 0;
  for (guint i = 0; i < MIN (sb_cells_count (cells), MAX_NAMES_TRIED); i++) {
    SbColumnMeaning meaning;
    sb_column_meaning_read (&meaning, sb_cells_get (cells, i, NULL));
    if (meaning.channel >= 0)
      found |= 1u << meaning.channel;
    sb_column_meaning_clear (&meaning);
  }
  return (guint) __builtin_popcount (found);
}

char
sb_dialect_find_delimiter (SbCells *cells, const char *header, gsize length)
{
  static const char delimiters[] = { '\t', ';', ',' };
  char best = ',';
  guint most_channels = 0, most_cells = 1;
  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++) {
    sb_cells_split (cells, header, length, delimiters[i]);
    guint n_cells = sb_cells_count (cells);
    guint n_channels = n_cells > 1 ? count_channels (cells) : 0;
    if (n_channels > most_channels || (n_channels == most_channels && n_cells > most_cells)) {
      best = delimiters[i];
      most_channels = n_channels;
      most_cells = n_cells;
    }
  }
  return best;
}

static gboolean
is_number (const char *text, gsize length)
{
  double value;
  return sb_number_read (text, length, '.', 0, &value) || sb_number_read (text, length, ',', 0, &value);
}

static gboolean
has_names (const SbCells *cells)
{
  for (guint i = 0; i < sb_cells_count (cells); i++) {
    gsize length;
    const char *text = sb_cells_get (cells, i, &length);
    if (length > 0 && !is_number (text, length))
      return TRUE;
  }
  return FALSE;
}

/* "'Temp', 'Load' and 3 more" */
static char *
list_names (const SbLog *log)
{
  const guint n_shown = MIN (log->columns->len, 6);
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < n_shown; i++) {
    const SbLogColumn *column = log->columns->pdata[i];
    g_autofree char *quoted = sb_text_quote (column->name, strlen (column->name));
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", quoted);
  }
  if (log->columns->len > n_shown)
    g_string_append_printf (list, " and %u more", log->columns->len - n_shown);
  return g_string_free (list, FALSE);
}

static void
set_unit (SbLogColumn *column, SbRowColumn *row_column, const SbUnit *unit)
{
  g_free (column->unit);
  column->unit = g_strdup (unit->name);
  column->factor = unit->scaled ? unit->factor : 1.0 / pow (10.0, -unit->power_of_ten);
  *row_column = (SbRowColumn){ column->channel, unit->power_of_ten, unit->scaled, unit->factor };
}

static void
add_column (SbRows *rows, SbLog *log, const char *text, guint64 line, const SbLogColumn *taken[SB_N_CHANNELS])
{
  SbColumnMeaning meaning;
  sb_column_meaning_read (&meaning, text);
  int channel = meaning.channel;
  if (meaning.problem != NULL)
    sb_log_add_fault (log, SB_FAULT_COLUMN, line, meaning.name, "%s", meaning.problem);
  if (channel >= 0 && taken[channel] != NULL) {
    sb_log_add_fault (log, SB_FAULT_COLUMN, line, meaning.name,
                      "%s is already read from the column '%s'; this one is read past",
                      sb_channel_key ((SbChannel) channel), taken[channel]->name);
    channel = -1;
  }
  const SbUnit *unit = meaning.unit;
  SbLogColumn *column = g_new0 (SbLogColumn, 1);
  column->name = g_strdup (meaning.name);
  column->unit = g_strdup ("");
  column->channel = channel;
  column->factor = 1.0;
  SbRowColumn *row_column = &rows->columns[log->columns->len];
  *row_column = (SbRowColumn){ .channel = channel, .factor = 1.0 };
  if (unit != NULL)
    set_unit (column, row_column, unit);
  g_ptr_array_add (log->columns, column);
  if (channel >= 0)
    taken[channel] = column;
  sb_column_meaning_clear (&meaning);
}

static gboolean
fail_without_time (const SbLog *log, guint64 line, GError **error)
{
  g_autofree char *names = list_names (log);
  const SbFault *fault = log->faults->len > 0 ? log->faults->pdata[0] : NULL;
  gboolean telling = fault != NULL && fault->column != NULL;
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME,
               "%s, line %" G_GUINT64_FORMAT
               ": no column of the header is the time (found %s).%s%s%s%s%s Name the time "
               "column time_s, time_ms or Time [s].",
               log->name, line, names, telling ? " Column '" : "", telling ? fault->column : "", telling ? "': " : "",
               telling ? fault->what : "", telling ? "." : "");
  return FALSE;
}

static gboolean
fail_without_header (const SbLog *log, guint64 line, char delimiter, GError **error)
{
  g_autofree char *example = g_strdup ("time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm");
  g_strdelimit (example, ",", delimiter);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME,
               "%s, line %" G_GUINT64_FORMAT ": this is no header but numbers. Put a line before it that names the "
               "columns and their units, such as %s.",
               log->name, line, example);
  return FALSE;
}

static gboolean
fail_without_signal (const SbLog *log, guint64 line, GError **error)
{
  g_autofree char *names = list_names (log);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_SIGNAL,
               "%s, line %" G_GUINT64_FORMAT
               ": the header names a time but neither a torque, a velocity, an angle nor a "
               "command (found %s). Name one of them torque_Nm, velocity_rad_s, angle_rad or command_Nm.",
               log->name, line, names);
  return FALSE;
}

gboolean
sb_dialect_read_header (SbRows *rows, SbLog *log, SbCells *cells, const char *header, gsize length, guint64 line,
                        GError **error)
{
  const SbLogColumn *taken[SB_N_CHANNELS] = { NULL };
  rows->delimiter = sb_dialect_find_delimiter (cells, header, length);
  rows->decimal = rows->delimiter == ',' ? '.' : 0;
  log->header_line = line;
  sb_cells_split (cells, header, length, rows->delimiter);
  if (!has_names (cells))
    return fail_without_header (log, line, rows->delimiter, error);
  guint n_columns = sb_cells_count (cells);
  /* A delimiter at the end of the line begins no column. */
  if (n_columns > 1 && *sb_cells_get (cells, n_columns - 1, NULL) == '\0')
    n_columns--;
  rows->columns = g_new (SbRowColumn, n_columns);
  rows->n_columns = n_columns;
  for (guint i = 0; i < n_columns; i++)
    add_column (rows, log, sb_cells_get (cells, i, NULL), line, taken);
  if (taken[SB_CHANNEL_TIME] == NULL)
    return fail_without_time (log, line, error);
  for (int c = SB_CHANNEL_COMMAND; c < SB_N_CHANNELS; c++)
    if (taken[c] != NULL)
      return TRUE;
  return fail_without_signal (log, line, error);
}

/* A cell that says nothing of a unit. */
static gboolean
is_blank (const char *text)
{
  return *text == '\0' || strcmp (text, "-") == 0;
}

/* "Nm", "[Nm]" or "(Nm)". */
static const SbUnit *
unit_of_cell (const char *text)
{
  gsize length = strlen (text);
  gboolean bracketed
      = length > 2 && ((text[0] == '[' && text[length - 1] == ']') || (text[0] == '(' && text[length - 1] == ')'));
  g_autofree char *inside = bracketed ? g_strndup (text + 1, length - 2) : g_strdup (text);
  return sb_unit_find (g_strstrip (inside));
}

/* What a units row holds where a channel is: units, blanks, and no numbers. */
static gboolean
is_units_row (const SbRows *rows, const SbCells *cells)
{
  gboolean any = FALSE;
  for (guint i = 0; i < MIN (rows->n_columns, sb_cells_count (cells)); i++) {
    const char *text = sb_cells_get (cells, i, NULL);
    if (is_blank (text) || rows->columns[i].channel < 0)
      continue;
    if (g_ascii_isdigit (*text) || strchr ("+-.,", *text) != NULL)
      return FALSE;
    any = any || unit_of_cell (text) != NULL;
  }
  return any;
}

gboolean
sb_dialect_read_units (SbRows *rows, SbLog *log, const SbCells *cells, guint64 line, gboolean *is_units, GError **error)
{
  *is_units = is_units_row (rows, cells);
  for (guint i = 0; *is_units && i < MIN (rows->n_columns, sb_cells_count (cells)); i++) {
    SbLogColumn *column = log->columns->pdata[i];
    const char *text = sb_cells_get (cells, i, NULL);
    if (column->channel < 0 || column->unit[0] != '\0' || is_blank (text))
      continue;
    const SbUnit *unit = unit_of_cell (text);
    SbDimension wanted = sb_channel_dimension ((SbChannel) column->channel);
    if (unit == NULL || unit->dimension != wanted) {
      g_autofree char *list = sb_role_unit_list ((SbRole) column->channel);
      g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NOT_A_LOG,
                   "%s, line %" G_GUINT64_FORMAT
                   ", column '%s': the unit '%s' is not one for %s (%s). Correct this line, or "
                   "write the unit into the header.",
                   log->name, line, column->name, text, sb_channel_key ((SbChannel) column->channel), list);
      return FALSE;
    }
    set_unit (column, &rows->columns[i], unit);
  }
  return TRUE;
}
