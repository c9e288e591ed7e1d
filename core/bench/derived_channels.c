/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "derived_channels.h"

GPtrArray *
sb_derived_channels (const SbConfigurationResult *configuration)
{
  GPtrArray *clauses = g_ptr_array_new ();
  for (guint t = 0; t < configuration->trials->len; t++) {
    const SbTrialResult *trial = sb_configuration_result_trial (configuration, t);
    for (int c = 0; trial->included && trial->facts != NULL && c < SB_N_CHANNELS; c++) {
      char *clause = trial->facts->derived_words[c];
      if (clause != NULL && !g_ptr_array_find_with_equal_func (clauses, clause, g_str_equal, NULL))
        g_ptr_array_add (clauses, clause);
    }
  }
  return clauses;
}

char *
sb_derived_sentence (const char *clause)
{
  return g_strdup_printf ("%c%s.", g_ascii_toupper (clause[0]), clause + 1);
}
