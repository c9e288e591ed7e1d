/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where labels stand: off curves, bands, marks, callouts and one another, near their points, with leaders that run over
 * no label. Those without such a place go below the panels, in words. */
#include "page_place.h"

#include <math.h>
#include <string.h>

/* After so many goes all that has no place goes below at once. */
#define GOES 4

/* Words below take no more than this share of the height that is left for panels, else they are counted. */
#define BELOW_SHARE 0.2

/* More than this will not come down to that share by labels that find a place after all. */
#define HOPELESS_SHARE 0.35

char *
sb_label_words (const SbLabelMark *mark, gboolean stacked)
{
  g_auto (GStrv) parts = g_strsplit (mark->text, ", ", -1);
  return g_strjoinv (stacked ? ",\n" : ", ", parts);
}

static SbRect
label_size (SbPaint *paint, const SbLabelMark *mark, gboolean stacked)
{
  double width, height, font = paint->font_pt;
  g_autofree char *words = sb_label_words (mark, stacked);
  sb_text_measure (paint, SB_TEXT_TICK, words, 0, 1, &width, &height);
  return (SbRect){ 0, 0, width + sb_label_sample (mark) * font, height };
}

/* TRUE with the label placed; FALSE when it has to go below. */
static gboolean
place (SbPlacing *placing, SbLabelMark *mark)
{
  SbPaint *paint = placing->paint;
  SbAxisScale along = sb_page_x_scale (placing->page, placing->i), up = sb_page_y_scale (placing->page, placing->i);
  SbPlacedLabel label = { .mark = mark, .panel = placing->i, .box = label_size (paint, mark, FALSE) };
  label.lead = placing->lead = sb_label_lead (paint, mark);
  label.x = sb_paint_at (&along, mark->x);
  label.y = sb_paint_at (&up, mark->y);
  gboolean found = !isnan (mark->y) && sb_find_place (placing, (SbSpot){ label.x, label.y }, &label.box);
  if (!found && !isnan (mark->y) && strstr (mark->text, ", ") != NULL) {
    label.stacked = TRUE;
    label.box = label_size (paint, mark, TRUE);
    found = sb_find_place (placing, (SbSpot){ label.x, label.y }, &label.box);
  }
  if (!found)
    return FALSE;
  sb_take_placed (placing, &label);
  g_array_append_val (paint->labels, label);
  return TRUE;
}

static gboolean
goes_below (const SbPaint *paint, const SbLabelMark *mark)
{
  return g_ptr_array_find (paint->below, mark, NULL);
}

/* In which order labels choose their places: as they come, the other way, from either end of the time axis, shuffled.
 */
enum { N_TIDY_ORDERS = 4, N_ORDERS = 12 };

/* The same way each time. */
static void
shuffle (GPtrArray *marks, guint seed)
{
  for (guint k = marks->len; k > 1; k--) {
    seed = seed * 1664525u + 1013904223u; /* of Numerical Recipes, quoted from memory */
    guint other = (seed >> 16) % k;
    gpointer mark = marks->pdata[k - 1];
    marks->pdata[k - 1] = marks->pdata[other];
    marks->pdata[other] = mark;
  }
}

static int
by_time (gconstpointer a, gconstpointer b)
{
  const SbLabelMark *first = *(SbLabelMark *const *) a, *second = *(SbLabelMark *const *) b;
  return (first->x > second->x) - (first->x < second->x);
}

/* One after the other; `unplaced` takes those that find no place. */
static void
place_in_order (SbPlacing *placing, GPtrArray *marks, int order, GPtrArray *unplaced)
{
  g_autoptr (GPtrArray) ordered = g_ptr_array_copy (marks, NULL, NULL);
  if (order >= N_TIDY_ORDERS)
    shuffle (ordered, (guint) order);
  else if (order >= 2)
    g_ptr_array_sort (ordered, by_time);
  for (guint k = 0; k < ordered->len; k++) {
    SbLabelMark *mark = g_ptr_array_index (ordered, order % 2 == 0 ? k : ordered->len - 1 - k);
    if (!place (placing, mark))
      g_ptr_array_add (unplaced, mark);
  }
}

