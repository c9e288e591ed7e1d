/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "bench_claims.h"

#include <math.h>
#include <string.h>

#define MAX_STYLE 1024

void
sb_trial_entry_clear (gpointer data)
{
  SbTrialEntry *entry = data;
  g_clear_pointer (&entry->path, g_ref_string_release);
  g_clear_pointer (&entry->exclusion_reason, g_ref_string_release);
  g_clear_pointer (&entry->sha256, g_ref_string_release);
  g_clear_pointer (&entry->found_at, g_ref_string_release);
  g_clear_pointer (&entry->layout, sb_layout_choice_unref);
  g_clear_pointer (&entry->unknown, g_ref_string_release);
}

char *
sb_trial_entry_label (const SbTrialEntry *entry)
{
  g_autofree char *name = g_filename_display_basename (entry->path);
  if (entry->n_steps == 0)
    return g_steal_pointer (&name);
  return g_strdup_printf ("%s, step %u of %u", name, entry->step, entry->n_steps);
}

static GArray *
entries_new (void)
{
  GArray *entries = g_array_new (FALSE, TRUE, sizeof (SbTrialEntry));
  g_array_set_clear_func (entries, sb_trial_entry_clear);
  return entries;
}

static SbConfiguration *
configuration_new (const char *name, guint style)
{
  SbConfiguration *configuration = g_new0 (SbConfiguration, 1);
  g_atomic_ref_count_init (&configuration->ref_count);
  configuration->name = g_strdup (name);
  configuration->style = style;
  configuration->drawn = TRUE;
  configuration->entries = entries_new ();
  configuration->callouts = sb_callouts_new ();
  return configuration;
}

static char *
ref_string_copy (char *string)
{
  return string != NULL ? g_ref_string_acquire (string) : NULL;
}

SbTrialEntry
sb_trial_entry_copy (const SbTrialEntry *from)
{
  SbTrialEntry entry = *from;
  entry.path = g_ref_string_acquire (entry.path);
  entry.exclusion_reason = ref_string_copy (entry.exclusion_reason);
  entry.sha256 = ref_string_copy (entry.sha256);
  entry.found_at = ref_string_copy (entry.found_at);
  entry.unknown = ref_string_copy (entry.unknown);
  if (entry.layout != NULL)
    sb_layout_choice_ref (entry.layout);
  return entry;
}

static void
append_entry (GArray *entries, const SbTrialEntry *from)
{
  SbTrialEntry entry = sb_trial_entry_copy (from);
  g_array_append_val (entries, entry);
}

static SbConfiguration *
configuration_copy (const SbConfiguration *from)
{
  SbConfiguration *copy = configuration_new (from->name, from->style);
  copy->drawn = from->drawn;
  copy->dimmed = from->dimmed;
  g_array_unref (copy->callouts);
  copy->callouts = sb_callouts_copy (from->callouts);
  for (int k = 0; k < SB_N_CHART_POINTS; k++)
    copy->point[k] = from->point[k];
  copy->folder = ref_string_copy (from->folder);
  copy->opened_folder = ref_string_copy (from->opened_folder);
  copy->unknown = ref_string_copy (from->unknown);
  for (guint i = 0; i < from->entries->len; i++)
    append_entry (copy->entries, &g_array_index (from->entries, SbTrialEntry, i));
  return copy;
}

static gpointer
configuration_ref (gconstpointer data, gpointer user_data)
{
  SbConfiguration *configuration = (SbConfiguration *) (gsize) data; /* the count changes, the content does not */
  g_atomic_ref_count_inc (&configuration->ref_count);
  return configuration;
}

static void
configuration_unref (gpointer data)
{
  SbConfiguration *configuration = data;
  if (!g_atomic_ref_count_dec (&configuration->ref_count))
    return;
  g_free (configuration->name);
  g_clear_pointer (&configuration->folder, g_ref_string_release);
  g_clear_pointer (&configuration->opened_folder, g_ref_string_release);
  g_clear_pointer (&configuration->unknown, g_ref_string_release);
  g_array_unref (configuration->entries);
  g_array_unref (configuration->callouts);
  g_free (configuration);
}

