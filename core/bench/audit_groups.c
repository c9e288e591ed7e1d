/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_groups.h"

#include "audit_apart.h"
#include "judgements.h"

#include <math.h>
#include <string.h>

static void
group_free (gpointer data)
{
  SbAuditGroup *group = data;
  g_free (group->setting);
  g_array_unref (group->members);
  g_ptr_array_unref (group->texts);
  g_free (group);
}

static SbAuditGroup *
group_new (const char *setting, gboolean of_range)
{
  SbAuditGroup *group = g_new0 (SbAuditGroup, 1);
  group->setting = g_strdup (setting);
  group->of_range = of_range;
  group->members = g_array_new (FALSE, FALSE, sizeof (SbAuditMember));
  group->texts = g_ptr_array_new_with_free_func (g_free);
  return group;
}

/* All that has to be the same for `name` to be what differs; what has to be alike is are_alike(). (transfer full) */
static char *
other_facts_key (const SbTrialFacts *facts, GPtrArray *names, const char *name, gboolean of_range)
{
  GString *key = g_string_new (NULL);
  g_string_append_printf (key, "%s\n%s\n", facts->device != NULL ? facts->device : "",
                          facts->firmware != NULL ? facts->firmware : "");
  if (!of_range)
    g_string_append_printf (key, "%.6g\n", facts->rotation_deg);
  for (guint i = 0; i < names->len; i++) {
    const char *other = g_ptr_array_index (names, i);
    if (!of_range && sb_audit_same_name (other, name))
      continue;
    g_autofree char *level = sb_audit_level_key (facts, other, FALSE);
    g_string_append_printf (key, "%s\n", level != NULL ? level : "");
  }
  return g_string_free (key, FALSE);
}

static gboolean
are_alike (const SbTrialFacts *a, const SbTrialFacts *b)
{
  return sb_audit_same_command (a, b) && sb_audit_same_inertia (a, b);
}

/* Names of all settings that used trials state, in order of appearance; borrowed. (transfer container) */
static GPtrArray *
setting_names (const SbAnalysis *analysis)
{
  GPtrArray *names = g_ptr_array_new ();
  for (guint c = 0; c < analysis->configurations->len; c++) {
    g_autoptr (GPtrArray) facts = sb_configuration_used_facts (sb_analysis_configuration (analysis, c));
    for (guint t = 0; t < facts->len; t++) {
      const SbTrialFacts *of = g_ptr_array_index (facts, t);
      for (guint s = 0; s < of->settings->len; s++) {
        const SbSetting *setting = g_ptr_array_index (of->settings, s);
        gboolean known = FALSE;
        for (guint n = 0; n < names->len && !known; n++)
          known = sb_audit_same_name (g_ptr_array_index (names, n), setting->name);
        if (!known)
          g_ptr_array_add (names, setting->name);
      }
    }
  }
  return names;
}

/* The facts that stand for a configuration; NULL when its trials state other levels, or some state none. */
static const SbTrialFacts *
agreed_facts (GPtrArray *facts, const char *name, gboolean of_range)
{
  g_autofree char *level = facts->len > 0 ? sb_audit_level_key (g_ptr_array_index (facts, 0), name, of_range) : NULL;
  for (guint t = 1; t < facts->len && level != NULL; t++) {
    g_autofree char *other = sb_audit_level_key (g_ptr_array_index (facts, t), name, of_range);
    if (g_strcmp0 (level, other) != 0)
      return NULL;
  }
  return level != NULL ? g_ptr_array_index (facts, 0) : NULL;
}

static void
add_member (SbAuditGroup *group, guint configuration, const SbTrialFacts *facts)
{
  SbAuditMember member = { configuration, NULL, facts->rotation_deg, "deg" };
  const SbSetting *setting = group->of_range ? NULL : sb_audit_setting_of (facts, group->setting);
  if (setting != NULL) {
    member = (SbAuditMember){ configuration, setting->text, setting->value, setting->unit };
  } else {
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd (digits, sizeof digits, "%.6g", facts->rotation_deg);
    g_ptr_array_add (group->texts, g_strdup_printf ("%s deg", digits));
    member.text = g_ptr_array_index (group->texts, group->texts->len - 1);
  }
  g_array_append_val (group->members, member);
}

