/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, title and reasons as steps of the history. Expected values follow from the units each choice is shown in and
 * from the defaults that bench.h and measure.h state. */
#include "bench_files.h"
#include "choice_edits.h"
#include "edits.h"
#include "point_edits.h"
#include "close.h"
#include "view_edits.h"

#define PATIENCE_S 20

typedef struct {
  char *folder;
  SbDocument *document;
} Fixture;

static gboolean
on_impatience (gpointer late)
{
  *(gboolean *) late = TRUE;
  return G_SOURCE_CONTINUE;
}

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->folder = bench_files_folder_new ();
  fixture->document = sb_document_new ();
  g_autofree char *path = bench_files_write_configuration (fixture->folder, "low", 2, 4);
  const char *const paths[] = { path, NULL };
  sb_document_add (fixture->document, paths);
  gboolean late = FALSE;
  guint source = g_timeout_add_seconds (PATIENCE_S, on_impatience, &late);
  gsize n_done, n_total;
  while (sb_document_busy (fixture->document, &n_done, &n_total) && !late)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  *state = fixture;
  return late ? -1 : 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  sb_document_close (fixture->document);
  gpointer document = fixture->document;
  g_object_add_weak_pointer (G_OBJECT (fixture->document), &document);
  g_object_unref (fixture->document);
  for (int i = 0; document != NULL && i < 500; i++) { /* cancelled workers still hold it for a moment */
    g_usleep (2000);
    while (g_main_context_iteration (NULL, FALSE)) {
    }
  }
  while (g_main_context_iteration (NULL, FALSE)) {
  }
  bench_files_folder_free (fixture->folder);
  g_free (fixture);
  return document == NULL ? 0 : -1;
}

static void
choices_of_a_new_bench_are_the_stated_defaults (void **state)
{
  g_autoptr (SbBench) bench = sb_bench_new ();
  assert_close (sb_choice_get (bench, SB_CHOICE_MARGIN), 5, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_SLOPE_WINDOW), 0, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_SETTLING_BAND), 2, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_SMOOTHING), 0, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_CUTOFF), 0, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_BAND_K), 1, 1e-12);
  assert_close (sb_choice_get (bench, SB_CHOICE_MOVING_BAND), 0, 1e-12);
}

static void
moving_band_of_no_time_is_none_and_keeps_its_window (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_choice (fixture->document, SB_CHOICE_MOVING_BAND, 80);
  assert_true (sb_document_bench (fixture->document)->chart.moving_band);
  assert_close (sb_document_bench (fixture->document)->moving_window_s, 0.08, 1e-15);
  sb_edit_set_choice (fixture->document, SB_CHOICE_MOVING_BAND, 0);
  assert_false (sb_document_bench (fixture->document)->chart.moving_band);
  assert_close (sb_document_bench (fixture->document)->moving_window_s, 0.08, 1e-15);
}

static void
a_choice_is_shown_in_its_unit_and_kept_in_si (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_choice (fixture->document, SB_CHOICE_SLOPE_WINDOW, 2.5);
  sb_edit_set_choice (fixture->document, SB_CHOICE_MARGIN, 10);
  assert_close (sb_document_bench (fixture->document)->measure.slope_window_s, 0.0025, 1e-15);
  assert_close (sb_document_bench (fixture->document)->margin_ratio, 0.1, 1e-15);
  assert_string_equal (sb_document_undo_step (fixture->document), "change the margin of equality");
}

/* All set, each to a number of its own: none lands on another's place. */
static void
each_choice_is_a_step_of_its_own_and_undone_alone (void **state)
{
  Fixture *fixture = *state;
  for (guint i = 0; i < SB_N_CHOICES; i++)
    sb_edit_set_choice (fixture->document, (SbChoice) i, 3 + i);
  for (guint i = 0; i < SB_N_CHOICES; i++)
    assert_close (sb_choice_get (sb_document_bench (fixture->document), (SbChoice) i), 3 + i, 1e-12);
  sb_document_undo (fixture->document);
  assert_close (sb_choice_get (sb_document_bench (fixture->document), SB_CHOICE_MOVING_BAND), 0, 1e-12);
  assert_close (sb_choice_get (sb_document_bench (fixture->document), SB_CHOICE_CUTOFF), 3 + SB_CHOICE_CUTOFF, 1e-12);
}

static void
a_number_out_of_range_becomes_the_nearest_one (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_choice (fixture->document, SB_CHOICE_BAND_K, 99);
  assert_close (sb_document_bench (fixture->document)->band_k, 10, 1e-12);
}

static void
the_same_again_is_no_step (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_title (fixture->document, "Two motors");
  SbBench *bench = sb_document_bench (fixture->document);
  sb_edit_set_title (fixture->document, " Two motors ");
  sb_edit_set_choice (fixture->document, SB_CHOICE_SMOOTHING, 0);
  assert_ptr_equal (sb_document_bench (fixture->document), bench);
}

static void
the_title_is_one_step_and_undone (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_title (fixture->document, "Two motors");
  assert_string_equal (sb_document_bench (fixture->document)->chart.title, "Two motors");
  assert_string_equal (sb_document_undo_step (fixture->document), "change the title");
  sb_document_undo (fixture->document);
  assert_string_equal (sb_document_bench (fixture->document)->chart.title, "");
}

static const SbTrialEntry *
first_entry (Fixture *fixture)
{
  return sb_configuration_entry (sb_bench_configuration (sb_document_bench (fixture->document), 0), 0);
}

