/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of an audit in words. */
#include "audit_words.h"

#include <math.h>

char *
sb_audit_percent (double ratio)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double percent = 100 * ratio;
  g_ascii_formatd (text, sizeof text, fabs (percent) < 9.95 ? "%.1f" : "%.0f", fabs (percent));
  return g_strconcat (percent < 0 ? "−" : "", text, NULL);
}

char *
sb_audit_number (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup (g_ascii_formatd (text, sizeof text, "%.2f", value));
}

char *
sb_audit_value (const SbAudit *audit, SbMeasureId id, gsize level)
{
  const SbAuditPoint *point = &audit->measure[id].points[level];
  double half = (point->ci95[1] - point->ci95[0]) / 2;
  return sb_measure_format (id, point->mean, half > 0 ? half : (double) NAN, TRUE);
}

/* "+12 % (95 % interval 9.8 to 14 %)"; in the unit when the lowest level's mean is nearly nothing. */
static char *
change_text (SbMeasureId id, const SbAuditMeasure *measure)
{
  const SbWelch *change = &measure->change;
  double base = fabs (measure->points[0].mean);
  if (base > fabs (change->difference) / 100) {
    g_autofree char *by = sb_audit_percent (change->difference / base);
    g_autofree char *low = sb_audit_percent (change->ci95[0] / base);
    g_autofree char *high = sb_audit_percent (change->ci95[1] / base);
    return g_strdup_printf ("%s%s %% (95 %% interval %s to %s %%)", change->difference > 0 ? "+" : "", by, low, high);
  }
  double half = (change->ci95[1] - change->ci95[0]) / 2;
  g_autofree char *by = sb_measure_format (id, change->difference, half, TRUE);
  g_autofree char *low = sb_measure_format (id, change->ci95[0], half, FALSE);
  g_autofree char *high = sb_measure_format (id, change->ci95[1], half, FALSE);
  return g_strdup_printf ("%s%s (95 %% interval %s to %s)", change->difference > 0 ? "+" : "", by, low, high);
}

char *
sb_audit_measure_text (const SbAudit *audit, SbMeasureId id)
{
  const SbAuditMeasure *measure = &audit->measure[id];
  gsize last = audit->levels->len - 1;
  g_autofree char *from = sb_audit_value (audit, id, 0);
  g_autofree char *to = sb_audit_value (audit, id, last);
  g_autofree char *change = change_text (id, measure);
  char p[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (p, sizeof p, "%.3f", measure->p_holm);
  return g_strdup_printf ("%s %s: %s at %s, %s at %s, %s, p %s%s after Holm", sb_measure_info (id)->name,
                          sb_audit_effect_words (measure->effect), from, sb_audit_level (audit, 0)->text, to,
                          sb_audit_level (audit, (guint) last)->text, change, measure->p_holm < 0.001 ? "< " : "= ",
                          measure->p_holm < 0.001 ? "0.001" : p);
}
