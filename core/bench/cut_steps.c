/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cut_steps.h"

#include <math.h>
#include <string.h>

/* Levels further apart than this share of the step are not the same. */
#define SAME_LEVEL_SHARE 0.05

#define ARROW " → "
#define UNIT  " N·m"

/* A trial on its way to its place. */
typedef struct {
  SbTrialEntry entry;
  double base, top; /* levels as written; NaN when not known */
} Piece;

static void
piece_clear (gpointer data)
{
  sb_trial_entry_clear (&((Piece *) data)->entry);
}

static GArray *
pieces_new (void)
{
  GArray *pieces = g_array_new (FALSE, TRUE, sizeof (Piece));
  g_array_set_clear_func (pieces, piece_clear);
  return pieces;
}

static char *
acquire (char *text)
{
  return text != NULL ? g_ref_string_acquire (text) : NULL;
}

/* Adds a piece that is what `from` is, in the stretch from_s..to_s. */
static void
add_piece (GArray *pieces, const SbTrialEntry *from, double from_s, double to_s, double base, double top)
{
  Piece piece = { .entry = *from, .base = base, .top = top };
  piece.entry.path = acquire (from->path);
  piece.entry.exclusion_reason = acquire (from->exclusion_reason);
  piece.entry.sha256 = acquire (from->sha256);
  piece.entry.choices.from_s = from_s;
  piece.entry.choices.to_s = to_s;
  g_array_append_val (pieces, piece);
}

static Piece *
piece_at (const GArray *pieces, guint index)
{
  return &g_array_index (pieces, Piece, index);
}

/* Repeats of one another: the same levels, mirrored where the step goes down. Unknown levels are like one another. */
static gboolean
are_alike (const Piece *a, const Piece *b)
{
  double step = fabs (a->top - a->base);
  if (isnan (step) || isnan (b->top - b->base))
    return isnan (step) && isnan (b->top - b->base);
  int up_a = a->top > a->base ? 1 : -1, up_b = b->top > b->base ? 1 : -1;
  return fabs (up_a * a->base - up_b * b->base) <= SAME_LEVEL_SHARE * step
         && fabs (up_a * a->top - up_b * b->top) <= SAME_LEVEL_SHARE * step;
}

/* Pieces that are alike, together; groups and pieces in the order in which they come. */
static GPtrArray *
group (const GArray *pieces)
{
  GPtrArray *groups = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  for (guint p = 0; p < pieces->len; p++) {
    GPtrArray *own = NULL;
    for (guint g = 0; g < groups->len && own == NULL; g++)
      if (are_alike (g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, g), 0), piece_at (pieces, p)))
        own = g_ptr_array_index (groups, g);
    if (own == NULL) {
      own = g_ptr_array_new ();
      g_ptr_array_add (groups, own);
    }
    g_ptr_array_add (own, piece_at (pieces, p));
  }
  return groups;
}

/* To a hundredth of the step or so, which is finer than what tells two levels apart. */
static void
append_level (GString *text, double level, double step)
{
  double unit = pow (10, floor (log10 (step)) - 2);
  double rounded = round (level / unit) * unit;
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append (text, rounded < -unit / 2 ? "−" : "");
  g_string_append (text,
                   g_ascii_formatd (digits, sizeof digits, "%.6g", fabs (rounded) < unit / 2 ? 0 : fabs (rounded)));
}

/* "NAME, 0 → 10 N·m"; NAME alone when the levels are not known. */
static char *
name_with_levels (const char *name, const Piece *piece)
{
  double step = fabs (piece->top - piece->base);
  if (!(step > 0))
    return g_strdup (name);
  GString *text = g_string_new (name);
  g_string_append (text, ", ");
  append_level (text, piece->base, step);
  g_string_append (text, ARROW);
  append_level (text, piece->top, step);
  g_string_append (text, UNIT);
  return g_string_free (text, FALSE);
}

/* The name without the levels that name_with_levels() gave it. */
static char *
name_without_levels (const char *name)
{
  const char *arrow = g_strrstr (name, ARROW);
  if (arrow == NULL || !g_str_has_suffix (name, UNIT))
    return g_strdup (name);
  const char *comma = arrow;
  while (comma > name && *comma != ',')
    comma--;
  return *comma == ',' && comma > name ? g_strndup (name, (gsize) (comma - name)) : g_strdup (name);
}

