/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw_again.h"

#include "chart_export.h"
#include "proof_file.h"
#include "report_files.h"
#include "report_folder.h"
#include "same_picture.h"

#include <string.h>

static const char other_ways[] = " Another version of this program, of the libraries that it draws with, or other "
                                 "fonts set a picture otherwise too.";

static int
evidence_of (const SbProof *proof)
{
  SbMeasureId id;
  return proof->evidence != NULL && sb_measure_id_from_key (proof->evidence, &id) ? (int) id : -1;
}

static GBytes *
draw_chart (const SbVerification *verification, SbChartFormat format, GError **error)
{
  const SbPaper *paper = &verification->bench->chart.paper;
  g_autoptr (SbChartModel) model = sb_chart_model_new (verification->analysis, evidence_of (verification->proof));
  sb_chart_model_set_paper (model, paper);
  SbChartSize size = sb_chart_size_of (paper);
  return sb_chart_render (model, format, &size, error);
}

/* By what the file's first bytes say it is; NULL without an error: it has no picture. */
static GBytes *
draw (const SbVerification *verification, const char *bytes, gsize n, GError **error)
{
  const char *report = verification->proof->report;
  SbPaperSize sheet;
  if (n >= 4 && memcmp (bytes, "\x89PNG", 4) == 0)
    return draw_chart (verification, SB_CHART_PNG, error);
  if (n >= 5 && memcmp (bytes, "%PDF-", 5) == 0)
    return report != NULL && sb_paper_size_from_key (report, &sheet)
               ? sb_report_pdf_bytes (verification->analysis, evidence_of (verification->proof), sheet, error)
               : draw_chart (verification, SB_CHART_PDF, error);
  if (n >= 14 && g_ascii_strncasecmp (bytes, "<!doctype html", 14) == 0)
    return sb_report_page_bytes (verification->analysis, evidence_of (verification->proof), error);
  return n >= 1 && bytes[0] == '<' ? draw_chart (verification, SB_CHART_SVG, error) : NULL;
}

/* Why a picture of the logs at hand could not be the one that the proof came with. */
static const char *
why_not_drawn (const SbVerification *verification)
{
  if (verification->n_missing > 0)
    return "Not all logs that it was drawn from are at hand.";
  if (verification->n_changed > 0)
    return "The logs at hand are not those that it was drawn from.";
  if (!verification->proof->is_whole)
    return "The proof's text was edited: what stands in it now does not follow from the logs, and what it was drawn "
           "from is not known.";
  if (strcmp (verification->proof->version, SB_VERSION) != 0)
    return "This version works the figures out otherwise than the one that drew it.";
  return "What the proof records does not follow from these logs and choices.";
}

/* FALSE, and said, when the picture would be of other logs or figures. */
static gboolean
can_draw (SbVerification *verification)
{
  gboolean can = sb_verification_can_draw (verification);
  if (can && verification->unread->len + verification->readable->len > 0) {
    gboolean gone = verification->unread->len > 0;
    const GPtrArray *names = gone ? verification->unread : verification->readable;
    sb_verification_set_picture (verification, SB_PICTURE_NOT_COMPARED,
                                 g_strdup_printf ("It tells why %s%s could not be read, and %s.",
                                                  (const char *) g_ptr_array_index (names, 0),
                                                  names->len > 1 ? " and others" : "",
                                                  !gone            ? "now it can be"
                                                  : names->len > 1 ? "they are not at hand"
                                                                   : "that log is not at hand"));
    return FALSE;
  }
  if (!can)
    sb_verification_set_picture (verification, SB_PICTURE_NOT_COMPARED, g_strdup (why_not_drawn (verification)));
  return can;
}

static void
set_compared (SbVerification *verification, SbVerifiedPicture picture, gboolean set_otherwise, char *what)
{
  g_autofree char *owned = what;
  gboolean differs = picture == SB_PICTURE_DIFFERS && set_otherwise;
  sb_verification_set_picture (verification, picture, g_strconcat (owned, differs ? other_ways : "", NULL));
}

void
sb_draw_again (SbVerification *verification, const char *path)
{
  g_autofree char *bytes = NULL;
  gsize n = 0;
  g_autoptr (GError) error = NULL;
  if (!g_file_get_contents (path, &bytes, &n, &error)) {
    sb_verification_set_picture (verification, SB_PICTURE_NOT_COMPARED, g_strdup_printf ("%s.", error->message));
    return;
  }
  if (n > 0 && (bytes[0] == '{' || g_ascii_isspace (bytes[0])))
    return;
  if (!can_draw (verification))
    return;
  g_autoptr (GBytes) expected = draw (verification, bytes, n, &error);
  if (expected == NULL) {
    sb_verification_set_picture (
        verification, SB_PICTURE_NOT_COMPARED,
        g_strdup_printf ("It cannot be drawn again: %s",
                         error != NULL ? error->message : "it is none of the kinds that are written."));
    return;
  }
  g_autoptr (GBytes) found = g_bytes_new_take (g_steal_pointer (&bytes), n);
  char *what = NULL;
  gboolean set_otherwise = FALSE;
  SbVerifiedPicture picture = sb_same_picture (found, expected, &set_otherwise, &what);
  set_compared (verification, picture, set_otherwise, what);
}

