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
/* Before a bound, of which the largest holds for all. */
#define MOST "up to "

char *
sb_figure (SbMeasureId id, double value, int digits)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup_printf (BEGIN "%d;%d;%s" END, (int) id, digits, g_ascii_dtostr (text, sizeof text, value));
}

/* The id of a count, which is of no measure. */
#define COUNT SB_N_MEASURES

char *
sb_count_figure (gsize n)
{
  return sb_figure (COUNT, (double) n, MOST_DIGITS);
}

typedef struct {
  SbMeasureId id; /* or COUNT */
  int digits;
  double value;
} Mark;

/* "0.19 rad/s", or from the one to the other, "0.19 to 0.33 rad/s", where they are written unlike. */
static void
write_figure (GString *text, const Mark *least, const Mark *most, SbUnits units)
{
  SbShownUnit unit = least->id == COUNT ? (SbShownUnit){ "1", 1 } : sb_measure_shown_unit (least->id, units);
  char format[8], from[G_ASCII_DTOSTR_BUF_SIZE], to[G_ASCII_DTOSTR_BUF_SIZE];
  g_snprintf (format, sizeof format, "%%.%dg", least->digits);
  g_ascii_formatd (from, sizeof from, format, least->value * unit.factor);
  g_ascii_formatd (to, sizeof to, format, most->value * unit.factor);
  g_string_append (text, from);
  if (strcmp (from, to) != 0)
    g_string_append_printf (text, " to %s", to);
  if (strcmp (unit.name, "1") != 0)
    g_string_append_printf (text, " %s", unit.name);
}

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
  if (!read_number (&at, COUNT, ';', &id) || !read_number (&at, MOST_DIGITS, ';', &digits))
    return FALSE;
  double value = g_ascii_strtod (at, &end);
  if (end == at || !g_str_has_prefix (end, END))
    return FALSE;
  *mark = (Mark){ (SbMeasureId) id, digits, value };
  *rest = end + strlen (END);
  return TRUE;
}

/* A sentence taken apart: literal 0, mark 0, literal 1, ... and a literal at the end. */
typedef struct {
  GPtrArray *literals; /* char * */
  GArray *marks;       /* Mark */
} Parts;

static void
parts_clear (Parts *parts)
{
  g_ptr_array_unref (parts->literals);
  g_array_unref (parts->marks);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Parts, parts_clear)

static Parts
take_apart (const char *marked)
{
  Parts parts = { g_ptr_array_new_with_free_func (g_free), g_array_new (FALSE, FALSE, sizeof (Mark)) };
  GString *literal = g_string_new (NULL);
  const char *rest = marked;
  for (const char *begin; (begin = strstr (rest, BEGIN)) != NULL;) {
    Mark mark;
    g_string_append_len (literal, rest, begin - rest);
    if (read_mark (begin, &mark, &rest)) {
      g_array_append_val (parts.marks, mark);
      g_ptr_array_add (parts.literals, g_string_free (literal, FALSE));
      literal = g_string_new (NULL);
    } else {
      g_string_append (literal, BEGIN);
      rest = begin + strlen (BEGIN);
    }
  }
  g_string_append (literal, rest);
  g_ptr_array_add (parts.literals, g_string_free (literal, FALSE));
  return parts;
}

static const char *
literal_at (const Parts *parts, guint index)
{
  return g_ptr_array_index (parts->literals, index);
}

/* A figure of a stretch that the words make ("2 to 5 ms"), or below zero, cannot become a stretch itself. */
static gboolean
may_become_stretch (const Parts *parts, guint index)
{
  const char *before = literal_at (parts, index), *behind = literal_at (parts, index + 1);
  gboolean ends_stretch = g_str_has_suffix (before, " to ") && !g_str_has_suffix (before, MOST);
  return !ends_stretch && !g_str_has_prefix (behind, " to ") && g_array_index (parts->marks, Mark, index).value >= 0;
}

static gboolean
are_alike (const Parts *a, const Parts *b)
{
  if (a->literals->len != b->literals->len)
    return FALSE;
  for (guint i = 0; i < a->literals->len; i++)
    if (strcmp (literal_at (a, i), literal_at (b, i)) != 0)
      return FALSE;
  for (guint i = 0; i < a->marks->len; i++) {
    const Mark *mark = &g_array_index (a->marks, Mark, i), *other = &g_array_index (b->marks, Mark, i);
    gboolean differ = mark->value < other->value || mark->value > other->value;
    if (mark->id != other->id || mark->digits != other->digits
        || (differ && !(may_become_stretch (a, i) && may_become_stretch (b, i))))
      return FALSE;
  }
  return TRUE;
}

/* Widens the figures [least, most] to those of one more sentence. */
static void
widen (Parts *least, Parts *most, const Parts *one)
{
  for (guint i = 0; i < one->marks->len; i++) {
    const Mark *mark = &g_array_index (one->marks, Mark, i);
    Mark *lowest = &g_array_index (least->marks, Mark, i), *highest = &g_array_index (most->marks, Mark, i);
    lowest->value = fmin (lowest->value, mark->value);
    highest->value = fmax (highest->value, mark->value);
  }
}

static char *
write_as_one (const char *const *marked, gsize n, SbUnits units)
{
  g_auto (Parts) least = take_apart (marked[0]), most = take_apart (marked[0]);
  for (gsize i = 1; i < n; i++) {
    g_auto (Parts) one = take_apart (marked[i]);
    if (!are_alike (&least, &one))
      return NULL;
    widen (&least, &most, &one);
  }
  GString *text = g_string_new (literal_at (&least, 0));
  for (guint i = 0; i < least.marks->len; i++) {
    const Mark *lowest = &g_array_index (least.marks, Mark, i), *highest = &g_array_index (most.marks, Mark, i);
    write_figure (text, g_str_has_suffix (literal_at (&least, i), MOST) ? highest : lowest, highest, units);
    g_string_append (text, literal_at (&least, i + 1));
  }
  return sb_plain_sentence (g_string_free (text, FALSE));
}

char *
sb_figures_write (const char *marked, SbUnits units)
{
  return write_as_one (&marked, 1, units);
}

char *
sb_figures_write_all (const GPtrArray *marked, SbUnits units)
{
  return write_as_one ((const char *const *) marked->pdata, marked->len, units);
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
  gboolean usual = units.slope == 0 && units.velocity == 0; /* in these it is written already */
  return usual ? g_strdup (doubt->text) : sb_figures_write (doubt->marked, units);
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
