/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgement_options.h"

#include "bench_claims.h"
#include "verdict_words.h"

#include <math.h>
#include <string.h>

/* Configurations that are named after levels come of cutting logs into steps. */
static gboolean
may_come_of_a_cut (const SbBench *bench, const SbClaim *claim)
{
  return bench->steps == SB_STEPS_ALL && claim->device != NULL && strstr (claim->device, "→") != NULL;
}

static char *
apply_claim (const char *text, SbBench *bench, GPtrArray *waiting)
{
  g_autoptr (GError) error = NULL;
  SbClaim *claim = sb_claim_parse (bench, text, &error);
  if (claim == NULL)
    return g_strdup_printf ("--claim: %s.", error->message);
  if (waiting != NULL && may_come_of_a_cut (bench, claim))
    g_ptr_array_add (waiting, g_strdup (text));
  else
    sb_bench_add_claim (bench, claim);
  sb_claim_free (claim);
  return NULL;
}

char *
sb_judgement_options_apply (char *const *audits, char *const *claims, SbBench *bench, GPtrArray *waiting)
{
  gsize n_audits = 0;
  for (; audits != NULL && audits[n_audits] != NULL; n_audits++)
    if (audits[n_audits][0] == '\0' || !g_utf8_validate (audits[n_audits], -1, NULL))
      return g_strdup ("--audit takes the name of a setting.");
  if (n_audits > 0)
    sb_bench_set_audits (bench, (const char *const *) audits, n_audits);
  char *wrong = NULL;
  for (gsize i = 0; wrong == NULL && claims != NULL && claims[i] != NULL; i++)
    wrong = apply_claim (claims[i], bench, waiting);
  return wrong;
}

char *
sb_word_options_apply (char *const *words, SbBench *bench)
{
  for (gsize i = 0; words != NULL && words[i] != NULL; i++) {
    g_autoptr (GError) error = NULL;
    const char *equals = strchr (words[i], '=');
    if (equals == NULL)
      return g_strdup ("--verdict-word takes VERDICT=WORDS, as in 'differs=is different'.");
    g_autofree char *usual = g_strndup (words[i], (gsize) (equals - words[i]));
    if (!sb_bench_set_word (bench, usual, equals + 1, &error))
      return g_strdup_printf ("--verdict-word: %s.", error->message);
  }
  const char *twice = sb_verdict_words_clash (bench);
  return twice != NULL ? g_strdup_printf ("--verdict-word: two verdicts are '%s'; each needs a word of its own.", twice)
                       : NULL;
}

static char rotation_range[] = "rotation range";

/* What the logs in use state, each once; borrowed. (transfer container) */
static GPtrArray *
stated_settings (const SbAnalysis *analysis)
{
  GPtrArray *names = g_ptr_array_new ();
  gboolean ranges = FALSE;
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (!trial->included || trial->facts == NULL)
        continue;
      ranges = ranges || isfinite (trial->facts->rotation_deg);
      for (guint s = 0; s < trial->facts->settings->len; s++) {
        char *name = ((const SbSetting *) g_ptr_array_index (trial->facts->settings, s))->name;
        if (!g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
          g_ptr_array_add (names, name);
      }
    }
  }
  if (ranges)
    g_ptr_array_add (names, rotation_range);
  return names;
}

/* Letters of either case are one. */
static gboolean
is_among (const char *name, const GPtrArray *names)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *other = g_utf8_casefold (g_ptr_array_index (names, i), -1);
    if (g_str_equal (folded, other))
      return TRUE;
  }
  return FALSE;
}

/* What would tell the levels of a setting that no log states. (transfer full) */
static char *
remedy_of (const char *setting, const GPtrArray *stated)
{
  if (g_ascii_strcasecmp (setting, rotation_range) == 0)
    return g_strdup ("State it in each log, as in '# rotation_deg: 540'");
  if (stated->len == 0)
    return g_strdup ("State it in each log, as in '# setting torque slope: 2.0 N·m/ms'");
  GString *text = g_string_new ("The logs state: ");
  for (guint i = 0; i < stated->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", (const char *) g_ptr_array_index (stated, i));
  return g_string_free (text, FALSE);
}

static SbExitStatus
say_unknown_settings (const SbAnalysis *analysis)
{
  SbExitStatus status = SB_EXIT_DONE;
  for (guint i = 0; i < analysis->audits->len; i++) {
    const SbAuditedSetting *audited = g_ptr_array_index (analysis->audits, i);
    g_autoptr (GPtrArray) names = stated_settings (analysis);
    if (audited->audit->levels->len > 0 || is_among (audited->audit->setting, names))
      continue;
    g_autofree char *remedy = remedy_of (audited->audit->setting, names);
    g_printerr ("slewbench: '%s' cannot be audited: no log states such a setting. %s.\n", audited->audit->setting,
                remedy);
    status = SB_EXIT_LEFT_OUT;
  }
  return status;
}

SbExitStatus
sb_judgement_options_say_unmet (const SbAnalysis *analysis)
{
  SbExitStatus status = say_unknown_settings (analysis);
  for (guint i = 0; i < analysis->claims->len; i++) {
    const SbClaimResult *result = g_ptr_array_index (analysis->claims, i);
    if (result->sides->len > 0)
      continue;
    g_autofree char *owner = sb_bench_claim_owner (analysis->bench, result->claim);
    g_autofree char *text = sb_claim_text (result->claim, analysis->bench->units);
    g_printerr ("slewbench: '%s' cannot be checked: no usable trial is of %s.\n", text, owner);
    status = SB_EXIT_LEFT_OUT;
  }
  return status;
}
