/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart_fixture.h"

#include "chart_export.h"
#include "chart_painter.h"

#include <glib/gstdio.h>
#include <string.h>

static const SampleConfiguration two[] = {
  { .name = "Low", .n_trials = 4, .level_nm = 10, .spread_nm = 0.2 },
  { .name = "High", .n_trials = 3, .level_nm = 12, .spread_nm = 0.1 },
};

static void
make_titled_model (ChartFixture *fixture, const char *title)
{
  g_free (fixture->bench->chart.title);
  fixture->bench->chart.title = g_strdup (title);
  make_model (fixture, two, 2);
}

static void
render (ChartFixture *fixture, SbChartFormat format)
{
  SbChartSize size = SB_CHART_SIZE_PAGE;
  g_clear_pointer (&fixture->bytes, g_bytes_unref);
  fixture->bytes = sb_chart_render (fixture->model, format, &size, &fixture->error);
  assert_null (fixture->error);
  assert_non_null (fixture->bytes);
}

static const guint8 *
bytes_of (const ChartFixture *fixture, gsize *n)
{
  return g_bytes_get_data (fixture->bytes, n);
}

/* Also across the window's and a batch command's different histories: surfaces made in between must not show. */
static void
same_model_and_size_give_the_same_bytes (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "Twice");
  for (int format = SB_CHART_PNG; format <= SB_CHART_PDF; format++) {
    render (fixture, (SbChartFormat) format);
    g_clear_pointer (&fixture->other_bytes, g_bytes_unref);
    fixture->other_bytes = g_steal_pointer (&fixture->bytes);
    cairo_surface_destroy (cairo_image_surface_create (CAIRO_FORMAT_A8, 3, 3));
    render (fixture, (SbChartFormat) format);
    assert_true (g_bytes_equal (fixture->bytes, fixture->other_bytes));
  }
}

/* Finds a chunk and gives its data; the layout of chunks is that of the PNG specification, 5.3. */
static const guint8 *
find_chunk (const ChartFixture *fixture, const char *type, guint32 *length)
{
  gsize n;
  const guint8 *bytes = bytes_of (fixture, &n);
  for (gsize at = 8; at + 12 <= n;) {
    guint32 size;
    memcpy (&size, bytes + at, 4);
    size = GUINT32_FROM_BE (size);
    if (memcmp (bytes + at + 4, type, 4) == 0) {
      *length = size;
      return bytes + at + 8;
    }
    at += 12 + size;
  }
  return NULL;
}

/* 300 dpi = 300 / 0.0254 = 11811.02 pixels per metre, both ways, unit 1 (PNG specification, 11.3.5.3). The checksum
 * 78 A5 3F 76 of these nine bytes stands in every PNG of 300 dpi; an independent reader would refuse another. */
static void
png_states_its_physical_size (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  render (fixture, SB_CHART_PNG);
  guint32 length = 0;
  const guint8 *data = find_chunk (fixture, "pHYs", &length);
  assert_non_null (data);
  assert_int_equal (length, 9);
  const guint8 expected[] = { 0, 0, 0x2e, 0x23, 0, 0, 0x2e, 0x23, 1, 0x78, 0xa5, 0x3f, 0x76 };
  assert_memory_equal (data, expected, sizeof expected);
}

/* The checksum AE 42 60 82 of the empty end chunk is printed in the literature of PNG (from memory). */
static void
png_ends_with_the_well_known_end_chunk (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  render (fixture, SB_CHART_PNG);
  gsize n;
  const guint8 *bytes = bytes_of (fixture, &n);
  const guint8 expected[] = { 0, 0, 0, 0, 'I', 'E', 'N', 'D', 0xae, 0x42, 0x60, 0x82 };
  assert_memory_equal (bytes + n - sizeof expected, expected, sizeof expected);
}

typedef struct {
  const guint8 *bytes;
  gsize left;
} Reading;

static cairo_status_t
read_bytes (void *closure, unsigned char *data, unsigned int length)
{
  Reading *reading = closure;
  if (length > reading->left)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (data, reading->bytes, length);
  reading->bytes += length;
  reading->left -= length;
  return CAIRO_STATUS_SUCCESS;
}

