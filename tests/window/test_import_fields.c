/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of the dialect: what they offer, and what choosing does to the draft. Needs a display. Expected values are
 * read off the lines of each file by hand. */
#include "dialect_fields.h"

#include "close.h"

#include <string.h>

#define SKIPPED 77

typedef struct {
  GtkWidget *fields;
  SbImportDraft *draft;
  SbProposal *proposal;
  char *text;
} Fixture;

/* Names in single quotes, one of them with the delimiter in it; units in line 3. */
static const char quoted[] = "# bench\n'time','note','torque, shaft'\ns,-,Nm\n0,'a',1\n0.001,'b',2\n0.002,'c',3\n";
/* The same in the last column but one: that the quotes part cells has to be said. */
static const char unseen[] = "time,'torque, shaft',note\ns,Nm,-\n0,1,a\n0.001,2,b\n0.002,3,c\n";
/* No units row. A comment between the header in line 1 and the first row in line 3. */
static const char plain[] = "time_s,torque_Nm\n# begin\n0,1\n0.001,2\n0.002,3\n";

static int
set_up (void **state)
{
  Fixture *fixture = g_new0 (Fixture, 1);
  fixture->fields = g_object_ref_sink (sb_dialect_fields_new ());
  fixture->draft = sb_import_draft_new (NULL);
  *state = fixture;
  return 0;
}

static int
tear_down (void **state)
{
  Fixture *fixture = *state;
  g_object_unref (fixture->fields);
  sb_import_draft_free (fixture->draft);
  sb_proposal_free (fixture->proposal);
  g_free (fixture->text);
  g_free (fixture);
  return 0;
}

static void
propose (Fixture *fixture, const char *text)
{
  sb_proposal_free (fixture->proposal);
  fixture->proposal = sb_propose_memory ("a.csv", text, strlen (text), &fixture->draft->fixed, NULL);
  assert_non_null (fixture->proposal);
  sb_dialect_fields_show (SB_DIALECT_FIELDS (fixture->fields), fixture->draft, fixture->proposal);
}

static GtkWidget *
box_of (const Fixture *fixture, const char *name)
{
  for (GtkWidget *box = gtk_widget_get_first_child (fixture->fields); box != NULL;
       box = gtk_widget_get_next_sibling (box))
    if (g_str_equal (gtk_label_get_text (GTK_LABEL (gtk_widget_get_first_child (box))), name))
      return box;
  return NULL;
}

/* The field below the label `name`. */
static GtkDropDown *
field (const Fixture *fixture, const char *name)
{
  return GTK_DROP_DOWN (gtk_widget_get_last_child (box_of (fixture, name)));
}

/* "found: line 3|none|line 3" */
static const char *
items (Fixture *fixture, const char *name)
{
  GListModel *model = gtk_drop_down_get_model (field (fixture, name));
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < g_list_model_get_n_items (model); i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "|" : "", gtk_string_list_get_string (GTK_STRING_LIST (model), i));
  g_free (fixture->text);
  fixture->text = g_strdup (text->str);
  return fixture->text;
}

static void
choose (Fixture *fixture, const char *name, guint item)
{
  gtk_drop_down_set_selected (field (fixture, name), item);
  sb_dialect_fields_take (SB_DIALECT_FIELDS (fixture->fields), fixture->draft);
}

static guint
selected (const Fixture *fixture, const char *name)
{
  return gtk_drop_down_get_selected (field (fixture, name));
}

static void
nothing_is_fixed_until_something_is_chosen (void **state)
{
  Fixture *fixture = *state;
  propose (fixture, quoted);
  sb_dialect_fields_take (SB_DIALECT_FIELDS (fixture->fields), fixture->draft);
  assert_int_equal (fixture->draft->fixed.quote, SB_AUTOMATIC);
  assert_int_equal (fixture->draft->fixed.units_line, SB_AUTOMATIC);
}

/* A rate is asked for where no column is the time, and what is written for it stays written. */
static void
sample_rate_is_asked_for_where_no_column_is_the_time (void **state)
{
  Fixture *fixture = *state;
  GtkWidget *box = box_of (fixture, "Sample rate [Hz]"), *entry = gtk_widget_get_last_child (box);
  propose (fixture, plain);
  sb_import_draft_take (fixture->draft, fixture->proposal->layout, NULL);
  sb_dialect_fields_show (SB_DIALECT_FIELDS (fixture->fields), fixture->draft, fixture->proposal);
  assert_false (gtk_widget_get_visible (box));
  propose (fixture, "command_Nm,torque_Nm\n0,1\n8,2\n8,3\n");
  sb_import_draft_take (fixture->draft, fixture->proposal->layout, NULL);
  sb_dialect_fields_show (SB_DIALECT_FIELDS (fixture->fields), fixture->draft, fixture->proposal);
  assert_true (gtk_widget_get_visible (box));
  gtk_editable_set_text (GTK_EDITABLE (entry), "2000,5");
  sb_dialect_fields_take (SB_DIALECT_FIELDS (fixture->fields), fixture->draft);
  assert_true (fixture->draft->layout->sample_rate_hz > 2000.4 && fixture->draft->layout->sample_rate_hz < 2000.6);
  sb_dialect_fields_show (SB_DIALECT_FIELDS (fixture->fields), fixture->draft, fixture->proposal);
  assert_string_equal (gtk_editable_get_text (GTK_EDITABLE (entry)), "2000,5");
  gtk_editable_set_text (GTK_EDITABLE (entry), "-5");
  assert_true (gtk_widget_has_css_class (entry, "error"));
}

