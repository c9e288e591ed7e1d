/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_build.h"

#include "column_memory.h"

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
  log->columns = g_ptr_array_new_with_free_func (column_free);
  log->settings = g_ptr_array_new_with_free_func (setting_free);
  log->rotation_deg = (double) NAN;
  log->inertia_kg_m2 = (double) NAN;
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
  g_ptr_array_unref (log->faults);
  g_ptr_array_unref (log->columns);
  g_ptr_array_unref (log->settings);
  g_free (log->path);
  g_free (log->name);
  g_free (log->device);
  g_free (log->firmware);
  g_free (log->operator_name);
  g_free (log->date);
  g_free (log);
}

void
sb_log_add_fault (SbLog *log, guint64 line, const char *column, const char *format, ...)
{
  log->n_faults++;
  if (log->faults->len >= SB_LOG_MAX_FAULTS)
    return;
  SbFault *fault = g_new0 (SbFault, 1);
  va_list arguments;
  va_start (arguments, format);
  fault->line = line;
  fault->column = g_strdup (column);
  fault->what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_ptr_array_add (log->faults, fault);
}

char *
sb_text_to_utf8 (const char *text, gsize length)
{
  if (g_utf8_validate_len (text, length, NULL))
    return g_strndup (text, length);
  char *converted = g_convert_with_fallback (text, (gssize) length, "UTF-8", "WINDOWS-1252", "?", NULL, NULL, NULL);
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
