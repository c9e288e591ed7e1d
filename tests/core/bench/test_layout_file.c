/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layout files: every member comes back as it was written, and what is wrong is said. */
#include "bench_fixture.h"
#include "layout_store.h"
#include "layout_words.h"
#include "layout_values.h"

#include <sys/wait.h>
#include <unistd.h>

static GPtrArray *
read_layouts (BenchFixture *fixture, const char *path)
{
  g_clear_pointer (&fixture->layouts, g_ptr_array_unref);
  fixture->layouts = sb_layout_file_read (path, &fixture->error);
  if (fixture->layouts == NULL)
    fail_msg ("%s", fixture->error->message);
  return fixture->layouts;
}

static const SbLayoutChoice *
read_one (BenchFixture *fixture, const char *text)
{
  GPtrArray *layouts = read_layouts (fixture, write_file (fixture, "one.json", text));
  assert_int_equal (layouts->len, 1);
  return g_ptr_array_index (layouts, 0);
}

static void
every_member_is_read (void **state)
{
  BenchFixture *fixture = *state;
  const SbLayoutChoice *choice = read_one (
      fixture,
      "{\"name\": \"rig 2\", \"encoding\": \"UTF-16 LE\", \"delimiter\": \"semicolon\", \"decimal\": \"comma\", "
      "\"thousands\": \"apostrophe\", \"quote\": \"single\", \"comment_prefix\": \"%\", \"header_line\": 4, "
      "\"units_line\": 5, \"table\": 2, \"sample_rate_hz\": 2000, \"columns\": ["
      "{\"name\": \"n\", \"role\": \"time\", \"unit\": \"ms\"}, "
      "{\"name\": \"enc\", \"role\": \"angle\", \"counts_per_turn\": -4096, \"wrap\": 65536}, "
      "{\"name\": \"Iq\", \"role\": \"current\", \"torque_constant_nm_per_a\": -0.35}, "
      "{\"role\": \"command\", \"full_scale\": 12.5, \"unit\": null, \"factor\": -0.5}, "
      "{\"name\": \"cell\", \"role\": \"torque\", \"unit\": \"mV\", \"torque_per_volt_nm\": -2.5}]}");
  assert_string_equal (choice->layout->name, "rig 2");
  assert_int_equal (choice->fixed.encoding, SB_ENCODING_UTF16_LE);
  assert_int_equal (choice->fixed.delimiter, ';');
  assert_int_equal (choice->fixed.decimal, ',');
  assert_int_equal (choice->fixed.thousands, '\'');
  assert_int_equal (choice->fixed.quote, '\'');
  assert_string_equal (choice->fixed.comment_prefix, "%");
  assert_int_equal (choice->fixed.header_line, 4);
  assert_int_equal (choice->fixed.units_line, 5);
  assert_int_equal (choice->fixed.table, 1); /* people count from 1 */
  assert_false (choice->of_shape);
  const SbLayout *layout = choice->layout;
  assert_close (layout->sample_rate_hz, 2000, 0);
  assert_ptr_equal (sb_layout_column (layout, 0)->unit, sb_unit_find ("ms"));
  assert_true (isnan (sb_layout_column (layout, 0)->wrap));
  assert_close (sb_layout_column (layout, 1)->counts_per_turn, -4096, 0);
  assert_close (sb_layout_column (layout, 1)->wrap, 65536, 0);
  assert_int_equal (sb_layout_column (layout, 2)->role, SB_ROLE_CURRENT);
  assert_close (sb_layout_column (layout, 2)->torque_constant_nm_per_a, -0.35, 0);
  assert_string_equal (sb_layout_column (layout, 3)->name, "");
  assert_close (sb_layout_column (layout, 3)->full_scale, 12.5, 0);
  assert_null (sb_layout_column (layout, 3)->unit);
  assert_close (sb_layout_column (layout, 3)->factor, -0.5, 0);
  assert_close (sb_layout_column (layout, 4)->torque_per_volt_nm, -2.5, 0);
}

