/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the main loop hears nothing while usual choices are made on a bench:
 *
 *     bench_choices N_CONFIGURATIONS N_TRIALS N_ROWS TURNS [CHOICE]
 *
 * Prints one line per choice: its name, the median over the turns of the longest time between two polls by the clock
 * on the wall, the same of the processor's time, and the worst by the wall, in ms, separated by tabs. Results are
 * waited for before the next choice, as is everything that the window does about them. choices.sh runs it. */
#include "arrange_edits.h"
#include "callout_edits.h"
#include "choice_edits.h"
#include "configuration_list.h"
#include "edits.h"
#include "find_widget.h"
#include "folder.h"
#include "look.h"
#include "table_edits.h"
#include "watchdog.h"
#include "window.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define UNFOLDED   3 /* configurations whose trials are shown */
#define MOST_TURNS 5
#define SETTLE_US  (400 * G_TIME_SPAN_MILLISECOND)
#define GIVE_UP_US (300 * G_TIME_SPAN_SECOND)

typedef struct {
  guint n_configurations, n_trials, n_rows, n_turns;
  const char *only; /* the choices whose name has this in it; NULL: all */
  char *folder;
  GtkWidget *window;
  SbDocument *document;
  GtkListBox *rows;
  GtkEditable *search;
} Bench;

