/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_facts.h"

#include "proof.h"

static char *
title_of (const SbChartModel *model)
{
  if (model->title[0] != '\0')
    return g_strdup (model->title);
  GString *title = g_string_new ("Step response");
  for (guint i = 0; i < model->legend->len; i++)
    g_string_append_printf (title, "%s%s", i == 0 ? ": " : ", ", g_array_index (model->legend, SbLegendEntry, i).text);
  return g_string_free (title, FALSE);
}

void
sb_file_facts_init (SbFileFacts *facts, const SbChartModel *model)
{
  SbProofPicture picture = { model->title, model->paper.width_mm > 0 ? &model->paper : NULL, model->evidence, NULL };
  facts->title = title_of (model);
  facts->description = sb_chart_model_describe (model);
  facts->proof = sb_proof_text (model->analysis, &picture);
}

void
sb_file_facts_clear (SbFileFacts *facts)
{
  g_free (facts->title);
  g_free (facts->description);
  g_free (facts->proof);
}
