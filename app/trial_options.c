/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_options.h"

#include <math.h>
#include <string.h>

static gboolean
ends_in (const char *path, const char *file)
{
  g_autofree char *ending = g_strconcat ("/", file, NULL);
  return g_str_has_suffix (path, ending) || strcmp (path, file) == 0;
}

/* Splits FILE@K; 0 when it is not of this form. `file` is (transfer full). */
static guint
split_step (const char *text, char **file)
{
  const char *at = strrchr (text, '@');
  char *end = NULL;
  guint64 step = at != NULL && g_ascii_isdigit (at[1]) ? g_ascii_strtoull (at + 1, &end, 10) : 0;
  gboolean is_step = step > 0 && step < G_MAXINT && *end == '\0';
  *file = is_step ? g_strndup (text, (gsize) (at - text)) : g_strdup (text);
  return is_step ? (guint) step : 0;
}

/* By the name of its log, or by that and its step. */
static gboolean
is_called (const SbTrialEntry *entry, const char *name)
{
  g_autofree char *file = NULL;
  guint step = split_step (name, &file);
  return ends_in (entry->path, name) || (step > 0 && entry->step == step && ends_in (entry->path, file));
}

/* The trials called so, made the bench's own: one, or all steps of one log. Empty when there is none or, with *n above
 * 1, when they are of several logs. (transfer container) */
static GPtrArray *
find_trials (SbBench *bench, const char *name, guint *n)
{
  GPtrArray *found = g_ptr_array_new ();
  g_autoptr (GHashTable) cut = g_hash_table_new (g_str_hash, g_str_equal);
  *n = 0;
  for (guint c = 0; c < bench->configurations->len; c++) {
    SbConfiguration *configuration = sb_bench_edit_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (!is_called (entry, name))
        continue;
      g_ptr_array_add (found, entry);
      *n += entry->n_steps == 0 || g_hash_table_add (cut, entry->path) ? 1 : 0;
    }
  }
  if (*n != 1)
    g_ptr_array_set_size (found, 0);
  return found;
}

static char *
explain_not_found (const char *name, guint n)
{
  if (n > 0)
    return g_strdup_printf ("%u logs are called '%s'; write the folder before the name, as in 'FOLDER/%s'.", n, name,
                            name);
  g_autofree char *file = NULL;
  guint step = split_step (name, &file);
  if (step > 0)
    return g_strdup_printf ("no log is called '%s', and none called '%s' was cut into %u steps or more.", name, file,
                            step);
  return g_strdup_printf ("no log is called '%s'.", name);
}

static char *
explain_exclusion (const char *name, guint n)
{
  g_autofree char *why = explain_not_found (name, n);
  return g_strdup_printf ("--exclude: %s It takes FILE, FILE=REASON or FILE@STEP=REASON, as in "
                          "--exclude 'run-3.csv=cable came loose', with the name of a log that was given.",
                          why);
}

/* A name that has a '=' itself is looked for first. */
char *
sb_exclude_option_apply (SbBench *bench, const char *exclusion)
{
  g_autofree char *file = g_strdup (exclusion);
  const char *reason = NULL;
  guint n;
  g_autoptr (GPtrArray) trials = find_trials (bench, file, &n);
  for (const char *equals = strchr (exclusion, '='); n == 0 && equals != NULL; equals = strchr (equals + 1, '=')) {
    g_free (file);
    file = g_strndup (exclusion, (gsize) (equals - exclusion));
    reason = equals + 1;
    g_ptr_array_unref (trials);
    trials = find_trials (bench, file, &n);
  }
  if (n != 1)
    return explain_exclusion (n == 0 ? exclusion : file, n);
  for (guint t = 0; t < trials->len; t++) {
    SbTrialEntry *entry = g_ptr_array_index (trials, t);
    entry->included = FALSE;
    g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
    entry->exclusion_reason = reason != NULL ? g_ref_string_new (reason) : NULL;
  }
  return NULL;
}

char *
sb_onset_option_apply (SbBench *bench, const char *onset)
{
  const char *equals = strrchr (onset, '=');
  char *end = NULL;
  double onset_s = equals != NULL ? g_ascii_strtod (equals + 1, &end) : (double) NAN;
  if (!isfinite (onset_s) || end == equals + 1 || *end != '\0')
    return g_strdup_printf (
        "--onset takes the name of a log and a time in seconds, such as run-01.csv=0.0425, not '%s'.", onset);
  g_autofree char *file = g_strndup (onset, (gsize) (equals - onset));
  guint n;
  g_autoptr (GPtrArray) trials = find_trials (bench, file, &n);
  if (n != 1)
    return explain_not_found (file, n);
  if (trials->len > 1)
    return g_strdup_printf ("'%s' is cut into %u steps; say of which, as in '%s@1'.", file, trials->len, file);
  ((SbTrialEntry *) g_ptr_array_index (trials, 0))->choices.onset_s = onset_s;
  return NULL;
}