static void
quotes_can_be_fixed_to_each_sign_and_to_none (void **state)
{
  static const int signs[] = { '"', '\'', 0 };
  Fixture *fixture = *state;
  propose (fixture, quoted);
  assert_string_equal (items (fixture, "Quotes"), "found: single|double|single|none");
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++) {
    choose (fixture, "Quotes", i + 1);
    assert_int_equal (fixture->draft->fixed.quote, signs[i]);
    propose (fixture, quoted);
    assert_int_equal (selected (fixture, "Quotes"), i + 1);
    assert_int_equal (fixture->proposal->layout->quote, signs[i]);
  }
  choose (fixture, "Quotes", 0);
  assert_int_equal (fixture->draft->fixed.quote, SB_AUTOMATIC);
}

static void
quotes_that_are_stated_keep_a_name_together (void **state)
{
  Fixture *fixture = *state;
  propose (fixture, unseen);
  choose (fixture, "Quotes", 2);
  propose (fixture, unseen);
  assert_int_equal (fixture->proposal->layout->columns->len, 3);
  assert_string_equal (sb_layout_column (fixture->proposal->layout, 1)->name, "torque, shaft");
}

static void
a_units_row_that_was_found_can_be_said_to_be_none (void **state)
{
  Fixture *fixture = *state;
  propose (fixture, quoted);
  assert_string_equal (items (fixture, "Units row"), "found: line 3|none|line 3");
  choose (fixture, "Units row", 1);
  assert_int_equal (fixture->draft->fixed.units_line, 0);
  propose (fixture, quoted);
  assert_int_equal (fixture->proposal->layout->units_line, 0);
  assert_int_equal (selected (fixture, "Units row"), 1);
}

static void
the_first_row_below_the_header_can_be_said_to_be_the_units (void **state)
{
  Fixture *fixture = *state;
  propose (fixture, plain);
  assert_string_equal (items (fixture, "Units row"), "found: none|none|line 3");
  choose (fixture, "Units row", 2);
  assert_int_equal (fixture->draft->fixed.units_line, 3);
  propose (fixture, plain);
  assert_int_equal (fixture->proposal->layout->units_line, 3);
  assert_int_equal (fixture->proposal->layout->first_line, 4);
  assert_int_equal (selected (fixture, "Units row"), 2);
}

static void
a_units_row_below_one_header_is_let_go_with_that_header (void **state)
{
  Fixture *fixture = *state;
  propose (fixture, quoted);
  choose (fixture, "Units row", 2);
  assert_int_equal (fixture->draft->fixed.units_line, 3);
  propose (fixture, quoted);
  choose (fixture, "Header", 1); /* none */
  assert_int_equal (fixture->draft->fixed.header_line, 0);
  assert_int_equal (fixture->draft->fixed.units_line, SB_AUTOMATIC);
}

static void
a_units_row_stated_elsewhere_is_shown_and_kept (void **state)
{
  Fixture *fixture = *state;
  fixture->draft->fixed.units_line = 9;
  propose (fixture, plain);
  assert_string_equal (items (fixture, "Units row"), "found: none|none|line 3|line 9");
  assert_int_equal (selected (fixture, "Units row"), 3);
  sb_dialect_fields_take (SB_DIALECT_FIELDS (fixture->fields), fixture->draft);
  assert_int_equal (fixture->draft->fixed.units_line, 9);
}

/* A title that is cut still tells which table it is. */
static void
tables_are_told_by_their_number_first (void **state)
{
  static const char two[] = "time_s,torque_Nm\n0,1\n0.001,2\n\nSecond run\ntime_s,torque_Nm\n0,1\n0.001,2\n";
  Fixture *fixture = *state;
  propose (fixture, two);
  assert_string_equal (items (fixture, "Table"), "1, from line 1 (found)|1, from line 1|2: Second run");
  choose (fixture, "Table", 2);
  assert_int_equal (fixture->draft->fixed.table, 1);
}

#define CASE(name) cmocka_unit_test_setup_teardown (name, set_up, tear_down)

int
main (void)
{
  if (!gtk_init_check ())
    return SKIPPED;
  const struct CMUnitTest tests[] = {
    CASE (nothing_is_fixed_until_something_is_chosen),
    CASE (sample_rate_is_asked_for_where_no_column_is_the_time),
    CASE (quotes_can_be_fixed_to_each_sign_and_to_none),
    CASE (quotes_that_are_stated_keep_a_name_together),
    CASE (a_units_row_that_was_found_can_be_said_to_be_none),
    CASE (the_first_row_below_the_header_can_be_said_to_be_the_units),
    CASE (a_units_row_below_one_header_is_let_go_with_that_header),
    CASE (a_units_row_stated_elsewhere_is_shown_and_kept),
    CASE (tables_are_told_by_their_number_first),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
