/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "durable_file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <unistd.h>

#define MOST_LINKS 40

char *
sb_durable_file_target (const char *path)
{
  char *target = g_canonicalize_filename (path, NULL);
  for (int i = 0; i < MOST_LINKS; i++) {
    g_autofree char *link = g_file_read_link (target, NULL);
    if (link == NULL)
      break;
    g_autofree char *folder = g_path_get_dirname (target);
    g_free (target);
    target = g_canonicalize_filename (link, folder);
  }
  return target;
}

char *
sb_durable_file_reason (int code, const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *shown = g_filename_display_name (folder);
  switch (code) {
  case ENOSPC:
  case EDQUOT:
    return g_strdup_printf ("there is no room left on the disk of %s", shown);
  case EFBIG:
    return g_strdup_printf ("files in %s may not become as large as this one", shown);
  case EROFS:
  case EACCES:
  case EPERM:
    return g_strdup_printf ("the folder %s may not be written to", shown);
  case ENOENT:
  case ENOTDIR:
    return g_strdup_printf ("the folder %s is not there", shown);
  default:
    return g_strdup_printf ("it could not be written in %s (%s)", shown, g_strerror (code));
  }
}

static gboolean
fail (GError **error, int code, const char *path)
{
  g_autofree char *text = sb_durable_file_reason (code, path);
  g_set_error_literal (error, G_FILE_ERROR, (int) g_file_error_from_errno (code), text);
  return FALSE;
}

/* Some file systems know no such thing, and say so: there is nothing to be brought to the disk then. */
static gboolean
sync_to_disk (int fd)
{
  return fsync (fd) == 0 || errno == EINVAL || errno == ENOTSUP || errno == EROFS;
}

static gboolean
write_whole (int fd, const char *text, gsize n_bytes)
{
  while (n_bytes > 0) {
    ssize_t n = write (fd, text, n_bytes);
    if (n < 0 && errno == EINTR)
      continue;
    if (n <= 0)
      return FALSE;
    text += n;
    n_bytes -= (gsize) n;
  }
  return TRUE;
}

/* What the old file was to its users, the new one is. Another owner is kept where the system lets it: else the new file
 * is the writer's, as everywhere. */
static gboolean
take_over (int fd, const struct stat *old)
{
  if (fchown (fd, old->st_uid, old->st_gid) != 0 && fchown (fd, (uid_t) -1, old->st_gid) != 0 && errno != EPERM)
    return FALSE;
  return fchmod (fd, old->st_mode & 07777) == 0;
}

struct SbDurableFile {
  char *target, *temporary; /* temporary NULL: it is in its place */
  int fd;                   /* -1: closed */
  int code;                 /* errno of the first thing in the way; 0: none */
};

static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  if (fd < 0)
    return; /* a folder that may be written to but not read; the file itself is on the disk */
  sync_to_disk (fd);
  close (fd);
}

static gboolean
refuse_protected (const char *target, GError **error)
{
  g_autofree char *shown = g_filename_display_name (target);
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_ACCES, "the file %s is write-protected", shown);
  return FALSE;
}

SbDurableFile *
sb_durable_file_begin (const char *path, GError **error)
{
  g_autofree char *target = sb_durable_file_target (path);
  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *temporary = g_build_filename (folder, ".slewbench-XXXXXX", NULL);
  struct stat old;
  gboolean is_there = stat (target, &old) == 0;
  if (is_there && ((old.st_mode & 0222) == 0 || access (target, W_OK) != 0)) {
    refuse_protected (target, error);
    return NULL;
  }
  int fd = g_mkstemp_full (temporary, O_WRONLY | O_CLOEXEC, 0666);
  if (fd < 0) {
    fail (error, errno, target);
    return NULL;
  }
  SbDurableFile *file = g_new0 (SbDurableFile, 1);
  *file = (SbDurableFile){ g_steal_pointer (&target), g_steal_pointer (&temporary), fd, 0 };
  if (is_there && !take_over (fd, &old))
    file->code = errno;
  return file;
}

int
sb_durable_file_append (SbDurableFile *file, const void *bytes, gsize n_bytes)
{
  if (file->code == 0 && !write_whole (file->fd, bytes, n_bytes))
    file->code = errno;
  return file->code;
}

gboolean
sb_durable_file_finish (SbDurableFile *file, GError **error)
{
  if (file->code == 0 && !sync_to_disk (file->fd))
    file->code = errno;
  int closed = close (file->fd);
  file->fd = -1;
  if (closed != 0 && file->code == 0)
    file->code = errno; /* network folders say so only now */
  if (file->code == 0 && g_rename (file->temporary, file->target) != 0)
    file->code = errno;
  int code = file->code;
  if (code == 0) {
    g_clear_pointer (&file->temporary, g_free);
    sync_folder (file->target);
  } else {
    fail (error, code, file->target);
  }
  sb_durable_file_drop (file);
  return code == 0;
}

void
sb_durable_file_drop (SbDurableFile *file)
{
  if (file == NULL)
    return;
  if (file->fd >= 0)
    close (file->fd);
  if (file->temporary != NULL)
    g_unlink (file->temporary);
  g_free (file->temporary);
  g_free (file->target);
  g_free (file);
}

gboolean
sb_durable_file_write (const char *path, const char *text, gsize n_bytes, GError **error)
{
  SbDurableFile *file = sb_durable_file_begin (path, error);
  if (file == NULL)
    return FALSE;
  sb_durable_file_append (file, text, n_bytes);
  return sb_durable_file_finish (file, error);
}