/* A first-order torque after a step at 0.05 s, 1 kHz; the top tells configurations and repeats apart. */
static char *
log_text (guint n_rows, double top_nm)
{
  g_autoptr (GString) text = g_string_new ("time_s,command_Nm,velocity_rad_s,torque_Nm\n");
  for (guint i = 0; i < n_rows; i++) {
    double t = i * 1e-3, after = fmax (0, t - 0.05);
    g_string_append_printf (text, "%.3f,%d,%.5f,%.6f\n", t, t >= 0.05 ? 8 : 0, 40 * after / (1 + after),
                            top_nm * (1 - exp (-after / 0.01)));
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static gboolean
write_logs (Bench *bench)
{
  for (guint c = 0; c < bench->n_configurations; c++) {
    g_autofree char *own = g_strdup_printf ("%s/filter %u, damping %u", bench->folder, c % 20, c / 20);
    g_mkdir (own, 0755);
    for (guint t = 0; t < bench->n_trials; t++) {
      g_autofree char *path = g_strdup_printf ("%s/run-%02u.csv", own, t + 1);
      g_autofree char *text = log_text (bench->n_rows, 7 + 0.01 * c + 0.003 * ((t * 7) % 11));
      if (!g_file_set_contents_full (path, text, -1, G_FILE_SET_CONTENTS_NONE, 0644, NULL))
        return FALSE;
    }
  }
  return TRUE;
}

static gboolean
wake (gpointer user_data)
{
  return G_SOURCE_CONTINUE;
}

/* Until the results are those of the choices, and a while longer: the parts beside the chart follow piece by piece,
 * and a zoom becomes a choice when it has stood a while. */
static gboolean
settle (Bench *bench)
{
  gint64 now_us = g_get_monotonic_time (), give_up_us = now_us + GIVE_UP_US, end_us = now_us + SETTLE_US;
  while (now_us < end_us && now_us < give_up_us) {
    g_main_context_iteration (NULL, TRUE);
    now_us = g_get_monotonic_time ();
    if (!sb_document_results_are_current (bench->document))
      end_us = now_us + SETTLE_US;
  }
  return sb_document_results_are_current (bench->document);
}

static void
leave_out (Bench *bench, guint turn)
{
  sb_edit_include (bench->document, turn % UNFOLDED, 1 + turn, FALSE);
}

static void
take_in (Bench *bench, guint turn)
{
  sb_edit_include (bench->document, turn % UNFOLDED, 1 + turn, TRUE);
}

static void
rename_one (Bench *bench, guint turn)
{
  g_autofree char *name = g_strdup_printf ("renamed %u", turn);
  sb_edit_rename (bench->document, 2 + turn, name);
}

static void
select_another (Bench *bench, guint turn)
{
  gtk_list_box_select_row (bench->rows, gtk_list_box_get_row_at_index (bench->rows, (int) (1 + turn)));
}

static void
hide (Bench *bench, guint turn)
{
  sb_edit_set_drawn (bench->document, 4 + turn, FALSE);
}

static void
draw (Bench *bench, guint turn)
{
  sb_edit_set_drawn (bench->document, 4 + turn, TRUE);
}

static void
dim (Bench *bench, guint turn)
{
  sb_edit_set_dimmed (bench->document, 4 + turn, TRUE);
}

static void
make_other (Bench *bench, guint turn)
{
  sb_edit_set_role (bench->document, 3 + turn, SB_SIDE_OTHER, TRUE);
}

static void
move_trial (Bench *bench, guint turn)
{
  g_autoptr (GArray) trials = g_array_new (FALSE, FALSE, sizeof (guint));
  g_array_append_val (trials, turn);
  sb_edit_move_trials (bench->document, 0, trials, 1);
}

static void
move_configuration (Bench *bench, guint turn)
{
  sb_edit_reorder (bench->document, 5, 6 + turn % 2);
}

static void
undo (Bench *bench, guint turn)
{
  sb_document_undo (bench->document);
}

static void
redo (Bench *bench, guint turn)
{
  sb_document_redo (bench->document);
}

static void
change_units (Bench *bench, guint turn)
{
  sb_edit_set_units (bench->document, (SbUnits){ .slope = (turn + 1) % 2, .velocity = (turn + 1) % 3 });
}

static void
change_slope_window (Bench *bench, guint turn)
{
  sb_edit_set_choice (bench->document, SB_CHOICE_SLOPE_WINDOW, 2 + turn % 5);
}

static void
change_band (Bench *bench, guint turn)
{
  sb_edit_set_band (bench->document, turn % 2 == 0 ? SB_BAND_SD : SB_BAND_RANGE);
}

static void
type_in_search (Bench *bench, guint turn)
{
  static const char *const typed[] = { "1", "12", "12, d", "zz", "1" };
  gtk_editable_set_text (bench->search, typed[turn % G_N_ELEMENTS (typed)]);
}

static void
clear_search (Bench *bench, guint turn)
{
  gtk_editable_set_text (bench->search, turn % 2 == 0 ? "" : "fil");
}

static void
scroll_list (Bench *bench, guint turn)
{
  GtkWidget *scrolled = gtk_widget_get_ancestor (GTK_WIDGET (bench->rows), GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled));
  gtk_adjustment_set_value (down, turn % 2 == 0 ? 3000 + 100 * turn : 0);
}

static void
zoom (Bench *bench, guint turn)
{
  gtk_widget_activate_action (bench->window, turn % 2 == 0 ? "win.zoom-in" : "win.fit", NULL);
}

static void
look_at_slope (Bench *bench, guint turn)
{
  gtk_widget_activate_action (bench->window, turn % 2 == 0 ? "win.view-slope" : "win.view-response", NULL);
}

static const struct {
  const char *name;
  void (*make) (Bench *bench, guint turn);
} choices[] = {
  { "select another configuration", select_another },
  { "leave a trial out", leave_out },
  { "take it in again", take_in },
  { "rename a configuration", rename_one },
  { "hide a configuration", hide },
  { "draw it again", draw },
  { "dim a configuration", dim },
  { "compare another one", make_other },
  { "move a trial to another configuration", move_trial },
  { "move a configuration", move_configuration },
  { "undo", undo },
  { "redo", redo },
  { "change the units", change_units },
  { "change the slope window", change_slope_window },
  { "change the band", change_band },
  { "type in the list's search", type_in_search },
  { "clear the search", clear_search },
  { "scroll the list", scroll_list },
  { "zoom the chart", zoom },
  { "slope and response", look_at_slope },
};

static int
compare_ms (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static gboolean
time_choice (Bench *bench, guint c)
{
  double wall_ms[MOST_TURNS], processor_ms[MOST_TURNS];
  for (guint turn = 0; turn < bench->n_turns; turn++) {
    watchdog_begin ();
    choices[c].make (bench, turn);
    if (!settle (bench))
      return FALSE;
    wall_ms[turn] = watchdog.wall_ms;
    processor_ms[turn] = watchdog.processor_ms;
  }
  qsort (wall_ms, bench->n_turns, sizeof *wall_ms, compare_ms);
  qsort (processor_ms, bench->n_turns, sizeof *processor_ms, compare_ms);
  printf ("%s\t%.1f\t%.1f\t%.1f\n", choices[c].name, wall_ms[bench->n_turns / 2], processor_ms[bench->n_turns / 2],
          wall_ms[bench->n_turns - 1]);
  fflush (stdout);
  return TRUE;
}

static void
open_bench (Bench *bench)
{
  const char *const paths[] = { bench->folder, NULL };
  bench->window = sb_window_new (NULL);
  bench->document = sb_window_document (SB_WINDOW (bench->window));
  gtk_window_present (GTK_WINDOW (bench->window));
  sb_window_open (SB_WINDOW (bench->window), paths);
  while (sb_bench_is_empty (sb_document_bench (bench->document)))
    g_main_context_iteration (NULL, TRUE);
}

static void
show_trials (Bench *bench)
{
  GtkWidget *list = find_widget (bench->window, SB_TYPE_CONFIGURATION_LIST);
  bench->rows = GTK_LIST_BOX (find_widget (list, GTK_TYPE_LIST_BOX));
  bench->search = GTK_EDITABLE (find_widget (list, GTK_TYPE_SEARCH_ENTRY));
  for (guint i = 0; i < UNFOLDED; i++)
    sb_configuration_list_select (SB_CONFIGURATION_LIST (list), i, 0);
}

static gboolean
run (Bench *bench)
{
  open_bench (bench);
  if (!settle (bench))
    return FALSE;
  show_trials (bench);
  settle (bench);
  puts ("# all read");
  fflush (stdout);
  for (guint c = 0; c < G_N_ELEMENTS (choices); c++)
    if ((bench->only == NULL || strstr (choices[c].name, bench->only) != NULL) && !time_choice (bench, c))
      return FALSE;
  gtk_window_destroy (GTK_WINDOW (bench->window));
  return TRUE;
}

int
main (int argc, char **argv)
{
  if (argc < 5 || !gtk_init_check ()) {
    fputs ("usage: bench_choices N_CONFIGURATIONS N_TRIALS N_ROWS TURNS [CHOICE]\n", stderr);
    return 64;
  }
  Bench bench = { .n_configurations = (guint) CLAMP (atoi (argv[1]), 10, 1000),
                  .n_trials = (guint) CLAMP (atoi (argv[2]), 20, 1000),
                  .n_rows = (guint) CLAMP (atoi (argv[3]), 200, 100000),
                  .n_turns = (guint) CLAMP (atoi (argv[4]), 1, MOST_TURNS),
                  .only = argv[5] };
  gsl_set_error_handler_off ();
  sb_look_install ();
  watchdog_install ();
  g_timeout_add (20, wake, NULL);
  bench.folder = g_dir_make_tmp ("choices-XXXXXX", NULL);
  gboolean done = bench.folder != NULL && write_logs (&bench) && run (&bench);
  remove_folder (bench.folder);
  return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
