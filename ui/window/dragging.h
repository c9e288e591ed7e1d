/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Configurations and trials dragged about in the list of configurations. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

/* What is dragged; it goes nowhere but to rows of its own document. */
#define SB_TYPE_DRAGGED (sb_dragged_get_type ())
G_DECLARE_FINAL_TYPE (SbDragged, sb_dragged, SB, DRAGGED, GObject)

/* `trials` (guint, sorted; taken over) are those of the configuration that are dragged; NULL: it is itself. */
SbDragged *sb_dragged_new (SbDocument *document, guint configuration, GArray *trials);

/* What to drag from the widget at this place; NULL: nothing. (transfer full) */
typedef SbDragged *(*SbDragBegin) (GtkWidget *widget, gpointer user_data);
void sb_dragging_offer (GtkWidget *widget, SbDragBegin begin, gpointer user_data);

/* `row` shows configuration *index, which may change: configurations are put before or behind it, trials into it. */
void sb_dragging_accept (GtkWidget *row, SbDocument *document, const guint *index);
