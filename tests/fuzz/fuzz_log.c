/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes -> the importer. Reading must keep its promises (log_checks.h), and give the same log however the bytes are
 * cut into blocks, whether regular rows go a fast way or by libcsv, and by the layout that it came to itself. */
#include "broken.h"
#include "encoding.h"
#include "fuzz_target.h"
#include "log_checks.h"
#include "log_reader.h"
#include "same_log.h"

#include <string.h>

/* One input, and how it is read: chosen by the bytes, so that the same input does the same again. */
typedef struct {
  const char *bytes;
  gsize n_bytes;
  gsize block_size; /* mostly small, to cut everything once */
  SbDialectChoices choices;
  SbReadOptions options;
} Input;

static guint32
hash_bytes (const char *bytes, gsize n_bytes)
{
  guint32 hash = 2166136261u; /* FNV-1a */
  for (gsize i = 0; i < n_bytes; i++)
    hash = (hash ^ (guint8) bytes[i]) * 16777619u;
  return hash ^ (hash >> 15);
}

/* One of `n`, and the rest of the hash for the next choice. */
static int
pick (guint32 *hash, guint32 n)
{
  int choice = (int) (*hash % n);
  *hash = *hash / n * 2654435769u + 1;
  return choice;
}

static void
pick_choices (SbDialectChoices *choices, guint32 hash)
{
  static const char *const prefixes[] = { NULL, NULL, "", "#", "%", "//", ";" };
  *choices = SB_DIALECT_AUTOMATIC;
  choices->encoding = pick (&hash, 2 * (SB_N_ENCODINGS + 1)) - 1;
  if (choices->encoding >= SB_N_ENCODINGS)
    choices->encoding = SB_AUTOMATIC;
  choices->delimiter = "\0\0\0,;\t| "[pick (&hash, 8)];
  choices->decimal = "\0\0.,"[pick (&hash, 4)];
  choices->thousands = pick (&hash, 2) ? SB_AUTOMATIC : "\0,.' "[pick (&hash, 5)];
  choices->quote = pick (&hash, 2) ? SB_AUTOMATIC : "\0\"'"[pick (&hash, 3)];
  choices->comment_prefix = prefixes[pick (&hash, G_N_ELEMENTS (prefixes))];
  choices->header_line = pick (&hash, 6) - 3;
  choices->header_line = MAX (choices->header_line, SB_AUTOMATIC);
  choices->units_line = choices->header_line > 0 && pick (&hash, 2) ? choices->header_line + 1 : SB_AUTOMATIC;
  choices->table = pick (&hash, 5) - 2;
  choices->table = MAX (choices->table, SB_AUTOMATIC);
  if (choices->decimal == choices->thousands)
    choices->thousands = SB_AUTOMATIC;
}

static void
input_init (Input *input, const char *bytes, gsize n_bytes)
{
  guint32 hash = hash_bytes (bytes, n_bytes);
  *input = (Input){ .bytes = bytes, .n_bytes = n_bytes };
  input->block_size = 1 + (gsize) pick (&hash, pick (&hash, 4) == 0 ? 400 : 20);
  if (pick (&hash, 4) == 0) {
    pick_choices (&input->choices, hash);
    input->options.fixed = &input->choices;
  }
}

static SbLog *
read_in_blocks (const Input *input, gsize block_size, GError **error)
{
  return sb_log_read_memory_with ("fuzz.csv", input->bytes, input->n_bytes, block_size, &input->options, error);
}

/* As text, when it is not packed. (transfer full) */
static char *
decode (const Input *input, SbEncoding encoding, gsize *n_text)
{
  SbUtf16 state = { 0 };
  char *text = g_malloc (SB_UTF16_ROOM (input->n_bytes) + input->n_bytes);
  if (encoding == SB_ENCODING_UTF16_LE || encoding == SB_ENCODING_UTF16_BE) {
    *n_text = sb_utf16_read (&state, encoding, input->bytes, input->n_bytes, text);
  } else {
    *n_text = input->n_bytes;
    memcpy (text, input->bytes, input->n_bytes);
  }
  return text;
}

/* By one way for all rows. Digest and size are those of the bytes as stored, not the reader's affair. */
static SbLog *
read_by_way (const Input *input, SbRowsWay way, const SbLog *log)
{
  gsize n_text;
  g_autoptr (SbProposal) proposal
      = sb_propose_memory ("fuzz.csv", input->bytes, input->n_bytes, input->options.fixed, NULL);
  if (proposal == NULL)
    return NULL;
  g_autofree char *text = decode (input, proposal->layout->encoding, &n_text);
  g_autoptr (SbLogReader) reader = sb_log_reader_new ("fuzz.csv", proposal->layout, 0, NULL, NULL);
  if (reader == NULL)
    return NULL;
  sb_log_reader_set_way (reader, way);
  memcpy (sb_log_reader_get_room (reader, n_text), text, n_text);
  SbLog *slow = sb_log_reader_take (reader, n_text, NULL) ? sb_log_reader_finish (reader, NULL) : NULL;
  if (slow != NULL && log != NULL) {
    memcpy (slow->sha256, log->sha256, sizeof slow->sha256);
    slow->size_bytes = log->size_bytes;
  }
  return slow;
}

static void
check_same (const SbLog *log, const SbLog *other, const char *what)
{
  if ((log == NULL) != (other == NULL))
    broken (what);
  const char *difference = log != NULL ? log_difference (log, other) : NULL;
  if (difference == NULL)
    return;
  g_autofree char *message = g_strdup_printf ("%s: %s differs", what, difference);
  broken (message);
}

/* The layout is all that reading needs besides the bytes. */
static void
check_layout (const Input *input, const SbLog *log)
{
  SbReadOptions options = { .layout = log->layout };
  g_autoptr (GError) error = NULL;
  g_autoptr (SbLog) again = sb_log_read_memory_with ("fuzz.csv", input->bytes, input->n_bytes, 0, &options, &error);
  if (again == NULL)
    broken (error->message);
  check_same (log, again, "by its own layout");
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  Input input;
  gboolean packed = size > 1 && data[0] == 0x1f && data[1] == 0x8b;
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) cut_error = NULL;
  input_init (&input, (const char *) data, size);
  g_autoptr (SbLog) log = read_in_blocks (&input, 0, &error);
  if (log != NULL)
    check_log (log, input.bytes, size);
  else
    check_error (error);
  g_autoptr (SbLog) cut = read_in_blocks (&input, input.block_size, &cut_error);
  check_same (log, cut, "cut into blocks");
  if (log == NULL && strcmp (error->message, cut_error->message) != 0)
    broken ("cut into blocks: the reason differs");
  if (log != NULL)
    check_layout (&input, log);
  g_autoptr (SbLog) slow = packed ? NULL : read_by_way (&input, SB_ROWS_LIBCSV, log);
  g_autoptr (SbLog) portable = packed ? NULL : read_by_way (&input, SB_ROWS_PORTABLE, log);
  if (!packed) {
    check_same (log, slow, "by libcsv");
    check_same (log, portable, "without newer instructions");
  }
  return 0;
}
