/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program's own style sheet and icon, on top of whatever theme is in use. */
#pragma once

/* Once per program, when there is a display. */
void sb_look_install (void);
