/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify.h"

#include "verify_choices.h"

#include <string.h>

/* Figures and logs that are told one by one. */
#define MOST_DETAILS 40

#define SHORT_DIGEST 12

static const char *
plural (gsize n)
{
  return n == 1 ? "" : "s";
}

static gboolean
is_of_this_version (const SbVerification *verification)
{
  return strcmp (verification->proof->version, SB_VERSION) == 0;
}

static char *
say_made (const SbVerification *verification)
{
  const SbProof *proof = verification->proof;
  g_autofree char *version = g_utf8_make_valid (proof->version, -1);
  g_autofree char *by
      = is_of_this_version (verification)
            ? g_strdup_printf ("Made by Slewbench %s, the version that checks it now.", version)
            : g_strdup_printf ("Made by Slewbench %s; checked by " SB_VERSION ", another version.", version);
  const char *seal = proof->is_whole ? "The proof inside is as it was written: its own checksum fits."
                                     : "The proof inside was changed after it was written: its own checksum does not "
                                       "fit. What follows is what stands in it now.";
  return g_strdup_printf ("%s %s", by, seal);
}

/* " One more could not be read ..."; "" when there is none. */
static char *
say_readable (const SbVerification *verification)
{
  const GPtrArray *readable = verification->readable;
  if (readable->len == 0)
    return g_strdup ("");
  gboolean one = readable->len == 1;
  g_autofree char *count = one ? g_strdup ("One") : g_strdup_printf ("%u", readable->len);
  return g_strdup_printf (" %s more (%s%s) could not be read when the proof was made and can be now: %s left out here, "
                          "as %s then.",
                          count, (const char *) g_ptr_array_index (readable, 0), one ? "" : " and others",
                          one ? "it is" : "they are", one ? "it was" : "they were");
}

static char *
say_listed_logs (const SbVerification *verification)
{
  gsize n = verification->logs->len;
  if (n == 0)
    return g_strdup ("The proof names no log.");
  if (verification->n_same == n)
    return n == 1 ? g_strdup ("The log at hand is the same, by size and SHA-256.")
                  : g_strdup_printf ("All %" G_GSIZE_FORMAT " logs at hand are the same, by size and SHA-256.", n);
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "Of %" G_GSIZE_FORMAT " log%s, %" G_GSIZE_FORMAT " %s the same", n, plural (n),
                          verification->n_same, verification->n_same == 1 ? "is" : "are");
  if (verification->n_changed > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " %s other content than the one used", verification->n_changed,
                            verification->n_changed == 1 ? "has" : "have");
  if (verification->n_missing > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " %s not found", verification->n_missing,
                            verification->n_missing == 1 ? "was" : "were");
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

static char *
say_logs (const SbVerification *verification)
{
  g_autofree char *listed = say_listed_logs (verification), *readable = say_readable (verification);
  return g_strconcat (listed, readable, NULL);
}