static void
members_left_out_are_automatic (void **state)
{
  BenchFixture *fixture = *state;
  const SbLayoutChoice *choice = read_one (fixture, "{\"columns\": [{\"name\": \"a\", \"role\": \"torque\"}]}");
  assert_false (sb_layout_choice_fixes_dialect (choice));
  assert_true (isnan (choice->layout->sample_rate_hz));
  const SbLayoutColumn *column = sb_layout_column (choice->layout, 0);
  assert_null (column->unit);
  assert_true (isnan (column->counts_per_turn) && isnan (column->torque_constant_nm_per_a) && isnan (column->full_scale)
               && isnan (column->torque_per_volt_nm) && isnan (column->wrap));
}

static void
signs_may_be_written_as_words_or_as_themselves (void **state)
{
  BenchFixture *fixture = *state;
  static const struct {
    const char *text;
    char delimiter, decimal;
  } cases[] = {
    { "{\"delimiter\": \"tab\", \"decimal\": \"point\"}", '\t', '.' },
    { "{\"delimiter\": \"\\t\", \"decimal\": \".\"}", '\t', '.' },
    { "{\"delimiter\": \"|\", \"decimal\": \",\"}", '|', ',' },
    { "{\"delimiter\": \"blanks\", \"decimal\": \"comma\"}", ' ', ',' },
    { "{\"delimiter\": \",\"}", ',', 0 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    const SbLayoutChoice *choice = read_one (fixture, cases[i].text);
    assert_int_equal (choice->fixed.delimiter, cases[i].delimiter);
    assert_int_equal (choice->fixed.decimal, cases[i].decimal);
  }
}

/* The columns of a found layout with everything that a column can have. */
static SbLayout *
full_layout (void)
{
  SbLayout *layout = sb_layout_new ();
  g_free (layout->name);
  layout->name = g_strdup ("Prüfstand \"2\"");
  layout->sample_rate_hz = 1.0 / 3;
  for (int r = 0; r < SB_N_ROLES; r++) {
    g_autofree char *name = g_strdup_printf ("column “%d”", r);
    sb_layout_add_column (layout, name)->role = (SbRole) r;
  }
  sb_layout_column (layout, SB_ROLE_TIME)->unit = sb_unit_find ("µs");
  SbLayoutColumn *angle = sb_layout_column (layout, SB_ROLE_ANGLE);
  angle->counts_per_turn = 4096.1;
  angle->wrap = 0;
  sb_layout_column (layout, SB_ROLE_CURRENT)->torque_constant_nm_per_a = 0.1 + 0.2;
  sb_layout_column (layout, SB_ROLE_TORQUE)->full_scale = -1e-7; /* as the import sheet takes it */
  sb_layout_column (layout, SB_ROLE_VELOCITY)->factor = -1.0 / 3;
  return layout;
}

static void
layouts_come_back_as_they_were_written (void **state)
{
  BenchFixture *fixture = *state;
  g_autoptr (SbLayout) layout = full_layout ();
  SbDialectChoices all = { .encoding = SB_ENCODING_LATIN1,
                           .delimiter = ' ',
                           .decimal = ',',
                           .thousands = ' ',
                           .quote = 0,
                           .comment_prefix = "",
                           .header_line = 0,
                           .units_line = 0,
                           .table = 3 };
  g_autoptr (GPtrArray) written = sb_layout_choices_new ();
  g_ptr_array_add (written, sb_layout_choice_of_shape (layout, &all));
  g_ptr_array_add (written, sb_layout_choice_of_shape (layout, NULL));
  g_ptr_array_add (written, sb_layout_choice_new (sb_layout_ref (layout), NULL, FALSE));
  const char *path = path_in (fixture, "all.json");
  assert_true (sb_layout_file_write (path, written, &fixture->error));
  GPtrArray *read = read_layouts (fixture, path);
  assert_int_equal (read->len, written->len);
  for (guint i = 0; i < read->len; i++) {
    const SbLayoutChoice *one = g_ptr_array_index (written, i), *two = g_ptr_array_index (read, i);
    assert_true (sb_layout_choice_equal (one, two));
    assert_string_equal (one->layout->name, two->layout->name);
    const char *texts[] = { keep (fixture, sb_layout_file_text (written)), keep (fixture, sb_layout_file_text (read)) };
    assert_string_equal (texts[0], texts[1]);
  }
}

static void
wrong_files_are_refused_with_file_member_and_remedy (void **state)
{
  static const struct {
    const char *text, *part;
    int code;
  } cases[] = {
    { "", "this is no layout", SB_LAYOUT_FILE_ERROR_READ },
    { "{", "wrong.json:1", SB_LAYOUT_FILE_ERROR_READ },
    { "[]", "this is no layout", SB_LAYOUT_FILE_ERROR_READ },
    { "{}", "it states nothing", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"slewbench_layouts\": 2, \"layouts\": []}", "later version", SB_LAYOUT_FILE_ERROR_VERSION },
    { "{\"layouts\": {}}", "must be a list", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"layouts\": [], \"delimiter\": \"tab\"}", "no member 'delimiter' beside", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"layouts\": [{\"delimiter\": \"tab\"}, 3]}", "layout 2 of the list", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"delimeter\": \";\"}", "no member 'delimeter'", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"delimiter\": \"colon\"}", "comma, semicolon, tab, bar or blanks", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"decimal\": 1}", "'decimal' must be point or comma", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"encoding\": \"UTF-7\"}", "UTF-16 LE", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"header_line\": -1}", "'header_line' must be a whole number from 0", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"header_line\": 1.5}", "'header_line' must be a whole number", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"table\": 0}", "from 1 on", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"t\", \"role\": \"torque\", \"factor\": 0}]}",
      "column 't': the member 'factor' must be a number other than 0", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"t\", \"role\": \"torque\", \"factor\": 1e300}]}",
      "the member 'factor' must be a number other than 0", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"t\", \"factor\": -1, \"role\": \"time\"}]}", "and above 0 for a time",
      SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"t\", \"role\": \"torque\", \"full_scale\": 1e-300}]}",
      "the member 'full_scale' must be a number other than 0", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"sample_rate_hz\": 0}", "'sample_rate_hz' must be a number above 0", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": {}}", "'columns' must be a list", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\"}]}", "column 'a': the member 'role' is needed", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\", \"role\": \"speed\"}]}", "velocity", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"role\": \"torque\", \"units\": \"Nm\"}]}", "column 1 of the list: there is no member 'units'",
      SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\", \"role\": \"torque\", \"unit\": \"rpm\"}]}",
      "'unit' of a column for the torque must be N·m", SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\", \"role\": \"angle\", \"counts_per_turn\": 0}]}", "other than 0",
      SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\", \"role\": \"current\", \"torque_constant_nm_per_a\": 0}]}", "other than 0",
      SB_LAYOUT_FILE_ERROR_READ },
    { "{\"columns\": [{\"name\": \"a\", \"role\": \"torque\"}], \"signature\": \"0123456789abcdef\"}",
      "Take the signature out", SB_LAYOUT_FILE_ERROR_READ },
  };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_clear_error (&fixture->error);
    fixture->layouts = sb_layout_file_read (write_file (fixture, "wrong.json", cases[i].text), &fixture->error);
    assert_null (fixture->layouts);
    if (!g_error_matches (fixture->error, SB_LAYOUT_FILE_ERROR, cases[i].code)
        || strstr (fixture->error->message, cases[i].part) == NULL
        || strstr (fixture->error->message, "wrong.json") == NULL)
      fail_msg ("case %zu: %s", i, fixture->error->message);
  }
}

