/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The choices of the measures table as JSON members of the session file. */
#pragma once

#include "bench.h"

#include <json-glib/json-glib.h>

void sb_table_choices_build (JsonBuilder *builder, const SbTableChoices *table);

/* Takes over what is there. FALSE with an SB_SESSION_ERROR when a member is not what it must be. */
gboolean sb_table_choices_read (JsonObject *object, SbTableChoices *table, GError **error);