/* " All 14 facts of the judgements do so too."; "" when the proof records none. */
static char *
say_judgements (const SbVerification *verification)
{
  gsize n = verification->facts->len;
  const gsize *of = verification->n_facts;
  if (n == 0)
    return g_strdup ("");
  if (of[SB_VERIFIED_TO_THE_BIT] == n)
    return g_strdup_printf (" So do%s %" G_GSIZE_FORMAT " fact%s of the judgements (settings, stated figures, drive "
                            "models, plans).",
                            n == 1 ? "es the" : " all", n, plural (n));
  GString *text = g_string_new (NULL);
  g_string_append_printf (text,
                          " Of %" G_GSIZE_FORMAT " fact%s of the judgements, %" G_GSIZE_FORMAT " come%s out the "
                          "same",
                          n, plural (n), of[SB_VERIFIED_TO_THE_BIT] + of[SB_VERIFIED_AS_PRINTED],
                          of[SB_VERIFIED_TO_THE_BIT] + of[SB_VERIFIED_AS_PRINTED] == 1 ? "s" : "");
  if (of[SB_VERIFIED_DIFFERS] > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " otherwise", of[SB_VERIFIED_DIFFERS]);
  if (of[SB_VERIFIED_UNCHECKED] > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " could not be checked", of[SB_VERIFIED_UNCHECKED]);
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

static char *
say_measures (const SbVerification *verification)
{
  gsize n = verification->figures->len;
  if (verification->n_to_the_bit == n)
    return g_strdup_printf ("All %" G_GSIZE_FORMAT " figures come out the same, to the last bit.", n);
  GString *text = g_string_new (NULL);
  g_string_append_printf (text,
                          "Of %" G_GSIZE_FORMAT " figure%s, %" G_GSIZE_FORMAT " come%s out the same to the last "
                          "bit",
                          n, plural (n), verification->n_to_the_bit, verification->n_to_the_bit == 1 ? "s" : "");
  if (verification->n_as_printed > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " the same as printed and not to the last bit",
                            verification->n_as_printed);
  if (verification->n_differ > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " otherwise", verification->n_differ);
  if (verification->n_unchecked > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " could not be checked because logs are missing",
                            verification->n_unchecked);
  g_string_append_c (text, '.');
  if (verification->proof->n_unknown > 0)
    g_string_append_printf (text, " %" G_GSIZE_FORMAT " more %s of measures that this version does not have.",
                            verification->proof->n_unknown, verification->proof->n_unknown == 1 ? "is" : "are");
  return g_string_free (text, FALSE);
}

static char *
say_figures (const SbVerification *verification)
{
  g_autofree char *measures = say_measures (verification), *judgements = say_judgements (verification);
  return g_strconcat (measures, judgements, NULL);
}

static char *
say_picture (const SbVerification *verification)
{
  const char *what = verification->picture_what != NULL ? verification->picture_what : "";
  switch (verification->picture) {
  case SB_PICTURE_NONE:
    return NULL;
  case SB_PICTURE_NOT_COMPARED:
    return g_strdup_printf ("Not compared. %s", what);
  case SB_PICTURE_SAME:
    return g_strdup_printf ("Drawn again, it is the same. %s", what);
  case SB_PICTURE_DIFFERS:
    return g_strdup_printf ("Drawn again, it is another. %s", what);
  }
  g_assert_not_reached ();
}

/* Why figures come out otherwise, as far as what was found says. */
static const char *
cause_of_difference (const SbVerification *verification)
{
  if (verification->n_changed > 0)
    return "because logs at hand are not those used";
  if (!verification->proof->is_whole)
    return "with the same logs: a choice or a figure in the proof was changed after it was written";
  if (!is_of_this_version (verification))
    return "from the same logs and choices: the two versions of the program work them out differently";
  return "from the same logs and choices with the same version: the figures in the proof were not made by it, or this "
         "computer's arithmetic is another";
}

/* Figures that could not be checked leave open whether all come out the same. */
static char *
say_undecided (const SbVerification *verification)
{
  gsize n = verification->n_unchecked + verification->n_facts[SB_VERIFIED_UNCHECKED];
  return g_strdup_printf ("Not decided: %s, and %" G_GSIZE_FORMAT " figure%s could not be checked because logs are "
                          "missing; those that could be come out the same.",
                          verification->n_changed > 0 ? "a log is not the one used" : "the proof inside was changed", n,
                          plural (n));
}

static char *
say_same (const SbVerification *verification)
{
  const char *version = is_of_this_version (verification) ? "" : " That another version made it changes nothing.";
  const char *picture = verification->picture == SB_PICTURE_SAME           ? " and this picture"
                        : verification->picture == SB_PICTURE_NOT_COMPARED ? " (the picture was not compared)"
                                                                           : "";
  gboolean printed = verification->n_as_printed + verification->n_facts[SB_VERIFIED_AS_PRINTED] > 0;
  return g_strdup_printf ("Same: these logs and choices give these figures%s%s.%s", printed ? ", as printed" : "",
                          picture, version);
}

/* Whether a verdict, an effect or another fact in words comes out otherwise; else it is figures behind them alone. */
static gboolean
words_differ (const SbVerification *verification)
{
  for (guint i = 0; i < verification->facts->len; i++) {
    const SbVerifiedFact *fact = &g_array_index (verification->facts, SbVerifiedFact, i);
    if (fact->match == SB_VERIFIED_DIFFERS
        && (g_str_has_prefix (fact->recorded, "“") || g_str_has_prefix (fact->found, "“")))
      return TRUE;
  }
  return FALSE;
}

static char *
say_judgements_differ (const SbVerification *verification)
{
  if (words_differ (verification))
    return g_strdup_printf ("Different: the judgements come out otherwise %s.", cause_of_difference (verification));
  return g_strdup_printf ("Different: every verdict comes out the same, but figures behind them (p values, intervals, "
                          "trends, fits) come out otherwise %s.",
                          cause_of_difference (verification));
}

static char *
say_outcome (const SbVerification *verification)
{
  gboolean open = verification->n_unchecked > 0;
  if (sb_verification_is_same (verification))
    return say_same (verification);
  if (verification->n_differ > 0)
    return g_strdup_printf ("Different: the figures come out otherwise %s.", cause_of_difference (verification));
  if (verification->n_facts[SB_VERIFIED_DIFFERS] > 0)
    return say_judgements_differ (verification);
  if (open && (verification->n_changed > 0 || !verification->proof->is_whole))
    return say_undecided (verification);
  if (verification->n_changed > 0)
    return g_strdup ("Different: a log is not the one used, although the figures come out the same.");
  if (!verification->proof->is_whole)
    return g_strdup ("Different: the proof inside was changed, although its figures follow from its logs and choices.");
  if (verification->picture == SB_PICTURE_DIFFERS)
    return g_strdup ("Different: the figures recorded inside follow from these logs and choices, but what is shown is "
                     "not what they give.");
  if (verification->n_missing > 0)
    return verification->n_same > 0 ? g_strdup ("Not decided: logs are missing. Name the folder that holds them.")
                                    : g_strdup ("Not decided: no log was found. Name the folder that holds them.");
  return g_strdup ("Not decided: some figures are unknown to this version. Use the version that made it.");
}

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
  if (figure->match != SB_VERIFIED_DIFFERS && figure->match != SB_VERIFIED_AS_PRINTED)
    return NULL;
  const GPtrArray *names = verification->proof->names;
  int c = figure->recorded.configuration;
  const char *of = c < 0 ? "Comparison" : g_ptr_array_index (names, (guint) c);
  gboolean printed = figure->match == SB_VERIFIED_AS_PRINTED;
  g_autofree char *recorded = printed ? sb_proof_figure_digits (&figure->recorded)
                                      : sb_proof_figure_text (&figure->recorded, &figure->recorded);
  g_autofree char *found
      = printed ? sb_proof_figure_digits (&figure->found) : sb_proof_figure_text (&figure->found, &figure->recorded);
  return g_strdup_printf ("%s, %s: recorded %s; now %s.", of, sb_measure_info (figure->recorded.id)->name, recorded,
                          found);
}

