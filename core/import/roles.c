/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles.h"

#include "form.h"
#include "guess.h"
#include "header.h"
#include "name_unit.h"
#include "name_words.h"
#include "roles_choose.h"
#include "roles_units.h"
#include "roles_values.h"
#include "vocabulary.h"

#include <string.h>

static gboolean
read_name (SbLayoutColumn *column, const char *unit_cell)
{
  SbColumnMeaning meaning;
  sb_column_meaning_read_with_unit (&meaning, column->name, unit_cell);
  column->role = meaning.role;
  column->unit = meaning.unit;
  column->certainty = meaning.certainty;
  g_free (column->question);
  column->question = meaning.channel < 0 && meaning.certainty == SB_CERTAINTY_STATED && meaning.role != SB_ROLE_OTHER
                         ? NULL
                         : g_strdup (meaning.problem);
  gboolean says_nothing = meaning.says_nothing;
  sb_column_meaning_clear (&meaning);
  return says_nothing;
}

/* The unit that nearly all cells carry; NULL when they carry none. */
static const SbUnit *
unit_of_cells (const SbShape *shape)
{
  guint n = shape->n_units + shape->n_other_units;
  return n > 0 && 10 * n >= 9 * shape->n_numbers ? shape->unit : NULL;
}

/* Cells of two units, or of another than the name states, are not read by guessing. */
static void
ask_for_unit (SbLayoutColumn *column, const SbShape *shape)
{
  const SbUnit *unit = unit_of_cells (shape);
  char *question = NULL;
  if (column->role == SB_ROLE_OTHER || unit == NULL)
    return;
  if (shape->n_other_units > 0)
    question = g_strdup_printf ("its cells are in %s and in %s; write all of them in one unit", unit->name,
                                shape->other_unit->name);
  else if (column->unit != NULL && column->unit != unit)
    question = g_strdup_printf ("its name states %s, its cells are in %s; write the same unit", column->unit->name,
                                unit->name);
  if (question == NULL)
    return;
  g_free (column->question);
  column->question = question;
  column->certainty = SB_CERTAINTY_MISSING;
}

/* Of two statements that differ by a factor of a thousand nobody knows which is right. */
static void
ask_about_two_units (SbLayoutColumn *column, const char *unit_cell)
{
  g_autofree char *spelling = unit_cell != NULL ? sb_name_unit_of_cell (unit_cell) : NULL;
  const SbUnit *unit = spelling != NULL ? sb_name_unit_find (spelling, column->name) : NULL;
  if (column->role == SB_ROLE_OTHER || unit == NULL || column->unit == NULL || column->unit == unit
      || sb_layout_column_has (column, SB_DIMENSION_CLOCK))
    return;
  g_free (column->question);
  column->question = g_strdup_printf ("its name states %s, the row of units %s; write the same unit",
                                      column->unit->name, unit->name);
  column->certainty = SB_CERTAINTY_MISSING;
}

/* Clock times are unmistakable, whatever unit the header gives. */
static void
settle_clock (SbLayoutColumn *column, gboolean says_nothing, const SbShape *shape)
{
  gboolean clock = sb_shape_is_clock (shape);
  column->clock_form = sb_shape_clock_form (shape);
  if (clock && (column->role == SB_ROLE_TIME || says_nothing)) {
    gboolean stated = column->role == SB_ROLE_TIME && column->certainty != SB_CERTAINTY_GUESSED;
    column->role = SB_ROLE_TIME;
    column->unit = sb_unit_find ("clock time");
    column->certainty = stated ? SB_CERTAINTY_STATED : SB_CERTAINTY_GUESSED;
    g_free (column->question);
    column->question = stated ? NULL : g_strdup ("holds clock times: taken for the time");
  } else if (sb_layout_column_has (column, SB_DIMENSION_CLOCK) && sb_shape_is_numeric (shape)) {
    column->unit = NULL;
    column->certainty = SB_CERTAINTY_GUESSED;
    g_free (column->question);
    column->question = g_strdup ("is no clock time but a number: taken for the time in s");
  }
}

/* Where no measured torque stands beside it an estimated one is read, and asked about: nobody shall publish it as
 * measured unawares. */
static void
ask_about_estimate (SbLayoutColumn *column)
{
  if (column->role != SB_ROLE_TORQUE || column->question != NULL || !sb_words_say (column->name, SB_WORD_ESTIMATED))
    return;
  column->certainty = SB_CERTAINTY_GUESSED;
  column->question = g_strdup ("its name says that it is estimated, not measured: taken for the torque");
}

