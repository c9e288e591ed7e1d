/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain_text.h"

#include "measure_table.h"

#include <string.h>

static gboolean
is_plain (const char *name)
{
  g_autofree char *plain = sb_plain_sentence (g_strdup (name));
  return strcmp (plain, name) == 0;
}

static gboolean
has_plain_names (const SbBench *bench)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    if (!is_plain (configuration->name))
      return FALSE;
    for (guint t = 0; t < configuration->entries->len; t++)
      if (!is_plain (sb_configuration_entry (configuration, t)->path))
        return FALSE;
  }
  return TRUE;
}

char *
sb_bench_plain_text (const SbBench *bench, char *text)
{
  return has_plain_names (bench) ? sb_plain_sentence (text) : text;
}
