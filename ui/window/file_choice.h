/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking for files. The answer comes to a callback; nothing comes when the person thinks better of it. What is there is
 * named for saving only when the person was asked whether it may be replaced. */
#pragma once

#include <gtk/gtk.h>

typedef struct {
  const char *title;
  GtkFileChooserAction action;
  gboolean several;
  const char *suggested_name; /* for saving; may be NULL */
  const char *ending;         /* for saving: ".csv", which a name without it gets; may be NULL */
  const char *filter_name;    /* NULL: every file */
  const char *const *patterns;
} SbFileQuestion;

/* `paths` is NULL-terminated and has at least one; borrowed. */
typedef void (*SbFilesChosen) (GtkWindow *parent, const char *const *paths, gpointer user_data);

void sb_file_choice_ask (GtkWindow *parent, const SbFileQuestion *question, SbFilesChosen chosen, gpointer user_data);
