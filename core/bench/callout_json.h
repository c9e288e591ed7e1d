/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The callouts of a configuration as a JSON member, left out when there are none. */
#pragma once

#include "callout.h"

#include <json-glib/json-glib.h>

void sb_callouts_build (JsonBuilder *builder, const GArray *callouts);

/* Adds those of `object` to `callouts`; FALSE with what is wrong (SB_SESSION_ERROR). */
gboolean sb_callouts_read (JsonObject *object, GArray *callouts, GError **error);
