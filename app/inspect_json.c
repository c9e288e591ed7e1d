/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "inspect_json.h"

#include "json_members.h"
#include "layout_words.h"

#include <math.h>

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
    { "wrap", column->wrap > 0 ? column->wrap : (double) NAN },
    { "torque_constant_nm_per_a", column->torque_constant_nm_per_a },
    { "torque_per_volt_nm", column->torque_per_volt_nm },
    { "torque_zero_v", column->torque_zero_v },
    { "full_scale", column->full_scale },
    { "stated_factor", column->factor },
  };
  sb_json_add_string (builder, "certainty", certainties[column->certainty]);
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    if (isfinite (values[i].value))
      sb_json_add_number (builder, values[i].name, values[i].value);
  if (column->question != NULL)
    sb_json_add_string (builder, "question", column->question);
}

/* "unit" is missing from a range as written. */
static void
add_range (JsonBuilder *builder, const SbColumnRange *range)
{
  if (!range->is_known || range->n_numbers == 0)
    return;
  json_builder_set_member_name (builder, "range");
  json_builder_begin_object (builder);
  sb_json_add_number (builder, "lowest", range->lowest);
  sb_json_add_number (builder, "highest", range->highest);
  if (range->unit != NULL)
    sb_json_add_string (builder, "unit", range->unit);
  if (range->n_first_rows > 0)
    sb_json_add_integer (builder, "n_first_rows", (gint64) range->n_first_rows);
  json_builder_end_object (builder);
}

static void
add_columns (JsonBuilder *builder, const SbInspected *inspected)
{
  const SbLog *log = inspected->log;
  json_builder_set_member_name (builder, "columns");
  json_builder_begin_array (builder);
  for (guint i = 0; i < log->columns->len; i++) {
    const SbLogColumn *column = g_ptr_array_index (log->columns, i);
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "name", column->name);
    sb_json_add_string (builder, "role", sb_inspected_role (column));
    sb_json_add_string (builder, "unit", column->unit);
    sb_json_add_number (builder, "factor", column->factor);
    SbColumnRange range = sb_inspected_range (inspected, i);
    add_range (builder, &range);
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
    json_builder_set_member_name (builder, sb_role_key (sb_inspected_role_of_aside (i)));
    json_builder_begin_object (builder);
    sb_json_add_string (builder, "unit", sb_role_unit (sb_inspected_role_of_aside (i)));
    sb_json_add_number (builder, "mean", log->aside[i].mean);
    sb_json_add_number (builder, "smallest", log->aside[i].smallest);
    sb_json_add_number (builder, "largest", log->aside[i].largest);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

static void
add_dialect (JsonBuilder *builder, const SbLog *log)
{
  const SbLayout *layout = log->layout;
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
  sb_json_add_integer (builder, "n_tables", (gint64) MAX (layout->n_tables, layout->table + 1 + log->n_other_tables));
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
    json_builder_add_string_value (builder, sb_notes_text (notes, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "note_kinds");
  json_builder_begin_array (builder);
  for (guint i = 0; i < notes->len; i++)
    json_builder_add_string_value (builder, sb_note_kind_key (sb_notes_get (notes, i)->kind));
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

void
sb_inspect_json_add (JsonBuilder *builder, const SbInspected *inspected)
{
  const SbLog *log = inspected->log;
  g_autofree char *reason = NULL;
  g_autoptr (SbTrial) trial = sb_inspected_trial (inspected, &reason);
  sb_json_add_string (builder, "file", log->path);
  sb_json_add_string (builder, "sha256", log->sha256);
  g_autofree char *signature = sb_layout_signature (log->layout);
  sb_json_add_string (builder, "layout", signature);
  add_dialect (builder, log);
  add_columns (builder, inspected);
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
