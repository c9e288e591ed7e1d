/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The velocity deviation of repeats whose velocities scatter, against its closed form. */
#pragma once

#include "simulation.h"

/* Of `n_draws` configurations of ten repeats each, their velocities scattering by 2 %. The truth is the root of the
 * time mean of that scatter's square, of the noise's and of what the place between two samples does. */
void deviation_tally (const Case *c, guint64 seed, gsize n_draws, Tally *tally);
