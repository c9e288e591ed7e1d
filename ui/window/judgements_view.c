/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgements_view.h"

#include "audit_sheet.h"
#include "bench_claims.h"
#include "claim_sheet.h"
#include "judgement_card.h"
#include "judgement_edits.h"
#include "let_go.h"
#include "margins_sheet.h"
#include "pair_cards.h"
#include "plan_card.h"
#include "results_judgements.h"
#include "results_pair.h"
#include "scroll_place.h"
#include "verdict_words.h"
#include "words_sheet.h"

struct _SbJudgementsView {
  GtkBox parent_instance;
  SbDocument *document; /* borrowed: the window outlives its views */
  SbAnalysis *shown;    /* whose judgements the cards are; NULL: none */
  GtkWidget *cards;
  GtkWidget *scrolled; /* the cards' */
  SbMeasureId planned; /* whose curve the plan draws */
  GtkWidget *plan;     /* the card of the plan; NULL: none yet */
  guint n_parts;       /* of the cards that are up */
  guint source;        /* brings up the others when the view is first shown */
  GHashTable *open;    /* headings of the cards whose reasons are unfolded */
};

G_DEFINE_FINAL_TYPE (SbJudgementsView, sb_judgements_view, GTK_TYPE_BOX)

enum { SHOW_SETTING, N_SIGNALS };
static guint signals[N_SIGNALS];

guint
sb_judgements_view_count (SbJudgementsView *view)
{
  const SbAnalysis *results = sb_document_results (view->document);
  return results != NULL ? results->audits->len + results->claims->len : 0;
}

static void
remember_open (GtkWidget *child, GHashTable *open)
{
  if (!SB_IS_JUDGEMENT_CARD (child))
    return;
  const char *heading = sb_judgement_card_heading (SB_JUDGEMENT_CARD (child));
  if (sb_judgement_card_is_open (SB_JUDGEMENT_CARD (child)))
    g_hash_table_add (open, g_strdup (heading));
  else
    g_hash_table_remove (open, heading);
}

static void
take_cards_away (SbJudgementsView *view)
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child (view->cards)) != NULL;) {
    remember_open (child, view->open);
    gtk_box_remove (GTK_BOX (view->cards), child);
  }
  view->plan = NULL;
  view->n_parts = 0;
}

static GtkWidget *
append_section (SbJudgementsView *view, const char *title)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = gtk_label_new (title);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (label, "judgements-section");
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (view->cards), line);
  return line;
}

static void
append_card (SbJudgementsView *view, GtkWidget *card)
{
  const char *heading = sb_judgement_card_heading (SB_JUDGEMENT_CARD (card));
  sb_judgement_card_set_open (SB_JUDGEMENT_CARD (card), g_hash_table_contains (view->open, heading));
  gtk_box_append (GTK_BOX (view->cards), card);
}

static void
append_words (SbJudgementsView *view, const char *words)
{
  GtkWidget *label = gtk_label_new (words);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_widget_add_css_class (label, "small-text");
  gtk_box_append (GTK_BOX (view->cards), label);
}

static GtkWidget *
make_button (const char *icon, const char *label, GCallback callback, SbJudgementsView *view, guint index)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data (G_OBJECT (button), "index", GUINT_TO_POINTER (index));
  g_signal_connect (button, "clicked", callback, view);
  return button;
}

static guint
index_of (GtkButton *button)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "index"));
}

static void
on_show_setting (GtkButton *button, SbJudgementsView *view)
{
  const SbAuditedSetting *audited = g_ptr_array_index (view->shown->audits, index_of (button));
  g_signal_emit (view, signals[SHOW_SETTING], 0, audited->audit->setting);
}

static SbJudgementMark
mark_of_audit (SbAuditVerdict verdict)
{
  static const SbJudgementMark marks[SB_N_AUDIT_VERDICTS] = {
    [SB_AUDIT_CANNOT_TELL] = SB_MARK_OPEN,
    [SB_AUDIT_LIMITS] = SB_MARK_YES,
    [SB_AUDIT_SHAPES] = SB_MARK_ELSE,
    [SB_AUDIT_NO_EFFECT] = SB_MARK_EQUAL,
  };
  return marks[verdict];
}

static void
append_audit (SbJudgementsView *view, guint index)
{
  const SbAuditedSetting *audited = g_ptr_array_index (view->shown->audits, index);
  g_autofree char *heading = sb_audited_setting_heading (audited);
  g_autofree char *verdict = sb_audit_shown_verdict (view->shown->bench, audited->audit);
  GtkWidget *card = sb_judgement_card_new (heading, mark_of_audit (audited->audit->verdict), verdict);
  const GPtrArray *reasons = audited->audit->reasons, *fairness = audited->audit->fairness;
  for (guint i = 0; i < reasons->len; i++)
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, g_ptr_array_index (reasons, i));
  for (guint i = 0; i < fairness->len; i++)
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), "Not alike", g_ptr_array_index (fairness, i));
  sb_judgement_card_add_button (SB_JUDGEMENT_CARD (card),
                                make_button ("find-location-symbolic", "Show the torque slope over its levels",
                                             G_CALLBACK (on_show_setting), view, index));
  append_card (view, card);
}

