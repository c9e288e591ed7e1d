/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zoom_history.h"

#include <math.h>

struct SbZoomHistory {
  GArray *ranges; /* SbTimeRange */
  guint at;
};

SbZoomHistory *
sb_zoom_history_new (void)
{
  SbZoomHistory *history = g_new0 (SbZoomHistory, 1);
  history->ranges = g_array_new (FALSE, FALSE, sizeof (SbTimeRange));
  return history;
}

void
sb_zoom_history_free (SbZoomHistory *history)
{
  if (history == NULL)
    return;
  g_array_unref (history->ranges);
  g_free (history);
}

static gboolean
is_same (SbTimeRange a, SbTimeRange b)
{
  double slack = 1e-9 * (a.to_s - a.from_s);
  return fabs (a.from_s - b.from_s) <= slack && fabs (a.to_s - b.to_s) <= slack;
}

void
sb_zoom_history_visit (SbZoomHistory *history, SbTimeRange range)
{
  if (history->ranges->len > 0) {
    if (is_same (g_array_index (history->ranges, SbTimeRange, history->at), range))
      return;
    g_array_set_size (history->ranges, history->at + 1);
  }
  g_array_append_val (history->ranges, range);
  history->at = history->ranges->len - 1;
}

gboolean
sb_zoom_history_can_go (const SbZoomHistory *history, int direction)
{
  return direction < 0 ? history->at > 0 : history->at + 1 < history->ranges->len;
}

SbTimeRange
sb_zoom_history_go (SbZoomHistory *history, int direction)
{
  g_assert (sb_zoom_history_can_go (history, direction));
  history->at = direction < 0 ? history->at - 1 : history->at + 1;
  return g_array_index (history->ranges, SbTimeRange, history->at);
}