SbBench *
sb_bench_new (void)
{
  SbBench *bench = g_new0 (SbBench, 1);
  g_atomic_ref_count_init (&bench->ref_count);
  bench->configurations = g_ptr_array_new_with_free_func (configuration_unref);
  bench->reference = bench->other = -1;
  bench->measure = SB_MEASURE_CHOICES_DEFAULT;
  bench->band = SB_BAND_SD;
  bench->band_k = 1;
  bench->span = SB_SPAN_COMMON;
  bench->moving_window_s = 0.05;
  bench->margin_ratio = 0.05;
  bench->verdict_level = 0.05;
  bench->audit = sb_audit_choices_default ();
  for (int m = 0; m < SB_N_MEASURES; m++)
    bench->margin[m] = (SbMargin){ .ratio = NAN, .absolute = NAN };
  bench->chart = sb_chart_choices_init ();
  return bench;
}

void
sb_bench_margins (const SbBench *bench, SbMargin margin[SB_N_MEASURES])
{
  for (int m = 0; m < SB_N_MEASURES; m++) {
    margin[m] = bench->margin[m];
    if (isnan (margin[m].ratio) && isnan (margin[m].absolute))
      margin[m].ratio = bench->margin_ratio;
  }
}

SbBench *
sb_bench_ref (SbBench *bench)
{
  g_atomic_ref_count_inc (&bench->ref_count);
  return bench;
}

void
sb_bench_unref (SbBench *bench)
{
  if (bench == NULL || !g_atomic_ref_count_dec (&bench->ref_count))
    return;
  g_ptr_array_unref (bench->configurations);
  sb_chart_choices_clear (&bench->chart);
  g_clear_pointer (&bench->passed_over, g_ptr_array_unref);
  g_clear_pointer (&bench->layouts, g_ptr_array_unref);
  g_clear_pointer (&bench->audits, g_ptr_array_unref);
  g_clear_pointer (&bench->claims, g_ptr_array_unref);
  g_clear_pointer (&bench->words, g_ptr_array_unref);
  g_clear_pointer (&bench->unknown, g_ref_string_release);
  g_free (bench);
}

SbBench *
sb_bench_edit (const SbBench *bench)
{
  SbBench *copy = g_new (SbBench, 1);
  *copy = *bench;
  g_atomic_ref_count_init (&copy->ref_count);
  copy->configurations = g_ptr_array_copy (bench->configurations, configuration_ref, NULL);
  copy->chart = sb_chart_choices_copy (&bench->chart);
  if (copy->passed_over != NULL)
    g_ptr_array_ref (copy->passed_over);
  if (copy->layouts != NULL)
    g_ptr_array_ref (copy->layouts);
  if (copy->audits != NULL)
    g_ptr_array_ref (copy->audits);
  if (copy->claims != NULL)
    g_ptr_array_ref (copy->claims);
  if (copy->words != NULL)
    g_ptr_array_ref (copy->words);
  copy->unknown = ref_string_copy (copy->unknown);
  return copy;
}

SbConfiguration *
sb_bench_edit_configuration (SbBench *edited, guint index)
{
  g_assert (index < edited->configurations->len);
  SbConfiguration *shared = g_ptr_array_index (edited->configurations, index);
  if (g_atomic_ref_count_compare (&shared->ref_count, 1))
    return shared;
  SbConfiguration *own = configuration_copy (shared);
  g_ptr_array_index (edited->configurations, index) = own;
  configuration_unref (shared);
  return own;
}

const SbConfiguration *
sb_bench_configuration (const SbBench *bench, guint index)
{
  g_assert (index < bench->configurations->len);
  return g_ptr_array_index (bench->configurations, index);
}

