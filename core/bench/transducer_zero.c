/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transducer_zero.h"

#include "number_text.h"

#include <math.h>

/* Less than this share of the step may be a drift of the bridge or friction at rest. */
#define RESTS_SHARE 0.05

/* The column of a transducer's volts that the torque was read from, without a stated zero; NULL: it was not. */
static const SbLayoutColumn *
column_without_zero (const SbLayout *layout)
{
  for (guint i = 0; layout != NULL && i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == SB_ROLE_TORQUE && sb_layout_column_has (column, SB_DIMENSION_VOLTAGE)
        && isfinite (column->torque_per_volt_nm) && !isfinite (column->torque_zero_v))
      return column;
  }
  return NULL;
}

static char *
describe (const SbTransition *transition, const SbLayoutColumn *column)
{
  double share = fabs (transition->base_nm / (transition->top_nm - transition->base_nm));
  return g_strdup_printf ("the torque rests at %.3g N·m before the step, which is %.3g V of the transducer in column "
                          "'%s' and %.0f %% of the step, and no zero of the transducer was stated",
                          transition->base_nm, transition->base_nm / column->torque_per_volt_nm, column->name,
                          100 * share);
}

void
sb_transducer_zero_find (const SbConfigurationResult *configuration, SbRepeatRemark remark)
{
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    const SbLayoutColumn *column = sb_trial_result_is_used (trial) ? column_without_zero (trial->facts->layout) : NULL;
    if (column == NULL || trial->measures == NULL || !trial->measures->transition.has_torque_step)
      continue;
    const SbTransition *transition = &trial->measures->transition;
    if (fabs (transition->base_nm) <= RESTS_SHARE * fabs (transition->top_nm - transition->base_nm))
      continue;
    remark (trial, describe (transition, column),
            "If it gives these volts at no torque, state them (--torque-zero, or the import sheet): else peak torque "
            "holds them");
    return;
  }
}
