/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "bundle.h"
#include "draw_again.h"
#include "proof_file.h"
#include "verify.h"

#include <stdio.h>

static SbExitStatus
say_error (const GError *error)
{
  g_printerr ("slewbench: %s%s\n", error->message, g_str_has_suffix (error->message, ".") ? "" : ".");
  return SB_EXIT_NOTHING;
}

/* `path`: a chart, a report's page or PDF or JSON, or the folder of a report. */
static SbExitStatus
verify (const char *path, const char *folder, gboolean json)
{
  g_autoptr (GError) error = NULL;
  gboolean is_folder = g_file_test (path, G_FILE_TEST_IS_DIR);
  g_autofree char *carrier = is_folder ? sb_report_folder_proof (path) : g_strdup (path);
  if (carrier == NULL) {
    g_printerr ("slewbench: %s: there is no report in this folder: neither report.html, report.pdf nor "
                "results.json.\n",
                path);
    return SB_EXIT_NOTHING;
  }
  SbProof *proof = sb_proof_read_file (carrier, &error);
  if (proof == NULL)
    return say_error (error);
  g_autofree char *absolute = g_canonicalize_filename (carrier, NULL);
  g_autofree char *beside = g_path_get_dirname (absolute);
  g_autoptr (SbVerification) verification = sb_verify (proof, beside, folder, NULL, &error);
  if (verification == NULL)
    return say_error (error);
  if (is_folder)
    sb_draw_report_again (verification, path);
  else
    sb_draw_again (verification, carrier);
  g_autofree char *text = json ? sb_verification_json (verification) : sb_verification_text (verification);
  if (!json) {
    g_autofree char *name = g_filename_display_basename (path);
    printf ("%s\n", name);
  }
  fputs (text, stdout);
  return sb_verification_is_same (verification) ? SB_EXIT_DONE : SB_EXIT_LEFT_OUT;
}

/* A bundle brings its logs and its report. */
static SbExitStatus
verify_bundle (const char *path, gboolean json)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = sb_bundle_unpack (path, NULL, &error);
  if (folder == NULL) {
    g_printerr ("slewbench: %s\n", error->message);
    return SB_EXIT_NOTHING;
  }
  g_autofree char *report = g_build_filename (folder, SB_BUNDLE_REPORT, NULL);
  return verify (report, folder, json);
}

SbExitStatus
sb_command_verify (char **arguments)
{
  g_autofree char *folder = NULL;
  g_auto (GStrv) files = NULL;
  gboolean json = FALSE;
  GOptionEntry entries[] = {
    { "logs", 0, 0, G_OPTION_ARG_FILENAME, &folder,
      "Look for the logs in this folder and all folders in it too (only beside the file)", "FOLDER" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, "Every log and figure as JSON", NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &files, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_autoptr (GOptionContext) context
      = g_option_context_new ("FILE|FOLDER - what made a chart or report, and whether it comes out again");
  g_option_context_set_summary (
      context, "Reads the proof inside a chart (PNG, SVG, PDF) or a report (its page, PDF, results.json, or its whole\n"
               "folder), says what made it, and holds it against the logs at hand: whether each is the same, by\n"
               "SHA-256, whether the same figures and judgements come out, and whether the picture or the report,\n"
               "made again, is the same.");
  g_option_context_set_description (context, "Exit status: 0 the same; 1 something differs or is missing; 2 no proof "
                                             "inside; 64 wrong use.\n");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!sb_arguments_parse (context, "verify", arguments))
    return SB_EXIT_USAGE;
  if (files == NULL || files[0] == NULL || files[1] != NULL)
    return sb_arguments_wrong ("verify", "name one file: a chart (PNG, SVG, PDF) or a report's page, PDF or "
                                         "results.json; or a report's folder.");
  if (folder != NULL && !g_file_test (folder, G_FILE_TEST_IS_DIR))
    return sb_arguments_wrong ("verify", "there is no folder %s.", folder);
  if (folder == NULL && sb_bundle_is_name (files[0]) && g_file_test (files[0], G_FILE_TEST_IS_REGULAR))
    return verify_bundle (files[0], json);
  return verify (files[0], folder, json);
}
