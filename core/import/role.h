/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a column of a file is for. The first roles are the channels of a log (channel.h); a current becomes the torque
 * by a torque constant; the others tell of the circumstances. */
#pragma once

#include "channel.h"

typedef enum {
  SB_ROLE_TIME = SB_CHANNEL_TIME,
  SB_ROLE_COMMAND = SB_CHANNEL_COMMAND,
  SB_ROLE_ANGLE = SB_CHANNEL_ANGLE,
  SB_ROLE_VELOCITY = SB_CHANNEL_VELOCITY,
  SB_ROLE_TORQUE = SB_CHANNEL_TORQUE,
  SB_ROLE_CURRENT,     /* A */
  SB_ROLE_TEMPERATURE, /* °C */
  SB_ROLE_SUPPLY,      /* V */
  SB_ROLE_OTHER,       /* read past */
  SB_N_ROLES,
} SbRole;

/* "time", "current", "other": the word in layout files, on the command line and in messages. */
const char *sb_role_key (SbRole role);

/* "Time", "Motor current": for tables and menus. */
const char *sb_role_name (SbRole role);

/* FALSE, and *role untouched, when no role has this key. */
gboolean sb_role_find (const char *key, SbRole *role);

/* SbChannel, or -1 for a role that is no channel. */
int sb_role_channel (SbRole role);
