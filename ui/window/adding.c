/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "adding.h"

#include "paths.h"

/* What a person wants added. */
typedef struct {
  GStrv paths;
  gboolean is_ours;
} Wanted;

struct SbAdding {
  SbDocument *document;
  SbLoader *loader;
  GCancellable *cancellable;
  GQueue *waiting; /* Wanted */
  guint n_running;
};

static void
wanted_free (gpointer data)
{
  Wanted *wanted = data;
  if (wanted != NULL)
    g_strfreev (wanted->paths);
  g_free (wanted);
}

SbAdding *
sb_adding_new (SbDocument *document, SbLoader *loader, GCancellable *cancellable)
{
  SbAdding *adding = g_new0 (SbAdding, 1);
  *adding = (SbAdding){ document, loader, cancellable, g_queue_new (), 0 };
  return adding;
}

void
sb_adding_free (SbAdding *adding)
{
  g_queue_free_full (adding->waiting, wanted_free);
  g_free (adding);
}

/* "add 3 configurations", "add Slope 0.3" */
static char *
name_adding (const SbBench *before, const SbBench *after)
{
  guint n = after->configurations->len - before->configurations->len;
  if (n == 1)
    return g_strdup_printf ("add %s", sb_bench_configuration (after, after->configurations->len - 1)->name);
  return g_strdup_printf ("add %u configurations", n);
}

/* One adding; it keeps its document, and with it the queue. */
typedef struct {
  SbAdding *adding;
  SbDocument *document; /* owned */
  SbBench *base;        /* what it was added to */
  Wanted *wanted;
} Addition;

static void
addition_free (Addition *addition)
{
  sb_bench_unref (addition->base);
  wanted_free (addition->wanted);
  g_object_unref (addition->document);
  g_free (addition);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Addition, addition_free)

static void add_next (SbAdding *adding);

static void
added (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (Addition) addition = user_data;
  SbAdding *adding = addition->adding;
  SbDocument *document = addition->document;
  g_autoptr (GError) error = NULL;
  g_autoptr (SbBench) edited = sb_loader_add_finish (result, &error);
  if (g_cancellable_is_cancelled (adding->cancellable))
    return;
  if (edited != NULL && sb_document_bench (document) != addition->base) {
    /* The person went on meanwhile: add to what stands now. */
    g_queue_push_head (adding->waiting, g_steal_pointer (&addition->wanted));
  } else {
    if (edited != NULL) {
      g_autofree char *step = name_adding (addition->base, edited);
      sb_document_take_added (document, g_steal_pointer (&edited), step, addition->wanted->is_ours);
    }
    if (error != NULL)
      g_signal_emit_by_name (document, "failed", error->message);
  }
  sb_adding_end (adding);
}

static void
add_next (SbAdding *adding)
{
  if (adding->n_running > 0 || g_queue_is_empty (adding->waiting))
    return;
  Addition *addition = g_new0 (Addition, 1);
  addition->adding = adding;
  addition->document = g_object_ref (adding->document);
  addition->base = sb_bench_ref (sb_document_bench (adding->document));
  addition->wanted = g_queue_pop_head (adding->waiting);
  adding->n_running++;
  sb_loader_add_async (adding->loader, addition->base, (const char *const *) addition->wanted->paths,
                       adding->cancellable, added, addition);
}

void
sb_adding_want (SbAdding *adding, const char *const *paths, gboolean is_ours)
{
  if (paths[0] == NULL)
    return;
  Wanted *wanted = g_new (Wanted, 1);
  *wanted = (Wanted){ sb_paths_copy (paths), is_ours };
  g_queue_push_tail (adding->waiting, wanted);
  add_next (adding);
  g_signal_emit_by_name (adding->document, "busy-changed");
}

gboolean
sb_adding_is_busy (const SbAdding *adding)
{
  return adding->n_running > 0;
}

void
sb_adding_clear (SbAdding *adding)
{
  g_queue_clear_full (adding->waiting, wanted_free);
}

void
sb_adding_begin (SbAdding *adding)
{
  adding->n_running++;
  g_signal_emit_by_name (adding->document, "busy-changed");
}

void
sb_adding_end (SbAdding *adding)
{
  adding->n_running--;
  add_next (adding);
  g_signal_emit_by_name (adding->document, "busy-changed");
}
