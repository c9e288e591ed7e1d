/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout.h"

#include "digest.h"

#include <math.h>
#include <string.h>

#define SIGNATURE_LENGTH 16

static void
column_free (gpointer data)
{
  SbLayoutColumn *column = data;
  g_free (column->name);
  g_free (column->question);
  g_free (column);
}

SbLayout *
sb_layout_new (void)
{
  SbLayout *layout = g_new0 (SbLayout, 1);
  layout->name = g_strdup ("");
  layout->delimiter = ',';
  layout->decimal = '.';
  layout->quote = '"';
  layout->comment_prefix = g_strdup ("#");
  layout->header_line = 1;
  layout->first_line = 2;
  layout->n_tables = 1;
  layout->sample_rate_hz = (double) NAN;
  layout->columns = g_ptr_array_new_with_free_func (column_free);
  g_atomic_ref_count_init (&layout->ref_count);
  return layout;
}

SbLayout *
sb_layout_copy (const SbLayout *layout)
{
  SbLayout *copy = g_new0 (SbLayout, 1);
  *copy = *layout;
  copy->name = g_strdup (layout->name);
  copy->comment_prefix = g_strdup (layout->comment_prefix);
  copy->question = g_strdup (layout->question);
  copy->columns = g_ptr_array_new_with_free_func (column_free);
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *from = sb_layout_column (layout, i);
    SbLayoutColumn *to = sb_layout_add_column (copy, from->name);
    char *name = to->name;
    *to = *from;
    to->name = name;
    to->question = g_strdup (from->question);
  }
  g_atomic_ref_count_init (&copy->ref_count);
  return copy;
}

SbLayout *
sb_layout_ref (SbLayout *layout)
{
  g_atomic_ref_count_inc (&layout->ref_count);
  return layout;
}

void
sb_layout_unref (SbLayout *layout)
{
  if (layout == NULL || !g_atomic_ref_count_dec (&layout->ref_count))
    return;
  g_free (layout->name);
  g_free (layout->comment_prefix);
  g_free (layout->question);
  g_ptr_array_unref (layout->columns);
  g_free (layout);
}

SbLayoutColumn *
sb_layout_add_column (SbLayout *layout, const char *name)
{
  SbLayoutColumn *column = g_new0 (SbLayoutColumn, 1);
  column->name = g_strdup (name);
  column->role = SB_ROLE_OTHER;
  column->counts_per_turn = (double) NAN;
  column->wrap = (double) NAN;
  column->torque_constant_nm_per_a = (double) NAN;
  column->torque_per_volt_nm = (double) NAN;
  column->torque_zero_v = (double) NAN;
  column->full_scale = (double) NAN;
  column->factor = (double) NAN;
  g_ptr_array_add (layout->columns, column);
  return column;
}

gboolean
sb_layout_column_has (const SbLayoutColumn *column, SbDimension dimension)
{
  return column->unit != NULL && column->unit->dimension == dimension;
}

char *
sb_layout_column_overruled (const SbLayoutColumn *column)
{
  if (column->named_unit == NULL || column->unit == NULL)
    return NULL;
  return g_strdup_printf ("column '%s' was read in %s, as was stated, though its name says %s", column->name,
                          column->unit->name, column->named_unit->name);
}

void
sb_layout_column_set_aside (SbLayoutColumn *column, SbCertainty certainty, char *question)
{
  column->role = SB_ROLE_OTHER;
  column->unit = NULL;
  column->certainty = certainty;
  g_free (column->question);
  column->question = question;
}

SbLayoutColumn *
sb_layout_column (const SbLayout *layout, guint index)
{
  g_assert (index < layout->columns->len);
  return g_ptr_array_index (layout->columns, index);
}

/* Not known is the same as not known. */
static gboolean
same_value (double a, double b)
{
  return (isnan (a) && isnan (b)) || (!(a < b) && !(a > b) && !isnan (a) && !isnan (b));
}

static gboolean
same_column (const SbLayoutColumn *a, const SbLayoutColumn *b)
{
  return strcmp (a->name, b->name) == 0 && a->role == b->role && a->unit == b->unit
         && same_value (a->counts_per_turn, b->counts_per_turn) && same_value (a->wrap, b->wrap)
         && same_value (a->torque_constant_nm_per_a, b->torque_constant_nm_per_a)
         && same_value (a->torque_per_volt_nm, b->torque_per_volt_nm) && same_value (a->torque_zero_v, b->torque_zero_v)
         && same_value (a->full_scale, b->full_scale) && same_value (a->factor, b->factor);
}

