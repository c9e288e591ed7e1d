/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Batch commands run here. The window is a program of its own beside this one, so that a batch command need not load a
 * toolkit: on short logs that would take longer than the work. */
#include "commands.h"

#include <errno.h>
#include <gsl/gsl_errno.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const struct {
  const char *name;
  SbExitStatus (*run) (char **arguments);
  const char *what;
} commands[] = {
  { "measure", sb_command_measure, "measures of each configuration, and the comparison of two" },
  { "chart", sb_command_chart, "one chart as PNG, SVG or PDF" },
  { "report", sb_command_report, "charts, tables, methods text and checksums in a folder" },
  { "verify", sb_command_verify, "whether a chart or report comes out again from the logs at hand" },
  { "inspect", sb_command_inspect, "what the importer sees in a log" },
  { "layouts", sb_command_layouts, "lists, shows, forgets, exports and imports remembered layouts" },
};

static void
print_help (void)
{
  fputs ("Slewbench: repeat tests of steering motors, averaged and compared.\n\n"
         "  slewbench [INPUT...]                   open the window\n",
         stdout);
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++) {
    g_autofree char *use = g_strdup_printf ("slewbench %s [OPTION...] INPUT...", commands[i].name);
    printf ("  %-37s  %s\n", use, commands[i].what);
  }
  fputs ("\nINPUT is a session file, a folder of logs (one configuration), a folder of such folders (one\n"
         "configuration each), or log files (together one configuration).\n"
         "'slewbench COMMAND --help' tells the options of a command.\n\n"
         "A steering motor can injure: keep hands clear of the rim, an emergency stop within reach, and follow\n"
         "the maker's instructions and local rules. Slewbench reads logs; it drives no motor.\n",
         stdout);
}

/* The window program lies beside this one in a build, and in the folder for helper programs when installed. */
static int
open_window (char **arguments)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname (self) : g_strdup (".");
  g_autofree char *beside = g_build_filename (folder, "slewbench-window", NULL);
  const char *programs[] = { beside, SB_LIBEXECDIR "/slewbench-window" };
  g_autofree char **list = g_new0 (char *, g_strv_length (arguments) + 2);
  for (gsize i = 0; arguments[i] != NULL; i++)
    list[i + 1] = arguments[i];
  for (gsize i = 0; i < G_N_ELEMENTS (programs); i++) {
    list[0] = (char *) (gsize) programs[i]; /* execv takes char *const[], and changes nothing */
    if (g_file_test (programs[i], G_FILE_TEST_IS_EXECUTABLE))
      execv (programs[i], list);
  }
  g_printerr ("slewbench: the window program 'slewbench-window' is neither in %s nor in %s; install the program "
              "whole. The batch commands work without it: see 'slewbench --help'.\n",
              folder, SB_LIBEXECDIR);
  return SB_EXIT_NOTHING;
}

int
main (int argc, char **argv)
{
  setlocale (LC_CTYPE, ""); /* how messages are encoded; never how numbers are written */
  gsl_set_error_handler_off ();
  if (argc < 2)
    return open_window (argv + argc);
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (strcmp (argv[1], commands[i].name) == 0) {
      SbExitStatus status = commands[i].run (argv + 2);
      if (fflush (stdout) == 0 && !ferror (stdout))
        return (int) status;
      g_printerr ("slewbench: the output could not be written: %s\n", g_strerror (errno));
      return SB_EXIT_NOTHING;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0 || strcmp (argv[1], "help") == 0) {
    print_help ();
    return SB_EXIT_DONE;
  }
  if (strcmp (argv[1], "--version") == 0) {
    puts ("Slewbench " SB_VERSION);
    return SB_EXIT_DONE;
  }
  if (argv[1][0] == '-') {
    g_printerr ("slewbench: there is no option '%s'.\nTry 'slewbench --help'.\n", argv[1]);
    return SB_EXIT_USAGE;
  }
  if (!g_file_test (argv[1], G_FILE_TEST_EXISTS)) {
    g_printerr ("slewbench: there is neither a command nor a file or folder called '%s'.\nTry 'slewbench --help'.\n",
                argv[1]);
    return SB_EXIT_USAGE;
  }
  return open_window (argv + 1);
}
