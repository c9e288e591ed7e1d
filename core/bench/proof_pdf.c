/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keywords of the document information (ISO 32000-1, 14.3.3), which every reader shows. The string is looked for as
 * it is written (7.3.4): a literal one in brackets, or a hexadecimal one of UTF-16. No other part of the file is
 * followed. A file whose objects another program packed into streams shows none. */
#include "proof_carriers.h"
#include "proof_file.h"

#include <string.h>

#define KEY   "/Keywords"
#define START "{\"slewbench_proof\""

typedef struct {
  const char *at, *end;
} Place;

/* Up to three octal digits, the first of which is at `place`. */
static char
read_octal (Place *place)
{
  int value = 0;
  for (int i = 0; i < 3 && place->at < place->end && *place->at >= '0' && *place->at <= '7'; i++)
    value = value * 8 + (*place->at++ - '0');
  return (char) value;
}

/* What stands behind a backslash. */
static void
read_escape (Place *place, GString *text)
{
  static const char letters[] = "nrtbf", meanings[] = "\n\r\t\b\f";
  if (place->at == place->end)
    return;
  if (*place->at >= '0' && *place->at <= '7') {
    g_string_append_c (text, read_octal (place));
    return;
  }
  char c = *place->at++;
  const char *letter = c != '\0' ? strchr (letters, c) : NULL;
  if (letter != NULL)
    g_string_append_c (text, meanings[letter - letters]);
  else if (c != '\n' && c != '\r') /* else the line goes on */
    g_string_append_c (text, c);
}

/* The string that begins behind the bracket at place->at - 1; FALSE when it does not end. */
static gboolean
read_literal (Place *place, GString *text)
{
  guint depth = 1;
  while (place->at < place->end) {
    char c = *place->at++;
    if (c == '\\') {
      read_escape (place, text);
      continue;
    }
    if (c == '(')
      depth++;
    else if (c == ')' && --depth == 0)
      return TRUE;
    g_string_append_c (text, c);
  }
  return FALSE;
}

static gboolean
read_hexadecimal (Place *place, GString *text)
{
  int high = -1;
  while (place->at < place->end && *place->at != '>') {
    int digit = g_ascii_xdigit_value (*place->at++);
    if (digit < 0)
      continue;
    if (high >= 0)
      g_string_append_c (text, (char) (high * 16 + digit));
    high = high >= 0 ? -1 : digit;
  }
  return place->at < place->end;
}

/* Bytes of UTF-16 with its mark (FE FF) as UTF-8, others as they are; NULL when they make no sense. */
static char *
to_utf8 (const GString *text)
{
  if (text->len < 2 || memcmp (text->str, "\xfe\xff", 2) != 0)
    return g_strndup (text->str, text->len);
  return g_convert (text->str + 2, (gssize) text->len - 2, "UTF-8", "UTF-16BE", NULL, NULL, NULL);
}

/* The next value of the key that is a string; NULL when there is none. *ends is FALSE for one that is cut off. */
static char *
next_keywords (Place *place, gboolean *ends)
{
  const char *key;
  *ends = TRUE;
  while ((key = memmem (place->at, (gsize) (place->end - place->at), KEY, strlen (KEY))) != NULL) {
    place->at = key + strlen (KEY);
    while (place->at < place->end && g_ascii_isspace (*place->at))
      place->at++;
    if (place->at == place->end)
      return NULL;
    char opening = *place->at++;
    if (opening != '(' && opening != '<')
      continue;
    g_autoptr (GString) text = g_string_new (NULL);
    *ends = opening == '(' ? read_literal (place, text) : read_hexadecimal (place, text);
    char *utf8 = to_utf8 (text);
    if (utf8 != NULL || !*ends)
      return utf8;
  }
  return NULL;
}

char *
sb_proof_from_pdf (const char *bytes, gsize n_bytes, GError **error)
{
  Place place = { bytes, bytes + n_bytes };
  g_autofree char *found = NULL;
  gboolean ends = TRUE;
  /* A program that changes a file may write the information anew behind the old one: the last counts. */
  while (ends) {
    g_autofree char *text = next_keywords (&place, &ends);
    if (text == NULL)
      break;
    if (!g_str_has_prefix (text, START))
      continue;
    if (!ends) {
      g_set_error_literal (error, SB_PROOF_ERROR, SB_PROOF_ERROR_DAMAGED, "the document is cut off within its proof");
      return NULL;
    }
    g_free (found);
    found = g_steal_pointer (&text);
  }
  return g_steal_pointer (&found);
}