static gboolean
same_dialect (const SbLayout *a, const SbLayout *b)
{
  return a->encoding == b->encoding && a->delimiter == b->delimiter && a->decimal == b->decimal
         && a->thousands == b->thousands && (a->thousands != '\0' || a->is_thousands_stated == b->is_thousands_stated)
         && a->quote == b->quote && strcmp (a->comment_prefix, b->comment_prefix) == 0;
}

static gboolean
same_lines (const SbLayout *a, const SbLayout *b)
{
  return a->header_line == b->header_line && a->units_line == b->units_line && a->first_line == b->first_line
         && a->last_line == b->last_line && a->table == b->table;
}

gboolean
sb_layout_equal (const SbLayout *a, const SbLayout *b)
{
  if (!same_dialect (a, b) || !same_lines (a, b) || !same_value (a->sample_rate_hz, b->sample_rate_hz)
      || a->columns->len != b->columns->len)
    return FALSE;
  for (guint i = 0; i < a->columns->len; i++)
    if (!same_column (sb_layout_column (a, i), sb_layout_column (b, i)))
      return FALSE;
  return TRUE;
}

/* "Torque  [Nm]" and "torque[nm]" are one name. */
static char *
fold_name (const char *name)
{
  g_autofree char *lower = g_utf8_strdown (name, -1);
  GString *folded = g_string_new (NULL);
  for (const char *p = lower; *p != '\0'; p = g_utf8_next_char (p)) {
    gunichar letter = g_utf8_get_char (p);
    if (!g_unichar_isspace (letter))
      g_string_append_unichar (folded, letter);
  }
  return g_string_free (folded, FALSE);
}

gboolean
sb_layout_same_name (const char *a, const char *b)
{
  g_autofree char *folded_a = fold_name (a), *folded_b = fold_name (b);
  return strcmp (folded_a, folded_b) == 0;
}

char *
sb_layout_signature (const SbLayout *layout)
{
  char hexadecimal[65];
  SbDigest *digest = sb_digest_new ();
  for (guint i = 0; i < layout->columns->len; i++) {
    g_autofree char *name = fold_name (sb_layout_column (layout, i)->name);
    sb_digest_add (digest, name, strlen (name) + 1);
  }
  sb_digest_finish (digest, hexadecimal);
  sb_digest_free (digest);
  return g_strndup (hexadecimal, SIGNATURE_LENGTH);
}

SbLayout *
sb_layout_apply (const SbLayout *layout, const SbLayout *known)
{
  SbLayout *applied = sb_layout_copy (layout);
  if (!isnan (known->sample_rate_hz))
    applied->sample_rate_hz = known->sample_rate_hz;
  applied->is_rate_confirmed = applied->is_rate_confirmed || !isnan (known->sample_rate_hz);
  for (guint i = 0; i < MIN (applied->columns->len, known->columns->len); i++) {
    SbLayoutColumn *to = sb_layout_column (applied, i);
    const SbLayoutColumn *from = sb_layout_column (known, i);
    char *name = to->name;
    const SbUnit *named = to->certainty == SB_CERTAINTY_STATED && to->role == from->role ? to->unit : NULL;
    guint clock_form = to->clock_form;
    g_clear_pointer (&to->question, g_free);
    *to = *from;
    to->name = name;
    to->clock_form = clock_form;
    to->question = NULL;
    to->certainty = SB_CERTAINTY_CONFIRMED;
    to->named_unit = named != from->unit ? named : NULL;
  }
  return applied;
}

gboolean
sb_layout_has_role (const SbLayout *layout, SbRole role)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (sb_layout_column (layout, i)->role == role)
      return TRUE;
  return FALSE;
}

gboolean
sb_layout_counts_rows (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (sb_layout_column (layout, i)->role == SB_ROLE_TIME)
      return FALSE;
  return isfinite (layout->sample_rate_hz) && layout->sample_rate_hz > 0;
}

gboolean
sb_layout_is_certain (const SbLayout *layout)
{
  if (!layout->is_rate_confirmed && sb_layout_counts_rows (layout))
    return FALSE;
  for (guint i = 0; i < layout->columns->len; i++) {
    SbCertainty certainty = sb_layout_column (layout, i)->certainty;
    if (certainty == SB_CERTAINTY_GUESSED || certainty == SB_CERTAINTY_MISSING)
      return FALSE;
  }
  return TRUE;
}