static void
check_pixels (const cairo_surface_t *decoded_surface, const cairo_surface_t *painted_surface)
{
  cairo_surface_t *decoded = (cairo_surface_t *) (gsize) decoded_surface;
  cairo_surface_t *painted = (cairo_surface_t *) (gsize) painted_surface;
  int width = cairo_image_surface_get_width (painted), height = cairo_image_surface_get_height (painted);
  assert_int_equal (cairo_image_surface_get_width (decoded), width);
  assert_int_equal (cairo_image_surface_get_height (decoded), height);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++) {
      guint32 a, b;
      memcpy (&a, cairo_image_surface_get_data (decoded) + y * cairo_image_surface_get_stride (decoded) + 4 * x, 4);
      memcpy (&b, cairo_image_surface_get_data (painted) + y * cairo_image_surface_get_stride (painted) + 4 * x, 4);
      assert_int_equal (a & 0xffffff, b & 0xffffff);
    }
}

/* libpng, which checks every checksum, reads back what the painter painted. 37 rows are no multiple of what is
 * compressed at once. */
static void
png_holds_the_painted_pixels (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  const SbChartSize sizes[] = { { 85, 60, 150, 8 }, { 25.4, 25.4, 37, 8 } };
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++) {
    g_clear_pointer (&fixture->bytes, g_bytes_unref);
    fixture->bytes = sb_chart_render (fixture->model, SB_CHART_PNG, &sizes[i], &fixture->error);
    assert_non_null (fixture->bytes);
    Reading reading = { NULL, 0 };
    reading.bytes = bytes_of (fixture, &reading.left);
    cairo_surface_t *decoded = cairo_image_surface_create_from_png_stream (read_bytes, &reading);
    assert_int_equal (cairo_surface_status (decoded), CAIRO_STATUS_SUCCESS);
    int width = (int) round (sizes[i].width_mm / 25.4 * sizes[i].dpi);
    int height = (int) round (sizes[i].height_mm / 25.4 * sizes[i].dpi);
    cairo_surface_t *painted = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
    cairo_t *cr = cairo_create (painted);
    double width_pt = sizes[i].width_mm / 25.4 * 72, height_pt = sizes[i].height_mm / 25.4 * 72;
    cairo_scale (cr, width / width_pt, height / height_pt);
    sb_chart_paint (fixture->model, cr, width_pt, height_pt, 8, NULL);
    cairo_destroy (cr);
    cairo_surface_flush (painted);
    check_pixels (decoded, painted);
    cairo_surface_destroy (decoded);
    cairo_surface_destroy (painted);
  }
}

/* Decodes the PNG of the model on this paper; its top left pixel, which is ground, as alpha, red, green, blue (libpng,
 * through cairo). */
static guint32
ground_pixel (ChartFixture *fixture, SbGround ground, gboolean grey)
{
  SbPaper paper = sb_paper_preset (0)->paper;
  paper.ground = ground;
  paper.grey = grey;
  sb_chart_model_set_paper (fixture->model, &paper);
  render (fixture, SB_CHART_PNG);
  Reading reading = { NULL, 0 };
  reading.bytes = bytes_of (fixture, &reading.left);
  cairo_surface_t *decoded = cairo_image_surface_create_from_png_stream (read_bytes, &reading);
  assert_int_equal (cairo_surface_status (decoded), CAIRO_STATUS_SUCCESS);
  guint32 pixel;
  memcpy (&pixel, cairo_image_surface_get_data (decoded), sizeof pixel);
  gboolean has_alpha = cairo_image_surface_get_format (decoded) == CAIRO_FORMAT_ARGB32;
  gboolean is_grey = TRUE;
  for (int y = 0; y < cairo_image_surface_get_height (decoded); y++)
    for (int x = 0; x < cairo_image_surface_get_width (decoded); x++) {
      const guint8 *at = cairo_image_surface_get_data (decoded) + y * cairo_image_surface_get_stride (decoded) + 4 * x;
      is_grey = is_grey && at[0] == at[1] && at[1] == at[2];
    }
  cairo_surface_destroy (decoded);
  assert_int_equal (is_grey, grey);
  return has_alpha ? pixel : pixel | 0xff000000;
}

