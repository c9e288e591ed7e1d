/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgements.h"

#include "audit_groups.h"
#include "pair.h"
#include "repeat_remarks.h"

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

/* A run number is no setting: one that nobody asked about is audited over so many levels at most. */
#define MOST_LEVELS_UNASKED 50
/* Any two levels are held against each other. */
#define MOST_LEVELS 500

/* What a judgement takes of one configuration, held for the call. */
typedef struct {
  GPtrArray *measures, *facts;
  guint drifting; /* measures, as bits 1u << SbMeasureId */
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
  used->drifting = sb_repeats_drifting (configuration);
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

static gboolean
has_several (GPtrArray *groups, const SbAuditGroup *group)
{
  guint n = 0;
  for (guint i = 0; i < groups->len; i++)
    n += strcmp (((const SbAuditGroup *) g_ptr_array_index (groups, i))->setting, group->setting) == 0 ? 1 : 0;
  return n > 1;
}

static gboolean
has_other_steps (GPtrArray *groups, const SbAuditGroup *group)
{
  for (guint i = 0; i < groups->len; i++)
    if (sb_audit_groups_are_other_steps (group, g_ptr_array_index (groups, i)))
      return TRUE;
  return FALSE;
}

/* ", step 5 N·m" where another audit has another one; else "". (transfer full) */
static char *
step_words (GPtrArray *groups, const SbAuditGroup *group, const SbTrialFacts *facts)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  if (!has_other_steps (groups, group))
    return g_strdup ("");
  g_ascii_formatd (digits, sizeof digits, "%.4g", facts->command_top_nm - facts->command_base_nm);
  return g_strdup_printf (", step %s N·m", digits);
}

static gboolean
is_set_so_in (const SbTrialFacts *facts, const SbSetting *setting)
{
  for (guint i = 0; facts->settings != NULL && i < facts->settings->len; i++) {
    const SbSetting *other = g_ptr_array_index (facts->settings, i);
    if (strcmp (other->name, setting->name) == 0)
      return strcmp (other->text, setting->text) == 0;
  }
  return FALSE;
}

/* Whether another audit of the group's setting on its device has this other setting otherwise. */
static gboolean
tells_apart (GPtrArray *groups, const SbAuditGroup *group, const SbTrialFacts *facts, const SbSetting *setting)
{
  if (strcmp (setting->name, group->setting) == 0)
    return FALSE;
  for (guint i = 0; i < groups->len; i++) {
    const SbAuditGroup *other = g_ptr_array_index (groups, i);
    if (other != group && other->first != NULL && strcmp (other->setting, group->setting) == 0
        && g_strcmp0 (other->first->device, facts->device) == 0 && !is_set_so_in (other->first, setting))
      return TRUE;
  }
  return FALSE;
}

/* " at damping 20 %, filter 0 %" where other audits of the setting on this device have them otherwise; else "".
 * (transfer full) */
static char *
settings_words (GPtrArray *groups, const SbAuditGroup *group, const SbTrialFacts *facts)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; facts->settings != NULL && i < facts->settings->len; i++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, i);
    if (tells_apart (groups, group, facts, setting))
      g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : " at ", setting->name, setting->text);
  }
  return g_string_free (text, FALSE);
}

/* The device, its other settings, and the step, where they tell this audit from others of its setting; else the
 * configurations. */
static char *
title_of (const SbAnalysis *analysis, GPtrArray *groups, const SbAuditGroup *group, const SbTrialFacts *facts)
{
  if (!has_several (groups, group) || group->members->len == 0)
    return g_strdup (group->setting);
  g_autofree char *step = step_words (groups, group, facts), *settings = settings_words (groups, group, facts);
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < group->members->len; i++) {
    const SbAuditMember *member = &g_array_index (group->members, SbAuditMember, i);
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "",
                            sb_analysis_configuration (analysis, member->configuration)->name);
  }
  g_autofree char *names = g_string_free (text, FALSE);
  return g_strdup_printf ("%s of %s%s%s", group->setting, facts->device != NULL ? facts->device : names, settings,
                          step);
}

static guint
count_levels (const SbAuditGroup *group)
{
  g_autoptr (GHashTable) texts = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < group->members->len; i++)
    g_hash_table_add (texts, (gpointer) (gsize) g_array_index (group->members, SbAuditMember, i).text);
  return g_hash_table_size (texts);
}

/* NULL when the group is to be audited. (transfer full) */
static SbAudit *
refuse (const SbAnalysis *analysis, const SbAuditGroup *group)
{
  guint n = count_levels (group);
  if (n <= (analysis->bench->audits == NULL ? MOST_LEVELS_UNASKED : MOST_LEVELS))
    return NULL;
  g_autofree char *reason
      = n > MOST_LEVELS
            ? g_strdup_printf ("It has %u levels, more than the %d over which a setting is audited. Leave out "
                               "configurations, or bring them together by rounding the setting in the logs.",
                               n, MOST_LEVELS)
            : g_strdup_printf ("It has %u levels, more than the %d over which a setting is audited unasked. Name it "
                               "among the settings to audit, and it is.",
                               n, MOST_LEVELS_UNASKED);
  return sb_audit_new_not_made (group->setting, group->of_range, reason);
}

