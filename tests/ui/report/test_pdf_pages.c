/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the pages of a report on paper end, read from the outline of the PDF: page and height of each heading. */
#include "chart_fixture.h"

#include "pdf_pages.h"
#include "report_document.h"

#include <stdlib.h>
#include <string.h>

/* A4 is 297 mm high, its margin 16 mm (pdf_pages.c); in points of 1/72 in. */
#define PAGE_TOP_PT ((297 - 16) * 72 / 25.4)

typedef struct {
  guint page;  /* from 0 */
  double y_pt; /* from the foot of the sheet */
} Place;

static void
add_paragraphs (SbReportDocument *document, guint n)
{
  for (guint i = 0; i < n; i++)
    sb_report_add (document, SB_BLOCK_PARAGRAPH, g_strdup ("One line."));
}

/* Rows of one line each, below a heading of so many. */
static void
add_table (SbReportDocument *document, guint heading_lines, guint n_rows)
{
  SbReportTable *table = sb_report_add_table (document, "Rows");
  GString *heading = g_string_new ("Row");
  for (guint i = 1; i < heading_lines; i++)
    g_string_append (heading, "\nof");
  sb_report_table_add (table, g_string_free (heading, FALSE));
  sb_report_table_end_heading (table);
  for (guint i = 0; i < n_rows; i++)
    sb_report_table_add (table, g_strdup_printf ("%u", i + 1));
}

static SbReportDocument *
begin (ChartFixture *fixture)
{
  if (fixture->model == NULL)
    make_model (fixture, (SampleConfiguration[]){ { .name = "Only", .n_trials = 2, .level_nm = 10 } }, 1);
  SbReportDocument *document = sb_report_document_begin (fixture->model);
  document->title = g_strdup ("Pages");
  return document;
}

static void
set_pages (ChartFixture *fixture, SbReportDocument *document)
{
  g_clear_pointer (&fixture->bytes, g_bytes_unref);
  fixture->bytes = sb_pdf_pages (document, SB_PAPER_SIZE_A4, "{}", &fixture->error);
  sb_report_document_free (document);
  assert_null (fixture->error);
}

static const char *
find (const ChartFixture *fixture, const char *from, const char *part)
{
  gsize n;
  const char *bytes = g_bytes_get_data (fixture->bytes, &n);
  const char *start = from != NULL ? from : bytes;
  const char *found = memmem (start, n - (gsize) (start - bytes), part, strlen (part));
  assert_non_null (found);
  return found;
}

static guint
count_pages (const ChartFixture *fixture)
{
  return (guint) atoi (find (fixture, find (fixture, NULL, "/Kids ["), "/Count ") + strlen ("/Count "));
}

/* The page tree lists the pages in their order, the outline says to which of them, and where on it, a heading leads. */
static Place
place_of (const ChartFixture *fixture, const char *heading)
{
  g_autofree char *title = g_strdup_printf ("/Title (%s)", heading);
  const char *to = find (fixture, find (fixture, NULL, title), "/Dest [") + strlen ("/Dest [");
  int id = atoi (to);
  Place place = { 0, 0 };
  place.y_pt = g_ascii_strtod (strchr (find (fixture, to, "/XYZ ") + strlen ("/XYZ "), ' '), NULL);
  char *kid = NULL;
  for (glong at = strtol (find (fixture, NULL, "/Kids [") + strlen ("/Kids ["), &kid, 10); at != id; place.page++) {
    assert_memory_equal (kid, " 0 R ", 5);
    at = strtol (kid + 5, &kid, 10);
  }
  return place;
}

/* How high a table of so many rows is, with the constant room around it. */
static double
table_height (ChartFixture *fixture, guint heading_lines, guint n_rows)
{
  SbReportDocument *document = begin (fixture);
  sb_report_add_heading (document, 2, g_strdup ("Above"));
  add_table (document, heading_lines, n_rows);
  sb_report_add_heading (document, 2, g_strdup ("Below"));
  add_paragraphs (document, 1);
  set_pages (fixture, document);
  assert_int_equal (place_of (fixture, "Below").page, 0);
  return place_of (fixture, "Above").y_pt - place_of (fixture, "Below").y_pt;
}

