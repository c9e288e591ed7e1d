/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From options to the choices of a bench. */
#pragma once

#include "arguments.h"

/* SB_EXIT_DONE, or a wrong use of `command`, which has been said on stderr. `chart` may be NULL. */
SbExitStatus
sb_options_apply (const char *command, const SbNumberOptions *numbers, const SbChartOptions *chart, SbBench *edited);