gboolean
sb_audit_members_are_of_one_level (const SbAuditMember *a, const SbAuditMember *b)
{
  if (isnan (a->value) || isnan (b->value))
    return sb_audit_same_name (a->text, b->text);
  return fabs (a->value - b->value) <= 1e-9 * fabs (a->value) && sb_audit_same_name (a->unit, b->unit);
}

gboolean
sb_audit_groups_are_other_steps (const SbAuditGroup *a, const SbAuditGroup *b)
{
  return a != b && a->first != NULL && b->first != NULL && a->family == b->family
         && sb_audit_same_name (a->setting, b->setting) && sb_audit_same_inertia (a->first, b->first)
         && !sb_audit_same_command (a->first, b->first);
}

static gboolean
has_two_levels (const SbAuditGroup *group)
{
  const SbAuditMember *first = &g_array_index (group->members, SbAuditMember, 0);
  for (guint i = 1; i < group->members->len; i++)
    if (!sb_audit_members_are_of_one_level (first, &g_array_index (group->members, SbAuditMember, i)))
      return TRUE;
  return FALSE;
}

typedef enum { ALIKE_IN_ALL_ELSE, OF_ONE_DEVICE, ANY } Kinship;

static char *
group_key (const SbTrialFacts *facts, GPtrArray *names, const char *name, gboolean of_range, Kinship kinship)
{
  switch (kinship) {
  case ALIKE_IN_ALL_ELSE:
    return other_facts_key (facts, names, name, of_range);
  case OF_ONE_DEVICE:
    return g_strdup (facts->device != NULL ? facts->device : "");
  case ANY:
    break;
  }
  return g_strdup ("");
}

/* The group of these facts among those of one key: the one whose first configuration is alike. NULL: none. */
static SbAuditGroup *
find_group (GPtrArray *of_key, const SbTrialFacts *facts, Kinship kinship)
{
  for (guint i = 0; i < of_key->len; i++) {
    SbAuditGroup *group = g_ptr_array_index (of_key, i);
    if (kinship != ALIKE_IN_ALL_ELSE || are_alike (group->first, facts))
      return group;
  }
  return NULL;
}

/* Takes over `key`. */
static GPtrArray *
groups_of_key (GHashTable *by_key, char *key)
{
  GPtrArray *of_key = g_hash_table_lookup (by_key, key);
  if (of_key != NULL) {
    g_free (key);
    return of_key;
  }
  of_key = g_ptr_array_new ();
  g_hash_table_insert (by_key, key, of_key);
  return of_key;
}

static void
unref_array (gpointer array)
{
  g_ptr_array_unref (array);
}

/* Adds the groups of one setting with two levels or more; of ANY kinship with one too. FALSE when there is none. */
static gboolean
add_groups (GPtrArray *list, const SbAnalysis *analysis, GPtrArray *names, const char *name, Kinship kinship)
{
  gboolean of_range = sb_audit_same_name (name, SB_ROTATION_SETTING) || sb_audit_same_name (name, "rotation_deg");
  guint before = list->len;
  g_autoptr (GHashTable) by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, unref_array);
  g_autoptr (GPtrArray) groups = g_ptr_array_new_with_free_func (group_free);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    g_autoptr (GPtrArray) facts = sb_configuration_used_facts (sb_analysis_configuration (analysis, c));
    const SbTrialFacts *agreed = agreed_facts (facts, name, of_range);
    if (agreed == NULL)
      continue;
    GPtrArray *of_key = groups_of_key (by_key, group_key (agreed, names, name, of_range, kinship));
    SbAuditGroup *group = find_group (of_key, agreed, kinship);
    if (group == NULL) {
      group = group_new (of_range ? SB_ROTATION_SETTING : name, of_range);
      group->first = agreed;
      group->family = of_key->len > 0 ? ((const SbAuditGroup *) g_ptr_array_index (of_key, 0))->family : groups->len;
      g_ptr_array_add (groups, group);
      g_ptr_array_add (of_key, group);
    }
    add_member (group, c, agreed);
  }
  for (guint g = 0; g < groups->len;) {
    if (kinship == ANY || has_two_levels (g_ptr_array_index (groups, g)))
      g_ptr_array_add (list, g_ptr_array_steal_index (groups, g));
    else
      g++;
  }
  return list->len > before;
}