static int
find_configuration (const SbBench *bench, const char *name)
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
  gpointer *all = edited->configurations->pdata;
  gpointer added = all[last];
  memmove (all + at + 1, all + at, (last - at) * sizeof *all);
  all[at] = added;
  edited->reference = reference >= (int) at ? reference + 1 : reference;
  edited->other = other >= (int) at ? other + 1 : other;
}

static void
add_pieces (SbBench *edited, guint index, const GPtrArray *pieces)
{
  for (guint p = 0; p < pieces->len; p++)
    sb_bench_add_entry (edited, index, &((const Piece *) g_ptr_array_index (pieces, p))->entry);
}

/* The groups into configurations named after their levels, behind configuration `index`: new ones, or with `reuse`
 * those of that name. Gives the name of each group's. (transfer full) */
static GPtrArray *
place_groups (SbBench *edited, guint index, const GPtrArray *groups, gboolean reuse, gsize *n_made)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *name = name_without_levels (sb_bench_configuration (edited, index)->name);
  guint at = index + 1;
  for (guint g = 0; g < groups->len; g++) {
    const GPtrArray *pieces = g_ptr_array_index (groups, g);
    g_autofree char *full = name_with_levels (name, g_ptr_array_index (pieces, 0));
    int there = reuse ? find_configuration (edited, full) : -1;
    if (there < 0) {
      insert_configuration (edited, at, full, index);
      there = (int) at++;
      ++*n_made;
    }
    add_pieces (edited, (guint) there, pieces);
    g_ptr_array_add (names, g_strdup (sb_bench_configuration (edited, (guint) there)->name));
  }
  return names;
}

/* Which of the groups is to be compared with steps like `levels`: the first when none is like them. */
static guint
best_match (const GPtrArray *groups, const Piece *levels)
{
  for (guint g = 0; g < groups->len; g++)
    if (are_alike (g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, g), 0), levels))
      return g;
  return 0;
}

/* Configuration `index` goes; the configurations `names` that its trials went to take its roles and its style. `levels`
 * are those of the reference, and are set when this is it. */
static void
pass_on (SbBench *edited, guint index, const GPtrArray *groups, const GPtrArray *names, Piece *levels)
{
  guint style = sb_bench_configuration (edited, index)->style;
  gboolean was_reference = edited->reference == (int) index, was_other = edited->other == (int) index;
  sb_bench_remove_configuration (edited, index);
  int first = find_configuration (edited, g_ptr_array_index (names, 0));
  sb_bench_edit_configuration (edited, (guint) first)->style = style;
  if (was_reference) {
    edited->reference = first;
    *levels = *(const Piece *) g_ptr_array_index ((GPtrArray *) g_ptr_array_index (groups, 0), 0);
  }
  if (was_other)
    edited->other = find_configuration (edited, g_ptr_array_index (names, best_match (groups, levels)));
}

static gboolean
may_be_cut (const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  const SbTrialChoices *choices = &entry->choices;
  return facts != NULL && !entry->kept_whole && sb_trial_choices_whole (choices) && isnan (choices->onset_s)
         && isnan (choices->active_end_s) && sb_steps_count (facts->steps) > 1;
}

/* A piece per step. */
static void
add_steps (GArray *pieces, const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  guint n = (guint) sb_steps_count (facts->steps), k = 0;
  for (guint s = 0; s < facts->steps->len; s++) {
    const SbStep *step = &g_array_index (facts->steps, SbStep, s);
    if (step->is_release)
      continue;
    add_piece (pieces, entry, step->from_s, step->to_s, step->base_nm, step->top_nm);
    piece_at (pieces, pieces->len - 1)->entry.step = ++k;
    piece_at (pieces, pieces->len - 1)->entry.n_steps = n;
  }
}

static void
add_as_it_is (GArray *pieces, const SbTrialEntry *entry, const SbTrialFacts *facts)
{
  int direction = facts != NULL && facts->mirrored ? -1 : 1;
  add_piece (pieces, entry, entry->choices.from_s, entry->choices.to_s,
             facts != NULL ? direction * facts->command_base_nm : (double) NAN,
             facts != NULL ? direction * facts->command_top_nm : (double) NAN);
}

