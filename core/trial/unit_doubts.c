/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit_doubts.h"

#include "number_text.h"
#include "unit_notes.h"

#include <math.h>

#define COMMAND "torque and command do not belong together: "
#define INERTIA "torque, velocity and inertia do not belong together: "
#define SHORT   "the torque falls short: "

#define ALIKE_WITHIN     0.2
#define FAR              2
#define USUAL_WITHIN     0.1
#define NEAR_WITHIN      0.03
#define LEAST_OF_MOTION  (1 / 3.0)
#define MOST_OF_MOTION   20
#define MOST_BY_FRICTION 3
/* A torque this much short of both its command and the motion is the sensor's, not the drive's. */
#define SHORT_OF_COMMAND 0.95
#define SHORT_OF_MOTION  0.93

/* 1 N·m in these units. */
static const struct {
  double per_nm;
  const char *unit;
} units[] = {
  { 1000, "mN·m" },
  { 100, "N·cm" },
  { 10, NULL },
  { 0.1, NULL },
  { 0.001, "kN·m" },
  { 1 / 9.80665, "kgf·m" },
  { 100 / 9.80665, "kgf·cm" },
  { 1 / 0.1129848, "lbf·in" },
  { 1 / 1.355818, "lbf·ft" },
  { 1 / 0.007061552, "ozf·in" },
};

/* The unit nearest to a quotient of two torques, one of which was taken for N·m. */
typedef struct {
  double off;        /* as a share of the factor */
  const char *unit;  /* NULL: a factor of ten, which is none's */
  const char *whose; /* "torque" or "command" */
} Nearest;

static void
look_for (Nearest *nearest, double share, const char *whose)
{
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++) {
    double off = fabs (share / units[i].per_nm - 1);
    if (off < nearest->off)
      *nearest = (Nearest){ off, units[i].unit, whose };
  }
}

/* ", as mN·m of the torque taken for N·m would"; NULL where no usual unit is within `within`. (transfer full) */
static char *
usual_words (double share, double within)
{
  Nearest torque = { within, NULL, NULL }, command = torque;
  look_for (&torque, share, "torque");
  look_for (&command, 1 / share, "command");
  Nearest nearest = torque.whose != NULL && !(command.off < torque.off / 2 && command.unit != NULL) ? torque : command;
  if (nearest.whose == NULL)
    return NULL;
  return nearest.unit != NULL ? g_strdup_printf (", as %s of the %s taken for N·m would", nearest.unit, nearest.whose)
                              : g_strdup (", as a decimal point in another place would");
}

/* Of the layout's column; SB_CERTAINTY_STATED where there is none. */
static SbCertainty
certainty_of (const SbLog *log, SbChannel channel)
{
  for (guint i = 0; log->layout != NULL && i < log->columns->len && i < log->layout->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    if (column->channel == (int) channel)
      return sb_layout_column (log->layout, i)->certainty;
  }
  return SB_CERTAINTY_STATED;
}

gboolean
sb_unit_doubts_ask (const SbTrial *trial)
{
  for (int c = 0; c < SB_N_CHANNELS; c++)
    if (trial->unit_doubt[c] != NULL && certainty_of (trial->log, (SbChannel) c) == SB_CERTAINTY_ASSUMED)
      return TRUE;
  return FALSE;
}

/* Takes the sentence over; the first one stays. */
static void
doubt (SbTrial *trial, SbChannel channel, char *why)
{
  if (trial->unit_doubt[channel] == NULL)
    trial->unit_doubt[channel] = g_steal_pointer (&why);
  g_free (why);
}

/* Takes the sentence over. */
static void
note (SbTrial *trial, char *text)
{
  sb_notes_take (trial->notes, SB_NOTE_UNITS_CONFLICT, sb_plain_sentence (text));
}

static gboolean
is_alike (double share)
{
  return fabs (share - 1) <= ALIKE_WITHIN;
}

