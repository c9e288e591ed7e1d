/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fast ways for regular rows against libcsv: the same random bytes through either must give the same log, columns
 * bit for bit and faults word for word, for random cuts into blocks. */
#include "log_fixture.h"
#include "log_reader.h"

#define N_LOGS 4000

/* What a generated file looks like. */
typedef struct {
  char delimiter, decimal;
  const char *line_end;
  guint n_columns;
  int n_digits; /* largest number of digits before and of digits after the decimal sign */
  int mischief; /* one cell in so many is not a plain number; 0: none */
} Style;

static const char *const columns[]
    = { "time_ms", "torque_Nm", "speed_rpm", "note", "command_Nm", "angle_deg", "spare" };
/* All of these are kept, which is the fastest way's condition. */
static const char *const signals[] = { "time_ms", "torque_Nm", "speed_rpm", "command_Nm", "angle_deg" };

static void
append_digits (GString *text, GRand *random, int n)
{
  for (int i = 0; i < n; i++)
    g_string_append_c (text, (char) ('0' + g_rand_int_range (random, 0, 10)));
}

static void
append_number (GString *text, GRand *random, const Style *style)
{
  if (g_rand_boolean (random))
    g_string_append_c (text, '-');
  append_digits (text, random, g_rand_int_range (random, 1, style->n_digits + 1));
  if (g_rand_int_range (random, 0, 8) == 0)
    return;
  g_string_append_c (text, style->decimal);
  append_digits (text, random, g_rand_int_range (random, 0, style->n_digits + 1));
  if (g_rand_int_range (random, 0, 10) == 0)
    g_string_append_printf (text, "%c%d", g_rand_boolean (random) ? 'e' : 'E', g_rand_int_range (random, -30, 31));
}

static void
append_mischief (GString *text, GRand *random)
{
  static const char *const cells[] = { "",
                                       " ",
                                       "x",
                                       "\"1\"",
                                       "\"1",
                                       "1\"",
                                       "\"a\"\"b\"",
                                       " 1 ",
                                       "\t2",
                                       "+3",
                                       ".5",
                                       "5.",
                                       "1e400",
                                       "-1e-400",
                                       "nan",
                                       "1.2.3",
                                       "1,2",
                                       "-",
                                       "1e",
                                       "#",
                                       "# a",
                                       "\xb5",
                                       "1e5",
                                       "1E+05",
                                       "--1",
                                       "1 2",
                                       "e5",
                                       "00000000000000000000001",
                                       "123456789012345678901234567890",
                                       "0x10",
                                       "1/2",
                                       "1:2",
                                       "inf" };
  g_string_append (text, cells[g_rand_int_range (random, 0, (int) G_N_ELEMENTS (cells))]);
}

static void
append_row (GString *text, GRand *random, const Style *style, int row)
{
  for (guint i = 0; i < style->n_columns; i++) {
    if (i > 0)
      g_string_append_c (text, style->delimiter);
    if (style->mischief > 0 && g_rand_int_range (random, 0, style->mischief) == 0)
      append_mischief (text, random);
    else if (i == 0)
      g_string_append_printf (text, "%d%c%d", row, style->decimal, g_rand_int_range (random, 0, 10));
    else
      append_number (text, random, style);
  }
  if (style->mischief > 0 && g_rand_int_range (random, 0, 4 * style->mischief) == 0)
    g_string_append_c (text, style->delimiter);
  g_string_append (text, style->line_end);
}

static Style
random_style (GRand *random)
{
  static const char *const line_ends[] = { "\n", "\r\n", "\r" };
  static const char delimiters[] = { ',', ';', '\t', '|', ' ' };
  Style style = { .delimiter = delimiters[g_rand_int_range (random, 0, (int) G_N_ELEMENTS (delimiters))],
                  .line_end = line_ends[g_rand_int_range (random, 0, 3)],
                  .n_columns = (guint) g_rand_int_range (random, 2, (int) G_N_ELEMENTS (columns) + 1),
                  .n_digits = g_rand_int_range (random, 1, 13) };
  style.decimal = style.delimiter != ',' && g_rand_boolean (random) ? ',' : '.';
  style.mischief = g_rand_boolean (random) ? g_rand_int_range (random, 2, 60) : 0;
  return style;
}

static void
make_log (GString *text, GRand *random)
{
  Style style = random_style (random);
  gboolean all_kept = g_rand_boolean (random);
  gboolean note_first = !all_kept && g_rand_int_range (random, 0, 6) == 0;
  if (all_kept)
    style.n_columns = MIN (style.n_columns, (guint) G_N_ELEMENTS (signals));
  g_string_truncate (text, 0);
  for (guint i = 0; i < style.n_columns; i++) {
    if (i > 0)
      g_string_append_c (text, style.delimiter);
    g_string_append (text, all_kept ? signals[i] : columns[note_first && i < 4 ? (i + 3) % 4 : i]);
  }
  g_string_append (text, style.line_end);
  for (int row = 0, n_rows = g_rand_int_range (random, 0, 60); row < n_rows; row++) {
    if (style.mischief > 0 && g_rand_int_range (random, 0, 20) == 0)
      g_string_append (text, g_rand_boolean (random) ? "# setting a: 1" : "  ");
    append_row (text, random, &style, row);
  }
  if (g_rand_int_range (random, 0, 5) == 0)
    g_string_truncate (text, text->len - MIN (text->len, (gsize) g_rand_int_range (random, 0, 10)));
}

