/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chosen_trials.h"

static int
by_index (gconstpointer a, gconstpointer b)
{
  guint left = *(const guint *) a, right = *(const guint *) b;
  return left < right ? -1 : left > right;
}

gboolean
sb_chosen_contain (const GArray *chosen, guint index)
{
  for (guint i = 0; i < chosen->len; i++)
    if (g_array_index (chosen, guint, i) == index)
      return TRUE;
  return FALSE;
}

void
sb_chosen_set (GArray *chosen, guint index, gboolean on)
{
  if (sb_chosen_contain (chosen, index) == on)
    return;
  for (guint i = 0; !on && i < chosen->len; i++)
    if (g_array_index (chosen, guint, i) == index)
      g_array_remove_index (chosen, i--);
  if (on)
    g_array_append_val (chosen, index);
  g_array_sort (chosen, by_index);
}

GArray *
sb_chosen_meant_by (const GArray *chosen, guint index)
{
  GArray *trials = g_array_new (FALSE, FALSE, sizeof (guint));
  if (sb_chosen_contain (chosen, index))
    g_array_append_vals (trials, chosen->data, chosen->len);
  else
    g_array_append_val (trials, index);
  return trials;
}
