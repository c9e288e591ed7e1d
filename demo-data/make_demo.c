/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes the demo bench: logs of step tests on two invented drives, and truth.json, what the model behind them knows.
 *
 *     make_demo FOLDER          writes everything into FOLDER
 *     make_demo --check FOLDER  says whether FOLDER holds exactly that, byte for byte
 *
 * Everything is seeded, and numbers are rounded to the decimals they are written with, so that the same bytes come out
 * each time. README.md tells what the configurations are. */
#include <glib.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAMPLE_INTERVAL_S 0.0004
#define N_SAMPLES         1000
#define SUBSTEPS          20 /* of the model per sample */
#define STEP_NM           12.0
#define N_REPEATS         8
#define SEED              G_GUINT64_CONSTANT (20240311)

/* ---- What the drives are ---- */

typedef struct {
  const char *folder, *device, *firmware, *date, *note;
  double set_slope_nm_per_ms; /* what the setting says */
  double slope_nm_per_s;      /* what the drive does */
  double delay_s;
  double toe_nm, toe_slope_nm_per_s; /* the rise begins at this slope, up to this torque; 0 N·m: no toe */
  double lag_s;                      /* of each of two equal first-order lags */
  double ring_nm, ring_hz, ring_damping;
  double inertia_kg_m2, viscous_nm_s, coulomb_nm;
  int set_smoothing_pct;
  int spoiled_repeat; /* from 1; 0: none */
} Setup;

#define BRACKEN                                                                                                        \
  .device = "Bracken", .firmware = "1.4", .delay_s = 0.0022, .inertia_kg_m2 = 0.050, .viscous_nm_s = 0.21,             \
  .coulomb_nm = 0.60
#define TEASEL                                                                                                         \
  .device = "Teasel", .firmware = "3.02", .note = "the maker states a largest torque slope of 2.0 N·m/ms",             \
  .slope_nm_per_s = 1000, .lag_s = 0.0004, .ring_hz = 38.0, .ring_damping = 0.06, .inertia_kg_m2 = 0.047,              \
  .viscous_nm_s = 0.22, .coulomb_nm = 0.70

static const Setup setups[] = {
  { BRACKEN, .folder = "Bracken slope 0.3", .date = "2024-03-11", .set_slope_nm_per_ms = 0.3, .slope_nm_per_s = 300,
    .lag_s = 0.0003, .spoiled_repeat = 6 },
  { BRACKEN, .folder = "Bracken slope 2.0", .date = "2024-03-11", .set_slope_nm_per_ms = 2.0, .slope_nm_per_s = 2000,
    .lag_s = 0.0003 },
  { BRACKEN, .folder = "Bracken slope 2.0 smoothed", .date = "2024-03-12", .set_slope_nm_per_ms = 2.0,
    .set_smoothing_pct = 60, .slope_nm_per_s = 2000, .lag_s = 0.0030 },
  { TEASEL, .folder = "Teasel slope 0.3", .date = "2024-03-14", .set_slope_nm_per_ms = 0.3, .delay_s = 0.0090,
    .toe_nm = 0.7, .toe_slope_nm_per_s = 150, .ring_nm = 0.80 },
  { TEASEL, .folder = "Teasel slope 2.0", .date = "2024-03-14", .set_slope_nm_per_ms = 2.0, .delay_s = 0.0030,
    .ring_nm = 0.95 },
};

/* ---- Chance: splitmix64 (public domain, Vigna) and Box-Muller ---- */

static double
uniform (guint64 *state)
{
  guint64 z = *state += G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  z ^= z >> 31;
  return ((double) (z >> 11) + 0.5) * 0x1p-53;
}

static double
normal (guint64 *state)
{
  double radius = sqrt (-2 * log (uniform (state)));
  return radius * cos (2 * G_PI * uniform (state));
}

static double
scattered (guint64 *state, double value, double relative_sd)
{
  return value * (1 + relative_sd * normal (state));
}

/* ---- The model of one repeat ---- */

typedef struct {
  Setup drive; /* this repeat's own values */
  double level_nm;
  double step_s;
  double start_rad;
  double knock_nm; /* a knock against the rim; 0: none */
} Repeat;

