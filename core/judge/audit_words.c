/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of an audit in words. */
#include "audit_words.h"

#include <math.h>
#include <string.h>

/* More is no share: "12.50 times". */
#define MOST_SHARE 10

static char *
signed_number (double value, double rounding, gboolean signs)
{
  char *number = sb_number_format (value, rounding);
  return signs ? sb_number_with_sign (number, value) : number;
}

static char *
interval_text (double value, const double ci95[2], double factor, const char *unit, gboolean signs)
{
  double half = factor * sb_interval_rounding (ci95);
  g_autofree char *middle = signed_number (factor * value, half, signs);
  g_autofree char *low = signed_number (factor * ci95[0], half, signs);
  g_autofree char *high = signed_number (factor * ci95[1], half, signs);
  return g_strdup_printf ("%s%s (95 %% interval %s to %s%s)", middle, unit, low, high, unit);
}

char *
sb_audit_interval (double value, const double ci95[2], double factor, const char *unit)
{
  return interval_text (value, ci95, factor, unit, FALSE);
}

char *
sb_audit_share_text (double ratio)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *times = ratio > MOST_SHARE ? sb_number_format (ratio, NAN) : NULL;
  return times != NULL ? g_strdup_printf ("%s times", times)
                       : g_strdup_printf ("%s %% of", g_ascii_formatd (text, sizeof text, "%.3g", 100 * ratio));
}

char *
sb_audit_value (const SbAudit *audit, SbMeasureId id, gsize level)
{
  const SbAuditPoint *point = &audit->measure[id].points[level];
  return sb_measure_format_in (id, audit->units, point->mean, point->sd > 0 ? point->sd : (double) NAN, TRUE);
}

/* "+12.1 % (95 % interval +9.8 to +14.4 %)"; in the unit when the lowest level's mean is nearly nothing. */
static char *
change_text (SbMeasureId id, SbUnits units, const SbAuditMeasure *measure)
{
  SbShownUnit shown = sb_measure_shown_unit (id, units);
  const SbWelch *change = &measure->change;
  double base = fabs (measure->points[0].mean);
  g_autofree char *unit = strcmp (shown.name, "1") == 0 ? g_strdup ("") : g_strconcat (" ", shown.name, NULL);
  gboolean as_share = base > fabs (change->difference) / MOST_SHARE;
  return interval_text (change->difference, change->ci95, as_share ? 100 / base : shown.factor, as_share ? " %" : unit,
                        TRUE);
}

/* Why a change that is certain by its p does not move the measure; "" when it does, or is not certain. */
static const char *
why_not_moves (const SbAudit *audit, const SbAuditMeasure *measure)
{
  gboolean is_certain = measure->p_holm < audit->level;
  if (measure->effect == SB_EFFECT_STEADY && is_certain)
    return ": what it is seen to change by is less than the margin";
  if (measure->effect != SB_EFFECT_UNDECIDED)
    return "";
  if (measure->within_noise)
    return ", which noise may account for";
  if (measure->within_sampling)
    return ", which sampling may account for: the commands jump somewhere in their sample intervals";
  if (measure->in_noise)
    return ", and at no level does it stand above the noise";
  return is_certain ? ", but the means lie no farther apart than the margin, and are not shown to stay within it" : "";
}

char *
sb_audit_measure_text (const SbAudit *audit, SbMeasureId id)
{
  const SbAuditMeasure *measure = &audit->measure[id];
  gsize last = audit->levels->len - 1;
  g_autofree char *from = sb_audit_value (audit, id, 0);
  g_autofree char *to = sb_audit_value (audit, id, last);
  g_autofree char *change = change_text (id, audit->units, measure);
  char p[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (p, sizeof p, "%.3f", measure->p_holm);
  g_autofree char *within = measure->effect == SB_EFFECT_STEADY
                                ? sb_measure_format_in (id, audit->units, measure->margin, NAN, TRUE)
                                : NULL;
  return g_strdup_printf ("%s %s%s%s: %s at %s, %s at %s, %s, p %s%s after Holm%s", sb_measure_info (id)->name,
                          sb_audit_effect_words (measure->effect), within != NULL ? " within ± " : "",
                          within != NULL ? within : "", from, sb_audit_level (audit, 0)->text, to,
                          sb_audit_level (audit, (guint) last)->text, change, measure->p_holm < 0.001 ? "< " : "= ",
                          measure->p_holm < 0.001 ? "0.001" : p, why_not_moves (audit, measure));
}

void
sb_audit_tell_measure (SbAuditWork *work, SbMeasureId id)
{
  if (sb_audit_effect (work, id) == SB_EFFECT_ABSENT) {
    sb_audit_add_reason (work->audit, "%s cannot be judged: %s.", sb_measure_info (id)->name,
                         sb_audit_measure (work, id)->absent_reason);
    return;
  }
  g_autofree char *text = sb_audit_measure_text (work->audit, id);
  sb_audit_add_reason (work->audit, "%s.", text);
}

char *
sb_audit_list_measures (const SbAuditWork *work, SbAuditChosen chosen)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    if (!chosen (work, (SbMeasureId) m))
      continue;
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", name);
  }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}
