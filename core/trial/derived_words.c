/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "derived_words.h"

#include <math.h>

char *
sb_trial_derived_words (const SbTrial *trial, SbChannel channel)
{
  if (!trial->derived[channel])
    return NULL;
  if (channel != SB_CHANNEL_TORQUE)
    return g_strdup ("the velocity is not logged but derived from the angle");
  if (!isnan (trial->log->torque_constant_nm_per_a))
    return g_strdup ("the torque is not logged but derived from the motor current and the stated torque constant");
  if (trial->log->estimated_torque != NULL)
    return g_strdup_printf ("the torque is not measured but estimated, as the name of its column '%s' says",
                            trial->log->estimated_torque);
  return g_strdup ("the torque is not logged but derived from the velocity and the stated inertia");
}
