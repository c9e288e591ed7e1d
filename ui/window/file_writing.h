/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files written by a worker, as large pictures and reports take seconds. The program does not end before. */
#pragma once

#include <gio/gio.h>

/* Writes what `data` says; runs in the worker. */
typedef gboolean (*SbFileWriter) (gpointer data, GError **error);

/* `data` (transfer full) lives until `written`, which is called with `owner`, kept until then, has returned. */
void sb_file_write (GObject *owner, SbFileWriter writer, gpointer data, GDestroyNotify data_free,
                    GAsyncReadyCallback written);

/* To be called once, in `written`; gives `data` (borrowed), and whether it is written in *well. */
gpointer sb_file_write_finish (GAsyncResult *result, gboolean *well, GError **error);
