/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files of JSON that anybody may have written. */
#pragma once

#include <json-glib/json-glib.h>

typedef enum {
  SB_JSON_FILE_ERROR_SYNTAX, /* no JSON, nested beyond all use, or a member is twice in one object */
} SbJsonFileError;

#define SB_JSON_FILE_ERROR (sb_json_file_error_quark ())
GQuark sb_json_file_error_quark (void);

/* FALSE with an error in SB_JSON_FILE_ERROR or G_FILE_ERROR whose message names line and column where there are such.
 */
gboolean sb_json_parse_file (JsonParser *parser, const char *path, GError **error);

/* The same of n_bytes in memory, which a NUL follows; `name` is what a message calls them. */
gboolean sb_json_parse_text (JsonParser *parser, const char *name, const char *text, gsize n_bytes, GError **error);
