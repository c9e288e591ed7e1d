/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of the element whose id is SB_PROOF_ID; in a page, of the script element that is written there. */
#include "proof_carriers.h"
#include "proof_file.h"

#include <string.h>

typedef struct {
  guint depth; /* of elements within the one that holds the proof, itself included; 0: outside */
  gboolean is_over;
  GString *text;
} Search;

static void
on_start (GMarkupParseContext *context, const char *element, const char **names, const char **values,
          gpointer user_data, GError **error)
{
  Search *search = user_data;
  gboolean is_ours = FALSE;
  for (gsize i = 0; names[i] != NULL; i++)
    is_ours = is_ours || (strcmp (names[i], "id") == 0 && strcmp (values[i], SB_PROOF_ID) == 0);
  if (search->depth > 0 || (is_ours && !search->is_over))
    search->depth++;
}

static void
on_end (GMarkupParseContext *context, const char *element, gpointer user_data, GError **error)
{
  Search *search = user_data;
  if (search->depth > 0 && --search->depth == 0)
    search->is_over = TRUE;
}

static void
on_text (GMarkupParseContext *context, const char *text, gsize length, gpointer user_data, GError **error)
{
  Search *search = user_data;
  if (search->depth > 0)
    g_string_append_len (search->text, text, (gssize) length);
}

#define PIECE ((gsize) 65536)

char *
sb_proof_from_svg (const char *bytes, gsize n_bytes, GError **error)
{
  static const GMarkupParser parser = { .start_element = on_start, .end_element = on_end, .text = on_text };
  g_autoptr (GString) text = g_string_new (NULL);
  Search search = { .text = text };
  g_autoptr (GMarkupParseContext) context
      = g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, &search, NULL);
  /* The parser knows no byte order mark. Piece by piece: the proof stands first, the drawing behind it is not looked
   * at. */
  gsize start = n_bytes >= 3 && memcmp (bytes, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
  for (gsize at = start; at < n_bytes && !search.is_over; at += PIECE)
    if (!g_markup_parse_context_parse (context, bytes + at, (gssize) MIN (PIECE, n_bytes - at), NULL))
      break;
  if (search.is_over)
    return g_string_free (g_steal_pointer (&text), FALSE);
  if (search.depth > 0)
    g_set_error_literal (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED,
                         "the part of the drawing that holds its proof is cut off or is no XML");
  return NULL;
}

char *
sb_proof_from_page (const char *bytes, gsize n_bytes, GError **error)
{
  const char *tag = memmem (bytes, n_bytes, SB_PROOF_PAGE_TAG, strlen (SB_PROOF_PAGE_TAG));
  if (tag == NULL)
    return NULL;
  const char *text = tag + strlen (SB_PROOF_PAGE_TAG);
  const char *end = memchr (text, '<', n_bytes - (gsize) (text - bytes));
  if (end == NULL)
    g_set_error_literal (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED, "the page is cut off within its proof");
  return end != NULL ? g_strndup (text, (gsize) (end - text)) : NULL;
}
