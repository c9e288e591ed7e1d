/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict_words.h"

#include "session.h"

#include <string.h>

/* SbBench.words has own after usual; the pairs are as few as the verdicts. */
#define PAIR 2

static gboolean
is_among (const char *const *words, gsize n, const char *word)
{
  for (gsize i = 0; i < n; i++)
    if (strcmp (words[i], word) == 0)
      return TRUE;
  return FALSE;
}

const char *const *
sb_verdict_words_usual (void)
{
  static const char *words[3 + 2 * SB_N_AUDIT_VERDICTS + SB_N_CLAIM_VERDICTS + 1];
  static gsize ready = 0;
  if (!g_once_init_enter (&ready))
    return words;
  const char *all[G_N_ELEMENTS (words)]
      = { sb_verdict_words (SB_VERDICT_DIFFERS), sb_verdict_words (SB_VERDICT_PRACTICALLY_EQUAL),
          sb_verdict_words (SB_VERDICT_UNDECIDED) };
  gsize n_all = 3, n = 0;
  for (int range = 0; range < 2; range++)
    for (int v = 1; v <= SB_N_AUDIT_VERDICTS; v++) /* "cannot tell" last */
      all[n_all++] = sb_audit_verdict_words ((SbAuditVerdict) (v % SB_N_AUDIT_VERDICTS), range == 1);
  for (int v = 0; v < SB_N_CLAIM_VERDICTS; v++)
    all[n_all++] = sb_claim_verdict_words ((SbClaimVerdict) v);
  for (gsize i = 0; i < n_all; i++)
    if (!is_among (words, n, all[i]))
      words[n++] = all[i];
  g_once_init_leave (&ready, 1);
  return words;
}

gsize
sb_n_verdict_words (void)
{
  gsize n = 0;
  while (sb_verdict_words_usual ()[n] != NULL)
    n++;
  return n;
}

static const char *
own_word (const SbBench *bench, const char *usual)
{
  for (guint i = 0; bench->words != NULL && i < bench->words->len; i += PAIR)
    if (strcmp (g_ptr_array_index (bench->words, i), usual) == 0)
      return g_ptr_array_index (bench->words, i + 1);
  return NULL;
}

const char *
sb_bench_word (const SbBench *bench, const char *usual)
{
  const char *own = own_word (bench, usual);
  return own != NULL ? own : usual;
}

char *
sb_bench_claim_words (const SbBench *bench, const SbClaimResult *result)
{
  const char *words[SB_N_CLAIM_VERDICTS];
  for (int v = 0; v < SB_N_CLAIM_VERDICTS; v++)
    words[v] = sb_bench_word (bench, sb_claim_verdict_words ((SbClaimVerdict) v));
  return sb_claim_result_words (result, words);
}

char *
sb_bench_claim_reason (const SbBench *bench, const SbClaimSide *side)
{
  const char *usual = sb_claim_verdict_words (side->verdict), *own = sb_bench_word (bench, usual);
  if (own == usual || side->verdict_at == 0)
    return g_strdup (side->reason);
  return g_strdup_printf ("%.*s%s%s", (int) side->verdict_at, side->reason, own,
                          side->reason + side->verdict_at + strlen (usual));
}

static gboolean
wrong (GError **error, const char *what)
{
  g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, what);
  return FALSE;
}

static gboolean
no_verdict (const char *usual, GError **error)
{
  GString *what = g_string_new (NULL);
  g_string_append_printf (what, "'%s' is no verdict; these are: ", usual);
  for (const char *const *word = sb_verdict_words_usual (); *word != NULL; word++)
    g_string_append_printf (what, "%s%s", *word, word[1] != NULL ? "; " : "");
  g_autofree char *text = g_string_free (what, FALSE);
  return wrong (error, text);
}

static gboolean
has_controls (const char *text)
{
  for (; *text != '\0'; text = g_utf8_next_char (text))
    if (g_unichar_iscntrl (g_utf8_get_char (text)))
      return TRUE;
  return FALSE;
}

gboolean
sb_bench_set_word (SbBench *edited, const char *usual, const char *own, GError **error)
{
  const char *const *all = sb_verdict_words_usual ();
  if (!is_among (all, sb_n_verdict_words (), usual))
    return no_verdict (usual, error);
  if (!g_utf8_validate (own, -1, NULL))
    return wrong (error, "the word is not UTF-8");
  g_autofree char *trimmed = g_strstrip (g_strdup (own));
  if (g_utf8_strlen (trimmed, -1) > SB_VERDICT_WORDS_LONGEST || has_controls (trimmed))
    return wrong (error, "a verdict has up to 60 characters on one line");
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);
  for (gsize i = 0; all[i] != NULL; i++) {
    const char *kept = strcmp (all[i], usual) == 0 ? trimmed : own_word (edited, all[i]);
    if (kept == NULL || kept[0] == '\0' || strcmp (kept, all[i]) == 0)
      continue;
    g_ptr_array_add (words, g_strdup (all[i]));
    g_ptr_array_add (words, g_strdup (kept));
  }
  g_clear_pointer (&edited->words, g_ptr_array_unref);
  if (words->len > 0)
    edited->words = words;
  else
    g_ptr_array_unref (words);
  return TRUE;
}

const char *
sb_verdict_words_clash (const SbBench *bench)
{
  for (const char *const *a = sb_verdict_words_usual (); *a != NULL; a++)
    for (const char *const *b = a + 1; *b != NULL; b++)
      if (strcmp (sb_bench_word (bench, *a), sb_bench_word (bench, *b)) == 0)
        return sb_bench_word (bench, *a);
  return NULL;
}

char *
sb_verdict_words_methods (const SbBench *bench)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; bench->words != NULL && i < bench->words->len; i += PAIR)
    g_string_append_printf (text, "%s“%s” stands for “%s”",
                            i == 0                         ? "Of the verdicts, "
                            : i + PAIR < bench->words->len ? ", "
                                                           : " and ",
                            (const char *) g_ptr_array_index (bench->words, i + 1),
                            (const char *) g_ptr_array_index (bench->words, i));
  if (text->len > 0)
    g_string_append (text, ". ");
  return g_string_free (text, FALSE);
}
