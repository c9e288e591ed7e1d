/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notice.h"

#include "notice_doubts.h"

void
sb_notice_free (SbNotice *notice)
{
  g_free (notice->place);
  g_free (notice->subject);
  g_free (notice->text);
  g_free (notice->topic);
  g_clear_pointer (&notice->parts, g_ptr_array_unref);
  g_free (notice);
}

const char *
sb_notice_kind_words (SbNoticeKind kind)
{
  static const char *const words[SB_N_NOTICES] = {
    [SB_NOTICE_FAILURE] = "Not usable", [SB_NOTICE_NEWS] = "New",          [SB_NOTICE_FAULT] = "Rows left out",
    [SB_NOTICE_FLAW] = "Fault",         [SB_NOTICE_NOTE] = "Assumed",      [SB_NOTICE_REMARK] = "Look at",
    [SB_NOTICE_DOUBT] = "Doubt",        [SB_NOTICE_FAIRNESS] = "Fairness",
  };
  return words[kind];
}

static SbNotice *
add (GPtrArray *notices, SbNoticeKind kind, const char *subject, char *text, int configuration, int trial)
{
  SbNotice *notice = g_new0 (SbNotice, 1);
  notice->kind = kind;
  notice->subject = g_strdup (subject);
  notice->text = text;
  notice->configuration = configuration;
  notice->trial = trial;
  notice->measure = -1;
  g_ptr_array_add (notices, notice);
  return notice;
}

/* Kinds of faults that fit a notice. */
#define GROUPS_SHOWN 3

static void
append_fault (GString *text, const SbFault *fault)
{
  if (fault->line > 0)
    g_string_append_printf (text, "line %" G_GUINT64_FORMAT ", ", fault->line);
  if (fault->column != NULL)
    g_string_append_printf (text, "column %s: ", fault->column);
  g_string_append (text, fault->what);
}

/* "3 rows left out; the first: line 120, column torque_Nm: 'n/a' is no number", or, when they are of several kinds or
 * many, "3,216 rows left out: 3,214 cells that are no numbers, first at line 88, column 'torque'; ..." */
static char *
describe_faults (const SbTrialFacts *facts)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const GPtrArray *groups = facts->fault_groups;
  gsize n = facts->n_rows_left_out;
  if (n > 0)
    g_string_append_printf (text, "%" G_GSIZE_FORMAT " %s left out", n, n == 1 ? "row" : "rows");
  if (facts->faults->len == 0)
    return g_string_free (g_steal_pointer (&text), FALSE);
  if (groups->len == 1) {
    g_string_append (text, text->len == 0 ? "" : facts->n_faults > 1 ? "; the first: " : ": ");
    append_fault (text, g_ptr_array_index (facts->faults, 0));
    return g_string_free (g_steal_pointer (&text), FALSE);
  }
  for (guint i = 0; i < MIN (groups->len, GROUPS_SHOWN); i++) {
    g_autofree char *words = sb_fault_group_text (g_ptr_array_index (groups, i));
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : text->len > 0 ? ": " : "", words);
  }
  if (groups->len > GROUPS_SHOWN)
    g_string_append_printf (text, "; and faults of %u more %s", groups->len - GROUPS_SHOWN,
                            groups->len - GROUPS_SHOWN == 1 ? "kind" : "kinds");
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The trials of a log that cannot be read fail for one reason: it is told once, of the log. `told` holds the notice of
 * each path with its reason. */
static void
add_failure (GPtrArray *notices, GHashTable *told, const SbTrialResult *result, int configuration, int trial)
{
  g_autofree char *key = g_strconcat (result->path, "\n", result->failure, NULL);
  SbNotice *before = g_hash_table_lookup (told, key);
  if (before != NULL) {
    g_free (before->subject);
    before->subject = g_filename_display_basename (result->path);
    return;
  }
  g_autofree char *name = sb_trial_result_label (result);
  g_hash_table_insert (told, g_steal_pointer (&key),
                       add (notices, SB_NOTICE_FAILURE, name, g_strdup (result->failure), configuration, trial));
  ((SbNotice *) g_ptr_array_index (notices, notices->len - 1))->is_lost = result->is_lost;
}