/* Trials at the member's level, alike but for another size of step. Borrowed measures. (transfer container) */
static GPtrArray *
other_steps_of (GPtrArray *used_of, GPtrArray *groups, const SbAuditGroup *group, const SbAuditMember *member)
{
  GPtrArray *measures = g_ptr_array_new ();
  for (guint g = 0; g < groups->len && measures->len == 0; g++) {
    const SbAuditGroup *other = g_ptr_array_index (groups, g);
    for (guint i = 0; sb_audit_groups_are_other_steps (group, other) && i < other->members->len; i++) {
      const SbAuditMember *of_other = &g_array_index (other->members, SbAuditMember, i);
      const Used *used = g_ptr_array_index (used_of, of_other->configuration);
      for (guint k = 0; sb_audit_members_are_of_one_level (member, of_other) && k < used->measures->len; k++)
        g_ptr_array_add (measures, g_ptr_array_index (used->measures, k));
    }
  }
  return measures;
}

static SbAudit *
audit_members (const SbAnalysis *analysis, GPtrArray *used_of, GPtrArray *groups, const SbAuditGroup *group,
               GCancellable *cancellable)
{
  g_autoptr (GPtrArray) other_steps = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  SbMargin margin[SB_N_MEASURES];
  sb_bench_margins (analysis->bench, margin);
  g_autofree SbAuditInput *input = g_new0 (SbAuditInput, group->members->len + 1);
  for (guint i = 0; i < group->members->len; i++) {
    const SbAuditMember *member = &g_array_index (group->members, SbAuditMember, i);
    const Used *used = g_ptr_array_index (used_of, member->configuration);
    GPtrArray *other_step = other_steps_of (used_of, groups, group, member);
    g_ptr_array_add (other_steps, other_step);
    input[i] = (SbAuditInput){ .text = member->text,
                               .value = member->value,
                               .unit = member->unit,
                               .measures = (SbMeasures *const *) used->measures->pdata,
                               .facts = (SbTrialFacts *const *) used->facts->pdata,
                               .n = used->facts->len,
                               .drifting = used->drifting,
                               .drive = sb_analysis_configuration (analysis, member->configuration)->drive,
                               .other_step = (SbMeasures *const *) other_step->pdata,
                               .n_other_step = other_step->len };
  }
  return sb_audit_new (group->setting, group->of_range, input, group->members->len, margin, &analysis->bench->audit,
                       analysis->bench->units, cancellable);
}

static SbAuditedSetting *
audit_group (const SbAnalysis *analysis, GPtrArray *used_of, GPtrArray *groups, const SbAuditGroup *group,
             GCancellable *cancellable)
{
  SbAuditedSetting *audited = g_new0 (SbAuditedSetting, 1);
  const SbTrialFacts *facts = NULL;
  audited->configurations = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < group->members->len; i++) {
    guint index = g_array_index (group->members, SbAuditMember, i).configuration;
    g_array_append_val (audited->configurations, index);
    if (i == 0)
      facts = g_ptr_array_index (((const Used *) g_ptr_array_index (used_of, index))->facts, 0);
  }
  audited->title = title_of (analysis, groups, group, facts);
  audited->audit = refuse (analysis, group);
  if (audited->audit == NULL)
    audited->audit = audit_members (analysis, used_of, groups, group, cancellable);
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
check_claim (const SbAnalysis *analysis, GPtrArray *used_of, const SbClaim *claim)
{
  guint n = analysis->configurations->len;
  gsize n_input = 0;
  g_autofree SbClaimInput *input = g_new0 (SbClaimInput, n + 1);
  for (guint c = 0; c < n; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    const Used *used = g_ptr_array_index (used_of, c);
    if (!is_meant (claim, c, used->facts))
      continue;
    input[n_input++] = (SbClaimInput){ .name = configuration->name,
                                       .summary = configuration->summary,
                                       .measures = (SbMeasures *const *) used->measures->pdata,
                                       .facts = (SbTrialFacts *const *) used->facts->pdata,
                                       .n = used->facts->len,
                                       .drifting = used->drifting };
  }
  return sb_claim_result_new (claim, input, n_input, analysis->bench->units);
}

static void
claim_result_free (gpointer result)
{
  sb_claim_result_unref (result);
}

void
sb_judgements_add (SbAnalysis *analysis, GCancellable *cancellable)
{
  g_autoptr (GPtrArray) used_of = g_ptr_array_new_with_free_func (used_free);
  for (guint c = 0; c < analysis->configurations->len; c++)
    g_ptr_array_add (used_of, used_new (sb_analysis_configuration (analysis, c)));
  analysis->audits = g_ptr_array_new_with_free_func (audited_setting_free);
  analysis->unaudited = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) groups = sb_audit_groups_find (analysis, analysis->unaudited, cancellable);
  for (guint i = 0; i < groups->len && !g_cancellable_is_cancelled (cancellable); i++)
    g_ptr_array_add (analysis->audits,
                     audit_group (analysis, used_of, groups, g_ptr_array_index (groups, i), cancellable));
  if (analysis->audits->len > 0 && g_cancellable_is_cancelled (cancellable)) /* the last is unfinished */
    g_ptr_array_set_size (analysis->audits, (int) analysis->audits->len - 1);
  analysis->claims = g_ptr_array_new_with_free_func (claim_result_free);
  const GPtrArray *claims = analysis->bench->claims;
  for (guint i = 0; claims != NULL && i < claims->len && !g_cancellable_is_cancelled (cancellable); i++)
    g_ptr_array_add (analysis->claims, check_claim (analysis, used_of, g_ptr_array_index (claims, i)));
}