/* The order that leaves fewest without a place decides. */
static void
place_in_best_order (SbPlacing *placing, GPtrArray *marks)
{
  SbPaint *paint = placing->paint;
  guint first = paint->labels->len, fewest = G_MAXUINT;
  g_autofree guint8 *taken = sb_room_save (placing->room);
  int best = 0;
  for (int k = 0; k <= N_ORDERS; k++) {
    g_autoptr (GPtrArray) unplaced = g_ptr_array_new ();
    place_in_order (placing, marks, k < N_ORDERS ? k : best, unplaced);
    if (k == N_ORDERS || unplaced->len == 0) {
      g_ptr_array_extend (paint->below, unplaced, NULL, NULL);
      return;
    }
    if (unplaced->len < fewest) {
      fewest = unplaced->len;
      best = k;
    }
    g_array_set_size (paint->labels, first);
    sb_room_restore (placing->room, taken);
  }
}

static void
place_in_panel (SbPaint *paint, const SbPage *page, gsize i, GPtrArray *marks)
{
  if (marks->len == 0)
    return;
  g_autoptr (SbRoom) room = sb_room_new (paint, page, i);
  SbPlacing placing = { .paint = paint, .page = page, .i = i, .room = room };
  sb_take_anchors (&placing);
  for (guint k = 0; k < paint->labels->len; k++) {
    const SbPlacedLabel *label = &g_array_index (paint->labels, SbPlacedLabel, k);
    if (label->panel == i)
      sb_take_placed (&placing, label);
  }
  place_in_best_order (&placing, marks);
}

/* Places what is not below yet. How many have no place, which are below from now on. */
static guint
place_all (SbPaint *paint, const SbPage *page)
{
  guint n_before = paint->below->len + (paint->callouts_below != NULL ? paint->callouts_below->len : 0);
  g_array_set_size (paint->labels, 0);
  sb_page_place_callouts (paint, page);
  for (gsize i = 0; i < page->n_plots; i++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
    g_autoptr (GPtrArray) marks = g_ptr_array_new ();
    for (guint k = 0; k < panel->labels->len; k++) {
      SbLabelMark *mark = &g_array_index (panel->labels, SbLabelMark, k);
      gboolean out_of_view = !isnan (mark->x) && !sb_page_shows (page, i, mark->x);
      if (!out_of_view && !goes_below (paint, mark))
        g_ptr_array_add (marks, mark);
    }
    place_in_panel (paint, page, i, marks);
  }
  return paint->below->len + paint->callouts_below->len - n_before;
}

/* Once more for what went below while the page still changed. */
static void
place_more (SbPaint *paint, const SbPage *page)
{
  for (gsize i = 0; i < page->n_plots; i++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, (guint) i);
    g_autoptr (GPtrArray) marks = g_ptr_array_new ();
    for (guint k = 0; k < panel->labels->len; k++)
      if (g_ptr_array_remove (paint->below, &g_array_index (panel->labels, SbLabelMark, k)))
        g_ptr_array_add (marks, &g_array_index (panel->labels, SbLabelMark, k));
    place_in_panel (paint, page, i, marks);
  }
}

/* The words below of one configuration, or of stated figures, which name theirs. */
static void
append_below (GString *text, const SbPaint *paint, guint configuration, gboolean stated)
{
  guint n = 0;
  for (guint p = 0; p < paint->model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (paint->model->panels, p);
    for (guint k = 0; k < panel->labels->len; k++) {
      const SbLabelMark *mark = &g_array_index (panel->labels, SbLabelMark, k);
      gboolean of_these
          = stated ? mark->style == SB_STYLE_INK : mark->style != SB_STYLE_INK && mark->configuration == configuration;
      if (!of_these || !goes_below (paint, mark))
        continue;
      g_string_append (text, n > 0 && !stated ? ", " : text->len > 0 ? "; " : "Labels without a place above: ");
      if (n++ == 0 && !stated)
        g_string_append_printf (text, "%s: ", sb_analysis_configuration (paint->model->analysis, configuration)->name);
      g_string_append (text, mark->text);
    }
  }
}

/* "Labels without a place above: Alder: peak 12.3 N·m, slope ...; Bryony: ..."; or how many there are, which leaves
 * their figures to the table. What a person wrote stands in no table. */