/* The trials of a configuration as they are to be; NULL when they stay as they are. */
static GArray *
cut_configuration (const SbConfiguration *configuration, const SbConfigurationResult *result, SbCutReport *report)
{
  GArray *pieces = pieces_new ();
  gsize n_logs = 0;
  for (guint t = 0; t < configuration->entries->len; t++) {
    const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
    const SbTrialFacts *facts = sb_configuration_result_trial (result, t)->facts;
    if (!may_be_cut (entry, facts)) {
      add_as_it_is (pieces, entry, facts);
      continue;
    }
    add_steps (pieces, entry, facts);
    n_logs++;
    report->n_steps += sb_steps_count (facts->steps);
    if (report->log == NULL)
      report->log = sb_trial_entry_label (entry);
  }
  report->n_logs += n_logs;
  if (n_logs == 0)
    g_clear_pointer (&pieces, g_array_unref);
  return pieces;
}

/* Levels of the first trial of a configuration that has a step; NaN when there is none. */
static Piece
levels_of (const SbConfigurationResult *result)
{
  for (guint t = 0; t < result->trials->len; t++) {
    const SbTrialFacts *facts = sb_configuration_result_trial (result, t)->facts;
    int direction = facts != NULL && facts->mirrored ? -1 : 1;
    if (facts != NULL && !isnan (facts->command_top_nm))
      return (Piece){ .base = direction * facts->command_base_nm, .top = direction * facts->command_top_nm };
  }
  return (Piece){ .base = NAN, .top = NAN };
}

/* Configuration `index` with these trials in place of its own; gives the index of the next one. */
static guint
put_in_place (SbBench *edited, guint index, const GArray *pieces, Piece *levels, SbCutReport *report)
{
  g_autoptr (GPtrArray) groups = group (pieces);
  if (groups->len == 1) {
    g_array_set_size (sb_bench_edit_configuration (edited, index)->entries, 0);
    add_pieces (edited, index, g_ptr_array_index (groups, 0));
    return index + 1;
  }
  gsize n_made = 0;
  g_autoptr (GPtrArray) names = place_groups (edited, index, groups, FALSE, &n_made);
  report->n_configurations += n_made;
  pass_on (edited, index, groups, names, levels);
  return index + (guint) n_made;
}

SbBench *
sb_bench_cut_steps (const SbAnalysis *analysis, SbCutReport *report)
{
  const SbBench *bench = analysis->bench;
  *report = (SbCutReport){ 0 };
  if (bench->steps != SB_STEPS_ALL)
    return NULL;
  g_autoptr (SbBench) edited = sb_bench_edit (bench);
  Piece levels = bench->reference >= 0 ? levels_of (sb_analysis_configuration (analysis, (guint) bench->reference))
                                       : (Piece){ .base = NAN, .top = NAN };
  guint next = 0;
  for (guint c = 0; c < bench->configurations->len; c++) {
    g_autoptr (GArray) pieces
        = cut_configuration (sb_bench_configuration (bench, c), sb_analysis_configuration (analysis, c), report);
    next = pieces != NULL ? put_in_place (edited, next, pieces, &levels, report) : next + 1;
  }
  return report->n_logs > 0 ? g_steal_pointer (&edited) : NULL;
}

