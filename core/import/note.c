/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "note.h"

static const struct {
  const char *key;
  gboolean told, of_layout;
} kinds[SB_N_NOTE_KINDS] = {
  [SB_NOTE_REMARK] = { "remark", FALSE, FALSE },
  [SB_NOTE_COLUMN] = { "column", FALSE, TRUE },
  [SB_NOTE_OTHER_TABLES] = { "other-tables", TRUE, TRUE },
  [SB_NOTE_CLOCK] = { "clock", TRUE, FALSE },
  [SB_NOTE_TIMES] = { "times", TRUE, TRUE },
  [SB_NOTE_HELD] = { "held", TRUE, FALSE },
  [SB_NOTE_CUT] = { "cut", TRUE, TRUE },
  [SB_NOTE_ENCODING] = { "encoding", TRUE, TRUE },
  [SB_NOTE_SIGNS] = { "signs", TRUE, TRUE },
  [SB_NOTE_UNKNOWN_UNITS] = { "unknown-units", TRUE, TRUE },
  [SB_NOTE_WRAP] = { "wrap", TRUE, TRUE },
  [SB_NOTE_LAYOUT_PASSED] = { "layout-passed-over", TRUE, TRUE },
  [SB_NOTE_UNITS_ASSUMED] = { "units-assumed", TRUE, TRUE },
  [SB_NOTE_UNITS_CONFLICT] = { "units-conflict", TRUE, TRUE },
};

static void
note_free (gpointer data)
{
  SbNote *note = data;
  g_free (note->text);
  g_free (note);
}

GPtrArray *
sb_notes_new (void)
{
  return g_ptr_array_new_with_free_func (note_free);
}

static SbNote *
note_new (SbNoteKind kind, char *text)
{
  SbNote *note = g_new (SbNote, 1);
  *note = (SbNote){ kind, text };
  return note;
}

void
sb_notes_take (GPtrArray *notes, SbNoteKind kind, char *text)
{
  g_ptr_array_add (notes, note_new (kind, text));
}

void
sb_notes_prepend (GPtrArray *notes, const GPtrArray *some)
{
  for (guint i = 0; i < some->len; i++) {
    const SbNote *note = sb_notes_get (some, i);
    g_ptr_array_insert (notes, (int) i, note_new (note->kind, g_strdup (note->text)));
  }
}

const SbNote *
sb_notes_get (const GPtrArray *notes, guint index)
{
  g_assert (index < notes->len);
  return g_ptr_array_index (notes, index);
}

const char *
sb_notes_text (const GPtrArray *notes, guint index)
{
  return sb_notes_get (notes, index)->text;
}

const char *
sb_note_kind_key (SbNoteKind kind)
{
  return kinds[kind].key;
}

gboolean
sb_note_kind_is_told (SbNoteKind kind)
{
  return kinds[kind].told;
}

gboolean
sb_note_kind_is_of_layout (SbNoteKind kind)
{
  return kinds[kind].of_layout;
}