static char *
detail_of_fact (const SbVerifiedFact *fact)
{
  if (fact->match != SB_VERIFIED_DIFFERS)
    return NULL;
  return g_strdup_printf ("%s, %s: recorded %s; now %s.", fact->about, fact->name, fact->recorded, fact->found);
}

static void
add_detail (GPtrArray *details, char *detail, gsize *n_more)
{
  if (detail != NULL && details->len < MOST_DETAILS) {
    g_ptr_array_add (details, detail);
    return;
  }
  *n_more += detail != NULL ? 1 : 0;
  g_free (detail);
}

static GPtrArray *
list_details (const SbVerification *verification)
{
  GPtrArray *details = g_ptr_array_new_with_free_func (g_free);
  gsize n_more = 0;
  for (guint i = 0; i < verification->logs->len; i++)
    add_detail (details, detail_of_log (&g_array_index (verification->logs, SbVerifiedLog, i)), &n_more);
  for (guint i = 0; i < verification->figures->len; i++)
    add_detail (details, detail_of_figure (verification, &g_array_index (verification->figures, SbVerifiedFigure, i)),
                &n_more);
  for (guint i = 0; i < verification->facts->len; i++)
    add_detail (details, detail_of_fact (&g_array_index (verification->facts, SbVerifiedFact, i)), &n_more);
  if (n_more > 0)
    g_ptr_array_add (
        details, g_strdup_printf ("And %" G_GSIZE_FORMAT " more; slewbench verify --json lists all of them.", n_more));
  return details;
}

SbVerificationWords *
sb_verification_words (const SbVerification *verification)
{
  SbVerificationWords *words = g_new0 (SbVerificationWords, 1);
  words->made = say_made (verification);
  words->choices = sb_verify_choices_text (verification);
  words->logs = say_logs (verification);
  words->figures = say_figures (verification);
  words->picture = say_picture (verification);
  words->outcome = say_outcome (verification);
  words->details = list_details (verification);
  return words;
}

void
sb_verification_words_free (SbVerificationWords *words)
{
  if (words == NULL)
    return;
  g_free (words->made);
  g_free (words->choices);
  g_free (words->logs);
  g_free (words->figures);
  g_free (words->picture);
  g_free (words->outcome);
  g_ptr_array_unref (words->details);
  g_free (words);
}

char *
sb_verification_text (const SbVerification *verification)
{
  g_autoptr (SbVerificationWords) words = sb_verification_words (verification);
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "%s\nChoices: %s\nLogs: %s\nFigures: %s\n", words->made, words->choices, words->logs,
                          words->figures);
  if (words->picture != NULL)
    g_string_append_printf (text, "Picture: %s\n", words->picture);
  for (guint i = 0; i < words->details->len; i++)
    g_string_append_printf (text, "  %s\n", (const char *) g_ptr_array_index (words->details, i));
  g_string_append_printf (text, "%s\n", words->outcome);
  return g_string_free (text, FALSE);
}