/* A button beside the title of a section. */
static void
append_section_button (GtkWidget *line, const char *label, const char *tooltip, GCallback callback,
                       SbJudgementsView *view)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  gtk_widget_set_tooltip_text (button, tooltip);
  gtk_widget_set_valign (button, GTK_ALIGN_END);
  gtk_widget_add_css_class (button, "small-text");
  g_signal_connect (button, "clicked", callback, view);
  gtk_box_append (GTK_BOX (line), button);
}

static void
on_audit_rules (GtkButton *button, SbJudgementsView *view)
{
  sb_audit_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->document);
}

static void
append_audits (SbJudgementsView *view)
{
  append_section_button (append_section (view, "Does the setting do what it says?"), "Rules…",
                         "Choose what counts as moving, as in proportion and as straight", G_CALLBACK (on_audit_rules),
                         view);
  for (guint i = 0; i < view->shown->audits->len; i++)
    append_audit (view, i);
  for (guint i = 0; i < view->shown->unaudited->len; i++)
    append_words (view, g_ptr_array_index (view->shown->unaudited, i));
  if (view->shown->audits->len + view->shown->unaudited->len == 0)
    append_words (view, "No two configurations differ in one setting and are alike in all else. Settings are read from "
                        "lines such as '# setting torque slope: 2.0 N·m/ms' at the top of each log.");
}

/* Cards may be of an older bench than the one that is edited: where their stated figure is in this one, -1 when it is
 * gone. */
static int
place_of_claim (SbJudgementsView *view, GtkButton *button)
{
  const SbBench *bench = sb_document_bench (view->document);
  const SbClaimResult *shown = g_ptr_array_index (view->shown->claims, index_of (button));
  for (guint i = 0; i < sb_bench_n_claims (bench); i++)
    if (sb_claim_equal (sb_bench_claim (bench, i), shown->claim))
      return (int) i;
  return -1;
}

static void
on_edit_claim (GtkButton *button, SbJudgementsView *view)
{
  int place = place_of_claim (view, button);
  if (place >= 0)
    sb_claim_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->document, place);
}

static void
on_add_claim (GtkButton *button, SbJudgementsView *view)
{
  sb_claim_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->document, -1);
}

static void
on_remove_claim (GtkButton *button, SbJudgementsView *view)
{
  int place = place_of_claim (view, button);
  if (place >= 0)
    sb_edit_remove_claim (view->document, (guint) place);
}

static void
append_claim (SbJudgementsView *view, guint index)
{
  static const SbJudgementMark marks[SB_N_CLAIM_VERDICTS] = {
    [SB_CLAIM_CANNOT_TELL] = SB_MARK_OPEN,
    [SB_CLAIM_REACHED] = SB_MARK_YES,
    [SB_CLAIM_NOT_REACHED] = SB_MARK_NO,
  };
  const SbClaimResult *claim = g_ptr_array_index (view->shown->claims, index);
  g_autofree char *heading = sb_claim_heading (view->shown, claim);
  g_autofree char *verdict = sb_claim_shown_verdict (view->shown->bench, claim);
  GtkWidget *card = sb_judgement_card_new (heading, marks[claim->verdict], verdict);
  for (guint i = 0; i < claim->sides->len; i++) {
    g_autofree char *reason = sb_bench_claim_reason (view->shown->bench, sb_claim_result_side (claim, i));
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, reason);
  }
  if (claim->sides->len == 0)
    sb_judgement_card_add (SB_JUDGEMENT_CARD (card), NULL, "No usable trial is of it.");
  sb_judgement_card_add_button (
      SB_JUDGEMENT_CARD (card),
      make_button ("document-edit-symbolic", "Change the stated figure…", G_CALLBACK (on_edit_claim), view, index));
  sb_judgement_card_add_button (
      SB_JUDGEMENT_CARD (card),
      make_button ("user-trash-symbolic", "Take the stated figure away", G_CALLBACK (on_remove_claim), view, index));
  append_card (view, card);
}

static void
append_claims (SbJudgementsView *view)
{
  append_section_button (append_section (view, "Is the stated figure reached?"), "State…",
                         "Add a figure that a maker states, to be held against the measured one",
                         G_CALLBACK (on_add_claim), view);
  for (guint i = 0; i < view->shown->claims->len; i++)
    append_claim (view, i);
  if (view->shown->claims->len == 0)
    append_words (view, "No figure is stated yet.");
}

static void
on_margins (GtkButton *button, SbJudgementsView *view)
{
  sb_margins_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->document);
}

/* By what the verdicts below were come by. */
static void
append_margins (SbJudgementsView *view)
{
  const SbBench *bench = view->shown->bench;
  g_autofree char *margins = sb_margins_words (bench, "the reference mean");
  g_autofree char *words = g_strdup_printf ("Equal within %s; level %.4g.", margins, bench->verdict_level);
  append_words (view, words);
}