/* Of an angle in degrees it never was a number of counts. */
static void
wrap_is_read_by_its_older_name_too (void **state)
{
  BenchFixture *fixture = *state;
  const SbLayoutChoice *choice = read_one (
      fixture, "{\"columns\": [{\"name\": \"wheel\", \"role\": \"angle\", \"unit\": \"deg\", \"wrap_counts\": 360}]}");
  assert_close (sb_layout_column (choice->layout, 0)->wrap, 360, 0);
}

/* As docs/layout-file.md has them: at a limit a value is taken by the check that all who state one ask, and can be read
 * again from a file; beyond it neither. */
static void
limits_of_values_hold_in_files_and_elsewhere (void **state)
{
  static const struct {
    SbLayoutValue value;
    const char *name, *role;
    double most;
    gboolean negative, zero;
  } cases[] = {
    { SB_LAYOUT_COUNTS_PER_TURN, "counts_per_turn", "angle", 1e15, TRUE, FALSE },
    { SB_LAYOUT_WRAP, "wrap", "angle", 1e15, FALSE, TRUE },
    { SB_LAYOUT_TORQUE_CONSTANT, "torque_constant_nm_per_a", "current", 1e6, TRUE, FALSE },
    { SB_LAYOUT_TORQUE_PER_VOLT, "torque_per_volt_nm", "torque", 1e9, TRUE, FALSE },
    { SB_LAYOUT_TORQUE_ZERO, "torque_zero_v", "torque", 1e6, TRUE, TRUE },
    { SB_LAYOUT_FULL_SCALE, "full_scale", "command", 1e12, TRUE, FALSE },
    { SB_LAYOUT_FACTOR, "factor", "torque", 1e12, TRUE, FALSE },
    { SB_LAYOUT_FACTOR, "factor", "time", 1e12, FALSE, FALSE },
    { SB_LAYOUT_SAMPLE_RATE, "sample_rate_hz", NULL, 1e12, FALSE, FALSE },
  };
  BenchFixture *fixture = *state;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    const double numbers[] = { cases[i].most, 1.001 * cases[i].most, 1e-12, 9e-13, 0 };
    const gboolean good[] = { TRUE, FALSE, TRUE, cases[i].zero, cases[i].zero };
    for (guint k = 0; k < 10; k++) {
      double number = k % 2 == 0 ? numbers[k / 2] : -numbers[k / 2];
      gboolean expected = good[k / 2] && (k % 2 == 0 || k == 9 || cases[i].negative);
      SbRole role = SB_ROLE_TIME;
      assert_true (cases[i].role == NULL || sb_role_find (cases[i].role, &role));
      g_autofree char *fault = sb_layout_value_fault (cases[i].value, role, number);
      char digits[G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_dtostr (digits, sizeof digits, number);
      g_autofree char *text = cases[i].role == NULL
                                  ? g_strdup_printf ("{\"%s\": %s}", cases[i].name, digits)
                                  : g_strdup_printf ("{\"columns\": [{\"role\": \"%s\", \"%s\": %s}]}", cases[i].role,
                                                     cases[i].name, digits);
      g_clear_error (&fixture->error);
      g_autoptr (GPtrArray) read = sb_layout_file_read (write_file (fixture, "limit.json", text), &fixture->error);
      if ((read != NULL) != expected || (fault == NULL) != expected)
        fail_msg ("%s: %s", text, fault != NULL ? fault : "taken");
    }
  }
}