/* reports */

char *
sb_report_folder_proof (const char *folder)
{
  static const char *const carriers[] = { "report.html", "report.pdf", "results.json" };
  for (gsize i = 0; i < G_N_ELEMENTS (carriers); i++) {
    g_autofree char *path = g_build_filename (folder, carriers[i], NULL);
    if (g_file_test (path, G_FILE_TEST_IS_REGULAR))
      return g_steal_pointer (&path);
  }
  return NULL;
}

typedef struct {
  GString *different, *missing;
  guint n_different, n_missing;
  gboolean set_otherwise; /* a picture or page is among the different */
} Findings;

static void
add_finding (GString *text, guint *n, const char *name, const char *what)
{
  g_string_append_printf (text, "%s%s%s%s", *n > 0 ? " " : "", name, what != NULL ? ": " : "",
                          what != NULL ? what : "");
  ++*n;
}

static void
compare_file (const char *folder, const SbReportFile *file, Findings *findings)
{
  g_autofree char *path = g_build_filename (folder, file->name, NULL), *bytes = NULL, *what = NULL;
  gsize n = 0;
  if (!g_file_get_contents (path, &bytes, &n, NULL)) {
    add_finding (findings->missing, &findings->n_missing, file->name, NULL);
    return;
  }
  g_autoptr (GBytes) found = g_bytes_new_take (g_steal_pointer (&bytes), n);
  if (!g_bytes_equal (found, file->bytes)) {
    sb_same_picture (found, file->bytes, &findings->set_otherwise, &what);
    add_finding (findings->different, &findings->n_different, file->name, what);
  }
}

/* The size of the paper that the report's PDF was set on. */
static SbPaperSize
sheet_of (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "report.pdf", NULL);
  g_autoptr (SbProof) proof = sb_proof_read_file (path, NULL);
  SbPaperSize sheet = SB_PAPER_SIZE_A4;
  if (proof != NULL && proof->report != NULL)
    sb_paper_size_from_key (proof->report, &sheet);
  return sheet;
}

static void
tell_findings (SbVerification *verification, const Findings *findings, guint n_files)
{
  GString *text = g_string_new (NULL);
  guint n = findings->n_different;
  if (n == 0)
    g_string_append_printf (text, "Each of the %u files at hand is, to the last byte.", n_files - findings->n_missing);
  else
    g_string_append_printf (text, "%u of %u file%s of the report %s not what the logs give. %s", n, n_files,
                            n_files == 1 ? "" : "s", n == 1 ? "is" : "are", findings->different->str);
  if (findings->n_missing > 0)
    g_string_append_printf (text, " Missing: %s.", findings->missing->str);
  set_compared (verification, n > 0 ? SB_PICTURE_DIFFERS : SB_PICTURE_SAME, findings->set_otherwise,
                g_string_free (text, FALSE));
}

/* What the folder's own list of checksums says where nothing can be made again, before the reason for that. */
static void
tell_checksums (SbVerification *verification, const char *folder)
{
  guint n = 0;
  g_autoptr (GPtrArray) changed = sb_report_folder_changed (folder, &n);
  if (changed == NULL)
    return;
  gboolean one = changed->len == 1;
  GString *text = g_string_new (NULL);
  if (changed->len == 0)
    g_string_append_printf (text, "%s All %u files that " SB_REPORT_SUMS " lists are as they were when it was written.",
                            verification->picture_what, n);
  else
    g_string_append_printf (text,
                            "%u of the %u files that " SB_REPORT_SUMS " lists %s when it was written: ", changed->len,
                            n, one ? "is not as it was" : "are not as they were");
  for (guint i = 0; i < changed->len; i++)
    g_string_append_printf (text, "%s%s", (const char *) g_ptr_array_index (changed, i),
                            i + 1 < changed->len ? ", " : ".");
  if (changed->len > 0)
    g_string_append_printf (text, " Nothing was made again. %s", verification->picture_what);
  sb_verification_set_picture (verification, changed->len > 0 ? SB_PICTURE_EDITED : SB_PICTURE_NOT_COMPARED,
                               g_string_free (text, FALSE));
}

void
sb_draw_report_again (SbVerification *verification, const char *folder)
{
  if (!can_draw (verification)) {
    tell_checksums (verification, folder);
    return;
  }
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) files
      = sb_report_files (verification->analysis, evidence_of (verification->proof), sheet_of (folder), &error);
  if (files == NULL) {
    sb_verification_set_picture (verification, SB_PICTURE_NOT_COMPARED, g_strdup (error->message));
    return;
  }
  g_autoptr (GString) different = g_string_new (NULL), missing = g_string_new (NULL);
  Findings findings = { .different = different, .missing = missing };
  for (guint i = 0; i < files->len; i++)
    compare_file (folder, g_ptr_array_index (files, i), &findings);
  tell_findings (verification, &findings, files->len);
}
