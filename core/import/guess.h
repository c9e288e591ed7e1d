/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the shape of the data suggests where the names say nothing. For roles.c only. */
#pragma once

#include "layout.h"
#include "shape.h"

/* A time among the columns that say nothing (one flag for each column); nothing is done when there is a time. */
void sb_guess_time (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes);

/* Command, angle, velocity and torque among them; nothing is done when the names state one. */
void sb_guess_signals (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes);

/* An angle without unit that holds whole numbers beyond any number of radians becomes a guess at counts. */
void sb_guess_counts (SbLayoutColumn *column, const SbShape *shape);

/* Questions that the numbers raise about what the names state: a time without unit in steps of a second, a counter that
 * begins again. */
void sb_guess_doubts (SbLayout *layout, const SbShape *shapes);
