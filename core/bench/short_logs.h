/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that end long before the others of their configuration: their figures are of less time, and a mean curve over
 * what all repeats cover ends with the shortest. Inside of remarks.c. */
#pragma once

#include "repeat_remarks.h"

/* Of each used log that is shorter after its onset than four fifths of the median; `span` says what becomes of the
 * mean. One sentence names all of them. */
void sb_short_logs_find (const SbConfigurationResult *configuration, SbSpan span, SbRepeatRemark remark);
