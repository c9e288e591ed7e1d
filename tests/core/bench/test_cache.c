/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a cache keeps while files and layouts change. The work here is a failure: its text tells which one it is. */
#include "bench_fixture.h"
#include "cache.h"
#include "layout_json.h"

static const SbTrialChoices whole = { .onset_s = NAN, .active_end_s = NAN, .from_s = NAN, .to_s = NAN };
static const SbTrialChoices second_half = { .onset_s = NAN, .active_end_s = NAN, .from_s = 1, .to_s = NAN };
static const SbLogReading by_itself = { 0 };

static void
store (BenchFixture *fixture, const SbLogReading *reading, const SbTrialChoices *choices, guint64 moment,
       const char *failure)
{
  SbWorkKey key = { "/bench/a.csv", reading, choices, &fixture->bench->measure };
  SbTrialWork work = { .failure = (char *) (gsize) failure }; /* is copied */
  sb_cache_store (fixture->cache, &key, NULL, moment, &work);
}

/* The failure that is held; NULL: none. */
static const char *
find (BenchFixture *fixture, const SbLogReading *reading, const SbTrialChoices *choices)
{
  SbWorkKey key = { "/bench/a.csv", reading, choices, &fixture->bench->measure };
  SbTrialWork work = { 0 };
  if (!sb_cache_find (fixture->cache, &key, &work))
    return NULL;
  const char *failure = keep (fixture, g_steal_pointer (&work.failure));
  sb_trial_work_clear (&work);
  return failure;
}

/* A worker that began before sb_cache_forget() and ends after it has read the file that was. */
static void
work_on_a_file_that_was_forgotten_meanwhile_is_not_kept (void **state)
{
  BenchFixture *fixture = *state;
  fixture->cache = sb_cache_new ();
  guint64 of_old_worker = sb_cache_moment (fixture->cache);
  sb_cache_forget (fixture->cache, "/bench/a.csv");
  guint64 of_new_worker = sb_cache_moment (fixture->cache);
  store (fixture, &by_itself, &whole, of_new_worker, "of the new file");
  store (fixture, &by_itself, &whole, of_old_worker, "of the old file");
  assert_string_equal (find (fixture, &by_itself, &whole), "of the new file");
}

static void
forgetting_another_file_keeps_work_that_is_under_way (void **state)
{
  BenchFixture *fixture = *state;
  fixture->cache = sb_cache_new ();
  guint64 moment = sb_cache_moment (fixture->cache);
  sb_cache_forget (fixture->cache, "/bench/b.csv");
  store (fixture, &by_itself, &whole, moment, "no table");
  assert_string_equal (find (fixture, &by_itself, &whole), "no table");
}

/* Why a stretch could not be read by one layout says nothing of another layout. */
static void
failure_by_one_layout_is_none_by_another (void **state)
{
  BenchFixture *fixture = *state;
  fixture->cache = sb_cache_new ();
  fixture->layouts = sb_layout_choices_new ();
  g_ptr_array_add (fixture->layouts, sb_layout_choice_new (sb_layout_new (), NULL, FALSE));
  SbLogReading stated = { .layouts = fixture->layouts };
  store (fixture, &by_itself, &whole, 0, "no column is the time");
  store (fixture, &by_itself, &second_half, 0, "no column is the time");
  store (fixture, &stated, &whole, 0, "counts per turn wanted");
  assert_string_equal (find (fixture, &stated, &whole), "counts per turn wanted");
  assert_null (find (fixture, &stated, &second_half));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (work_on_a_file_that_was_forgotten_meanwhile_is_not_kept),
    bench_test (forgetting_another_file_keeps_work_that_is_under_way),
    bench_test (failure_by_one_layout_is_none_by_another),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
