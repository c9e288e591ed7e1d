/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "callout.h"

#include <math.h>

const char *
sb_panel_key (SbPanel panel)
{
  return sb_channel_key (sb_panel_channel (panel));
}

gboolean
sb_callout_was_moved (const double label[2])
{
  return fabs (label[0] - SB_CALLOUT_LABEL_X) > 1e-9 || fabs (label[1] - SB_CALLOUT_LABEL_Y) > 1e-9;
}

static void
callout_clear (gpointer data)
{
  g_clear_pointer (&((SbCallout *) data)->text, g_ref_string_release);
}

GArray *
sb_callouts_new (void)
{
  GArray *callouts = g_array_new (FALSE, TRUE, sizeof (SbCallout));
  g_array_set_clear_func (callouts, callout_clear);
  return callouts;
}

GArray *
sb_callouts_copy (const GArray *callouts)
{
  GArray *copy = sb_callouts_new ();
  for (guint i = 0; i < callouts->len; i++) {
    SbCallout callout = *sb_callouts_get (callouts, i);
    callout.text = g_ref_string_acquire (callout.text);
    g_array_append_val (copy, callout);
  }
  return copy;
}

void
sb_callouts_add (GArray *callouts, SbPanel panel, double time_s, const char *text, const double label[2])
{
  SbCallout callout
      = { .panel = panel, .time_s = time_s, .label = { label[0], label[1] }, .text = g_ref_string_new (text) };
  g_array_append_val (callouts, callout);
}

void
sb_callouts_set_text (GArray *callouts, guint index, const char *text)
{
  SbCallout *callout = sb_callouts_get (callouts, index);
  g_ref_string_release (callout->text);
  callout->text = g_ref_string_new (text);
}
