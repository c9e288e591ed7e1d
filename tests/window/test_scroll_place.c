/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list that is taken away and comes up again card by card stays where its reader has scrolled to. Needs a display. */
#include "close.h"
#include "scroll_place.h"

#define SKIPPED     77
#define N_CARDS     10
#define CARD_HEIGHT 200
#define PAGE_HEIGHT 300
#define ALL         (N_CARDS * CARD_HEIGHT)

typedef struct {
  GtkWidget *window, *scrolled, *cards;
  GtkAdjustment *adjustment;
  guint n_up, n_frames;
} Fixture;

static gboolean
more_to_come (gpointer data)
{
  return ((Fixture *) data)->n_up < N_CARDS;
}

static gboolean
on_frame (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  ((Fixture *) data)->n_frames++;
  return G_SOURCE_CONTINUE;
}

/* Five frames: lengths are known after one, and keeping ends after three without more to come. */
static void
wait_frames (Fixture *fixture)
{
  for (guint end = fixture->n_frames + 5; fixture->n_frames < end;)
    g_main_context_iteration (NULL, TRUE);
}

/* A card is a button: it can have the focus. */
static void
bring_up (Fixture *fixture, guint n)
{
  for (; fixture->n_up < n; fixture->n_up++) {
    GtkWidget *card = gtk_button_new_with_label ("card");
    gtk_widget_set_size_request (card, -1, CARD_HEIGHT);
    gtk_box_append (GTK_BOX (fixture->cards), card);
  }
  wait_frames (fixture);
}

static void
take_away (Fixture *fixture)
{
  sb_scroll_place_keep (GTK_SCROLLED_WINDOW (fixture->scrolled), more_to_come, fixture);
  fixture->n_up = 0;
  for (GtkWidget *card; (card = gtk_widget_get_first_child (fixture->cards)) != NULL;)
    gtk_box_remove (GTK_BOX (fixture->cards), card);
  wait_frames (fixture);
}

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->window = gtk_window_new ();
  fixture->scrolled = gtk_scrolled_window_new ();
  fixture->cards = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (fixture->scrolled), fixture->cards);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (fixture->scrolled), PAGE_HEIGHT);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 200, PAGE_HEIGHT);
  gtk_window_set_child (GTK_WINDOW (fixture->window), fixture->scrolled);
  fixture->adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (fixture->scrolled));
  gtk_widget_add_tick_callback (fixture->window, on_frame, fixture, NULL);
  gtk_window_present (GTK_WINDOW (fixture->window));
  bring_up (fixture, N_CARDS);
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  while (g_main_context_iteration (NULL, FALSE)) {
  }
  g_free (fixture);
  return 0;
}

static double
place (Fixture *fixture)
{
  return gtk_adjustment_get_value (fixture->adjustment);
}

static void
scroll_to (Fixture *fixture, double to)
{
  gtk_adjustment_set_value (fixture->adjustment, to);
  wait_frames (fixture);
}

static void
reader_comes_back_to_the_place_when_all_is_up_again (void **state)
{
  Fixture *fixture = *state;
  scroll_to (fixture, 900);
  take_away (fixture);
  for (guint n = 1; n <= N_CARDS; n++)
    bring_up (fixture, n);
  assert_close (place (fixture), 900, 0.5);
}

/* With six of ten cards up the reader is at the end of them, and goes up from there. */
static void
reader_who_scrolls_while_cards_come_up_is_not_pulled_back (void **state)
{
  Fixture *fixture = *state;
  scroll_to (fixture, 1500);
  take_away (fixture);
  bring_up (fixture, 6);
  assert_close (place (fixture), 6 * CARD_HEIGHT - gtk_adjustment_get_page_size (fixture->adjustment), 0.5);
  scroll_to (fixture, 350);
  bring_up (fixture, 8);
  assert_close (place (fixture), 350, 0.5);
  scroll_to (fixture, 500);
  bring_up (fixture, N_CARDS);
  assert_close (place (fixture), 500, 0.5);
}

static void
reader_who_scrolls_while_the_first_cards_come_up_is_not_pulled_to_the_top (void **state)
{
  Fixture *fixture = *state;
  take_away (fixture);
  bring_up (fixture, 5);
  scroll_to (fixture, 200);
  bring_up (fixture, N_CARDS);
  assert_close (place (fixture), 200, 0.5);
}

/* The last card has the focus and is taken away with it; so many cards on, the reader is where he was. */
static void
focus_that_goes_with_its_card_takes_nobody_to_the_top (void **state)
{
  Fixture *fixture = *state;
  gtk_widget_grab_focus (gtk_widget_get_last_child (fixture->cards));
  wait_frames (fixture);
  double before = place (fixture);
  assert_close (before, ALL - gtk_adjustment_get_page_size (fixture->adjustment), 0.5);
  take_away (fixture);
  bring_up (fixture, 3);
  GtkWidget *first = gtk_widget_get_first_child (fixture->cards);
  gtk_widget_grab_focus (gtk_widget_get_next_sibling (first));
  gtk_widget_grab_focus (first);
  bring_up (fixture, N_CARDS);
  assert_close (place (fixture), before, 0.5);
}

/* Once all is up the focus may scroll again. */
static void
nothing_is_kept_any_more_when_all_is_up (void **state)
{
  Fixture *fixture = *state;
  scroll_to (fixture, 900);
  take_away (fixture);
  bring_up (fixture, N_CARDS);
  gtk_widget_grab_focus (gtk_widget_get_last_child (fixture->cards));
  wait_frames (fixture);
  assert_close (place (fixture), ALL - gtk_adjustment_get_page_size (fixture->adjustment), 0.5);
  gtk_widget_grab_focus (gtk_widget_get_first_child (fixture->cards));
  wait_frames (fixture);
  assert_close (place (fixture), 0, 0.5);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  if (!gtk_init_check ())
    return SKIPPED;
  const struct CMUnitTest tests[] = {
    CASE (reader_comes_back_to_the_place_when_all_is_up_again),
    CASE (reader_who_scrolls_while_cards_come_up_is_not_pulled_back),
    CASE (reader_who_scrolls_while_the_first_cards_come_up_is_not_pulled_to_the_top),
    CASE (focus_that_goes_with_its_card_takes_nobody_to_the_top),
    CASE (nothing_is_kept_any_more_when_all_is_up),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
