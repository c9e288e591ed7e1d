/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "main_menu.h"

static void
add_section (GMenu *menu, const char *const *entries)
{
  g_autoptr (GMenu) section = g_menu_new ();
  for (guint i = 0; entries[i] != NULL; i += 2)
    g_menu_append (section, entries[i], entries[i + 1]);
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
}

GMenuModel *
sb_main_menu_new (gboolean with_demo)
{
  static const char *const opening[] = { "Open a folder…", "win.open-folder", NULL };
  static const char *const demo[]
      = { "Open a folder…", "win.open-folder", "Open the demo bench", "win.open-demo", NULL };
  static const char *const saving[] = { "Save session", "win.save", "Save session as…", "win.save-as", NULL };
  static const char *const exporting[] = { "Export chart…",
                                           "win.export",
                                           "Write report…",
                                           "win.report",
                                           "Copy chart",
                                           "win.copy-chart",
                                           "Export table as CSV…",
                                           "win.export-table",
                                           "Copy table as text",
                                           "win.copy-table",
                                           "Copy methods text",
                                           "win.copy-methods",
                                           NULL };
  static const char *const reading[] = { "Import sheet (columns)…",
                                         "win.columns",
                                         "Locate missing logs…",
                                         "win.locate-logs",
                                         "Remembered column layouts…",
                                         "win.layouts",
                                         NULL };
  static const char *const helping[] = { "Keyboard shortcuts", "win.shortcuts", "About Slewbench", "win.about", NULL };
  static const char *const leaving[] = { "Quit", "win.close", NULL };
  GMenu *menu = g_menu_new ();
  add_section (menu, with_demo ? demo : opening);
  add_section (menu, saving);
  add_section (menu, reading);
  add_section (menu, exporting);
  add_section (menu, helping);
  add_section (menu, leaving);
  return G_MENU_MODEL (menu);
}
