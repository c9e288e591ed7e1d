/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_kind.h"

#include <string.h>

#define AS_CSV     "Export the log as CSV text and read that."
#define SAVE_SHEET "Open it in a spreadsheet program, save the sheet with the log as CSV, and read that."
#define UNPACK     "Unpack it and read the logs in it, or pack each log by itself as .gz."
#define VARIABLES                                                                                                      \
  "this is a binary file of a numerics program and no text. Write its variables as CSV text, a column each below its " \
  "name, and read that."
#define JSON "this is JSON and no table of rows. " AS_CSV

/* Ways to write a file that are published, with what their first bytes are. A kind of which `inside` is wanted, too, in
 * the first kilobytes comes before the one that goes without. */
static const struct {
  gsize at;
  const char *bytes;
  gsize n_bytes;
  const char *inside; /* NULL: nothing */
  const char *remedy;
} kinds[] = {
  { 0, "PK\3\4", 4, "opendocument.spreadsheet", "this is a spreadsheet (.ods) and no text. " SAVE_SHEET },
  { 0, "PK\3\4", 4, "[Content_Types].xml",
    "this is a document of an office program (such as .xlsx) and no text. " SAVE_SHEET },
  { 0, "PK\3\4", 4, NULL, "this is a ZIP archive and no text. " UNPACK },
  { 0, "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", 8, NULL,
    "this is a document of an office program (such as .xls) and no text. " SAVE_SHEET },
  { 0, "BZh", 3, "1AY&SY", "this is packed with bzip2. " UNPACK },
  { 0, "\3757zXZ", 6, NULL, "this is packed with xz. " UNPACK },
  { 0, "7z\xbc\xaf\x27\x1c", 6, NULL, "this is a 7z archive and no text. " UNPACK },
  { 0, "\x89HDF\r\n\x1a\n", 8, NULL, "this is a binary HDF5 file and no text. " AS_CSV },
  { 0, "%PDF-", 5, NULL, "this is a PDF document and no text. " AS_CSV },
  { 124, "\0\1IM", 4, NULL, VARIABLES }, /* version and byte order behind 124 letters of description */
  { 124, "\1\0MI", 4, NULL, VARIABLES },
};

#define LOOKED_AT ((gsize) 4096)

static gboolean
begins_with (const char *bytes, gsize n_bytes, const char *word, gsize n_word)
{
  return n_bytes >= n_word && memcmp (bytes, word, n_word) == 0;
}

/* Behind blanks and a byte order mark. */
static const char *
first_sign (const char *bytes, gsize *n_bytes)
{
  const char *p = bytes, *end = bytes + *n_bytes;
  if (begins_with (p, *n_bytes, "\xef\xbb\xbf", 3))
    p += 3;
  while (p < end && g_ascii_isspace (*p))
    p++;
  *n_bytes = (gsize) (end - p);
  return p;
}

/* "<!DOCTYPE html>", "<html", "<table>" */
static const char *
markup_remedy (const char *text, gsize length)
{
  static const char *const of_pages[] = { "<!doctype html", "<html", "<head", "<body", "<table" };
  for (gsize i = 0; i < G_N_ELEMENTS (of_pages); i++)
    if (length >= strlen (of_pages[i]) && g_ascii_strncasecmp (text, of_pages[i], strlen (of_pages[i])) == 0)
      return "this is an HTML page and no table of text. " AS_CSV;
  gboolean begins = length >= 2 && (g_ascii_isalpha (text[1]) || text[1] == '?' || text[1] == '!');
  return begins && memchr (text, '>', length) != NULL ? "this is XML and no table of text. " AS_CSV : NULL;
}

/* "{ "a"", "[[1, 2]", "[1.5, 2" or "[{": a bracket alone may stand around a unit or a section's name. */
static gboolean
is_json (const char *text, gsize length)
{
  gsize n_rest = length - 1;
  const char *next = first_sign (text + 1, &n_rest);
  if (n_rest == 0)
    return FALSE;
  if (*text == '{')
    return *next == '"' || *next == '}';
  return *next == '[' || *next == '{' || *next == '"' || *next == '-' || g_ascii_isdigit (*next);
}

const char *
sb_file_kind_of_bytes (const char *bytes, gsize n_bytes)
{
  gsize length = MIN (n_bytes, LOOKED_AT);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++) {
    gsize at = kinds[i].at;
    gboolean same = length > at && begins_with (bytes + at, length - at, kinds[i].bytes, kinds[i].n_bytes);
    const char *inside = kinds[i].inside;
    if (same && (inside == NULL || memmem (bytes, length, inside, strlen (inside)) != NULL))
      return kinds[i].remedy;
  }
  return NULL;
}

const char *
sb_file_kind_of_text (const char *text, gsize length)
{
  length = MIN (length, LOOKED_AT);
  const char *first = first_sign (text, &length);
  if (length > 0 && *first == '<')
    return markup_remedy (first, length);
  return length > 0 && (*first == '{' || *first == '[') && is_json (first, length) ? JSON : NULL;
}

const char *
sb_file_kind_of_line (const char *line, gsize length)
{
  const char *text = first_sign (line, &length);
  if (length > 1 && *text == '{' && is_json (text, length))
    return JSON;
  /* A name in angle brackets has neither. With sanitizers the compiler wants to know that there is a text at all. */
  gboolean is_tag = text != NULL && length > 1 && *text == '<'
                    && (memmem (text, length, "=\"", 2) != NULL || memmem (text, length, "</", 2) != NULL);
  return is_tag ? markup_remedy (text, length) : NULL;
}
