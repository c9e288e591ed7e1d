/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The dialect of a file, as fields to choose from: each says what was found, and can be fixed to something else; and
 * the sample rate of rows without a time. */
#pragma once

#include "import_draft.h"

#include <gtk/gtk.h>

/* Signal "changed" (): the person fixed something, or let it go. */
#define SB_TYPE_DIALECT_FIELDS (sb_dialect_fields_get_type ())
G_DECLARE_FINAL_TYPE (SbDialectFields, sb_dialect_fields, SB, DIALECT_FIELDS, GtkBox)

GtkWidget *sb_dialect_fields_new (void);

/* Shows what is fixed in `draft` and what was found. */
void sb_dialect_fields_show (SbDialectFields *fields, const SbImportDraft *draft, const SbProposal *proposal);

/* The same for the tables of the file, of which reading has met `n_tables`: the head of the file shows the first ones.
 */
void sb_dialect_fields_show_tables (SbDialectFields *fields, const SbImportDraft *draft, const SbProposal *proposal,
                                    guint n_tables);

/* The rate of the rows is asked for where no column is the time. */
void sb_dialect_fields_show_rate (SbDialectFields *fields, const SbImportDraft *draft);

/* Takes over into `draft` what is chosen. */
void sb_dialect_fields_take (SbDialectFields *fields, SbImportDraft *draft);
