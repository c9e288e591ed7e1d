/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "import_draft.h"

#include <math.h>

SbImportDraft *
sb_import_draft_new (const SbDialectChoices *fixed)
{
  SbImportDraft *draft = g_new0 (SbImportDraft, 1);
  draft->fixed = fixed != NULL ? *fixed : SB_DIALECT_AUTOMATIC;
  draft->fixed.comment_prefix = g_strdup (draft->fixed.comment_prefix);
  draft->wrong = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  return draft;
}

static void
drop_comment_prefix (SbImportDraft *draft)
{
  g_free ((char *) (gsize) draft->fixed.comment_prefix); /* the draft's own */
  draft->fixed.comment_prefix = NULL;
}

void
sb_import_draft_free (SbImportDraft *draft)
{
  drop_comment_prefix (draft);
  sb_layout_unref (draft->layout);
  g_hash_table_unref (draft->wrong);
  g_free (draft);
}

void
sb_import_draft_fix_comment_prefix (SbImportDraft *draft, const char *prefix)
{
  drop_comment_prefix (draft);
  draft->fixed.comment_prefix = g_strdup (prefix);
}

/* How many columns before this one have its name. */
static guint
count_namesakes (const SbLayout *layout, guint column)
{
  guint n = 0;
  for (guint i = 0; i < column; i++)
    n += g_str_equal (sb_layout_column (layout, i)->name, sb_layout_column (layout, column)->name) ? 1 : 0;
  return n;
}

/* The column of that name that has as many namesakes before it. */
static const SbLayoutColumn *
find_column (const SbLayout *layout, const char *name, guint n_before)
{
  for (guint i = 0; layout != NULL && i < layout->columns->len; i++)
    if (g_str_equal (sb_layout_column (layout, i)->name, name) && n_before-- == 0)
      return sb_layout_column (layout, i);
  return NULL;
}

static void
take_column (SbLayoutColumn *to, const SbLayoutColumn *from)
{
  char *name = to->name;
  g_free (to->question);
  *to = *from;
  to->name = name;
  to->question = g_strdup (from->question);
}

void
sb_import_draft_take (SbImportDraft *draft, const SbLayout *proposed, const SbLayout *known)
{
  g_hash_table_remove_all (draft->wrong);
  g_autoptr (SbLayout) before = g_steal_pointer (&draft->layout);
  draft->layout = sb_layout_copy (proposed);
  for (guint i = 0; i < draft->layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (draft->layout, i);
    guint n_before = count_namesakes (draft->layout, i);
    const SbLayoutColumn *own = find_column (before, column->name, n_before);
    const SbLayoutColumn *of_known = find_column (known, column->name, n_before);
    if (own != NULL && own->certainty == SB_CERTAINTY_CONFIRMED)
      take_column (column, own);
    else if (of_known != NULL)
      take_column (column, of_known);
  }
  const SbLayout *with_rate = before != NULL ? before : known;
  if (with_rate != NULL && !isnan (with_rate->sample_rate_hz))
    draft->layout->sample_rate_hz = with_rate->sample_rate_hz;
  draft->layout->is_rate_confirmed = with_rate != NULL && with_rate->is_rate_confirmed;
}

static SbLayoutColumn *
confirm (SbImportDraft *draft, guint column)
{
  SbLayoutColumn *confirmed = sb_layout_column (draft->layout, column);
  confirmed->certainty = SB_CERTAINTY_CONFIRMED;
  g_clear_pointer (&confirmed->question, g_free);
  return confirmed;
}

static gboolean
suits (const SbUnit *unit, SbRole role)
{
  return unit == NULL || (role != SB_ROLE_OTHER && sb_unit_suits_role (unit, role));
}

static gboolean
takes_factor (const SbImportDraft *draft, guint column)
{
  const SbLayoutColumn *of = sb_layout_column (draft->layout, column);
  return of->role != SB_ROLE_OTHER && !sb_layout_column_has (of, SB_DIMENSION_CLOCK)
         && !sb_layout_column_has (of, SB_DIMENSION_SAMPLES);
}

/* What a role or unit that was chosen does not take goes with the choice; counts begin again after others than degrees.
 */
