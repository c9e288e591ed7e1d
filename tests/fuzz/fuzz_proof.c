/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes -> the readers of proofs: PNG, SVG, PDF, page, JSON. What is taken names no file outside of its folder and
 * makes a bench or says why not; what is not taken is explained in words. */
#include "broken.h"
#include "fuzz_target.h"
#include "proof_file.h"
#include "proof_names.h"

#include <string.h>

static void
check_error (const GError *error)
{
  if (error == NULL || error->message[0] == '\0' || !g_utf8_validate (error->message, -1, NULL))
    broken ("refused without words");
}

static void
check_logs (const SbProof *proof)
{
  for (guint i = 0; i < proof->logs->len; i++) {
    const SbProofLog *log = g_ptr_array_index (proof->logs, i);
    if (!sb_proof_name_is_safe (log->file) || strlen (log->sha256) != 64)
      broken ("a log that could lie anywhere");
  }
}

static void
check_figures (const SbProof *proof)
{
  for (guint i = 0; i < proof->figures->len; i++) {
    const SbProofFigure *figure = &g_array_index (proof->figures, SbProofFigure, i);
    if (figure->configuration >= (int) proof->names->len)
      broken ("a figure of no configuration");
    g_autofree char *text = sb_proof_figure_text (figure, figure);
    if (!g_utf8_validate (text, -1, NULL))
      broken ("a figure that is no text");
  }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *bytes = g_malloc (size + 1);
  if (size > 0)
    memcpy (bytes, data, size);
  bytes[size] = '\0';
  g_autoptr (GError) error = NULL;
  g_autoptr (SbProof) proof = sb_proof_read_bytes (bytes, size, &error);
  if (proof == NULL) {
    check_error (error);
    return 0;
  }
  check_logs (proof);
  check_figures (proof);
  g_autoptr (GHashTable) paths = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (SbBench) bench = sb_proof_bench (proof, paths, &error);
  if (bench == NULL)
    check_error (error);
  for (guint c = 0; bench != NULL && c < bench->configurations->len; c++)
    for (guint t = 0; t < sb_bench_configuration (bench, c)->entries->len; t++)
      if (!g_str_has_prefix (sb_configuration_entry (sb_bench_configuration (bench, c), t)->path, "/dev/null/"))
        broken ("a path that the proof chose");
  return 0;
}
