/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "log_reader.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK_SIZE ((gsize) 1 << 20)

static gboolean
fail_to_open (const char *path, const char *why, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, SB_LOG_ERROR, SB_LOG_ERROR_OPEN, "%s: %s.", shown, why);
  return FALSE;
}

static gboolean
fail_by_errno (const char *path, int number, GError **error)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return fail_to_open (path, "there is no such file. Check the name and the folder", error);
  case EACCES:
  case EPERM:
    return fail_to_open (path, "you may not read this file. Ask its owner for permission or copy it", error);
  default: {
    g_autofree char *why
        = g_strdup_printf ("the file cannot be read (%s). Copy it to this computer and try again", g_strerror (number));
    return fail_to_open (path, why, error);
  }
  }
}

/* Closed by the caller when *fd is not -1. */
static gboolean
open_regular (const char *path, int *fd, guint64 *size, GError **error)
{
  struct stat facts;
  /* Opening a pipe nobody writes to must not wait. */
  *fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (*fd < 0 || fstat (*fd, &facts) < 0)
    return fail_by_errno (path, errno, error);
  if (S_ISDIR (facts.st_mode))
    return fail_to_open (path, "this is a folder. Choose a log file in it", error);
  if (!S_ISREG (facts.st_mode))
    return fail_to_open (path, "this is no ordinary file. Save the log to a file first", error);
  *size = (guint64) facts.st_size;
  return TRUE;
}

/* Reads until the end of the file. */
static gboolean
read_blocks (SbLogReader *reader, int fd, const char *path, guint64 size, GCancellable *cancellable,
             SbProgressFunc progress, gpointer user_data, GError **error)
{
  guint64 n_read = 0;
  for (;;) {
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
    ssize_t n = read (fd, sb_log_reader_get_room (reader, BLOCK_SIZE), BLOCK_SIZE);
    if (n < 0 && errno == EINTR)
      continue;
    if (n < 0)
      return fail_by_errno (path, errno, error);
    if (n == 0)
      return TRUE;
    if (!sb_log_reader_take (reader, (gsize) n, error))
      return FALSE;
    n_read += (guint64) n;
    if (progress != NULL)
      progress (size > 0 ? MIN ((double) n_read / (double) size, 1.0) : 1.0, user_data);
  }
}

static SbLog *
read_file (const char *path, SbColumnPool *pool, GCancellable *cancellable, SbProgressFunc progress, gpointer user_data,
           GError **error)
{
  int fd = -1;
  guint64 size = 0;
  SbLog *log = NULL;
  g_return_val_if_fail (path != NULL, NULL);
  if (open_regular (path, &fd, &size, error)) {
    g_autoptr (SbLogReader) reader = sb_log_reader_new (path, size, pool);
    if (read_blocks (reader, fd, path, size, cancellable, progress, user_data, error))
      log = sb_log_reader_finish (reader, error);
  }
  if (fd >= 0)
    close (fd);
  return log;
}

SbLog *
sb_log_read (const char *path, GCancellable *cancellable, SbProgressFunc progress, gpointer user_data, GError **error)
{
  return read_file (path, NULL, cancellable, progress, user_data, error);
}

SbLog *
sb_log_read_pooled (const char *path, SbColumnPool *pool, GCancellable *cancellable, GError **error)
{
  return read_file (path, pool, cancellable, NULL, NULL, error);
}

SbLog *
sb_log_read_with (const char *path, const SbReadOptions *options, GCancellable *cancellable, SbProgressFunc progress,
                  gpointer user_data, GError **error)
{
  SbColumnPool *pool = options != NULL ? options->pool : NULL;
  g_autoptr (SbLog) log = read_file (path, pool, cancellable, progress, user_data, error);
  if (log == NULL)
    return NULL;
  g_autoptr (SbProposal) proposal = sb_propose_file (path, options != NULL ? options->fixed : NULL, cancellable, error);
  if (proposal == NULL)
    return NULL;
  log->layout = sb_layout_ref (options != NULL && options->layout != NULL ? options->layout : proposal->layout);
  return g_steal_pointer (&log);
}

SbLog *
sb_log_read_memory (const char *name, const char *bytes, gsize n_bytes, gsize block_size, GError **error)
{
  g_autoptr (SbLogReader) reader = sb_log_reader_new (name, n_bytes, NULL);
  gsize step = block_size > 0 ? block_size : BLOCK_SIZE;
  g_return_val_if_fail (name != NULL && (bytes != NULL || n_bytes == 0), NULL);
  for (gsize done = 0; done < n_bytes; done += step) {
    gsize n = MIN (step, n_bytes - done);
    memcpy (sb_log_reader_get_room (reader, n), bytes + done, n);
    if (!sb_log_reader_take (reader, n, error))
      return NULL;
  }
  return sb_log_reader_finish (reader, error);
}
