/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a layout says of the columns -> how their cells are read. */
#include "rows.h"
#include "number_text.h"
#include "vocabulary.h"

#include <math.h>
#include <string.h>

#define NAMES_SHOWN 6
/* Names in another encoding show in the first columns. */
#define MOST_NAMES_DOUBTED 100

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

/* Why a column that has a role cannot be read, or cannot be read yet; NULL when it can. (transfer full) */
static char *
find_obstacle (const SbLayout *layout, guint index, const SbConversion *conversion)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  gboolean wanting = column->certainty == SB_CERTAINTY_MISSING && !conversion->aside;
  if (!wanting && conversion->kind != SB_CONVERT_NOTHING)
    return NULL;
  if (column->question != NULL)
    return g_strdup (column->question);
  return wanting ? g_strdup ("a value is missing; the column is read past") : sb_conversion_wanted (layout, index);
}

/* Whether a column is read; a reason against it is a fault of the header. */
static gboolean
is_read (SbLog *log, const SbLayout *layout, guint index, const SbConversion *conversion,
         const SbLogColumn *const *taken)
{
  const SbLayoutColumn *column = sb_layout_column (layout, index);
  g_autofree char *obstacle = find_obstacle (layout, index, conversion);
  g_autofree char *wanted = obstacle != NULL ? sb_conversion_wanted (layout, index) : NULL;
  if (obstacle != NULL)
    sb_log_add_fault (log, SB_FAULT_COLUMN, layout->header_line, column->name, "%s%s", obstacle,
                      wanted != NULL ? "; state it in the import sheet or a layout" : "");
  if (obstacle != NULL || conversion->kind == SB_CONVERT_NOTHING)
    return FALSE;
  int channel = conversion->channel;
  if (channel >= 0 && taken[channel] != NULL) {
    sb_log_add_fault (log, SB_FAULT_COLUMN, layout->header_line, column->name,
                      "%s is already read from the column '%s'; this one is read past",
                      sb_channel_key ((SbChannel) channel), taken[channel]->name);
    return FALSE;
  }
  if (column->question != NULL)
    sb_notes_take (log->notes, SB_NOTE_COLUMN, g_strdup_printf ("column '%s': %s", column->name, column->question));
  return TRUE;
}

/* The first column of each circumstance is summed up. */
static int
aside_of (SbRows *rows, guint index, SbRole role)
{
  int aside = (int) role - SB_ROLE_CURRENT;
  for (guint i = 0; i < index; i++)
    if (rows->columns[i].aside == aside)
      return -1;
  rows->has_asides = TRUE;
  return aside;
}

/* Bytes that are letters neither of UTF-8 nor of Windows-1252 show as the sign for that. */
static gboolean
is_garbled (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (strstr (sb_layout_column (layout, i)->name, "\xef\xbf\xbd") != NULL)
      return TRUE;
  return FALSE;
}

#define GARBLED                                                                                                        \
  "the names of the columns are in another encoding than UTF-8, UTF-16 and Windows-1252: save the file as UTF-8, or "  \
  "state the columns in the import sheet or a layout"
#define TAKEN_FOR_LATIN1                                                                                               \
  "the names of the columns are in another encoding than UTF-8, and are taken for Latin-1 (Windows-1252): if they "    \
  "look "                                                                                                              \
  "wrong, state the encoding (Windows-1250 for central Europe) in the import sheet or a layout, or save the file as "  \
  "UTF-8; the numbers are the same in each"

/* A mark inside a word, as one code page shows the letters of another: "Po³o¿enie". */
static gboolean
has_mark_in_word (const char *name)
{
  gunichar before = 0;
  for (const char *p = name; *p != '\0'; p = g_utf8_next_char (p)) {
    gunichar here = g_utf8_get_char (p);
    gboolean letters
        = before != 0 && g_unichar_isalpha (before) && g_unichar_isalpha (g_utf8_get_char (g_utf8_next_char (p)));
    if (letters && here >= 0x80 && !g_unichar_isalpha (here) && here != 0xb0 && here != 0xb7)
      return TRUE;
    before = here;
  }
  return FALSE;
}

