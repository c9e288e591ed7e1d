/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout_options.h"

#include "arguments.h"
#include "bench_layouts.h"
#include "layout_clash.h"
#include "layout_store.h"
#include "layout_values.h"

#include <math.h>

void
sb_layout_options_init (SbLayoutOptions *options)
{
  *options = (SbLayoutOptions){
    .sample_rate_hz = NAN,
    .torque_constant_nm_per_a = NAN,
    .torque_per_volt_nm = NAN,
    .torque_zero_v = NAN,
    .counts_per_turn = NAN,
    .full_scale_nm = NAN,
  };
}

void
sb_layout_options_clear (SbLayoutOptions *options)
{
  g_clear_pointer (&options->files, g_strfreev);
}

void
sb_layout_options_add (GOptionContext *context, SbLayoutOptions *o)
{
  GOptionEntry entries[] = {
    { "layout", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->files,
      "Read logs by the layouts of this file (docs/layout-file.md); may be repeated", "FILE" },
    { "remembered-layouts", 0, 0, G_OPTION_ARG_NONE, &o->remembered,
      "Read logs by the layouts that the window remembers", NULL },
    { "sample-rate", 0, 0, G_OPTION_ARG_DOUBLE, &o->sample_rate_hz,
      "Of logs whose time is the number of the sample, or that have none", "HZ" },
    { "torque-constant", 0, 0, G_OPTION_ARG_DOUBLE, &o->torque_constant_nm_per_a,
      "Torque per current, of columns in ampere", "NM_PER_A" },
    { "torque-per-volt", 0, 0, G_OPTION_ARG_DOUBLE, &o->torque_per_volt_nm,
      "Torque of one volt, of the columns of a torque transducer in volts", "NM_PER_V" },
    { "torque-zero", 0, 0, G_OPTION_ARG_DOUBLE, &o->torque_zero_v,
      "Volts of such a transducer at no torque, taken off first", "V" },
    { "counts-per-turn", 0, 0, G_OPTION_ARG_DOUBLE, &o->counts_per_turn, "Of angles in encoder counts", "N" },
    { "full-scale", 0, 0, G_OPTION_ARG_DOUBLE, &o->full_scale_nm, "What 100 % of a torque or a command is", "NM" },
    { NULL, 0, 0, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  };
  g_option_context_add_main_entries (context, entries, NULL);
}

static void
stated_free (gpointer data)
{
  SbStatedLayouts *stated = data;
  g_free (stated->option);
  g_ptr_array_unref (stated->choices);
  g_free (stated);
}

static SbStatedLayouts *
add_stated (GPtrArray *list, char *option, GPtrArray *choices, int wanted)
{
  SbStatedLayouts *stated = g_new0 (SbStatedLayouts, 1);
  stated->option = option;
  stated->choices = choices;
  stated->wanted = wanted;
  g_ptr_array_add (list, stated);
  return stated;
}

/* An option that is a number: a value of whichever columns have one of these roles. */
typedef struct {
  const char *option;
  SbLayoutValue kind;
  double value;
  SbDimension wanted;
  SbRole roles[3];
  gsize n_roles; /* 0: the sample rate, which belongs to no column */
} ValueOption;

static SbLayoutChoice *
state_value (const ValueOption *o, SbRole role)
{
  SbLayout *layout = sb_layout_new ();
  if (o->n_roles == 0) {
    layout->sample_rate_hz = o->value;
  } else {
    SbLayoutColumn *column = sb_layout_add_column (layout, "");
    column->role = role;
    *sb_layout_value_place (column, o->kind) = o->value;
  }
  return sb_layout_choice_new (layout, NULL, FALSE);
}

/* FALSE, said on stderr, when a value is out of range. */
static gboolean
read_values (const char *command, const SbLayoutOptions *o, GPtrArray *list)
{
  const ValueOption options[] = {
    { "--sample-rate", SB_LAYOUT_SAMPLE_RATE, o->sample_rate_hz, SB_DIMENSION_SAMPLES, { SB_ROLE_TIME }, 0 },
    { "--torque-constant",
      SB_LAYOUT_TORQUE_CONSTANT,
      o->torque_constant_nm_per_a,
      SB_DIMENSION_CURRENT,
      { SB_ROLE_CURRENT, SB_ROLE_TORQUE, SB_ROLE_COMMAND },
      3 },
    { "--torque-per-volt",
      SB_LAYOUT_TORQUE_PER_VOLT,
      o->torque_per_volt_nm,
      SB_DIMENSION_VOLTAGE,
      { SB_ROLE_TORQUE, SB_ROLE_COMMAND },
      2 },
    { "--torque-zero",
      SB_LAYOUT_TORQUE_ZERO,
      o->torque_zero_v,
      SB_DIMENSION_VOLTAGE,
      { SB_ROLE_TORQUE, SB_ROLE_COMMAND },
      2 },
    { "--counts-per-turn", SB_LAYOUT_COUNTS_PER_TURN, o->counts_per_turn, SB_DIMENSION_COUNTS, { SB_ROLE_ANGLE }, 1 },
    { "--full-scale",
      SB_LAYOUT_FULL_SCALE,
      o->full_scale_nm,
      SB_DIMENSION_PERCENT,
      { SB_ROLE_TORQUE, SB_ROLE_COMMAND },
      2 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (options); i++) {
    const ValueOption *option = &options[i];
    if (isnan (option->value))
      continue;
    g_autofree char *range = sb_layout_value_range (option->kind);
    if (!sb_layout_value_takes (option->kind, option->roles[0], option->value)) {
      sb_arguments_wrong (command, "%s takes %s.", option->option, range);
      return FALSE;
    }
    GPtrArray *choices = sb_layout_choices_new ();
    for (gsize r = 0; r < MAX (option->n_roles, 1); r++)
      g_ptr_array_add (choices, state_value (option, option->roles[r]));
    add_stated (list, g_strdup (option->option), choices, (int) option->wanted);
  }
  return TRUE;
}

static gboolean
read_files (const SbLayoutOptions *o, GPtrArray *list)
{
  g_autoptr (GError) error = NULL;
  for (gsize i = 0; o->files != NULL && o->files[i] != NULL; i++) {
    GPtrArray *choices = sb_layout_file_read (o->files[i], &error);
    if (choices == NULL) {
      g_printerr ("slewbench: %s\n", error->message);
      return FALSE;
    }
    g_autofree char *shown = g_filename_display_name (o->files[i]);
    add_stated (list, g_strdup_printf ("--layout %s", shown), choices, -1);
  }
  if (!o->remembered)
    return TRUE;
  g_autofree char *path = sb_layout_store_path ();
  GPtrArray *choices = sb_layout_store_list (path, &error);
  if (choices == NULL) {
    g_printerr ("slewbench: %s\n", error->message);
    return FALSE;
  }
  add_stated (list, NULL, choices, -1);
  return TRUE;
}

GPtrArray *
sb_layout_options_read (const char *command, const SbLayoutOptions *options, SbExitStatus *status)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (stated_free);
  *status = SB_EXIT_USAGE;
  if (!read_values (command, options, list))
    return NULL;
  *status = SB_EXIT_NOTHING;
  if (!read_files (options, list))
    return NULL;
  *status = SB_EXIT_DONE;
  return g_steal_pointer (&list);
}

static const SbStatedLayouts *
stated_at (const GPtrArray *stated, guint index)
{
  return g_ptr_array_index (stated, index);
}

GPtrArray *
sb_stated_layouts_list (const GPtrArray *stated)
{
  g_autoptr (SbBench) bench = sb_bench_new ();
  for (guint i = 0; i < stated->len; i++)
    sb_bench_take_layouts (bench, stated_at (stated, i)->choices);
  return bench->layouts != NULL ? g_ptr_array_ref (bench->layouts) : sb_layout_choices_new ();
}

void
sb_stated_layouts_apply (const GPtrArray *stated, SbBench *edited)
{
  g_autoptr (GPtrArray) own = g_steal_pointer (&edited->layouts);
  for (guint i = 0; i < stated->len; i++)
    if (stated_at (stated, i)->option != NULL)
      sb_bench_take_layouts (edited, stated_at (stated, i)->choices);
  sb_bench_take_layouts (edited, own);
  for (guint i = 0; i < stated->len; i++)
    if (stated_at (stated, i)->option == NULL)
      sb_bench_take_layouts (edited, stated_at (stated, i)->choices);
}

static gboolean
has_dimension (const SbLayout *layout, int wanted)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    const SbUnit *unit = sb_layout_column (layout, i)->unit;
    if (unit != NULL && (int) unit->dimension == wanted)
      return TRUE;
  }
  return wanted == SB_DIMENSION_SAMPLES && sb_layout_counts_rows (layout);
}

