/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The batch commands. Each takes its own arguments, without the program's and the command's name, writes to stdout and
 * stderr and returns the exit status. None needs a display. */
#pragma once

#include "exit_status.h"

#include <glib.h>

SbExitStatus sb_command_measure (char **arguments);
SbExitStatus sb_command_chart (char **arguments);
SbExitStatus sb_command_report (char **arguments);
SbExitStatus sb_command_inspect (char **arguments);
SbExitStatus sb_command_layouts (char **arguments);
SbExitStatus sb_command_verify (char **arguments);
