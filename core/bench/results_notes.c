/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_notes.h"

#include "alike_sentences.h"
#include "doubt.h"
#include "table_order.h"

#include <string.h>

/* Configurations named one by one in a sentence; of more there is a list in brackets. */
#define NAMED 3

/* One measure of the configurations of which the same is to be said. */
typedef struct {
  GArray *configurations; /* int, by rising place in the table */
  GPtrArray *sentences;   /* char *, of each configuration, with its figures as marks */
  char *kind;             /* sb_sentence_kind() of them all */
  SbMeasureId id;         /* the first, for which the note was made */
  GString *measures;      /* "overshoot, undershoot" */
  char *sentence;         /* for all of them; NULL while more may come */
} Note;

struct SbResultNotes {
  const SbAnalysis *analysis; /* borrowed */
  GPtrArray *notes;           /* Note */
  GHashTable *marks;          /* key_of() -> GArray of guint, indices of notes, smallest first */
  guint n_configurations;     /* that are shown and have figures */
  gboolean all_shown;         /* none that has figures is left out */
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
  g_array_unref (note->configurations);
  g_ptr_array_unref (note->sentences);
  g_free (note->kind);
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

static gboolean
is_of_comparison (const Note *note)
{
  return g_array_index (note->configurations, int, 0) == SB_NOTE_OF_COMPARISON;
}

/* The note of this measure of this kind, made when there is none. */
static Note *
find_note (GPtrArray *notes, int configuration, SbMeasureId id, const char *kind)
{
  for (guint i = notes->len; i > 0; i--) {
    Note *note = g_ptr_array_index (notes, i - 1);
    if (note->id != id)
      break; /* they come measure by measure */
    if (is_of_comparison (note) == (configuration == SB_NOTE_OF_COMPARISON) && strcmp (note->kind, kind) == 0)
      return note;
  }
  Note *note = g_new0 (Note, 1);
  g_autofree char *measure = g_utf8_strdown (sb_measure_info (id)->name, -1);
  note->configurations = g_array_new (FALSE, FALSE, sizeof (int));
  note->sentences = g_ptr_array_new_with_free_func (g_free);
  note->kind = g_strdup (kind);
  note->id = id;
  note->measures = g_string_new (measure);
  g_ptr_array_add (notes, note);
  return note;
}

static void
add (SbResultNotes *notes, int configuration, SbMeasureId id, const char *sentence)
{
  if (sentence == NULL || sentence[0] == '\0')
    return;
  g_autofree char *kind = sb_sentence_kind (sentence);
  Note *note = find_note (notes->notes, configuration, id, kind);
  g_array_append_val (note->configurations, configuration);
  g_ptr_array_add (note->sentences, g_strdup (sentence));
}

static void
add_of_configuration (SbResultNotes *notes, const SbAnalysis *analysis, guint c, SbMeasureId id)
{
  const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
  const SbMeasureSummary *measure = &configuration->summary->measure[id];
  if (!measure->present)
    add (notes, (int) c, id, measure->absent_reason);
  for (guint i = 0; i < sb_doubts_count (measure->doubts); i++)
    add (notes, (int) c, id, sb_doubts_get (measure->doubts, i)->marked);
}

static gboolean
has_figures (const SbAnalysis *analysis, guint configuration)
{
  return sb_analysis_configuration (analysis, configuration)->summary != NULL;
}

static void
add_row (SbResultNotes *notes, const SbAnalysis *analysis, const GArray *configurations, SbMeasureId id)
{
  for (guint i = 0; i < configurations->len; i++)
    if (has_figures (analysis, g_array_index (configurations, guint, i)))
      add_of_configuration (notes, analysis, g_array_index (configurations, guint, i), id);
  if (analysis->comparison == NULL)
    return;
  const SbMeasureComparison *measure = &analysis->comparison->measure[id];
  add (notes, SB_NOTE_OF_COMPARISON, id, measure->present ? measure->doubt : measure->absent_reason);
}

/* How a summary ends what it tells of the first of several trials. */
#define OF_FIRST         "(figures of the first)"
#define OF_FIRST_OF_THEM "(figures of the first of them)"

/* For all its configurations. Where the sentences differ in more than marked figures it is the first one's, and says
 * so. (transfer full) */
static char *
sentence_of (const SbResultNotes *notes, const Note *note)
{
  SbUnits units = notes->analysis->bench->units;
  char *for_all = sb_figures_write_all (note->sentences, units);
  if (for_all != NULL)
    return for_all;
  guint first = (guint) g_array_index (note->configurations, int, 0);
  g_autofree char *sentence = sb_figures_write (g_ptr_array_index (note->sentences, 0), units);
  gboolean of_first = g_str_has_suffix (sentence, OF_FIRST) || g_str_has_suffix (sentence, OF_FIRST_OF_THEM);
  if (of_first || g_str_has_suffix (sentence, "."))
    sentence[strlen (sentence) - 1] = '\0';
  return g_strdup_printf ("%s%s%s; others have others)", sentence, of_first ? ", of " : " (figures of ",
                          sb_analysis_configuration (notes->analysis, first)->name);
}

static gboolean
say_the_same (const Note *a, const Note *b)
{
  return a->configurations->len == b->configurations->len && strcmp (a->sentence, b->sentence) == 0
         && memcmp (a->configurations->data, b->configurations->data, a->configurations->len * sizeof (int)) == 0;
}

static void
mark (SbResultNotes *notes, const Note *note, SbMeasureId id, guint index)
{
  for (guint i = 0; i < note->configurations->len; i++) {
    gpointer key = key_of (g_array_index (note->configurations, int, i), id);
    GArray *marks = g_hash_table_lookup (notes->marks, key);
    if (marks == NULL)
      g_hash_table_insert (notes->marks, key, marks = g_array_new (FALSE, FALSE, sizeof (guint)));
    insert_in_order (marks, index);
  }
}

/* What is said of several measures of the same configurations is one note. */
static void
join_measures (SbResultNotes *notes)
{
  g_autoptr (GPtrArray) single = g_steal_pointer (&notes->notes);
  notes->notes = g_ptr_array_new_with_free_func (note_free);
  for (guint i = 0; i < single->len; i++) {
    Note *note = g_ptr_array_index (single, i);
    note->sentence = sentence_of (notes, note);
    guint index = 0;
    while (index < notes->notes->len && !say_the_same (g_ptr_array_index (notes->notes, index), note))
      index++;
    mark (notes, note, note->id, index);
    if (index == notes->notes->len) {
      g_ptr_array_add (notes->notes, note);
      continue;
    }
    const Note *known = g_ptr_array_index (notes->notes, index);
    g_string_append_printf (known->measures, ", %s", note->measures->str);
    note_free (note);
  }
}

SbResultNotes *
sb_result_notes_new (const SbAnalysis *analysis, gboolean all)
{
  SbResultNotes *notes = g_new0 (SbResultNotes, 1);
  notes->analysis = analysis;
  notes->notes = g_ptr_array_new ();
  notes->marks = g_hash_table_new_full (NULL, NULL, NULL, mark_free);
  SbMeasureId rows[SB_N_MEASURES];
  guint n_with_figures = 0;
  gsize n_rows = all ? SB_N_MEASURES : sb_table_rows (analysis, rows);
  g_autoptr (GArray) shown = all ? g_array_new (FALSE, FALSE, sizeof (guint)) : sb_table_configurations (analysis);
  for (guint c = 0; all && c < analysis->configurations->len; c++)
    g_array_append_val (shown, c);
  for (guint i = 0; i < shown->len; i++)
    notes->n_configurations += has_figures (analysis, g_array_index (shown, guint, i)) ? 1 : 0;
  for (guint c = 0; c < analysis->configurations->len; c++)
    n_with_figures += has_figures (analysis, c) ? 1 : 0;
  notes->all_shown = notes->n_configurations == n_with_figures;
  for (gsize r = 0; r < n_rows; r++)
    add_row (notes, analysis, shown, all ? (SbMeasureId) r : rows[r]);
  join_measures (notes);
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

/* "Fern", "Fern, Moss and Oak", "5 configurations (Fern, Moss, Oak, Yew, Elm)", "All 12 configurations", "All 3
 * configurations shown". (transfer full) */
static char *
place_of (const SbResultNotes *notes, const Note *note)
{
  guint n = note->configurations->len;
  if (is_of_comparison (note))
    return g_strdup ("Comparison");
  if (n == notes->n_configurations && n > 2)
    return g_strdup_printf (notes->all_shown ? "All %u configurations" : "All %u configurations shown", n);
  GString *names = g_string_new (NULL);
  for (guint i = 0; i < n; i++) {
    const char *joint = i == 0 ? "" : i + 1 == n && n <= NAMED ? " and " : ", ";
    guint c = (guint) g_array_index (note->configurations, int, i);
    g_string_append_printf (names, "%s%s", joint, sb_analysis_configuration (notes->analysis, c)->name);
  }
  if (n <= NAMED)
    return g_string_free (names, FALSE);
  char *place = g_strdup_printf ("%u configurations (%s)", n, names->str);
  g_string_free (names, TRUE);
  return place;
}

char *
sb_result_notes_text (const SbResultNotes *notes, guint index)
{
  const Note *note = g_ptr_array_index (notes->notes, index);
  g_autofree char *place = place_of (notes, note);
  gboolean ends = g_str_has_suffix (note->sentence, ".");
  return g_strdup_printf ("%s, %s: %s%s", place, note->measures->str, note->sentence, ends ? "" : ".");
}
