/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document, taken apart: for the files document*.c only. */
#pragma once

#include "adding.h"
#include "document.h"
#include "due_cut.h"
#include "history.h"
#include "loader.h"

struct _SbDocument {
  GObject parent_instance;
  SbHistory *history;
  SbAnalysis *results;
  gboolean complete; /* the results are of every log */
  SbLoader *loader;
  GCancellable *cancellable;
  SbAdding *adding;
  char *path;
  char *digest; /* of that file when it was last read or written here (session.h); NULL: not known */
  guint n_saving;
  SbFolderWatch *watch;
  GPtrArray *passed_over; /* char *, when it was read or saved; NULL: it was not */
  SbNews *news;
  SbDueCut due_cut;
};

void sb_document_follow_choices (SbDocument *document); /* they have changed: results are on their way */
void sb_document_expect_cut (SbDocument *document);     /* logs came, or are to be cut from now on */
void sb_document_tell_changed (SbDocument *document);   /* name, saved mark or history */
void sb_document_tell_failure (SbDocument *document, const char *what);
