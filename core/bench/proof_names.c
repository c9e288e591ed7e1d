/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_names.h"

#include <string.h>

/* More folders than this between the shared one and a log say more of a computer than of the logs. */
#define DEEPEST 3

static GPtrArray *
list_paths (const SbBench *bench)
{
  GPtrArray *paths = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    for (guint t = 0; t < configuration->entries->len; t++) {
      char *path = sb_configuration_entry (configuration, t)->path;
      if (g_hash_table_add (seen, path))
        g_ptr_array_add (paths, path);
    }
  }
  return paths;
}

/* Length of the folders that all paths begin with, the last "/" included. */
static gsize
shared_length (const GPtrArray *paths)
{
  const char *first = g_ptr_array_index (paths, 0);
  gsize shared = strlen (first);
  for (guint i = 1; i < paths->len; i++) {
    const char *path = g_ptr_array_index (paths, i);
    gsize same = 0;
    while (same < shared && path[same] == first[same])
      same++;
    shared = same;
  }
  while (shared > 0 && first[shared - 1] != '/')
    shared--;
  return shared;
}

static guint
count_folders (const char *name)
{
  guint n = 0;
  for (const char *c = name; *c != '\0'; c++)
    n += *c == '/' ? 1 : 0;
  return n;
}

/* The file with the folder that it lies in. */
static const char *
last_two (const char *path)
{
  const char *slash = strrchr (path, '/');
  while (slash != NULL && slash > path && slash[-1] != '/')
    slash--;
  return slash != NULL && slash > path ? slash : path + strspn (path, "/");
}

/* Two logs of one name are told apart by a number before it, as a folder. */
static char *
make_unique (char *name, GHashTable *taken)
{
  g_autofree char *wanted = name;
  char *unique = g_strdup (wanted);
  for (guint i = 2; g_hash_table_contains (taken, unique); i++) {
    g_free (unique);
    unique = g_strdup_printf ("%u/%s", i, wanted);
  }
  g_hash_table_add (taken, unique);
  return unique;
}

/* Names that were made once stay as they are, wherever the logs were found. */
static gboolean
has_names (const SbBench *bench)
{
  for (guint c = 0; c < bench->configurations->len; c++) {
    const SbConfiguration *configuration = sb_bench_configuration (bench, c);
    if (configuration->entries->len > 0)
      return sb_configuration_entry (configuration, 0)->found_at != NULL;
  }
  return FALSE;
}

const char *
sb_proof_name_of (const char *path)
{
  return g_str_has_prefix (path, SB_PROOF_SHARED "/") ? path + strlen (SB_PROOF_SHARED "/") : NULL;
}

static GHashTable *
names_of_proof (const GPtrArray *paths)
{
  GHashTable *names = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  for (guint i = 0; i < paths->len; i++) {
    char *path = g_ptr_array_index (paths, i);
    const char *name = sb_proof_name_of (path);
    g_hash_table_insert (names, path, g_strdup (name != NULL ? name : path));
  }
  return names;
}

GHashTable *
sb_proof_names (const SbBench *bench)
{
  g_autoptr (GPtrArray) paths = list_paths (bench);
  if (has_names (bench))
    return names_of_proof (paths);
  GHashTable *names = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  g_autoptr (GHashTable) taken = g_hash_table_new (g_str_hash, g_str_equal);
  gsize shared = paths->len > 0 ? shared_length (paths) : 0;
  guint deepest = 0;
  for (guint i = 0; i < paths->len; i++)
    deepest = MAX (deepest, count_folders ((const char *) g_ptr_array_index (paths, i) + shared));
  for (guint i = 0; i < paths->len; i++) {
    char *path = g_ptr_array_index (paths, i);
    const char *name = deepest > DEEPEST ? last_two (path) : path + shared;
    g_hash_table_insert (names, path, make_unique (g_utf8_make_valid (name, -1), taken));
  }
  return names;
}

gboolean
sb_proof_name_is_safe (const char *name)
{
  if (name[0] == '\0' || name[0] == '/')
    return FALSE;
  g_auto (GStrv) parts = g_strsplit (name, "/", -1);
  for (gsize i = 0; parts[i] != NULL; i++)
    if (parts[i][0] == '\0' || strcmp (parts[i], ".") == 0 || strcmp (parts[i], "..") == 0)
      return FALSE;
  return TRUE;
}
