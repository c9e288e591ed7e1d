/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_build.h"

#include "column_memory.h"
#include "number_style.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

G_DEFINE_QUARK (sb_log_error_quark, sb_log_error)

#define LONGEST_QUOTE 40

static void
fault_free (gpointer data)
{
  SbFault *fault = data;
  g_free (fault->column);
  g_free (fault->what);
  g_free (fault);
}

static void
group_free (gpointer data)
{
  SbFaultGroup *group = data;
  g_free (group->column);
  g_free (group);
}

static void
column_free (gpointer data)
{
  SbLogColumn *column = data;
  g_free (column->name);
  g_free (column->unit);
  g_free (column);
}

static void
setting_free (gpointer data)
{
  SbSetting *setting = data;
  g_free (setting->name);
  g_free (setting->text);
  g_free (setting->unit);
  g_free (setting);
}

SbLog *
sb_log_new (const char *path)
{
  SbLog *log = g_new0 (SbLog, 1);
  log->path = g_strdup (path);
  log->name = g_filename_display_basename (path);
  log->faults = g_ptr_array_new_with_free_func (fault_free);
  log->setbacks = g_array_new (FALSE, FALSE, sizeof (SbSetback));
  log->jumps = g_array_new (FALSE, FALSE, sizeof (SbJump));
  log->fault_groups = g_ptr_array_new_with_free_func (group_free);
  log->notes = sb_notes_new ();
  log->columns = g_ptr_array_new_with_free_func (column_free);
  log->settings = g_ptr_array_new_with_free_func (setting_free);
  log->rotation_deg = (double) NAN;
  log->inertia_kg_m2 = (double) NAN;
  log->torque_constant_nm_per_a = (double) NAN;
  g_atomic_ref_count_init (&log->ref_count);
  return log;
}

SbLog *
sb_log_ref (SbLog *log)
{
  g_atomic_ref_count_inc (&log->ref_count);
  return log;
}

void
sb_log_unref (SbLog *log)
{
  if (log == NULL || !g_atomic_ref_count_dec (&log->ref_count))
    return;
  for (int c = 0; c < SB_N_CHANNELS; c++)
    sb_column_free (log->column_pool, log->channel[c]);
  sb_column_pool_unref (log->column_pool);
  sb_layout_unref (log->layout);
  g_ptr_array_unref (log->faults);
  g_ptr_array_unref (log->fault_groups);
  g_array_unref (log->setbacks);
  g_array_unref (log->jumps);
  g_ptr_array_unref (log->notes);
  g_ptr_array_unref (log->columns);
  g_ptr_array_unref (log->settings);
  g_free (log->path);
  g_free (log->name);
  g_free (log->estimated_torque);
  g_free (log->device);
  g_free (log->firmware);
  g_free (log->operator_name);
  g_free (log->date);
  g_free (log);
}

/* The group of a fault. Rows are many and groups few: the last one is nearly always the one looked for. */
static void
count_in_group (SbLog *log, SbFaultKind kind, guint64 line, const char *column)
{
  for (guint i = log->fault_groups->len; i > 0; i--) {
    SbFaultGroup *group = log->fault_groups->pdata[i - 1];
    if (group->kind == kind && g_strcmp0 (group->column, column) == 0) {
      group->n++;
      return;
    }
  }
  SbFaultGroup *group = g_new (SbFaultGroup, 1);
  *group = (SbFaultGroup){ kind, g_strdup (column), 1, line };
  guint place = log->fault_groups->len;
  while (place > 0 && ((const SbFaultGroup *) log->fault_groups->pdata[place - 1])->first_line > line)
    place--;
  g_ptr_array_insert (log->fault_groups, (int) place, group);
}

/* Where a fault of `line` belongs: nearly always last, but whether a line was a title shows some lines later. */
static guint
place_of_fault (const SbLog *log, guint64 line)
{
  guint place = log->faults->len;
  while (place > 0 && ((const SbFault *) log->faults->pdata[place - 1])->line > line)
    place--;
  return place;
}

static const struct {
  const char *one, *many;
} group_words[SB_N_FAULT_KINDS] = {
  [SB_FAULT_NO_NUMBER] = { "cell that is no number", "cells that are no numbers" },
  [SB_FAULT_EMPTY_CELL] = { "empty cell", "empty cells" },
  [SB_FAULT_OVERLOAD] = { "overload mark of an instrument", "overload marks of an instrument" },
  [SB_FAULT_TOO_LARGE] = { "number that is too large", "numbers that are too large" },
  [SB_FAULT_CELL_COUNT] = { "row with too few or too many cells", "rows with too few or too many cells" },
  [SB_FAULT_OPEN_QUOTE] = { "row with a quote that is not closed", "rows with a quote that is not closed" },
  [SB_FAULT_TIME_BACKWARD] = { "row whose time goes backward", "rows whose time goes backward" },
  [SB_FAULT_TIME_ALONE]
  = { "row whose time is far ahead of those around it", "rows whose time is far ahead of those around them" },
  [SB_FAULT_TIME_REPEATED] = { "row at the same time as the one before", "rows at the same time as the one before" },
  [SB_FAULT_LONG_LINE] = { "line longer than 1 MiB", "lines longer than 1 MiB" },
  [SB_FAULT_CUT_ROW] = { "last row cut in the middle", "last rows cut in the middle" },
  [SB_FAULT_ZERO_TAIL] = { "tail of zero bytes", "tails of zero bytes" },
  [SB_FAULT_COLUMN] = { "column that is read past", "columns that are read past" },
  [SB_FAULT_DESCRIPTION]
  = { "comment that contradicts another or is no number", "comments that contradict others or are no numbers" },
};

