/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reading_doubts.h"

#include "wanted_options.h"

/* One question in the logs that share it. */
typedef struct {
  char *text;            /* "column 'Ist': taken for the torque because its unit is N·m" */
  char *first_path;      /* for people */
  GHashTable *logs;      /* paths: several trials may be of one log */
  gboolean is_of_layout; /* a layout that states it leaves nothing to tell */
} Doubt;

static void
doubt_free (gpointer data)
{
  Doubt *doubt = data;
  g_free (doubt->text);
  g_free (doubt->first_path);
  g_hash_table_unref (doubt->logs);
  g_free (doubt);
}

static void
add_doubt (GPtrArray *doubts, const char *text, char *path, gboolean is_of_layout)
{
  for (guint i = 0; i < doubts->len; i++) {
    Doubt *doubt = g_ptr_array_index (doubts, i);
    if (g_str_equal (doubt->text, text)) {
      g_hash_table_add (doubt->logs, path);
      return;
    }
  }
  Doubt *doubt = g_new0 (Doubt, 1);
  doubt->text = g_strdup (text);
  doubt->first_path = g_filename_display_name (path);
  doubt->logs = g_hash_table_new (g_str_hash, g_str_equal);
  doubt->is_of_layout = is_of_layout;
  g_hash_table_add (doubt->logs, path);
  g_ptr_array_add (doubts, doubt);
}

static void
collect_of_trial (GPtrArray *doubts, const SbTrialResult *trial)
{
  const SbTrialFacts *facts = trial->facts;
  for (guint i = 0; facts->layout != NULL && i < facts->layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (facts->layout, i);
    g_autofree char *overruled = sb_layout_column_overruled (column);
    if (overruled != NULL)
      add_doubt (doubts, overruled, trial->path, FALSE);
    if (column->question == NULL || column->certainty == SB_CERTAINTY_CONFIRMED)
      continue;
    const char *option = sb_wanted_option (facts->layout, i);
    g_autofree char *text
        = g_strdup_printf ("column '%s': %s%s%s%s", column->name, column->question, option != NULL ? " (" : "",
                           option != NULL ? option : "", option != NULL ? ")" : "");
    add_doubt (doubts, text, trial->path, TRUE);
  }
  for (guint i = 0; i < facts->notes->len; i++) {
    const SbNote *note = sb_notes_get (facts->notes, i);
    if (sb_note_kind_is_told (note->kind))
      add_doubt (doubts, note->text, trial->path, sb_note_kind_is_of_layout (note->kind));
  }
}

/* (element-type Doubt) (transfer full) */
static GPtrArray *
collect (const SbAnalysis *analysis)
{
  GPtrArray *doubts = g_ptr_array_new_with_free_func (doubt_free);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->facts != NULL)
        collect_of_trial (doubts, trial);
    }
  }
  return doubts;
}

static gboolean
has_signal (const SbLayout *layout, SbRole role)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == role && column->certainty != SB_CERTAINTY_MISSING)
      return TRUE;
  }
  return FALSE;
}

/* A column that is read past because another one has its role is no loss. */
gboolean
sb_layout_leaves_out (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    gboolean aside = column->role == SB_ROLE_TEMPERATURE || column->role == SB_ROLE_SUPPLY;
    if (column->certainty == SB_CERTAINTY_MISSING && !aside)
      return TRUE;
    if (column->role == SB_ROLE_OTHER && column->question != NULL && !has_signal (layout, SB_ROLE_TORQUE))
      return TRUE;
  }
  return FALSE;
}

static gboolean
leaves_out (const SbAnalysis *analysis)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
      if (trial->facts != NULL && trial->facts->layout != NULL && sb_layout_leaves_out (trial->facts->layout))
        return TRUE;
    }
  }
  return FALSE;
}

SbExitStatus
sb_reading_doubts_say (const SbAnalysis *analysis)
{
  g_autoptr (GPtrArray) doubts = collect (analysis);
  for (guint i = 0; i < doubts->len; i++) {
    const Doubt *doubt = g_ptr_array_index (doubts, i);
    guint n_more = g_hash_table_size (doubt->logs) - 1;
    g_printerr ("slewbench: %s", doubt->first_path);
    if (n_more > 0)
      g_printerr (" and %u more log%s", n_more, n_more == 1 ? "" : "s");
    g_printerr (": %s\n", doubt->text);
  }
  gboolean can_be_stated = FALSE;
  for (guint i = 0; i < doubts->len && !can_be_stated; i++)
    can_be_stated = ((const Doubt *) g_ptr_array_index (doubts, i))->is_of_layout;
  if (can_be_stated)
    g_printerr ("slewbench: state it in a layout file: slewbench inspect --as-layout LOG > FILE, look it over, then "
                "--layout FILE.\n");
  return leaves_out (analysis) ? SB_EXIT_LEFT_OUT : SB_EXIT_DONE;
}
