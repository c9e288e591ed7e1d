/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are something else than a table of text, by their first bytes: what helps is another thing than a look at
 * the header. */
#pragma once

#include <glib.h>

/* What the file that begins with these bytes is and what to do, two sentences without the file's name; NULL when they
 * are those of no such kind. No text begins so. */
const char *sb_file_kind_of_bytes (const char *bytes, gsize n_bytes);

/* The same of JSON, XML and HTML, by the beginning of the text. A log may begin like one all the same: ask when no
 * table was found. */
const char *sb_file_kind_of_text (const char *text, gsize length);

/* The same of a file one of whose lines is `line`: an object of JSON or an element of XML a line has names and numbers,
 * and looks like a header. */
const char *sb_file_kind_of_line (const char *line, gsize length);
