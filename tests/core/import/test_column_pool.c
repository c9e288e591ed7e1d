/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of the column memory's contract (column_memory.h), checked by addresses and values. */
#include "close.h"
#include "column_memory.h"
#include "log.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define LONG_COLUMN ((gsize) 1 << 20) /* 8 MiB: pooled */

static int
make_pool (void **state)
{
  *state = sb_column_pool_new ();
  return 0;
}

static int
free_pool (void **state)
{
  sb_column_pool_unref (*state);
  return 0;
}

static void
growing_keeps_the_values (void **state)
{
  double *values = sb_column_resize (*state, NULL, 0, 1000);
  for (gsize i = 0; i < 1000; i++)
    values[i] = (double) i;
  values = sb_column_resize (*state, values, 1000, LONG_COLUMN);
  gsize n_kept = 0;
  for (gsize i = 0; i < 1000; i++)
    n_kept += is_close (values[i], (double) i, 0) ? 1 : 0;
  sb_column_free (*state, values);
  assert_int_equal (n_kept, 1000);
}

static void
memory_given_back_serves_the_next_column (void **state)
{
  double *first = sb_column_resize (*state, NULL, 0, LONG_COLUMN);
  sb_column_free (*state, first);
  double *second = sb_column_resize (*state, NULL, 0, LONG_COLUMN - 1000);
  gboolean same = second == first;
  sb_column_free (*state, second);
  assert_true (same);
}

static void
two_columns_in_use_never_share_memory (void **state)
{
  double *a = sb_column_resize (*state, NULL, 0, LONG_COLUMN);
  double *b = sb_column_resize (*state, NULL, 0, LONG_COLUMN);
  memset (a, 1, LONG_COLUMN * sizeof *a);
  memset (b, 2, LONG_COLUMN * sizeof *b);
  gboolean apart = ((const char *) a)[LONG_COLUMN * sizeof *a - 1] == 1 && ((const char *) b)[0] == 2;
  sb_column_free (*state, a);
  sb_column_free (*state, b);
  assert_true (apart);
}

static void
a_column_twice_as_large_gets_memory_of_its_own_size (void **state)
{
  sb_column_free (*state, sb_column_resize (*state, NULL, 0, LONG_COLUMN));
  double *large = sb_column_resize (*state, NULL, 0, 3 * LONG_COLUMN);
  memset (large, 0, 3 * LONG_COLUMN * sizeof *large); /* a sanitizer would tell */
  sb_column_free (*state, large);
}

static void
a_pooled_log_outlives_the_readers_hold_on_the_pool (void **state)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "sb-pooled-XXXXXX", NULL);
  int fd = g_mkstemp (path);
  assert_true (fd >= 0);
  close (fd);
  assert_true (g_file_set_contents (path, "time_s,torque_Nm\n0,1\n1,2\n", -1, NULL));
  SbColumnPool *pool = sb_column_pool_new ();
  SbLog *log = sb_log_read_pooled (path, pool, NULL, NULL);
  sb_column_pool_unref (pool);
  g_remove (path);
  assert_non_null (log);
  double torque = log->channel[SB_CHANNEL_TORQUE][1];
  sb_log_unref (log);
  assert_close (torque, 2, 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (growing_keeps_the_values, make_pool, free_pool),
    cmocka_unit_test_setup_teardown (memory_given_back_serves_the_next_column, make_pool, free_pool),
    cmocka_unit_test_setup_teardown (two_columns_in_use_never_share_memory, make_pool, free_pool),
    cmocka_unit_test_setup_teardown (a_column_twice_as_large_gets_memory_of_its_own_size, make_pool, free_pool),
    cmocka_unit_test (a_pooled_log_outlives_the_readers_hold_on_the_pool),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
