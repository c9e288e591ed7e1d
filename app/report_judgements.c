/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report_judgements.h"

#include "results_judgements.h"
#include "results_pair.h"

/* `before` stands in front of the sentence; it is ours and needs no escaping. */
static void
append_item (GString *html, const char *before, const char *sentence)
{
  g_autofree char *escaped = g_markup_escape_text (sentence, -1);
  g_string_append_printf (html, "<li>%s%s</li>\n", before, escaped);
}

static void
begin_judgement (GString *html, const char *heading, const char *verdict)
{
  g_autofree char *what = g_markup_escape_text (heading, -1);
  g_autofree char *said = g_markup_escape_text (verdict, -1);
  g_string_append_printf (html, "<h3>%s: %s</h3>\n<ul>\n", what, said);
}

static void
append_audit (GString *html, const SbAuditedSetting *audited)
{
  g_autofree char *heading = sb_audited_setting_heading (audited);
  g_autofree char *verdict = sb_audit_verdict_text (audited->audit);
  begin_judgement (html, heading, verdict);
  for (guint i = 0; i < audited->audit->reasons->len; i++)
    append_item (html, "", g_ptr_array_index (audited->audit->reasons, i));
  for (guint i = 0; i < audited->audit->fairness->len; i++)
    append_item (html, "Not alike: ", g_ptr_array_index (audited->audit->fairness, i));
  g_string_append (html, "</ul>\n");
}

static void
append_claim (GString *html, const SbAnalysis *analysis, const SbClaimResult *claim)
{
  g_autofree char *heading = sb_claim_heading (analysis, claim);
  g_autofree char *verdict = sb_claim_verdict_text (claim);
  begin_judgement (html, heading, verdict);
  for (guint i = 0; i < claim->sides->len; i++)
    append_item (html, "", sb_claim_result_side (claim, i)->reason);
  if (claim->sides->len == 0)
    append_item (html, "", "No usable trial is of it.");
  g_string_append (html, "</ul>\n");
}

/* Plain text of a sentence followed by indented lines, more than once maybe, as paragraphs and lists. */
static void
append_plain (GString *html, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  gboolean in_list = FALSE;
  for (gsize i = 0; lines[i] != NULL; i++) {
    gboolean item = lines[i][0] == ' ';
    if (lines[i][0] == '\0')
      continue;
    if (item != in_list)
      g_string_append (html, item ? "<ul>\n" : "</ul>\n");
    in_list = item;
    g_autofree char *escaped = g_markup_escape_text (g_strstrip (lines[i]), -1);
    g_string_append_printf (html, item ? "<li>%s</li>\n" : "<p>%s</p>\n", escaped);
  }
  if (in_list)
    g_string_append (html, "</ul>\n");
}

static void
append_pair (GString *html, const SbAnalysis *analysis)
{
  g_autofree char *settle = sb_settle_text (analysis), *curves = sb_difference_curves_text (analysis);
  g_autofree char *plan = sb_plan_text (analysis);
  if (settle[0] != '\0' || curves[0] != '\0' || plan[0] != '\0')
    g_string_append (html, "<h2>Difference</h2>\n");
  append_plain (html, settle);
  append_plain (html, curves);
  append_plain (html, plan);
}

void
sb_report_judgements_append (GString *html, const SbAnalysis *analysis)
{
  append_pair (html, analysis);
  if (analysis->audits->len > 0)
    g_string_append (html, "<h2>Settings</h2>\n");
  for (guint i = 0; i < analysis->audits->len; i++)
    append_audit (html, g_ptr_array_index (analysis->audits, i));
  if (analysis->claims->len > 0)
    g_string_append (html, "<h2>Stated figures</h2>\n");
  for (guint i = 0; i < analysis->claims->len; i++)
    append_claim (html, analysis, g_ptr_array_index (analysis->claims, i));
}
