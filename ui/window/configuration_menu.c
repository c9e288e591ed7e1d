/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "configuration_menu.h"

GMenuModel *
sb_configuration_menu_of_others (SbDocument *document, guint index, const char *action)
{
  const SbBench *bench = sb_document_bench (document);
  GMenu *menu = g_menu_new ();
  for (guint c = 0; c < bench->configurations->len; c++) {
    if (c == index)
      continue;
    g_autofree char *number = g_strdup_printf ("uint32 %u", c);
    g_autoptr (GString) detailed = g_string_new (action);
    g_string_replace (detailed, "#", number, 0);
    g_autoptr (GString) label = g_string_new (sb_bench_configuration (bench, c)->name);
    g_string_replace (label, "_", "__", 0); /* no key of the menu's */
    g_menu_append (menu, label->str, detailed->str);
  }
  return G_MENU_MODEL (menu);
}

GMenuModel *
sb_configuration_menu_new (SbDocument *document, guint index)
{
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) order = g_menu_new ();
  g_autoptr (GMenuModel) others = sb_configuration_menu_of_others (document, index, "configuration.merge(#)");
  g_menu_append (menu, "Rename…", "configuration.rename");
  g_menu_append (menu, "Duplicate", "configuration.duplicate");
  g_menu_append (menu, "Include every trial", "configuration.include-all");
  g_menu_append (menu, "Import sheet (columns)…", "configuration.columns");
  g_menu_append (menu, "Remove", "configuration.remove");
  g_menu_append (order, "Move up", "configuration.move(-1)");
  g_menu_append (order, "Move down", "configuration.move(1)");
  if (g_menu_model_get_n_items (others) > 0)
    g_menu_append_submenu (order, "Merge into", others);
  g_menu_append_section (menu, NULL, G_MENU_MODEL (order));
  return G_MENU_MODEL (menu);
}