/* White is 255 of each; transparent has no alpha at all; the dark ground is a tenth of white: 0.1 * 255 = 25.5. */
static void
ground_and_greys_are_those_asked_for (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  assert_int_equal (ground_pixel (fixture, SB_GROUND_WHITE, FALSE), 0xffffffff);
  assert_int_equal (ground_pixel (fixture, SB_GROUND_WHITE, TRUE), 0xffffffff);
  assert_int_equal (ground_pixel (fixture, SB_GROUND_TRANSPARENT, FALSE), 0);
  assert_int_equal (ground_pixel (fixture, SB_GROUND_TRANSPARENT_DARK, FALSE), 0);
  guint32 dark = ground_pixel (fixture, SB_GROUND_DARK, TRUE);
  assert_true ((dark & 0xff) == 25 || (dark & 0xff) == 26);
  assert_int_equal (dark >> 24, 0xff);
}

/* tEXt is Latin-1; what has no place there goes into iTXt as UTF-8 (PNG specification, 11.3.4). */
static void
png_carries_the_title_in_any_script (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "Größe");
  render (fixture, SB_CHART_PNG);
  guint32 length = 0;
  const guint8 *data = find_chunk (fixture, "tEXt", &length);
  assert_non_null (data);
  assert_int_equal (length, 6 + 5);
  assert_memory_equal (data,
                       "Title\0Gr\xf6\xdf"
                       "e",
                       11);
  g_clear_pointer (&fixture->model, sb_chart_model_unref);
  g_clear_pointer (&fixture->analysis, sb_analysis_unref);
  fixture->bench = sb_bench_new ();
  make_titled_model (fixture, "τ at 2 Ω");
  render (fixture, SB_CHART_PNG);
  data = find_chunk (fixture, "iTXt", &length);
  assert_non_null (data);
  assert_int_equal (length, 6 + 4 + strlen ("τ at 2 Ω"));
  assert_memory_equal (data + 10, "τ at 2 Ω", strlen ("τ at 2 Ω"));
}

static void
svg_is_sized_in_mm_and_names_its_title (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "Slope < 2 & more");
  render (fixture, SB_CHART_SVG);
  gsize n;
  const char *svg = g_bytes_get_data (fixture->bytes, &n);
  assert_non_null (g_strstr_len (svg, (gssize) n, "width=\"175mm\" height=\"120mm\" viewBox=\"0 0 496.06"));
  assert_non_null (g_strstr_len (svg, (gssize) n, "<title>Slope &lt; 2 &amp; more</title>"));
}

/* PDF 1.7, 14.3.3: /CreationDate is optional; a date would make every run different. 175 mm = 496.063 pt. */
static void
pdf_has_its_size_and_no_date (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "Dateless");
  render (fixture, SB_CHART_PDF);
  gsize n;
  const char *pdf = g_bytes_get_data (fixture->bytes, &n);
  assert_memory_equal (pdf, "%PDF-1.", 7);
  g_autofree char *printable = g_malloc0 (n + 1);
  for (gsize i = 0; i < n; i++)
    printable[i] = pdf[i] != '\0' ? pdf[i] : ' ';
  assert_null (strstr (printable, "/CreationDate"));
  assert_non_null (strstr (printable, "/Title (Dateless)"));
  assert_non_null (strstr (printable, "/MediaBox [ 0 0 496.06299"));
}

static void
format_is_told_by_the_file_name_in_any_case (void **state)
{
  ChartFixture *fixture = *state;
  static const struct {
    const char *path;
    SbChartFormat format;
  } cases[] = { { "a/b.png", SB_CHART_PNG }, { "b.SVG", SB_CHART_SVG }, { "my.chart.Pdf", SB_CHART_PDF } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    SbChartFormat format;
    assert_true (sb_chart_format_from_path (cases[i].path, &format, &fixture->error));
    assert_int_equal (format, cases[i].format);
  }
}