/* NULL where torque and command may be in the units that were taken. (transfer full) */
static char *
against_command (double share)
{
  gboolean far = share > FAR || share < 1.0 / FAR;
  if (!(share > 0) || (!far && share < 1 + ALIKE_WITHIN))
    return NULL;
  g_autofree char *usual = usual_words (share, far ? USUAL_WITHIN : NEAR_WITHIN);
  return usual != NULL ? g_strdup_printf ("the torque rises to %.2g times its command%s", share, usual) : NULL;
}

/* Likewise of the torque and what it moves. */
static char *
against_motion (double share)
{
  if (share >= LEAST_OF_MOTION && share <= MOST_OF_MOTION)
    return NULL;
  return isnan (share) ? NULL
                       : g_strdup_printf ("the torque gives %.2g times the momentum that the velocity gains with the "
                                          "stated inertia",
                                          share);
}

static gboolean
speaks_for_torque (double of_motion)
{
  return of_motion >= 1 - ALIKE_WITHIN && of_motion <= MOST_BY_FRICTION;
}

void
sb_unit_doubts_find (SbTrial *trial, const SbUnitChecks *checks)
{
  gboolean velocity_off = checks->of_way > 0 && !is_alike (checks->of_way);
  for (int c = 0; c < SB_N_CHANNELS; c++)
    trial->is_unit_confirmed[c] = certainty_of (trial->log, (SbChannel) c) == SB_CERTAINTY_CONFIRMED;
  if (velocity_off) {
    const char *usual = sb_unit_notes_usual (checks->of_way);
    for (int c = SB_CHANNEL_ANGLE; c <= SB_CHANNEL_VELOCITY; c++)
      doubt (trial, (SbChannel) c,
             g_strdup_printf ("the velocity adds up to %.3g times the way of the angle%s%s%s", checks->of_way,
                              usual != NULL ? ", as " : "", usual != NULL ? usual : "",
                              usual != NULL ? SB_UNIT_NOTES_TAKEN_FOR_SI : ""));
  }
  double of_motion = velocity_off ? (double) NAN : checks->of_motion;
  g_autofree char *command = against_command (checks->of_command), *motion = against_motion (of_motion);
  if (command != NULL)
    note (trial,
          g_strdup_printf (COMMAND "%s, so that the unit of %s is not the one that was taken%s", command,
                           speaks_for_torque (of_motion) ? "the command, as velocity and inertia agree with the torque,"
                                                         : "one of them",
                           speaks_for_torque (of_motion) ? "" : ", or one of them is behind a gear"));
  if (motion != NULL)
    note (trial, g_strdup_printf (INERTIA "%s, so that the unit of one of them is not the one that "
                                          "was taken",
                                  motion));
  if (command != NULL && !speaks_for_torque (of_motion))
    doubt (trial, SB_CHANNEL_TORQUE, g_strdup (command));
  if (motion != NULL && !is_alike (checks->of_command))
    doubt (trial, SB_CHANNEL_TORQUE, g_strdup (motion));
  if (motion != NULL && is_alike (checks->of_command) && !is_alike (checks->of_way))
    doubt (trial, SB_CHANNEL_VELOCITY, g_strdup (motion));
}

char *
sb_unit_doubts_of_short_torque (const SbUnitChecks *checks, double command_nm)
{
  gboolean is_short = checks->of_command >= 1.0 / FAR && checks->of_command < SHORT_OF_COMMAND
                      && checks->of_motion >= LEAST_OF_MOTION && checks->of_motion < SHORT_OF_MOTION;
  if (!is_short)
    return NULL;
  return g_strdup_printf (SHORT
                          "it reaches %.0f %% of its command of %.3g N·m, and velocity and inertia say %.2g N·m or "
                          "more: its sensor or amplifier may be at the end of its range",
                          100 * checks->of_command, command_nm, checks->by_motion_nm);
}
