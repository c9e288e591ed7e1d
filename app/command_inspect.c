/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

#include "arguments.h"
#include "json_members.h"
#include "layout_file.h"
#include "layout_words.h"
#include "log_reading.h"
#include "trial.h"

#include <math.h>
#include <stdio.h>

static const char *
role_of (const SbLogColumn *column)
{
  return column->role != SB_ROLE_OTHER ? sb_role_key (column->role) : "read past";
}

/* "semicolon between cells, decimal comma, thousands point, UTF-8, comments after '#'" */
static void
print_dialect (const SbLog *log)
{
  const SbLayout *layout = log->layout;
  printf ("  dialect       %s, decimal %s", sb_sign_word (SB_WORD_DELIMITER, layout->delimiter),
          sb_sign_word (SB_WORD_DECIMAL, layout->decimal));
  if (layout->thousands != '\0')
    printf (", thousands %s", sb_sign_word (SB_WORD_THOUSANDS, layout->thousands));
  printf (", quotes %s, %s", sb_sign_word (SB_WORD_QUOTE, layout->quote), sb_encoding_name (layout->encoding));
  if (layout->comment_prefix[0] != '\0')
    printf (", comments after '%s'", layout->comment_prefix);
  printf ("\n  lines         ");
  if (layout->header_line > 0)
    printf ("header at line %" G_GUINT64_FORMAT, layout->header_line);
  else
    printf ("no header");
  if (layout->units_line > 0)
    printf (", units at line %" G_GUINT64_FORMAT, layout->units_line);
  printf (", rows from line %" G_GUINT64_FORMAT, layout->first_line);
  if (layout->last_line > 0)
    printf (" to %" G_GUINT64_FORMAT, layout->last_line);
  if (layout->n_tables > 1)
    printf (", table %u of %u", layout->table + 1, layout->n_tables);
  printf ("\n");
}

/* Kinds first, because there may be thousands of each. */
static void
print_faults (const SbLog *log)
{
  for (guint i = 0; i < log->fault_groups->len; i++) {
    g_autofree char *text = sb_fault_group_text (g_ptr_array_index (log->fault_groups, i));
    printf ("  faults        %s\n", text);
  }
  for (guint i = 0; i < log->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (log->faults, i);
    printf ("  fault         line %" G_GUINT64_FORMAT "%s%s: %s\n", fault->line,
            fault->column != NULL ? ", column " : "", fault->column != NULL ? fault->column : "", fault->what);
  }
  if (log->n_faults > log->faults->len)
    printf ("  fault         and %" G_GUINT64_FORMAT " more\n", log->n_faults - log->faults->len);
}

/* What the log is as a step test; NULL, with the reason, when it is none. */
static SbTrial *
as_trial (SbLog *log, char **reason)
{
  g_autoptr (GError) error = NULL;
  SbTrial *trial = sb_trial_new (log, NULL, &error);
  if (trial == NULL)
    *reason = g_strdup (error->message);
  return trial;
}

/* Each with its place and levels when there are several. */
static void
print_steps (const SbTrial *trial)
{
  gsize n = sb_steps_count (trial->steps), k = 0;
  if (n < 2) {
    printf ("  step          at %.6g s, from the %s%s\n", trial->onset_s, sb_onset_from_key (trial->onset_from),
            trial->mirrored ? ", downward (mirrored)" : "");
    return;
  }
  for (guint i = 0; i < trial->steps->len; i++) {
    const SbStep *step = &g_array_index (trial->steps, SbStep, i);
    if (!step->is_release)
      printf ("  step %-2" G_GSIZE_FORMAT "       at %.6g s, from %.6g to %.6g N·m; with %.6g s to %.6g s of the log\n",
              ++k, step->edge_s, step->base_nm, step->top_nm, step->from_s, step->to_s);
  }
}

/* "temperature": the key and the unit are those of the role. */
static SbRole
role_of_aside (int aside)
{
  return (SbRole) (SB_ROLE_CURRENT + aside);
}

static void
print_asides (const SbLog *log)
{
  for (int i = 0; i < SB_N_ASIDES; i++)
    if (log->aside[i].n > 0)
      printf ("  %-13s mean %.6g %s, from %.6g to %.6g\n", sb_role_key (role_of_aside (i)), log->aside[i].mean,
              sb_role_unit (role_of_aside (i)), log->aside[i].smallest, log->aside[i].largest);
}

