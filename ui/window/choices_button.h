/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A button that opens the numbers a person can choose: a field each, with its unit. */
#pragma once

#include "document.h"

#include <gtk/gtk.h>

#define SB_TYPE_CHOICES_BUTTON (sb_choices_button_get_type ())
G_DECLARE_FINAL_TYPE (SbChoicesButton, sb_choices_button, SB, CHOICES_BUTTON, GtkBox)

GtkWidget *sb_choices_button_new (SbDocument *document);

void sb_choices_button_open (SbChoicesButton *button);