#define KNOCK_AFTER_S  0.150
#define KNOCK_LENGTH_S 0.018

typedef struct {
  double lag1_nm, lag2_nm, velocity_rad_s, angle_rad;
} State;

static double
toe_length_s (const Setup *drive)
{
  return drive->toe_nm > 0 ? drive->toe_nm / drive->toe_slope_nm_per_s : 0;
}

/* Seconds from the command step to the end of the rise that the drive asks of its motor. */
static double
rise_end_s (const Repeat *repeat)
{
  const Setup *drive = &repeat->drive;
  return drive->delay_s + toe_length_s (drive) + (repeat->level_nm - drive->toe_nm) / drive->slope_nm_per_s;
}

/* Torque the drive asks of its motor, `t` seconds after the command step: dead time, toe, ramp, level. */
static double
asked_torque (const Repeat *repeat, double t)
{
  const Setup *drive = &repeat->drive;
  double toe_s = toe_length_s (drive);
  double rising = t - drive->delay_s;
  if (rising <= 0)
    return 0;
  if (rising < toe_s)
    return drive->toe_slope_nm_per_s * rising;
  return fmin (drive->toe_nm + drive->slope_nm_per_s * (rising - toe_s), repeat->level_nm);
}

/* The mode that the end of the rise leaves behind. `ring_hz` is the damped frequency. It begins when the lags have all
 * but let the rise end, so that it adds nothing to the steepest slope. */
static double
ringing_torque (const Repeat *repeat, double t)
{
  const Setup *drive = &repeat->drive;
  double since = t - rise_end_s (repeat) - 3 * drive->lag_s;
  if (since <= 0 || drive->ring_nm <= 0)
    return 0;
  double rate = 2 * G_PI * drive->ring_hz, zeta = drive->ring_damping;
  double decay = zeta * rate / sqrt (1 - zeta * zeta);
  return drive->ring_nm * exp (-decay * since) * sin (rate * since);
}

static double
knock_torque (const Repeat *repeat, double t)
{
  double share = (t - KNOCK_AFTER_S) / KNOCK_LENGTH_S;
  if (share <= 0 || share >= 1)
    return 0;
  double s = sin (G_PI * share);
  return -repeat->knock_nm * s * s;
}

static double
torque_of (const Repeat *repeat, const State *state, double t)
{
  return state->lag2_nm + ringing_torque (repeat, t) + knock_torque (repeat, t);
}

/* J dw/dt = T - b w - Tc sgn w, with the rim at rest until the torque overcomes the friction. */
static State
rate_of (const Repeat *repeat, const State *state, double t)
{
  const Setup *drive = &repeat->drive;
  double torque = torque_of (repeat, state, t), velocity = state->velocity_rad_s;
  double net = torque - drive->viscous_nm_s * velocity - drive->coulomb_nm;
  if (velocity <= 0 && net < 0)
    net = 0;
  return (State){ .lag1_nm = (asked_torque (repeat, t) - state->lag1_nm) / drive->lag_s,
                  .lag2_nm = (state->lag1_nm - state->lag2_nm) / drive->lag_s,
                  .velocity_rad_s = net / drive->inertia_kg_m2,
                  .angle_rad = velocity };
}

static State
moved (const State *state, const State *rate, double dt)
{
  return (State){ .lag1_nm = state->lag1_nm + dt * rate->lag1_nm,
                  .lag2_nm = state->lag2_nm + dt * rate->lag2_nm,
                  .velocity_rad_s = state->velocity_rad_s + dt * rate->velocity_rad_s,
                  .angle_rad = state->angle_rad + dt * rate->angle_rad };
}

/* One Runge-Kutta step of fourth order. */
static void
advance (const Repeat *repeat, State *state, double t, double dt)
{
  State k1 = rate_of (repeat, state, t);
  State half = moved (state, &k1, dt / 2);
  State k2 = rate_of (repeat, &half, t + dt / 2);
  half = moved (state, &k2, dt / 2);
  State k3 = rate_of (repeat, &half, t + dt / 2);
  State whole = moved (state, &k3, dt);
  State k4 = rate_of (repeat, &whole, t + dt);
  *state = moved (state, &k1, dt / 6);
  *state = moved (state, &k2, dt / 3);
  *state = moved (state, &k3, dt / 3);
  *state = moved (state, &k4, dt / 6);
}

