/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What happened to the logs on disk while the window was open: for notices. */
#pragma once

#include <glib.h>

typedef struct {
  char *path;    /* of the log, or the first of the logs, that it is about */
  char *subject; /* "run-09.csv", "3 logs" */
  char *text;    /* "run-09.csv joined Bracken low" */
} SbNewsItem;

typedef struct {
  GPtrArray *items;    /* SbNewsItem, the latest first; a few */
  GHashTable *missing; /* set of paths: logs that are no longer there */
  GHashTable *failing; /* path of a folder that cannot be looked into -> why */
} SbNews;

SbNews *sb_news_new (void);
void sb_news_free (SbNews *news);

/* Tells that `paths` (NULL-terminated, at least one) did something: `did` follows "run-09.csv" or "3 logs", and their
 * names follow it when they are several. What was told of the same log before goes. */
void sb_news_tell (SbNews *news, const char *const *paths, const char *did);

/* "run-09.csv", "3 logs". (transfer full) */
char *sb_news_subject (const char *const *paths);
