/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "channel.h"

static const struct {
  const char *key, *name, *unit;
} channels[SB_N_CHANNELS] = {
  [SB_CHANNEL_TIME] = { "time", "Time", "s" },         [SB_CHANNEL_COMMAND] = { "command", "Command", "N·m" },
  [SB_CHANNEL_ANGLE] = { "angle", "Angle", "rad" },    [SB_CHANNEL_VELOCITY] = { "velocity", "Velocity", "rad/s" },
  [SB_CHANNEL_TORQUE] = { "torque", "Torque", "N·m" },
};

const char *
sb_channel_key (SbChannel channel)
{
  return channels[channel].key;
}

const char *
sb_channel_name (SbChannel channel)
{
  return channels[channel].name;
}

const char *
sb_channel_unit (SbChannel channel)
{
  return channels[channel].unit;
}