/* ---- The repeats: what differs from one to the next ---- */

static guint64
seed_of (int setup, int number)
{
  return SEED + 1000 * (guint64) setup + (guint64) number;
}

static Repeat
nominal_repeat (const Setup *setup)
{
  return (Repeat){ .drive = *setup, .level_nm = STEP_NM };
}

static Repeat
make_repeat (const Setup *setup, int number, guint64 *chance)
{
  Repeat repeat = nominal_repeat (setup);
  Setup *drive = &repeat.drive;
  repeat.level_nm = scattered (chance, STEP_NM, 0.006);
  drive->delay_s = scattered (chance, setup->delay_s, 0.005);
  drive->slope_nm_per_s = scattered (chance, setup->slope_nm_per_s, 0.003);
  drive->viscous_nm_s = scattered (chance, setup->viscous_nm_s, 0.01);
  drive->coulomb_nm = scattered (chance, setup->coulomb_nm, 0.01);
  drive->ring_nm = scattered (chance, setup->ring_nm, 0.03);
  drive->ring_hz = scattered (chance, setup->ring_hz, 0.003);
  drive->ring_damping = scattered (chance, setup->ring_damping, 0.01);
  repeat.step_s = 0.0390 + 0.0020 * uniform (chance);
  repeat.start_rad = -4.7 + 0.02 * normal (chance);
  if (number == setup->spoiled_repeat) {
    repeat.level_nm *= 0.87;
    repeat.knock_nm = 4;
  }
  return repeat;
}

/* ---- The writer ---- */

/* Adds ",value", or ",missing" in its place when that is not NULL. The sum keeps "-0.000" out of the log. */
static void
add_cell (GString *text, double value, int decimals, const char *missing)
{
  if (missing != NULL) {
    g_string_append_printf (text, ",%s", missing);
    return;
  }
  double scale = 1;
  for (int i = 0; i < decimals; i++)
    scale *= 10;
  g_string_append_printf (text, ",%.*f", decimals, nearbyint (value * scale) / scale + 0.0);
}

static void
add_heading (GString *text, const Setup *setup)
{
  g_string_append_printf (text, "# device: %s\n# firmware: %s\n# operator: bench A\n# date: %s\n", setup->device,
                          setup->firmware, setup->date);
  g_string_append_printf (text, "# rotation_deg: 900\n# inertia_kg_m2: %.3f\n", setup->inertia_kg_m2);
  g_string_append_printf (text, "# setting torque slope: %.1f N·m/ms\n", setup->set_slope_nm_per_ms);
  g_string_append_printf (text, "# setting smoothing filter: %d %%\n", setup->set_smoothing_pct);
  g_string_append (text, "# setting damping: 0 %\n# setting friction: 0 %\n");
  if (setup->note != NULL)
    g_string_append_printf (text, "# note: %s\n", setup->note);
  g_string_append (text, "time_s,command_Nm,angle_rad,velocity_rad_s,torque_Nm\n");
}

/* In a spoiled repeat the torque is not there for a while, then neither is the velocity. */
static void
add_row (GString *text, const Repeat *repeat, const State *state, double t, guint64 *chance)
{
  double after = t - repeat->step_s;
  double angle = state->angle_rad + 0.00003 * normal (chance);
  double velocity = state->velocity_rad_s + 0.02 * normal (chance);
  double torque = torque_of (repeat, state, after) + 0.0012 * normal (chance);
  gboolean spoiled = repeat->knock_nm > 0;
  gboolean no_torque = spoiled && after > 0.175 && after < 0.187;
  gboolean no_velocity = spoiled && after > 0.184 && after < 0.190;

  g_string_append_printf (text, "%.4f", t);
  add_cell (text, after >= 0 ? STEP_NM : 0, 1, NULL);
  add_cell (text, angle, 4, NULL);
  add_cell (text, velocity, 3, no_velocity ? "" : NULL);
  add_cell (text, torque, 4, no_torque ? "n/a" : NULL);
  g_string_append_c (text, '\n');
}

