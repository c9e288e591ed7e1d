/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The changes a person can make in the window, each one named step of the history. An edit that changes nothing is no
 * step. */
#pragma once

#include "cut_steps.h"
#include "document.h"

typedef enum {
  SB_SIDE_REFERENCE,
  SB_SIDE_OTHER,
} SbSide;

void sb_edit_set_drawn (SbDocument *document, guint configuration, gboolean drawn);
void sb_edit_rename (SbDocument *document, guint configuration, const char *name); /* a blank name is no name */
void sb_edit_set_style (SbDocument *document, guint configuration, guint style);
void sb_edit_set_role (SbDocument *document, guint configuration, SbSide role, gboolean on);
void sb_edit_remove (SbDocument *document, guint configuration);
void sb_edit_include (SbDocument *document, guint configuration, guint trial, gboolean included);
void sb_edit_set_reason (SbDocument *document, guint configuration, guint trial, const char *reason); /* why left out */
void sb_edit_include_all (SbDocument *document, guint configuration);

/* Cut by hand: in place of every trial of the log `path`. */
void sb_edit_cut_at (SbDocument *document, guint configuration, const char *path, const SbCut *cuts, gsize n);
void sb_edit_join (SbDocument *document, guint configuration, guint trial); /* back to the whole log */
void sb_edit_set_steps (SbDocument *document, SbStepsChoice steps);

void sb_edit_show_panel (SbDocument *document, SbPanel panel, gboolean shown); /* the last one stays */
void sb_edit_set_band (SbDocument *document, SbBandKind band);
void sb_edit_set_trial_lines (SbDocument *document, gboolean shown);
void sb_edit_set_drive_model (SbDocument *document, gboolean fitted);
void sb_edit_set_title (SbDocument *document, const char *title);
void sb_edit_set_export (SbDocument *document, const SbPaper *paper, SbChartFormat format);
void sb_edit_set_view (SbDocument *document, double from_s, double to_s); /* NaN: all */
