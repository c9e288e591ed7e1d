/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_judgements.h"

#include "bench_claims.h"
#include "results_pair.h"
#include "verdict_words.h"

#include <math.h>

static guint
count (const GPtrArray *list)
{
  return list != NULL ? list->len : 0;
}

char *
sb_audited_setting_heading (const SbAuditedSetting *audited)
{
  const SbAudit *audit = audited->audit;
  if (audit->levels->len < 2)
    return g_strdup (audited->title);
  return g_strdup_printf ("%s, %s to %s", audited->title, sb_audit_level (audit, 0)->text,
                          sb_audit_level (audit, audit->levels->len - 1)->text);
}

char *
sb_claim_heading (const SbAnalysis *analysis, const SbClaimResult *claim)
{
  g_autofree char *owner = sb_bench_claim_owner (analysis->bench, claim->claim);
  g_autofree char *what = sb_claim_text (claim->claim, analysis->bench->units);
  return g_strdup_printf ("%s: %s", owner, what);
}

char *
sb_audit_shown_verdict (const SbBench *bench, const SbAudit *audit)
{
  return sb_audit_verdict_text (audit, sb_bench_word (bench, sb_audit_verdict_words (audit->verdict, audit->of_range)));
}

char *
sb_claim_shown_verdict (const SbBench *bench, const SbClaimResult *claim)
{
  gboolean doubted = claim->decisive >= 0 && sb_claim_result_side (claim, (guint) claim->decisive)->doubted;
  g_autofree char *words = sb_bench_claim_words (bench, claim);
  return g_strconcat (words, doubted ? " ?" : "", NULL);
}

static void
append_sentences (GString *text, const GPtrArray *sentences, const char *before)
{
  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "  %s%s\n", before, (const char *) g_ptr_array_index (sentences, i));
}

static void
append_audit (GString *text, const SbAnalysis *analysis, const SbAuditedSetting *audited)
{
  g_autofree char *heading = sb_audited_setting_heading (audited);
  g_autofree char *verdict = sb_audit_shown_verdict (analysis->bench, audited->audit);
  g_string_append_printf (text, "\nAudit of %s: %s\n", heading, verdict);
  append_sentences (text, audited->audit->reasons, "");
  append_sentences (text, audited->audit->fairness, "Not alike: ");
}

static void
append_claim (GString *text, const SbAnalysis *analysis, const SbClaimResult *claim)
{
  g_autofree char *heading = sb_claim_heading (analysis, claim);
  g_autofree char *verdict = sb_claim_shown_verdict (analysis->bench, claim);
  g_string_append_printf (text, "\nStated of %s: %s\n", heading, verdict);
  for (guint i = 0; i < claim->sides->len; i++) {
    g_autofree char *reason = sb_bench_claim_reason (analysis->bench, sb_claim_result_side (claim, i));
    g_string_append_printf (text, "  %s.\n", reason);
  }
  if (claim->sides->len == 0)
    g_string_append (text, "  No usable trial is of it.\n");
}

char *
sb_judgements_text (const SbAnalysis *analysis)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < count (analysis->audits); i++)
    append_audit (text, analysis, g_ptr_array_index (analysis->audits, i));
  for (guint i = 0; i < count (analysis->unaudited); i++)
    g_string_append_printf (text, "\n%s\n", (const char *) g_ptr_array_index (analysis->unaudited, i));
  for (guint i = 0; i < count (analysis->claims); i++)
    append_claim (text, analysis, g_ptr_array_index (analysis->claims, i));
  return g_string_free (text, FALSE);
}

