/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "few_repeats.h"

#include "repeat_curves.h"

/* One configuration while its trials come in. */
typedef struct {
  SbRepeatCurves *curves;
  GPtrArray *trials; /* SbTrialResult, borrowed: of the curves, in their order */
  guint n_left;      /* included trials that have not come yet */
} Few;

static void
few_free (gpointer data)
{
  Few *few = data;
  sb_repeat_curves_free (few->curves);
  g_ptr_array_unref (few->trials);
  g_free (few);
}

GHashTable *
sb_few_repeats_new (void)
{
  return g_hash_table_new_full (NULL, NULL, NULL, few_free);
}

static Few *
few_new (const SbConfigurationResult *configuration)
{
  Few *few = g_new (Few, 1);
  *few = (Few){ sb_repeat_curves_new (), g_ptr_array_new (), 0 };
  for (guint t = 0; t < configuration->trials->len; t++)
    few->n_left += sb_configuration_result_trial (configuration, t)->included ? 1 : 0;
  return few;
}

void
sb_few_repeats_receive (GHashTable *few_repeats, SbConfigurationResult *configuration, SbTrialResult *result,
                        const SbTrial *trial)
{
  Few *few = g_hash_table_lookup (few_repeats, configuration);
  if (few == NULL)
    g_hash_table_insert (few_repeats, configuration, few = few_new (configuration));
  if (trial != NULL) {
    sb_repeat_curves_add (few->curves, trial);
    g_ptr_array_add (few->trials, result);
  }
  if (--few->n_left > 0)
    return;
  if (sb_repeat_curves_distances (few->curves, &configuration->off))
    for (guint i = 0; i < few->trials->len; i++)
      ((SbTrialResult *) g_ptr_array_index (few->trials, i))->off_mean = configuration->off.distance[i];
  g_hash_table_remove (few_repeats, configuration); /* another pass over it begins anew */
}