/* What the lines before the table say, and the columns that are no signals. */
static void
print_circumstances (const SbLog *log)
{
  const struct {
    const char *what, *value;
  } words[] = {
    { "device", log->device }, { "firmware", log->firmware }, { "operator", log->operator_name }, { "date", log->date }
  };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].value != NULL)
      printf ("  %-13s %s\n", words[i].what, words[i].value);
  if (isfinite (log->rotation_deg))
    printf ("  rotation      %.6g°\n", log->rotation_deg);
  if (isfinite (log->inertia_kg_m2))
    printf ("  inertia       %.6g kg·m²\n", log->inertia_kg_m2);
  for (guint i = 0; i < log->settings->len; i++) {
    const SbSetting *setting = g_ptr_array_index (log->settings, i);
    printf ("  setting       %s: %s\n", setting->name, setting->text);
  }
  print_asides (log);
}

/* A question stands below its column already. */
static gboolean
is_told_with_column (const SbLog *log, const char *note)
{
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (log->layout, i);
    if (column->question == NULL)
      continue;
    g_autofree char *told = g_strdup_printf ("column '%s': %s", column->name, column->question);
    if (g_str_equal (told, note))
      return TRUE;
  }
  return FALSE;
}

static void
print_notes (const SbLog *log, const GPtrArray *notes)
{
  for (guint i = 0; i < notes->len; i++)
    if (!is_told_with_column (log, g_ptr_array_index (notes, i)))
      printf ("  note          %s\n", (const char *) g_ptr_array_index (notes, i));
}

static void
print_text (SbLog *log)
{
  g_autofree char *reason = NULL;
  g_autoptr (SbTrial) trial = as_trial (log, &reason);
  printf ("%s\n", log->path);
  printf ("  sha256        %s\n", log->sha256);
  print_dialect (log);
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    gboolean read = column->role != SB_ROLE_OTHER;
    const char *unit = !read ? "" : column->unit[0] != '\0' ? column->unit : sb_role_unit (column->role);
    printf ("  column %-3u    %s: %s%s%s\n", i + 1, column->name, role_of (column), read ? ", in " : "", unit);
    const char *question = sb_layout_column (log->layout, i)->question;
    if (question != NULL)
      printf ("  question      %s\n", question);
  }
  print_circumstances (log);
  printf ("  rows          %" G_GSIZE_FORMAT " read, %" G_GSIZE_FORMAT " left out\n", log->n_rows,
          log->n_rows_left_out);
  if (trial != NULL) {
    printf ("  rate          %.6g samples per second, jitter %.3g s, %u gap%s\n", 1 / trial->sample_interval_s,
            trial->jitter_s, trial->gaps->len, trial->gaps->len == 1 ? "" : "s");
    print_steps (trial);
  } else {
    printf ("  step          none: %s\n", reason);
  }
  print_notes (log, trial != NULL ? trial->notes : log->notes);
  print_faults (log);
}

/* How sure it is, and what is not in the name and the unit. */
static void
add_stated (JsonBuilder *builder, const SbLayoutColumn *column)
{
  static const char *const certainties[] = {
    [SB_CERTAINTY_STATED] = "stated",   [SB_CERTAINTY_ASSUMED] = "assumed",     [SB_CERTAINTY_GUESSED] = "guessed",
    [SB_CERTAINTY_MISSING] = "missing", [SB_CERTAINTY_CONFIRMED] = "confirmed",
  };
  const struct {
    const char *name;
    double value;
  } values[] = {
    { "counts_per_turn", column->counts_per_turn },
    { "wrap_counts", column->wrap_counts > 0 ? column->wrap_counts : (double) NAN },
    { "torque_constant_nm_per_a", column->torque_constant_nm_per_a },
    { "torque_per_volt_nm", column->torque_per_volt_nm },
    { "full_scale", column->full_scale },
  };
  sb_json_add_string (builder, "certainty", certainties[column->certainty]);
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    if (isfinite (values[i].value))
      sb_json_add_number (builder, values[i].name, values[i].value);
  if (column->question != NULL)
    sb_json_add_string (builder, "question", column->question);
}

