/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A watchdog over the main loop of the real window while logs are read, trials toggled, steps undone, views changed and
 * judgements read (watchdog.h).
 *
 *     test_window_main_loop                        a few logs, judged by the time on the processor alone, for a
 *                                                  machine at other work stops any program for long
 *     test_window_main_loop N_LOGS N_ROWS [N_CONFIGURATIONS]
 *                                                  as many as asked for; also judged by the clock on the wall, with the
 *                                                  times to the first and to all curves */
#include "figures_pane.h"
#include "find_widget.h"
#include "folder.h"
#include "look.h"
#include "watchdog.h"
#include "window.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#ifdef __SANITIZE_ADDRESS__
#define SLOWER 5 /* every access is checked */
#else
#define SLOWER 1
#endif
#define LONGEST_MS     (50.0 * SLOWER)
#define FIRST_CURVE_MS 200.0
#define ALL_CURVES_MS  1500.0
#define GIVE_UP_US     (120 * G_TIME_SPAN_SECOND)
#define SKIP           77
#define TURNS          3 /* at most, where the processor's time alone is judged */

static int n_logs = 12, n_rows = 4000, n_configurations = 2;
static gboolean strict;

typedef struct {
  char *folder;
  GtkWidget *window;
  gint64 opened_us;
  double first_ms, all_ms; /* until painted; 0: not yet */
  guint n_late;
} Fixture;

static void
write_log (const char *folder, int index)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,velocity_rad_s,torque_Nm\n");
  for (int i = 0; i < n_rows; i++) {
    double t = i * 5e-4, after = fmax (0, t - 0.05), rise = 1 - exp (-after / 0.01);
    char digits[3][G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd (digits[0], sizeof digits[0], "%.4f", t);
    g_ascii_formatd (digits[1], sizeof digits[1], "%.6f", 40 * after / (1 + after));
    g_ascii_formatd (digits[2], sizeof digits[2], "%.6f", (8 + 0.01 * index) * rise);
    g_string_append_printf (text, "%s,%d,%s,%s\n", digits[0], t >= 0.05 ? 8 : 0, digits[1], digits[2]);
  }
  g_autofree char *name = g_strdup_printf ("%s/run-%03d.csv", folder, index);
  assert_true (g_file_set_contents (name, text->str, (gssize) text->len, NULL));
}

static int
setup (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  *state = fixture;
  fixture->folder = g_dir_make_tmp ("loop-test-XXXXXX", NULL);
  for (int c = 0, each = n_logs / n_configurations; c < n_configurations; c++) {
    g_autofree char *own = g_strdup_printf ("%s/set %03d", fixture->folder, c);
    g_mkdir (own, 0755);
    for (int i = 0; i < each; i++)
      write_log (own, c * each + i);
  }
  return 0;
}

