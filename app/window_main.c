/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's program. Files named on the command line are opened in it. */
#include "look.h"
#include "window.h"

#include <gsl/gsl_errno.h>
#include <locale.h>

static void
on_startup (GApplication *application, gpointer user_data)
{
  sb_look_install ();
}

static void
on_activate (GApplication *application, gpointer user_data)
{
  gtk_window_present (GTK_WINDOW (sb_window_new (GTK_APPLICATION (application))));
}

static void
on_open (GApplication *application, GFile **files, int n_files, const char *hint, gpointer user_data)
{
  SbWindow *window = SB_WINDOW (sb_window_new (GTK_APPLICATION (application)));
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (int i = 0; i < n_files; i++)
    if (g_file_peek_path (files[i]) != NULL)
      g_strv_builder_add (builder, g_file_peek_path (files[i]));
  g_auto (GStrv) paths = g_strv_builder_end (builder);
  if (paths[0] == NULL)
    sb_window_tell (window, GTK_MESSAGE_ERROR, "What was to be opened is not on this computer. Copy it here first.");
  else
    sb_window_open (window, (const char *const *) paths);
  gtk_window_present (GTK_WINDOW (window)); /* after the reading has begun */
}

int
main (int argc, char *argv[])
{
  gsl_set_error_handler_off (); /* its status is looked at where it is called */
  g_set_prgname ("slewbench-window");
  g_set_application_name ("Slewbench");
  if (!gtk_init_check ()) {
    g_printerr (
        "slewbench: there is no display to open the window on. The commands measure, chart, report and inspect need "
        "none: see 'slewbench --help'.\n");
    return 2;
  }
  setlocale (LC_NUMERIC,
             "C"); /* the toolkit set the user's; figures are written alike in the window and in the files */
  g_autoptr (GtkApplication) application
      = gtk_application_new ("org.slewbench.Slewbench", G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE);
  g_signal_connect (application, "startup", G_CALLBACK (on_startup), NULL);
  g_signal_connect (application, "activate", G_CALLBACK (on_activate), NULL);
  g_signal_connect (application, "open", G_CALLBACK (on_open), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