SbTrialEntry *
sb_configuration_entry (const SbConfiguration *configuration, guint index)
{
  g_assert (index < configuration->entries->len);
  return &g_array_index (configuration->entries, SbTrialEntry, index);
}

static gboolean
has_name (const SbBench *bench, const char *name)
{
  for (guint i = 0; i < bench->configurations->len; i++)
    if (strcmp (sb_bench_configuration (bench, i)->name, name) == 0)
      return TRUE;
  return FALSE;
}

static char *
free_name (const SbBench *bench, const char *wanted)
{
  char *name = g_strdup (wanted);
  for (guint number = 2; has_name (bench, name); number++) {
    g_free (name);
    name = g_strdup_printf ("%s (%u)", wanted, number);
  }
  return name;
}

static guint
free_style (const SbBench *bench)
{
  gboolean taken[MAX_STYLE] = { FALSE };
  for (guint i = 0; i < bench->configurations->len; i++)
    if (sb_bench_configuration (bench, i)->style < MAX_STYLE)
      taken[sb_bench_configuration (bench, i)->style] = TRUE;
  for (guint style = 0; style < MAX_STYLE; style++)
    if (!taken[style])
      return style;
  return 0;
}

guint
sb_bench_add_configuration (SbBench *edited, const char *name, const char *const *paths, gsize n_paths)
{
  g_autofree char *readable = g_utf8_make_valid (name, -1); /* a folder may be called anything */
  g_autofree char *own_name = free_name (edited, readable);
  g_ptr_array_add (edited->configurations, configuration_new (own_name, free_style (edited)));
  guint index = edited->configurations->len - 1;
  sb_bench_add_logs (edited, index, paths, n_paths);
  if (edited->reference < 0)
    edited->reference = (int) index;
  else if (edited->other < 0)
    edited->other = (int) index;
  return index;
}

void
sb_bench_set_folder (SbBench *edited, guint index, const char *folder, const char *opened_folder)
{
  SbConfiguration *configuration = sb_bench_edit_configuration (edited, index);
  g_clear_pointer (&configuration->folder, g_ref_string_release);
  g_clear_pointer (&configuration->opened_folder, g_ref_string_release);
  if (folder == NULL)
    return;
  configuration->folder = g_ref_string_new (folder);
  configuration->opened_folder = g_ref_string_new (opened_folder != NULL ? opened_folder : folder);
}

/* Where a role points after configuration `gone` was taken out. */
static int
role_after_removal (int role, int gone)
{
  if (role == gone)
    return -1;
  return role > gone ? role - 1 : role;
}

void
sb_bench_remove_configuration (SbBench *edited, guint index)
{
  g_return_if_fail (index < edited->configurations->len);
  g_ptr_array_remove_index (edited->configurations, index);
  edited->reference = role_after_removal (edited->reference, (int) index);
  edited->other = role_after_removal (edited->other, (int) index);
  sb_bench_claims_after_removal (edited, index);
}

void
sb_bench_add_logs (SbBench *edited, guint index, const char *const *paths, gsize n_paths)
{
  SbConfiguration *configuration = sb_bench_edit_configuration (edited, index);
  g_return_if_fail (configuration != NULL);
  g_autoptr (GHashTable) there = g_hash_table_new (g_str_hash, g_str_equal); /* a whole log or a stretch of it */
  for (guint i = 0; i < configuration->entries->len; i++)
    g_hash_table_add (there, sb_configuration_entry (configuration, i)->path);
  for (gsize i = 0; i < n_paths; i++) {
    if (g_hash_table_contains (there, paths[i]))
      continue;
    SbTrialEntry entry = { .path = g_ref_string_new (paths[i]), .included = TRUE, .choices = SB_TRIAL_CHOICES_NONE };
    g_hash_table_add (there, entry.path);
    g_array_append_val (configuration->entries, entry);
  }
}

