/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The values that columns want besides their unit: what the lines before the table state of them, and what is to be
 * asked. */
#pragma once

#include "layout.h"
#include "shape.h"
#include "stated.h"

/* The sample rate, where none is stated otherwise; what makes it doubtful is the question of the layout. */
void sb_roles_take_rate (SbLayout *layout, const SbStated *stated);

/* A time in ticks of a length that nobody states, in a log whose lines before the table state the rate or the interval
 * of its rows: the rate of the layout becomes that of the ticks, by the usual step from row to row, which is asked
 * about.
 */
void sb_roles_take_tick (SbLayout *layout, const SbShape *shapes, const SbStated *stated);

/* The length of a tick that is stated is no interval of rows: the layout has no rate when no column counts ticks. */
void sb_roles_leave_tick (SbLayout *layout, const SbStated *stated);

/* What role and unit of the column want. */
void sb_roles_take_values (SbLayoutColumn *column, const SbStated *stated);

/* A column that cannot be read yet says what it wants, and what was stated in vain (`stated` may be NULL). */
void sb_roles_ask_for_values (SbLayout *layout, guint index, const SbStated *stated);
