/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "news.h"

#define MOST_ITEMS 8
/* Names in one item; beyond, their number says enough. */
#define MOST_NAMES 6

static void
item_free (gpointer data)
{
  SbNewsItem *item = data;
  g_free (item->path);
  g_free (item->subject);
  g_free (item->text);
  g_free (item);
}

SbNews *
sb_news_new (void)
{
  SbNews *news = g_new0 (SbNews, 1);
  news->items = g_ptr_array_new_with_free_func (item_free);
  news->missing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  news->failing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  return news;
}

void
sb_news_free (SbNews *news)
{
  g_ptr_array_unref (news->items);
  g_hash_table_unref (news->missing);
  g_hash_table_unref (news->failing);
  g_free (news);
}

static guint
count (const char *const *paths)
{
  return g_strv_length ((char **) (gsize) paths); /* reads only */
}

char *
sb_news_subject (const char *const *paths)
{
  guint n = count (paths);
  return n == 1 ? g_filename_display_basename (paths[0]) : g_strdup_printf ("%u logs", n);
}

static void
forget (SbNews *news, const char *path)
{
  for (guint i = 0; i < news->items->len; i++) {
    const SbNewsItem *item = g_ptr_array_index (news->items, i);
    if (g_str_equal (item->path, path))
      g_ptr_array_remove_index (news->items, i--);
  }
}

static void
append_names (GString *text, const char *const *paths)
{
  guint n = count (paths);
  for (guint i = 0; n > 1 && i < n && i < MOST_NAMES; i++) {
    g_autofree char *name = g_filename_display_basename (paths[i]);
    g_string_append_printf (text, "%s%s", i == 0 ? ": " : ", ", name);
  }
  if (n > MOST_NAMES)
    g_string_append (text, ", …");
}

void
sb_news_tell (SbNews *news, const char *const *paths, const char *did)
{
  SbNewsItem *item = g_new0 (SbNewsItem, 1);
  item->path = g_strdup (paths[0]);
  item->subject = sb_news_subject (paths);
  g_autoptr (GString) text = g_string_new (item->subject);
  g_string_append_printf (text, " %s", did);
  append_names (text, paths);
  item->text = g_string_free (g_steal_pointer (&text), FALSE);
  forget (news, paths[0]);
  g_ptr_array_insert (news->items, 0, item);
  if (news->items->len > MOST_ITEMS)
    g_ptr_array_set_size (news->items, MOST_ITEMS);
}