/* "3,214": in groups of three, the same in every locale. */
static char *
count_text (guint64 n)
{
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%" G_GUINT64_FORMAT, n);
  for (gssize at = (gssize) text->len - 3; at > 0; at -= 3)
    g_string_insert_c (text, at, ',');
  return g_string_free (text, FALSE);
}

char *
sb_fault_group_text (const SbFaultGroup *group)
{
  g_autofree char *count = count_text (group->n);
  g_autofree char *column = group->column != NULL ? g_strdup_printf (", column '%s'", group->column) : g_strdup ("");
  gboolean many = group->n != 1;
  g_autofree char *place = group->first_line > 0 ? g_strdup_printf (", %s line %" G_GUINT64_FORMAT,
                                                                    many ? "first at" : "at", group->first_line)
                                                 : g_strdup ("");
  return g_strdup_printf ("%s %s%s%s", count, many ? group_words[group->kind].many : group_words[group->kind].one,
                          place, column);
}

char *
sb_log_most_left_out (const SbLog *log)
{
  const SbFaultGroup *most = NULL;
  for (guint i = 0; i < log->fault_groups->len; i++) {
    const SbFaultGroup *group = log->fault_groups->pdata[i];
    most = most == NULL || group->n > most->n ? group : most;
  }
  if (most == NULL || log->n_rows_left_out <= log->n_rows)
    return NULL;
  g_autofree char *text = sb_fault_group_text (most);
  return g_strdup_printf ("Most rows are left out (%s): export the log again without that", text);
}

void
sb_log_add_fault (SbLog *log, SbFaultKind kind, guint64 line, const char *column, const char *format, ...)
{
  log->n_faults++;
  count_in_group (log, kind, line, column);
  guint place = place_of_fault (log, line);
  if (place >= SB_LOG_MAX_FAULTS)
    return;
  if (log->faults->len == SB_LOG_MAX_FAULTS)
    g_ptr_array_remove_index (log->faults, SB_LOG_MAX_FAULTS - 1);
  SbFault *fault = g_new0 (SbFault, 1);
  va_list arguments;
  va_start (arguments, format);
  fault->line = line;
  fault->kind = (int) kind;
  fault->column = g_strdup (column);
  fault->what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_ptr_array_insert (log->faults, (int) place, fault);
}

char *
sb_text_to_utf8 (const char *text, gsize length)
{
  return sb_text_to_utf8_from (text, length, SB_ENCODING_UTF8);
}

char *
sb_text_to_utf8_from (const char *text, gsize length, SbEncoding encoding)
{
  gboolean narrow = encoding == SB_ENCODING_LATIN1 || encoding == SB_ENCODING_WINDOWS_1250;
  if (!narrow && g_utf8_validate_len (text, length, NULL))
    return g_strndup (text, length);
  const char *from = encoding == SB_ENCODING_WINDOWS_1250 ? "WINDOWS-1250" : "WINDOWS-1252";
  char *converted = g_convert_with_fallback (text, (gssize) length, "UTF-8", from, "?", NULL, NULL, NULL);
  return converted != NULL ? converted : g_utf8_make_valid (text, (gssize) length);
}

char *
sb_text_quote (const char *text, gsize length)
{
  const char *valid_end;
  gsize cut = MIN (length, 4 * LONGEST_QUOTE);
  /* A cut inside a character must not make the rest look like another encoding. */
  if (cut < length && !g_utf8_validate_len (text, cut, &valid_end) && cut - (gsize) (valid_end - text) < 4)
    cut = (gsize) (valid_end - text);
  g_autofree char *utf8 = sb_text_to_utf8 (text, cut);
  if (g_utf8_strlen (utf8, -1) <= LONGEST_QUOTE)
    return g_strdup_printf ("'%s'", utf8);
  *g_utf8_offset_to_pointer (utf8, LONGEST_QUOTE) = '\0';
  return g_strdup_printf ("'%s…'", utf8);
}

/* The bytes of a no-break or thin blank that ends `text`. In Windows-1252 it is one byte, which may end a letter of
 * UTF-8 as well. */
static gsize
wide_blank_at_end (const char *text, gsize length)
{
  static const char *const blanks[] = { "\xc2\xa0", "\xe2\x80\xaf", "\xe2\x80\x89" };
  for (guint i = 0; i < G_N_ELEMENTS (blanks); i++) {
    gsize n = strlen (blanks[i]);
    if (length >= n && memcmp (text + length - n, blanks[i], n) == 0)
      return n;
  }
  return length > 0 && text[length - 1] == '\xa0' && (length == 1 || (guchar) text[length - 2] < 0x80) ? 1 : 0;
}

const char *
sb_text_trim (const char *text, gsize *length)
{
  gsize n;
  while (*length > 0 && (n = g_ascii_isspace (text[*length - 1]) ? 1 : wide_blank_at_end (text, *length)) > 0)
    *length -= n;
  while (*length > 0 && (n = g_ascii_isspace (*text) ? 1 : sb_blank_length (text, text + *length)) > 0) {
    text += n;
    *length -= n;
  }
  return text;
}