static void
a_trial_left_out_takes_a_reason_and_loses_it_when_included (void **state)
{
  Fixture *fixture = *state;
  sb_edit_include (fixture->document, 0, 0, FALSE);
  sb_edit_set_reason (fixture->document, 0, 0, "cable came loose");
  assert_string_equal (first_entry (fixture)->exclusion_reason, "cable came loose");
  assert_string_equal (sb_document_undo_step (fixture->document), "say why run-1.csv is left out");
  sb_edit_set_reason (fixture->document, 0, 0, "  ");
  assert_null (first_entry (fixture)->exclusion_reason);
  sb_document_undo (fixture->document);
  sb_edit_include (fixture->document, 0, 0, TRUE);
  assert_null (first_entry (fixture)->exclusion_reason);
}

static void
a_trial_that_is_included_takes_no_reason (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_reason (fixture->document, 0, 0, "cable came loose");
  assert_null (first_entry (fixture)->exclusion_reason);
}

static void
the_view_is_a_step_named_and_undone (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_chart_view (fixture->document, SB_VIEW_RESPONSE, -1);
  assert_string_not_equal (sb_document_undo_step (fixture->document), "show the response");
  sb_edit_set_chart_view (fixture->document, SB_VIEW_SPREAD, SB_MEASURE_DEAD_TIME);
  assert_string_equal (sb_document_undo_step (fixture->document), "show the spread of the repeats");
  assert_int_equal (sb_document_bench (fixture->document)->chart.measures, 1u << SB_MEASURE_DEAD_TIME);
  sb_document_undo (fixture->document);
  assert_int_equal (sb_document_bench (fixture->document)->chart.view, SB_VIEW_RESPONSE);
  assert_int_equal (sb_document_bench (fixture->document)->chart.measures, 1u << SB_MEASURE_PEAK_TORQUE_SLOPE);
}

static void
the_last_measure_on_the_chart_stays (void **state)
{
  Fixture *fixture = *state;
  sb_edit_show_measure (fixture->document, SB_MEASURE_PEAK_TORQUE_SLOPE, FALSE);
  assert_int_equal (sb_document_bench (fixture->document)->chart.measures, 1u << SB_MEASURE_PEAK_TORQUE_SLOPE);
  sb_edit_show_measure (fixture->document, SB_MEASURE_DEAD_TIME, TRUE);
  assert_string_equal (sb_document_undo_step (fixture->document), "show the dead time");
  sb_edit_show_measure (fixture->document, SB_MEASURE_PEAK_TORQUE_SLOPE, FALSE);
  assert_string_equal (sb_document_undo_step (fixture->document), "hide the peak torque slope");
  assert_int_equal (sb_document_bench (fixture->document)->chart.measures, 1u << SB_MEASURE_DEAD_TIME);
}

static void
what_a_view_shows_are_steps_of_their_own (void **state)
{
  Fixture *fixture = *state;
  sb_edit_set_in_order (fixture->document, TRUE);
  assert_string_equal (sb_document_undo_step (fixture->document), "show the repeats in their order");
  sb_edit_show_excluded (fixture->document, TRUE);
  assert_string_equal (sb_document_undo_step (fixture->document), "show repeats left out");
  sb_edit_set_setting (fixture->document, "damping");
  assert_string_equal (sb_document_undo_step (fixture->document), "sweep over the damping");
  sb_edit_set_difference_only (fixture->document, TRUE);
  assert_string_equal (sb_document_undo_step (fixture->document), "show the difference alone");
  const SbChartChoices *chart = &sb_document_bench (fixture->document)->chart;
  assert_true (chart->in_order && chart->excluded_repeats && chart->difference_only);
  assert_string_equal (chart->setting, "damping");
}

static void
points_are_steps_and_the_same_again_is_none (void **state)
{
  Fixture *fixture = *state;
  const SbPlacedPoint points[] = { { 0, { TRUE, SB_PANEL_TORQUE, SB_POINT_ON_CURVE, 0.01 } },
                                   { 0, { TRUE, SB_PANEL_TORQUE, SB_POINT_ON_CURVE, 0.02 } } };
  sb_edit_set_points (fixture->document, points, 2);
  assert_string_equal (sb_document_undo_step (fixture->document), "put the second point");
  const SbBench *bench = sb_document_bench (fixture->document);
  sb_edit_set_points (fixture->document, points, 2);
  assert_ptr_equal (sb_document_bench (fixture->document), bench);
  sb_edit_set_points (fixture->document, NULL, 0);
  assert_string_equal (sb_document_undo_step (fixture->document), "take the points away");
  bench = sb_document_bench (fixture->document);
  sb_edit_set_points (fixture->document, NULL, 0);
  assert_ptr_equal (sb_document_bench (fixture->document), bench);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (choices_of_a_new_bench_are_the_stated_defaults),
    CASE (a_choice_is_shown_in_its_unit_and_kept_in_si),
    CASE (moving_band_of_no_time_is_none_and_keeps_its_window),
    CASE (each_choice_is_a_step_of_its_own_and_undone_alone),
    CASE (a_number_out_of_range_becomes_the_nearest_one),
    CASE (the_same_again_is_no_step),
    CASE (points_are_steps_and_the_same_again_is_none),
    CASE (the_title_is_one_step_and_undone),
    CASE (a_trial_left_out_takes_a_reason_and_loses_it_when_included),
    CASE (a_trial_that_is_included_takes_no_reason),
    CASE (the_view_is_a_step_named_and_undone),
    CASE (the_last_measure_on_the_chart_stays),
    CASE (what_a_view_shows_are_steps_of_their_own),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
