/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "inspect_facts.h"

#include <math.h>

const char *
sb_inspected_role (const SbLogColumn *column)
{
  return column->role != SB_ROLE_OTHER ? sb_role_key (column->role) : "read past";
}

SbRole
sb_inspected_role_of_aside (int aside)
{
  return (SbRole) (SB_ROLE_CURRENT + aside);
}

SbTrial *
sb_inspected_trial (const SbInspected *inspected, char **reason)
{
  g_autoptr (GError) error = NULL;
  SbTrial *trial = sb_trial_new (inspected->log, NULL, &error);
  if (trial == NULL)
    *reason = g_strdup (error->message);
  return trial;
}

static SbColumnRange
range_of_channel (const SbLog *log, int channel, SbRole role)
{
  const double *values = log->channel[channel];
  SbColumnRange range = { .is_known = TRUE, .n_numbers = log->n_rows, .lowest = NAN, .highest = NAN };
  /* A current that stands for the torque is in its unit. */
  range.unit = sb_role_unit (channel == SB_CHANNEL_TORQUE ? SB_ROLE_TORQUE : role);
  for (gsize i = 0; i < log->n_rows; i++) {
    range.lowest = fmin (range.lowest, values[i]);
    range.highest = fmax (range.highest, values[i]);
  }
  return range;
}

SbColumnRange
sb_inspected_range (const SbInspected *inspected, guint column)
{
  const SbLogColumn *of = g_ptr_array_index (inspected->log->columns, column);
  const SbPreview *preview = inspected->preview;
  if (of->channel >= 0)
    return range_of_channel (inspected->log, of->channel, of->role);
  if (preview == NULL || column >= preview->columns->len)
    return (SbColumnRange){ .is_known = FALSE };
  const SbPreviewColumn *seen = g_ptr_array_index (preview->columns, column);
  return (SbColumnRange){ .is_known = TRUE,
                          .n_numbers = seen->n_numbers,
                          .lowest = seen->lowest,
                          .highest = seen->highest,
                          .unit = seen->unit,
                          .n_first_rows = preview->whole ? 0 : preview->n_rows };
}