/* What a person who writes into the sheet is told. */
static void
fault_of_a_value_names_what_it_takes (void **state)
{
  static const struct {
    SbLayoutValue value;
    SbRole role;
    double number;
    const char *fault;
  } cases[] = {
    { SB_LAYOUT_FACTOR, SB_ROLE_TIME, -1, "is not above 0" },
    { SB_LAYOUT_FACTOR, SB_ROLE_TORQUE, 0, "is 0" },
    { SB_LAYOUT_FACTOR, SB_ROLE_TORQUE, (double) NAN, "is no number" },
    { SB_LAYOUT_FACTOR, SB_ROLE_TORQUE, 1e13, "is not from 1e-12 to 1e12 in size" },
    { SB_LAYOUT_SAMPLE_RATE, SB_ROLE_TIME, 0, "is not above 0" },
    { SB_LAYOUT_TORQUE_ZERO, SB_ROLE_TORQUE, -2e6, "is not up to 1e6 in size" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *fault = sb_layout_value_fault (cases[i].value, cases[i].role, cases[i].number);
    assert_string_equal (fault, cases[i].fault);
  }
}

static void
draft_keeps_the_dialect_the_shape_and_the_questions (void **state)
{
  BenchFixture *fixture = *state;
  g_autoptr (SbLayout) layout = full_layout ();
  layout->delimiter = ';';
  SbLayoutColumn *angle = sb_layout_column (layout, SB_ROLE_ANGLE);
  angle->unit = sb_unit_find ("counts");
  angle->counts_per_turn = (double) NAN;
  angle->certainty = SB_CERTAINTY_MISSING;
  angle->question = g_strdup ("How many counts are a turn?");
  g_autoptr (GPtrArray) drafts = sb_layout_choices_new ();
  g_ptr_array_add (drafts, sb_layout_file_draft (layout));
  const char *text = keep (fixture, sb_layout_file_text (drafts));
  assert_non_null (strstr (text, "How many counts are a turn?"));
  assert_non_null (strstr (text, "\"counts_per_turn\" : null"));
  const SbLayoutChoice *read = read_one (fixture, text); /* a question is no reason to refuse */
  assert_int_equal (read->fixed.delimiter, ';');
  assert_true (read->of_shape);
  assert_int_equal (read->fixed.header_line, SB_AUTOMATIC); /* a preamble may be longer in the next log */
}

/* A file without thousands in the lines looked at may have them far behind; a person may have said that it has none. */
static void
draft_states_thousands_that_were_found_or_stated (void **state)
{
  static const struct {
    char found;
    gboolean stated;
    const char *written; /* NULL: not at all */
  } cases[] = { { '\0', FALSE, NULL },
                { '\0', TRUE, "\"thousands\" : \"none\"" },
                { '.', FALSE, "\"thousands\" : \"point\"" } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (SbLayout) layout = full_layout ();
    layout->decimal = ',';
    layout->thousands = cases[i].found;
    layout->is_thousands_stated = cases[i].stated;
    g_autoptr (GPtrArray) drafts = sb_layout_choices_new ();
    g_ptr_array_add (drafts, sb_layout_file_draft (layout));
    const char *text = keep (*state, sb_layout_file_text (drafts));
    const char *looked_for = cases[i].written != NULL ? cases[i].written : "thousands";
    if ((strstr (text, looked_for) != NULL) != (cases[i].written != NULL))
      fail_msg ("case %zu: %s", i, text);
  }
}

/* A layout of one column, whose name tells it from others. */
static GPtrArray *
layout_of (const char *column)
{
  g_autoptr (SbLayout) layout = sb_layout_new ();
  sb_layout_add_column (layout, column)->role = SB_ROLE_TORQUE;
  GPtrArray *list = sb_layout_choices_new ();
  g_ptr_array_add (list, sb_layout_choice_of_shape (layout, NULL));
  return list;
}

static void
remember (const char *path, const char *column)
{
  g_autoptr (GPtrArray) list = layout_of (column);
  assert_true (sb_layout_store_remember (path, list, NULL));
}

static GPtrArray *
remembered (BenchFixture *fixture, const char *path)
{
  g_clear_pointer (&fixture->layouts, g_ptr_array_unref);
  fixture->layouts = sb_layout_store_list (path, &fixture->error);
  assert_non_null (fixture->layouts);
  return fixture->layouts;
}

static void
store_is_empty_before_anything_was_remembered (void **state)
{
  BenchFixture *fixture = *state;
  assert_int_equal (remembered (fixture, path_in (fixture, "none/layouts.json"))->len, 0);
}

static void
remembered_layout_takes_the_place_of_that_of_its_shape (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "data/slewbench/layouts.json");
  remember (path, "a");
  remember (path, "b");
  remember (path, "A"); /* the same shape */
  const GPtrArray *list = remembered (fixture, path);
  assert_int_equal (list->len, 2);
  const SbLayoutChoice *first = g_ptr_array_index (list, 0);
  assert_string_equal (sb_layout_column (first->layout, 0)->name, "A");
}

