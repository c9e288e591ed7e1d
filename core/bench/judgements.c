/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgements.h"

#include "audit_groups.h"
#include "pair.h"

#include <string.h>

GPtrArray *
sb_configuration_used_facts (const SbConfigurationResult *configuration)
{
  GPtrArray *facts = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (sb_trial_result_is_used (trial))
      g_ptr_array_add (facts, trial->facts);
  }
  return facts;
}

/* What a judgement takes of one configuration, held for the call. */
typedef struct {
  GPtrArray *measures, *facts;
} Used;

static void
used_free (gpointer data)
{
  Used *used = data;
  g_ptr_array_unref (used->measures);
  g_ptr_array_unref (used->facts);
  g_free (used);
}

static Used *
used_new (const SbConfigurationResult *configuration)
{
  Used *used = g_new0 (Used, 1);
  used->measures = g_ptr_array_new ();
  used->facts = sb_configuration_used_facts (configuration);
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    if (sb_trial_result_is_used (trial))
      g_ptr_array_add (used->measures, trial->measures);
  }
  return used;
}

static void
audited_setting_free (gpointer data)
{
  SbAuditedSetting *audited = data;
  g_free (audited->title);
  g_array_unref (audited->configurations);
  sb_audit_unref (audited->audit);
  g_free (audited);
}

/* The device, where it tells this audit from others of its setting; else the configurations. */
static char *
title_of (const SbAnalysis *analysis, const SbAuditGroup *group, const SbTrialFacts *facts, gboolean several)
{
  if (!several || group->members->len == 0)
    return g_strdup (group->setting);
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < group->members->len; i++) {
    const SbAuditMember *member = &g_array_index (group->members, SbAuditMember, i);
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "",
                            sb_analysis_configuration (analysis, member->configuration)->name);
  }
  g_autofree char *names = g_string_free (text, FALSE);
  return g_strdup_printf ("%s of %s", group->setting, facts->device != NULL ? facts->device : names);
}

static gboolean
has_several (GPtrArray *groups, const SbAuditGroup *group)
{
  guint n = 0;
  for (guint i = 0; i < groups->len; i++)
    n += strcmp (((const SbAuditGroup *) g_ptr_array_index (groups, i))->setting, group->setting) == 0 ? 1 : 0;
  return n > 1;
}

static SbAuditedSetting *
audit_group (const SbAnalysis *analysis, GPtrArray *groups, const SbAuditGroup *group)
{
  SbMargin margin[SB_N_MEASURES];
  sb_bench_margins (analysis->bench, margin);
  SbAuditedSetting *audited = g_new0 (SbAuditedSetting, 1);
  audited->configurations = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GPtrArray) held = g_ptr_array_new_with_free_func (used_free);
  g_autofree SbAuditInput *input = g_new0 (SbAuditInput, group->members->len + 1);
  for (guint i = 0; i < group->members->len; i++) {
    const SbAuditMember *member = &g_array_index (group->members, SbAuditMember, i);
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, member->configuration);
    Used *used = used_new (configuration);
    g_ptr_array_add (held, used);
    input[i] = (SbAuditInput){ .text = member->text,
                               .value = member->value,
                               .unit = member->unit,
                               .measures = (SbMeasures *const *) used->measures->pdata,
                               .facts = (SbTrialFacts *const *) used->facts->pdata,
                               .n = used->facts->len,
                               .drive = configuration->drive };
    g_array_append_val (audited->configurations, member->configuration);
  }
  const SbTrialFacts *facts
      = held->len > 0 ? g_ptr_array_index (((Used *) g_ptr_array_index (held, 0))->facts, 0) : NULL;
  audited->title = title_of (analysis, group, facts, has_several (groups, group));
  audited->audit = sb_audit_new (group->setting, group->of_range, input, group->members->len, margin, &analysis->bench->audit);
  return audited;
}

/* A configuration that a claim is of. */
static gboolean
is_meant (const SbClaim *claim, guint index, GPtrArray *facts)
{
  if (facts->len == 0)
    return FALSE;
  if (claim->configuration >= 0)
    return claim->configuration == (int) index;
  if (claim->device == NULL)
    return TRUE;
  const char *device = ((const SbTrialFacts *) g_ptr_array_index (facts, 0))->device;
  return device != NULL && g_ascii_strcasecmp (device, claim->device) == 0;
}

static SbClaimResult *
check_claim (const SbAnalysis *analysis, const SbClaim *claim)
{
  guint n = analysis->configurations->len;
  gsize n_input = 0;
  g_autoptr (GPtrArray) held = g_ptr_array_new_with_free_func (used_free);
  g_autofree SbClaimInput *input = g_new0 (SbClaimInput, n + 1);
  for (guint c = 0; c < n; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    Used *used = used_new (configuration);
    g_ptr_array_add (held, used);
    if (!is_meant (claim, c, used->facts))
      continue;
    input[n_input++] = (SbClaimInput){ .name = configuration->name,
                                       .summary = configuration->summary,
                                       .measures = (SbMeasures *const *) used->measures->pdata,
                                       .facts = (SbTrialFacts *const *) used->facts->pdata,
                                       .n = used->facts->len };
  }
  return sb_claim_result_new (claim, input, n_input);
}

static void
claim_result_free (gpointer result)
{
  sb_claim_result_unref (result);
}

void
sb_judgements_add (SbAnalysis *analysis)
{
  analysis->audits = g_ptr_array_new_with_free_func (audited_setting_free);
  g_autoptr (GPtrArray) groups = sb_audit_groups_find (analysis);
  for (guint i = 0; i < groups->len; i++)
    g_ptr_array_add (analysis->audits, audit_group (analysis, groups, g_ptr_array_index (groups, i)));
  analysis->claims = g_ptr_array_new_with_free_func (claim_result_free);
  const GPtrArray *claims = analysis->bench->claims;
  for (guint i = 0; claims != NULL && i < claims->len; i++)
    g_ptr_array_add (analysis->claims, check_claim (analysis, g_ptr_array_index (claims, i)));
}
