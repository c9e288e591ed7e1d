/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Does the slope follow the level in proportion, and from which level on no longer? */
#include "audit_proportion.h"
#include "audit_words.h"

#include <math.h>

/* Levels that are positive numbers, by rising slope. */
static GArray *
positive_levels (const SbAuditWork *work, gboolean inverse)
{
  GArray *order = g_array_new (FALSE, FALSE, sizeof (gsize));
  for (gsize k = 0; work->audit->numeric && k < work->n_levels; k++) {
    gsize level = inverse ? work->n_levels - 1 - k : k;
    if (sb_audit_level (work->audit, (guint) level)->x > 0)
      g_array_append_val (order, level);
  }
  return order;
}

/* Before the rig; NaN when it hides the slope. */
static double
mean_slope (const SbAuditWork *work, gsize level)
{
  double seen = work->audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].points[level].mean;
  return seen * work->ramp[level].steeper;
}

/* The level's own unit states the slope, and the drive keeps to it. */
static gboolean
meets_stated (const SbAuditWork *work, gsize level)
{
  double stated = sb_audit_stated_slope (work->level[level]);
  return stated > 0 && fabs (mean_slope (work, level) / stated - 1) <= work->choices.proportion_ratio;
}

static void
tell_shares (const SbAuditWork *work, const GArray *order, gboolean inverse, gboolean in_proportion)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 1; i < order->len; i++) {
    gsize level = g_array_index (order, gsize, i);
    SbShare share = sb_audit_share (work, g_array_index (order, gsize, 0), level, inverse);
    if (isnan (share.ratio))
      continue;
    g_autofree char *ratio = sb_audit_interval (share.ratio, share.ci95, 1, "");
    g_string_append_printf (text, "%s%s at %s", text->len > 0 ? ", " : "", ratio,
                            sb_audit_level (work->audit, (guint) level)->text);
  }
  if (text->len > 0)
    sb_audit_add_reason (work->audit, "%s: measured by its value at %s, slope %s level is %s; 1 is in proportion.",
                         in_proportion ? "The slope follows the level in proportion" : "Proportion to the level",
                         sb_audit_level (work->audit, (guint) g_array_index (order, gsize, 0))->text,
                         inverse ? "times" : "over", text->str);
}

/* One ceiling leaves one slope at all levels beyond it. Where they differ by more than proportion is told to, each has
 * its own (another supply, a drive that was changed between), and the first is where the setting ceases to limit. */
static void
set_ceiling (SbAuditWork *work, const GArray *order, guint first)
{
  SbUnits units = work->audit->units;
  double sum = 0, lowest = INFINITY, highest = 0;
  guint n = 0;
  for (guint i = first; i < order->len; i++) {
    double slope = mean_slope (work, g_array_index (order, gsize, i));
    if (isnan (slope))
      continue;
    sum += slope;
    lowest = fmin (lowest, slope);
    highest = fmax (highest, slope);
    n++;
  }
  gsize level = g_array_index (order, gsize, first);
  const char *from = sb_audit_level (work->audit, (guint) level)->text;
  gboolean one = highest * (1 - work->choices.proportion_ratio) <= lowest;
  work->audit->ceiling = (int) level;
  work->audit->ceiling_slope = one ? sum / n : mean_slope (work, level);
  g_autofree char *at = sb_measure_format_in (SB_MEASURE_MEAN_TORQUE_SLOPE, units, one ? sum / n : lowest, NAN, TRUE);
  g_autofree char *to = sb_measure_format_in (SB_MEASURE_MEAN_TORQUE_SLOPE, units, highest, NAN, TRUE);
  if (one)
    sb_audit_add_reason (work->audit, "From %s on the slope stays behind, at %s: another limit is reached first.", from,
                         at);
  else
    sb_audit_add_reason (work->audit,
                         "From %s on the slope stays behind, at %s to %s: another limit is reached first, "
                         "and not the same one at each level.",
                         from, at, to);
}

/* The last levels may scatter too much, or hide behind the rig's ringing. */
static void
set_shown_to (SbAuditWork *work, const GArray *order, gboolean inverse)
{
  gsize base = g_array_index (order, gsize, 0);
  guint last = order->len - 1;
  while (last > 0 && sb_audit_share (work, base, g_array_index (order, gsize, last), inverse).kind != SB_SHARE_FOLLOWS)
    last--;
  if (last + 1 == order->len)
    return;
  work->audit->shown_to = (int) g_array_index (order, gsize, last);
  sb_audit_add_reason (work->audit, "Beyond %s it cannot be told whether the slope follows or stays behind.",
                       sb_audit_level (work->audit, (guint) work->audit->shown_to)->text);
}

gboolean
sb_audit_find_proportion (SbAuditWork *work, gboolean inverse)
{
  SbAudit *audit = work->audit;
  g_autoptr (GArray) order = positive_levels (work, inverse);
  if (order->len < 2)
    return FALSE;
  gsize base = g_array_index (order, gsize, 0);
  guint n_follow = 0, behind = order->len;
  gboolean broken = FALSE;
  for (guint i = 1; i < order->len; i++) {
    SbShareKind kind = sb_audit_share (work, base, g_array_index (order, gsize, i), inverse).kind;
    n_follow += kind == SB_SHARE_FOLLOWS && i < behind ? 1 : 0;
    broken = broken || kind == SB_SHARE_AHEAD || (kind == SB_SHARE_FOLLOWS && i > behind);
    if (kind == SB_SHARE_BEHIND && i < behind)
      behind = i;
  }
  /* The lowest level alone can show a limit only when the drive keeps to what it states. */
  gboolean at_lowest = n_follow == 0 && behind == 1 && !inverse && meets_stated (work, base);
  gboolean found = !broken && (n_follow > 0 || at_lowest);
  audit->proportion = !found ? SB_PROPORTION_NONE : inverse ? SB_PROPORTION_INVERSE : SB_PROPORTION_DIRECT;
  tell_shares (work, order, inverse, found && n_follow > 0);
  if (found && behind < order->len)
    set_ceiling (work, order, behind);
  else if (found)
    set_shown_to (work, order, inverse);
  return TRUE;
}

void
sb_audit_tell_stated (SbAuditWork *work)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (gsize i = 0; i < work->n_levels; i++) {
    double stated = sb_audit_stated_slope (work->level[i]);
    if (!(stated > 0) || isnan (work->ramp[i].steeper)
        || !(work->audit->measure[SB_MEASURE_MEAN_TORQUE_SLOPE].points[i].n > 0))
      continue;
    g_autofree char *share = sb_audit_share_text (mean_slope (work, i) / stated);
    g_string_append_printf (text, "%s%s the %s", text->len > 0 ? ", " : "", share, work->level[i]->text);
  }
  if (text->len > 0)
    sb_audit_add_reason (work->audit, "The mean torque slope%s is %s that the setting states.",
                         work->rig.known ? " before the rig" : "", text->str);
}

gboolean
sb_audit_meets_stated (const SbAuditWork *work)
{
  for (gsize i = 0; i < work->n_levels; i++)
    if (meets_stated (work, i))
      return TRUE;
  return FALSE;
}
