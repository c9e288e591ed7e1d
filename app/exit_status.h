/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program's exit status says to a script. */
#pragma once

typedef enum {
  SB_EXIT_DONE = 0,
  SB_EXIT_LEFT_OUT = 1, /* done, but some input was left out; said on stderr */
  SB_EXIT_NOTHING = 2,  /* nothing could be done; said on stderr */
  SB_EXIT_USAGE = 64,   /* EX_USAGE of sysexits.h */
} SbExitStatus;
