/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_words.h"

#include <string.h>

/* Told one by one: of logs few, so that a folder of other logs leaves the eye to the figures. */
#define MOST_LOGS    12
#define MOST_FIGURES 40
#define MOST_BEHIND  12 /* of the figures that verdicts rest on, which follow from the others */

#define SHORT_DIGEST 12

static char *
detail_of_log (const SbVerifiedLog *log)
{
  if (log->state == SB_VERIFIED_MISSING)
    return g_strdup_printf ("%s: not found (%" G_GUINT64_FORMAT " bytes, SHA-256 %.*s…).", log->log->file,
                            log->log->n_bytes, SHORT_DIGEST, log->log->sha256);
  if (log->state == SB_VERIFIED_CHANGED)
    return log->n_bytes == log->log->n_bytes
               ? g_strdup_printf ("%s: as long as the log used, but with other content (SHA-256 %.*s… instead of "
                                  "%.*s…).",
                                  log->log->file, SHORT_DIGEST, log->sha256, SHORT_DIGEST, log->log->sha256)
               : g_strdup_printf ("%s: another log, %" G_GUINT64_FORMAT " bytes instead of %" G_GUINT64_FORMAT
                                  " (SHA-256 %.*s… instead of %.*s…).",
                                  log->log->file, log->n_bytes, log->log->n_bytes, SHORT_DIGEST, log->sha256,
                                  SHORT_DIGEST, log->log->sha256);
  g_autofree char *at = g_filename_display_name (log->path);
  if (log->other != NULL) {
    g_autofree char *other = g_filename_display_name (log->other);
    return g_strdup_printf ("%s: the file of that name, %s, has other content than the log used; a file with the log's "
                            "bytes was found at %s and used.",
                            log->log->file, other, at);
  }
  if (!log->renamed)
    return NULL;
  g_autofree char *name = g_filename_display_basename (log->path);
  return g_strdup_printf ("%s: the same, now called %s.", log->log->file, name);
}

static char *
detail_of_figure (const SbVerification *verification, const SbVerifiedFigure *figure)
{
  int c = figure->recorded.configuration;
  const char *of = c < 0 ? "Comparison" : g_ptr_array_index (verification->proof->names, (guint) c);
  g_autofree char *recorded = sb_proof_figure_text (&figure->recorded, &figure->recorded);
  g_autofree char *found = sb_proof_figure_text (&figure->found, &figure->recorded);
  return g_strdup_printf ("%s, %s: recorded %s; now %s.", sb_measure_info (figure->recorded.id)->name, of, recorded,
                          found);
}

static char *
detail_of_fact (const SbVerifiedFact *fact)
{
  return g_strdup_printf ("%s, %s: recorded %s; now %s.", fact->about, fact->name, fact->recorded, fact->found);
}

/* How many of a kind are told, and how many there are. */
typedef struct {
  GPtrArray *details;
  gsize most, n;
} Telling;

/* Takes over the sentence; NULL: nothing to tell. */
static void
tell (Telling *telling, char *detail)
{
  if (detail == NULL)
    return;
  if (telling->n++ < telling->most)
    g_ptr_array_add (telling->details, detail);
  else
    g_free (detail);
}

static void
tell_the_rest (const Telling *telling, const char *one, const char *many)
{
  if (telling->n <= telling->most)
    return;
  gsize n_more = telling->n - telling->most;
  g_ptr_array_add (telling->details,
                   g_strdup_printf ("And %" G_GSIZE_FORMAT " more %s; slewbench verify --json lists all of them.",
                                    n_more, n_more == 1 ? one : many));
}

static void
tell_logs (const SbVerification *verification, GPtrArray *details)
{
  Telling telling = { details, MOST_LOGS, 0 };
  for (guint i = 0; i < verification->logs->len; i++)
    tell (&telling, detail_of_log (&g_array_index (verification->logs, SbVerifiedLog, i)));
  tell_the_rest (&telling, "log", "logs");
}

/* Measure by measure: whoever looks for one finds its configurations together. */
static void
tell_figures (const SbVerification *verification, GPtrArray *details)
{
  Telling telling = { details, MOST_FIGURES, 0 };
  for (SbMeasureId id = 0; id < SB_N_MEASURES; id++)
    for (guint i = 0; i < verification->figures->len; i++) {
      const SbVerifiedFigure *figure = &g_array_index (verification->figures, SbVerifiedFigure, i);
      if (figure->recorded.id == id && figure->match == SB_VERIFIED_DIFFERS)
        tell (&telling, detail_of_figure (verification, figure));
    }
  tell_the_rest (&telling, "figure", "figures");
}

gboolean
sb_verify_fact_is_in_words (const SbVerifiedFact *fact)
{
  return g_str_has_prefix (fact->recorded, "“") || g_str_has_prefix (fact->found, "“");
}

/* Verdicts and other words, or the figures behind them. */
static void
tell_facts (const SbVerification *verification, gboolean in_words, Telling telling)
{
  for (guint i = 0; i < verification->facts->len; i++) {
    const SbVerifiedFact *fact = &g_array_index (verification->facts, SbVerifiedFact, i);
    if (fact->match == SB_VERIFIED_DIFFERS && sb_verify_fact_is_in_words (fact) == in_words)
      tell (&telling, detail_of_fact (fact));
  }
  if (in_words)
    tell_the_rest (&telling, "fact of the judgements", "facts of the judgements");
  else
    tell_the_rest (&telling, "figure behind the judgements", "figures behind the judgements");
}

static void
tell_last_digits (const SbVerification *verification, GPtrArray *details)
{
  gsize n = verification->n_as_printed + verification->n_facts[SB_VERIFIED_AS_PRINTED];
  if (n > 0)
    g_ptr_array_add (details, g_strdup_printf ("%" G_GSIZE_FORMAT " figure%s print%s the same and differ%s in digits "
                                               "behind the printed ones only; slewbench verify --json lists %s.",
                                               n, n == 1 ? "" : "s", n == 1 ? "s" : "", n == 1 ? "s" : "",
                                               n == 1 ? "it" : "them"));
}

GPtrArray *
sb_verify_details (const SbVerification *verification)
{
  GPtrArray *details = g_ptr_array_new_with_free_func (g_free);
  tell_logs (verification, details);
  tell_figures (verification, details);
  tell_facts (verification, TRUE, (Telling){ details, MOST_FIGURES, 0 });
  tell_facts (verification, FALSE, (Telling){ details, MOST_BEHIND, 0 });
  tell_last_digits (verification, details);
  return details;
}

static gboolean
measure_differs (const SbVerification *verification, SbMeasureId id)
{
  for (guint i = 0; i < verification->figures->len; i++) {
    const SbVerifiedFigure *figure = &g_array_index (verification->figures, SbVerifiedFigure, i);
    if (figure->recorded.id == id && figure->match == SB_VERIFIED_DIFFERS)
      return TRUE;
  }
  return FALSE;
}

char *
sb_verify_measures_that_differ (const SbVerification *verification)
{
  GString *text = g_string_new (NULL);
  for (SbMeasureId id = 0; id < SB_N_MEASURES; id++)
    if (measure_differs (verification, id)) {
      g_autofree char *name = g_utf8_strdown (sb_measure_info (id)->name, -1);
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : " (", name);
    }
  g_string_append (text, text->len > 0 ? ")" : "");
  return g_string_free (text, FALSE);
}
