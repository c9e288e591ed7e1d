/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "unit_multiple.h"

#include <string.h>

#define MOST_ZEROS 6
/* Of a number in front of a unit; more would be no length that someone chose. */
#define MOST_DIGITS 9

/* As English, German, French, Italian, Spanish, Polish and Czech spell them; from memory. */
static const struct {
  const char *word;
  int power_of_ten;
} prefixes[] = {
  { "milli", -3 }, { "mili", -3 }, { "centi", -2 }, { "zenti", -2 }, { "deci", -1 },  { "dezi", -1 },
  { "déci", -1 },  { "kilo", 3 },  { "chilo", 3 },  { "micro", -6 }, { "mikro", -6 }, { "deca", 1 },
  { "deka", 1 },   { "déca", 1 },  { "hecto", 2 },  { "hekto", 2 },  { "nano", -9 },
};

static const char *
read_word (const char *spelling, int *power_of_ten)
{
  g_autofree char *lower = g_utf8_strdown (spelling, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (prefixes); i++) {
    if (!g_str_has_prefix (lower, prefixes[i].word))
      continue;
    /* None of the letters has another length in the other case. */
    const char *behind = spelling + strlen (prefixes[i].word);
    *power_of_ten = prefixes[i].power_of_ten;
    return behind + strspn (behind, "- _");
  }
  return NULL;
}

static const char *
read_number (const char *spelling, int *power_of_ten)
{
  gsize zeros = 0;
  const char *p = spelling;
  if (g_str_has_prefix (p, "1/1")) {
    zeros = strspn (p + 3, "0");
    *power_of_ten = -(int) zeros;
    p = zeros > 0 ? p + 3 + zeros : p + 1;
  } else if (*p == '1') {
    zeros = strspn (p + 1, "0");
    *power_of_ten = (int) zeros;
    p += 1 + zeros;
  } else if (*p == '0' && (p[1] == '.' || p[1] == ',')) {
    zeros = strspn (p + 2, "0");
    *power_of_ten = -(int) zeros - 1;
    p += 2 + zeros;
    if (*p++ != '1')
      return NULL;
  } else {
    return NULL;
  }
  /* Digits that go on are another number; "1/min" is a unit itself. */
  gboolean whole = !g_ascii_isdigit (*p) && *p != '/' && *p != '.' && *p != ',';
  return whole && zeros < MOST_ZEROS ? p + strspn (p, " ") : NULL;
}

/* "dNm": deci is no prefix of other units of ours. */
static const char *
read_letter (const char *spelling, int *power_of_ten)
{
  if (spelling[0] != 'd' || spelling[1] != 'N')
    return NULL;
  *power_of_ten = -1;
  return spelling + 1;
}

const char *
sb_unit_multiplier_read (const char *spelling, int *power_of_ten)
{
  const char *unit = read_number (spelling, power_of_ten);
  if (unit == NULL)
    unit = read_word (spelling, power_of_ten);
  if (unit == NULL)
    unit = read_letter (spelling, power_of_ten);
  return unit != NULL && *unit != '\0' ? unit : NULL;
}

const char *
sb_unit_number_read (const char *spelling, double *factor, int *power_of_ten)
{
  guint64 number = 0;
  guint n_digits = 0;
  gboolean in_fraction = FALSE;
  const char *p = spelling;
  *power_of_ten = 0;
  for (; g_ascii_isdigit (*p) || (!in_fraction && n_digits > 0 && (*p == '.' || *p == ',')); p++) {
    if (!g_ascii_isdigit (*p)) {
      in_fraction = TRUE;
      continue;
    }
    number = number * 10 + (guint64) (*p - '0');
    *power_of_ten -= in_fraction ? 1 : 0;
    if (++n_digits > MOST_DIGITS)
      return NULL;
  }
  for (; number > 0 && number % 10 == 0; number /= 10)
    ++*power_of_ten;
  *factor = (double) number;
  const char *unit = p + strspn (p, " ");
  return number > 0 && *unit != '\0' && *unit != '/' ? unit : NULL;
}
