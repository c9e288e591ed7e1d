/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chart written to a file by a worker: large pictures take seconds. */
#pragma once

#include "chart_export.h"

#include <gio/gio.h>

/* `model` (transfer full). `written` is called with `owner`, which is kept until then, and the result. */
void sb_chart_write (GObject *owner, SbChartModel *model, const SbChartSize *size, const char *path,
                     GAsyncReadyCallback written);

/* Whether it is written, and a sentence for people: where, or why not (transfer full). */
gboolean sb_chart_write_finish (GAsyncResult *result, char **what);
