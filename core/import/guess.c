/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "guess.h"

#include "number_text.h"
#include <math.h>
#include <string.h>

/* A log of a step test has more rows a second than this. */
#define LONGEST_STEP_S 0.5
/* ... and fewer than this: a row takes less than it only where the unit is not the second, as in a spreadsheet's days.
 */
#define SHORTEST_STEP_S 1e-6
#define CLEARLY_DERIVED 0.95
#define CLEARLY_FOLLOWS 0.6
/* Columns without a say of which every pair is looked at; no logger of a test bench writes more. */
#define MOST_FREE_COLUMNS 200
/* No bench turns as many radians; whole numbers beyond are counts of an encoder, if not degrees. */
#define MOST_RADIANS 100

static int
find_role (const SbLayout *layout, SbRole role)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (sb_layout_column (layout, i)->role == role)
      return (int) i;
  return -1;
}

G_GNUC_PRINTF (4, 5)
static void
guess (SbLayoutColumn *column, SbRole role, const char *unit, const char *format, ...)
{
  va_list arguments;
  column->role = role;
  column->unit = unit != NULL ? sb_unit_find (unit) : NULL;
  column->certainty = SB_CERTAINTY_GUESSED;
  g_free (column->question);
  va_start (arguments, format);
  column->question = g_strdup_vprintf (format, arguments);
  va_end (arguments);
}

/* The unit in which a step is one of a test bench: 10 µs to 20 ms. */
static const char *
unit_of_step (double step)
{
  static const struct {
    double most;
    const char *unit;
  } units[] = { { 0.02, "s" }, { 20, "ms" }, { 20000, "µs" } };
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (step <= units[i].most)
      return units[i].unit;
  return "ns";
}

/* How far the usual step may be off from the stated interval of the rows. */
#define INTERVAL_WITHIN 0.02

/* The unit in which a step is the stated interval of the rows; NULL where none is stated, or none makes it that. */
static const char *
unit_of_interval (const SbLayout *layout, double step)
{
  static const char *const units[] = { "s", "ms", "µs", "ns" };
  for (guint i = 0; layout->sample_rate_hz > 0 && i < G_N_ELEMENTS (units); i++) {
    double interval_s = step * pow (10.0, sb_unit_find (units[i])->power_of_ten);
    if (fabs (interval_s * layout->sample_rate_hz - 1) <= INTERVAL_WITHIN)
      return units[i];
  }
  return NULL;
}

/* Evenly rising is better than rising. */
static int
find_rising (const SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  int best = -1;
  for (guint i = 0; i < layout->columns->len; i++) {
    SbRise rise = says_nothing[i] ? sb_shape_rise (&shapes[i], NULL) : SB_RISES_NOT;
    if (rise == SB_RISES_EVENLY)
      return (int) i;
    if (rise != SB_RISES_NOT && (best < 0 || rise == SB_RISES_BY_ONE))
      best = (int) i;
  }
  return best;
}

void
sb_guess_time (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  double step = 0.0;
  int found = find_role (layout, SB_ROLE_TIME) < 0 ? find_rising (layout, says_nothing, shapes) : -1;
  if (found < 0)
    return;
  SbLayoutColumn *column = sb_layout_column (layout, (guint) found);
  SbRise rise = sb_shape_rise (&shapes[found], &step);
  if (rise == SB_RISES_BY_ONE) {
    guess (column, SB_ROLE_TIME, "samples", "rises by one in every row: taken for the number of the sample");
    return;
  }
  gboolean stated = layout->sample_rate_hz > 0;
  const char *unit = stated ? unit_of_interval (layout, step) : unit_of_step (step);
  g_autofree char *text = sb_number_plain (step);
  const char *evenly = rise == SB_RISES_EVENLY ? " evenly" : "";
  if (unit == NULL)
    guess (column, SB_ROLE_TIME, "samples", "rises%s by %s: taken for the time in ticks", evenly, text);
  else
    guess (column, SB_ROLE_TIME, unit, "rises%s by %s%s: taken for the time in %s", evenly, text,
           stated ? ", and a sample rate is stated" : "", unit);
}

/* The units of an angle and a velocity, by how many times its change the velocity is. */
static const struct {
  double factor;
  const char *angle, *velocity;
} pairs[] = {
  { 1.0, "rad", "rad/s" },
  { 1.0 / 6.0, "deg", "rpm" },
  { 9.549296585513721, "rad", "rpm" },
  { 60.0, "turns", "rpm" },
  { 0.017453292519943295, "deg", "rad/s" },
  { 57.29577951308232, "rad", "deg/s" },
  { 6.283185307179586, "turns", "rad/s" },
};

