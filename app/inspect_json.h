/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `slewbench inspect` tells of a log, for programs: every column, however many there are. */
#pragma once

#include "inspect_facts.h"

#include <json-glib/json-glib.h>

/* The members of an object that has been begun. */
void sb_inspect_json_add (JsonBuilder *builder, const SbInspected *inspected);