static void
write_below (SbPaint *paint)
{
  GString *text = g_string_new (NULL);
  guint n = paint->below->len;
  if (paint->counts_below && n > 0)
    g_string_append_printf (text, "%u label%s no place here: see the table of measures.", n,
                            n == 1 ? " has" : "s have");
  for (guint c = 0; !paint->counts_below && c < paint->model->analysis->configurations->len; c++)
    append_below (text, paint, c, FALSE);
  if (!paint->counts_below)
    append_below (text, paint, 0, TRUE);
  g_string_append (text, text->len > 0 && !paint->counts_below ? "." : "");
  sb_page_append_callouts_below (text, paint);
  g_free (paint->below_text);
  paint->below_text = g_string_free (text, FALSE);
}

static void
put_all_below (SbPaint *paint)
{
  for (guint k = 0; k < paint->labels->len; k++)
    g_ptr_array_add (paint->below, g_array_index (paint->labels, SbPlacedLabel, k).mark);
  sb_page_put_callouts_below (paint);
}

static gboolean
has_labels (const SbChartModel *model)
{
  for (guint p = 0; p < model->panels->len; p++) {
    const SbChartPanel *panel = g_ptr_array_index (model->panels, p);
    if (panel->labels->len + panel->callouts->len > 0)
      return TRUE;
  }
  return FALSE;
}

/* The room of the words below, once no more of them will come. */
static void
set_below (SbPaint *paint, SbPage *page)
{
  double bottom = page->below.y + page->below.height, unused;
  g_autofree char *text = sb_text_keep_numbers (paint->below_text);
  sb_text_measure (paint, SB_TEXT_FOOT, text, page->below.width, SB_BELOW_LINES, &unused, &page->below.height);
  page->below.height = paint->below_text[0] != '\0' ? page->below.height : 0;
  page->below.y = bottom - page->below.height;
}

/* Figures stand in a table too: panels too low, or small text, are no price to pay for them. */
static gboolean
below_is_too_much (const SbPaint *paint, double font_pt, const SbPage *page, double share)
{
  double panels = 0;
  for (gsize i = 0; i < page->n_plots; i++)
    panels += page->plot[i].height;
  return paint->below->len > 1
         && (page->below.height > share * (panels + page->below.height) || paint->font_pt < font_pt * (1 - 1e-9));
}

/* Words below take room from the panels, and labels may lose their places by it. Where they take far too much it is left
 * at that. */
static void
lay_labels (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page)
{
  int go = 0;
  for (; go < GOES && place_all (paint, page) > 0; go++) {
    write_below (paint);
    sb_page_lay_out_with (paint, width_pt, height_pt, font_pt, page);
    if (!paint->counts_below && below_is_too_much (paint, font_pt, page, HOPELESS_SHARE))
      return;
  }
  if (go == GOES && place_all (paint, page) > 0) {
    put_all_below (paint);
    write_below (paint);
    sb_page_lay_out_with (paint, width_pt, height_pt, font_pt, page);
    g_array_set_size (paint->labels, 0);
    sb_page_place_callouts (paint, page);
  }
  if (go == 0)
    return;
  place_more (paint, page);
  write_below (paint);
  set_below (paint, page);
}

void
sb_page_lay_labels (SbPaint *paint, double width_pt, double height_pt, double font_pt, SbPage *page)
{
  if (!has_labels (paint->model))
    return;
  paint->labels = g_array_new (FALSE, FALSE, sizeof (SbPlacedLabel));
  paint->below = g_ptr_array_new ();
  lay_labels (paint, width_pt, height_pt, font_pt, page);
  if (!below_is_too_much (paint, font_pt, page, BELOW_SHARE))
    return;
  paint->counts_below = TRUE;
  g_ptr_array_set_size (paint->below, 0);
  g_clear_pointer (&paint->callouts_below, g_ptr_array_unref);
  g_clear_pointer (&paint->below_text, g_free);
  sb_page_lay_out_with (paint, width_pt, height_pt, font_pt, page);
  lay_labels (paint, width_pt, height_pt, font_pt, page);
}
