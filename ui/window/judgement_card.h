/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One judgement as the pane shows it: what is judged, the verdict, and behind an expander the reasons with their
 * figures. */
#pragma once

#include <gtk/gtk.h>

/* How a verdict is marked, beside its words. A tick is read as "passed": only what was promised can have one. */
typedef enum {
  SB_MARK_YES,    /* reached, limits as its name says */
  SB_MARK_NO,     /* not reached */
  SB_MARK_ELSE,   /* shapes the response: it does something else than is asked about */
  SB_MARK_OPEN,   /* cannot tell, undecided, not compared */
  SB_MARK_DIFFER, /* some measure differs, the curves are apart */
  SB_MARK_EQUAL,  /* all are practically equal, a setting has no effect */
} SbJudgementMark;

#define SB_TYPE_JUDGEMENT_CARD (sb_judgement_card_get_type ())
G_DECLARE_FINAL_TYPE (SbJudgementCard, sb_judgement_card, SB, JUDGEMENT_CARD, GtkBox)

GtkWidget *sb_judgement_card_new (const char *heading, SbJudgementMark mark, const char *verdict);

/* A sentence behind the expander; `label` before it, or NULL. */
void sb_judgement_card_add (SbJudgementCard *card, const char *label, const char *sentence);

/* What is added tells of `n` stretches of time, though not of each by itself, and is counted so. */
void sb_judgement_card_list_stretches (SbJudgementCard *card, guint n);

/* At the end of the heading's line. */
void sb_judgement_card_add_button (SbJudgementCard *card, GtkWidget *button);

/* Whether the reasons are unfolded. */
gboolean sb_judgement_card_is_open (SbJudgementCard *card);
void sb_judgement_card_set_open (SbJudgementCard *card, gboolean open);

const char *sb_judgement_card_heading (SbJudgementCard *card);