static void
add_trial (GPtrArray *notices, const SbTrialResult *result, int configuration, int trial)
{
  if (result->facts == NULL)
    return;
  g_autofree char *name = sb_trial_result_label (result);
  g_autofree char *log = g_filename_display_basename (result->path);
  if (!result->log_told && (result->facts->n_faults > 0 || result->facts->n_rows_left_out > 0))
    add (notices, result->facts->n_rows_left_out > 0 ? SB_NOTICE_FAULT : SB_NOTICE_FLAW, log,
         describe_faults (result->facts), configuration, trial);
  for (guint i = 0; result->remarks != NULL && i < result->remarks->len; i++)
    add (notices, SB_NOTICE_REMARK, name, g_strdup (g_ptr_array_index (result->remarks, i)), configuration, trial)
        ->is_lost
        = result->is_lost && i == 0; /* what is said of the change comes first */
  for (guint i = 0; i < result->facts->notes->len; i++)
    add (notices, SB_NOTICE_NOTE, name, g_strdup (sb_notes_text (result->facts->notes, i)), configuration, trial);
}

static void
add_fairness (GPtrArray *notices, const SbComparison *comparison)
{
  for (guint i = 0; comparison != NULL && i < comparison->fairness->len; i++) {
    const SbFairness *fairness = g_ptr_array_index (comparison->fairness, i);
    char *text = fairness->same ? g_strdup ("any difference is zero by construction")
                                : g_strdup_printf ("differs between the two sides: reference %s, other %s",
                                                   fairness->reference, fairness->other);
    add (notices, SB_NOTICE_FAIRNESS, fairness->what, text, -1, -1);
  }
}

/* FALSE when the log is in no configuration: it was taken out again. */
static gboolean
find_log (const SbAnalysis *analysis, const char *path, int *configuration, int *trial)
{
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *result = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < result->trials->len; t++)
      if (g_str_equal (sb_configuration_result_trial (result, t)->path, path)) {
        *configuration = (int) c;
        *trial = (int) t;
        return TRUE;
      }
  }
  return FALSE;
}

static void
add_news (GPtrArray *notices, const SbAnalysis *analysis, const SbNews *news)
{
  for (guint i = 0; i < news->items->len; i++) {
    const SbNewsItem *item = g_ptr_array_index (news->items, i);
    int configuration = -1, trial = -1;
    if (find_log (analysis, item->path, &configuration, &trial))
      add (notices, SB_NOTICE_NEWS, item->subject, g_strdup (item->text), configuration, trial)->rank = i;
  }
}

/* Logs that are gone are told by configuration: a folder that was tidied up is one thing, not a hundred. */
static void
add_missing (GPtrArray *notices, const SbConfigurationResult *configuration, int index, const SbNews *news)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  g_autoptr (GHashTable) counted = g_hash_table_new (g_str_hash, g_str_equal); /* a log may be several trials */
  guint n_trials = 0;
  int first = -1;
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    char *path = trial->path;
    if (trial->failure != NULL || !g_hash_table_contains (news->missing, path))
      continue; /* one that could not be read has said so */
    first = n_trials++ == 0 ? (int) t : first;
    if (g_hash_table_add (counted, path))
      g_ptr_array_add (paths, path);
  }
  guint n = paths->len;
  if (n == 0)
    return;
  g_ptr_array_add (paths, NULL);
  g_autofree char *subject = sb_news_subject ((const char *const *) paths->pdata);
  add (notices, SB_NOTICE_REMARK, subject,
       g_strdup_printf ("no longer in %s folder. What was read stays for as long as this window is open. Put %s back, "
                        "or leave the %s out",
                        n == 1 ? "its" : "their", n == 1 ? "it" : "them", n_trials == 1 ? "trial" : "trials"),
       index, first)
      ->is_lost
      = TRUE;
}