/* Words of letters outside ASCII that no language of the vocabulary knows; nobody has confirmed the column. */
static gboolean
is_strange (const SbLayoutColumn *column)
{
  if (column->certainty == SB_CERTAINTY_CONFIRMED || g_str_is_ascii (column->name))
    return FALSE;
  g_autoptr (GPtrArray) words = sb_words_split (column->name);
  for (guint i = 0; i < words->len; i++)
    if (!g_str_is_ascii (words->pdata[i]) && sb_word_kinds (words->pdata[i]) == 0
        && sb_unit_find (words->pdata[i]) == NULL)
      return TRUE;
  return has_mark_in_word (column->name);
}

/* What makes the letters of the names doubtful; NULL: nothing. */
static const char *
doubt_of_encoding (const SbLayout *layout)
{
  if (is_garbled (layout))
    return GARBLED;
  for (guint i = 0; i < MIN (layout->columns->len, MOST_NAMES_DOUBTED) && layout->encoding == SB_ENCODING_LATIN1; i++)
    if (is_strange (sb_layout_column (layout, i)))
      return TAKEN_FOR_LATIN1;
  return NULL;
}

/* Whoever confirms such a column knows it; whoever reads the figures later shall too. */
static void
note_estimate (SbLog *log, const char *name)
{
  if (!sb_words_say (name, SB_WORD_ESTIMATED))
    return;
  log->estimated_torque = g_strdup (name);
  sb_notes_take (log->notes, SB_NOTE_REMARK,
                 g_strdup_printf ("the torque is estimated and not measured, by the name of its column "
                                  "'%s': say so where figures of it are published",
                                  name));
}

static void
add_column (SbRows *rows, SbLog *log, const SbLayout *layout, guint index, const SbLogColumn **taken)
{
  const SbLayoutColumn *from = sb_layout_column (layout, index);
  SbConversion conversion = sb_conversion_of (layout, index);
  if (!is_read (log, layout, index, &conversion, taken))
    conversion = SB_CONVERSION_NONE;
  SbLogColumn *column = g_new0 (SbLogColumn, 1);
  gboolean read = conversion.kind != SB_CONVERT_NOTHING;
  column->name = g_strdup (from->name);
  column->unit = g_strdup (from->unit != NULL && (read || from->role == SB_ROLE_OTHER) ? from->unit->name : "");
  column->role = read ? from->role : SB_ROLE_OTHER;
  column->channel = conversion.channel;
  column->factor = conversion.scaled || conversion.power_of_ten == 0
                       ? conversion.factor * pow (10.0, conversion.power_of_ten)
                       : 1.0 / pow (10.0, -conversion.power_of_ten);
  column->factor *= conversion.before * conversion.after;
  rows->conversions[index] = conversion;
  rows->columns[index] = (SbRowColumn){ conversion.channel, conversion.power_of_ten, FALSE, conversion.factor, -1 };
  rows->columns[index].scaled = conversion.scaled && !conversion.aside && conversion.kind != SB_CONVERT_TRANSDUCER;
  if (read && conversion.aside)
    rows->columns[index].aside = aside_of (rows, index, from->role);
  g_ptr_array_add (log->columns, column);
  if (column->channel >= 0)
    taken[column->channel] = column;
  if (conversion.from_current)
    log->torque_constant_nm_per_a = from->torque_constant_nm_per_a;
  if (column->channel == SB_CHANNEL_TORQUE && column->role == SB_ROLE_TORQUE)
    note_estimate (log, column->name);
  rows->has_clock |= conversion.kind == SB_CONVERT_CLOCK;
  if (conversion.kind == SB_CONVERT_CLOCK)
    rows->clock.form = sb_layout_column (layout, index)->clock_form;
  rows->counts_samples |= conversion.kind == SB_CONVERT_SAMPLES;
}

/* The first column that a person should look at, rather one with an open question than one of which something is told;
 * NULL when there is none. */
static const SbLayoutColumn *
first_question (const SbLayout *layout)
{
  const SbLayoutColumn *told = NULL;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->question == NULL)
      continue;
    if (column->certainty == SB_CERTAINTY_GUESSED || column->certainty == SB_CERTAINTY_MISSING)
      return column;
    if (told == NULL && column->role == SB_ROLE_OTHER)
      told = column;
  }
  return told;
}

