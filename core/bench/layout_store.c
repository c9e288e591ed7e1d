/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_store.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

char *
sb_layout_store_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "slewbench", "layouts.json", NULL);
}

GPtrArray *
sb_layout_store_list (const char *path, GError **error)
{
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return sb_layout_choices_new ();
  return sb_layout_file_read (path, error);
}

static int
fail (const char *path, const char *what, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);
  g_set_error (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_WRITE,
               "The layouts were not remembered: %s %s (%s). Check that you may write there.", name, what,
               g_strerror (errno));
  return -1;
}

/* A file of its own is locked: the layouts' file is another one after each change. To be closed; -1 with an error. */
static int
lock (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *lock_path = g_strconcat (path, ".lock", NULL);
  if (g_mkdir_with_parents (folder, 0700) != 0)
    return fail (folder, "cannot be made", error);
  int fd = open (lock_path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (fd < 0)
    return fail (lock_path, "cannot be opened", error);
  int status;
  do
    status = flock (fd, LOCK_EX);
  while (status != 0 && errno == EINTR);
  if (status == 0)
    return fd;
  fail (lock_path, "cannot be locked", error);
  close (fd);
  return -1;
}

/* Changes the list; how many layouts it was about, -1 with an error. */
typedef int (*Change) (GPtrArray *choices, gconstpointer data, GError **error);

static int
change_locked (const char *path, Change change, gconstpointer data, GError **error)
{
  g_autoptr (GPtrArray) choices = sb_layout_store_list (path, error);
  int n = choices != NULL ? change (choices, data, error) : -1;
  return n > 0 && !sb_layout_file_write (path, choices, error) ? -1 : n;
}

static int
change_store (const char *path, Change change, gconstpointer data, GError **error)
{
  int fd = lock (path, error);
  if (fd < 0)
    return -1;
  int n = change_locked (path, change, data, error);
  close (fd);
  return n;
}

static int
add_all (GPtrArray *choices, gconstpointer data, GError **error)
{
  const GPtrArray *added = data;
  for (guint a = 0; a < added->len; a++) {
    SbLayoutChoice *choice = g_ptr_array_index (added, a);
    guint i = 0;
    while (i < choices->len && !sb_layout_choice_replaces (choice, g_ptr_array_index (choices, i)))
      i++;
    if (i < choices->len)
      g_ptr_array_remove_index (choices, i);
    g_ptr_array_insert (choices, (int) i, sb_layout_choice_ref (choice));
  }
  return (int) added->len;
}

gboolean
sb_layout_store_remember (const char *path, const GPtrArray *choices, GError **error)
{
  return change_store (path, add_all, choices, error) >= 0;
}

static gboolean
is_called (const SbLayoutChoice *choice, const char *key)
{
  g_autofree char *signature = sb_layout_signature (choice->layout);
  return strcmp (choice->layout->name, key) == 0 || g_str_has_prefix (signature, key);
}

int
sb_layout_store_find (const GPtrArray *choices, const char *key, guint *n)
{
  int found = -1;
  guint n_found = 0;
  for (guint i = 0; key[0] != '\0' && i < choices->len; i++) {
    if (!is_called (g_ptr_array_index (choices, i), key))
      continue;
    found = (int) i;
    n_found++;
  }
  if (n != NULL)
    *n = n_found;
  return n_found == 1 ? found : -1;
}

/* Its index; -1 with `status` 0 when there is none, or -1 and an error when there are several. */
static int
find_one (const GPtrArray *choices, const char *key, int *status, GError **error)
{
  guint n;
  int index = sb_layout_store_find (choices, key, &n);
  *status = n > 1 ? -1 : (int) n;
  if (n > 1)
    g_set_error (error, SB_LAYOUT_FILE_ERROR, SB_LAYOUT_FILE_ERROR_READ,
                 "%u remembered layouts are called '%s'. Write more of the signature.", n, key);
  return index;
}

typedef struct {
  const char *key, *name;
} Renaming;

static int
rename_one (GPtrArray *choices, gconstpointer data, GError **error)
{
  const Renaming *renaming = data;
  int status;
  int index = find_one (choices, renaming->key, &status, error);
  if (index < 0)
    return status;
  SbLayoutChoice *renamed = sb_layout_choice_rename (g_ptr_array_index (choices, index), renaming->name);
  g_ptr_array_remove_index (choices, (guint) index);
  g_ptr_array_insert (choices, index, renamed);
  return status;
}

int
sb_layout_store_rename (const char *path, const char *key, const char *name, GError **error)
{
  Renaming renaming = { key, name };
  return change_store (path, rename_one, &renaming, error);
}

static int
forget_one (GPtrArray *choices, gconstpointer data, GError **error)
{
  int status;
  int index = find_one (choices, data, &status, error);
  if (index >= 0)
    g_ptr_array_remove_index (choices, (guint) index);
  return status;
}

int
sb_layout_store_forget (const char *path, const char *key, GError **error)
{
  return change_store (path, forget_one, key, error);
}
