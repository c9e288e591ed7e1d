/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The channels of a bench log, their names and their SI units.
 *
 * Everything behind the importer is in SI: s, N·m, rad, rad/s, N·m. What a file was written in is known
 * to the importer alone (see unit.h). */
#pragma once

#include <glib.h>

typedef enum {
  SB_CHANNEL_TIME,     /* s */
  SB_CHANNEL_COMMAND,  /* N·m */
  SB_CHANNEL_ANGLE,    /* rad */
  SB_CHANNEL_VELOCITY, /* rad/s */
  SB_CHANNEL_TORQUE,   /* N·m */
  SB_N_CHANNELS,
} SbChannel;

/* "time", "command", ...: the word used in JSON, on the command line and in messages. */
const char *sb_channel_key (SbChannel channel);

/* "Time", "Command", ...: for axes and tables. */
const char *sb_channel_name (SbChannel channel);

/* "s", "N·m", ...: the SI unit in which values are held. */
const char *sb_channel_unit (SbChannel channel);
