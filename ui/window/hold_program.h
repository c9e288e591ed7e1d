/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work in threads: a program that is told to quit waits for what it holds, so that no worker outlives main(). */
#pragma once

void sb_hold_program (void); /* nothing when there is no application, as in tests */
void sb_release_program (void);
