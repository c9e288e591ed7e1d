/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units against their definitions: turn 2 pi rad, pound 0.45359237 kg, inch 0.0254 m, standard gravity 9.80665 m/s^2
 * (CGPM 1901), and the printed factors of NIST SP 811 (2008), appendix B [from memory]. */
#include "close.h"
#include "unit.h"

static void
assert_unit (const char *spelling, SbDimension dimension, double expected)
{
  const SbUnit *unit = sb_unit_find (spelling);
  if (unit == NULL) {
    fail_msg ("'%s' is not known", spelling);
    return; /* for readers that do not know that a failed test goes no further */
  }
  assert_int_equal (unit->dimension, dimension);
  assert_close_relative (unit->factor * pow (10.0, unit->power_of_ten), expected, 4e-16);
  assert_int_equal (unit->scaled, fabs (unit->factor - 1.0) > 0.0);
}

static void
unit_factors_follow_from_the_definitions (void **state)
{
  const double pound_force = 0.45359237 * 9.80665, inch = 0.0254;
  const struct {
    const char *spelling;
    SbDimension dimension;
    double expected;
  } table[] = {
    { "s", SB_DIMENSION_TIME, 1.0 },
    { "ms", SB_DIMENSION_TIME, 1e-3 },
    { "us", SB_DIMENSION_TIME, 1e-6 },
    { "ns", SB_DIMENSION_TIME, 1e-9 },
    { "rad", SB_DIMENSION_ANGLE, 1.0 },
    { "mrad", SB_DIMENSION_ANGLE, 1e-3 },
    { "deg", SB_DIMENSION_ANGLE, G_PI / 180.0 },
    { "turns", SB_DIMENSION_ANGLE, 2.0 * G_PI },
    { "rad/s", SB_DIMENSION_VELOCITY, 1.0 },
    { "deg/s", SB_DIMENSION_VELOCITY, G_PI / 180.0 },
    { "rpm", SB_DIMENSION_VELOCITY, G_PI / 30.0 },
    { "turns/s", SB_DIMENSION_VELOCITY, 2.0 * G_PI },
    { "Nm", SB_DIMENSION_TORQUE, 1.0 },
    { "mNm", SB_DIMENSION_TORQUE, 1e-3 },
    { "Ncm", SB_DIMENSION_TORQUE, 1e-2 },
    { "kgf·m", SB_DIMENSION_TORQUE, 9.80665 },
    { "kgf·cm", SB_DIMENSION_TORQUE, 9.80665 * 0.01 },
    { "lbf·ft", SB_DIMENSION_TORQUE, pound_force * 12.0 * inch },
    { "lbf·in", SB_DIMENSION_TORQUE, pound_force * inch },
    { "ozf·in", SB_DIMENSION_TORQUE, pound_force / 16.0 * inch },
    { "gf·cm", SB_DIMENSION_TORQUE, 9.80665 * 1e-5 },
    { "mrad/s", SB_DIMENSION_VELOCITY, 1e-3 },
    { "A", SB_DIMENSION_CURRENT, 1.0 },
    { "mA", SB_DIMENSION_CURRENT, 1e-3 },
    { "V", SB_DIMENSION_VOLTAGE, 1.0 },
    { "mV", SB_DIMENSION_VOLTAGE, 1e-3 },
    { "°C", SB_DIMENSION_TEMPERATURE, 1.0 },
    { "°F", SB_DIMENSION_TEMPERATURE, 5.0 / 9.0 },
    { "K", SB_DIMENSION_TEMPERATURE, 1.0 },
    { "%", SB_DIMENSION_PERCENT, 1.0 },
    { "counts", SB_DIMENSION_COUNTS, 1.0 },
    { "samples", SB_DIMENSION_SAMPLES, 1.0 },
    { "clock time", SB_DIMENSION_CLOCK, 1.0 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    assert_unit (table[i].spelling, table[i].dimension, table[i].expected);
}

static void
unit_factors_agree_with_printed_tables (void **state)
{
  /* SP 811 prints seven digits. */
  static const struct {
    const char *spelling;
    double printed;
  } table[] = { { "rpm", 1.047198e-1 },    { "r/s", 6.283185 },       { "degree", 1.745329e-2 }, { "lbf ft", 1.355818 },
                { "lbf in", 1.129848e-1 }, { "ozf in", 7.061552e-3 }, { "kgf m", 9.80665 } };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    const SbUnit *unit = sb_unit_find (table[i].spelling);
    assert_non_null (unit);
    assert_close_relative (unit->factor, table[i].printed, 5e-7);
  }
}

static void
unit_spellings_of_the_trade_are_known (void **state)
{
  static const struct {
    const char *name, *spellings;
  } table[] = {
    { "N·m", "Nm N·m N.m N*m N-m NM nm N_m N⋅m Newton-metres newton_metres" },
    { "mN·m", "mNm mN·m mN.m mN*m mN_m" },
    { "rad/s", "rad/s rad_s rad_per_s rad·s⁻¹ rad.s^-1 Rad/s rad/sec rad_sec" },
    { "deg/s", "deg/s °/s deg_s deg_per_s dps DEG/S" },
    { "rpm", "rpm RPM r/min rev/min 1/min min⁻¹ min^-1" },
    { "deg", "deg ° degrees Deg degs" },
    { "µs", "µs μs us usec microseconds" },
    { "ms", "ms msec MS milliseconds" },
    { "turns", "turn turns rev revolutions Umdrehungen" },
    { "°C", "°C degC C ºC ℃ Celsius" },
    { "K", "K Kelvin" },
    { "A", "A Amps Ampere" },
    { "%", "% percent Prozent ％" },
    { "counts", "counts ticks steps" },
    { "clock time", "hh:mm:ss HH:MM:SS.mmm iso8601" },
    { "rpm", "U/min tr/min giri/min obr/min ot/min varv/min min-1" },
    { "mN·m", "milli-Nm milli_Nm MilliNm 0.001Nm 0,001Nm" },
    { "N·cm", "centi-Nm zenti-Nm 0.01Nm" },
    { "N·cm", "cNm cN·m 0.01Nm 1/100Nm" },
    { "0.1 N·m", "deci-Nm 0.1Nm 0,1Nm dNm 1/10Nm" },
    { "10 µs", "10us 10µs" },
    { "50 µs", "50us 50µs 050us 50.0us" },
    { "2.5 ms", "2.5ms 2,5ms" },
    { "ms", "1000us 1ms" },
    { "krpm", "kilo-rpm" },
    { "0.1 %", "0.1%" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    g_auto (GStrv) spellings = g_strsplit (table[i].spellings, " ", -1);
    for (guint k = 0; spellings[k] != NULL; k++) {
      const SbUnit *unit = sb_unit_find (spellings[k]);
      if (unit == NULL || g_strcmp0 (unit->name, table[i].name) != 0)
        fail_msg ("'%s' is %s, expected %s", spellings[k], unit != NULL ? unit->name : "not known", table[i].name);
    }
  }
}

static void
unit_of_another_size_or_kind_is_not_known (void **state)
{
  /* Mega, slopes, accelerations, forces, the gon: to read one as a unit we know would change the numbers. */
  static const char *const spellings[]
      = { "",        "MNm", "MN·m", "N",     "N/m",    "Nm/s",     "Nm/ms",   "rad/s^2", "rad/s²", "m/s",
          "MA",      "MV",  "kA",   "grad",  "m",      "week",     "deg/s/s", "Nm·s",    "Hz",     "mm",
          "rad/min", "k",   "2Nm",  "0us",   "0.15Nm", "10counts", "0.1K",    "milli",   "10",     "0.1" };
  for (guint i = 0; i < G_N_ELEMENTS (spellings); i++)
    if (sb_unit_find (spellings[i]) != NULL)
      fail_msg ("'%s' is taken for %s", spellings[i], sb_unit_find (spellings[i])->name);
}

/* Freezing point of water: 0 °C = 32 °F = 273.15 K; a body at 98.6 °F is at 37 °C. */
static void
unit_of_temperature_has_its_zero (void **state)
{
  const SbUnit *fahrenheit = sb_unit_find ("°F"), *kelvin = sb_unit_find ("K");
  assert_close ((32.0 - fahrenheit->zero) * fahrenheit->factor, 0.0, 0.0);
  assert_close ((98.6 - fahrenheit->zero) * fahrenheit->factor, 37.0, 1e-14);
  assert_close ((273.15 - kelvin->zero) * kelvin->factor, 0.0, 0.0);
}

/* Layout files name units by their names. */
static void
unit_is_found_by_its_own_name (void **state)
{
  for (guint i = 0; sb_unit_at (i) != NULL; i++)
    if (sb_unit_find (sb_unit_at (i)->name) != sb_unit_at (i))
      fail_msg ("'%s' is not found", sb_unit_at (i)->name);
}

static void
unit_list_names_all_that_suit_a_role (void **state)
{
  g_autofree char *time = sb_role_unit_list (SB_ROLE_TIME);
  g_autofree char *supply = sb_role_unit_list (SB_ROLE_SUPPLY);
  g_autofree char *other = sb_role_unit_list (SB_ROLE_OTHER);
  assert_string_equal (time, "s, ms, µs, ns, min, h, days, samples or clock time");
  assert_string_equal (supply, "V or mV");
  assert_string_equal (other, "");
  assert_string_equal (sb_role_unit (SB_ROLE_TORQUE), "N·m");
  assert_string_equal (sb_role_unit (SB_ROLE_OTHER), "");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (unit_factors_follow_from_the_definitions),
    cmocka_unit_test (unit_factors_agree_with_printed_tables),
    cmocka_unit_test (unit_spellings_of_the_trade_are_known),
    cmocka_unit_test (unit_of_another_size_or_kind_is_not_known),
    cmocka_unit_test (unit_of_temperature_has_its_zero),
    cmocka_unit_test (unit_is_found_by_its_own_name),
    cmocka_unit_test (unit_list_names_all_that_suit_a_role),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