static GString *
log_text (const Setup *setup, int number, guint64 seed)
{
  guint64 chance = seed;
  Repeat repeat = make_repeat (setup, number, &chance);
  State state = { .angle_rad = repeat.start_rad };
  GString *text = g_string_new (NULL);
  double dt = SAMPLE_INTERVAL_S / SUBSTEPS;
  add_heading (text, setup);
  for (int i = 0; i < N_SAMPLES; i++) {
    add_row (text, &repeat, &state, i * SAMPLE_INTERVAL_S, &chance);
    for (int k = 0; k < SUBSTEPS; k++)
      advance (&repeat, &state, (i * SUBSTEPS + k) * dt - repeat.step_s, dt);
  }
  return text;
}

/* ---- The truth: the model's own curve, without scatter and noise, read by the definitions of the measures ---- */

#define FINE_INTERVAL_S 1e-6
#define N_FINE          100000
#define SLOPE_HALF      500 /* the slope window is 2 * 500 + 1 points: 1 ms */

static double *
fine_torque (const Setup *setup)
{
  Repeat repeat = nominal_repeat (setup);
  State state = { 0 };
  double *torque = g_new (double, N_FINE);
  for (int i = 0; i < N_FINE; i++) {
    double t = i * FINE_INTERVAL_S;
    torque[i] = torque_of (&repeat, &state, t);
    advance (&repeat, &state, t, FINE_INTERVAL_S);
  }
  return torque;
}

/* First instant, in fine intervals, at which `level` is crossed upwards. */
static double
first_crossing (const double *torque, double level)
{
  for (int i = 0; i + 1 < N_FINE; i++)
    if (torque[i] < level && torque[i + 1] >= level)
      return i + (level - torque[i]) / (torque[i + 1] - torque[i]);
  g_error ("the model's torque never reaches %g N·m", level);
}

/* Slope at the middle of an evenly spaced window by a least-squares quadratic: sum (k y) / sum (k k) per interval. */
static double
fitted_slope (const double *torque, int middle)
{
  double sum = 0, squares = 0;
  for (int k = -SLOPE_HALF; k <= SLOPE_HALF; k++) {
    sum += k * (middle + k >= 0 ? torque[middle + k] : 0);
    squares += (double) k * k;
  }
  return sum / squares / FINE_INTERVAL_S;
}

static double
largest_slope (const double *torque, double from, double to)
{
  double largest = 0;
  for (int i = (int) from; i <= (int) to + 1; i++)
    largest = fmax (largest, fitted_slope (torque, i));
  return largest;
}

static void
add_truth (GString *text, const Setup *setup)
{
  g_autofree double *torque = fine_torque (setup);
  double from = first_crossing (torque, 0.1 * STEP_NM), to = first_crossing (torque, 0.9 * STEP_NM);
  double wider = 2 * SLOPE_HALF + 1;
  g_string_append_printf (text, "    {\n      \"name\": \"%s\",\n", setup->folder);
  g_string_append_printf (text, "      \"mean_torque_slope\": %.2f,\n",
                          0.8 * STEP_NM / ((to - from) * FINE_INTERVAL_S));
  g_string_append_printf (text, "      \"peak_torque_slope\": %.2f,\n",
                          largest_slope (torque, from - wider, to + wider));
  g_string_append_printf (text, "      \"dead_time\": %.6f,\n", from * FINE_INTERVAL_S);
  if (setup->ring_nm > 0)
    g_string_append_printf (text, "      \"ringing_frequency\": %.2f,\n      \"ringing_damping\": %.4f,\n",
                            setup->ring_hz, setup->ring_damping);
  else
    g_string_append (text, "      \"ringing_frequency\": null,\n      \"ringing_damping\": null,\n");
  if (setup->spoiled_repeat > 0)
    g_string_append_printf (text, "      \"spoiled\": \"run-%d.csv\"\n    }", setup->spoiled_repeat);
  else
    g_string_append (text, "      \"spoiled\": null\n    }");
}

