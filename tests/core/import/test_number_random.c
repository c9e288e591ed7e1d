/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers by the million against the C library's strtod in the C locale, which rounds correctly (ISO C, annex F): the
 * number reader alone, and the whole importer with its fast way. SB_TEST_NUMBERS says how many; ten million are the
 * benchmark 'numbers against strtod'. */
#include "log_fixture.h"
#include "number.h"

#include <stdlib.h>

#define N_USUAL 1000000
/* Rows of a log made of such numbers. */
#define N_ROWS 4096
#define ROOM   2600

/* A number as text: the reader is to find the same by itself. */
typedef struct {
  char mantissa[ROOM];
  gboolean has_exponent;
  int exponent;
} Written;

/* splitmix64 (public domain, Vigna): GRand would take most of the time. */
static guint64
next (guint64 *state)
{
  guint64 z = *state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return z ^ (z >> 31);
}

static int
between (guint64 *state, int first, int last)
{
  return first + (int) (next (state) % (guint64) (last - first + 1));
}

static char *
put_digits (char *to, guint64 *state, int n)
{
  for (int i = 0; i < n; i++)
    *to++ = (char) between (state, '0', '9');
  return to;
}

static char *
put_zeros (char *to, int n)
{
  memset (to, '0', (gsize) n);
  return to + n;
}

/* Splits "-1.25e-07". */
static void
take_text (Written *number, const char *text)
{
  const char *e = strchr (text, 'e');
  gsize length = e != NULL ? (gsize) (e - text) : strlen (text);
  memcpy (number->mantissa, text, length);
  number->mantissa[length] = '\0';
  number->has_exponent = e != NULL;
  number->exponent = e != NULL ? atoi (e + 1) : 0;
}

/* 1 to 25 digits with zeros before and behind, a decimal sign anywhere, perhaps an exponent up to `largest`. */
static void
make_digits (Written *number, guint64 *state, int largest)
{
  int n = between (state, 1, 25), point = between (state, 0, 30);
  gboolean zeros = between (state, 0, 7) == 0;
  char *to = put_zeros (number->mantissa, zeros ? between (state, 0, 40) : 0);
  char *digits = to;
  to = put_digits (to, state, n);
  to = put_zeros (to, zeros ? between (state, 0, 40) : 0);
  *to = '\0';
  if (point <= to - digits) {
    memmove (digits + point + 1, digits + point, (gsize) (to - digits - point + 1));
    digits[point] = '.';
  }
  number->has_exponent = between (state, 0, 2) == 0;
  number->exponent = number->has_exponent ? between (state, -largest, largest) : 0;
}

/* As instruments write them. */
static void
make_measurement (Written *number, guint64 *state)
{
  char *to = put_digits (number->mantissa, state, between (state, 1, 4));
  *to++ = '.';
  *put_digits (to, state, between (state, 1, 6)) = '\0';
  number->has_exponent = FALSE;
  number->exponent = 0;
}

/* Any positive double but infinities and NaN. */
static double
any_double (guint64 *state)
{
  double number;
  do {
    guint64 bits = next (state) >> 1;
    memcpy (&number, &bits, sizeof number);
  } while (!isfinite (number));
  return number;
}

static void
make_printed (Written *number, guint64 *state, double value)
{
  char text[64];
  g_snprintf (text, sizeof text, "%.*e", between (state, 0, 20), value);
  take_text (number, text);
}

static void
make_at_the_ends (Written *number, guint64 *state)
{
  static const int ends[][2] = { { -345, -300 }, { 285, 312 }, { -30, -17 }, { 17, 30 }, { -2000000, 2000000 } };
  const int *end = ends[between (state, 0, 4)];
  make_digits (number, state, 0);
  number->has_exponent = TRUE;
  number->exponent = between (state, end[0], end[1]);
}

/* The exact middle of two neighbours in decimal digits; long double holds it, and the C library prints all of it. Then
 * perhaps a hair less or more, by the last digit or by digits far behind. */
static void
make_middle (Written *number, guint64 *state, double below, int n_digits)
{
  char text[ROOM];
  double above = nextafter (below, (double) INFINITY);
  long double middle = isfinite (above) ? ((long double) below + (long double) above) / 2.0L : (long double) below;
  g_snprintf (text, sizeof text, "%.*Le", n_digits, middle);
  char *e = strchr (text, 'e'), *last = e - 1;
  while (*last == '0')
    last--;
  memmove (last + 1, e, strlen (e) + 1);
  take_text (number, text);
  gsize length = strlen (number->mantissa);
  int way = between (state, 0, 4);
  if (way == 1 && g_ascii_isdigit (*last))
    number->mantissa[length - 1]++; /* a ':' after a 9 is mended below */
  if (way == 2 && g_ascii_isdigit (*last))
    number->mantissa[length - 1]--; /* never below '0': zeros were cut */
  if (way > 2) {
    char *to = put_zeros (number->mantissa + length, between (state, 0, 40));
    *to++ = way == 3 ? '1' : '0';
    *to = '\0';
  }
  if (number->mantissa[length - 1] == ':')
    memcpy (number->mantissa + length - 1, "91", 3);
}

/* Integers around the largest that a double holds, and odd ones of 54 bits, which are middles. */
static void
make_integer (Written *number, guint64 *state)
{
  guint64 bits = next (state);
  guint64 near = (G_GUINT64_CONSTANT (1) << between (state, 52, 63)) + (guint64) (gint64) between (state, -3, 3);
  guint64 odd = (bits >> 10) | (G_GUINT64_CONSTANT (1) << 53) | 1;
  guint64 value = bits % 3 == 0 ? near : bits % 3 == 1 ? odd : (bits & ~G_GUINT64_CONSTANT (0x7ff)) | 0x400;
  g_snprintf (number->mantissa, ROOM, "%" G_GUINT64_FORMAT, value);
  number->has_exponent = between (state, 0, 1) == 0;
  number->exponent = number->has_exponent ? between (state, -24, 24) : 0;
}

