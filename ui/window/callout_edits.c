/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "callout_edits.h"

#include <math.h>

static const SbConfiguration *
configuration_of (SbDocument *document, guint configuration)
{
  return sb_bench_configuration (sb_document_bench (document), configuration);
}

/* The callouts of a copy that is being edited. */
static GArray *
edit_callouts (SbBench *edited, guint configuration)
{
  return sb_bench_edit_configuration (edited, configuration)->callouts;
}

int
sb_edit_add_callout (SbDocument *document, guint configuration, SbPanel panel, double time_s, const char *text)
{
  g_autofree char *wanted = g_strstrip (g_strdup (text));
  if (*wanted == '\0')
    return -1;
  static const double label[] = { SB_CALLOUT_LABEL_X, SB_CALLOUT_LABEL_Y };
  g_autofree char *step = g_strdup_printf ("add a callout to %s", configuration_of (document, configuration)->name);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  GArray *callouts = edit_callouts (edited, configuration);
  sb_callouts_add (callouts, panel, time_s, wanted, label);
  int index = (int) callouts->len - 1;
  sb_document_push (document, edited, step);
  return index;
}

void
sb_edit_set_callout_text (SbDocument *document, guint configuration, guint callout, const char *text)
{
  const GArray *old = configuration_of (document, configuration)->callouts;
  g_autofree char *wanted = g_strstrip (g_strdup (text));
  if (callout >= old->len || *wanted == '\0' || g_str_equal (sb_callouts_get (old, callout)->text, wanted))
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_callouts_set_text (edit_callouts (edited, configuration), callout, wanted);
  sb_document_push (document, edited, "change the words of a callout");
}

void
sb_edit_move_callout (SbDocument *document, guint configuration, guint callout, double x, double y)
{
  const GArray *old = configuration_of (document, configuration)->callouts;
  if (callout >= old->len)
    return;
  const double *label = sb_callouts_get (old, callout)->label;
  double to[]
      = { CLAMP (x, -SB_CALLOUT_FARTHEST, SB_CALLOUT_FARTHEST), CLAMP (y, -SB_CALLOUT_FARTHEST, SB_CALLOUT_FARTHEST) };
  if (hypot (to[0] - label[0], to[1] - label[1]) < 1e-6)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  SbCallout *moved = sb_callouts_get (edit_callouts (edited, configuration), callout);
  moved->label[0] = to[0];
  moved->label[1] = to[1];
  sb_document_push (document, edited, "move a callout");
}

void
sb_edit_delete_callout (SbDocument *document, guint configuration, guint callout)
{
  if (callout >= configuration_of (document, configuration)->callouts->len)
    return;
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  g_array_remove_index (edit_callouts (edited, configuration), callout);
  sb_document_push (document, edited, "delete a callout");
}

void
sb_edit_set_dimmed (SbDocument *document, guint configuration, gboolean dimmed)
{
  const SbConfiguration *old = configuration_of (document, configuration);
  if (!old->dimmed == !dimmed)
    return;
  g_autofree char *step = g_strdup_printf (dimmed ? "dim %s" : "no longer dim %s", old->name);
  SbBench *edited = sb_bench_edit (sb_document_bench (document));
  sb_bench_edit_configuration (edited, configuration)->dimmed = dimmed;
  sb_document_push (document, edited, step);
}

static gboolean
is_alone (const SbBench *bench, guint configuration)
{
  for (guint c = 0; c < bench->configurations->len; c++)
    if (!sb_bench_configuration (bench, c)->drawn != (c != configuration))
      return FALSE;
  return TRUE;
}

void
sb_edit_solo (SbDocument *document, guint configuration)
{
  const SbBench *bench = sb_document_bench (document);
  gboolean all = is_alone (bench, configuration);
  if (all && bench->configurations->len == 1)
    return;
  g_autofree char *step = all ? g_strdup ("draw all")
                              : g_strdup_printf ("draw %s alone", configuration_of (document, configuration)->name);
  SbBench *edited = sb_bench_edit (bench);
  for (guint c = 0; c < bench->configurations->len; c++) {
    gboolean drawn = all || c == configuration;
    if (!sb_bench_configuration (bench, c)->drawn != !drawn)
      sb_bench_edit_configuration (edited, c)->drawn = drawn;
  }
  sb_document_push (document, edited, step);
}

void
sb_edit_flip (SbDocument *document)
{
  const SbBench *bench = sb_document_bench (document);
  if (bench->reference == bench->other)
    return;
  SbBench *edited = sb_bench_edit (bench);
  edited->reference = bench->other;
  edited->other = bench->reference;
  sb_document_push (document, edited, "swap reference and other");
}