static void
drop_values (SbImportDraft *draft, guint column, const SbUnit *unit_before)
{
  SbLayoutColumn *of = sb_layout_column (draft->layout, column);
  if (!takes_factor (draft, column) || (of->role == SB_ROLE_TIME && of->factor < 0))
    of->factor = (double) NAN;
  if (of->role != SB_ROLE_ANGLE || of->unit != unit_before)
    of->wrap = (double) NAN;
}

void
sb_import_draft_set_role (SbImportDraft *draft, guint column, SbRole role)
{
  SbLayoutColumn *changed = confirm (draft, column);
  const SbUnit *unit_before = changed->unit;
  for (guint i = 0; sb_role_channel (role) >= 0 && i < draft->layout->columns->len; i++)
    if (i != column && sb_layout_column (draft->layout, i)->role == role)
      confirm (draft, i)->role = SB_ROLE_OTHER;
  changed->role = role;
  if (!suits (changed->unit, role))
    changed->unit = NULL;
  drop_values (draft, column, unit_before);
}

void
sb_import_draft_set_unit (SbImportDraft *draft, guint column, const SbUnit *unit)
{
  SbLayoutColumn *changed = confirm (draft, column);
  const SbUnit *unit_before = changed->unit;
  changed->unit = unit;
  drop_values (draft, column, unit_before);
}

SbExtra
sb_import_draft_extra (const SbImportDraft *draft, guint column)
{
  const SbLayoutColumn *of = sb_layout_column (draft->layout, column);
  gboolean in_current = of->unit != NULL && of->unit->dimension == SB_DIMENSION_CURRENT;
  if (of->role == SB_ROLE_OTHER)
    return SB_EXTRA_NONE;
  if (of->role == SB_ROLE_CURRENT)
    return SB_EXTRA_TORQUE_CONSTANT;
  if (in_current && (of->role == SB_ROLE_TORQUE || of->role == SB_ROLE_COMMAND))
    return SB_EXTRA_TORQUE_CONSTANT;
  if (of->unit == NULL)
    return SB_EXTRA_NONE;
  if (of->unit->dimension == SB_DIMENSION_VOLTAGE && of->role != SB_ROLE_SUPPLY)
    return SB_EXTRA_TORQUE_PER_VOLT;
  if (of->unit->dimension == SB_DIMENSION_COUNTS)
    return SB_EXTRA_COUNTS_PER_TURN;
  if (of->unit->dimension == SB_DIMENSION_PERCENT)
    return SB_EXTRA_FULL_SCALE;
  return of->unit->dimension == SB_DIMENSION_SAMPLES ? SB_EXTRA_SAMPLE_RATE : SB_EXTRA_NONE;
}

SbLayoutValue
sb_import_draft_extra_kind (const SbImportDraft *draft, guint column)
{
  static const SbLayoutValue kinds[] = {
    [SB_EXTRA_NONE] = SB_N_LAYOUT_VALUES,
    [SB_EXTRA_COUNTS_PER_TURN] = SB_LAYOUT_COUNTS_PER_TURN,
    [SB_EXTRA_TORQUE_CONSTANT] = SB_LAYOUT_TORQUE_CONSTANT,
    [SB_EXTRA_TORQUE_PER_VOLT] = SB_LAYOUT_TORQUE_PER_VOLT,
    [SB_EXTRA_FULL_SCALE] = SB_LAYOUT_FULL_SCALE,
    [SB_EXTRA_SAMPLE_RATE] = SB_LAYOUT_SAMPLE_RATE,
  };
  return kinds[sb_import_draft_extra (draft, column)];
}

gboolean
sb_import_draft_takes (const SbImportDraft *draft, guint column, SbLayoutValue value)
{
  if (value == SB_LAYOUT_FACTOR)
    return takes_factor (draft, column);
  if (value == SB_LAYOUT_TORQUE_ZERO)
    return sb_import_draft_extra (draft, column) == SB_EXTRA_TORQUE_PER_VOLT;
  if (value == SB_LAYOUT_WRAP)
    return sb_layout_column (draft->layout, column)->role == SB_ROLE_ANGLE;
  return value != SB_N_LAYOUT_VALUES && value == sb_import_draft_extra_kind (draft, column);
}

