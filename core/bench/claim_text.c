/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A stated figure as people write it. */
#include "bench_claims.h"
#include "measure_words.h"
#include "session.h"

#include "slope_unit.h"
#include "unit.h"

#include <math.h>
#include <string.h>

static const struct {
  const char *sign;
  SbClaimRelation relation;
} relations[] = { { ">=", SB_CLAIM_AT_LEAST }, { "≥", SB_CLAIM_AT_LEAST },   { " at least ", SB_CLAIM_AT_LEAST },
                  { "<=", SB_CLAIM_AT_MOST },  { "≤", SB_CLAIM_AT_MOST },    { " at most ", SB_CLAIM_AT_MOST },
                  { "~", SB_CLAIM_ABOUT },     { " about ", SB_CLAIM_ABOUT } };

static gboolean wrong (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
wrong (GError **error, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, SB_SESSION_ERROR, SB_SESSION_ERROR_READ, what);
  return FALSE;
}

/* The size of a torque over a time, or of a plain unit, in SI; NaN when it is none of the measure. */
static double
size_of_unit (const char *spelling, const char *measure_unit)
{
  if (strcmp (measure_unit, "1") == 0)
    return spelling[0] == '\0' ? 1 : strcmp (spelling, "%") == 0 ? 0.01 : (double) NAN;
  if (strcmp (measure_unit, "Hz") == 0)
    return g_ascii_strcasecmp (spelling, "Hz") == 0    ? 1
           : g_ascii_strcasecmp (spelling, "kHz") == 0 ? 1e3
                                                       : (double) NAN;
  const SbUnit *whole = sb_unit_find (spelling), *si = sb_unit_find (measure_unit);
  if (si != NULL)
    return whole != NULL && whole->dimension == si->dimension ? whole->factor * pow (10, whole->power_of_ten)
                                                              : (double) NAN;
  return sb_slope_unit_size (spelling);
}

/* "2 N·m/ms" in SI. */
static gboolean
read_value (const char *text, const SbMeasureInfo *info, double *value, GError **error)
{
  g_autofree char *own = g_strdup (text);
  char *rest = NULL, *start = g_strstrip (own);
  double number = g_ascii_strtod (start, &rest);
  if (rest == start || !isfinite (number))
    return wrong (error, "'%s' does not begin with a number, as in '2.5 %s'", start, info->display_unit);
  if (rest[0] == ',' && g_ascii_isdigit (rest[1]))
    return wrong (error,
                  "'%s' has a comma in its number; write a decimal point, as in '2.5 %s', and no commas between "
                  "thousands",
                  start, info->display_unit);
  double size = size_of_unit (g_strstrip (rest), info->unit);
  if (isnan (size) && rest[0] == '\0')
    return wrong (error, "'%s' has no unit; %s is stated in %s, as in '%s %s'", start, info->name, info->display_unit,
                  start, info->display_unit);
  if (isnan (size))
    return wrong (error, "%s is stated in %s, as in '2.5 %s', not in '%s'", info->name, info->display_unit,
                  info->display_unit, rest);
  *value = number * size;
  return TRUE;
}

/* "± 10 %" of the value, or an amount; 5 % when nothing is said. */
static gboolean
read_tolerance (const char *text, const SbMeasureInfo *info, SbClaim *claim, GError **error)
{
  if (text == NULL) {
    claim->tolerance = 0.05 * fabs (claim->value);
    return TRUE;
  }
  g_autofree char *own = g_strdup (text);
  char *end = NULL, *start = g_strstrip (own);
  double number = g_ascii_strtod (start, &end);
  if (end != start && strcmp (g_strstrip (end), "%") == 0 && strcmp (info->unit, "1") != 0)
    claim->tolerance = number / 100 * fabs (claim->value);
  else if (!read_value (text, info, &claim->tolerance, error))
    return FALSE;
  return claim->tolerance >= 0 || wrong (error, "the tolerance '%s' is below nothing", start);
}

static gboolean
read_measure (const char *text, SbMeasureId *id, GError **error)
{
  if (sb_measure_id_from_words (text, id))
    return TRUE;
  g_autofree char *unknown = sb_measure_unknown_words (text);
  return wrong (error, "%s", unknown);
}

static void
set_owner (const SbBench *bench, const char *name, SbClaim *claim)
{
  for (guint c = 0; c < bench->configurations->len; c++)
    if (strcmp (sb_bench_configuration (bench, c)->name, name) == 0)
      claim->configuration = (int) c;
  if (claim->configuration < 0 && name[0] != '\0')
    claim->device = g_ref_string_new (name);
}

/* The earliest relation behind the last colon, so that names may hold signs. NULL when there is none. */
static const char *
find_relation (const char *from, gsize *index)
{
  const char *first = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (relations); i++) {
    const char *here = strstr (from, relations[i].sign);
    if (here != NULL && (first == NULL || here < first)) {
      first = here;
      *index = i;
    }
  }
  return first;
}

SbClaim *
sb_claim_parse (const SbBench *bench, const char *text, GError **error)
{
  const char *colon = strrchr (text, ':'), *figure = colon != NULL ? colon + 1 : text;
  gsize index = 0;
  const char *sign = find_relation (figure, &index);
  if (!g_utf8_validate (text, -1, NULL) || sign == NULL) {
    wrong (error,
           "a stated figure is written as 'CONFIGURATION: %s >= 2 N·m/ms', with >=, <=, ~, at least, at most "
           "or about",
           sb_measure_info (SB_MEASURE_PEAK_TORQUE_SLOPE)->key);
    return NULL;
  }
  SbClaim claim = { .configuration = -1, .relation = relations[index].relation };
  g_autofree char *measure = g_strndup (figure, (gsize) (sign - figure));
  g_auto (GStrv) parts = g_strsplit (sign + strlen (relations[index].sign), "±", 2);
  if (!read_measure (g_strstrip (measure), &claim.measure, error))
    return NULL;
  const SbMeasureInfo *info = sb_measure_info (claim.measure);
  if (!read_value (parts[0], info, &claim.value, error))
    return NULL;
  if (claim.relation == SB_CLAIM_ABOUT) {
    if (!read_tolerance (parts[1], info, &claim, error))
      return NULL;
  } else if (parts[1] != NULL) {
    wrong (error, "a tolerance belongs to 'about' alone");
    return NULL;
  }
  g_autofree char *owner = g_strndup (text, colon != NULL ? (gsize) (colon - text) : 0);
  set_owner (bench, g_strstrip (owner), &claim);
  return g_memdup2 (&claim, sizeof claim);
}