/* Of columns of which only the unit says that they are torques, the one that jumps between levels is the command. */
static void
tell_command_from_torque (SbLayout *layout, const SbShape *shapes)
{
  guint n_torques = 0;
  int jumping = -1;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == SB_ROLE_COMMAND)
      return;
    if (column->role != SB_ROLE_TORQUE)
      continue;
    n_torques++;
    if (column->certainty == SB_CERTAINTY_GUESSED && jumping < 0 && sb_shape_jumps (&shapes[i]))
      jumping = (int) i;
  }
  if (n_torques < 2 || jumping < 0)
    return;
  SbLayoutColumn *command = sb_layout_column (layout, (guint) jumping);
  command->role = SB_ROLE_COMMAND;
  g_free (command->question);
  command->question = g_strdup ("is a torque that stays on a few levels and jumps between them: taken for the command");
}

static gboolean
is_unnamed_voltage (const SbLayoutColumn *column)
{
  return column->role == SB_ROLE_SUPPLY && column->certainty == SB_CERTAINTY_GUESSED
         && sb_layout_column_has (column, SB_DIMENSION_VOLTAGE)
         && (sb_unit_find (column->name) != NULL || !sb_words_say (column->name, SB_WORD_SUPPLY | SB_WORD_VOLTAGE));
}

/* The units of the columns of volts without a word for whose; NULL for others. To be asked before one supply is chosen
 * of all. (transfer container) */
static const SbUnit **
find_unnamed_voltages (const SbLayout *layout)
{
  const SbUnit **volts = g_new0 (const SbUnit *, MAX (layout->columns->len, 1));
  for (guint i = 0; i < layout->columns->len; i++)
    if (is_unnamed_voltage (sb_layout_column (layout, i)))
      volts[i] = sb_layout_column (layout, i)->unit;
  return volts;
}

/* "'CH1', 'CH3'": the columns of volts but `index`. */
static char *
list_others (const SbLayout *layout, const SbUnit *const *volts, guint index)
{
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < layout->columns->len; i++)
    if (volts[i] != NULL && i != index)
      g_string_append_printf (list, "%s'%s'", list->len > 0 ? ", " : "", sb_layout_column (layout, i)->name);
  return g_string_free (list, FALSE);
}

/* Nobody but a person knows which of several is the torque. */
static void
ask_which_is_torque (SbLayout *layout, const SbUnit *const *volts, guint n_volts)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    if (volts[i] == NULL)
      continue;
    g_autofree char *others = list_others (layout, volts, i);
    sb_layout_column_set_aside (
        sb_layout_column (layout, i), SB_CERTAINTY_MISSING,
        g_strdup_printf ("is in volts as %s %s, and no column names a torque: give that of the torque transducer the "
                         "role torque, the unit V and its torque per volt in the import sheet or a layout",
                         n_volts > 2 ? "are" : "is", others));
  }
}

static void
pass_over_command (SbLayoutColumn *column)
{
  sb_layout_column_set_aside (
      column, SB_CERTAINTY_GUESSED,
      g_strdup ("is in volts and jumps between levels, as a command does: read past; to read it, give it the role "
                "command, the unit V and its torque per volt in the import sheet or a layout"));
}

/* Volts without a word for whose: beside a torque they may be the supply, without one the transducer's signal. They
 * become a torque by a stated factor only. Of several, those that jump between a few levels are commands. */
static void
tell_torque_from_supply (SbLayout *layout, const SbUnit *const *volts, const SbShape *shapes, const SbStated *stated)
{
  guint n_volts = 0, n_steady = 0, torque = 0;
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == SB_ROLE_TORQUE || column->role == SB_ROLE_CURRENT)
      return;
    if (volts[i] == NULL)
      continue;
    gboolean steady = shapes == NULL || !sb_shape_jumps (&shapes[i]);
    n_volts++;
    n_steady += steady ? 1 : 0;
    if (steady || n_steady == 0)
      torque = i;
  }
  if (n_volts > 1 && n_steady != 1)
    ask_which_is_torque (layout, volts, n_volts);
  if (n_volts == 0 || (n_volts > 1 && n_steady != 1))
    return;
  for (guint i = 0; i < layout->columns->len; i++)
    if (volts[i] != NULL && i != torque)
      pass_over_command (sb_layout_column (layout, i));
  SbLayoutColumn *column = sb_layout_column (layout, torque);
  column->role = SB_ROLE_TORQUE;
  column->unit = volts[torque];
  column->certainty = SB_CERTAINTY_GUESSED;
  if (stated != NULL)
    column->torque_per_volt_nm = stated->torque_per_volt_nm;
  g_free (column->question);
  column->question = g_strdup ("is in volts, and no column names a torque: taken for the signal of a torque transducer "
                               "(if it is none, give it the role supply or other)");
}

