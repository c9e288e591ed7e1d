/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial_menu.h"

#include "configuration_menu.h"

/* '#' stands for the trial in `format`. */
static void
append (GMenu *menu, const char *label, const char *format, guint index)
{
  g_autoptr (GString) action = g_string_new (format);
  g_autofree char *number = g_strdup_printf ("uint32 %u", index);
  g_string_replace (action, "#", number, 0);
  g_menu_append (menu, label, action->str);
}

/* What is done to the trial, or to all that are chosen with it. */
static GMenuModel *
menu_of_arranging (const SbTrialMenu *of)
{
  GMenu *menu = g_menu_new ();
  guint n = of->n_meant, index = of->index;
  g_autofree char *include = g_strdup_printf ("Include %u trials", n),
                  *exclude = g_strdup_printf ("Leave %u trials out", n);
  g_autofree char *move = n > 1 ? g_strdup_printf ("Move %u trials to", n) : g_strdup ("Move to");
  g_autofree char *split = n > 1 ? g_strdup_printf ("Split %u trials off", n) : g_strdup ("Split off");
  g_autofree char *to = g_strdup_printf ("trials.move((uint32 %u, #))", index);
  append (menu, of->is_chosen ? "Choose no longer" : "Choose", "trials.choose(#)", index);
  if (n > 1) {
    append (menu, include, "trials.include((#, true))", index);
    append (menu, exclude, "trials.include((#, false))", index);
  }
  g_autoptr (GMenuModel) others = sb_configuration_menu_of_others (of->document, of->configuration, to);
  if (g_menu_model_get_n_items (others) > 0)
    g_menu_append_submenu (menu, move, others);
  append (menu, split, "trials.split(#)", index);
  return G_MENU_MODEL (menu);
}

GMenuModel *
sb_trial_menu_new (const SbTrialMenu *of)
{
  const SbBench *bench = sb_document_bench (of->document);
  const SbTrialEntry *entry = sb_configuration_entry (sb_bench_configuration (bench, of->configuration), of->index);
  gboolean whole = sb_trial_choices_whole (&entry->choices);
  GMenu *menu = g_menu_new ();
  if (of->can_be_cut)
    append (menu, whole ? "Cut into steps…" : "Cut elsewhere…", "trials.cut(#)", of->index);
  if (!whole)
    append (menu, "Join steps", "trials.join(#)", of->index);
  g_autoptr (GMenuItem) columns = g_menu_item_new ("Import sheet (columns)…", NULL);
  g_menu_item_set_action_and_target (columns, "win.columns-of", "^ay", entry->path);
  g_menu_append_item (menu, columns);
  if (of->is_lost)
    g_menu_append (menu, "Locate…", "win.locate-logs");
  g_autoptr (GMenuModel) arranging = menu_of_arranging (of);
  g_menu_append_section (menu, NULL, arranging);
  return G_MENU_MODEL (menu);
}