static void
layouts_are_renamed_and_forgotten_by_signature_or_name (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "layouts.json");
  remember (path, "a");
  remember (path, "b");
  const SbLayoutChoice *first = g_ptr_array_index (remembered (fixture, path), 0);
  const char *signature = keep (fixture, sb_layout_signature (first->layout));
  g_autofree char *start = g_strndup (signature, 8);
  assert_int_equal (sb_layout_store_rename (path, start, "rig 2", &fixture->error), 1);
  first = g_ptr_array_index (remembered (fixture, path), 0);
  assert_string_equal (first->layout->name, "rig 2");
  assert_int_equal (sb_layout_store_forget (path, "no such", &fixture->error), 0);
  assert_int_equal (sb_layout_store_forget (path, "rig 2", &fixture->error), 1);
  const GPtrArray *list = remembered (fixture, path);
  assert_int_equal (list->len, 1);
  const SbLayoutChoice *left = g_ptr_array_index (list, 0);
  assert_string_equal (sb_layout_column (left->layout, 0)->name, "b");
}

static void
key_of_several_layouts_is_refused (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "layouts.json");
  for (char column[] = "a"; column[0] <= 'q'; column[0]++) /* 17 layouts and 16 digits: two signatures begin alike */
    remember (path, column);
  const GPtrArray *list = remembered (fixture, path);
  int n_refused = 0;
  for (int digit = 0; digit < 16; digit++) {
    const char key[] = { "0123456789abcdef"[digit], '\0' };
    guint n;
    sb_layout_store_find (list, key, &n);
    if (n < 2)
      continue;
    n_refused++;
    g_clear_error (&fixture->error);
    assert_int_equal (sb_layout_store_forget (path, key, &fixture->error), -1);
    assert_non_null (strstr (fixture->error->message, "more of the signature"));
  }
  assert_true (n_refused > 0);
  assert_int_equal (remembered (fixture, path)->len, 17);
}

