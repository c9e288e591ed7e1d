/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "audit_apart.h"

#include <math.h>

#define ALIKE_RATIO 0.01
/* Pairs are looked at among so many configurations: enough for an example. */
#define MOST_PAIRED 100

gboolean
sb_audit_same_name (const char *a, const char *b)
{
  g_autofree char *one = g_utf8_casefold (a, -1);
  g_autofree char *two = g_utf8_casefold (b, -1);
  return g_str_equal (one, two);
}

const SbSetting *
sb_audit_setting_of (const SbTrialFacts *facts, const char *name)
{
  for (guint s = 0; s < facts->settings->len; s++) {
    const SbSetting *setting = g_ptr_array_index (facts->settings, s);
    if (sb_audit_same_name (setting->name, name))
      return setting;
  }
  return NULL;
}

char *
sb_audit_level_key (const SbTrialFacts *facts, const char *name, gboolean of_range)
{
  const SbSetting *setting = of_range ? NULL : sb_audit_setting_of (facts, name);
  if (of_range)
    return isnan (facts->rotation_deg) ? NULL : g_strdup_printf ("%.6g", facts->rotation_deg);
  if (setting == NULL)
    return NULL;
  return isnan (setting->value) ? g_utf8_casefold (setting->text, -1)
                                : g_strdup_printf ("%.9g %s", setting->value, setting->unit);
}

static gboolean
are_close (double a, double b)
{
  return isnan (a) || isnan (b) ? isnan (a) && isnan (b) : fabs (a - b) <= ALIKE_RATIO * fmax (fabs (a), fabs (b));
}

gboolean
sb_audit_same_command (const SbTrialFacts *a, const SbTrialFacts *b)
{
  return are_close (a->command_top_nm - a->command_base_nm, b->command_top_nm - b->command_base_nm);
}

gboolean
sb_audit_same_inertia (const SbTrialFacts *a, const SbTrialFacts *b)
{
  return are_close (a->inertia_kg_m2, b->inertia_kg_m2);
}

/* Differences of two, counted; written into the text unless it is NULL. */
typedef struct {
  GString *text;
  guint n;
} Differences;

static const char *
or_none (const char *text)
{
  return text != NULL ? text : "not stated";
}

static void
add_difference (Differences *differences, const char *what, const char *a, const char *b)
{
  differences->n++;
  if (differences->text != NULL)
    g_string_append_printf (differences->text, "%s%s (%s, %s)", differences->n > 1 ? ", " : "", what, or_none (a),
                            or_none (b));
}

static void
add_numbers (Differences *differences, const char *what, double a, double b, const char *unit)
{
  char *text[2] = { NULL, NULL };
  for (int i = 0; i < 2; i++) {
    double value = i == 0 ? a : b;
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    if (!isnan (value))
      text[i] = g_strdup_printf ("%s %s", g_ascii_formatd (digits, sizeof digits, "%.6g", value), unit);
  }
  add_difference (differences, what, text[0], text[1]);
  g_free (text[0]);
  g_free (text[1]);
}

static gboolean
same_text (const char *a, const char *b)
{
  return g_strcmp0 (a != NULL ? a : "", b != NULL ? b : "") == 0;
}

static void
find_differences (const SbTrialFacts *a, const SbTrialFacts *b, const char *setting, gboolean of_range,
                  const GPtrArray *names, Differences *differences)
{
  differences->n = 0;
  if (!same_text (a->device, b->device))
    add_difference (differences, "device", a->device, b->device);
  if (!same_text (a->firmware, b->firmware))
    add_difference (differences, "firmware", a->firmware, b->firmware);
  g_autofree char *range_a = sb_audit_level_key (a, NULL, TRUE), *range_b = sb_audit_level_key (b, NULL, TRUE);
  if (!of_range && !same_text (range_a, range_b))
    add_numbers (differences, "rotation range", a->rotation_deg, b->rotation_deg, "deg");
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index (names, i);
    g_autofree char *level_a = sb_audit_level_key (a, name, FALSE), *level_b = sb_audit_level_key (b, name, FALSE);
    if ((!of_range && sb_audit_same_name (name, setting)) || same_text (level_a, level_b))
      continue;
    const SbSetting *of_a = sb_audit_setting_of (a, name), *of_b = sb_audit_setting_of (b, name);
    add_difference (differences, name, of_a != NULL ? of_a->text : NULL, of_b != NULL ? of_b->text : NULL);
  }
  if (!sb_audit_same_command (a, b))
    add_numbers (differences, "command step", a->command_top_nm - a->command_base_nm,
                 b->command_top_nm - b->command_base_nm, "N·m");
  if (!sb_audit_same_inertia (a, b))
    add_numbers (differences, "inertia", a->inertia_kg_m2, b->inertia_kg_m2, "kg·m²");
}

/* Within 1 % is no chain: of three commands each may be alike to the next, and the first not to the last. */
static char *
tell_nearest (const char *setting, const char *one, const char *two, const char *differences)
{
  if (differences[0] != '\0')
    return g_strdup_printf ("%s is not audited: no two configurations at different levels of it are alike in all else. "
                            "Nearest are “%s” and “%s”, which differ too in %s.",
                            setting, one, two, differences);
  return g_strdup_printf ("%s is not audited: “%s” and “%s” are alike in all else within 1 %%, but not all that are "
                          "alike to one of them are to the other. Name it among the audits to have it audited.",
                          setting, one, two);
}

char *
sb_audit_apart_sentence (const char *setting, gboolean of_range, const SbAuditApart *stated, gsize n,
                         const GPtrArray *names, GCancellable *cancellable)
{
  Differences differences = { NULL, 0 };
  gsize most = MIN (n, MOST_PAIRED), nearest[2] = { 0, 0 };
  guint least = G_MAXUINT;
  for (gsize i = 0; i < most && least > 0; i++)
    for (gsize j = i + 1; j < most && least > 0 && !g_cancellable_is_cancelled (cancellable); j++) {
      g_autofree char *one = sb_audit_level_key (stated[i].facts, setting, of_range);
      g_autofree char *two = sb_audit_level_key (stated[j].facts, setting, of_range);
      if (same_text (one, two))
        continue;
      find_differences (stated[i].facts, stated[j].facts, setting, of_range, names, &differences);
      if (differences.n >= least)
        continue;
      least = differences.n;
      nearest[0] = i;
      nearest[1] = j;
    }
  if (least == G_MAXUINT || g_cancellable_is_cancelled (cancellable))
    return NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  differences.text = text;
  find_differences (stated[nearest[0]].facts, stated[nearest[1]].facts, setting, of_range, names, &differences);
  return tell_nearest (setting, stated[nearest[0]].name, stated[nearest[1]].name, text->str);
}
