/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `slewbench inspect` tells of a log, for people. */
#pragma once

#include "inspect_facts.h"

/* On standard output. Of a file with very many columns, those that nothing is to be said of are counted and not listed
 * unless `all_columns`; of the faults of one kind in one column the first three are, unless `all_faults`. */
void sb_inspect_text_print (const SbInspected *inspected, gboolean all_columns, gboolean all_faults);
