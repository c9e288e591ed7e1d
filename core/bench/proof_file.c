/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_file.h"

#include "proof_carriers.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

/* No picture that is printed is larger. */
#define LARGEST_BYTES ((gint64) 512 << 20)

typedef char *(*TakeOut) (const char *bytes, gsize n_bytes, GError **error);

gboolean
sb_proof_is_carrier_name (const char *name)
{
  static const char *const endings[] = { ".png", ".svg", ".pdf", ".json", ".html" };
  g_autofree char *lower = g_ascii_strdown (name, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (lower, endings[i]))
      return TRUE;
  return FALSE;
}

static gboolean
begins_with (const char *bytes, gsize n_bytes, const char *text)
{
  return n_bytes >= strlen (text) && g_ascii_strncasecmp (bytes, text, strlen (text)) == 0;
}

/* NULL: none of the kinds. JSON has no proof to be taken out of it: it is read as it is. */
static TakeOut
kind_of (const char *bytes, gsize n_bytes)
{
  if (begins_with (bytes, n_bytes, "\x89PNG\r\n\x1a\n"))
    return sb_proof_from_png;
  if (begins_with (bytes, n_bytes, "%PDF-"))
    return sb_proof_from_pdf;
  if (begins_with (bytes, n_bytes, "<!doctype html"))
    return sb_proof_from_page;
  gsize at = begins_with (bytes, n_bytes, "\xef\xbb\xbf") ? 3 : 0;
  while (at < n_bytes && g_ascii_isspace (bytes[at]))
    at++;
  return at < n_bytes && bytes[at] == '<' ? sb_proof_from_svg : NULL;
}

static gboolean
is_json (const char *bytes, gsize n_bytes)
{
  gsize at = 0;
  while (at < n_bytes && g_ascii_isspace (bytes[at]))
    at++;
  return at < n_bytes && bytes[at] == '{';
}

SbProof *
sb_proof_read_bytes (const char *bytes, gsize n_bytes, GError **error)
{
  TakeOut take_out = kind_of (bytes, n_bytes);
  g_autoptr (GError) cause = NULL;
  g_autofree char *text = take_out != NULL ? take_out (bytes, n_bytes, &cause) : NULL;
  if (text != NULL)
    return sb_proof_parse (text, strlen (text), error);
  if (cause != NULL) {
    g_propagate_error (error, g_steal_pointer (&cause));
    return NULL;
  }
  if (take_out == NULL && is_json (bytes, n_bytes))
    return sb_proof_parse (bytes, n_bytes, error);
  g_set_error (error, SB_PROOF_ERROR, SB_PROOF_ERROR_NONE, "%s",
               take_out != NULL
                   ? "there is no proof inside: it was not made by Slewbench, or another program took it out"
                   : "there is no proof inside: it is neither a PNG, SVG, PDF nor a report's page or JSON");
  return NULL;
}

static gboolean
refuse (GError **error, const char *why)
{
  g_set_error_literal (error, SB_PROOF_ERROR, SB_PROOF_ERROR_READ, why);
  return FALSE;
}

/* Only files proper: a device or a pipe would never end. (transfer full) */
static gboolean
read_whole (const char *path, char **bytes, gsize *n_bytes, GError **error)
{
  GStatBuf facts;
  g_autoptr (GError) cause = NULL;
  if (g_stat (path, &facts) != 0)
    return refuse (error, g_strerror (errno));
  if (!S_ISREG (facts.st_mode))
    return refuse (error, "it is no file");
  if (facts.st_size > LARGEST_BYTES)
    return refuse (error, "it is larger than 512 MB; no chart and no report is");
  return g_file_get_contents (path, bytes, n_bytes, &cause) || refuse (error, cause->message);
}

SbProof *
sb_proof_read_file (const char *path, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path), *bytes = NULL;
  gsize n_bytes = 0;
  SbProof *proof = NULL;
  if (read_whole (path, &bytes, &n_bytes, error))
    proof = sb_proof_read_bytes (bytes, n_bytes, error);
  if (proof == NULL)
    g_prefix_error (error, "%s: ", name);
  return proof;
}
