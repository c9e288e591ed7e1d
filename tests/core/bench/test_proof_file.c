/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files made here by hand, as their formats' specifications say, carry a proof to the readers. */
#include "proof_fixture.h"

#include <zlib.h>

static void
add (ProofFixture *fixture, const char *text)
{
  g_byte_array_append (fixture->bytes, (const guint8 *) text, (guint) strlen (text));
}

static void
add_bytes (ProofFixture *fixture, const char *bytes, gsize n)
{
  g_byte_array_append (fixture->bytes, (const guint8 *) bytes, (guint) n);
}

static void
add_32 (ProofFixture *fixture, guint32 value)
{
  guint32 big_endian = GUINT32_TO_BE (value);
  add_bytes (fixture, (const char *) &big_endian, 4);
}

/* The table of annex D of the PNG specification, worked out as there. */
static guint32
png_checksum (const guint8 *bytes, gsize n)
{
  guint32 table[256], c = 0xffffffff;
  for (guint32 i = 0; i < 256; i++) {
    table[i] = i;
    for (int k = 0; k < 8; k++)
      table[i] = table[i] & 1 ? 0xedb88320 ^ (table[i] >> 1) : table[i] >> 1;
  }
  for (gsize i = 0; i < n; i++)
    c = table[(c ^ bytes[i]) & 0xff] ^ (c >> 8);
  return c ^ 0xffffffff;
}

static void
add_chunk_of_bytes (ProofFixture *fixture, const char *type, const char *before, gsize n_before, const char *data,
                    gsize n_data)
{
  add_32 (fixture, (guint32) (n_before + n_data));
  guint start = fixture->bytes->len;
  add (fixture, type);
  add_bytes (fixture, before, n_before);
  add_bytes (fixture, data, n_data);
  add_32 (fixture, png_checksum (fixture->bytes->data + start, fixture->bytes->len - start));
}

static void
add_chunk (ProofFixture *fixture, const char *type, const char *before, gsize n_before, const char *text)
{
  add_chunk_of_bytes (fixture, type, before, n_before, text, strlen (text));
}

/* The same with the text in the zlib format, as zTXt and iTXt chunks may have it. */
static void
add_packed_chunk (ProofFixture *fixture, const char *type, const char *before, gsize n_before, const char *text,
                  gsize n_text)
{
  uLongf n_packed = compressBound (n_text);
  g_autofree Bytef *packed = g_malloc (n_packed);
  assert_int_equal (compress (packed, &n_packed, (const Bytef *) text, n_text), Z_OK);
  add_chunk_of_bytes (fixture, type, before, n_before, (const char *) packed, n_packed);
}

static void
begin_png (ProofFixture *fixture)
{
  add_bytes (fixture, "\x89PNG\r\n\x1a\n", 8);
  add_chunk (fixture, "IHDR", "\0\0\0\1\0\0\0\1\10\2\0\0\0", 13, "");
}

/* Reads what was made; the NUL behind it does not count. */
static void
read_made (ProofFixture *fixture)
{
  sb_proof_free (fixture->proof);
  g_clear_error (&fixture->error);
  guint n = fixture->bytes->len;
  g_byte_array_append (fixture->bytes, (const guint8 *) "", 1);
  fixture->proof = sb_proof_read_bytes ((const char *) fixture->bytes->data, n, &fixture->error);
  g_byte_array_set_size (fixture->bytes, 0);
}

static void
assert_whole (ProofFixture *fixture)
{
  read_made (fixture);
  if (fixture->proof == NULL)
    fail_msg ("no proof: %s", fixture->error->message);
  assert_true (fixture->proof->is_whole);
  assert_int_equal (fixture->proof->logs->len, 6);
}

static void
assert_refused (ProofFixture *fixture, int code, const char *words)
{
  read_made (fixture);
  assert_null (fixture->proof);
  assert_true (g_error_matches (fixture->error, SB_PROOF_ERROR, code));
  if (strstr (fixture->error->message, words) == NULL)
    fail_msg ("'%s' is not in: %s", words, fixture->error->message);
}

#define KEYWORD "Slewbench proof"

/* Keyword, NUL, text (PNG specification 11.3.4.3). */
static void
plain_text_chunk_of_png_is_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_chunk (fixture, "tEXt", "Title\0", 6, "a chart");
  add_chunk (fixture, "tEXt", KEYWORD, sizeof KEYWORD, text);
  assert_whole (fixture);
}

