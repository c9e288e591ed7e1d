/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "comment.h"
#include "noted_number.h"
#include "number_text.h"

#include <math.h>
#include <string.h>

/* Bounds the memory a file of nothing but settings can take, far above what a drive has. */
#define MAX_SETTINGS 1000

/* A number that can be read in two ways is not taken, and one that the table decides is told. */
static gboolean
read_number (SbLog *log, const char *key, const char *text, gsize length, guint64 line, double *value)
{
  SbNotedStyle style = sb_noted_style (log->layout);
  SbNoted reading = sb_noted_read (text, length, &style, value);
  g_autofree char *quoted = sb_text_quote (text, length);
  if (reading == SB_NOTED_UNCLEAR) {
    g_autofree char *unclear = sb_noted_unclear (text, length);
    sb_log_add_fault (log, SB_FAULT_DESCRIPTION, line, NULL, "%s: %s %s", key, quoted, unclear);
  }
  if (reading == SB_NOTED_BY_TABLE) {
    g_autofree char *number = sb_number_plain (*value);
    sb_notes_take (log->notes, SB_NOTE_SIGNS,
                   g_strdup_printf ("line %" G_GUINT64_FORMAT ", %s: %s is taken for %s, because of the "
                                    "signs of the table",
                                    line, key, quoted, number));
  }
  return reading == SB_NOTED_PLAIN || reading == SB_NOTED_BY_TABLE;
}

/* "[N·m/ms]" and "N·m/ms" -> N·m/ms */
static char *
without_brackets (const char *text)
{
  gsize length = strlen (text);
  gboolean bracketed
      = length >= 2 && ((text[0] == '[' && text[length - 1] == ']') || (text[0] == '(' && text[length - 1] == ')'));
  return bracketed ? g_strstrip (g_strndup (text + 1, length - 2)) : g_strdup (text);
}

static gboolean
begins_unit (char c)
{
  return g_ascii_isalpha (c) || (c != '\0' && strchr ("%[(", c) != NULL) || (guint8) c >= 0x80;
}

static const SbSetting *
find_setting (const SbLog *log, const char *name)
{
  for (guint i = 0; i < log->settings->len; i++) {
    const SbSetting *setting = log->settings->pdata[i];
    if (strcmp (setting->name, name) == 0)
      return setting;
  }
  return NULL;
}

/* "0.6 N·m/ms", "80 %" and "0.6N·m/ms" are a number and a unit; "off", "1.0.3", "1:2" and "3-phase" are words. */
static void
split_value (SbLog *log, SbSetting *setting, const char *value, guint64 line)
{
  gsize length = sb_noted_length (value, FALSE);
  const char *rest = value + length;
  gboolean number = length > 0 && (*rest == '\0' || *rest == ' ' || *rest == '\t' || begins_unit (*rest));
  setting->value = (double) NAN;
  setting->unit = g_strdup ("");
  setting->text = g_strdup (value);
  if (!number || !read_number (log, setting->name, value, length, line, &setting->value))
    return;
  g_autofree char *unit = without_brackets (rest + strspn (rest, " \t"));
  g_autofree char *written = g_strndup (value, length);
  g_free (setting->unit);
  g_free (setting->text);
  setting->text = *unit == '\0' ? g_strdup (written) : g_strdup_printf ("%s %s", written, unit);
  setting->unit = g_steal_pointer (&unit);
}

/* Written as a setting it is the fact of the same name. */
static gboolean
is_rotation_range (const SbSetting *setting)
{
  return g_ascii_strcasecmp (setting->name, "rotation range") == 0 && isfinite (setting->value)
         && (g_ascii_strcasecmp (setting->unit, "deg") == 0 || strcmp (setting->unit, "°") == 0);
}

static void
add_setting (SbLog *log, const char *name, const char *value, guint64 line)
{
  if (find_setting (log, name) != NULL) {
    sb_log_add_fault (log, SB_FAULT_DESCRIPTION, line, NULL, "the setting '%s' is stated again; the first is kept",
                      name);
    return;
  }
  if (log->settings->len == MAX_SETTINGS) {
    sb_log_add_fault (log, SB_FAULT_DESCRIPTION, line, NULL, "more than %d settings; '%s' is left out", MAX_SETTINGS,
                      name);
    return;
  }
  SbSetting *setting = g_new0 (SbSetting, 1);
  setting->name = g_strdup (name);
  split_value (log, setting, value, line);
  g_ptr_array_add (log->settings, setting);
  if (!isnan (log->rotation_deg) || !is_rotation_range (setting))
    return;
  log->rotation_deg = setting->value;
  g_ptr_array_remove_index (log->settings, log->settings->len - 1);
}

static void
set_number (SbLog *log, double *number, const char *key, const char *value, guint64 line)
{
  guint64 n_before = log->n_faults;
  if (!read_number (log, key, value, strlen (value), line, number) && log->n_faults == n_before)
    sb_log_add_fault (log, SB_FAULT_DESCRIPTION, line, NULL, "%s: '%s' is no number", key, value);
}

static void
set_text (char **text, const char *value)
{
  if (*text == NULL && *value != '\0')
    *text = g_strdup (value);
}

static void
read_pair (SbLog *log, const char *key, const char *value, guint64 line)
{
  g_autofree char *folded = g_ascii_strdown (key, -1);
  if (strcmp (folded, "device") == 0)
    set_text (&log->device, value);
  else if (strcmp (folded, "firmware") == 0)
    set_text (&log->firmware, value);
  else if (strcmp (folded, "operator") == 0)
    set_text (&log->operator_name, value);
  else if (strcmp (folded, "date") == 0)
    set_text (&log->date, value);
  else if (strcmp (folded, "rotation_deg") == 0)
    set_number (log, &log->rotation_deg, folded, value, line);
  else if (strcmp (folded, "inertia_kg_m2") == 0)
    set_number (log, &log->inertia_kg_m2, folded, value, line);
  else if (g_str_has_prefix (folded, "setting ") || g_str_has_prefix (folded, "setting\t"))
    add_setting (log, key + strlen ("setting ") + strspn (key + strlen ("setting "), " \t"), value, line);
}

/* `text` is cut at `mark`, whose byte is one of the separators. */
static void
read_cut (SbLog *log, char *text, char *mark, guint64 line_number)
{
  *mark = '\0';
  char *value = g_strstrip (mark + 1);
  /* Spreadsheets that save such a line as CSV fill it up with delimiters. */
  for (gsize n = strlen (value); n > 0 && strchr (",;\t ", value[n - 1]) != NULL; n--)
    value[n - 1] = '\0';
  read_pair (log, g_strstrip (text), value, line_number);
}

static char *
text_of (const SbLog *log, const char *line, gsize length)
{
  return sb_text_to_utf8_from (line, length, log->layout != NULL ? log->layout->encoding : SB_ENCODING_UTF8);
}

void
sb_comment_read (SbLog *log, const char *line, gsize length, gsize prefix_length, guint64 line_number)
{
  g_autofree char *text = text_of (log, line + prefix_length, length - prefix_length);
  char *key = text + strspn (text, "#%/; \t");
  char *colon = strchr (key, ':');
  if (colon != NULL)
    read_cut (log, key, colon, line_number);
}

void
sb_preamble_read (SbLog *log, const char *line, gsize length, guint64 line_number)
{
  g_autofree char *text = text_of (log, line, length);
  char *key = g_strstrip (text);
  g_strdelimit (key, "\"", ' ');
  char *mark = strpbrk (key, ":=;,\t|");
  if (mark != NULL)
    read_cut (log, key, mark, line_number);
}