/* What tells the trials of a configuration apart, to the last bit: log and stretch. -0 is 0, and any NaN an open end.
 * (transfer full) */
char *
sb_trial_entry_stretch_key (const SbTrialEntry *entry)
{
  double from_s = entry->choices.from_s + 0.0, to_s = entry->choices.to_s + 0.0;
  char digits[2][G_ASCII_DTOSTR_BUF_SIZE] = { "", "" };
  if (!isnan (from_s))
    g_ascii_dtostr (digits[0], sizeof digits[0], from_s);
  if (!isnan (to_s))
    g_ascii_dtostr (digits[1], sizeof digits[1], to_s);
  return g_strconcat (digits[0], " ", digits[1], " ", entry->path, NULL);
}

/* NaN is an end of the log, and the same as another NaN. */
static gboolean
same_end (double a, double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) <= 0;
}

gboolean
sb_trial_entry_same_stretch (const SbTrialEntry *a, const SbTrialEntry *b)
{
  /* Paths last: those of a bench differ at their ends alone, and all are held against all. */
  return same_end (a->choices.from_s, b->choices.from_s) && same_end (a->choices.to_s, b->choices.to_s)
         && strcmp (a->path, b->path) == 0;
}

static gboolean
has_stretch (const SbConfiguration *configuration, const SbTrialEntry *entry)
{
  for (guint i = 0; i < configuration->entries->len; i++)
    if (sb_trial_entry_same_stretch (sb_configuration_entry (configuration, i), entry))
      return TRUE;
  return FALSE;
}

SbTrialEntry *
sb_bench_add_entry (SbBench *edited, guint index, const SbTrialEntry *entry)
{
  SbConfiguration *configuration = sb_bench_edit_configuration (edited, index);
  return has_stretch (configuration, entry) ? NULL : sb_bench_append_entry (edited, index, entry);
}

void
sb_bench_add_entries (SbBench *edited, guint index, const SbTrialEntry *const *entries, gsize n)
{
  SbConfiguration *configuration = sb_bench_edit_configuration (edited, index);
  g_autoptr (GHashTable) there = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < configuration->entries->len; i++)
    g_hash_table_add (there, sb_trial_entry_stretch_key (sb_configuration_entry (configuration, i)));
  for (gsize i = 0; i < n; i++)
    if (g_hash_table_add (there, sb_trial_entry_stretch_key (entries[i])))
      append_entry (configuration->entries, entries[i]);
}

SbTrialEntry *
sb_bench_append_entry (SbBench *edited, guint index, const SbTrialEntry *entry)
{
  SbConfiguration *configuration = sb_bench_edit_configuration (edited, index);
  append_entry (configuration->entries, entry);
  return sb_configuration_entry (configuration, configuration->entries->len - 1);
}

void
sb_bench_move_trial (SbBench *edited, guint from, guint entry, guint to)
{
  g_return_if_fail (from != to);
  SbConfiguration *source = sb_bench_edit_configuration (edited, from);
  SbConfiguration *target = sb_bench_edit_configuration (edited, to);
  g_return_if_fail (source != NULL && target != NULL && entry < source->entries->len);
  SbTrialEntry *held = sb_configuration_entry (source, entry);
  if (has_stretch (target, held)) {
    g_array_remove_index (source->entries, entry);
    return;
  }
  SbTrialEntry moved = *held;
  *held = (SbTrialEntry){ 0 }; /* what it owned has moved on */
  g_array_remove_index (source->entries, entry);
  g_array_append_val (target->entries, moved);
}

gboolean
sb_bench_is_empty (const SbBench *bench)
{
  return bench->configurations->len == 0;
}

gsize
sb_bench_panels (const SbBench *bench, SbPanel panels[SB_N_PANELS])
{
  gsize n = 0;
  for (int p = 0; p < SB_N_PANELS; p++)
    if (bench->chart.panels & 1u << p)
      panels[n++] = (SbPanel) p;
  return n;
}
