/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "doubt.h"

#include "number_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A mark is "BEGIN id;digits;value END", with characters that no sentence has. */
#define BEGIN "\x02"
#define END   "\x03"
/* As many as a double has (DBL_DECIMAL_DIG). */
#define MOST_DIGITS 17

char *
sb_figure (SbMeasureId id, double value, int digits)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup_printf (BEGIN "%d;%d;%s" END, (int) id, digits, g_ascii_dtostr (text, sizeof text, value));
}

static void
write_figure (GString *text, SbMeasureId id, int digits, double value, SbUnits units)
{
  SbShownUnit unit = sb_measure_shown_unit (id, units);
  char format[8], number[G_ASCII_DTOSTR_BUF_SIZE];
  g_snprintf (format, sizeof format, "%%.%dg", digits);
  g_string_append (text, g_ascii_formatd (number, sizeof number, format, value * unit.factor));
  if (strcmp (unit.name, "1") != 0)
    g_string_append_printf (text, " %s", unit.name);
}

typedef struct {
  SbMeasureId id;
  int digits;
  double value;
} Mark;

/* A whole number from 0 to `most` and the character behind it, which `rest` is moved past. */
static gboolean
read_number (const char **rest, long most, char closing, int *number)
{
  char *end;
  if (!g_ascii_isdigit (**rest))
    return FALSE;
  long read = strtol (*rest, &end, 10);
  if (*end != closing || read > most)
    return FALSE;
  *number = (int) read;
  *rest = end + 1;
  return TRUE;
}

/* The mark that begins at `begin`, with `rest` moved past it. FALSE, nothing written: the sentence quotes a log that
 * has such a character, and it is no mark. */
static gboolean
read_mark (const char *begin, Mark *mark, const char **rest)
{
  const char *at = begin + strlen (BEGIN);
  int id, digits;
  char *end;
  if (!read_number (&at, SB_N_MEASURES - 1, ';', &id) || !read_number (&at, MOST_DIGITS, ';', &digits))
    return FALSE;
  double value = g_ascii_strtod (at, &end);
  if (end == at || !g_str_has_prefix (end, END))
    return FALSE;
  *mark = (Mark){ (SbMeasureId) id, digits, value };
  *rest = end + strlen (END);
  return TRUE;
}

char *
sb_figures_write (const char *marked, SbUnits units)
{
  GString *text = g_string_new (NULL);
  const char *rest = marked;
  for (const char *begin; (begin = strstr (rest, BEGIN)) != NULL;) {
    Mark mark;
    g_string_append_len (text, rest, begin - rest);
    if (read_mark (begin, &mark, &rest)) {
      write_figure (text, mark.id, mark.digits, mark.value, units);
    } else {
      g_string_append (text, BEGIN);
      rest = begin + strlen (BEGIN);
    }
  }
  g_string_append (text, rest);
  return sb_plain_sentence (g_string_free (text, FALSE));
}

/* Takes both over; `topic` NULL: what the sentence says before ": ". */
static SbDoubt *
doubt_about (SbDoubtKind kind, char *topic, char *marked)
{
  SbDoubt *doubt = g_new (SbDoubt, 1);
  *doubt = (SbDoubt){ kind, topic, sb_figures_write (marked, (SbUnits){ 0 }), marked };
  if (topic == NULL) {
    const char *colon = strstr (doubt->text, ": ");
    doubt->topic = colon != NULL ? g_strndup (doubt->text, (gsize) (colon - doubt->text)) : g_strdup (doubt->text);
  }
  return doubt;
}

SbDoubt *
sb_doubt_new (SbDoubtKind kind, char *marked)
{
  return doubt_about (kind, NULL, marked);
}

SbDoubt *
sb_doubt_reword (const SbDoubt *doubt, char *marked)
{
  return doubt_about (doubt->kind, g_strdup (doubt->topic), marked);
}

void
sb_doubt_free (gpointer data)
{
  SbDoubt *doubt = data;
  g_free (doubt->topic);
  g_free (doubt->text);
  g_free (doubt->marked);
  g_free (doubt);
}

char *
sb_doubt_text (const SbDoubt *doubt, SbUnits units)
{
  return sb_figures_write (doubt->marked, units);
}

guint
sb_doubts_count (const GPtrArray *doubts)
{
  return doubts != NULL ? doubts->len : 0;
}

const SbDoubt *
sb_doubts_get (const GPtrArray *doubts, guint index)
{
  return g_ptr_array_index (doubts, index);
}

gboolean
sb_doubts_have (const GPtrArray *doubts, SbDoubtKind kind)
{
  for (guint i = 0; i < sb_doubts_count (doubts); i++)
    if (sb_doubts_get (doubts, i)->kind == kind)
      return TRUE;
  return FALSE;
}

gboolean
sb_doubts_beside_weighed (const GPtrArray *doubts)
{
  for (guint i = 0; i < sb_doubts_count (doubts); i++) {
    SbDoubtKind kind = sb_doubts_get (doubts, i)->kind;
    if (kind != SB_DOUBT_BIAS && kind != SB_DOUBT_COARSE)
      return TRUE;
  }
  return FALSE;
}