static GString *
truth_text (void)
{
  GString *text = g_string_new (
      "{\n"
      "  \"what\": \"What the model behind the demo logs knows of each configuration, without scatter and noise.\",\n"
      "  \"how\": {\n"
      "    \"mean_torque_slope\": \"N·m/s. 80 % of the step over the time between the first crossings of 10 % and 90 %"
      " of it, on the model's torque every microsecond; base level 0, top level the plateau of 12 N·m.\",\n"
      "    \"peak_torque_slope\": \"N·m/s. Largest slope of that curve between those crossings, and 1 ms to either"
      " side, by a least-squares quadratic over 1 ms.\",\n"
      "    \"dead_time\": \"s. From the command step to the first crossing of 10 % of the step, on that curve. A log's"
      " own onset is its first sample at the new command: up to one sample interval later.\",\n"
      "    \"ringing_frequency\": \"Hz. Damped frequency of the decaying sine that the model adds from the end of the "
      "rise"
      " on; null: it adds none.\",\n"
      "    \"ringing_damping\": \"1. Damping ratio of that sine, a / sqrt (a^2 + (2 pi f)^2) with the decay rate "
      "a.\",\n"
      "    \"spoiled\": \"The log that was disturbed on purpose.\"\n"
      "  },\n"
      "  \"configurations\": [\n");
  for (gsize i = 0; i < G_N_ELEMENTS (setups); i++) {
    add_truth (text, &setups[i]);
    g_string_append (text, i + 1 < G_N_ELEMENTS (setups) ? ",\n" : "\n");
  }
  g_string_append (text, "  ]\n}\n");
  return text;
}

/* ---- Files ---- */

/* Does one thing with one file of the demo; FALSE after saying on stderr what is wrong. */
typedef gboolean (*FileAction) (const char *path, const GString *text);

static gboolean
write_file (const char *path, const GString *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_path_get_dirname (path);
  if (g_mkdir_with_parents (folder, 0777) == 0 && g_file_set_contents (path, text->str, (gssize) text->len, &error))
    return TRUE;
  fprintf (stderr, "make_demo: %s\n", error != NULL ? error->message : folder);
  return FALSE;
}

static gboolean
check_file (const char *path, const GString *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *found = NULL;
  gsize length;
  if (!g_file_get_contents (path, &found, &length, &error)) {
    fprintf (stderr, "make_demo: %s\n", error->message);
    return FALSE;
  }
  gsize same = 0;
  while (same < length && same < text->len && found[same] == text->str[same])
    same++;
  if (same == length && same == text->len)
    return TRUE;
  fprintf (stderr, "make_demo: %s is not what the generator writes, from byte %" G_GSIZE_FORMAT " on\n", path, same);
  return FALSE;
}

/* A log too many would change the demo without a word. */
static gboolean
check_count (const char *folder)
{
  int n_files = 0;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n_files++;
  if (n_files == N_REPEATS)
    return TRUE;
  fprintf (stderr, "make_demo: %s holds %d files where %d are expected\n", folder, n_files, N_REPEATS);
  return FALSE;
}

static gboolean
each_file (const char *demo_folder, FileAction action)
{
  gboolean good = TRUE;
  for (int s = 0; s < (int) G_N_ELEMENTS (setups); s++) {
    g_autofree char *folder = g_build_filename (demo_folder, setups[s].folder, NULL);
    for (int number = 1; number <= N_REPEATS; number++) {
      g_autofree char *path = g_strdup_printf ("%s/run-%d.csv", folder, number);
      GString *text = log_text (&setups[s], number, seed_of (s, number));
      good = action (path, text) && good;
      g_string_free (text, TRUE);
    }
    good = check_count (folder) && good;
  }
  g_autofree char *path = g_build_filename (demo_folder, "truth.json", NULL);
  GString *text = truth_text ();
  good = action (path, text) && good;
  g_string_free (text, TRUE);
  return good;
}

int
main (int argc, char **argv)
{
  gboolean check = argc == 3 && strcmp (argv[1], "--check") == 0;
  if (argc != 2 && !check) {
    fprintf (stderr, "usage: make_demo [--check] FOLDER\n");
    return EXIT_FAILURE;
  }
  return each_file (argv[argc - 1], check ? check_file : write_file) ? EXIT_SUCCESS : EXIT_FAILURE;
}
