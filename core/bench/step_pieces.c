/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "step_pieces.h"

#include "arrange.h"
#include "bench_claims.h"
#include "cut_steps.h"

#include <math.h>
#include <string.h>

/* Levels further apart than this share of the step are not the same. */
#define SAME_LEVEL_SHARE 0.05

#define ARROW " → "
#define UNIT  " N·m"

static void
piece_clear (gpointer data)
{
  sb_trial_entry_clear (&((SbPiece *) data)->entry);
}

GArray *
sb_pieces_new (void)
{
  GArray *pieces = g_array_new (FALSE, TRUE, sizeof (SbPiece));
  g_array_set_clear_func (pieces, piece_clear);
  return pieces;
}

char *
sb_pieces_acquire (char *text)
{
  return text != NULL ? g_ref_string_acquire (text) : NULL;
}

/* Adds a piece that is what `from` is, in the stretch from_s..to_s. */
void
sb_pieces_add (GArray *pieces, const SbTrialEntry *from, double from_s, double to_s, double base, double top)
{
  SbPiece piece = { .entry = sb_trial_entry_copy (from), .base = base, .top = top };
  piece.entry.choices.from_s = from_s;
  piece.entry.choices.to_s = to_s;
  g_array_append_val (pieces, piece);
}

SbPiece *
sb_piece_at (const GArray *pieces, guint index)
{
  return &g_array_index (pieces, SbPiece, index);
}

/* Repeats of one another: the same levels, mirrored where the step goes down. Unknown levels are like one another. */
gboolean
sb_pieces_alike (const SbPiece *a, const SbPiece *b)
{
  double step = fabs (a->top - a->base);
  if (isnan (step) || isnan (b->top - b->base))
    return isnan (step) && isnan (b->top - b->base);
  int up_a = a->top > a->base ? 1 : -1, up_b = b->top > b->base ? 1 : -1;
  return fabs (up_a * a->base - up_b * b->base) <= SAME_LEVEL_SHARE * step
         && fabs (up_a * a->top - up_b * b->top) <= SAME_LEVEL_SHARE * step;
}

GPtrArray *
sb_pieces_group (const GArray *pieces)
{
  GPtrArray *groups = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  for (guint p = 0; p < pieces->len; p++) {
    GPtrArray *own = NULL;
    for (guint g = 0; g < groups->len && own == NULL; g++)
      if (sb_pieces_alike (g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, g), 0), sb_piece_at (pieces, p)))
        own = g_ptr_array_index (groups, g);
    if (own == NULL) {
      own = g_ptr_array_new ();
      g_ptr_array_add (groups, own);
    }
    g_ptr_array_add (own, sb_piece_at (pieces, p));
  }
  return groups;
}

/* To a decimal place that is a fortieth of the step or less, which is as fine as levels are told apart. */
static void
append_level (GString *text, double level, double step)
{
  double unit = pow (10, floor (log10 (step / 40)));
  double rounded = fabs (level) < step / 50 ? 0 : round (level / unit) * unit;
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append (text, rounded < 0 ? "−" : "");
  g_string_append (text, g_ascii_formatd (digits, sizeof digits, "%.6g", fabs (rounded)));
}

char *
sb_step_levels_text (double base_nm, double top_nm)
{
  double step = fabs (top_nm - base_nm);
  if (!(step > 0))
    return NULL;
  GString *text = g_string_new (NULL);
  append_level (text, base_nm, step);
  g_string_append (text, ARROW);
  append_level (text, top_nm, step);
  g_string_append (text, UNIT);
  return g_string_free (text, FALSE);
}

/* "NAME, 0 → 10 N·m"; NAME alone when the levels are not known. */
static char *
name_with_levels (const char *name, const SbPiece *piece)
{
  g_autofree char *levels = sb_step_levels_text (piece->base, piece->top);
  return levels != NULL ? g_strdup_printf ("%s, %s", name, levels) : g_strdup (name);
}

