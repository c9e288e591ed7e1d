/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves stay apart for every reader: two styles whose colours come near one another, for any of three colour-vision
 * deficiencies or in grey, have dashes that differ. */
#include "close.h"
#include "style.h"

#include <string.h>

enum { N_EYES = 5 };

/* Linear RGB as seen: with every cone; protanopia, deuteranopia, tritanopia (Machado, Oliveira & Fernandes, A
 * Physiologically-based Model for Simulation of Color Vision Deficiency, 2009, table for severity 1.0; quoted from
 * memory); grey by luminance (Rec. ITU-R BT.709). */
static const double eyes[N_EYES][3][3] = {
  { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
  { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
  { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
  { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
  { { 0.2126, 0.7152, 0.0722 }, { 0.2126, 0.7152, 0.0722 }, { 0.2126, 0.7152, 0.0722 } },
};

/* CIE 1976 colour difference from which two lines are taken to be told apart by colour alone; a just noticeable one of
 * large patches is about 2.3. */
#define APART 20.0

static double
linear (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4); /* IEC 61966-2-1 */
}

static double
lab_f (double t)
{
  return t > 216.0 / 24389 ? cbrt (t) : (24389.0 / 27 * t + 16) / 116; /* CIE 15 */
}

static void
seen_as_lab (SbColour colour, const double eye[3][3], double lab[3])
{
  const double rgb[] = { linear (colour.red), linear (colour.green), linear (colour.blue) };
  double seen[3];
  for (int i = 0; i < 3; i++)
    seen[i] = CLAMP (eye[i][0] * rgb[0] + eye[i][1] * rgb[1] + eye[i][2] * rgb[2], 0, 1);
  double x = lab_f ((0.4124 * seen[0] + 0.3576 * seen[1] + 0.1805 * seen[2]) / 0.9505);
  double y = lab_f (0.2126 * seen[0] + 0.7152 * seen[1] + 0.0722 * seen[2]);
  double z = lab_f ((0.0193 * seen[0] + 0.1192 * seen[1] + 0.9505 * seen[2]) / 1.0890);
  lab[0] = 116 * y - 16;
  lab[1] = 500 * (x - y);
  lab[2] = 200 * (y - z);
}

static double
colour_difference (guint a, guint b, const double eye[3][3])
{
  double first[3], second[3];
  seen_as_lab (sb_style_get (a)->colour, eye, first);
  seen_as_lab (sb_style_get (b)->colour, eye, second);
  return sqrt (pow (first[0] - second[0], 2) + pow (first[1] - second[1], 2) + pow (first[2] - second[2], 2));
}

/* By the number of dashes, or by the length of one, by half or more. */
static gboolean
dashes_differ (const SbStyle *a, const SbStyle *b)
{
  gboolean differ = a->n_dash != b->n_dash;
  for (int i = 0; i < a->n_dash && !differ; i++)
    differ = fmax (a->dash[i], b->dash[i]) >= 1.5 * fmin (a->dash[i], b->dash[i]);
  return differ;
}

static void
all_styles_are_told_apart_by_colour_or_dash (void **state)
{
  guint n_near = 0;
  for (int e = 0; e < N_EYES; e++)
    for (guint a = 0; a < SB_N_STYLES; a++)
      for (guint b = a + 1; b < SB_N_STYLES; b++) {
        double difference = colour_difference (a, b, eyes[e]);
        n_near += difference < APART ? 1 : 0;
        if (difference < APART && !dashes_differ (sb_style_get (a), sb_style_get (b)))
          fail_msg ("%s and %s: a colour difference of %.1f to eye %d, and dashes alike", sb_style_get (a)->name,
                    sb_style_get (b)->name, difference, e);
      }
  assert_true (n_near > 0); /* some are near: dashes are needed */
}

/* Samples of 10 to 40 line widths, as legends and labels have them: what is drawn ends with its last dash or dot. */
static void
sample_of_a_dash_shows_two_whole_periods_or_more (void **state)
{
  (void) state;
  for (guint i = 0; i < SB_N_STYLES; i++)
    for (double length = 10; length <= 40; length += 0.5) {
      const SbStyle *style = sb_style_get (i);
      double scale = sb_style_sample_scale (style, length), period = 0;
      for (int k = 0; k < style->n_dash; k++)
        period += style->dash[k];
      if (style->n_dash == 0) {
        assert_close (scale, 1, 1e-12);
        continue;
      }
      double n = (length / scale + style->dash[style->n_dash - 1]) / period;
      assert_close (n, round (n), 1e-9);
      assert_true (n > 1.9);
      assert_true (scale < 1.25); /* a short dash is not shown as a long one */
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (all_styles_are_told_apart_by_colour_or_dash),
    cmocka_unit_test (sample_of_a_dash_shows_two_whole_periods_or_more),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