/* SI seconds a unit of the time column. */
static double
time_size (const SbLayout *layout, int time)
{
  const SbUnit *unit = sb_layout_column (layout, (guint) time)->unit;
  if (unit == NULL || unit->dimension != SB_DIMENSION_SAMPLES)
    return unit != NULL ? pow (10.0, unit->power_of_ten) * unit->factor : 1.0;
  return layout->sample_rate_hz > 0 ? 1.0 / layout->sample_rate_hz : 1.0;
}

static void
take_pair (SbLayout *layout, guint angle, guint velocity, double factor)
{
  const char *angle_unit = NULL, *velocity_unit = NULL;
  double nearest = 0.05;
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++) {
    double off = fabs (fabs (factor) / pairs[i].factor - 1.0);
    if (off >= nearest)
      continue;
    nearest = off;
    angle_unit = pairs[i].angle;
    velocity_unit = pairs[i].velocity;
  }
  SbLayoutColumn *a = sb_layout_column (layout, angle), *b = sb_layout_column (layout, velocity);
  guess (a, SB_ROLE_ANGLE, angle_unit, "its change follows '%s': taken for the angle in %s", b->name,
         angle_unit != NULL ? angle_unit : "rad, which its size does not show");
  guess (b, SB_ROLE_VELOCITY, velocity_unit, "follows the change of '%s': taken for the velocity in %s", a->name,
         velocity_unit != NULL ? velocity_unit : "rad/s, which its size does not show");
}

static gboolean
is_free (const SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes, guint index)
{
  return says_nothing[index] && sb_layout_column (layout, index)->role == SB_ROLE_OTHER
         && sb_shape_is_numeric (&shapes[index]);
}

/* Indices of the free columns. (transfer full) */
static GArray *
find_free (const SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  GArray *indices = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < layout->columns->len; i++)
    if (is_free (layout, says_nothing, shapes, i))
      g_array_append_val (indices, i);
  return indices;
}

/* The pair of columns of which one is most clearly the derivative of the other; of too many columns none. */
static void
guess_motion (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  double best = CLEARLY_DERIVED, best_factor = 0.0;
  guint angle = 0, velocity = 0;
  int time = find_role (layout, SB_ROLE_TIME);
  g_autoptr (GArray) indices = find_free (layout, says_nothing, shapes);
  guint n = time >= 0 && indices->len <= MOST_FREE_COLUMNS ? indices->len : 0;
  for (guint i = 0; i < n; i++) {
    guint a = g_array_index (indices, guint, i);
    gboolean jumps = sb_shape_jumps (&shapes[a]);
    for (guint k = 0; !jumps && k < n; k++) {
      guint b = g_array_index (indices, guint, k);
      double factor = 0.0;
      if (a == b)
        continue;
      double likeness = fabs (sb_shape_derivative (&shapes[a], &shapes[b], &shapes[time], &factor));
      if (likeness <= best)
        continue;
      best = likeness;
      best_factor = factor;
      angle = a;
      velocity = b;
    }
  }
  if (best > CLEARLY_DERIVED)
    take_pair (layout, angle, velocity, best_factor * time_size (layout, time));
}

static void
guess_command (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  for (guint i = 0; i < layout->columns->len; i++)
    if (is_free (layout, says_nothing, shapes, i) && sb_shape_jumps (&shapes[i])) {
      guess (sb_layout_column (layout, i), SB_ROLE_COMMAND, NULL,
             "stays on a few levels and jumps between them: taken for the command in N·m");
      return;
    }
}

static void
guess_torque (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  double best = CLEARLY_FOLLOWS;
  int found = -1, command = find_role (layout, SB_ROLE_COMMAND);
  for (guint i = 0; command >= 0 && i < layout->columns->len; i++) {
    double likeness
        = is_free (layout, says_nothing, shapes, i) ? sb_shape_correlation (&shapes[i], &shapes[command]) : 0.0;
    if (likeness > best) {
      best = likeness;
      found = (int) i;
    }
  }
  if (found >= 0)
    guess (sb_layout_column (layout, (guint) found), SB_ROLE_TORQUE, NULL, "follows '%s': taken for the torque in N·m",
           sb_layout_column (layout, (guint) command)->name);
}

