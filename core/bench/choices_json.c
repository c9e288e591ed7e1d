/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choices_json.h"

#include "json_members.h"
#include "session.h"
#include "verdict_words.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* A choice that is a number: its name, where it lives, and what is allowed. */
typedef struct {
  const char *name;
  gsize offset;
  double least, most;
} NumberChoice;

static const NumberChoice numbers[] = {
  { "smoothing_s", offsetof (SbBench, measure.smoothing_s), 0, 10 },
  { "slope_window_s", offsetof (SbBench, measure.slope_window_s), 0, 10 },
  { "settling_band_ratio", offsetof (SbBench, measure.settling_band_ratio), 1e-4, 0.5 },
  { "smoothness_cutoff_hz", offsetof (SbBench, measure.smoothness_cutoff_hz), 0, 1e6 },
  { "band_k", offsetof (SbBench, band_k), 0.1, 10 },
  { "moving_window_s", offsetof (SbBench, moving_window_s), 1e-6, 100 },
  { "margin_ratio", offsetof (SbBench, margin_ratio), 1e-6, 1 },
  { "verdict_level", offsetof (SbBench, verdict_level), 1e-6, 0.2 },
  { "audit_level", offsetof (SbBench, audit.level), 1e-6, 0.2 },
  { "audit_proportion_ratio", offsetof (SbBench, audit.proportion_ratio), 0.001, 0.5 },
  { "audit_straight_ratio", offsetof (SbBench, audit.straight_ratio), 0.001, 0.5 },
  { "plan_ratio", offsetof (SbBench, plan_ratio), 0, 10 },
};

static const char *const span_names[] = { [SB_SPAN_COMMON] = "common", [SB_SPAN_UNION] = "union" };
static const char *const steps_names[] = { [SB_STEPS_ALL] = "all", [SB_STEPS_FIRST] = "first" };
static const char *const drive_model_names[] = {
  [SB_DRIVE_MODEL_NONE] = "none",
  [SB_DRIVE_MODEL_FIT] = "fit",
  [SB_DRIVE_MODEL_RESIDUALS] = "fit and residuals",
};
static double *
number_of (SbBench *bench, const NumberChoice *choice)
{
  return (double *) (gpointer) ((char *) bench + choice->offset);
}

static double
number_in (const SbBench *bench, const NumberChoice *choice)
{
  return *(const double *) (gconstpointer) ((const char *) bench + choice->offset);
}

/* By key, of the measures that have a margin of their own. */
static void
build_margins (JsonBuilder *builder, const SbBench *bench)
{
  sb_json_begin (builder, "margins");
  for (int m = 0; m < SB_N_MEASURES; m++) {
    const SbMargin *margin = &bench->margin[m];
    if (isnan (margin->ratio) && isnan (margin->absolute))
      continue;
    sb_json_begin (builder, sb_measure_info ((SbMeasureId) m)->key);
    if (isnan (margin->absolute))
      sb_json_add_number (builder, "ratio", margin->ratio);
    else
      sb_json_add_number (builder, "absolute", margin->absolute);
    json_builder_end_object (builder);
  }
  json_builder_end_object (builder);
}

/* By the usual words of the verdicts, those that a person has words of their own for. */
static void
build_words (JsonBuilder *builder, const SbBench *bench)
{
  sb_json_begin (builder, "verdict_words");
  for (const char *const *usual = sb_verdict_words_usual (); *usual != NULL; usual++)
    if (sb_bench_word (bench, *usual) != *usual)
      sb_json_add_string (builder, *usual, sb_bench_word (bench, *usual));
  json_builder_end_object (builder);
}

void
sb_choices_build (JsonBuilder *builder, const SbBench *bench)
{
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    sb_json_add_number (builder, numbers[i].name, number_in (bench, &numbers[i]));
  sb_json_add_string (builder, "band", sb_band_key (bench->band));
  sb_json_add_string (builder, "span", span_names[bench->span]);
  sb_json_add_string (builder, "steps", steps_names[bench->steps]);
  sb_json_add_string (builder, "drive_model", drive_model_names[bench->drive_model]);
  sb_json_add_string (builder, "slope_unit", sb_slope_unit_name (bench->units.slope));
  sb_json_add_string (builder, "velocity_unit", sb_velocity_unit_name (bench->units.velocity));
  build_margins (builder, bench);
  build_words (builder, bench);
  sb_json_add_boolean (builder, "difference_curves", bench->difference_curves);
  sb_json_add_boolean (builder, "plan", bench->plan);
}

static gboolean
wrong (GError **error, const char *name, const char *what)
{
  g_set_error (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, "the choice '%s' must be %s", name, what);
  return FALSE;
}

/* Which of the n words the string member is: -1 when the member is missing, -2 when it is another word. */
static int
read_word (JsonObject *object, const char *name, const char *const *words, int n)
{
  if (!json_object_has_member (object, name))
    return -1;
  JsonNode *node = sb_json_value (object, name, G_TYPE_STRING);
  for (int i = 0; node != NULL && i < n; i++)
    if (strcmp (json_node_get_string (node), words[i]) == 0)
      return i;
  return -2;
}

static gboolean
read_number (JsonObject *object, SbBench *edited, const NumberChoice *choice, GError **error)
{
  if (!json_object_has_member (object, choice->name))
    return TRUE;
  double value = sb_json_number_or_nan (object, choice->name);
  if (!(value >= choice->least && value <= choice->most)) {
    g_autofree char *range = g_strdup_printf ("a number from %g to %g", choice->least, choice->most);
    return wrong (error, choice->name, range);
  }
  *number_of (edited, choice) = value;
  return TRUE;
}

