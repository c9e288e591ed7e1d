/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_reading.h"

#include "layout_clash.h"

static guint
count (const GPtrArray *layouts)
{
  return layouts != NULL ? layouts->len : 0;
}

gboolean
sb_log_reading_equal (const SbLogReading *a, const SbLogReading *b)
{
  if (!sb_layout_choice_equal (a->own, b->own) || count (a->layouts) != count (b->layouts))
    return FALSE;
  for (guint i = 0; a->layouts != b->layouts && i < count (a->layouts); i++)
    if (!sb_layout_choice_equal (g_ptr_array_index (a->layouts, i), g_ptr_array_index (b->layouts, i)))
      return FALSE;
  return TRUE;
}

static SbLayout *
propose (const char *path, const SbDialectChoices *fixed, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbProposal) proposal = sb_propose_file (path, fixed, cancellable, error);
  return proposal != NULL ? sb_layout_ref (proposal->layout) : NULL;
}

/* The first choice for this log that fixes its dialect, with what it makes of the file; NULL when there is none. A
 * dialect in which the file makes no sense is one that it is not written in. */
static const SbLayoutChoice *
find_dialect (const char *path, const GPtrArray *layouts, SbLayout **found, GCancellable *cancellable)
{
  for (guint i = 0; i < count (layouts); i++) {
    const SbLayoutChoice *choice = g_ptr_array_index (layouts, i);
    if (!sb_layout_choice_fixes_dialect (choice))
      continue;
    g_autoptr (SbLayout) proposed = propose (path, &choice->fixed, cancellable, NULL);
    g_autoptr (SbLayout) applied = proposed != NULL ? sb_layout_choice_apply (choice, proposed) : NULL;
    if (applied == NULL)
      continue;
    *found = g_steal_pointer (&proposed);
    return choice;
  }
  return NULL;
}

/* The error says what is wrong with the file as it was stated to be; this, that it was. */
static void
tell_what_was_fixed (const SbLayoutChoice *choice, const char *whose, GError **error)
{
  if (error == NULL || *error == NULL || !sb_layout_choice_fixes_dialect (choice)
      || g_error_matches (*error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN) || (*error)->domain != SB_LOG_ERROR)
    return;
  g_autofree char *fixed = sb_layout_clash_fixed (&choice->fixed);
  char *message = g_strdup_printf ("%s The layout stated for %s sets %s: if that is not so in this file, correct the "
                                   "layout or take it away.",
                                   (*error)->message, whose, fixed);
  g_free ((*error)->message);
  (*error)->message = message;
}

static SbLayout *
read_by_own (const char *path, const SbLayoutChoice *own, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbLayout) proposed = propose (path, &own->fixed, cancellable, error);
  if (proposed == NULL) {
    tell_what_was_fixed (own, "this log", error);
    return NULL;
  }
  SbLayout *applied = sb_layout_choice_apply (own, proposed);
  if (applied != NULL)
    return applied;
  g_autofree char *name = g_filename_display_basename (path);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_LAYOUT,
               "%s: the layout that was stated for this log names columns that it does not have. Look at its columns "
               "again (the import sheet in the window), or take the layout away from it.",
               name);
  return NULL;
}

SbLayout *
sb_log_reading_layout (const char *path, const SbLogReading *reading, GCancellable *cancellable, GError **error)
{
  g_autoptr (SbLayout) layout = NULL;
  const SbLayoutChoice *dialect = NULL;
  if (reading->own != NULL)
    layout = read_by_own (path, reading->own, cancellable, error);
  else if ((dialect = find_dialect (path, reading->layouts, &layout, cancellable)) == NULL)
    layout = propose (path, NULL, cancellable, error);
  /* From the last to the first, so that the first has the last word. */
  for (guint i = count (reading->layouts); layout != NULL && reading->own == NULL && i > 0; i--) {
    const SbLayoutChoice *choice = g_ptr_array_index (reading->layouts, i - 1);
    if (choice != dialect && !sb_layout_choice_fits (choice, layout))
      continue;
    SbLayout *applied = sb_layout_choice_apply (choice, layout);
    if (applied == NULL)
      continue;
    sb_layout_unref (layout);
    layout = applied;
  }
  return g_steal_pointer (&layout);
}

/* The choice whose dialect the log was read by; NULL when all of it was found. */
static const SbLayoutChoice *
followed_choice (const SbLogReading *reading, const SbLayout *layout)
{
  if (reading->own != NULL)
    return reading->own;
  for (guint i = 0; i < count (reading->layouts); i++) {
    const SbLayoutChoice *choice = g_ptr_array_index (reading->layouts, i);
    if (sb_layout_choice_fixes_dialect (choice) && sb_layout_choice_fits (choice, layout))
      return choice;
  }
  return NULL;
}

GPtrArray *
sb_log_reading_passed_over (const SbLogReading *reading, const SbLayout *layout)
{
  GPtrArray *told = sb_notes_new ();
  gboolean followed = followed_choice (reading, layout) != NULL;
  for (guint i = 0; i < count (reading->layouts) && !followed; i++) {
    char *text = sb_layout_clash_text (g_ptr_array_index (reading->layouts, i), layout);
    if (text != NULL)
      sb_notes_take (told, SB_NOTE_LAYOUT_PASSED, text);
  }
  return told;
}

SbLog *
sb_log_reading_read (const char *path, const SbLogReading *reading, SbColumnPool *pool, GCancellable *cancellable,
                     GError **error)
{
  SbReadOptions options = { .pool = pool };
  if (reading->own == NULL && count (reading->layouts) == 0)
    return sb_log_read_with (path, &options, cancellable, NULL, NULL, error);
  options.layout = sb_log_reading_layout (path, reading, cancellable, error);
  if (options.layout == NULL)
    return NULL;
  g_autoptr (SbLayout) layout = options.layout;
  g_autoptr (GPtrArray) notes = sb_log_reading_passed_over (reading, layout);
  g_autoptr (GError) cause = NULL;
  options.notes = notes;
  SbLog *log = sb_log_read_with (path, &options, cancellable, NULL, NULL, &cause);
  const SbLayoutChoice *followed = log == NULL ? followed_choice (reading, layout) : NULL;
  if (followed != NULL)
    tell_what_was_fixed (followed, reading->own != NULL ? "this log" : "it", &cause);
  if (log == NULL)
    g_propagate_error (error, g_steal_pointer (&cause));
  return log;
}