/* Whatever stands above: what follows the table is on its page, or there was no room for it and it begins the next. */
static void
table_that_fits_a_page_is_not_split (void **state)
{
  ChartFixture *fixture = *state;
  guint n_moved = 0;
  for (guint n_above = 0; n_above <= 39; n_above += 3) {
    SbReportDocument *document = begin (fixture);
    add_paragraphs (document, n_above);
    sb_report_add_heading (document, 2, g_strdup ("Above"));
    sb_report_add_heading (document, 3, g_strdup ("Second"));
    add_table (document, 1, 30);
    sb_report_add_heading (document, 2, g_strdup ("Below"));
    add_paragraphs (document, 1);
    set_pages (fixture, document);
    Place above = place_of (fixture, "Above"), second = place_of (fixture, "Second"),
          below = place_of (fixture, "Below");
    assert_int_equal (above.page, second.page);
    if (above.page == 0)
      assert_true (below.page == 0 || (below.page == 1 && below.y_pt > PAGE_TOP_PT - 0.2));
    else {
      assert_int_equal (below.page, above.page);
      assert_true (above.y_pt > PAGE_TOP_PT - 0.2);
    }
    n_moved += above.page == 1;
  }
  assert_true (n_moved > 3 && n_moved < 11); /* both cases were seen */
}

/* A table of a heading of 30 lines and 60 rows: by the heights of smaller tables, how many pages it takes when each
 * begins with the heading is worked out by hand. */
static void
longer_table_has_its_heading_on_every_page (void **state)
{
  ChartFixture *fixture = *state;
  double row = (table_height (fixture, 1, 11) - table_height (fixture, 1, 1)) / 10;
  double line = (table_height (fixture, 31, 1) - table_height (fixture, 1, 1)) / 30;
  double heading = row + 29 * line;
  double page = PAGE_TOP_PT - 16 * 72 / 25.4 - 9; /* 9: of the foot (pdf_pages.c) */
  guint rows_on_a_page = (guint) ((page - heading) / row);
  assert_true (rows_on_a_page * row < page - heading - 0.05); /* rounding of the outline's places does not decide */
  SbReportDocument *document = begin (fixture);
  add_paragraphs (document, 38); /* so that it begins on a page of its own */
  add_table (document, 30, 3 * rows_on_a_page);
  set_pages (fixture, document);
  assert_int_equal (count_pages (fixture), 1 + 3);
}

/* At every height at which it can come. */
static void
heading_does_not_stand_alone_at_the_foot (void **state)
{
  ChartFixture *fixture = *state;
  double least
      = 13 * 1.35 + 3 + 2 * 9.5 * 1.35; /* a heading and two lines of the paragraph (pdf_room.c, pdf_paper.h) */
  double foot = 16 * 72 / 25.4 + 9;
  for (guint n_above = 30; n_above <= 45; n_above++) {
    SbReportDocument *document = begin (fixture);
    add_paragraphs (document, n_above);
    sb_report_add_heading (document, 2, g_strdup ("Heading"));
    GString *text = g_string_new (NULL);
    for (int i = 0; i < 100; i++)
      g_string_append (text, "Words that go on. ");
    sb_report_add (document, SB_BLOCK_PARAGRAPH, g_string_free (text, FALSE));
    set_pages (fixture, document);
    assert_true (place_of (fixture, "Heading").y_pt - least >= foot - 0.2);
  }
  assert_int_equal (place_of (fixture, "Heading").page, 1);
}

int
main (void)
{
  static const struct CMUnitTest tests[] = {
    CHART_TEST (table_that_fits_a_page_is_not_split),
    CHART_TEST (longer_table_has_its_heading_on_every_page),
    CHART_TEST (heading_does_not_stand_alone_at_the_foot),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