/* The name without the levels that name_with_levels() gave it. */
char *
sb_pieces_name_without_levels (const char *name)
{
  const char *arrow = g_strrstr (name, ARROW);
  if (arrow == NULL || !g_str_has_suffix (name, UNIT))
    return g_strdup (name);
  const char *comma = arrow;
  while (comma > name && *comma != ',')
    comma--;
  return *comma == ',' && comma > name ? g_strndup (name, (gsize) (comma - name)) : g_strdup (name);
}

int
sb_pieces_find_configuration (const SbBench *bench, const char *name)
{
  for (guint c = 0; c < bench->configurations->len; c++)
    if (strcmp (sb_bench_configuration (bench, c)->name, name) == 0)
      return (int) c;
  return -1;
}

/* Makes a configuration that stands before the one at `at`, drawn as configuration `like` is; `like` < `at`. */
static void
insert_configuration (SbBench *edited, guint at, const char *name, guint like)
{
  int reference = edited->reference, other = edited->other;
  guint last = sb_bench_add_configuration (edited, name, NULL, 0);
  sb_bench_edit_configuration (edited, last)->drawn = sb_bench_configuration (edited, like)->drawn;
  edited->reference = reference; /* a new configuration takes no role by itself here */
  edited->other = other;
  sb_bench_reorder (edited, last, at);
}

void
sb_pieces_put (SbBench *edited, guint index, const GPtrArray *pieces)
{
  g_autofree const SbTrialEntry **entries = g_new (const SbTrialEntry *, pieces->len);
  for (guint p = 0; p < pieces->len; p++)
    entries[p] = &((const SbPiece *) g_ptr_array_index (pieces, p))->entry;
  sb_bench_add_entries (edited, index, entries, pieces->len);
}

GPtrArray *
sb_pieces_place (SbBench *edited, guint index, const GPtrArray *groups, const SbPiece *home, gsize *n_made)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *name = sb_pieces_name_without_levels (sb_bench_configuration (edited, index)->name);
  guint at = index + 1;
  for (guint g = 0; g < groups->len; g++) {
    const GPtrArray *pieces = g_ptr_array_index (groups, g);
    g_autofree char *full = name_with_levels (name, g_ptr_array_index (pieces, 0));
    gboolean stays = home != NULL && sb_pieces_alike (g_ptr_array_index (pieces, 0), home);
    int there = stays ? (int) index : sb_pieces_find_configuration (edited, full);
    if (there < 0) {
      insert_configuration (edited, at, full, index);
      there = (int) at++;
      ++*n_made;
    }
    sb_pieces_put (edited, (guint) there, pieces);
    g_ptr_array_add (names, g_strdup (sb_bench_configuration (edited, (guint) there)->name));
  }
  return names;
}

/* Which of the groups is to be compared with steps like `levels`: the first when none is like them. */
static guint
best_match (const GPtrArray *groups, const SbPiece *levels)
{
  for (guint g = 0; g < groups->len; g++)
    if (sb_pieces_alike (g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, g), 0), levels))
      return g;
  return 0;
}

void
sb_pieces_pass_on (SbBench *edited, guint index, const GPtrArray *groups, const GPtrArray *names, SbPiece *levels)
{
  const SbConfiguration *going = sb_bench_configuration (edited, index);
  guint style = going->style;
  g_autofree char *folder = g_strdup (going->folder), *opened_folder = g_strdup (going->opened_folder);
  int heir = sb_pieces_find_configuration (edited, g_ptr_array_index (names, 0));
  sb_bench_move_claims (edited, index, (guint) heir);
  gboolean was_reference = edited->reference == (int) index, was_other = edited->other == (int) index;
  sb_bench_remove_configuration (edited, index);
  int first = sb_pieces_find_configuration (edited, g_ptr_array_index (names, 0));
  sb_bench_edit_configuration (edited, (guint) first)->style = style;
  if (folder != NULL)
    sb_bench_set_folder (edited, (guint) first, folder, opened_folder);
  if (was_reference) {
    edited->reference = first;
    *levels = *(const SbPiece *) g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, 0), 0);
  }
  if (was_other)
    edited->other = sb_pieces_find_configuration (edited, g_ptr_array_index (names, best_match (groups, levels)));
}
