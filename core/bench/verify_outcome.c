/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify_words.h"

#include <string.h>

gboolean
sb_verify_is_of_this_version (const SbVerification *verification)
{
  return strcmp (verification->proof->version, SB_VERSION) == 0;
}

static char *
say_changed_logs (const SbVerification *verification)
{
  gsize n = verification->n_changed;
  return n == 1 ? g_strdup ("a log at hand is not the one used")
                : g_strdup_printf ("%" G_GSIZE_FORMAT " logs at hand are not those used", n);
}

/* What was found to be other than it was, each in words: logs, the proof, the program. (transfer full) char * */
static GPtrArray *
list_changes (const SbVerification *verification)
{
  GPtrArray *changes = g_ptr_array_new_with_free_func (g_free);
  if (verification->n_changed > 0)
    g_ptr_array_add (changes, say_changed_logs (verification));
  if (!verification->proof->is_whole)
    g_ptr_array_add (changes, g_strdup ("a choice or a figure in the proof was changed after it was written"));
  if (!sb_verify_is_of_this_version (verification)) {
    g_autofree char *version = g_utf8_make_valid (verification->proof->version, -1);
    g_ptr_array_add (changes, g_strdup_printf ("another version of the program, %s, made it", version));
  }
  return changes;
}

/* "a", "a and b", "a, b and c" */
static char *
join (const GPtrArray *parts)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < parts->len; i++)
    g_string_append_printf (text, "%s%s",
                            i == 0                ? ""
                            : i + 1 == parts->len ? ", and "
                                                  : ", ",
                            (const char *) g_ptr_array_index (parts, i));
  return g_string_free (text, FALSE);
}

/* How the sentence "The figures come out otherwise" goes on: with what the difference comes from, as far as what was
 * found says. Of several changes nobody knows which it was. */
static char *
cause_of_difference (const SbVerification *verification)
{
  g_autoptr (GPtrArray) changes = list_changes (verification);
  g_autofree char *joined = join (changes);
  if (changes->len > 1)
    return g_strdup_printf (". Each of these can be the cause: %s", joined);
  if (verification->n_changed > 0)
    return g_strdup_printf (" because %s", joined);
  if (!verification->proof->is_whole)
    return g_strdup_printf (" with the same logs: %s", joined);
  if (changes->len == 1)
    return g_strdup (" from the same logs and choices: the two versions of the program work them out differently");
  return g_strdup (
      " from the same logs with the same version: a choice or a figure in the proof is not the one that it "
      "was made with, or this computer's arithmetic is another");
}

/* The same with what can be the cause of no figure: files beside the proof. (transfer full) char * */
static GPtrArray *
list_all_changes (const SbVerification *verification)
{
  GPtrArray *changes = list_changes (verification);
  if (verification->picture == SB_PICTURE_EDITED)
    g_ptr_array_add (changes, g_strdup ("files of the report were changed after it was written"));
  return changes;
}

/* Figures that could not be checked leave open whether all come out the same. */
static char *
say_undecided (const SbVerification *verification)
{
  gsize n = verification->n_unchecked + verification->n_facts[SB_VERIFIED_UNCHECKED];
  g_autoptr (GPtrArray) changes = list_all_changes (verification);
  g_ptr_array_add (changes, g_strdup_printf ("%" G_GSIZE_FORMAT " figure%s could not be checked because logs are "
                                             "missing",
                                             n, n == 1 ? "" : "s"));
  g_autofree char *joined = join (changes);
  return g_strdup_printf ("Not decided: %s. Those that could be checked come out the same.", joined);
}

static char *
say_same (const SbVerification *verification)
{
  const char *version
      = sb_verify_is_of_this_version (verification) ? "" : " That another version made it changes nothing.";
  const char *picture = verification->picture == SB_PICTURE_SAME           ? " and this picture"
                        : verification->picture == SB_PICTURE_NOT_COMPARED ? " (the picture was not compared)"
                                                                           : "";
  gboolean printed = verification->n_as_printed + verification->n_facts[SB_VERIFIED_AS_PRINTED] > 0;
  return g_strdup_printf ("Same: these logs and choices give these figures%s%s.%s", printed ? ", as printed" : "",
                          picture, version);
}

/* Logs, the proof or files beside it are others, and every figure is the same. */
static char *
say_changed_without_effect (const SbVerification *verification)
{
  g_autoptr (GPtrArray) changes = list_all_changes (verification);
  g_autofree char *joined = join (changes);
  return g_strdup_printf ("Different: %s, although the figures come out the same.", joined);
}

static gboolean
words_differ (const SbVerification *verification)
{
  for (guint i = 0; i < verification->facts->len; i++) {
    const SbVerifiedFact *fact = &g_array_index (verification->facts, SbVerifiedFact, i);
    if (fact->match == SB_VERIFIED_DIFFERS && sb_verify_fact_is_in_words (fact))
      return TRUE;
  }
  return FALSE;
}

static char *
say_judgements_differ (const SbVerification *verification)
{
  g_autofree char *cause = cause_of_difference (verification);
  if (words_differ (verification))
    return g_strdup_printf ("Different: the judgements come out otherwise%s.", cause);
  return g_strdup_printf ("Different: every verdict comes out the same, but figures behind them (p values, intervals, "
                          "trends, fits) come out otherwise%s.",
                          cause);
}

static char *
say_figures_differ (const SbVerification *verification)
{
  g_autofree char *cause = cause_of_difference (verification);
  return g_strdup_printf ("Different: the figures come out otherwise%s.", cause);
}

char *
sb_verify_outcome_text (const SbVerification *verification)
{
  gboolean open = verification->n_unchecked + verification->n_facts[SB_VERIFIED_UNCHECKED] > 0;
  gboolean changed
      = verification->n_changed > 0 || !verification->proof->is_whole || verification->picture == SB_PICTURE_EDITED;
  if (sb_verification_is_same (verification))
    return say_same (verification);
  if (verification->n_differ > 0)
    return say_figures_differ (verification);
  if (verification->n_facts[SB_VERIFIED_DIFFERS] > 0)
    return say_judgements_differ (verification);
  if (changed)
    return open ? say_undecided (verification) : say_changed_without_effect (verification);
  if (verification->picture == SB_PICTURE_DIFFERS)
    return g_strdup ("Different: the figures recorded inside follow from these logs and choices, but what is shown is "
                     "not what they give.");
  if (verification->n_missing > 0)
    return verification->n_same > 0 ? g_strdup ("Not decided: logs are missing. Name the folder that holds them.")
                                    : g_strdup ("Not decided: no log was found. Name the folder that holds them.");
  return g_strdup ("Not decided: some figures are unknown to this version. Use the version that made it.");
}
