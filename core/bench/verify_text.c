/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verify.h"

#include "verify_choices.h"
#include "verify_words.h"

#include <string.h>

static const char *
plural (gsize n)
{
  return n == 1 ? "" : "s";
}

static char *
say_made (const SbVerification *verification)
{
  const SbProof *proof = verification->proof;
  g_autofree char *version = g_utf8_make_valid (proof->version, -1);
  g_autofree char *by
      = sb_verify_is_of_this_version (verification)
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
  g_autofree char *differing = sb_verify_measures_that_differ (verification);
  GString *text = g_string_new (NULL);
  g_string_append_printf (text,
                          "Of %" G_GSIZE_FORMAT " figure%s, %" G_GSIZE_FORMAT " come%s out the same to the last "
                          "bit",
                          n, plural (n), verification->n_to_the_bit, verification->n_to_the_bit == 1 ? "s" : "");
  if (verification->n_as_printed > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " the same as printed and not to the last bit",
                            verification->n_as_printed);
  if (verification->n_differ > 0)
    g_string_append_printf (text, ", %" G_GSIZE_FORMAT " otherwise%s", verification->n_differ, differing);
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
    return g_strdup_printf ("It is not what the choices give. %s", what);
  case SB_PICTURE_EDITED:
    return g_strdup_printf ("It is not as it was written. %s", what);
  }
  g_assert_not_reached ();
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
  words->outcome = sb_verify_outcome_text (verification);
  words->details = sb_verify_details (verification);
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