/* Whether it is the signs of the numbers that keep the column from being read, and no value that its unit wants. */
static gboolean
wants_decimal (const SbLayout *layout, const SbLayoutColumn *asked)
{
  g_autofree char *wanted = NULL;
  for (guint i = 0; i < layout->columns->len && wanted == NULL; i++)
    if (sb_layout_column (layout, i) == asked)
      wanted = sb_conversion_wanted (layout, i);
  return layout->decimal == '\0' && wanted == NULL;
}

static gboolean
fail_by_question (const SbLog *log, const SbLayout *layout, const SbLayoutColumn *asked, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
               "%s, line %" G_GUINT64_FORMAT ", column '%s': %s. State %s in the import sheet or a layout.", log->name,
               layout->header_line > 0 ? layout->header_line : layout->first_line, asked->name,
               asked->question != NULL ? asked->question : "a value is missing",
               wants_decimal (layout, asked) ? "the decimal sign" : "it");
  return FALSE;
}

static gboolean
fail_without_header (const SbLog *log, const SbLayout *layout, GError **error)
{
  g_autofree char *example = g_strdup ("time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm");
  g_strdelimit (example, ",", layout->delimiter);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_NO_TIME,
               "%s, line %" G_GUINT64_FORMAT ": this is no header but numbers. Put a line before it that names the "
               "columns and their units, such as %s, or state the columns in the import sheet or a layout.",
               log->name, layout->first_line, example);
  return FALSE;
}

/* `what` is missing, found are other names; what a person should look at, `remedy`, and what makes the names doubtful.
 * Of names that cannot be read nothing else is worth telling. */
static void
set_missing_error (GError **error, SbLogError code, const SbLog *log, const SbLayout *layout, const char *what,
                   const char *remedy)
{
  g_autofree char *names = list_names (log);
  const char *doubt = doubt_of_encoding (layout);
  const SbLayoutColumn *asked = first_question (layout);
  g_autoptr (GString) more = g_string_new (NULL);
  if (is_garbled (layout)) {
    g_string_printf (more, ": %s.", doubt);
  } else {
    g_string_append_c (more, '.');
    if (asked != NULL)
      g_string_append_printf (more, " Column '%s': %s.", asked->name, asked->question);
    g_string_append_printf (more, " %s", remedy);
    if (doubt != NULL)
      g_string_append_printf (more, " Also, %s.", doubt);
  }
  g_set_error (error, SB_LOG_ERROR, code, "%s, line %" G_GUINT64_FORMAT ": %s (found %s)%s", log->name,
               layout->header_line > 0 ? layout->header_line : layout->first_line, what, names, more->str);
}

static gboolean
fail_without_time (const SbLog *log, const SbLayout *layout, GError **error)
{
  g_autofree char *doubt = layout->question != NULL ? g_strdup_printf ("; %s", layout->question) : g_strdup ("");
  g_autofree char *remedy
      = g_strdup_printf ("Name the time column time_s, time_ms or Time [s]; where there is none and each row is a "
                         "sample, state the sample rate (sample_rate_hz in a layout, or --sample-rate)%s.",
                         doubt);
  set_missing_error (error, SB_LOG_ERROR_NO_TIME, log, layout, "no column of the header is the time", remedy);
  return FALSE;
}

static gboolean
fail_without_signal (const SbLog *log, const SbLayout *layout, GError **error)
{
  set_missing_error (
      error, SB_LOG_ERROR_NO_SIGNAL, log, layout,
      layout->header_line > 0 ? "the header names a time but neither a torque, a velocity, an angle nor a command"
                              : "there is no header, and of the columns that the numbers tell of none is a torque, a "
                                "velocity, an angle or a command",
      "Name one of them torque_Nm, velocity_rad_s, angle_rad or command_Nm, when its numbers are in that unit (else "
      "convert them first), or give the column its role in the import sheet or a layout.");
  return FALSE;
}

/* The column that shows that the file is no table of one instant a row (form.h). */
static const SbLayoutColumn *
column_of_other_form (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == SB_ROLE_OTHER && column->certainty == SB_CERTAINTY_MISSING && column->question != NULL)
      return column;
  }
  return NULL;
}

static gboolean
fail_by_form (const SbLog *log, const SbLayout *layout, const SbLayoutColumn *column, GError **error)
{
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT, "%s, line %" G_GUINT64_FORMAT ", column '%s': %s.", log->name,
               layout->header_line > 0 ? layout->header_line : layout->first_line, column->name, column->question);
  return FALSE;
}

