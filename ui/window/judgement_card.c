/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judgement_card.h"

#include "wrap_line.h"

#define WORDS_CHARS 46
#define ICON_SIZE   16

struct _SbJudgementCard {
  GtkBox parent_instance;
  GtkWidget *top, *heading, *expander, *reasons;
  guint n_reasons;
  guint n_stretches; /* 0: what is listed are reasons */
};

G_DEFINE_FINAL_TYPE (SbJudgementCard, sb_judgement_card, GTK_TYPE_BOX)

static GtkWidget *
make_words (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WORDS_CHARS);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* The theme has no icon for two of them; every font has the signs. The words beside it are what is read aloud. */
static GtkWidget *
make_mark (SbJudgementMark mark)
{
  static const char *const icons[] = {
    [SB_MARK_YES] = "object-select-symbolic",
    [SB_MARK_NO] = "window-close-symbolic",
    [SB_MARK_ELSE] = "content-loading-symbolic", /* three dots */
    [SB_MARK_OPEN] = "list-remove-symbolic",     /* a bar; a question mark in a box is taken for a missing letter */
    [SB_MARK_DIFFER] = NULL,
    [SB_MARK_EQUAL] = NULL,
  };
  if (icons[mark] != NULL)
    return gtk_image_new_from_icon_name (icons[mark]);
  const char *sign = mark == SB_MARK_DIFFER ? "≠" : "=";
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, "label", sign,
                                   "width-request", ICON_SIZE, NULL);
  gtk_widget_add_css_class (label, "verdict");
  return label;
}

/* Told by shape, so that no colour is needed. */
static GtkWidget *
make_verdict (SbJudgementMark mark, const char *verdict)
{
  GtkWidget *line = sb_wrap_line_new (6), *sign = make_mark (mark);
  gtk_widget_set_valign (sign, GTK_ALIGN_START);
  if (GTK_IS_IMAGE (sign)) /* else it stands on the line of the words */
    gtk_widget_set_margin_top (sign, 2);
  sb_wrap_line_append (line, sign);
  sb_wrap_line_append (line, make_words (verdict, "verdict"));
  return line;
}

static void
show_count (SbJudgementCard *card)
{
  gboolean of_stretches = card->n_stretches > 0;
  guint n = of_stretches ? card->n_stretches : card->n_reasons;
  const char *one = of_stretches ? "stretch" : "reason", *more = of_stretches ? "stretches" : "reasons";
  g_autofree char *text = g_strdup_printf ("%u %s", n, n == 1 ? one : more);
  gtk_expander_set_label (GTK_EXPANDER (card->expander), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (card->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_widget_set_visible (card->expander, card->n_reasons > 0);
}

void
sb_judgement_card_add (SbJudgementCard *card, const char *label, const char *sentence)
{
  g_autofree char *text = label != NULL ? g_strdup_printf ("%s: %s", label, sentence) : g_strdup (sentence);
  gtk_box_append (GTK_BOX (card->reasons), make_words (text, NULL));
  card->n_reasons++;
  show_count (card);
}

void
sb_judgement_card_list_stretches (SbJudgementCard *card, guint n)
{
  card->n_stretches = n;
  show_count (card);
}

void
sb_judgement_card_add_button (SbJudgementCard *card, GtkWidget *button)
{
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  sb_wrap_line_append (card->top, button);
}

gboolean
sb_judgement_card_is_open (SbJudgementCard *card)
{
  return gtk_expander_get_expanded (GTK_EXPANDER (card->expander));
}

void
sb_judgement_card_set_open (SbJudgementCard *card, gboolean open)
{
  gtk_expander_set_expanded (GTK_EXPANDER (card->expander), open);
}

const char *
sb_judgement_card_heading (SbJudgementCard *card)
{
  return gtk_label_get_text (GTK_LABEL (card->heading));
}

static void
sb_judgement_card_class_init (SbJudgementCardClass *klass)
{
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
sb_judgement_card_init (SbJudgementCard *card)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (card), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (card), 3);
  gtk_widget_add_css_class (GTK_WIDGET (card), "judgement");
  card->top = sb_wrap_line_new (4);
  card->reasons = gtk_box_new (GTK_ORIENTATION_VERTICAL, 5);
  gtk_widget_add_css_class (card->reasons, "judgement-reasons");
  card->expander = gtk_expander_new (NULL);
  gtk_expander_set_child (GTK_EXPANDER (card->expander), card->reasons);
  gtk_widget_add_css_class (card->expander, "small-text");
}

GtkWidget *
sb_judgement_card_new (const char *heading, SbJudgementMark mark, const char *verdict)
{
  SbJudgementCard *card = g_object_new (SB_TYPE_JUDGEMENT_CARD, NULL);
  card->heading = make_words (heading, "judgement-heading");
  gtk_widget_set_hexpand (card->heading, TRUE);
  sb_wrap_line_append (card->top, card->heading);
  gtk_box_append (GTK_BOX (card), card->top);
  gtk_box_append (GTK_BOX (card), make_verdict (mark, verdict));
  gtk_box_append (GTK_BOX (card), card->expander);
  show_count (card);
  g_autofree char *label = g_strdup_printf ("%s: %s", heading, verdict);
  gtk_accessible_update_property (GTK_ACCESSIBLE (card), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (card);
}