static int
teardown (void **state)
{
  Fixture *fixture = *state;
  if (fixture->window != NULL)
    gtk_window_destroy (GTK_WINDOW (fixture->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  remove_folder (fixture->folder);
  g_free (fixture->folder);
  g_free (fixture);
  return 0;
}

static SbDocument *
document_of (Fixture *fixture)
{
  return sb_window_document (SB_WINDOW (fixture->window));
}

static gboolean
is_done (Fixture *fixture)
{
  return sb_document_results_are_current (document_of (fixture)) && sb_document_results (document_of (fixture)) != NULL
         && sb_document_results (document_of (fixture))->configurations->len > 0;
}

/* The table, the notices and the cards are filled after the curves. */
static void
let_settle (void)
{
  for (int i = 0; i < 60; i++) {
    g_main_context_iteration (NULL, FALSE);
    g_usleep (2000);
  }
}

static void
run_until_done (Fixture *fixture)
{
  gint64 end_us = g_get_monotonic_time () + GIVE_UP_US;
  while (!is_done (fixture) && g_get_monotonic_time () < end_us)
    g_main_context_iteration (NULL, TRUE);
  assert_true (is_done (fixture));
  let_settle ();
}

static void
on_after_paint (GdkFrameClock *clock, Fixture *fixture)
{
  SbAnalysis *results = sb_document_results (document_of (fixture));
  double at_ms = (double) (g_get_monotonic_time () - fixture->opened_us) / 1000;
  if (fixture->opened_us == 0 || results == NULL)
    return;
  if (fixture->first_ms <= 0)
    fixture->first_ms = at_ms;
  if (fixture->all_ms <= 0 && is_done (fixture))
    fixture->all_ms = at_ms;
}

/* Frames come one after the other, each with what has changed and no more: a window that is painted as a whole in every
 * frame is busy with that. */
static gboolean
keep_frames_coming (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  return G_SOURCE_CONTINUE;
}

static void
show (Fixture *fixture)
{
  fixture->window = sb_window_new (NULL);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gint64 end_us = g_get_monotonic_time () + G_TIME_SPAN_SECOND / 2;
  while (g_get_monotonic_time () < end_us) {
    g_main_context_iteration (NULL, FALSE);
    g_usleep (1000);
  }
  g_signal_connect (gtk_widget_get_frame_clock (fixture->window), "after-paint", G_CALLBACK (on_after_paint), fixture);
  gtk_widget_add_tick_callback (fixture->window, keep_frames_coming, NULL, NULL);
}

static void
judge (Fixture *fixture, const char *what)
{
  gboolean late = watchdog.processor_ms > LONGEST_MS || (strict && watchdog.wall_ms > LONGEST_MS);
  print_message ("%s: the main loop was busy for %.1f ms at most (%.1f ms on the processor)%s\n", what,
                 watchdog.wall_ms, watchdog.processor_ms, late ? ", which is too long" : "");
  fixture->n_late += late ? 1 : 0;
}

static void
exclude (Fixture *fixture, guint trial)
{
  SbBench *edited = sb_bench_edit (sb_document_bench (document_of (fixture)));
  sb_configuration_entry (sb_bench_edit_configuration (edited, 0), trial)->included = FALSE;
  sb_document_push (document_of (fixture), edited, "exclude");
}

static void
look_through_the_views (Fixture *fixture)
{
  static const char *const views[] = { "win.view-difference",
                                       "win.view-spread",
                                       "win.view-sweep",
                                       "win.view-slope",
                                       "win.view-ringing",
                                       "win.view-phase",
                                       "win.view-plan",
                                       "win.view-response",
                                       "win.flip",
                                       "win.zoom-in",
                                       "win.fit" };
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++) {
    watchdog_begin ();
    gtk_widget_activate_action (fixture->window, views[i], NULL);
    let_settle ();
    judge (fixture, views[i]);
  }
}

static void
read_the_judgements (Fixture *fixture)
{
  watchdog_begin ();
  sb_figures_pane_show_judgements (SB_FIGURES_PANE (find_widget (fixture->window, SB_TYPE_FIGURES_PANE)));
  let_settle ();
  judge (fixture, "judgements shown");
  watchdog_begin ();
  exclude (fixture, 1);
  run_until_done (fixture);
  judge (fixture, "leaving a trial out beside the judgements");
}

static void
take_a_turn (Fixture *fixture)
{
  show (fixture);
  const char *const paths[] = { fixture->folder, NULL };
  fixture->opened_us = g_get_monotonic_time ();
  watchdog_begin ();
  sb_window_open (SB_WINDOW (fixture->window), paths);
  run_until_done (fixture);
  judge (fixture, "reading");
  print_message ("%d logs of %d rows: first curve after %.0f ms, all after %.0f ms\n", n_logs, n_rows,
                 fixture->first_ms, fixture->all_ms);
  watchdog_begin ();
  for (guint i = 0; i < 4; i++) {
    exclude (fixture, i);
    run_until_done (fixture);
  }
  judge (fixture, "leaving trials out");
  watchdog_begin ();
  for (guint i = 0; i < 4; i++) {
    sb_document_undo (document_of (fixture));
    run_until_done (fixture);
  }
  judge (fixture, "undo");
  look_through_the_views (fixture);
  read_the_judgements (fixture);
  watchdog.on = FALSE;
}

static void
begin_again (Fixture *fixture)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  fixture->window = NULL;
  fixture->first_ms = fixture->all_ms = 0;
  fixture->n_late = 0;
  let_settle ();
}

/* What the machine adds to a turn, in page faults above all, differs from turn to turn. */
static void
main_loop_hears_within_50_ms_while_logs_are_read_and_choices_made (void **state)
{
  Fixture *fixture = *state;
  take_a_turn (fixture);
  for (int turn = 1; !strict && fixture->n_late > 0 && turn < TURNS; turn++) {
    begin_again (fixture);
    take_a_turn (fixture);
  }
  assert_int_equal (fixture->n_late, 0);
  if (!strict)
    return;
  assert_true (fixture->first_ms <= FIRST_CURVE_MS);
  assert_true (fixture->all_ms <= ALL_CURVES_MS);
}

int
main (int argc, char **argv)
{
  strict = argc >= 3;
  if (strict) {
    n_logs = CLAMP (atoi (argv[1]), 8, 10000);
    n_rows = CLAMP (atoi (argv[2]), 1000, 1000000);
    n_configurations = CLAMP (argc > 3 ? atoi (argv[3]) : 2, 2, n_logs / 4);
  }
  if (!gtk_init_check ())
    return SKIP;
  gsl_set_error_handler_off ();
  sb_look_install ();
  watchdog_install ();
  const struct CMUnitTest tests[] = {
    cmocka_unit_test_setup_teardown (main_loop_hears_within_50_ms_while_logs_are_read_and_choices_made, setup,
                                     teardown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
