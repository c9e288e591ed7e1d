/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_parts.h"
#include "fairness.h"

#include <math.h>
#include <string.h>

const char *
sb_audit_verdict_words (SbAuditVerdict verdict, gboolean of_range)
{
  static const char *const words[SB_N_AUDIT_VERDICTS][2] = {
    [SB_AUDIT_CANNOT_TELL] = { "cannot tell", "cannot tell" },
    [SB_AUDIT_LIMITS] = { "limits the torque slope", "the torque slope depends on it" },
    [SB_AUDIT_SHAPES] = { "shapes the response only", "the response depends on it, the torque slope does not" },
    [SB_AUDIT_NO_EFFECT] = { "no detectable effect", "no detectable dependence" },
  };
  return words[verdict][of_range ? 1 : 0];
}

const char *
sb_audit_effect_words (SbAuditEffect effect)
{
  static const char *const words[SB_N_EFFECTS] = {
    [SB_EFFECT_ABSENT] = "absent",
    [SB_EFFECT_UNDECIDED] = "undecided",
    [SB_EFFECT_STEADY] = "stays",
    [SB_EFFECT_MOVES] = "moves",
  };
  return words[effect];
}

const SbAuditLevel *
sb_audit_level (const SbAudit *audit, guint index)
{
  g_assert (index < audit->levels->len);
  return g_ptr_array_index (audit->levels, index);
}

static void
level_free (gpointer data)
{
  SbAuditLevel *level = data;
  g_free (level->text);
  g_free (level);
}

void
sb_audit_add_reason (SbAudit *audit, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_ptr_array_add (audit->reasons, g_strdup_vprintf (format, args));
  va_end (args);
}

/* The setting under study differs by intent; so does the rotation range in an audit over it. */
static gboolean
is_under_study (const SbAudit *audit, const char *what)
{
  if (audit->of_range && strcmp (what, "rotation range") == 0)
    return TRUE;
  g_autofree char *setting = g_utf8_casefold (audit->setting, -1);
  g_autofree char *folded = g_utf8_casefold (what, -1);
  return g_str_equal (folded, setting)
         || (g_str_has_prefix (folded, setting) && g_str_has_suffix (folded, ", not at zero"));
}

static void
add_fairness (SbAuditWork *work)
{
  SbAudit *audit = work->audit;
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal); /* what; borrowed from the lists */
  g_autoptr (GPtrArray) lists = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  const SbAuditInput *first = work->level[0];
  for (gsize i = 1; i < work->n_levels; i++) {
    GPtrArray *list = sb_fairness_list (first->facts, first->n, work->level[i]->facts, work->level[i]->n);
    g_ptr_array_add (lists, list);
    for (guint k = 0; k < list->len; k++) {
      const SbFairness *fairness = g_ptr_array_index (list, k);
      if (fairness->same)
        sb_audit_add_reason (audit, "The recordings at %s and at %s are the same.", first->text, work->level[i]->text);
      if (fairness->same || is_under_study (audit, fairness->what) || !g_hash_table_add (told, fairness->what))
        continue;
      work->is_unlike
          = work->is_unlike
            || (strcmp (fairness->reference, fairness->other) != 0 && strcmp (fairness->what, "repeats") != 0);
      g_ptr_array_add (audit->fairness,
                       strcmp (fairness->reference, fairness->other) == 0
                           ? g_strdup_printf ("%s: %s", fairness->what, fairness->reference)
                           : g_strdup_printf ("%s: %s at %s, %s at %s", fairness->what, fairness->reference,
                                              first->text, fairness->other, work->level[i]->text));
    }
  }
}

SbAuditChoices
sb_audit_choices_default (void)
{
  return (SbAuditChoices){ .level = 0.01, .proportion_ratio = 0.1, .straight_ratio = 0.15 };
}

static SbAudit *
new_of (const char *setting, gboolean of_range)
{
  SbAudit *audit = g_new0 (SbAudit, 1);
  g_atomic_ref_count_init (&audit->ref_count);
  audit->setting = g_strdup (setting);
  audit->of_range = of_range;
  audit->levels = g_ptr_array_new_with_free_func (level_free);
  audit->reasons = g_ptr_array_new_with_free_func (g_free);
  audit->fairness = g_ptr_array_new_with_free_func (g_free);
  audit->ceiling = -1;
  audit->ceiling_slope = NAN;
  audit->shown_to = -1;
  audit->rig_hz = audit->rig_damping = NAN;
  return audit;
}

SbAudit *
sb_audit_new_not_made (const char *setting, gboolean of_range, const char *reason)
{
  SbAudit *audit = new_of (setting, of_range);
  audit->unit = g_strdup ("");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    audit->measure[m].points = g_new (SbAuditPoint, 1);
    audit->measure[m].absent_reason = g_strdup ("it was not audited");
  }
  sb_audit_add_reason (audit, "%s", reason);
  return audit;
}

SbAudit *
sb_audit_new (const char *setting, gboolean of_range, const SbAuditInput *input, gsize n_input,
              const SbMargin margin[SB_N_MEASURES], const SbAuditChoices *choices, SbUnits units,
              GCancellable *cancellable)
{
  SbAudit *audit = new_of (setting, of_range);
  audit->units = units;
  audit->level = choices->level;
  g_autoptr (GPtrArray) ordered = sb_audit_order (audit, input, n_input);
  SbAuditWork work = { .level = (const SbAuditInput **) ordered->pdata,
                       .n_levels = ordered->len,
                       .audit = audit,
                       .choices = *choices,
                       .cancellable = cancellable };
  work.ramp = g_new (SbRigRamp, work.n_levels + 1);
  sb_audit_find_effects (&work, margin);
  if (work.n_levels > 1)
    add_fairness (&work);
  if (!g_cancellable_is_cancelled (cancellable))
    sb_audit_find_rig (&work);
  if (!g_cancellable_is_cancelled (cancellable))
    sb_audit_judge (&work);
  g_free (work.ramp);
  return audit;
}

SbAudit *
sb_audit_ref (SbAudit *audit)
{
  g_atomic_ref_count_inc (&audit->ref_count);
  return audit;
}

void
sb_audit_unref (SbAudit *audit)
{
  if (audit == NULL || !g_atomic_ref_count_dec (&audit->ref_count))
    return;
  for (int m = 0; m < SB_N_MEASURES; m++) {
    g_free (audit->measure[m].points);
    g_free (audit->measure[m].absent_reason);
  }
  g_free (audit->setting);
  g_free (audit->unit);
  g_ptr_array_unref (audit->levels);
  g_ptr_array_unref (audit->reasons);
  g_ptr_array_unref (audit->fairness);
  g_free (audit);
}

char *
sb_audit_verdict_text (const SbAudit *audit, const char *words)
{
  g_autofree char *ceiling = audit->ceiling >= 0 ? sb_measure_format_in (SB_MEASURE_MEAN_TORQUE_SLOPE, audit->units,
                                                                         audit->ceiling_slope, NAN, TRUE)
                                                 : NULL;
  const char *shown_to = audit->shown_to >= 0 ? sb_audit_level (audit, (guint) audit->shown_to)->text : NULL;
  return g_strconcat (words != NULL ? words : sb_audit_verdict_words (audit->verdict, audit->of_range),
                      ceiling != NULL    ? ", up to "
                      : shown_to != NULL ? ", seen up to "
                                         : "",
                      ceiling != NULL    ? ceiling
                      : shown_to != NULL ? shown_to
                                         : "",
                      audit->doubted ? " ?" : "", NULL);
}