static gboolean
has_signal (const SbLayout *layout)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    SbRole role = sb_layout_column (layout, i)->role;
    if (role > SB_ROLE_TIME && role <= SB_ROLE_TORQUE)
      return TRUE;
  }
  return FALSE;
}

void
sb_guess_signals (SbLayout *layout, const gboolean *says_nothing, const SbShape *shapes)
{
  if (has_signal (layout))
    return;
  guess_command (layout, says_nothing, shapes);
  guess_motion (layout, says_nothing, shapes);
  guess_torque (layout, says_nothing, shapes);
  for (guint i = 0; i < layout->columns->len; i++)
    if (is_free (layout, says_nothing, shapes, i))
      guess (sb_layout_column (layout, i), SB_ROLE_OTHER, NULL,
             "neither its name nor its numbers say what it is: state its role and unit");
}

/* Seconds are what a time without unit is taken in; that is doubtful when a row would last as long as a test, or no
 * time at all. */
static void
doubt_time (SbLayoutColumn *column, const SbLayout *layout, const SbShape *shape)
{
  double step = 0.0;
  SbRise rise = sb_shape_rise (shape, &step);
  if (column->unit != NULL || rise == SB_RISES_NOT)
    return;
  g_autofree char *text = sb_number_plain (step);
  const char *by_interval = rise == SB_RISES_BY_ONE ? NULL : unit_of_interval (layout, step);
  if (by_interval != NULL && strcmp (by_interval, "s") != 0) {
    guess (column, SB_ROLE_TIME, by_interval,
           "names no unit and rises by %s in a row, and a sample rate is stated: taken for the time in %s", text,
           by_interval);
    return;
  }
  if (step < LONGEST_STEP_S && step >= SHORTEST_STEP_S)
    return;
  if (step < SHORTEST_STEP_S)
    guess (column, SB_ROLE_TIME, NULL,
           "names no unit and rises by %s in a row: taken for seconds; state the unit (a spreadsheet's times are days)",
           text);
  else if (rise == SB_RISES_BY_ONE && layout->sample_rate_hz > 0)
    guess (column, SB_ROLE_TIME, "samples",
           "names no unit and rises by one in every row: taken for the number of the "
           "sample, because a sample rate is stated");
  else if (rise == SB_RISES_BY_ONE)
    guess (column, SB_ROLE_TIME, NULL,
           "names no unit and rises by one in every row: taken for seconds; if it is the "
           "number of the sample, state unit and sample rate");
  else
    guess (column, SB_ROLE_TIME, NULL, "names no unit and rises by %s in a row: taken for seconds; state the unit",
           text);
}

void
sb_guess_counts (SbLayoutColumn *column, const SbShape *shape)
{
  double least, most;
  if (column->role != SB_ROLE_ANGLE || column->unit != NULL || !sb_shape_is_whole (shape))
    return;
  sb_shape_largest_step (shape, &least, &most);
  if (MAX (fabs (least), fabs (most)) > MOST_RADIANS)
    guess (column, SB_ROLE_ANGLE, "counts",
           "names no unit and holds whole numbers from %.0f to %.0f: taken for counts of an encoder", least, most);
}

/* A jump over more than half of the range of a counter is where it begins again. */
static void
doubt_counter (SbLayoutColumn *column, const SbShape *shape)
{
  double least, most, step = sb_shape_largest_step (shape, &least, &most);
  double widths[] = { fabs (column->counts_per_turn), 65536.0 };
  for (guint i = 0; i < G_N_ELEMENTS (widths); i++) {
    double width = widths[i];
    gboolean within = (least >= 0 && most < width) || (least >= -width / 2 && most < width / 2);
    if (!(step > width / 2) || !within)
      continue;
    column->wrap = width;
    g_free (column->question);
    column->certainty = SB_CERTAINTY_GUESSED;
    column->question
        = g_strdup_printf ("jumps by %.0f counts: taken for a counter that begins again after %.0f", step, width);
    return;
  }
}

void
sb_guess_doubts (SbLayout *layout, const SbShape *shapes)
{
  for (guint i = 0; i < layout->columns->len; i++) {
    SbLayoutColumn *column = sb_layout_column (layout, i);
    if (column->role == SB_ROLE_TIME)
      doubt_time (column, layout, &shapes[i]);
    if (column->role == SB_ROLE_ANGLE && column->unit != NULL && column->unit->dimension == SB_DIMENSION_COUNTS
        && !(column->wrap > 0))
      doubt_counter (column, &shapes[i]);
  }
}