static void
make_number (Written *number, guint64 *state)
{
  guint64 subnormal = next (state) >> between (state, 12, 63);
  double tiny, usual = ldexp ((double) (next (state) >> 11), between (state, -110, 10));
  memcpy (&tiny, &subnormal, sizeof tiny);
  switch (between (state, 0, 15)) {
  case 0:
    make_printed (number, state, any_double (state));
    break;
  case 1:
    make_printed (number, state, tiny);
    break;
  case 2:
    make_at_the_ends (number, state);
    break;
  case 3:
    make_integer (number, state);
    break;
  case 4: /* all digits of it: up to about 60 before and behind the point */
    make_middle (number, state, usual, 130);
    break;
  case 5: /* not exact, but as near as the integer arithmetic of the reader can tell */
    make_middle (number, state, usual, between (state, 15, 25));
    break;
  case 6:
    if (between (state, 0, 7) == 0) /* hundreds of digits, which strtod takes long for */
      make_middle (number, state, between (state, 0, 1) ? tiny : any_double (state), 1100);
    else
      make_middle (number, state, ldexp ((double) (next (state) >> 11), between (state, -72, -40)), 80);
    break;
  case 7:
  case 8:
  case 9:
    make_measurement (number, state);
    break;
  default:
    make_digits (number, state, 1 << between (state, 0, 9));
    break;
  }
}

/* The text of a number with `shift` added to its exponent, behind a sign; its length. */
static gsize
write_number (const Written *number, const char *sign, int shift, char *text)
{
  gboolean exponent = number->has_exponent || shift != 0;
  int n = exponent ? g_snprintf (text, ROOM, "%s%s%s%d", sign, number->mantissa, shift % 2 ? "E" : "e",
                                 number->exponent + shift)
                   : g_snprintf (text, ROOM, "%s%s", sign, number->mantissa);
  return (gsize) n;
}

static gsize
count_numbers (void)
{
  const char *wanted = g_getenv ("SB_TEST_NUMBERS");
  return wanted != NULL ? (gsize) g_ascii_strtoull (wanted, NULL, 10) : N_USUAL;
}

static const char *
pick_sign (guint64 *state)
{
  static const char *const signs[] = { "", "-", "", "-", "+" };
  return signs[between (state, 0, 4)];
}

static void
set_decimal (char *text, char decimal)
{
  char *point = strchr (text, '.');
  if (point != NULL)
    *point = decimal;
}

/* The shift is what a unit adds to the exponent; the expected value is that of the text that has it added. */
static void
number_equals_strtod (void **state)
{
  guint64 chance = 25;
  gsize n_inexact = 0;
  for (gsize i = 0, n = count_numbers (); i < n; i++) {
    Written number;
    char text[ROOM], shifted[ROOM];
    make_number (&number, &chance);
    const char *sign = pick_sign (&chance);
    int shift = between (&chance, 0, 3) == 0 ? between (&chance, -12, 12) : 0;
    gsize length = write_number (&number, sign, 0, text);
    write_number (&number, sign, shift, shifted);
    char decimal = between (&chance, 0, 1) ? ',' : '.';
    set_decimal (text, decimal);
    double expected = strtod (shifted, NULL), actual = 42.0;
    if (!sb_number_read (text, length, decimal, shift, &actual))
      fail_msg ("%s is not read", text);
    if (!same_bits (actual, expected))
      fail_msg ("%s is read as %a, strtod says of %s %a", text, actual, shifted, expected);
    n_inexact += length > 17;
  }
  assert_true (n_inexact > count_numbers () / 4);
}

/* As a log of one torque, in which mostly the fast way reads it; too large ones are left out. */
static void
log_has_the_numbers_that_strtod_reads (void **state)
{
  LogFixture *fixture = *state;
  g_autofree double *expected = g_new (double, N_ROWS);
  guint64 chance = 26;
  for (gsize done = 0, n = count_numbers (); done < n; done += N_ROWS) {
    char decimal = between (&chance, 0, 1) ? ',' : '.', text[ROOM];
    gsize n_kept = 1;
    /* The first row shows the decimal sign. */
    g_string_printf (fixture->text, "time_s;torque_Nm\n0%c5;0%c25\n", decimal, decimal);
    expected[0] = 0.25;
    for (int row = 1; row < N_ROWS; row++) {
      Written number;
      make_number (&number, &chance);
      write_number (&number, pick_sign (&chance), 0, text);
      double value = strtod (text, NULL);
      set_decimal (text, decimal);
      g_string_append_printf (fixture->text, "%d;%s\n", row, text);
      if (fabs (value) <= 1e25)
        expected[n_kept++] = value;
    }
    const SbLog *log = read_text (fixture, fixture->text->str);
    assert_int_equal (log->n_rows, n_kept);
    for (gsize i = 0; i < n_kept; i++)
      if (!same_bits (log->channel[SB_CHANNEL_TORQUE][i], expected[i]))
        fail_msg ("%.17g is read as %.17g", expected[i], log->channel[SB_CHANNEL_TORQUE][i]);
  }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (number_equals_strtod),
    cmocka_unit_test_setup_teardown (log_has_the_numbers_that_strtod_reads, log_fixture_setup, log_fixture_teardown),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