/* Keyword, NUL, not compressed, method 0, language, NUL, keyword in that language, NUL, text (11.3.4.5). */
static void
international_text_chunk_of_png_is_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_chunk (fixture, "iTXt", KEYWORD "\0\0\0en\0proof", sizeof KEYWORD + 2 + 3 + 6, text);
  assert_whole (fixture);
}

/* Keyword, NUL, method 0, packed text (11.3.4.4): what programs that edit pictures make of a long text. */
static void
packed_text_chunk_of_png_is_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_packed_chunk (fixture, "zTXt", KEYWORD "\0", sizeof KEYWORD + 1, text, strlen (text));
  assert_whole (fixture);
}

/* The same with packed set to 1 and method 0 before the language. */
static void
packed_international_text_chunk_of_png_is_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_packed_chunk (fixture, "iTXt", KEYWORD "\0\1\0en\0proof", sizeof KEYWORD + 2 + 3 + 6, text, strlen (text));
  assert_whole (fixture);
}

/* Method 1 does not exist; text that is no zlib stream; a stream that ends early; a chunk that ends at its keyword. */
static void
png_whose_proof_cannot_be_unpacked_is_told (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_packed_chunk (fixture, "zTXt", KEYWORD "\0\1", sizeof KEYWORD + 1, text, strlen (text));
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cannot be unpacked");
  begin_png (fixture);
  add_chunk (fixture, "zTXt", KEYWORD "\0", sizeof KEYWORD + 1, text);
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cannot be unpacked");
  begin_png (fixture);
  add_chunk_of_bytes (fixture, "zTXt", KEYWORD "\0", sizeof KEYWORD + 1, "\x78\x9c\x01", 3);
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cannot be unpacked");
  begin_png (fixture);
  add_chunk (fixture, "zTXt", KEYWORD, sizeof KEYWORD, "");
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cannot be unpacked");
}

/* 70 million blanks pack into some 68 kB: more than any proof has is not unpacked to its end. */
static void
png_whose_proof_unpacks_without_end_is_told (void **state)
{
  ProofFixture *fixture = *state;
  g_autofree char *blanks = g_strnfill (70000000, ' ');
  begin_png (fixture);
  add_packed_chunk (fixture, "zTXt", KEYWORD "\0", sizeof KEYWORD + 1, blanks, strlen (blanks));
  assert_true (fixture->bytes->len < 100000);
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cannot be unpacked");
}

static void
png_cut_before_its_proof_has_none (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_chunk (fixture, "tEXt", KEYWORD, sizeof KEYWORD, text);
  g_byte_array_set_size (fixture->bytes, fixture->bytes->len - 5);
  assert_refused (fixture, SB_PROOF_ERROR_NONE, "no proof inside");
}

/* A chunk may say that it is 4 GB long (and beyond the 2^31 - 1 of the specification). */
static void
png_with_an_endless_chunk_has_none (void **state)
{
  ProofFixture *fixture = *state;
  begin_png (fixture);
  add_32 (fixture, 0xfffffff4);
  add (fixture, "tEXt" KEYWORD);
  assert_refused (fixture, SB_PROOF_ERROR_NONE, "no proof inside");
}

/* One bit of the text, its checksum left as it was. */
static void
damaged_text_chunk_is_told (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  begin_png (fixture);
  add_chunk (fixture, "tEXt", KEYWORD, sizeof KEYWORD, text);
  fixture->bytes->data[fixture->bytes->len - 40] ^= 1;
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "damaged");
}

/* As another program may write the drawing anew: other place, quotes as entities, a CDATA section. */
static void
metadata_of_svg_is_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  add (fixture, "\xef\xbb\xbf<?xml version=\"1.0\"?>\n<!DOCTYPE svg><svg xmlns=\"http://www.w3.org/2000/svg\"><g/>");
  add (fixture, "<metadata class='x' id='slewbench-proof'>");
  add (fixture, escaped);
  add (fixture, "</metadata></svg>");
  assert_whole (fixture);
  add (fixture, "<svg><metadata id=\"slewbench-proof\"><![CDATA[");
  add (fixture, text);
  add (fixture, "]]></metadata><g fill='none'");
  assert_whole (fixture);
}

static void
svg_cut_within_its_proof_is_damaged (void **state)
{
  ProofFixture *fixture = *state;
  add (fixture, "<svg><metadata id=\"slewbench-proof\">");
  add (fixture, make_proof (fixture));
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cut off");
  add (fixture, "<svg><metadata id=\"other\">{}</metadata></svg>");
  assert_refused (fixture, SB_PROOF_ERROR_NONE, "no proof inside");
}

