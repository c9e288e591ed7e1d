/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "role.h"

#include <string.h>

static const struct {
  const char *key, *name;
} roles[SB_N_ROLES] = {
  [SB_ROLE_TIME] = { "time", "Time" },
  [SB_ROLE_COMMAND] = { "command", "Command" },
  [SB_ROLE_ANGLE] = { "angle", "Angle" },
  [SB_ROLE_VELOCITY] = { "velocity", "Velocity" },
  [SB_ROLE_TORQUE] = { "torque", "Torque" },
  [SB_ROLE_CURRENT] = { "current", "Motor current" },
  [SB_ROLE_TEMPERATURE] = { "temperature", "Temperature" },
  [SB_ROLE_SUPPLY] = { "supply", "Supply voltage" },
  [SB_ROLE_OTHER] = { "other", "Other" },
};

const char *
sb_role_key (SbRole role)
{
  g_return_val_if_fail (role < SB_N_ROLES, NULL);
  return roles[role].key;
}

const char *
sb_role_name (SbRole role)
{
  g_return_val_if_fail (role < SB_N_ROLES, NULL);
  return roles[role].name;
}

gboolean
sb_role_find (const char *key, SbRole *role)
{
  for (guint i = 0; i < SB_N_ROLES; i++)
    if (strcmp (roles[i].key, key) == 0) {
      *role = (SbRole) i;
      return TRUE;
    }
  return FALSE;
}

int
sb_role_channel (SbRole role)
{
  return (int) role < SB_N_CHANNELS ? (int) role : -1;
}
