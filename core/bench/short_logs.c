/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "short_logs.h"

#include <math.h>

#define SHORT_RATIO 0.8
/* More names than this are counted only. */
#define MOST_NAMES 3

static int
by_length (gconstpointer a, gconstpointer b)
{
  const SbTrialResult *first = *(const SbTrialResult *const *) a, *second = *(const SbTrialResult *const *) b;
  return (first->facts->end_s > second->facts->end_s) - (first->facts->end_s < second->facts->end_s);
}

/* The used trials, the shortest first. */
static GPtrArray *
used_by_length (const SbConfigurationResult *configuration)
{
  GPtrArray *used = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    SbTrialResult *trial = g_ptr_array_index (configuration->trials, t);
    if (trial->included && trial->facts != NULL)
      g_ptr_array_add (used, trial);
  }
  g_ptr_array_sort (used, by_length);
  return used;
}

static void
append_time (GString *text, double s)
{
  gboolean in_ms = fabs (s) < 1;
  g_string_append_printf (text, "%.3g %s", in_ms ? 1e3 * s : s, in_ms ? "ms" : "s");
}

/* "2 of 50 logs are much shorter than the others: a.csv (120 ms of 1 s after the onset), b.csv (150 ms)". */
static char *
describe (const GPtrArray *used, guint n_short, double usual_s, SbSpan span)
{
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "%u of %u logs %s much shorter than the others: ", n_short, used->len,
                          n_short == 1 ? "is" : "are");
  for (guint i = 0; i < MIN (n_short, MOST_NAMES); i++) {
    const SbTrialResult *trial = g_ptr_array_index (used, i);
    g_autofree char *name = sb_trial_result_label (trial);
    g_string_append_printf (text, "%s%s (", i > 0 ? ", " : "", name);
    append_time (text, trial->facts->end_s);
    if (i == 0) {
      g_string_append (text, " of ");
      append_time (text, usual_s);
      g_string_append (text, " after the onset");
    }
    g_string_append_c (text, ')');
  }
  if (n_short > MOST_NAMES)
    g_string_append_printf (text, " and %u more", n_short - MOST_NAMES);
  g_string_append (text, span == SB_SPAN_COMMON ? ". The mean curve is over what all repeats cover, and ends at "
                                                : ". Fewer repeats carry the mean curve from ");
  append_time (text, ((const SbTrialResult *) g_ptr_array_index (used, 0))->facts->end_s);
  g_string_append (text, span == SB_SPAN_COMMON ? "" : " on");
  return g_string_free (text, FALSE);
}

void
sb_short_logs_find (const SbConfigurationResult *configuration, SbSpan span, SbRepeatRemark remark)
{
  g_autoptr (GPtrArray) used = used_by_length (configuration);
  if (used->len < 2)
    return;
  double usual_s = ((const SbTrialResult *) g_ptr_array_index (used, used->len / 2))->facts->end_s;
  guint n_short = 0;
  while (n_short < used->len / 2
         && ((const SbTrialResult *) g_ptr_array_index (used, n_short))->facts->end_s < SHORT_RATIO * usual_s)
    n_short++;
  if (n_short == 0)
    return;
  remark (g_ptr_array_index (used, 0), describe (used, n_short, usual_s, span),
          "Leave out what is too short, or log every repeat for as long");
}
