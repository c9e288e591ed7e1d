/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results_remarks.h"

#include "alike_sentences.h"

/* Logs named one by one; of more it is said how many. */
#define NAMED 2
/* Different sentences of one kind that are told; of further ones it is said of which logs they are. */
#define TOLD 4

/* One sentence, or what is left of its kind. */
typedef struct {
  const char *sentence; /* borrowed; the first, where it stands for several of its kind */
  guint n_sentences, n_logs;
  GString *places; /* "Fern, run-03.csv; Fern, run-04.csv" */
} Remark;

static void
remark_free (gpointer data)
{
  Remark *remark = data;
  g_string_free (remark->places, TRUE);
  g_free (remark);
}

typedef struct {
  GHashTable *told;   /* sentence -> Remark, borrowed */
  GHashTable *kinds;  /* kind of sentence -> GPtrArray of its Remarks, borrowed */
  GPtrArray *remarks; /* Remark, in order */
} Remarks;

/* Of a sentence that is new; the last one of its kind where enough are told. */
static Remark *
add_remark (Remarks *remarks, const char *sentence)
{
  g_autofree char *kind = sb_sentence_kind (sentence);
  GPtrArray *of_kind = g_hash_table_lookup (remarks->kinds, kind);
  if (of_kind == NULL) {
    of_kind = g_ptr_array_new ();
    g_hash_table_insert (remarks->kinds, g_steal_pointer (&kind), of_kind);
  }
  if (of_kind->len > TOLD)
    return g_ptr_array_index (of_kind, TOLD);
  Remark *remark = g_new (Remark, 1);
  *remark = (Remark){ sentence, 0, 0, g_string_new (NULL) };
  g_ptr_array_add (of_kind, remark);
  g_ptr_array_add (remarks->remarks, remark);
  return remark;
}

static void
take_trial (Remarks *remarks, const char *configuration, const SbTrialResult *trial)
{
  g_autofree char *label = sb_trial_result_label (trial);
  for (guint i = 0; trial->remarks != NULL && i < trial->remarks->len; i++) {
    char *sentence = g_ptr_array_index (trial->remarks, i);
    Remark *remark = g_hash_table_lookup (remarks->told, sentence);
    if (remark == NULL) {
      remark = add_remark (remarks, sentence);
      g_hash_table_insert (remarks->told, sentence, remark);
      remark->n_sentences++;
    }
    g_string_append_printf (remark->places, "%s%s, %s", remark->n_logs > 0 ? "; " : "", configuration, label);
    remark->n_logs++;
  }
}

static char *
remark_text (const Remark *remark)
{
  if (remark->n_sentences > 1)
    return g_strdup_printf ("%u more logs (%s), each with figures of its own, of which the first has these: %s",
                            remark->n_logs, remark->places->str, remark->sentence);
  if (remark->n_logs <= NAMED)
    return g_strdup_printf ("%s: %s", remark->places->str, remark->sentence);
  return g_strdup_printf ("%u logs (%s): %s", remark->n_logs, remark->places->str, remark->sentence);
}

static void
kind_free (gpointer data)
{
  g_ptr_array_unref (data);
}

GPtrArray *
sb_results_remarks (const SbAnalysis *analysis)
{
  Remarks remarks = { g_hash_table_new (g_str_hash, g_str_equal),
                      g_hash_table_new_full (g_str_hash, g_str_equal, g_free, kind_free),
                      g_ptr_array_new_with_free_func (remark_free) };
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  for (guint c = 0; c < analysis->configurations->len; c++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, c);
    for (guint t = 0; t < configuration->trials->len; t++)
      take_trial (&remarks, configuration->name, sb_configuration_result_trial (configuration, t));
  }
  for (guint i = 0; i < remarks.remarks->len; i++)
    g_ptr_array_add (lines, remark_text (g_ptr_array_index (remarks.remarks, i)));
  g_ptr_array_unref (remarks.remarks);
  g_hash_table_unref (remarks.kinds);
  g_hash_table_unref (remarks.told);
  return lines;
}
