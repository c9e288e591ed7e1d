/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figures of an analysis as one flat list: what a proof records, and what is held against it when it is checked. */
#pragma once

#include "analysis.h"

#include <json-glib/json-glib.h>

#define SB_PROOF_VALUES 4

/* A measure of a configuration (mean, standard deviation, n), or of the comparison (difference, ends of the 95 %
 * interval, corrected p). SI; a value that is not there is NaN. */
typedef struct {
  int configuration; /* index; -1: the comparison */
  SbMeasureId id;
  gboolean present;
  double value[SB_PROOF_VALUES];
  char *verdict; /* of the comparison; else NULL */
} SbProofFigure;

/* What is nearer to zero than this, in SI units, is the dust of sums: no instrument sees it, and where repeats are all
 * alike it would be printed with all its digits. */
#define SB_PROOF_DUST 1e-12

/* (transfer full) */
GArray *sb_proof_figures_new (void);
GArray *sb_proof_figures_of (const SbAnalysis *analysis);

/* The members "figures" and, when there is one, "comparison". */
void sb_proof_figures_build (JsonBuilder *builder, const GArray *figures, const SbAnalysis *analysis);

/* Reads them from the root of a proof. Names of the configurations go to `names` (with a free function); figures of
 * measures that are not known are counted. FALSE when the list is not of the form. */
gboolean sb_proof_figures_read (JsonObject *root, GArray *figures, GPtrArray *names, gsize *n_unknown);

/* "12.30 ± 0.41 rad/s (n = 8)"; "0.31 N·m (0.12 to 0.50, p = 0.002, differs)"; "–". Rounded as tables are, by the
 * spread of `like`. (transfer full) */
char *sb_proof_figure_text (const SbProofFigure *figure, const SbProofFigure *like);
