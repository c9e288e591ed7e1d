/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts as JSON: the same members in layout files, among the remembered layouts, in sessions and in results. Format:
 * docs/layout-file.md. */
#pragma once

#include "layout_choice.h"

#include <json-glib/json-glib.h>

typedef enum {
  SB_LAYOUT_FILE_ERROR_READ,    /* no layouts, or a member that is unknown or of a wrong value */
  SB_LAYOUT_FILE_ERROR_VERSION, /* written by a later version whose format this one cannot read */
  SB_LAYOUT_FILE_ERROR_WRITE,
} SbLayoutFileError;

#define SB_LAYOUT_FILE_ERROR (sb_layout_file_error_quark ())
GQuark sb_layout_file_error_quark (void);

/* Adds `choice` as an object to the list or member being built. */
void sb_layout_choice_build (JsonBuilder *builder, const SbLayoutChoice *choice);

/* The same for a list of SbLayoutChoice. */
void sb_layout_choices_build (JsonBuilder *builder, const GPtrArray *choices);

/* A member that is not known: */
typedef enum {
  SB_UNKNOWN_MEMBERS_REFUSED, /* a slip of the pen must not silently change how a log is read */
  SB_UNKNOWN_MEMBERS_PASSED,  /* a later version wrote it, in a session that keeps it */
} SbUnknownMembers;

/* NULL with an error in SB_LAYOUT_FILE_ERROR that names the member and what it may be. (transfer full) */
SbLayoutChoice *sb_layout_choice_parse (JsonNode *node, SbUnknownMembers unknown, GError **error);

/* SbLayoutChoice, of a JSON list. (transfer full) */
GPtrArray *sb_layout_choices_parse (JsonNode *node, SbUnknownMembers unknown, GError **error);

/* An empty list of SbLayoutChoice. (transfer full) */
GPtrArray *sb_layout_choices_new (void);
