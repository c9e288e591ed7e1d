/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chart test makes, freed also when an assertion leaves the test early. */
#pragma once

#include "close.h"
#include "sample_analysis.h"

typedef struct {
  SbBench *bench; /* to be changed, then given to an analysis by take_bench() */
  SbAnalysis *analysis;
  SbChartModel *model;
  char *text, *path;
  GBytes *bytes, *other_bytes;
  GError *error;
  GArray *boxes;
  gpointer surface; /* cairo_surface_t, freed by the test's own teardown */
} ChartFixture;

static inline int
chart_fixture_setup (void **state)
{
  ChartFixture *fixture = g_new0 (ChartFixture, 1);
  fixture->bench = sb_bench_new ();
  *state = fixture;
  return 0;
}

static inline int
chart_fixture_teardown (void **state)
{
  ChartFixture *fixture = *state;
  sb_bench_unref (fixture->bench);
  sb_chart_model_unref (fixture->model);
  sb_analysis_unref (fixture->analysis);
  g_free (fixture->text);
  g_free (fixture->path);
  g_clear_pointer (&fixture->bytes, g_bytes_unref);
  g_clear_pointer (&fixture->other_bytes, g_bytes_unref);
  g_clear_pointer (&fixture->boxes, g_array_unref);
  g_clear_error (&fixture->error);
  g_free (fixture);
  return 0;
}

static inline void
make_analysis (ChartFixture *fixture, const SampleConfiguration *configurations, gsize n)
{
  fixture->analysis = sample_analysis_new (g_steal_pointer (&fixture->bench), configurations, n);
}

static inline void
make_model (ChartFixture *fixture, const SampleConfiguration *configurations, gsize n)
{
  make_analysis (fixture, configurations, n);
  fixture->model = sb_chart_model_new (fixture->analysis, -1);
}

static inline const SbChartPanel *
panel_of (const ChartFixture *fixture, guint i)
{
  assert_true (i < fixture->model->panels->len);
  return g_ptr_array_index (fixture->model->panels, i);
}

#define CHART_TEST(name) cmocka_unit_test_setup_teardown (name, chart_fixture_setup, chart_fixture_teardown)
