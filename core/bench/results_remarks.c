/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_remarks.h"

#include "alike_sentences.h"

/* Logs named one by one; of more it is said how many. */
#define NAMED 2

typedef struct {
  GPtrArray *sentences; /* char *, borrowed */
  GString *places;      /* "Fern, run-03.csv; Fern, run-04.csv" */
} Remark;

static void
remark_free (gpointer data)
{
  Remark *remark = data;
  g_ptr_array_unref (remark->sentences);
  g_string_free (remark->places, TRUE);
  g_free (remark);
}

/* Remark by the words of its sentences; new ones are put into `order` too, borrowed. */
static Remark *
find_remark (GHashTable *remarks, GPtrArray *order, const char *sentence)
{
  g_autofree char *words = sb_sentence_words (sentence);
  Remark *remark = g_hash_table_lookup (remarks, words);
  if (remark != NULL)
    return remark;
  remark = g_new (Remark, 1);
  *remark = (Remark){ g_ptr_array_new (), g_string_new (NULL) };
  g_hash_table_insert (remarks, g_steal_pointer (&words), remark);
  g_ptr_array_add (order, remark);
  return remark;
}

static void
take_trial (GHashTable *remarks, GPtrArray *order, const char *configuration, const SbTrialResult *trial)
{
  g_autofree char *label = sb_trial_result_label (trial);
  for (guint i = 0; trial->remarks != NULL && i < trial->remarks->len; i++) {
    char *sentence = g_ptr_array_index (trial->remarks, i);
    Remark *remark = find_remark (remarks, order, sentence);
    g_string_append_printf (remark->places, "%s%s, %s", remark->sentences->len > 0 ? "; " : "", configuration, label);
    g_ptr_array_add (remark->sentences, sentence);
  }
}

static char *
remark_text (const Remark *remark)
{
  g_autofree char *sentence = sb_sentences_as_one (remark->sentences);
  if (remark->sentences->len <= NAMED)
    return g_strdup_printf ("%s: %s", remark->places->str, sentence);
  return g_strdup_printf ("%u logs (%s): %s", remark->sentences->len, remark->places->str, sentence);
}

GPtrArray *
sb_results_remarks (const SbAnalysis *analysis)
{
  g_autoptr (GHashTable) remarks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, remark_free);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++)
      take_trial (remarks, order, configuration->name, sb_configuration_result_trial (configuration, t));
  }
  for (guint i = 0; i < order->len; i++)
    g_ptr_array_add (lines, remark_text (g_ptr_array_index (order, i)));
  return lines;
}
