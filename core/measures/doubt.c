/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "doubt.h"

#include "number_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A mark is "BEGIN id;digits;value END", with characters that no sentence has. */
#define BEGIN "\x02"
#define END   "\x03"

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

char *
sb_figures_write (const char *marked, SbUnits units)
{
  GString *text = g_string_new (NULL);
  const char *rest = marked;
  for (const char *begin; (begin = strstr (rest, BEGIN)) != NULL;) {
    char *end;
    g_string_append_len (text, rest, begin - rest);
    SbMeasureId id = (SbMeasureId) strtol (begin + strlen (BEGIN), &end, 10);
    int digits = (int) strtol (end + 1, &end, 10);
    double value = g_ascii_strtod (end + 1, &end);
    write_figure (text, id, digits, value, units);
    rest = end + strlen (END);
  }
  g_string_append (text, rest);
  return sb_plain_sentence (g_string_free (text, FALSE));
}

SbDoubt *
sb_doubt_new (SbDoubtKind kind, char *marked)
{
  SbDoubt *doubt = g_new (SbDoubt, 1);
  *doubt = (SbDoubt){ kind, sb_figures_write (marked, (SbUnits){ 0 }), marked };
  return doubt;
}

void
sb_doubt_free (gpointer data)
{
  SbDoubt *doubt = data;
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
sb_doubts_beside_bias (const GPtrArray *doubts)
{
  for (guint i = 0; i < sb_doubts_count (doubts); i++)
    if (sb_doubts_get (doubts, i)->kind != SB_DOUBT_BIAS)
      return TRUE;
  return FALSE;
}
