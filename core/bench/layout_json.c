/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_json.h"

#include "json_members.h"
#include "layout_values.h"
#include "layout_words.h"

#include <math.h>

G_DEFINE_QUARK (sb_layout_file_error_quark, sb_layout_file_error)

/* Whether this is the value that is missing before the column can be read. */
static gboolean
is_asked_for (const SbLayoutColumn *column, SbLayoutValue value)
{
  return column->certainty == SB_CERTAINTY_MISSING && column->unit != NULL
         && (int) column->unit->dimension == sb_layout_value_dimension (value);
}

static void
build_column (JsonBuilder *builder, const SbLayoutColumn *column)
{
  json_builder_begin_object (builder);
  if (column->name[0] != '\0')
    sb_json_add_string (builder, "name", column->name);
  sb_json_add_string (builder, "role", sb_role_key (column->role));
  if (column->unit != NULL)
    sb_json_add_string (builder, "unit", column->unit->name);
  for (SbLayoutValue value = 0; value < SB_N_COLUMN_VALUES; value++) {
    double number = sb_layout_value_get (column, value);
    if (!isnan (number) || is_asked_for (column, value))
      sb_json_add_number (builder, sb_layout_value_name (value), number); /* null when not known */
  }
  if (column->question != NULL)
    sb_json_add_string (builder, "question", column->question);
  json_builder_end_object (builder);
}

static void
build_dialect (JsonBuilder *builder, const SbDialectChoices *fixed)
{
  if (fixed->encoding != SB_AUTOMATIC)
    sb_json_add_string (builder, "encoding", sb_encoding_name ((SbEncoding) fixed->encoding));
  if (fixed->delimiter != 0)
    sb_json_add_string (builder, "delimiter", sb_sign_word (SB_WORD_DELIMITER, fixed->delimiter));
  if (fixed->decimal != 0)
    sb_json_add_string (builder, "decimal", sb_sign_word (SB_WORD_DECIMAL, fixed->decimal));
  if (fixed->thousands != SB_AUTOMATIC)
    sb_json_add_string (builder, "thousands", sb_sign_word (SB_WORD_THOUSANDS, (char) fixed->thousands));
  if (fixed->quote != SB_AUTOMATIC)
    sb_json_add_string (builder, "quote", sb_sign_word (SB_WORD_QUOTE, (char) fixed->quote));
  if (fixed->comment_prefix != NULL)
    sb_json_add_string (builder, "comment_prefix", fixed->comment_prefix);
  if (fixed->header_line != SB_AUTOMATIC)
    sb_json_add_integer (builder, "header_line", fixed->header_line);
  if (fixed->units_line != SB_AUTOMATIC)
    sb_json_add_integer (builder, "units_line", fixed->units_line);
  if (fixed->table != SB_AUTOMATIC)
    sb_json_add_integer (builder, "table", fixed->table + 1);
}

void
sb_layout_choice_build (JsonBuilder *builder, const SbLayoutChoice *choice)
{
  const SbLayout *layout = choice->layout;
  json_builder_begin_object (builder);
  if (layout->name[0] != '\0')
    sb_json_add_string (builder, "name", layout->name);
  if (choice->of_shape) {
    g_autofree char *signature = sb_layout_signature (layout);
    sb_json_add_string (builder, "signature", signature);
  }
  build_dialect (builder, &choice->fixed);
  if (!isnan (layout->sample_rate_hz))
    sb_json_add_number (builder, "sample_rate_hz", layout->sample_rate_hz);
  json_builder_set_member_name (builder, "columns");
  json_builder_begin_array (builder);
  for (guint i = 0; i < layout->columns->len; i++)
    build_column (builder, sb_layout_column (layout, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

void
sb_layout_choices_build (JsonBuilder *builder, const GPtrArray *choices)
{
  json_builder_begin_array (builder);
  for (guint i = 0; i < choices->len; i++)
    sb_layout_choice_build (builder, g_ptr_array_index (choices, i));
  json_builder_end_array (builder);
}

static void
choice_unref (gpointer choice)
{
  sb_layout_choice_unref (choice);
}

GPtrArray *
sb_layout_choices_new (void)
{
  return g_ptr_array_new_with_free_func (choice_unref);
}