void
sb_import_draft_set_value (SbImportDraft *draft, guint column, SbLayoutValue value, double number)
{
  if (!sb_import_draft_takes (draft, column, value))
    return;
  if (value == SB_LAYOUT_SAMPLE_RATE)
    draft->layout->sample_rate_hz = number;
  else
    *sb_layout_value_place (sb_layout_column (draft->layout, column), value) = number;
  confirm (draft, column);
}

double
sb_import_draft_value (const SbImportDraft *draft, guint column, SbLayoutValue value)
{
  if (!sb_import_draft_takes (draft, column, value))
    return (double) NAN;
  return value == SB_LAYOUT_SAMPLE_RATE ? draft->layout->sample_rate_hz
                                        : sb_layout_value_get (sb_layout_column (draft->layout, column), value);
}

double
sb_import_draft_extra_value (const SbImportDraft *draft, guint column)
{
  return sb_import_draft_value (draft, column, sb_import_draft_extra_kind (draft, column));
}

gboolean
sb_import_draft_extra_is_wanted (const SbImportDraft *draft, guint column)
{
  if (sb_import_draft_extra (draft, column) == SB_EXTRA_NONE)
    return FALSE;
  return sb_layout_column (draft->layout, column)->role != SB_ROLE_CURRENT
         || !sb_layout_has_role (draft->layout, SB_ROLE_TORQUE);
}

char *
sb_import_draft_extra_name (const SbImportDraft *draft, guint column)
{
  switch (sb_import_draft_extra (draft, column)) {
  case SB_EXTRA_COUNTS_PER_TURN:
    return g_strdup ("Counts per turn");
  case SB_EXTRA_TORQUE_CONSTANT:
    return g_strdup ("Torque constant [N·m/A]");
  case SB_EXTRA_TORQUE_PER_VOLT:
    return g_strdup ("Torque per volt [N·m/V]");
  case SB_EXTRA_FULL_SCALE:
    return g_strdup_printf ("100 %% is [%s]", sb_role_unit (sb_layout_column (draft->layout, column)->role));
  case SB_EXTRA_SAMPLE_RATE:
    return g_strdup ("Sample rate [Hz]");
  case SB_EXTRA_NONE:
    break;
  }
  return g_strdup ("");
}

static gboolean
is_missing (const SbImportDraft *draft, guint column)
{
  return sb_import_draft_extra_is_wanted (draft, column) && isnan (sb_import_draft_extra_value (draft, column));
}

/* What is missing is no value of the column's own: with the decimal sign stated, the columns are proposed anew. */
static gboolean
wants_decimal (const SbImportDraft *draft, guint column)
{
  const SbLayoutColumn *held = sb_layout_column (draft->layout, column);
  return held->certainty == SB_CERTAINTY_MISSING && held->question != NULL
         && sb_import_draft_extra (draft, column) == SB_EXTRA_NONE;
}

SbCertainty
sb_import_draft_certainty (const SbImportDraft *draft, guint column)
{
  SbCertainty held = sb_layout_column (draft->layout, column)->certainty;
  if (is_missing (draft, column) || wants_decimal (draft, column))
    return SB_CERTAINTY_MISSING;
  return held == SB_CERTAINTY_MISSING ? SB_CERTAINTY_CONFIRMED : held; /* it has been stated since */
}

const char *
sb_import_draft_certainty_words (const SbImportDraft *draft, guint column)
{
  static const char *const missing[] = {
    [SB_EXTRA_NONE] = "",
    [SB_EXTRA_COUNTS_PER_TURN] = "counts per turn wanted",
    [SB_EXTRA_TORQUE_CONSTANT] = "torque constant wanted",
    [SB_EXTRA_TORQUE_PER_VOLT] = "torque per volt wanted",
    [SB_EXTRA_FULL_SCALE] = "full scale wanted",
    [SB_EXTRA_SAMPLE_RATE] = "sample rate wanted",
  };
  switch (sb_import_draft_certainty (draft, column)) {
  case SB_CERTAINTY_STATED:
    return sb_layout_column (draft->layout, column)->role == SB_ROLE_OTHER ? "read past" : "as stated";
  case SB_CERTAINTY_ASSUMED:
    return "SI assumed";
  case SB_CERTAINTY_GUESSED:
    return "guessed";
  case SB_CERTAINTY_MISSING:
    return wants_decimal (draft, column) ? "decimal sign wanted" : missing[sb_import_draft_extra (draft, column)];
  case SB_CERTAINTY_CONFIRMED:
    return "confirmed";
  }
  return "";
}