static void
append_audit_methods (GString *text, const SbAnalysis *analysis)
{
  gboolean three = FALSE;
  for (guint i = 0; i < count (analysis->audits); i++) {
    const SbAuditedSetting *audited = g_ptr_array_index (analysis->audits, i);
    g_autofree char *heading = sb_audited_setting_heading (audited);
    g_string_append_printf (text, "%s%s", i == 0 ? "Settings were audited: " : "; ", heading);
    three = three || audited->audit->levels->len > 2;
  }
  if (count (analysis->audits) == 0)
    return;
  g_autofree char *margins = sb_margins_words (analysis->bench, "the mean at the lowest level");
  g_string_append_printf (
      text,
      ". A measure stays when two one-sided tests at 5 %% place the difference of any two levels within %s; else it "
      "moves "
      "when its p, corrected after Holm over the measures that could be tested%s, is below %.4g (Welch's test of the "
      "two "
      "ends%s) and two levels are further apart than that margin; else it is undecided. A setting limits the torque "
      "slope when the slope moves with the level, the rise is straight (its quarters as steep as all of it within "
      "%.4g %%; on a rig that rings, what its ringing makes of a straight rise), takes its time accordingly and, where "
      "levels are numbers above zero, is in proportion to them within %.4g %%. ",
      margins, analysis->audits->len > 1 ? " of that setting, and not over settings" : "", analysis->bench->audit.level,
      three ? "; of three levels or more twice the smaller of its p and that of Jonckheere's and Terpstra's test of "
              "trend"
            : "",
      100 * analysis->bench->audit.straight_ratio, 100 * analysis->bench->audit.proportion_ratio);
}

typedef gboolean (*LeftOpen) (const SbAuditMeasure *measure);

static gboolean
is_open_by_noise (const SbAuditMeasure *measure)
{
  return measure->within_noise || measure->in_noise;
}

static gboolean
is_open_by_sampling (const SbAuditMeasure *measure)
{
  return measure->within_sampling;
}

/* Measures that a rule left undecided in some audit, with commas. (transfer full) */
static char *
names_of_open (const SbAnalysis *analysis, LeftOpen is_open)
{
  GString *names = g_string_new (NULL);
  for (int m = 0; m < SB_N_MEASURES; m++) {
    gboolean open = FALSE;
    for (guint i = 0; i < count (analysis->audits); i++) {
      const SbAuditedSetting *audited = g_ptr_array_index (analysis->audits, i);
      const SbAuditMeasure *measure = &audited->audit->measure[m];
      open = open || is_open (measure);
    }
    g_autofree char *name = g_utf8_strdown (sb_measure_info ((SbMeasureId) m)->name, -1);
    if (open)
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
  }
  return g_string_free (names, FALSE);
}

/* The rules for noise and for sampling, where they left a measure undecided. */
static void
append_audit_open_methods (GString *text, const SbAnalysis *analysis)
{
  g_autofree char *by_noise = names_of_open (analysis, is_open_by_noise);
  g_autofree char *by_sampling = names_of_open (analysis, is_open_by_sampling);
  if (by_noise[0] != '\0')
    g_string_append_printf (
        text,
        "What a measure does had to hold as well without what noise is expected to have made of the "
        "figures, and a quarter more, or may have by the crests at which it has them read, and for figures that stand "
        "above the noise at some level; that left undecided: %s. ",
        by_noise);
  if (by_sampling[0] != '\0')
    g_string_append_printf (text,
                            "What counts from the onset had to do so wherever in the sample interval before it any "
                            "command jumped, where the repeats' scatter does not show it; that left undecided: %s. ",
                            by_sampling);
}

static void
append_claim_methods (GString *text, const SbAnalysis *analysis)
{
  gboolean several = FALSE;
  for (guint i = 0; i < count (analysis->claims); i++) {
    const SbClaimResult *claim = g_ptr_array_index (analysis->claims, i);
    g_autofree char *heading = sb_claim_heading (analysis, claim);
    g_autofree char *verdict = sb_claim_shown_verdict (analysis->bench, claim);
    g_string_append_printf (text, "%s%s (%s)", i == 0 ? "Stated figures were checked: " : "; ", heading, verdict);
    several = several || claim->sides->len > 1;
  }
  if (count (analysis->claims) == 0)
    return;
  g_string_append_printf (
      text,
      ". A stated figure counts as reached when the 95 %% interval of the mean lies wholly where it "
      "is stated to be, as not reached when it lies wholly elsewhere%s%s. ",
      analysis->claims->len > 1 ? ", each figure by itself" : "",
      several ? "; one of several configurations is enough to reach it, and they share the 5 %" : "");
}

char *
sb_judgements_methods (const SbAnalysis *analysis)
{
  GString *text = g_string_new (NULL);
  append_audit_methods (text, analysis);
  append_audit_open_methods (text, analysis);
  g_string_append (text, text->len > 0 && count (analysis->claims) > 0 ? "\n\n" : "");
  append_claim_methods (text, analysis);
  return g_string_free (text, FALSE);
}