static void
store_that_cannot_be_read_is_not_written_over (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = write_file (fixture, "layouts.json", "{\"later\": true}");
  g_autoptr (GPtrArray) list = layout_of ("a");
  assert_false (sb_layout_store_remember (path, list, &fixture->error));
  assert_non_null (strstr (fixture->error->message, "later"));
  char *text = NULL;
  assert_true (g_file_get_contents (path, &text, NULL, NULL));
  assert_string_equal (keep (fixture, text), "{\"later\": true}");
}

#define N_PROGRAMS 4
#define N_EACH     15

/* Without the lock, a program writes over what another added since it read the file. */
static void
programs_at_the_same_time_lose_none_of_each_others_layouts (void **state)
{
  BenchFixture *fixture = *state;
  const char *path = path_in (fixture, "layouts.json");
  pid_t programs[N_PROGRAMS];
  for (int p = 0; p < N_PROGRAMS; p++) {
    programs[p] = fork ();
    assert_true (programs[p] >= 0);
    if (programs[p] > 0)
      continue;
    gboolean good = TRUE;
    for (int i = 0; i < N_EACH; i++) {
      g_autofree char *column = g_strdup_printf ("program %d column %d", p, i);
      g_autoptr (GPtrArray) list = layout_of (column);
      good = sb_layout_store_remember (path, list, NULL) && good;
    }
    _exit (good ? 0 : 1);
  }
  for (int p = 0; p < N_PROGRAMS; p++) {
    int status = -1;
    assert_int_equal (waitpid (programs[p], &status, 0), programs[p]);
    assert_int_equal (status, 0);
  }
  assert_int_equal (remembered (fixture, path)->len, N_PROGRAMS * N_EACH);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    bench_test (every_member_is_read),
    bench_test (wrap_is_read_by_its_older_name_too),
    bench_test (members_left_out_are_automatic),
    bench_test (signs_may_be_written_as_words_or_as_themselves),
    bench_test (layouts_come_back_as_they_were_written),
    bench_test (wrong_files_are_refused_with_file_member_and_remedy),
    bench_test (limits_of_values_hold_in_files_and_elsewhere),
    bench_test (fault_of_a_value_names_what_it_takes),
    bench_test (draft_keeps_the_dialect_the_shape_and_the_questions),
    bench_test (draft_states_thousands_that_were_found_or_stated),
    bench_test (store_is_empty_before_anything_was_remembered),
    bench_test (remembered_layout_takes_the_place_of_that_of_its_shape),
    bench_test (layouts_are_renamed_and_forgotten_by_signature_or_name),
    bench_test (key_of_several_layouts_is_refused),
    bench_test (store_that_cannot_be_read_is_not_written_over),
    bench_test (programs_at_the_same_time_lose_none_of_each_others_layouts),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