static gboolean
read_margins (JsonObject *object, SbBench *edited, GError **error)
{
  if (!json_object_has_member (object, "margins"))
    return TRUE;
  JsonObject *margins = sb_json_object (object, "margins");
  g_autoptr (GList) keys = margins != NULL ? json_object_get_members (margins) : NULL;
  const char *what
      = "an object that has, by the keys of measures, { \"ratio\": 0.000001 to 1 } or { \"absolute\": above 0 }";
  if (margins == NULL)
    return wrong (error, "margins", what);
  for (int m = 0; m < SB_N_MEASURES; m++)
    edited->margin[m] = (SbMargin){ .ratio = NAN, .absolute = NAN };
  for (GList *key = keys; key != NULL; key = key->next) {
    SbMeasureId id;
    JsonObject *one = sb_json_object (margins, key->data);
    if (one == NULL || !sb_measure_id_from_key (key->data, &id))
      return wrong (error, "margins", what);
    double ratio = sb_json_number_or_nan (one, "ratio"), absolute = sb_json_number_or_nan (one, "absolute");
    gboolean is_ratio = ratio >= 1e-6 && ratio <= 1, is_absolute = absolute > 0 && isfinite (absolute);
    if (is_ratio == is_absolute)
      return wrong (error, "margins", what);
    edited->margin[id] = (SbMargin){ is_ratio ? ratio : (double) NAN, is_ratio ? (double) NAN : absolute };
  }
  return TRUE;
}

static gboolean
read_words (JsonObject *object, SbBench *edited, GError **error)
{
  if (!json_object_has_member (object, "verdict_words"))
    return TRUE;
  JsonObject *words = sb_json_object (object, "verdict_words");
  if (words == NULL)
    return wrong (error, "verdict_words", "an object that has words by verdicts");
  g_clear_pointer (&edited->words, g_ptr_array_unref);
  g_autoptr (GList) usual = json_object_get_members (words);
  for (GList *word = usual; word != NULL; word = word->next) {
    JsonNode *own = sb_json_value (words, word->data, G_TYPE_STRING);
    if (own == NULL)
      return wrong (error, "verdict_words", "an object that has words by verdicts");
    if (!sb_bench_set_word (edited, word->data, json_node_get_string (own), error)) {
      g_prefix_error (error, "the choice 'verdict_words': ");
      return FALSE;
    }
  }
  const char *twice = sb_verdict_words_clash (edited);
  if (twice != NULL) {
    g_autofree char *what = g_strdup_printf ("a word of its own for each verdict; two are '%s'", twice);
    return wrong (error, "verdict_words", what);
  }
  return TRUE;
}

static gboolean
read_units (JsonObject *object, SbUnits *units, GError **error)
{
  const char *slopes[SB_N_SLOPE_UNITS], *velocities[SB_N_VELOCITY_UNITS];
  for (int u = 0; u < SB_N_SLOPE_UNITS; u++)
    slopes[u] = sb_slope_unit_name ((SbSlopeUnit) u);
  for (int u = 0; u < SB_N_VELOCITY_UNITS; u++)
    velocities[u] = sb_velocity_unit_name ((SbVelocityUnit) u);
  int slope = read_word (object, "slope_unit", slopes, SB_N_SLOPE_UNITS);
  int velocity = read_word (object, "velocity_unit", velocities, SB_N_VELOCITY_UNITS);
  if (slope == -2)
    return wrong (error, "slope_unit", "N·m/ms or N·m/s");
  if (velocity == -2)
    return wrong (error, "velocity_unit", "one of rad/s, rpm, deg/s");
  units->slope = slope >= 0 ? (SbSlopeUnit) slope : units->slope;
  units->velocity = velocity >= 0 ? (SbVelocityUnit) velocity : units->velocity;
  return TRUE;
}

gboolean
sb_choices_read (JsonObject *object, SbBench *edited, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    if (!read_number (object, edited, &numbers[i], error))
      return FALSE;

  if (!read_margins (object, edited, error) || !read_words (object, edited, error)
      || !read_units (object, &edited->units, error))
    return FALSE;
  static const char *const switches[] = { "difference_curves", "plan" };
  if (!sb_json_check_booleans (object, switches, G_N_ELEMENTS (switches), error))
    return FALSE;
  edited->difference_curves = sb_json_boolean_or (object, "difference_curves", edited->difference_curves);
  edited->plan = sb_json_boolean_or (object, "plan", edited->plan);

  const char *bands[SB_N_BANDS];
  for (int b = 0; b < SB_N_BANDS; b++)
    bands[b] = sb_band_key ((SbBandKind) b);
  int band = read_word (object, "band", bands, SB_N_BANDS);
  int span = read_word (object, "span", span_names, G_N_ELEMENTS (span_names));
  int steps = read_word (object, "steps", steps_names, G_N_ELEMENTS (steps_names));
  int drive_model = read_word (object, "drive_model", drive_model_names, SB_N_DRIVE_MODELS);
  if (band == -2)
    return wrong (error, "band", "one of sd, confidence, range, quartiles");
  if (span == -2)
    return wrong (error, "span", "common or union");
  if (steps == -2)
    return wrong (error, "steps", "all or first");
  if (drive_model == -2)
    return wrong (error, "drive_model", "one of none, fit, fit and residuals");
  edited->drive_model = drive_model >= 0 ? (SbDriveModelChoice) drive_model : edited->drive_model;
  edited->steps = steps >= 0 ? (SbStepsChoice) steps : edited->steps;
  edited->band = band >= 0 ? (SbBandKind) band : edited->band;
  edited->span = span >= 0 ? (SbSpan) span : edited->span;
  return TRUE;
}
