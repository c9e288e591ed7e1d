/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "column_memory.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#define HUGE_PAGE ((gsize) 2 << 20)

typedef struct {
  double *values;
  gsize size; /* bytes */
  gboolean in_use;
} Block;

struct SbColumnPool {
  GMutex mutex;
  GArray *blocks; /* Block */
  gatomicrefcount ref_count;
};

SbColumnPool *
sb_column_pool_new (void)
{
  SbColumnPool *pool = g_new0 (SbColumnPool, 1);
  g_mutex_init (&pool->mutex);
  pool->blocks = g_array_new (FALSE, FALSE, sizeof (Block));
  g_atomic_ref_count_init (&pool->ref_count);
  return pool;
}

SbColumnPool *
sb_column_pool_ref (SbColumnPool *pool)
{
  g_atomic_ref_count_inc (&pool->ref_count);
  return pool;
}

void
sb_column_pool_unref (SbColumnPool *pool)
{
  if (pool == NULL || !g_atomic_ref_count_dec (&pool->ref_count))
    return;
  for (guint i = 0; i < pool->blocks->len; i++)
    free (g_array_index (pool->blocks, Block, i).values);
  g_array_unref (pool->blocks);
  g_mutex_clear (&pool->mutex);
  g_free (pool);
}

/* `size` is a whole number of huge pages. */
static double *
allocate (gsize size)
{
  double *values = aligned_alloc (HUGE_PAGE, size);
  if (values == NULL)
    g_error ("No memory for %" G_GSIZE_FORMAT " bytes", size);
  madvise (values, size, MADV_HUGEPAGE);
  return values;
}

/* A free block that fits without wasting half of it. When none does, a free one of another size makes way for the new
 * one, so that a pool never holds more than what was in use at once. */
static double *
take (SbColumnPool *pool, gsize size)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&pool->mutex);
  guint unfit = pool->blocks->len;
  for (guint i = 0; i < pool->blocks->len; i++) {
    Block *block = &g_array_index (pool->blocks, Block, i);
    if (block->in_use)
      continue;
    if (block->size >= size && block->size / 2 <= size) {
      block->in_use = TRUE;
      return block->values;
    }
    unfit = i;
  }
  if (unfit < pool->blocks->len) {
    free (g_array_index (pool->blocks, Block, unfit).values);
    g_array_remove_index_fast (pool->blocks, unfit);
  }
  Block block = { allocate (size), size, TRUE };
  g_array_append_val (pool->blocks, block);
  return block.values;
}

/* FALSE when the values are none of the pool's blocks. */
static gboolean
give_back (SbColumnPool *pool, const double *values)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&pool->mutex);
  for (guint i = 0; i < pool->blocks->len; i++) {
    Block *block = &g_array_index (pool->blocks, Block, i);
    if (block->values == values) {
      block->in_use = FALSE;
      return TRUE;
    }
  }
  return FALSE;
}

double *
sb_column_resize (SbColumnPool *pool, double *old, gsize n_old, gsize n_rows)
{
  gsize size = MAX (n_rows, 1) * sizeof (double);
  if (size < 2 * HUGE_PAGE)
    return g_realloc (old, size);
  gsize rounded = (size + HUGE_PAGE - 1) / HUGE_PAGE * HUGE_PAGE;
  double *values = pool != NULL ? take (pool, rounded) : allocate (rounded);
  if (old != NULL)
    memcpy (values, old, n_old * sizeof *values);
  sb_column_free (pool, old);
  return values;
}

void
sb_column_free (SbColumnPool *pool, double *values)
{
  if (pool == NULL || !give_back (pool, values))
    free (values);
}