/* A sentence when configurations state two levels of it, and yet none are alike in all else. */
static void
add_apart (GPtrArray *sentences, const SbAnalysis *analysis, GPtrArray *names, const char *name,
           GCancellable *cancellable)
{
  gboolean of_range = sb_audit_same_name (name, SB_ROTATION_SETTING);
  g_autoptr (GArray) stated = g_array_new (FALSE, FALSE, sizeof (SbAuditApart));
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    g_autoptr (GPtrArray) facts = sb_configuration_used_facts (configuration);
    SbAuditApart one = { configuration->name, agreed_facts (facts, name, of_range) };
    if (one.facts != NULL)
      g_array_append_val (stated, one);
  }
  char *sentence = sb_audit_apart_sentence (name, of_range, (const SbAuditApart *) (gpointer) stated->data, stated->len,
                                            names, cancellable);
  if (sentence != NULL)
    g_ptr_array_add (sentences, sentence);
}

/* A sentence for each configuration whose logs disagree on it: it has no level. */
static void
add_disagreeing (GPtrArray *sentences, const SbAnalysis *analysis, const char *name)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    g_autoptr (GPtrArray) facts = sb_configuration_used_facts (configuration);
    const SbSetting *first = NULL, *second = NULL;
    for (guint t = 0; t < facts->len && second == NULL; t++) {
      const SbSetting *setting = sb_audit_setting_of (g_ptr_array_index (facts, t), name);
      if (first == NULL)
        first = setting;
      else if (setting != NULL && !sb_audit_same_name (setting->text, first->text)
               && agreed_facts (facts, name, FALSE) == NULL)
        second = setting;
    }
    if (second != NULL)
      g_ptr_array_add (sentences,
                       g_strdup_printf ("%s of “%s” is not audited: its logs state %s and %s. Sort them into a "
                                        "configuration for each level.",
                                        name, configuration->name, first->text, second->text));
  }
}

/* Groups of the settings that nobody named. */
static void
find_unasked (GPtrArray *list, const SbAnalysis *analysis, GPtrArray *names, GPtrArray *apart,
              GCancellable *cancellable)
{
  for (guint i = 0; i <= names->len && !g_cancellable_is_cancelled (cancellable); i++) {
    const char *name = i < names->len ? g_ptr_array_index (names, i) : SB_ROTATION_SETTING;
    if (!add_groups (list, analysis, names, name, ALIKE_IN_ALL_ELSE))
      add_apart (apart, analysis, names, name, cancellable);
    add_disagreeing (apart, analysis, name);
  }
}

GPtrArray *
sb_audit_groups_find (const SbAnalysis *analysis, GPtrArray *apart, GCancellable *cancellable)
{
  const GPtrArray *chosen = analysis->bench->audits;
  GPtrArray *list = g_ptr_array_new_with_free_func (group_free);
  g_autoptr (GPtrArray) names = setting_names (analysis);
  if (chosen == NULL)
    find_unasked (list, analysis, names, apart, cancellable);
  for (guint i = 0; chosen != NULL && i < chosen->len; i++) {
    const char *name = g_ptr_array_index (chosen, i);
    if (!add_groups (list, analysis, names, name, ALIKE_IN_ALL_ELSE)
        && !add_groups (list, analysis, names, name, OF_ONE_DEVICE) && !add_groups (list, analysis, names, name, ANY))
      g_ptr_array_add (list, group_new (name, sb_audit_same_name (name, SB_ROTATION_SETTING)));
    add_disagreeing (apart, analysis, name);
  }
  return list;
}
