/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "inspect_json.h"
#include "inspect_text.h"
#include "json_members.h"
#include "layout_file.h"
#include "log_reading.h"
#include "reading_doubts.h"
#include "wanted_options.h"

#include <stdio.h>

typedef struct {
  gboolean json, as_layout, all_columns, all_faults;
  SbLayoutOptions layout;
  char **files;
} InspectOptions;

static SbExitStatus
status_of (gsize n_read, gsize n_failed)
{
  if (n_read == 0)
    return SB_EXIT_NOTHING;
  return n_failed > 0 ? SB_EXIT_LEFT_OUT : SB_EXIT_DONE;
}

/* As JSON where there is a builder. */
static void
tell (SbLog *log, const InspectOptions *o, JsonBuilder *builder)
{
  g_autoptr (SbPreview) preview = sb_preview_read (log->path, log->layout, log->end_line, NULL, NULL);
  SbInspected inspected = { .log = log, .preview = preview };
  if (builder == NULL) {
    sb_inspect_text_print (&inspected, o->all_columns, o->all_faults);
    return;
  }
  json_builder_begin_object (builder);
  sb_inspect_json_add (builder, &inspected);
  json_builder_end_object (builder);
}

static SbExitStatus
inspect (const InspectOptions *o, GPtrArray *stated, JsonBuilder *builder)
{
  char **files = o->files;
  gsize n_read = 0, n_failed = 0;
  g_autoptr (GPtrArray) layouts = sb_stated_layouts_list (stated);
  g_autoptr (GPtrArray) wanted = g_ptr_array_new ();
  SbLogReading reading = { .layouts = layouts };
  for (gsize i = 0; files[i] != NULL; i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SbLog) log = sb_log_reading_read (files[i], &reading, NULL, NULL, &error);
    if (log == NULL) {
      g_printerr ("slewbench: %s\n", error->message);
      sb_wanted_options_add (wanted, files[i], &reading);
      n_failed++;
      continue;
    }
    n_read++;
    n_failed += sb_layout_leaves_out (log->layout) ? 1 : 0;
    sb_stated_layouts_note (stated, log->layout);
    tell (log, o, builder);
  }
  sb_wanted_options_say (wanted);
  SbExitStatus status = status_of (n_read, n_failed), unused = sb_stated_layouts_say_unused (stated);
  return status == SB_EXIT_DONE ? unused : status;
}

static SbExitStatus
inspect_as_json (const InspectOptions *o, GPtrArray *stated)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_array (builder);
  SbExitStatus status = inspect (o, stated, builder);
  json_builder_end_array (builder);
  g_autofree char *text = sb_json_text (builder);
  fputs (text, stdout);
  return status;
}

static gboolean
has_shape (const GPtrArray *drafts, const SbLayoutChoice *draft)
{
  for (guint i = 0; i < drafts->len; i++)
    if (sb_layout_choice_replaces (draft, g_ptr_array_index (drafts, i)))
      return TRUE;
  return FALSE;
}

/* One layout for each shape of the logs. Their rows are not read: what is missing for that is what is asked about. */
static SbExitStatus
inspect_as_layout (char **files, GPtrArray *stated)
{
  gsize n_failed = 0;
  g_autoptr (GPtrArray) layouts = sb_stated_layouts_list (stated), drafts = sb_layout_choices_new ();
  SbLogReading reading = { .layouts = layouts };
  for (gsize i = 0; files[i] != NULL; i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SbLayout) layout = sb_log_reading_layout (files[i], &reading, NULL, &error);
    if (layout == NULL) {
      g_printerr ("slewbench: %s\n", error->message);
      n_failed++;
      continue;
    }
    sb_stated_layouts_note (stated, layout);
    g_autoptr (SbLayoutChoice) draft = sb_layout_file_draft (layout);
    if (!has_shape (drafts, draft))
      g_ptr_array_add (drafts, g_steal_pointer (&draft));
  }
  if (drafts->len > 0) {
    g_autofree char *text = sb_layout_file_text (drafts);
    fputs (text, stdout);
  }
  SbExitStatus status = status_of (drafts->len, n_failed), unused = sb_stated_layouts_say_unused (stated);
  return status == SB_EXIT_DONE ? unused : status;
}

static gboolean
parse (InspectOptions *o, char **arguments)
{
  GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, "As JSON", NULL },
    { "as-layout", 0, 0, G_OPTION_ARG_NONE, &o->as_layout,
      "As a layout file, one layout for each shape of the logs: to be looked over, changed and given to --layout",
      NULL },
    { "all-columns", 0, 0, G_OPTION_ARG_NONE, &o->all_columns,
      "List the columns that are not used as well, however many there are", NULL },
    { "all-faults", 0, 0, G_OPTION_ARG_NONE, &o->all_faults,
      "List the first thousand faults by line, not only the first three of each kind in a column", NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->files, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new ("FILE... - what the importer sees");
  g_option_context_set_summary (context,
                                "Prints how each log is written, its columns with their roles, units and ranges, "
                                "rate, step, and faults by kind and line.");
  g_option_context_add_main_entries (context, entries, NULL);
  sb_layout_options_add (context, &o->layout);
  return sb_arguments_parse (context, "inspect", arguments);
}

static SbExitStatus
run (const InspectOptions *o)
{
  if (o->files == NULL)
    return sb_arguments_wrong ("inspect", "name one or more log files.");
  if (o->json && o->as_layout)
    return sb_arguments_wrong ("inspect", "--json and --as-layout exclude each other.");
  SbExitStatus status;
  g_autoptr (GPtrArray) stated = sb_layout_options_read ("inspect", &o->layout, &status);
  if (stated == NULL)
    return status;
  if (o->as_layout)
    return inspect_as_layout (o->files, stated);
  return o->json ? inspect_as_json (o, stated) : inspect (o, stated, NULL);
}

SbExitStatus
sb_command_inspect (char **arguments)
{
  InspectOptions options = { 0 };
  sb_layout_options_init (&options.layout);
  SbExitStatus status = parse (&options, arguments) ? run (&options) : SB_EXIT_USAGE;
  sb_layout_options_clear (&options.layout);
  g_strfreev (options.files);
  return status;
}
