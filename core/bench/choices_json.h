/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The choices of a bench as JSON members: the same words in the session file and in the results. */
#pragma once

#include "bench.h"

#include <json-glib/json-glib.h>

/* Adds the members of the choices that shape numbers ("slope_window_s", "band", ...) to the object being built. */
void sb_choices_build (JsonBuilder *builder, const SbBench *bench);

/* Sets what `object` names; members it does not name keep their value. FALSE with an error in SB_SESSION_ERROR when a
 * value is of the wrong kind or out of range. */
gboolean sb_choices_read (JsonObject *object, SbBench *edited, GError **error);

/* The choices of the chart, which shape no number. */
void sb_chart_choices_build (JsonBuilder *builder, const SbBench *bench);
gboolean sb_chart_choices_read (JsonObject *object, SbBench *edited, GError **error);