static void
append_pair (SbJudgementsView *view)
{
  g_autoptr (GPtrArray) cards = sb_pair_cards_new (view->shown);
  if (cards->len == 0)
    return;
  append_section_button (append_section (view, "Is the difference real?"), "Margins…",
                         "Choose what counts as equal in each measure, and the level of the verdicts",
                         G_CALLBACK (on_margins), view);
  append_margins (view);
  for (guint i = 0; i < cards->len; i++)
    append_card (view, g_ptr_array_index (cards, i));
}

static void
append_plan (SbJudgementsView *view)
{
  GtkWidget *card = sb_plan_card_new (view->document, view->shown, &view->planned);
  if (card == NULL)
    return;
  append_section (view, "How many repeats does it take?");
  gtk_box_append (GTK_BOX (view->cards), card);
  view->plan = card;
}

static void
draw_plan (SbJudgementsView *view)
{
  if (view->plan != NULL)
    sb_plan_card_draw (view->plan);
}

static void
on_words (GtkButton *button, SbJudgementsView *view)
{
  sb_words_sheet_present (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (view))), view->document);
}

static void
append_wording (SbJudgementsView *view)
{
  append_section_button (append_section (view, "In which words?"), "Words…",
                         "Show the verdicts in words of your own, of another language or a journal",
                         G_CALLBACK (on_words), view);
  g_autofree char *own = sb_verdict_words_methods (view->shown->bench);
  append_words (view, own[0] != '\0' ? own : "The verdicts are in their usual words.");
}

static void
append_legend (SbJudgementsView *view)
{
  append_words (view, "A “?” behind a verdict: a figure that it rests on has doubts.");
}

/* One in a step: together they take longer than a frame lasts, the plan by its arithmetic. */
static void (*const parts[]) (SbJudgementsView *view)
    = { append_legend, append_audits, append_claims, append_pair, append_plan, draw_plan, append_wording };

static gboolean
is_filling (gpointer user_data)
{
  SbJudgementsView *view = user_data;
  return view->shown != NULL && view->n_parts < G_N_ELEMENTS (parts);
}

gboolean
sb_judgements_view_step (SbJudgementsView *view)
{
  SbAnalysis *results = sb_document_results (view->document);
  if (!gtk_widget_get_mapped (GTK_WIDGET (view)))
    return FALSE;
  if (results != view->shown) {
    sb_scroll_place_keep (GTK_SCROLLED_WINDOW (view->scrolled), is_filling, view);
    take_cards_away (view);
    sb_let_go (&view->shown);
    view->shown = results != NULL ? sb_analysis_ref (results) : NULL;
  }
  if (!is_filling (view))
    return FALSE;
  parts[view->n_parts++](view);
  return is_filling (view);
}

void
sb_judgements_view_update (SbJudgementsView *view)
{
  if (sb_document_results (view->document) == NULL)
    sb_judgements_view_step (view);
}

static gboolean
on_due (gpointer user_data)
{
  SbJudgementsView *view = user_data;
  if (sb_judgements_view_step (view))
    return G_SOURCE_CONTINUE;
  view->source = 0;
  return G_SOURCE_REMOVE;
}

static void
on_map (GtkWidget *widget, gpointer user_data)
{
  SbJudgementsView *view = SB_JUDGEMENTS_VIEW (widget);
  if (sb_judgements_view_step (view) && view->source == 0)
    view->source = g_idle_add (on_due, view);
}

static void
sb_judgements_view_dispose (GObject *object)
{
  g_clear_handle_id (&SB_JUDGEMENTS_VIEW (object)->source, g_source_remove);
  G_OBJECT_CLASS (sb_judgements_view_parent_class)->dispose (object);
}

static void
sb_judgements_view_finalize (GObject *object)
{
  SbJudgementsView *view = SB_JUDGEMENTS_VIEW (object);
  g_clear_pointer (&view->shown, sb_analysis_unref);
  g_hash_table_unref (view->open);
  G_OBJECT_CLASS (sb_judgements_view_parent_class)->finalize (object);
}

static void
sb_judgements_view_class_init (SbJudgementsViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sb_judgements_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sb_judgements_view_finalize;
  signals[SHOW_SETTING] = g_signal_new ("show-setting", SB_TYPE_JUDGEMENTS_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
sb_judgements_view_init (SbJudgementsView *view)
{
  view->planned = SB_MEASURE_PEAK_TORQUE_SLOPE;
  view->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  view->cards = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_add_css_class (view->cards, "judgements");
  view->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (view->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (view->scrolled), view->cards);
  gtk_widget_set_hexpand (view->scrolled, TRUE);
  gtk_widget_set_vexpand (view->scrolled, TRUE);
  gtk_box_append (GTK_BOX (view), view->scrolled);
  g_signal_connect (view, "map", G_CALLBACK (on_map), NULL);
}

GtkWidget *
sb_judgements_view_new (SbDocument *document)
{
  SbJudgementsView *view = g_object_new (SB_TYPE_JUDGEMENTS_VIEW, NULL);
  view->document = document;
  return GTK_WIDGET (view);
}
