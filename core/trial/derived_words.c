/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "derived_words.h"

#include <math.h>

/* The log's own words as a sentence quotes them: without control characters, two of which mark the figures of doubts
 * (doubt.c), and none of which an SVG or a PDF may have. */
static char *
quotable (const char *name)
{
  GString *text = g_string_new (NULL);
  for (const char *c = name; *c != '\0'; c++)
    if (!g_ascii_iscntrl (*c))
      g_string_append_c (text, *c);
  return g_string_free (text, FALSE);
}

char *
sb_trial_derived_words (const SbTrial *trial, SbChannel channel)
{
  if (!trial->derived[channel])
    return NULL;
  if (channel != SB_CHANNEL_TORQUE)
    return g_strdup ("the velocity is not logged but derived from the angle");
  if (!isnan (trial->log->torque_constant_nm_per_a))
    return g_strdup ("the torque is not logged but derived from the motor current and the stated torque constant");
  if (trial->log->estimated_torque != NULL) {
    g_autofree char *name = quotable (trial->log->estimated_torque);
    return g_strdup_printf ("the torque is not measured but estimated, as the name of its column '%s' says", name);
  }
  return g_strdup ("the torque is not logged but derived from the velocity and the stated inertia");
}
