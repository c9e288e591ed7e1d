/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unlike_repeats.h"

#include "aspects.h"

/* Of a supply that is read off anew for each repeat. */
#define SUPPLY_RATIO 0.02
/* What so many repeats state, each another, numbers them. */
#define FEWEST_NUMBERED 3

static gboolean
numbers_them (const SbValues *values)
{
  return values->distinct->len >= FEWEST_NUMBERED && values->distinct->len == values->n - values->n_missing;
}

static void
append_unlike (GString *text, const char *name, const SbValues *values)
{
  if (values->distinct->len < 2)
    return;
  g_autofree char *described = sb_values_describe (values);
  g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "; " : "", name, described);
}

char *
sb_unlike_repeats (SbTrialFacts *const *facts, gsize n)
{
  SbSide side = { facts, n };
  g_autoptr (GString) text = g_string_new (NULL);
  for (gsize i = 0; i < sb_n_aspects; i++) {
    if (!sb_aspect_is_of_repeats (i))
      continue;
    g_autoptr (SbValues) values = sb_aspect_values (i, side);
    append_unlike (text, sb_aspect_name (i), values);
  }
  g_autoptr (GPtrArray) names = sb_side_setting_names (side, (SbSide){ 0 });
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autoptr (SbValues) values
        = sb_side_setting_values (name, side, sb_setting_is_supply (name) ? SUPPLY_RATIO : SB_SETTING_RATIO);
    if (!numbers_them (values))
      append_unlike (text, name, values);
  }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}
