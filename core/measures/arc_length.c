/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arc_length.h"

#include <gsl/gsl_fft_halfcomplex.h>
#include <gsl/gsl_fft_real.h>

#include <math.h>
#include <string.h>

/* Parts of the spectrum below this share of its largest magnitude, at either end, are not walked along. */
#define THRESHOLD 0.05
/* Padding to 2^4 times the length, so that the arc does not depend on where the bins fall. */
#define PADDING_POWER 4

/* Of the padded profile: `halfcomplex` as GSL stores it, the magnitudes, and the stretch that is walked along. */
typedef struct {
  double *halfcomplex, *m;
  gsize n; /* padded */
  gsize largest, first, last;
  gboolean cut_off; /* the last is the cut-off's bin, not the threshold's */
} Spectrum;

static void
spectrum_clear (Spectrum *spectrum)
{
  g_free (spectrum->halfcomplex);
  g_free (spectrum->m);
}

static void
transform (Spectrum *spectrum, const double *v, gsize n)
{
  gsize padded = (gsize) 1 << PADDING_POWER;
  for (gsize whole = 1; whole < n; whole *= 2)
    padded *= 2;
  double *z = g_new0 (double, padded), *m = g_new (double, padded / 2 + 1);
  memcpy (z, v, n * sizeof *v);
  gsl_fft_real_radix2_transform (z, 1, padded);
  m[0] = fabs (z[0]);
  for (gsize k = 1; k < padded / 2; k++)
    m[k] = sqrt (z[k] * z[k] + z[padded - k] * z[padded - k]);
  m[padded / 2] = fabs (z[padded / 2]);
  *spectrum = (Spectrum){ .halfcomplex = z, .m = m, .n = padded };
}

static void
find_stretch (Spectrum *spectrum, double rate_hz, double cutoff_hz)
{
  const double *m = spectrum->m;
  gsize highest = spectrum->n / 2;
  for (gsize k = 1; k <= highest; k++)
    if (m[k] > m[spectrum->largest])
      spectrum->largest = k;
  double limit = THRESHOLD * m[spectrum->largest];
  gsize last = (gsize) fmin (floor (cutoff_hz * (double) spectrum->n / rate_hz * (1 + 1e-12)), (double) highest);
  gsize at = last;
  while (spectrum->first < last && m[spectrum->first] < limit)
    spectrum->first++;
  while (last > spectrum->first && m[last] < limit)
    last--;
  spectrum->last = last;
  spectrum->cut_off = last == at;
}

static double
segment (const Spectrum *spectrum, gsize k, double step)
{
  return hypot (step, (spectrum->m[k + 1] - spectrum->m[k]) / spectrum->m[spectrum->largest]);
}

double
sb_spectral_arc_length (const double *v, gsize n, double rate_hz, double cutoff_hz)
{
  g_return_val_if_fail (n >= 2 && rate_hz > 0 && cutoff_hz > 0, NAN);
  Spectrum spectrum;
  transform (&spectrum, v, n);
  find_stretch (&spectrum, rate_hz, cutoff_hz);
  double arc = 0, step = spectrum.last > spectrum.first ? 1 / (double) (spectrum.last - spectrum.first) : 0;
  gboolean nothing = !(spectrum.m[spectrum.largest] > 0);
  for (gsize k = spectrum.first; !nothing && k < spectrum.last; k++)
    arc += segment (&spectrum, k, step);
  spectrum_clear (&spectrum);
  return nothing ? (double) NAN : -arc;
}

/* Derivatives of the arc by the magnitudes. Where the threshold ends the walk, a larger magnitude there moves the end
 * out and stretches the bandwidth. */
static double *
by_magnitudes (const Spectrum *spectrum)
{
  const double *m = spectrum->m;
  double largest = m[spectrum->largest], width = (double) (spectrum->last - spectrum->first), narrower = 0;
  double *by = g_new0 (double, spectrum->n / 2 + 1);
  for (gsize k = spectrum->first; k < spectrum->last; k++) {
    double rise = m[k + 1] - m[k], length = segment (spectrum, k, 1 / width);
    by[k + 1] -= rise / (largest * largest * length);
    by[k] += rise / (largest * largest * length);
    by[spectrum->largest] += rise * rise / (largest * largest * largest * length);
    narrower += 1 / (length * width * width * width);
  }
  gsize end = spectrum->last;
  double fall = m[end] - m[end + 1 < spectrum->n / 2 ? end + 1 : end];
  if (!spectrum->cut_off && fall > 0) {
    double longer = hypot (1 / width, fall / largest) - narrower; /* by a bin more */
    by[end] -= longer / fall;
    by[spectrum->largest] += m[end] / largest * longer / fall; /* the threshold is a share of it */
  }
  return by;
}

gboolean
sb_spectral_arc_gradient (const double *v, gsize n, double rate_hz, double cutoff_hz, double *gradient)
{
  Spectrum spectrum;
  transform (&spectrum, v, n);
  find_stretch (&spectrum, rate_hz, cutoff_hz);
  gboolean found = spectrum.m[spectrum.largest] > 0 && spectrum.last > spectrum.first;
  if (found) {
    g_autofree double *by = by_magnitudes (&spectrum);
    double *z = spectrum.halfcomplex;
    /* A magnitude is moved by what is along its phase: back through the transform. */
    for (gsize k = 0; k <= spectrum.n / 2; k++) {
      gboolean single = k == 0 || k == spectrum.n / 2;
      double factor = spectrum.m[k] > 0 ? by[k] / spectrum.m[k] / (single ? 1 : 2) : 0;
      z[k] *= factor;
      if (!single)
        z[spectrum.n - k] *= factor;
    }
    gsl_fft_halfcomplex_radix2_backward (z, 1, spectrum.n);
    memcpy (gradient, z, n * sizeof *gradient);
  }
  spectrum_clear (&spectrum);
  return found;
}
