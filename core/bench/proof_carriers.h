/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How each kind of file carries a proof, for proof_file.c. */
#pragma once

#include <glib.h>

/* The text of the proof, NUL at its end; NULL when there is none. With an error in SB_PROOF_ERROR_DAMAGED when there
 * was one that cannot be taken out. (transfer full) */
char *sb_proof_from_png (const char *bytes, gsize n_bytes, GError **error);
char *sb_proof_from_svg (const char *bytes, gsize n_bytes, GError **error);
char *sb_proof_from_pdf (const char *bytes, gsize n_bytes, GError **error);
char *sb_proof_from_page (const char *bytes, gsize n_bytes, GError **error);
