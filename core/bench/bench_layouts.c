/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_layouts.h"

#include "layout_json.h"

#include <string.h>

/* A list of the bench's own, to be changed. */
static GPtrArray *
edit_list (SbBench *edited)
{
  GPtrArray *own = sb_layout_choices_new ();
  for (guint i = 0; edited->layouts != NULL && i < edited->layouts->len; i++)
    g_ptr_array_add (own, sb_layout_choice_ref (g_ptr_array_index (edited->layouts, i)));
  g_clear_pointer (&edited->layouts, g_ptr_array_unref);
  edited->layouts = own;
  return own;
}

/* -1 when `choice` replaces none. */
static int
find_replaced (const GPtrArray *layouts, const SbLayoutChoice *choice)
{
  for (guint i = 0; layouts != NULL && i < layouts->len; i++)
    if (sb_layout_choice_replaces (choice, g_ptr_array_index (layouts, i)))
      return (int) i;
  return -1;
}

gboolean
sb_bench_state_layout (SbBench *edited, SbLayoutChoice *choice)
{
  int replaced = find_replaced (edited->layouts, choice);
  const SbLayoutChoice *old = replaced >= 0 ? g_ptr_array_index (edited->layouts, (guint) replaced) : NULL;
  if (old != NULL && sb_layout_choice_equal (old, choice) && strcmp (old->layout->name, choice->layout->name) == 0)
    return FALSE;
  GPtrArray *own = edit_list (edited);
  if (replaced >= 0)
    g_ptr_array_remove_index (own, (guint) replaced);
  g_ptr_array_insert (own, MAX (replaced, 0), sb_layout_choice_ref (choice));
  return TRUE;
}

void
sb_bench_take_layouts (SbBench *edited, const GPtrArray *choices)
{
  for (guint i = 0; choices != NULL && i < choices->len; i++) {
    SbLayoutChoice *choice = g_ptr_array_index (choices, i);
    if (find_replaced (edited->layouts, choice) < 0)
      g_ptr_array_add (edit_list (edited), sb_layout_choice_ref (choice));
  }
}

/* Adds to `taken` those of `choices` that are for the log at `path`. */
static void
choose_for_log (GHashTable *taken, const GPtrArray *choices, const char *path, GCancellable *cancellable)
{
  for (guint i = 0; i < choices->len; i++) {
    SbLayoutChoice *choice = g_ptr_array_index (choices, i);
    if (!g_hash_table_contains (taken, choice) && sb_layout_choice_is_for_file (choice, path, cancellable))
      g_hash_table_add (taken, choice);
  }
}

void
sb_bench_take_layouts_for_logs (SbBench *edited, const GPtrArray *choices, guint first, GCancellable *cancellable)
{
  g_autoptr (GHashTable) taken = g_hash_table_new (NULL, NULL);
  for (guint c = first; choices->len > 0 && c < edited->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (edited, c);
    for (guint t = 0; t < configuration->entries->len && !g_cancellable_is_cancelled (cancellable); t++)
      choose_for_log (taken, choices, sb_configuration_entry (configuration, t)->path, cancellable);
  }
  g_autoptr (GPtrArray) fitting = g_ptr_array_new ();
  for (guint i = 0; i < choices->len; i++) /* in their order */
    if (g_hash_table_contains (taken, g_ptr_array_index (choices, i)))
      g_ptr_array_add (fitting, g_ptr_array_index (choices, i));
  sb_bench_take_layouts (edited, fitting);
}

void
sb_bench_withdraw_layout (SbBench *edited, guint index)
{
  g_return_if_fail (edited->layouts != NULL && index < edited->layouts->len);
  g_ptr_array_remove_index (edit_list (edited), index);
}

static gboolean
has_log (const SbConfiguration *configuration, const char *path)
{
  for (guint t = 0; t < configuration->entries->len; t++)
    if (strcmp (sb_configuration_entry (configuration, t)->path, path) == 0)
      return TRUE;
  return FALSE;
}

void
sb_bench_state_log_layout (SbBench *edited, const char *path, SbLayoutChoice *choice)
{
  for (guint c = 0; c < edited->configurations->len; c++) {
    if (!has_log (sb_bench_configuration (edited, c), path))
      continue;
    SbConfiguration *configuration = sb_bench_edit_configuration (edited, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (strcmp (entry->path, path) != 0)
        continue;
      g_clear_pointer (&entry->layout, sb_layout_choice_unref);
      entry->layout = choice != NULL ? sb_layout_choice_ref (choice) : NULL;
    }
  }
}

GHashTable *
sb_bench_log_layouts (const SbBench *bench)
{
  GHashTable *layouts = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (entry->layout != NULL && !g_hash_table_contains (layouts, entry->path))
        g_hash_table_insert (layouts, entry->path, entry->layout);
    }
  }
  return layouts;
}
