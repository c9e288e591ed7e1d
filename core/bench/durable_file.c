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

static char *
reason (int code, const char *path)
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
  g_autofree char *text = reason (code, path);
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

/* 0, or what was in the way. */
static int
write_beside (const char *temporary, int fd, const char *target, const struct stat *old, const char *text,
              gsize n_bytes)
{
  gboolean well = (old == NULL || take_over (fd, old)) && write_whole (fd, text, n_bytes) && sync_to_disk (fd);
  int code = well ? 0 : errno;
  if (close (fd) != 0 && code == 0)
    code = errno; /* network folders say so only now */
  if (code == 0 && g_rename (temporary, target) != 0)
    code = errno;
  if (code != 0)
    g_unlink (temporary);
  return code;
}

static void
sync_folder (const char *folder)
{
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  if (fd < 0)
    return; /* a folder that may be written to but not read; the file itself is on the disk */
  sync_to_disk (fd);
  close (fd);
}

gboolean
sb_durable_file_write (const char *path, const char *text, gsize n_bytes, GError **error)
{
  g_autofree char *target = sb_durable_file_target (path);
  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *temporary = g_build_filename (folder, ".slewbench-XXXXXX", NULL);
  struct stat old;
  gboolean is_there = stat (target, &old) == 0;
  if (is_there && ((old.st_mode & 0222) == 0 || access (target, W_OK) != 0)) {
    g_autofree char *shown = g_filename_display_name (target);
    g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_ACCES, "the file %s is write-protected", shown);
    return FALSE;
  }
  int fd = g_mkstemp_full (temporary, O_WRONLY | O_CLOEXEC, 0666);
  if (fd < 0)
    return fail (error, errno, target);
  int code = write_beside (temporary, fd, target, is_there ? &old : NULL, text, n_bytes);
  if (code != 0)
    return fail (error, code, target);
  sync_folder (folder);
  return TRUE;
}
