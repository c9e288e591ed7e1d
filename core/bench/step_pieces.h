/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials on their way from one place of a bench to another, sorted by the levels of their steps; for cut_steps.c and
 * cut_by_hand.c alone. */
#pragma once

#include "bench.h"

typedef struct {
  SbTrialEntry entry;
  double base, top; /* levels of the command as written; NaN when not known */
} SbPiece;

/* SbPiece; owns what their entries hold. */
GArray *sb_pieces_new (void);
SbPiece *sb_piece_at (const GArray *pieces, guint index);

/* Adds a piece that is what `from` is, in the stretch from_s..to_s. */
void sb_pieces_add (GArray *pieces, const SbTrialEntry *from, double from_s, double to_s, double base, double top);

/* Another reference to a GRefString, or NULL. */
char *sb_pieces_acquire (char *text);

/* Repeats of one another: the same levels, mirrored where the step goes down. Unknown levels are like one another. */
gboolean sb_pieces_alike (const SbPiece *a, const SbPiece *b);

/* GPtrArray of SbPiece * for each group of like pieces; groups and pieces in the order in which they come. (transfer
 * full) */
GPtrArray *sb_pieces_group (const GArray *pieces);

/* A group's pieces into configuration `index`. */
void sb_pieces_put (SbBench *edited, guint index, const GPtrArray *group);

/* The groups into the configurations named after their levels; new ones are made behind configuration `index`, and
 * counted. The group that is like `home` (may be NULL) goes into that one itself. Gives the name of each group's.
 * (transfer full) */
GPtrArray *sb_pieces_place (SbBench *edited, guint index, const GPtrArray *groups, const SbPiece *home, gsize *n_made);

/* Configuration `index` goes; the configurations `names` that its trials went to take its roles, its style and the logs
 * that join it. `levels` are those of the reference, and are set when this is it. */
void sb_pieces_pass_on (SbBench *edited, guint index, const GPtrArray *groups, const GPtrArray *names, SbPiece *levels);

/* -1 when there is none of that name. */
int sb_pieces_find_configuration (const SbBench *bench, const char *name);

/* "NAME" of "NAME, 0 → 10 N·m". (transfer full) */
char *sb_pieces_name_without_levels (const char *name);