/* Feeds the text in blocks of `block_size`. */
static SbLog *
read_with (const GString *text, SbRowsWay way, gsize block_size, GError **error)
{
  g_autoptr (SbProposal) proposal = sb_propose_memory ("random.csv", text->str, text->len, NULL, error);
  if (proposal == NULL)
    return NULL;
  g_autoptr (SbLogReader) reader = sb_log_reader_new ("random.csv", proposal->layout, 0, NULL, error);
  if (reader == NULL)
    return NULL;
  sb_log_reader_set_way (reader, way);
  for (gsize done = 0; done < text->len; done += block_size) {
    gsize n = MIN (block_size, text->len - done);
    memcpy (sb_log_reader_get_room (reader, n), text->str + done, n);
    if (!sb_log_reader_take (reader, n, error))
      return NULL;
  }
  return sb_log_reader_finish (reader, error);
}

static void
plain_rows_give_the_log_that_libcsv_gives (void **state)
{
  LogFixture *fixture = *state;
  g_autoptr (GRand) random = g_rand_new_with_seed (2);
  gsize n_rows = 0, n_left_out = 0;
  for (int i = 0; i < N_LOGS; i++) {
    make_log (fixture->text, random);
    gsize block_size = i % 5 ? (gsize) g_rand_int_range (random, 1, 400) : 1 << 20;
    g_clear_pointer (&fixture->log, sb_log_unref);
    g_clear_pointer (&fixture->other, sb_log_unref);
    g_clear_error (&fixture->error);
    fixture->log = read_with (fixture->text, i % 2 ? SB_ROWS_FASTEST : SB_ROWS_PORTABLE, block_size, &fixture->error);
    fixture->other = read_with (fixture->text, SB_ROWS_LIBCSV, 1 << 20, NULL);
    assert_int_equal (fixture->log == NULL, fixture->other == NULL);
    if (fixture->log == NULL)
      continue;
    assert_same_log (fixture->log, fixture->other);
    n_rows += fixture->log->n_rows;
    n_left_out += fixture->log->n_rows_left_out;
  }
  /* Both kinds of row did occur, or the comparison says nothing. */
  assert_true (n_rows > 10 * N_LOGS);
  assert_true (n_left_out > N_LOGS);
}

/* GLib's SHA-256. The importer takes in whole blocks between plain rows, the rest in the usual way. */
static void
digest_is_that_of_the_bytes (void **state)
{
  LogFixture *fixture = *state;
  g_autoptr (GRand) random = g_rand_new_with_seed (4);
  gsize n_read = 0;
  for (int i = 0; i < N_LOGS; i++) {
    make_log (fixture->text, random);
    gsize block_size = (gsize) g_rand_int_range (random, 1, i % 2 ? 4000 : 200);
    g_clear_pointer (&fixture->log, sb_log_unref);
    fixture->log = sb_log_read_memory ("random.csv", fixture->text->str, fixture->text->len, block_size, NULL);
    if (fixture->log == NULL)
      continue;
    g_autofree char *expected
        = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) fixture->text->str, fixture->text->len);
    assert_string_equal (fixture->log->sha256, expected);
    n_read++;
  }
  assert_true (n_read > N_LOGS / 2);
}

/* Every data row is either kept or left out. Counted here by the lines that are neither blank nor comments. Those
 * behind a time that starts again are another recording's, and in neither number. */
static void
rows_and_rows_left_out_are_all_data_rows (void **state)
{
  LogFixture *fixture = *state;
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  gsize n_whole = 0;
  for (int i = 0; i < N_LOGS; i++) {
    make_log (fixture->text, random);
    g_clear_pointer (&fixture->log, sb_log_unref);
    g_clear_error (&fixture->error);
    fixture->log = read_with (fixture->text, SB_ROWS_FASTEST, 1 << 20, &fixture->error);
    if (fixture->log == NULL)
      continue;
    gsize n_data = 0;
    g_auto (GStrv) lines = g_strsplit_set (fixture->text->str, "\r\n", -1);
    for (guint k = 1; lines[k] != NULL; k++) {
      const char *p = lines[k] + strspn (lines[k], " \t");
      gboolean blank = *p == '\0' && strchr (lines[k], fixture->log->delimiter) == NULL;
      n_data += !blank && *p != '#';
    }
    guint64 n_told = fixture->log->n_rows + fixture->log->n_rows_left_out;
    if (fixture->log->n_other_tables > 0)
      assert_true (n_told < n_data);
    else
      assert_int_equal (n_told, n_data);
    n_whole += fixture->log->n_other_tables == 0;
  }
  print_message ("           %zu of %d\n", n_whole, N_LOGS);
  assert_true (n_whole > N_LOGS / 2);
}

#define WITH_LOG(function) cmocka_unit_test_setup_teardown (function, log_fixture_setup, log_fixture_teardown)

int
main (void)
{
  const struct CMUnitTest tests[] = {
    WITH_LOG (plain_rows_give_the_log_that_libcsv_gives),
    WITH_LOG (digest_is_that_of_the_bytes),
    WITH_LOG (rows_and_rows_left_out_are_all_data_rows),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
