/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From options to the choices of a bench. */
#pragma once

#include "arguments.h"

/* Options that name what is there only once logs are cut into their steps. */
typedef struct {
  gboolean reference, other;
  GPtrArray *exclude, *onset, *claim; /* char * */
} SbWaitingOptions;

void sb_waiting_options_clear (SbWaitingOptions *waiting);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SbWaitingOptions, sb_waiting_options_clear)

/* SB_EXIT_DONE, or a wrong use of `command`, which has been said on stderr. `chart` may be NULL. What has to wait for
 * the steps of logs is put into `waiting`, to be cleared by the caller in any case. */
SbExitStatus sb_options_apply (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart,
                               SbBench *edited, SbWaitingOptions *waiting);

/* What waited, once logs are cut or found to have nothing to cut; a wrong use when it names nothing still. */
SbExitStatus sb_options_apply_waiting (const char *command, const SbNumberOptions *numbers, SbWaitingOptions *waiting,
                                       SbBench *edited);
