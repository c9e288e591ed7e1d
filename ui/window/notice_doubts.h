/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notices of doubts. A clean test has two dozen of them on a handful of topics: what is doubted, of how many
 * configurations, is said once, and every sentence is a part of that. */
#pragma once

#include "notice.h"

/* Adds those on the drawn configurations, in any order. */
void sb_notices_add_doubts (GPtrArray *notices, const SbAnalysis *analysis);
