/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit_notes.h"

#include <math.h>

#define ALIKE_WITHIN 0.2
#define USUAL_WITHIN 0.03

/* By a person, who saw the unit or stated none. */
static gboolean
is_confirmed (const SbLayout *layout, guint column)
{
  return layout != NULL && column < layout->columns->len
         && sb_layout_column (layout, column)->certainty == SB_CERTAINTY_CONFIRMED;
}

void
sb_unit_notes_of_header (GPtrArray *notes, const SbLog *log)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autoptr (GString) units = g_string_new (NULL);
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    if (column->channel < 0 || column->unit[0] != '\0' || is_confirmed (log->layout, i))
      continue;
    g_string_append_printf (names, "%s'%s'", names->len > 0 ? ", " : "", column->name);
    g_string_append_printf (units, "%s%s", units->len > 0 ? ", " : "", sb_role_unit (column->role));
  }
  if (names->len > 0)
    sb_notes_take (notes, SB_NOTE_UNITS_ASSUMED,
                   g_strdup_printf ("the header names no unit for %s; SI was taken (%s)", names->str, units->str));
}

/* What leaves the unit of the time open, as half a sentence; NULL when the header or a person names it. */
static const char *
doubt_of_time (const SbLog *log)
{
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    if (column->channel != SB_CHANNEL_TIME || is_confirmed (log->layout, i))
      continue;
    if (column->unit[0] == '\0')
      return "which the header does not name";
    const SbLayout *layout = log->layout;
    gboolean guessed
        = layout != NULL && i < layout->columns->len && sb_layout_column (layout, i)->certainty == SB_CERTAINTY_GUESSED;
    return guessed ? "which is a guess" : NULL;
  }
  return NULL;
}

const char *
sb_unit_notes_usual (double share)
{
  static const struct {
    double share; /* rad per unit of the angle, over rad/s per unit of the velocity */
    const char *words;
  } usual[] = {
    { 30 / G_PI, "rpm and rad" },    { 1 / 6.0, "rpm and degrees" },
    { 180 / G_PI, "deg/s and rad" }, { G_PI / 180, "rad/s and degrees" },
    { 2 * G_PI, "rad/s and turns" }, { 1 / (2 * G_PI), "turns/s and rad" },
    { 60, "rpm and turns" },
  };
  gsize nearest = 0;
  for (gsize i = 1; i < G_N_ELEMENTS (usual); i++)
    if (fabs (share / usual[i].share - 1) < fabs (share / usual[nearest].share - 1))
      nearest = i;
  return fabs (share / usual[nearest].share - 1) <= USUAL_WITHIN ? usual[nearest].words : NULL;
}

void
sb_unit_notes_of_motion (GPtrArray *notes, double share, const SbLog *log)
{
  if (isnan (share) || fabs (share - 1) <= ALIKE_WITHIN)
    return;
  const char *usual = sb_unit_notes_usual (share), *time = doubt_of_time (log);
  if (share < 0)
    sb_notes_take (notes, SB_NOTE_UNITS_CONFLICT,
                   g_strdup_printf ("angle and velocity do not belong together: the velocity runs against the angle, "
                                    "so that the sign of one of "
                                    "them is turned"));
  else
    sb_notes_take (
        notes, SB_NOTE_UNITS_CONFLICT,
        g_strdup_printf ("angle and velocity do not belong together: the velocity adds up to %.3g times the way of the "
                         "angle%s%s%s, so "
                         "that the unit of one of them%s%s%s is not the one that was taken, or one of them is "
                         "behind a gear",
                         share, usual != NULL ? ", as " : "", usual != NULL ? usual : "",
                         usual != NULL ? SB_UNIT_NOTES_TAKEN_FOR_SI : "", time != NULL ? " or that of the time, " : "",
                         time != NULL ? time : "", time != NULL ? "," : ""));
}
