/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notice_doubts.h"

#include "doubt.h"

/* A sum names so many measures; its parts name all. */
#define NAMES_SHOWN 4

/* The doubts on one topic so far. */
typedef struct {
  char *topic;
  GPtrArray *parts;       /* SbNotice */
  GHashTable *said;       /* sentence of the configuration at hand -> SbNotice */
  guint n_configurations; /* that have such a doubt */
  guint n_figures;        /* that are doubted: measures of configurations */
  gboolean is_doubted[SB_N_MEASURES];
} Topic;

static void
topic_free (gpointer data)
{
  Topic *topic = data;
  g_free (topic->topic);
  g_clear_pointer (&topic->parts, g_ptr_array_unref);
  g_hash_table_unref (topic->said);
  g_free (topic);
}

static Topic *
find_topic (GPtrArray *topics, const char *name)
{
  for (guint i = 0; i < topics->len; i++) {
    Topic *topic = g_ptr_array_index (topics, i);
    if (g_str_equal (topic->topic, name))
      return topic;
  }
  Topic *topic = g_new0 (Topic, 1);
  topic->topic = g_strdup (name);
  topic->parts = g_ptr_array_new_with_free_func ((GDestroyNotify) sb_notice_free);
  topic->said = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_ptr_array_add (topics, topic);
  return topic;
}

static SbNotice *
doubt_new (int configuration, int measure)
{
  SbNotice *notice = g_new0 (SbNotice, 1);
  notice->kind = SB_NOTICE_DOUBT;
  notice->configuration = configuration;
  notice->trial = -1;
  notice->measure = measure;
  return notice;
}

/* A sentence that casts doubt on several measures of a configuration is said once, with their names. */
static void
take_doubt (Topic *topic, const SbConfigurationResult *configuration, int index, SbMeasureId id, char *sentence)
{
  const char *name = sb_measure_info (id)->name;
  SbNotice *notice = g_hash_table_lookup (topic->said, sentence);
  topic->n_configurations += g_hash_table_size (topic->said) == 0 ? 1 : 0;
  topic->n_figures++;
  topic->is_doubted[id] = TRUE;
  if (notice != NULL) {
    g_autofree char *before = g_steal_pointer (&notice->text);
    notice->text = g_strdup_printf ("%s, %s", before, name);
    g_free (sentence);
    return;
  }
  notice = doubt_new (index, (int) id);
  notice->subject = g_strdup (configuration->name);
  notice->text = g_strdup_printf ("%s – %s", sentence, name);
  g_ptr_array_add (topic->parts, notice);
  g_hash_table_insert (topic->said, sentence, notice);
}

static void
take_doubts (GPtrArray *topics, const SbConfigurationResult *configuration, int index, SbUnits units)
{
  for (guint i = 0; i < topics->len; i++)
    g_hash_table_remove_all (((Topic *) g_ptr_array_index (topics, i))->said);
  for (guint id = 0; configuration->summary != NULL && id < SB_N_MEASURES; id++) {
    GPtrArray *doubts = configuration->summary->measure[id].doubts;
    for (guint i = 0; i < sb_doubts_count (doubts); i++) {
      const SbDoubt *doubt = sb_doubts_get (doubts, i);
      take_doubt (find_topic (topics, doubt->topic), configuration, index, (SbMeasureId) id,
                  sb_doubt_text (doubt, units));
    }
  }
}

/* "raised by noise – Overshoot, Undershoot"; a single one more is named too. */
static char *
sum_text (const Topic *topic)
{
  GString *text = g_string_new (topic->topic);
  guint n = 0, n_named = 0;
  for (guint id = 0; id < SB_N_MEASURES; id++)
    n += topic->is_doubted[id] ? 1 : 0;
  guint most = n <= NAMES_SHOWN + 1 ? n : NAMES_SHOWN;
  for (guint id = 0; id < SB_N_MEASURES && n_named < most; id++)
    if (topic->is_doubted[id])
      g_string_append_printf (text, "%s%s", n_named++ == 0 ? " – " : ", ", sb_measure_info (id)->name);
  if (n > most)
    g_string_append_printf (text, " and %u more measures", n - most);
  return g_string_free (text, FALSE);
}

/* The lone part of a topic stands for itself. (transfer full) */
static SbNotice *
sum_up (Topic *topic)
{
  const SbNotice *first = g_ptr_array_index (topic->parts, 0);
  if (topic->parts->len == 1)
    return g_ptr_array_steal_index (topic->parts, 0);
  SbNotice *sum = doubt_new (first->configuration, first->measure);
  sum->subject = topic->n_configurations == 1 ? g_strdup (first->subject)
                                              : g_strdup_printf ("%u configurations", topic->n_configurations);
  sum->text = sum_text (topic);
  sum->topic = g_strdup (topic->topic);
  sum->parts = g_steal_pointer (&topic->parts);
  for (guint i = 0; i < sum->parts->len; i++)
    ((SbNotice *) g_ptr_array_index (sum->parts, i))->is_part = TRUE;
  return sum;
}

void
sb_notices_add_doubts (GPtrArray *notices, const SbAnalysis *analysis)
{
  g_autoptr (GPtrArray) topics = g_ptr_array_new_with_free_func (topic_free);
  for (guint i = 0; i < analysis->configurations->len; i++) {
    const SbConfigurationResult *configuration = sb_analysis_configuration (analysis, i);
    if (configuration->drawn)
      take_doubts (topics, configuration, (int) i, analysis->bench->units);
  }
  for (guint i = 0; i < topics->len; i++) {
    Topic *topic = g_ptr_array_index (topics, i);
    SbNotice *notice = sum_up (topic);
    notice->rank = G_MAXUINT - topic->n_figures; /* most figures first */
    g_ptr_array_add (notices, notice);
  }
}
