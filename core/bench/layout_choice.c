/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_choice.h"

#include <math.h>
#include <string.h>

#define NOT_FOUND G_MAXUINT

SbLayoutChoice *
sb_layout_choice_new (SbLayout *layout, const SbDialectChoices *fixed, gboolean of_shape)
{
  SbLayoutChoice *choice = g_new0 (SbLayoutChoice, 1);
  choice->layout = layout;
  choice->fixed = fixed != NULL ? *fixed : SB_DIALECT_AUTOMATIC;
  choice->fixed.comment_prefix = g_strdup (choice->fixed.comment_prefix);
  choice->of_shape = of_shape;
  g_atomic_ref_count_init (&choice->ref_count);
  return choice;
}

static void
confirm (SbLayoutColumn *column)
{
  column->certainty = SB_CERTAINTY_CONFIRMED;
  g_clear_pointer (&column->question, g_free);
}

/* What a column of a log says, as something stated. */
static void
state_column (SbLayoutColumn *column)
{
  int channel = sb_role_channel (column->role);
  if (column->unit == NULL && channel >= 0)
    column->unit = sb_unit_find (sb_channel_unit ((SbChannel) channel));
  if (column->role != SB_ROLE_ANGLE)
    column->wrap = (double) NAN;
  confirm (column);
}

SbLayoutChoice *
sb_layout_choice_of_shape (const SbLayout *layout, const SbDialectChoices *fixed)
{
  SbLayout *stated = sb_layout_copy (layout);
  for (guint i = 0; i < stated->columns->len; i++)
    state_column (sb_layout_column (stated, i));
  return sb_layout_choice_new (stated, fixed, TRUE);
}

SbLayoutChoice *
sb_layout_choice_ref (SbLayoutChoice *choice)
{
  g_atomic_ref_count_inc (&choice->ref_count);
  return choice;
}

void
sb_layout_choice_unref (SbLayoutChoice *choice)
{
  if (choice == NULL || !g_atomic_ref_count_dec (&choice->ref_count))
    return;
  sb_layout_unref (choice->layout);
  g_free ((char *) (gsize) choice->fixed.comment_prefix); /* const for those who lend one */
  g_clear_pointer (&choice->unknown, g_ref_string_release);
  g_free (choice);
}

SbLayoutChoice *
sb_layout_choice_rename (const SbLayoutChoice *choice, const char *name)
{
  SbLayout *layout = sb_layout_copy (choice->layout);
  g_free (layout->name);
  layout->name = g_strdup (name);
  SbLayoutChoice *renamed = sb_layout_choice_new (layout, &choice->fixed, choice->of_shape);
  renamed->unknown = choice->unknown != NULL ? g_ref_string_acquire (choice->unknown) : NULL;
  return renamed;
}

static gboolean
same_fixed (const SbDialectChoices *a, const SbDialectChoices *b)
{
  return a->encoding == b->encoding && a->delimiter == b->delimiter && a->decimal == b->decimal
         && a->thousands == b->thousands && a->quote == b->quote
         && g_strcmp0 (a->comment_prefix, b->comment_prefix) == 0 && a->header_line == b->header_line
         && a->units_line == b->units_line && a->table == b->table;
}

gboolean
sb_layout_choice_equal (const SbLayoutChoice *a, const SbLayoutChoice *b)
{
  if (a == b || a == NULL || b == NULL)
    return a == b;
  return a->of_shape == b->of_shape && same_fixed (&a->fixed, &b->fixed) && sb_layout_equal (a->layout, b->layout);
}

static gboolean
names_its_columns (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (sb_layout_column (layout, i)->name[0] == '\0')
      return FALSE;
  return layout->columns->len > 0;
}

gboolean
sb_layout_choice_replaces (const SbLayoutChoice *newer, const SbLayoutChoice *older)
{
  const SbLayout *a = newer->layout, *b = older->layout;
  if (!names_its_columns (a) || !names_its_columns (b))
    return sb_layout_choice_equal (newer, older);
  if (newer->of_shape != older->of_shape || a->columns->len != b->columns->len)
    return FALSE;
  for (guint i = 0; i < a->columns->len; i++)
    if (!sb_layout_same_name (sb_layout_column (a, i)->name, sb_layout_column (b, i)->name))
      return FALSE;
  return TRUE;
}

gboolean
sb_layout_choice_fixes_dialect (const SbLayoutChoice *choice)
{
  return !same_fixed (&choice->fixed, &SB_DIALECT_AUTOMATIC);
}

static gboolean
contains (const guint *indices, guint n, guint index)
{
  for (guint i = 0; i < n; i++)
    if (indices[i] == index)
      return TRUE;
  return FALSE;
}

/* Which column of `found` is the stated one, of several of its name the first that is not among the `n_taken`;
 * NOT_FOUND when there is none. */
static guint
find_column (const SbLayout *found, const SbLayoutColumn *stated, const guint *taken, guint n_taken)
{
  gboolean by_name = stated->name[0] != '\0';
  for (guint i = 0; i < found->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (found, i);
    if (by_name ? sb_layout_same_name (column->name, stated->name) && !contains (taken, n_taken, i)
                : column->role == stated->role)
      return i;
  }
  return NOT_FOUND;
}

/* For each stated column its index in `found`; NULL when it does not fit. (transfer full) */
static guint *
match_columns (const SbLayoutChoice *choice, const SbLayout *found)
{
  guint n = choice->layout->columns->len;
  if (choice->of_shape) {
    g_autofree char *stated = sb_layout_signature (choice->layout), *shape = sb_layout_signature (found);
    if (strcmp (stated, shape) != 0)
      return NULL;
  }
  g_autofree guint *index = g_new (guint, n + 1);
  for (guint i = 0; i < n; i++) {
    index[i] = choice->of_shape ? i : find_column (found, sb_layout_column (choice->layout, i), index, i);
    if (index[i] == NOT_FOUND)
      return NULL;
  }
  return g_steal_pointer (&index);
}

