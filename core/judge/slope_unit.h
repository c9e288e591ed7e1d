/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units of a torque slope, which no log column has. */
#pragma once

#include <glib.h>

/* N·m/s of one "N·m/ms", "Nm/s", "mN·m/µs": a torque over a time, as unit.h spells them. NaN when it is none. */
double sb_slope_unit_size (const char *spelling);