/* A literal string (ISO 32000-1, 7.3.4.2): brackets and backslashes escaped, characters as octal numbers, a line that
 * goes on behind a backslash, brackets in pairs as they are. */
static void
literal_keywords_of_pdf_are_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  add (fixture, "%PDF-1.5\n1 0 obj << /Keywords (something (else) first) >> endobj\n<< /Keywords\n(");
  for (const char *c = text; *c != '\0'; c++) {
    char octal[8];
    g_snprintf (octal, sizeof octal, "\\%03o", *c);
    char plain[3] = { '\\', *c, '\0' };
    gboolean escaped = *c == '\\' || *c == '(' || *c == ')';
    add (fixture, (c - text) % 50 == 7 ? octal : plain + (escaped ? 0 : 1));
    if ((c - text) % 64 == 63)
      add (fixture, "\\\n");
  }
  add (fixture, ") >>\ntrailer");
  assert_whole (fixture);
}

/* A hexadecimal string (7.3.4.3) of UTF-16 (7.9.2.2), with line ends within. */
static void
hexadecimal_keywords_of_pdf_are_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  add (fixture, "%PDF-1.7\n<< /Keywords <FEFF");
  for (const char *c = text; *c != '\0'; c++) {
    char digits[8];
    g_snprintf (digits, sizeof digits, "00%02x%s", *c, (c - text) % 20 == 19 ? "\r\n" : "");
    add (fixture, digits);
  }
  add (fixture, "> >>");
  assert_whole (fixture);
}

static void
pdf_cut_within_its_proof_is_damaged (void **state)
{
  ProofFixture *fixture = *state;
  add (fixture, "%PDF-1.5\n<< /Keywords (");
  add (fixture, make_proof (fixture));
  assert_refused (fixture, SB_PROOF_ERROR_DAMAGED, "cut off");
  add (fixture, "%PDF-1.5\n<< /Keywords");
  assert_refused (fixture, SB_PROOF_ERROR_NONE, "no proof inside");
}

static void
page_and_json_of_a_report_are_read (void **state)
{
  ProofFixture *fixture = *state;
  const char *text = make_proof (fixture);
  add (fixture, "<!DOCTYPE html>\n<html><head><br><script type=\"application/json\" id=\"slewbench-proof\">");
  add (fixture, text);
  add (fixture, "</script></head>");
  assert_whole (fixture);
  add (fixture, "{ \"slewbench\": \"1\", \"proof\": ");
  add (fixture, text);
  add (fixture, " }");
  assert_whole (fixture);
}

static void
other_files_have_no_proof (void **state)
{
  ProofFixture *fixture = *state;
  static const char *const others[] = { "", "\n", "time_s,torque_Nm\n0,1\n", "{}", "<html>", "%PDF", "\x89PNG" };
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++) {
    add (fixture, others[i]);
    assert_refused (fixture, SB_PROOF_ERROR_NONE, "no proof inside");
  }
}

/* A pipe would never end, and a device either. */
static void
only_files_proper_are_read (void **state)
{
  ProofFixture *fixture = *state;
  assert_null (sb_proof_read_file (fixture->bench->folder, &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_PROOF_ERROR, SB_PROOF_ERROR_READ));
  g_clear_error (&fixture->error);
  assert_null (sb_proof_read_file ("/dev/zero", &fixture->error));
  assert_true (g_error_matches (fixture->error, SB_PROOF_ERROR, SB_PROOF_ERROR_READ));
  assert_true (g_str_has_prefix (fixture->error->message, "zero: "));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    proof_test (plain_text_chunk_of_png_is_read),      proof_test (international_text_chunk_of_png_is_read),
    proof_test (png_cut_before_its_proof_has_none),    proof_test (png_with_an_endless_chunk_has_none),
    proof_test (damaged_text_chunk_is_told),           proof_test (metadata_of_svg_is_read),
    proof_test (svg_cut_within_its_proof_is_damaged),  proof_test (literal_keywords_of_pdf_are_read),
    proof_test (hexadecimal_keywords_of_pdf_are_read), proof_test (pdf_cut_within_its_proof_is_damaged),
    proof_test (page_and_json_of_a_report_are_read),   proof_test (other_files_have_no_proof),
    proof_test (only_files_proper_are_read),           proof_test (packed_text_chunk_of_png_is_read),
    proof_test (packed_international_text_chunk_of_png_is_read),
    proof_test (png_whose_proof_cannot_be_unpacked_is_told),
    proof_test (png_whose_proof_unpacks_without_end_is_told),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