static void
take_value (double *value, double stated)
{
  if (!isnan (stated))
    *value = stated;
}

/* The rate is all that a time in samples wants. */
static void
apply_rate (SbLayout *layout, double sample_rate_hz)
{
  if (isnan (sample_rate_hz))
    return;
  layout->sample_rate_hz = sample_rate_hz;
  layout->is_rate_confirmed = TRUE;
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->unit != NULL && column->unit->dimension == SB_DIMENSION_SAMPLES)
      confirm (column);
  }
}

/* Whether what it was asked for has not been stated with the rest. */
static gboolean
lacks_value (const SbLayoutColumn *column)
{
  if (column->certainty != SB_CERTAINTY_MISSING || column->unit == NULL)
    return FALSE;
  SbDimension dimension = column->unit->dimension;
  return dimension == SB_DIMENSION_SAMPLES || (dimension == SB_DIMENSION_COUNTS && isnan (column->counts_per_turn))
         || (dimension == SB_DIMENSION_CURRENT && isnan (column->torque_constant_nm_per_a))
         || (dimension == SB_DIMENSION_VOLTAGE && isnan (column->torque_per_volt_nm))
         || (dimension == SB_DIMENSION_PERCENT && isnan (column->full_scale));
}

static void
apply_column (SbLayoutColumn *column, const SbLayoutColumn *stated)
{
  const SbUnit *named = column->certainty == SB_CERTAINTY_STATED && column->role == stated->role ? column->unit : NULL;
  if (stated->unit != NULL || column->role != stated->role) {
    /* What was found to begin again did so in the unit that was found. */
    if (column->unit != stated->unit)
      column->wrap = (double) NAN;
    column->unit = stated->unit;
  }
  column->role = stated->role;
  take_value (&column->counts_per_turn, stated->counts_per_turn);
  take_value (&column->wrap, stated->wrap);
  take_value (&column->torque_constant_nm_per_a, stated->torque_constant_nm_per_a);
  take_value (&column->torque_per_volt_nm, stated->torque_per_volt_nm);
  take_value (&column->torque_zero_v, stated->torque_zero_v);
  take_value (&column->full_scale, stated->full_scale);
  take_value (&column->factor, stated->factor);
  column->named_unit = named != column->unit ? named : NULL;
  if (!lacks_value (column))
    confirm (column);
}

/* A column that was found for the role of a stated one gives way to it. */
static void
clear_role (SbLayout *layout, SbRole role, const guint *stated, guint n_stated)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    if (contains (stated, n_stated, i) || column->role != role)
      continue;
    column->role = SB_ROLE_OTHER;
    column->unit = NULL;
    confirm (column);
  }
}

SbLayout *
sb_layout_choice_apply (const SbLayoutChoice *choice, const SbLayout *found)
{
  g_autofree guint *index = match_columns (choice, found);
  if (index == NULL)
    return NULL;
  SbLayout *applied = sb_layout_copy (found);
  guint n = choice->layout->columns->len;
  for (guint i = 0; i < n; i++) {
    const SbLayoutColumn *stated = sb_layout_column (choice->layout, i);
    apply_column (sb_layout_column (applied, index[i]), stated);
    if (stated->name[0] != '\0' && sb_role_channel (stated->role) >= 0)
      clear_role (applied, stated->role, index, n);
  }
  apply_rate (applied, choice->layout->sample_rate_hz);
  return applied;
}

/* Whether a layout could have been proposed with these choices. */
static gboolean
keeps_to (const SbLayout *layout, const SbDialectChoices *fixed)
{
  return (fixed->encoding == SB_AUTOMATIC || fixed->encoding == (int) layout->encoding)
         && (fixed->delimiter == 0 || fixed->delimiter == layout->delimiter)
         && (fixed->decimal == 0 || fixed->decimal == layout->decimal)
         && (fixed->thousands == SB_AUTOMATIC || fixed->thousands == layout->thousands)
         && (fixed->quote == SB_AUTOMATIC || fixed->quote == layout->quote)
         && (fixed->comment_prefix == NULL || strcmp (fixed->comment_prefix, layout->comment_prefix) == 0)
         && (fixed->header_line == SB_AUTOMATIC || fixed->header_line == (gint64) layout->header_line)
         && (fixed->units_line == SB_AUTOMATIC || fixed->units_line == (gint64) layout->units_line)
         && (fixed->table == SB_AUTOMATIC || fixed->table == (int) layout->table);
}

gboolean
sb_layout_choice_is_for_columns (const SbLayoutChoice *choice, const SbLayout *layout)
{
  g_autofree guint *index = match_columns (choice, layout);
  return index != NULL;
}

gboolean
sb_layout_choice_fits (const SbLayoutChoice *choice, const SbLayout *layout)
{
  return sb_layout_choice_is_for_columns (choice, layout) && keeps_to (layout, &choice->fixed);
}

gboolean
sb_layout_choice_is_for_file (const SbLayoutChoice *choice, const char *path, GCancellable *cancellable)
{
  g_autoptr (SbProposal) proposal = sb_propose_file (path, &choice->fixed, cancellable, NULL);
  g_autoptr (SbLayout) applied = proposal != NULL ? sb_layout_choice_apply (choice, proposal->layout) : NULL;
  return applied != NULL;
}
