/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time from the start of main() to the first painted frame, and to the frame in which all curves of a bench are drawn:
 *
 *     bench_window empty            an empty window of the toolkit: the baseline
 *     bench_window page             the program's window without a bench
 *     bench_window bench INPUT...   the program's window with a bench
 *
 * Prints one line "NAME MILLISECONDS" per instant and ends. tests/bench/window.sh runs them in turn. */
#include "look.h"
#include "window.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <string.h>

typedef struct {
  gint64 start_us;
  const char *kind;
  char **inputs;
  GtkWidget *window;
  gboolean painted;
} Run;

static void
say (const Run *run, const char *what)
{
  printf ("%s %.1f\n", what, (double) (g_get_monotonic_time () - run->start_us) / 1000);
}

static void
on_after_paint (GdkFrameClock *clock, Run *run)
{
  if (!run->painted)
    say (run, "first_frame");
  run->painted = TRUE;
  gboolean waits
      = run->inputs[0] != NULL && !sb_document_results_are_current (sb_window_document (SB_WINDOW (run->window)));
  if (waits)
    return;
  if (run->inputs[0] != NULL)
    say (run, "all_curves");
  gtk_window_destroy (GTK_WINDOW (run->window));
}

/* The frame after the results have come is the one with all curves. */
static gboolean
keep_painting (GtkWidget *window, GdkFrameClock *clock, gpointer user_data)
{
  gtk_widget_queue_draw (window);
  return G_SOURCE_CONTINUE;
}

static void
on_activate (GtkApplication *application, Run *run)
{
  if (strcmp (run->kind, "empty") == 0) {
    run->window = gtk_application_window_new (application);
    gtk_window_set_default_size (GTK_WINDOW (run->window), 1280, 720);
  } else {
    sb_look_install ();
    run->window = sb_window_new (application);
  }
  if (run->inputs[0] != NULL)
    sb_window_open (SB_WINDOW (run->window), (const char *const *) run->inputs);
  gtk_window_present (GTK_WINDOW (run->window));
  g_signal_connect (gtk_widget_get_frame_clock (run->window), "after-paint", G_CALLBACK (on_after_paint), run);
  gtk_widget_add_tick_callback (run->window, keep_painting, NULL, NULL);
}

int
main (int argc, char **argv)
{
  Run run = { .start_us = g_get_monotonic_time (), .kind = argc > 1 ? argv[1] : "", .inputs = argv + MIN (argc, 2) };
  gboolean known = strcmp (run.kind, "empty") == 0 || strcmp (run.kind, "page") == 0 || strcmp (run.kind, "bench") == 0;
  if (!known || (strcmp (run.kind, "bench") == 0) != (run.inputs[0] != NULL)) {
    fputs ("usage: bench_window empty | page | bench INPUT...\n", stderr);
    return 64;
  }
  gsl_set_error_handler_off ();
  g_autoptr (GtkApplication) application
      = gtk_application_new ("org.slewbench.WindowBenchmark", G_APPLICATION_NON_UNIQUE);
  g_signal_connect (application, "activate", G_CALLBACK (on_activate), &run);
  return g_application_run (G_APPLICATION (application), 1, argv);
}
