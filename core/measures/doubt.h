/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reasons for doubt, and other sentences of the measures: they are made once, with their figures in SI, and written in
 * whatever units are shown. */
#pragma once

#include "units.h"

/* What of a doubt is acted on; what is only told is of the first kind. */
typedef enum {
  SB_DOUBT_TOLD,
  SB_DOUBT_BIAS,     /* noise raised or lowered the figure by about SbMeasure.bias, which verdicts weigh */
  SB_DOUBT_DERIVED,  /* the channel is not logged but derived */
  SB_DOUBT_ONSET,    /* the onset is an estimate */
  SB_DOUBT_IN_NOISE, /* what is measured does not stand above the noise: nothing is told by how large it is */
  SB_DOUBT_CUT_OFF,  /* the sensor may be at the end of its range, and the true value beyond it */
  SB_DOUBT_ONE_MODE, /* of the strongest mode of a ringing, whatever others there are */
  SB_DOUBT_COARSE,   /* it counts from a command's jump, which lies up to SbMeasures.onset_late_s before the onset: by
                      * that it may be off by up to SbMeasure.by_late_onset, which verdicts weigh */
  SB_DOUBT_UNIT,     /* other signals speak against the unit that it is in, which no person has stated: its size is not
                      * known, and no verdict may stand on it */
  SB_DOUBT_STEPS,    /* the steps of the log hide by how much the figure scatters: SbMeasure.resolution */
  SB_DOUBT_EITHER,   /* noise decides at which crest it is read: one of two figures, or several, far apart */
} SbDoubtKind;

typedef struct {
  SbDoubtKind kind;
  char *topic;  /* "raised by noise", what stands before ": ": alike whatever the figures, the measure and the trial */
  char *text;   /* in the units of the measures table: N·m/ms, rad/s */
  char *marked; /* the sentence with its figures as sb_figure() marks them */
} SbDoubt;

/* "0.012 N·m/ms": a figure of a measure (SI), rounded to so many significant digits, as a mark for a sentence that
 * sb_figures_write() is to write. (transfer full) */
char *sb_figure (SbMeasureId id, double value, int digits);

/* The sentence with every mark written in these units; numbers such as 1.4e+03 written out. (transfer full) */
char *sb_figures_write (const char *marked, SbUnits units);

/* A number of trials or samples as such a mark. (transfer full) */
char *sb_count_figure (gsize n);

/* "raised by noise: by about 0.19 to 0.33 rad/s in every repeat": sentences (char *, one at least) that are equal but
 * for marked figures, with each of these from the smallest to the largest, behind "up to" the largest alone. NULL when
 * anything else differs: a number that is not marked may be a name or a version. (transfer full) */
char *sb_figures_write_all (const GPtrArray *marked, SbUnits units);

/* Takes `marked` over. (transfer full) */
SbDoubt *sb_doubt_new (SbDoubtKind kind, char *marked);

/* Of the same kind and topic in another sentence, which it takes over. (transfer full) */
SbDoubt *sb_doubt_reword (const SbDoubt *doubt, char *marked);
void sb_doubt_free (gpointer doubt);

/* (transfer full) */
char *sb_doubt_text (const SbDoubt *doubt, SbUnits units);

/* Doubts of a measure or a summary; `doubts` may be NULL. */
guint sb_doubts_count (const GPtrArray *doubts);
const SbDoubt *sb_doubts_get (const GPtrArray *doubts, guint index);
gboolean sb_doubts_have (const GPtrArray *doubts, SbDoubtKind kind);

/* Some doubt is of another kind than those whose size verdicts weigh: a bias, a coarse onset. */
gboolean sb_doubts_beside_weighed (const GPtrArray *doubts);