static void
add_columns (JsonBuilder *builder, const SbLog *log)
{
  json_builder_set_member_name (builder, "columns");
  json_builder_begin_array (builder);
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "name", column->name);
    sb_json_add_string (builder, "role", role_of (column));
    sb_json_add_string (builder, "unit", column->unit);
    sb_json_add_number (builder, "factor", column->factor);
    add_stated (builder, sb_layout_column (log->layout, i));
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

/* The circumstances that columns tell of, in the role's unit. */
static void
add_asides (JsonBuilder *builder, const SbLog *log)
{
  json_builder_set_member_name (builder, "circumstances");
  json_builder_begin_object (builder);
  for (int i = 0; i < SB_N_ASIDES; i++) {
    if (log->aside[i].n == 0)
      continue;
    json_builder_set_member_name (builder, sb_role_key (role_of_aside (i)));
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "unit", sb_role_unit (role_of_aside (i)));
    sb_json_add_number (builder, "mean", log->aside[i].mean);
    sb_json_add_number (builder, "smallest", log->aside[i].smallest);
    sb_json_add_number (builder, "largest", log->aside[i].largest);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

static void
add_dialect (JsonBuilder *builder, const SbLayout *layout)
{
  sb_json_add_string (builder, "encoding", sb_encoding_name (layout->encoding));
  sb_json_add_string (builder, "delimiter", sb_sign_word (SB_WORD_DELIMITER, layout->delimiter));
  sb_json_add_string (builder, "decimal", sb_sign_word (SB_WORD_DECIMAL, layout->decimal));
  sb_json_add_string (builder, "thousands", sb_sign_word (SB_WORD_THOUSANDS, layout->thousands));
  sb_json_add_string (builder, "quote", sb_sign_word (SB_WORD_QUOTE, layout->quote));
  sb_json_add_string (builder, "comment_prefix", layout->comment_prefix);
  sb_json_add_integer (builder, "header_line", (gint64) layout->header_line);
  sb_json_add_integer (builder, "units_line", (gint64) layout->units_line);
  sb_json_add_integer (builder, "first_line", (gint64) layout->first_line);
  sb_json_add_integer (builder, "last_line", (gint64) layout->last_line);
  sb_json_add_integer (builder, "table", layout->table + 1);
  sb_json_add_integer (builder, "n_tables", layout->n_tables);
}

static void
add_fault_groups (JsonBuilder *builder, const SbLog *log)
{
  json_builder_set_member_name (builder, "fault_groups");
  json_builder_begin_array (builder);
  for (guint i = 0; i < log->fault_groups->len; i++) {
    const SbFaultGroup *group = g_ptr_array_index (log->fault_groups, i);
    g_autofree char *text = sb_fault_group_text (group);
    json_builder_begin_object (builder);
    sb_json_add_integer (builder, "n", (gint64) group->n);
    sb_json_add_integer (builder, "first_line", (gint64) group->first_line);
    if (group->column != NULL)
      sb_json_add_string (builder, "column", group->column);
    sb_json_add_string (builder, "what", text);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static void
add_notes (JsonBuilder *builder, const GPtrArray *notes)
{
  json_builder_set_member_name (builder, "notes");
  json_builder_begin_array (builder);
  for (guint i = 0; i < notes->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (notes, i));
  json_builder_end_array (builder);
}

static void
add_faults (JsonBuilder *builder, const SbLog *log)
{
  sb_json_add_integer (builder, "n_faults", (gint64) log->n_faults);
  json_builder_set_member_name (builder, "faults");
  json_builder_begin_array (builder);
  for (guint i = 0; i < log->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (log->faults, i);
    json_builder_begin_object (builder);
    sb_json_add_integer (builder, "line", (gint64) fault->line);
    if (fault->column != NULL)
      sb_json_add_string (builder, "column", fault->column);
    sb_json_add_string (builder, "what", fault->what);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static void
add_steps (JsonBuilder *builder, const SbTrial *trial)
{
  json_builder_set_member_name (builder, "steps");
  json_builder_begin_array (builder);
  for (guint i = 0; i < trial->steps->len; i++) {
    const SbStep *step = &g_array_index (trial->steps, SbStep, i);
    if (step->is_release)
      continue;
    json_builder_begin_object (builder);
    sb_json_add_number (builder, "at_s", step->edge_s);
    sb_json_add_number (builder, "base_Nm", step->base_nm);
    sb_json_add_number (builder, "top_Nm", step->top_nm);
    sb_json_add_number (builder, "from_s", step->from_s);
    sb_json_add_number (builder, "to_s", step->to_s);
    json_builder_end_object (builder);
  }
  json_builder_end_array (builder);
}

static void
add_log (JsonBuilder *builder, SbLog *log)
{
  g_autofree char *reason = NULL;
  g_autoptr (SbTrial) trial = as_trial (log, &reason);
  sb_json_add_string (builder, "file", log->path);
  sb_json_add_string (builder, "sha256", log->sha256);
  g_autofree char *signature = sb_layout_signature (log->layout);
  sb_json_add_string (builder, "layout", signature);
  add_dialect (builder, log->layout);
  add_columns (builder, log);
  add_asides (builder, log);
  sb_json_add_integer (builder, "rows", (gint64) log->n_rows);
  sb_json_add_integer (builder, "rows_left_out", (gint64) log->n_rows_left_out);
  if (trial != NULL) {
    sb_json_add_number (builder, "sample_interval_s", trial->sample_interval_s);
    sb_json_add_number (builder, "jitter_s", trial->jitter_s);
    sb_json_add_integer (builder, "n_gaps", trial->gaps->len);
    sb_json_add_number (builder, "interval_drift", trial->interval_drift);
    sb_json_add_number (builder, "onset_s", trial->onset_s);
    sb_json_add_string (builder, "onset_from", sb_onset_from_key (trial->onset_from));
    add_steps (builder, trial);
  } else {
    sb_json_add_string (builder, "no_step", reason);
  }
  add_notes (builder, trial != NULL ? trial->notes : log->notes);
  add_fault_groups (builder, log);
  add_faults (builder, log);
}

static SbExitStatus
status_of (gsize n_read, gsize n_failed)
{
  if (n_read == 0)
    return SB_EXIT_NOTHING;
  return n_failed > 0 ? SB_EXIT_LEFT_OUT : SB_EXIT_DONE;
}

static SbExitStatus
inspect (char **files, GPtrArray *stated, JsonBuilder *builder)
{
  gsize n_read = 0, n_failed = 0;
  g_autoptr (GPtrArray) layouts = sb_stated_layouts_list (stated);
  SbLogReading reading = { .layouts = layouts };
  for (gsize i = 0; files[i] != NULL; i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SbLog) log = sb_log_reading_read (files[i], &reading, NULL, NULL, &error);
    if (log == NULL) {
      g_printerr ("slewbench: %s\n", error->message);
      n_failed++;
      continue;
    }
    n_read++;
    sb_stated_layouts_note (stated, log->layout);
    if (builder != NULL) {
      json_builder_begin_object (builder);
      add_log (builder, log);
      json_builder_end_object (builder);
    } else {
      print_text (log);
    }
  }
  SbExitStatus status = status_of (n_read, n_failed), unused = sb_stated_layouts_say_unused (stated);
  return status == SB_EXIT_DONE ? unused : status;
}

static SbExitStatus
inspect_as_json (char **files, GPtrArray *stated)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  json_builder_begin_array (builder);
  SbExitStatus status = inspect (files, stated, builder);
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

typedef struct {
  gboolean json, as_layout;
  SbLayoutOptions layout;
  char **files;
} InspectOptions;

static gboolean
parse (InspectOptions *o, char **arguments)
{
  GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, "As JSON", NULL },
    { "as-layout", 0, 0, G_OPTION_ARG_NONE, &o->as_layout,
      "As a layout file, one layout for each shape of the logs: to be looked over, changed and given to --layout",
      NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->files, NULL, NULL },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new ("FILE... - what the importer sees");
  g_option_context_set_summary (context, "Prints how each log is written, its columns with their roles and units, "
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
  return o->json ? inspect_as_json (o->files, stated) : inspect (o->files, stated, NULL);
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