static gboolean
has_signal (const SbLayout *layout)
{
  return sb_layout_has_role (layout, SB_ROLE_TORQUE) || sb_layout_has_role (layout, SB_ROLE_VELOCITY)
         || sb_layout_has_role (layout, SB_ROLE_ANGLE) || sb_layout_has_role (layout, SB_ROLE_COMMAND)
         || sb_layout_has_role (layout, SB_ROLE_CURRENT);
}

gboolean
sb_import_draft_wants_rate (const SbImportDraft *draft)
{
  return draft->layout != NULL && !sb_layout_has_role (draft->layout, SB_ROLE_TIME) && has_signal (draft->layout);
}

void
sb_import_draft_set_rate (SbImportDraft *draft, double rate_hz)
{
  if (draft->layout == NULL)
    return;
  draft->layout->sample_rate_hz = rate_hz;
  draft->layout->is_rate_confirmed = !isnan (rate_hz);
}

static const char *
find_wrong (const SbImportDraft *draft, guint column)
{
  return draft->wrong != NULL ? g_hash_table_lookup (draft->wrong, GUINT_TO_POINTER (column)) : NULL;
}

void
sb_import_draft_set_wrong (SbImportDraft *draft, guint column, const char *what)
{
  if (what != NULL)
    g_hash_table_insert (draft->wrong, GUINT_TO_POINTER (column), g_strdup (what));
  else
    g_hash_table_remove (draft->wrong, GUINT_TO_POINTER (column));
}

char *
sb_import_draft_problem (const SbImportDraft *draft)
{
  if (draft->layout == NULL)
    return g_strdup ("No table was found in the file with this dialect.");
  for (guint i = 0; i < draft->layout->columns->len; i++)
    if (find_wrong (draft, i) != NULL)
      return g_strdup_printf ("Column “%s”: %s.", sb_layout_column (draft->layout, i)->name, find_wrong (draft, i));
  if (!sb_layout_has_role (draft->layout, SB_ROLE_TIME) && !sb_layout_counts_rows (draft->layout))
    return g_strdup ("No column is the time. Choose one, or state the sample rate of the rows.");
  if (!has_signal (draft->layout))
    return g_strdup ("No column is a command, angle, velocity, torque or current. Choose one.");
  for (guint i = 0; i < draft->layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (draft->layout, i);
    if ((column->role != SB_ROLE_CURRENT && is_missing (draft, i)) || wants_decimal (draft, i))
      return g_strdup_printf ("Column “%s”: %s.", column->name, sb_import_draft_certainty_words (draft, i));
  }
  return NULL;
}

guint
sb_import_draft_n_uncertain (const SbImportDraft *draft)
{
  guint n = 0;
  for (guint i = 0; draft->layout != NULL && i < draft->layout->columns->len; i++) {
    SbCertainty certainty = sb_import_draft_certainty (draft, i);
    gboolean clear = certainty != SB_CERTAINTY_GUESSED && certainty != SB_CERTAINTY_MISSING;
    n += clear && find_wrong (draft, i) == NULL ? 0 : 1;
  }
  gboolean open = sb_import_draft_wants_rate (draft) && !draft->layout->is_rate_confirmed;
  return n + (open ? 1 : 0);
}

char *
sb_import_draft_heading (const SbImportDraft *draft)
{
  gboolean wants_rate = sb_import_draft_wants_rate (draft) && !draft->layout->is_rate_confirmed;
  guint n = sb_import_draft_n_uncertain (draft) - (wants_rate ? 1 : 0);
  const char *more = wants_rate ? " No column is the time: look at the sample rate." : "";
  if (n == 0)
    return g_strdup (wants_rate ? more + 1 : "Every column is clear.");
  return g_strdup_printf ("%u %s a look: see the marks.%s", n, n == 1 ? "column needs" : "columns need", more);
}

SbLayout *
sb_import_draft_confirmed (const SbImportDraft *draft)
{
  SbLayout *layout = sb_layout_copy (draft->layout);
  layout->is_rate_confirmed = sb_layout_counts_rows (layout);
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    column->certainty = SB_CERTAINTY_CONFIRMED;
    g_clear_pointer (&column->question, g_free);
  }
  return layout;
}