static void
check_error (ChartFixture *fixture, SbChartError code, const char *words)
{
  assert_true (g_error_matches (fixture->error, SB_CHART_ERROR, (gint) code));
  assert_non_null (strstr (fixture->error->message, words));
  g_clear_error (&fixture->error);
}

static void
unknown_ending_is_refused_with_the_known_ones (void **state)
{
  ChartFixture *fixture = *state;
  SbChartFormat format = SB_CHART_PDF;
  assert_false (sb_chart_format_from_path ("chart.jpeg", &format, &fixture->error));
  assert_int_equal (format, SB_CHART_PDF);
  check_error (fixture, SB_CHART_ERROR_FORMAT, "ends in .png, .svg or .pdf");
}

static void
impossible_sizes_are_refused_with_a_remedy (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  static const struct {
    SbChartSize size;
    const char *words;
  } cases[] = {
    { { 9, 120, 300, 8 }, "10 to 2000 mm" },     { { 175, 2001, 300, 8 }, "10 to 2000 mm" },
    { { NAN, 120, 300, 8 }, "10 to 2000 mm" },   { { 175, 120, 35, 8 }, "36 to 2400 dpi" },
    { { 175, 120, 2401, 8 }, "36 to 2400 dpi" }, { { 2000, 2000, 2400, 8 }, "too large" },
    { { 175, 120, 300, 0 }, "1 to 200 pt" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++) {
    assert_null (sb_chart_render (fixture->model, SB_CHART_PNG, &cases[i].size, &fixture->error));
    check_error (fixture, SB_CHART_ERROR_SIZE, cases[i].words);
  }
}

static void
nothing_to_draw_is_refused_with_a_remedy (void **state)
{
  ChartFixture *fixture = *state;
  make_model (fixture, NULL, 0);
  SbChartSize size = SB_CHART_SIZE_PAGE;
  assert_null (sb_chart_render (fixture->model, SB_CHART_SVG, &size, &fixture->error));
  check_error (fixture, SB_CHART_ERROR_EMPTY, "nothing to draw");
}

static void
export_writes_what_render_gives (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  SbChartSize size = SB_CHART_SIZE_PAGE;
  g_autofree char *folder = g_dir_make_tmp ("chart-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "out.svg", NULL);
  assert_true (sb_chart_export (fixture->model, path, &size, &fixture->error));
  render (fixture, SB_CHART_SVG);
  gsize n_written, n;
  assert_true (g_file_get_contents (path, &fixture->text, &n_written, NULL));
  const guint8 *bytes = bytes_of (fixture, &n);
  assert_int_equal (n_written, n);
  assert_memory_equal (fixture->text, bytes, n);
  g_unlink (path);
  g_rmdir (folder);
}

static void
file_that_cannot_be_written_is_an_error_that_names_it (void **state)
{
  ChartFixture *fixture = *state;
  make_titled_model (fixture, "");
  SbChartSize size = SB_CHART_SIZE_PAGE;
  assert_false (sb_chart_export (fixture->model, "/nowhere/at all/out.svg", &size, &fixture->error));
  check_error (fixture, SB_CHART_ERROR_WRITE, "/nowhere/at all/out.svg");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    CHART_TEST (same_model_and_size_give_the_same_bytes),
    CHART_TEST (png_states_its_physical_size),
    CHART_TEST (png_ends_with_the_well_known_end_chunk),
    CHART_TEST (png_holds_the_painted_pixels),
    CHART_TEST (ground_and_greys_are_those_asked_for),
    CHART_TEST (png_carries_the_title_in_any_script),
    CHART_TEST (svg_is_sized_in_mm_and_names_its_title),
    CHART_TEST (pdf_has_its_size_and_no_date),
    CHART_TEST (format_is_told_by_the_file_name_in_any_case),
    CHART_TEST (unknown_ending_is_refused_with_the_known_ones),
    CHART_TEST (impossible_sizes_are_refused_with_a_remedy),
    CHART_TEST (nothing_to_draw_is_refused_with_a_remedy),
    CHART_TEST (export_writes_what_render_gives),
    CHART_TEST (file_that_cannot_be_written_is_an_error_that_names_it),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
