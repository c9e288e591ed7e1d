/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SHA-256 (FIPS 180-4) of a file as it goes by. */
#pragma once

#include <glib.h>

typedef struct _SbDigest SbDigest;

SbDigest *sb_digest_new (void);
void sb_digest_free (SbDigest *digest);
void sb_digest_add (SbDigest *digest, const char *bytes, gsize n_bytes);

/* Lower-case hexadecimal with a NUL. The digest can only be freed afterwards. */
void sb_digest_finish (SbDigest *digest, char hexadecimal[65]);
