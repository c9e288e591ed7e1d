/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_notes.h"

#include "doubt.h"
#include "table_order.h"

#include <string.h>

typedef struct {
  int configuration;
  const char *place; /* "Fern", borrowed */
  char *sentence;
  GString *measures; /* "overshoot, undershoot" */
} Note;

struct SbResultNotes {
  GPtrArray *notes;  /* Note */
  GHashTable *marks; /* key_of() -> GArray of guint, indices of notes, smallest first */
};

static gpointer
key_of (int configuration, SbMeasureId id)
{
  return GINT_TO_POINTER ((configuration + 1) * SB_N_MEASURES + (int) id + 1);
}

static void
note_free (gpointer data)
{
  Note *note = data;
  g_free (note->sentence);
  g_string_free (note->measures, TRUE);
  g_free (note);
}

static void
mark_free (gpointer data)
{
  g_array_unref (data);
}

static void
insert_in_order (GArray *marks, guint index)
{
  guint at = 0;
  while (at < marks->len && g_array_index (marks, guint, at) < index)
    at++;
  g_array_insert_val (marks, at, index);
}

/* Index of the note with this sentence on this configuration, made when there is none. */
static guint
find_note (SbResultNotes *notes, int configuration, const char *place, const char *sentence)
{
  for (guint i = 0; i < notes->notes->len; i++) {
    const Note *note = g_ptr_array_index (notes->notes, i);
    if (note->configuration == configuration && strcmp (note->sentence, sentence) == 0)
      return i;
  }
  Note *note = g_new (Note, 1);
  *note = (Note){ configuration, place, g_strdup (sentence), g_string_new (NULL) };
  g_ptr_array_add (notes->notes, note);
  return notes->notes->len - 1;
}

static void
add (SbResultNotes *notes, int configuration, SbMeasureId id, const char *place, const char *sentence)
{
  if (sentence == NULL || sentence[0] == '\0')
    return;
  guint index = find_note (notes, configuration, place, sentence);
  const Note *note = g_ptr_array_index (notes->notes, index);
  g_autofree char *measure = g_utf8_strdown (sb_measure_info (id)->name, -1);
  g_string_append_printf (note->measures, "%s%s", note->measures->len > 0 ? ", " : "", measure);
  GArray *marks = g_hash_table_lookup (notes->marks, key_of (configuration, id));
  if (marks == NULL)
    g_hash_table_insert (notes->marks, key_of (configuration, id), marks = g_array_new (FALSE, FALSE, sizeof (guint)));
  insert_in_order (marks, index);
}

static void
add_of_configuration (SbResultNotes *notes, const SbAnalysis *analysis, guint c, SbMeasureId id)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
  const SbMeasureSummary *measure = &configuration->summary->measure[id];
  if (!measure->present)
    add (notes, (int) c, id, configuration->name, measure->absent_reason);
  for (guint i = 0; i < sb_doubts_count (measure->doubts); i++) {
    g_autofree char *doubt = sb_doubt_text (sb_doubts_get (measure->doubts, i), analysis->bench->units);
    add (notes, (int) c, id, configuration->name, doubt);
  }
}

static void
add_row (SbResultNotes *notes, const SbAnalysis *analysis, const GArray *configurations, SbMeasureId id)
{
  for (guint i = 0; i < configurations->len; i++)
    if (sb_analysis_configuration (analysis, g_array_index (configurations, guint, i))->summary != NULL)
      add_of_configuration (notes, analysis, g_array_index (configurations, guint, i), id);
  if (analysis->comparison == NULL)
    return;
  const SbMeasureComparison *measure = &analysis->comparison->measure[id];
  add (notes, SB_NOTE_OF_COMPARISON, id, "Comparison", measure->present ? measure->doubt : measure->absent_reason);
}

SbResultNotes *
sb_result_notes_new (const SbAnalysis *analysis, gboolean all)
{
  SbResultNotes *notes = g_new (SbResultNotes, 1);
  notes->notes = g_ptr_array_new_with_free_func (note_free);
  notes->marks = g_hash_table_new_full (NULL, NULL, NULL, mark_free);
  SbMeasureId rows[SB_N_MEASURES];
  gsize n_rows = all ? SB_N_MEASURES : sb_table_rows (analysis, rows);
  g_autoptr (GArray) shown = all ? g_array_new (FALSE, FALSE, sizeof (guint)) : sb_table_configurations (analysis);
  for (guint c = 0; all && c < analysis->configurations->len; c++)
    g_array_append_val (shown, c);
  for (gsize r = 0; r < n_rows; r++)
    add_row (notes, analysis, shown, all ? (SbMeasureId) r : rows[r]);
  return notes;
}

void
sb_result_notes_free (SbResultNotes *notes)
{
  if (notes == NULL)
    return;
  g_ptr_array_unref (notes->notes);
  g_hash_table_unref (notes->marks);
  g_free (notes);
}

char *
sb_result_notes_mark (const SbResultNotes *notes, int configuration, SbMeasureId id)
{
  const GArray *marks = g_hash_table_lookup (notes->marks, key_of (configuration, id));
  GString *text = g_string_new (NULL);
  for (guint i = 0; marks != NULL && i < marks->len; i++)
    g_string_append_printf (text, "%s%u", i == 0 ? " [" : ", ", g_array_index (marks, guint, i) + 1);
  return g_string_free (g_string_append (text, text->len > 0 ? "]" : ""), FALSE);
}

guint
sb_result_notes_count (const SbResultNotes *notes)
{
  return notes->notes->len;
}

char *
sb_result_notes_text (const SbResultNotes *notes, guint index)
{
  const Note *note = g_ptr_array_index (notes->notes, index);
  gboolean ends = g_str_has_suffix (note->sentence, ".");
  return g_strdup_printf ("%s, %s: %s%s", note->place, note->measures->str, note->sentence, ends ? "" : ".");
}