static void
add_failing (GPtrArray *notices, const SbNews *news)
{
  GHashTableIter iter;
  gpointer folder, why;
  g_hash_table_iter_init (&iter, news->failing);
  while (g_hash_table_iter_next (&iter, &folder, &why)) {
    g_autofree char *name = g_filename_display_name (folder);
    char *text
        = g_strdup_printf ("%s. What was read of its logs stays; new ones join when it is back", (const char *) why);
    add (notices, SB_NOTICE_REMARK, name, text, -1, -1);
  }
}

static int
by_kind (gconstpointer a, gconstpointer b)
{
  const SbNotice *left = *(const SbNotice *const *) a, *right = *(const SbNotice *const *) b;
  if (left->kind != right->kind)
    return left->kind < right->kind ? -1 : 1;
  if (left->rank != right->rank)
    return left->rank < right->rank ? -1 : 1;
  if (left->configuration != right->configuration)
    return left->configuration < right->configuration ? -1 : 1;
  return left->trial - right->trial;
}

GPtrArray *
sb_notices_new (const SbAnalysis *analysis, const SbNews *news)
{
  GPtrArray *notices = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_notice_free);
  g_autoptr (GHashTable) told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < analysis->configurations->len; i++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, i);
    guint n_before = notices->len;
    if (news != NULL)
      add_missing (notices, configuration, (int) i, news);
    for (guint k = 0; k < configuration->trials->len; k++) {
      const SbTrialResult *trial = sb_configuration_result_trial (configuration, k);
      if (trial->failure != NULL)
        add_failure (notices, told, trial, (int) i, (int) k);
      add_trial (notices, trial, (int) i, (int) k);
    }
    for (guint n = n_before; n < notices->len; n++)
      ((SbNotice *) g_ptr_array_index (notices, n))->place = g_strdup (configuration->name);
  }
  sb_notices_add_doubts (notices, analysis);
  add_fairness (notices, analysis->comparison);
  if (news != NULL) {
    add_news (notices, analysis, news);
    add_failing (notices, news);
  }
  g_ptr_array_sort (notices, by_kind);
  return notices;
}

#define MOST_UNFOLDED 2

static gboolean
can_be_folded (const SbNotice *notice)
{
  return notice->kind != SB_NOTICE_FAILURE && notice->kind != SB_NOTICE_NEWS && !notice->is_lost;
}

GPtrArray *
sb_notices_fold (const GPtrArray *notices, guint unfolded, GHashTable *open)
{
  GPtrArray *shown = g_ptr_array_new ();
  SbNotice *first[SB_N_NOTICES] = { NULL };
  guint n_alike[SB_N_NOTICES] = { 0 };
  for (guint i = 0; i < notices->len; i++) {
    const SbNotice *notice = g_ptr_array_index (notices, i);
    n_alike[notice->kind] += can_be_folded (notice) ? 1 : 0;
  }
  for (guint i = 0; i < notices->len; i++) {
    SbNotice *notice = g_ptr_array_index (notices, i);
    gboolean is_group = can_be_folded (notice) && n_alike[notice->kind] > MOST_UNFOLDED;
    notice->n_folded = notice->n_alike = 0;
    if (is_group && first[notice->kind] == NULL) {
      first[notice->kind] = notice;
      notice->n_alike = n_alike[notice->kind];
    } else if (is_group && (unfolded & 1u << notice->kind) == 0) {
      first[notice->kind]->n_folded++;
      continue;
    }
    g_ptr_array_add (shown, notice);
    if (notice->parts != NULL && g_hash_table_contains (open, notice->topic))
      g_ptr_array_extend (shown, notice->parts, NULL, NULL);
  }
  return shown;
}
