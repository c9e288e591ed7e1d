/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a layout says of the columns -> how their cells are read. */
#include "rows.h"

#include <math.h>
#include <string.h>

#define NAMES_SHOWN 6

/* "'Temp', 'Load' and 3 more" */
static char *
list_names (const SbLog *log)
{
  const guint n_shown = MIN (log->columns->len, NAMES_SHOWN);
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

/* The channel a column is read into; -1, with the reason as a fault of the header where there is one. */
static int
channel_of (SbLog *log, const SbLayout *layout, const SbLayoutColumn *column, const SbLogColumn *const *taken)
{
  int channel = sb_role_channel (column->role);
  if (channel >= 0 && column->unit != NULL && column->unit->dimension != sb_channel_dimension ((SbChannel) channel))
    channel = -1;
  guint64 line = layout->header_line;
  if (column->certainty == SB_CERTAINTY_MISSING || (channel < 0 && column->question != NULL)) {
    sb_log_add_fault (log, SB_FAULT_COLUMN, line, column->name, "%s",
                      column->question != NULL ? column->question : "a value is missing; the column is read past");
    return -1;
  }
  if (channel >= 0 && taken[channel] != NULL) {
    sb_log_add_fault (log, SB_FAULT_COLUMN, line, column->name,
                      "%s is already read from the column '%s'; this one is read past",
                      sb_channel_key ((SbChannel) channel), taken[channel]->name);
    return -1;
  }
  if (channel >= 0 && column->certainty == SB_CERTAINTY_GUESSED)
    g_ptr_array_add (log->notes, g_strdup_printf ("the column '%s' was taken for the %s by a guess; confirm it",
                                                  column->name, sb_channel_key ((SbChannel) channel)));
  return channel;
}

static void
add_column (SbRows *rows, SbLog *log, const SbLayout *layout, guint index, const SbLogColumn **taken)
{
  const SbLayoutColumn *from = sb_layout_column (layout, index);
  SbLogColumn *column = g_new0 (SbLogColumn, 1);
  SbRowColumn *row_column = &rows->columns[index];
  column->name = g_strdup (from->name);
  column->unit = g_strdup ("");
  column->channel = channel_of (log, layout, from, taken);
  column->factor = 1.0;
  *row_column = (SbRowColumn){ .channel = column->channel, .factor = 1.0 };
  if (from->unit != NULL)
    set_unit (column, row_column, from->unit);
  g_ptr_array_add (log->columns, column);
  if (column->channel >= 0)
    taken[column->channel] = column;
}

/* "Column 'T': the unit ... " of the first column that a person should look at; NULL when there is none. */
static const SbLayoutColumn *
first_question (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (sb_layout_column (layout, i)->question != NULL)
      return sb_layout_column (layout, i);
  return NULL;
}

static gboolean
fail_by_question (const SbLog *log, const SbLayout *layout, const SbLayoutColumn *asked, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
               "%s, line %" G_GUINT64_FORMAT ", column '%s': %s. State %s in a layout file (--layout FILE), or in the "
               "window under Columns….",
               log->name, layout->header_line > 0 ? layout->header_line : layout->first_line, asked->name,
               asked->question != NULL ? asked->question : "a value is missing",
               layout->decimal == '\0' ? "the decimal sign" : "it");
  return FALSE;
}

static gboolean
fail_without_header (const SbLog *log, const SbLayout *layout, GError **error)
{
  g_autofree char *example = g_strdup ("time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm");
  g_strdelimit (example, ",", layout->delimiter);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME,
               "%s, line %" G_GUINT64_FORMAT ": this is no header but numbers. Put a line before it that names the "
               "columns and their units, such as %s, or state the columns in a layout file (--layout FILE).",
               log->name, layout->first_line, example);
  return FALSE;
}

static gboolean
fail_without_time (const SbLog *log, const SbLayout *layout, GError **error)
{
  g_autofree char *names = list_names (log);
  const SbLayoutColumn *asked = first_question (layout);
  g_set_error (
      error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME,
      "%s, line %" G_GUINT64_FORMAT ": no column of the header is the time (found %s).%s%s%s%s%s Name the time "
      "column time_s, time_ms or Time [s].",
      log->name, layout->header_line, names, asked != NULL ? " Column '" : "", asked != NULL ? asked->name : "",
      asked != NULL ? "': " : "", asked != NULL ? asked->question : "", asked != NULL ? "." : "");
  return FALSE;
}

static gboolean
fail_without_signal (const SbLog *log, const SbLayout *layout, GError **error)
{
  g_autofree char *names = list_names (log);
  const SbLayoutColumn *asked = first_question (layout);
  g_set_error (
      error, SB_LOG_ERROR, SB_LOG_ERROR_NO_SIGNAL,
      "%s, line %" G_GUINT64_FORMAT
      ": the header names a time but neither a torque, a velocity, an angle nor a command (found %s).%s%s%s%s%s "
      "Name one of them torque_Nm, velocity_rad_s, angle_rad or command_Nm.",
      log->name, layout->header_line, names, asked != NULL ? " Column '" : "", asked != NULL ? asked->name : "",
      asked != NULL ? "': " : "", asked != NULL ? asked->question : "", asked != NULL ? "." : "");
  return FALSE;
}

/* The column without which the log has no time, or no signal, because a value is missing. */
static const SbLayoutColumn *
missing_column (const SbLayout *layout, gboolean time)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->certainty == SB_CERTAINTY_MISSING && (column->role == SB_ROLE_TIME) == time)
      return column;
  }
  return NULL;
}

static gboolean
check_channels (const SbLog *log, const SbLayout *layout, const SbLogColumn *const *taken, GError **error)
{
  gboolean time = taken[SB_CHANNEL_TIME] != NULL, signal = FALSE;
  for (int c = SB_CHANNEL_COMMAND; c < SB_N_CHANNELS; c++)
    signal = signal || taken[c] != NULL;
  if (time && signal)
    return TRUE;
  const SbLayoutColumn *missing = missing_column (layout, !time);
  if (missing != NULL)
    return fail_by_question (log, layout, missing, error);
  if (!time && layout->header_line == 0)
    return fail_without_header (log, layout, error);
  return time ? fail_without_signal (log, layout, error) : fail_without_time (log, layout, error);
}

gboolean
sb_rows_set_layout (SbRows *rows, SbLog *log, const SbLayout *layout, GError **error)
{
  const SbLogColumn *taken[SB_N_CHANNELS] = { NULL };
  rows->delimiter = layout->delimiter;
  rows->decimal = layout->decimal;
  rows->thousands = layout->thousands;
  rows->quote = layout->quote;
  rows->comment_first = layout->comment_prefix[0];
  rows->last_line = layout->last_line > 0 ? layout->last_line : G_MAXUINT64;
  rows->n_columns = layout->columns->len;
  rows->columns = g_new (SbRowColumn, MAX (rows->n_columns, 1));
  for (guint i = 0; i < rows->n_columns; i++)
    add_column (rows, log, layout, i, taken);
  return check_channels (log, layout, taken, error);
}
