/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which units the signals of a trial speak against: a figure in such a unit may be wrong by the factor of another. */
#pragma once

#include "unit_checks.h"

/* Fills unit_doubt[] and is_unit_confirmed[] of a trial, and notes what it finds of torque and command and of torque
 * and motion:
 *   velocity against angle    off by more than a fifth, and not by its sign;
 *   torque against command    off by more than half of a power of ten's way (2 times, 1/2), and within 10 % of a usual
 *                             unit's factor; of lbf·ft above, within 3 %: a drive gives less for many reasons;
 *   torque against J dω/dt    below 1/3, or above 20 times.
 * The torque is doubted where its command or the motion speaks against it and the other does not speak for it; the
 * velocity where the motion does and the command speaks for the torque, unless the angle speaks for the velocity.
 * Factors: NIST SP 811, appendix B (lbf·in, lbf·ft, ozf·in, kgf·m). */
void sb_unit_doubts_find (SbTrial *trial, const SbUnitChecks *checks);

/* "the torque reads less than what moves the inertia ...": of a torque that falls short of its command and of J dω/dt
 * alike, as a sensor at the end of its range does; NULL where it does not. (transfer full) */
char *sb_unit_doubts_of_short_torque (const SbUnitChecks *checks, double command_nm);

/* Whether the unit of a doubted channel was assumed, as neither the header nor a person names it: a person should. */
gboolean sb_unit_doubts_ask (const SbTrial *trial);