void
sb_stated_layouts_note (GPtrArray *list, const SbLayout *layout)
{
  for (guint i = 0; i < list->len; i++) {
    SbStatedLayouts *stated = g_ptr_array_index (list, i);
    for (guint c = 0; c < stated->choices->len && !stated->is_used; c++) {
      const SbLayoutChoice *choice = g_ptr_array_index (stated->choices, c);
      g_autofree char *clash = sb_layout_clash_text (choice, layout);
      stated->is_passed_over = stated->is_passed_over || clash != NULL;
      stated->is_used
          = sb_layout_choice_fits (choice, layout) && (stated->wanted < 0 || has_dimension (layout, stated->wanted));
    }
  }
}

SbExitStatus
sb_stated_layouts_say_unused (const GPtrArray *list)
{
  SbExitStatus status = SB_EXIT_DONE;
  for (guint i = 0; i < list->len; i++) {
    const SbStatedLayouts *stated = stated_at (list, i);
    if (stated->is_used || stated->option == NULL)
      continue;
    status = SB_EXIT_LEFT_OUT;
    if (stated->is_passed_over)
      g_printerr ("slewbench: %s: no layout in it was followed, since the logs are written otherwise than it states.\n",
                  stated->option);
    else if (stated->wanted < 0)
      g_printerr ("slewbench: %s: no layout in it is for any of the logs that were read; 'slewbench inspect' tells the "
                  "names of their columns.\n",
                  stated->option);
    else
      g_printerr ("slewbench: %s: none of the logs that were read has a column that it could be for.\n",
                  stated->option);
  }
  return status;
}