/* "Ist [%]", "actual", "feedback 2": measured, and of what nothing is said. */
static gboolean
is_bare_value (const SbLayoutColumn *column)
{
  g_autofree char *rest = NULL;
  if (column->role != SB_ROLE_OTHER || column->question != NULL || !sb_words_say (column->name, SB_WORD_ACTUAL))
    return FALSE;
  g_autofree char *unit = sb_name_unit_in_brackets (column->name, &rest);
  SbNameWords words = sb_name_words_read (rest != NULL ? rest : column->name);
  return !words.strange && (words.kinds & ~(guint) SB_WORDS_SAY_NOTHING) == 0 && words.symbol == 0
         && (unit == NULL || strcmp (unit, "%") == 0);
}

/* The command is known by its word alone, the measured value is not: it may be the torque as well as a speed. In
 * percent it is asked about, and without a unit where no torque is read. */
static void
ask_about_value (SbLayout *layout, guint index, const char *unit_cell)
{
  SbLayoutColumn *column = sb_layout_column (layout, index);
  gboolean percent = strchr (column->name, '%') != NULL || (unit_cell != NULL && strchr (unit_cell, '%') != NULL);
  gboolean other_unit = unit_cell != NULL && *unit_cell != '\0' && !percent;
  if (!is_bare_value (column) || other_unit || (!percent && sb_layout_has_role (layout, SB_ROLE_TORQUE)))
    return;
  sb_layout_column_set_aside (
      column, SB_CERTAINTY_GUESSED,
      g_strdup_printf (
          "its name says that it is a measured value%s, and not of which quantity: read past; if it is the "
          "torque, give it the role torque and %s in the import sheet or a layout",
          percent ? " in percent" : "", percent ? "the unit % with what 100 % is" : "its unit"));
}

void
sb_roles_propose (SbLayout *layout, const char *const *unit_cells, const SbShape *shapes, const SbStated *stated)
{
  guint n = layout->columns->len;
  g_autofree gboolean *says_nothing = g_new0 (gboolean, MAX (n, 1));
  if (stated != NULL)
    sb_roles_take_rate (layout, stated);
  for (guint i = 0; i < n; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    const char *unit_cell = sb_roles_unit_cell (layout, i, unit_cells, stated);
    const SbUnit *own = shapes != NULL ? unit_of_cells (&shapes[i]) : NULL;
    says_nothing[i]
        = read_name (column, own != NULL && (unit_cell == NULL || *unit_cell == '\0') ? own->name : unit_cell);
    if (shapes != NULL)
      sb_guess_counts (column, &shapes[i]);
    if (stated != NULL)
      sb_roles_take_values (column, stated);
    if (shapes != NULL)
      settle_clock (column, says_nothing[i], &shapes[i]);
  }
  if (shapes != NULL)
    tell_command_from_torque (layout, shapes);
  g_autofree const SbUnit **volts = find_unnamed_voltages (layout);
  for (int role = 0; role < SB_ROLE_OTHER; role++)
    sb_roles_choose (layout, (SbRole) role);
  if (shapes != NULL) {
    sb_guess_time (layout, says_nothing, shapes);
    sb_guess_signals (layout, says_nothing, shapes);
    sb_guess_doubts (layout, shapes);
    if (stated != NULL)
      sb_roles_take_tick (layout, shapes, stated);
  }
  if (stated != NULL) {
    sb_roles_leave_tick (layout, stated);
    sb_roles_settle_units (layout, stated);
  }
  tell_torque_from_supply (layout, volts, shapes, stated);
  for (guint i = 0; i < n; i++)
    ask_about_value (layout, i, unit_cells != NULL ? unit_cells[i] : NULL);
  for (guint i = 0; i < n; i++) {
    ask_about_estimate (sb_layout_column (layout, i));
    sb_roles_ask_for_values (layout, i, stated);
  }
  for (guint i = 0; i < n && shapes != NULL; i++)
    ask_for_unit (sb_layout_column (layout, i), &shapes[i]);
  for (guint i = 0; i < n; i++)
    ask_about_two_units (sb_layout_column (layout, i), sb_roles_unit_cell (layout, i, unit_cells, stated));
  if (shapes != NULL)
    sb_form_ask (layout, shapes);
}