char *
sb_cut_report_text (const SbCutReport *report)
{
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%" G_GSIZE_FORMAT " steps of ", report->n_steps);
  if (report->n_logs == 1)
    g_string_append (text, report->log);
  else
    g_string_append_printf (text, "%" G_GSIZE_FORMAT " logs", report->n_logs);
  g_string_append (text, " are a trial each");
  if (report->n_configurations > 0)
    g_string_append_printf (text, ", in %" G_GSIZE_FORMAT " configurations by their levels", report->n_configurations);
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

void
sb_cut_report_clear (SbCutReport *report)
{
  g_clear_pointer (&report->log, g_free);
}

/* Takes every trial of the log out. Gives the first of them as a whole log, taken in when any of them was: an entry of
 * its own, to be cleared. */
static SbTrialEntry
take_out (SbBench *edited, const char *path)
{
  SbTrialEntry whole = { .path = g_ref_string_new (path), .choices = SB_TRIAL_CHOICES_NONE };
  for (guint c = 0; c < edited->configurations->len; c++) {
    guint n = sb_bench_configuration (edited, c)->entries->len;
    for (guint t = n; t-- > 0;) {
      const SbTrialEntry *entry = sb_configuration_entry (sb_bench_configuration (edited, c), t);
      if (strcmp (entry->path, path) != 0)
        continue;
      whole.included = whole.included || entry->included;
      if (whole.sha256 == NULL)
        whole.sha256 = acquire (entry->sha256);
      if (whole.exclusion_reason == NULL)
        whole.exclusion_reason = acquire (entry->exclusion_reason);
      g_array_remove_index (sb_bench_edit_configuration (edited, c)->entries, t);
    }
  }
  if (whole.included)
    g_clear_pointer (&whole.exclusion_reason, g_ref_string_release);
  return whole;
}

/* Those that a log was taken out of and that have no other. */
static void
remove_empty (SbBench *edited, const SbBench *before)
{
  for (guint c = edited->configurations->len; c-- > 0;) {
    const SbConfiguration *configuration = sb_bench_configuration (edited, c);
    int old = find_configuration (before, configuration->name);
    if (configuration->entries->len == 0 && old >= 0 && sb_bench_configuration (before, (guint) old)->entries->len > 0)
      sb_bench_remove_configuration (edited, c);
  }
}

SbBench *
sb_bench_cut_at (const SbBench *bench, guint index, const char *path, const SbCut *cuts, gsize n)
{
  g_return_val_if_fail (n >= 1 && index < bench->configurations->len, NULL);
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out (edited, path);
  g_autoptr (GArray) pieces = pieces_new ();
  for (gsize k = 0; k < n; k++) {
    add_piece (pieces, &whole, cuts[k].from_s, cuts[k].to_s, cuts[k].base_nm, cuts[k].top_nm);
    piece_at (pieces, (guint) k)->entry.step = (guint) k + 1;
    piece_at (pieces, (guint) k)->entry.n_steps = (guint) n;
  }
  sb_trial_entry_clear (&whole);
  g_autoptr (GPtrArray) groups = group (pieces);
  gboolean was_alone = sb_bench_configuration (edited, index)->entries->len == 0;
  if (groups->len == 1) {
    add_pieces (edited, index, g_ptr_array_index (groups, 0));
  } else {
    gsize n_made = 0;
    g_autoptr (GPtrArray) names = place_groups (edited, index, groups, TRUE, &n_made);
    Piece levels = { .base = NAN, .top = NAN };
    if (was_alone && sb_bench_configuration (edited, index)->entries->len == 0)
      pass_on (edited, index, groups, names, &levels);
  }
  remove_empty (edited, bench);
  return edited;
}

/* Gives a configuration in which nothing is cut any more the name that it had before the cut. */
static void
rename_joined (SbBench *edited, guint index)
{
  const SbConfiguration *configuration = sb_bench_configuration (edited, index);
  for (guint t = 0; t < configuration->entries->len; t++)
    if (sb_configuration_entry (configuration, t)->n_steps > 0)
      return;
  g_autofree char *name = name_without_levels (configuration->name);
  if (find_configuration (edited, name) >= 0)
    return;
  SbConfiguration *own = sb_bench_edit_configuration (edited, index);
  g_free (own->name);
  own->name = g_steal_pointer (&name);
}

static SbBench *
join (const SbBench *bench, guint index, const char *path, gboolean keep_whole)
{
  SbBench *edited = sb_bench_edit (bench);
  SbTrialEntry whole = take_out (edited, path);
  whole.kept_whole = keep_whole;
  sb_bench_add_entry (edited, index, &whole);
  sb_trial_entry_clear (&whole);
  rename_joined (edited, index);
  remove_empty (edited, bench);
  return edited;
}

SbBench *
sb_bench_join_steps (const SbBench *bench, guint index, const char *path)
{
  return join (bench, index, path, TRUE);
}

/* A configuration and a trial in it that is a stretch of its log; FALSE when there is none. */
static gboolean
find_cut (const SbBench *bench, guint *index, const char **path)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      const SbTrialEntry *entry = sb_configuration_entry (configuration, t);
      if (sb_trial_choices_whole (&entry->choices))
        continue;
      *index = c;
      *path = entry->path;
      return TRUE;
    }
  }
  return FALSE;
}

SbBench *
sb_bench_set_steps (const SbBench *bench, SbStepsChoice steps)
{
  SbBench *edited = sb_bench_edit (bench);
  edited->steps = steps;
  guint index;
  const char *path;
  while (steps == SB_STEPS_FIRST && find_cut (edited, &index, &path)) {
    SbBench *joined = join (edited, index, path, FALSE);
    sb_bench_unref (edited);
    edited = joined;
  }
  return edited;
}