/* The column without which the log has no time, or no signal, because a value is missing. */
static const SbLayoutColumn *
missing_column (const SbLayout *layout, gboolean time)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    g_autofree char *wanted = sb_conversion_wanted (layout, i);
    if ((column->certainty == SB_CERTAINTY_MISSING || wanted != NULL) && (column->role == SB_ROLE_TIME) == time)
      return column;
  }
  return NULL;
}

static gboolean
check_channels (const SbLog *log, const SbLayout *layout, const SbLogColumn *const *taken, GError **error)
{
  gboolean time = taken[SB_CHANNEL_TIME] != NULL || sb_layout_counts_rows (layout), signal = FALSE;
  for (int c = SB_CHANNEL_COMMAND; c < SB_N_CHANNELS; c++)
    signal = signal || taken[c] != NULL;
  if (time && signal)
    return TRUE;
  const SbLayoutColumn *form = column_of_other_form (layout);
  if (form != NULL)
    return fail_by_form (log, layout, form, error);
  const SbLayoutColumn *missing = missing_column (layout, !time);
  if (missing != NULL)
    return fail_by_question (log, layout, missing, error);
  if (!time && layout->header_line == 0)
    return fail_without_header (log, layout, error);
  return time ? fail_without_signal (log, layout, error) : fail_without_time (log, layout, error);
}

/* Without a column of times the rows are the samples. */
static void
count_rows (SbRows *rows, SbLog *log, const SbLayout *layout)
{
  g_autofree char *rate = sb_number_plain (layout->sample_rate_hz);
  rows->row_rate_hz = layout->sample_rate_hz;
  rows->counts_samples = TRUE;
  char *note = layout->is_rate_confirmed
                   ? g_strdup_printf ("no column is the time: each row is one sample, %s of them in a second, as was "
                                      "stated",
                                      rate)
                   : g_strdup_printf ("no column is the time, and the lines before the table state a sample rate: each "
                                      "row is taken for one sample, %s of them in a second; confirm it or state "
                                      "another rate, in the import sheet, a layout or with --sample-rate%s%s",
                                      rate, layout->question != NULL ? "; " : "",
                                      layout->question != NULL ? layout->question : "");
  sb_notes_take (log->notes, layout->is_rate_confirmed ? SB_NOTE_REMARK : SB_NOTE_TIMES, note);
}

/* A layout is made without the log, so that a factor may meet a unit that takes none. */
static gboolean
check_factors (const SbLog *log, const SbLayout *layout, GError **error)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const char *why = sb_conversion_refuses_factor (layout, i);
    if (why == NULL)
      continue;
    g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
                 "%s, line %" G_GUINT64_FORMAT ", column '%s': %s. Correct it in the import sheet or the layout.",
                 log->name, layout->header_line > 0 ? layout->header_line : layout->first_line,
                 sb_layout_column (layout, i)->name, why);
    return FALSE;
  }
  return TRUE;
}

gboolean
sb_rows_set_layout (SbRows *rows, SbLog *log, const SbLayout *layout, GError **error)
{
  const SbLogColumn *taken[SB_N_CHANNELS] = { NULL };
  rows->delimiter = layout->delimiter;
  rows->decimal = layout->decimal;
  rows->thousands = layout->thousands;
  rows->is_thousands_stated = layout->is_thousands_stated;
  rows->quote = layout->quote;
  rows->comment_first = layout->comment_prefix[0];
  rows->last_line = layout->last_line > 0 ? layout->last_line : G_MAXUINT64;
  rows->n_columns = layout->columns->len;
  rows->columns = g_new (SbRowColumn, MAX (rows->n_columns, 1));
  rows->conversions = g_new (SbConversion, MAX (rows->n_columns, 1));
  for (guint i = 0; i < rows->n_columns; i++)
    add_column (rows, log, layout, i, taken);
  const char *doubt = doubt_of_encoding (layout);
  if (doubt != NULL)
    sb_notes_take (log->notes, SB_NOTE_ENCODING, g_strdup (doubt));
  if (sb_layout_counts_rows (layout))
    count_rows (rows, log, layout);
  return check_factors (log, layout, error) && check_channels (log, layout, taken, error);
}
