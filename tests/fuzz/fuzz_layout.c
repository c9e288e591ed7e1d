/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes -> the reader of layout files. What it takes it must write and read back as the same layouts; what it does
 * not take it must explain in words. */
#include "broken.h"
#include "fuzz_target.h"
#include "layout_file.h"

#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

/* A file without a place on a disk, the same for every call. */
static const char *
put_in_file (const void *bytes, gsize n_bytes)
{
  static char path[64];
  static int fd = -1;
  if (fd < 0) {
    fd = memfd_create ("layout.json", MFD_CLOEXEC);
    g_snprintf (path, sizeof path, "/proc/self/fd/%d", fd);
  }
  if (fd < 0 || ftruncate (fd, 0) != 0 || pwrite (fd, bytes, n_bytes, 0) != (gssize) n_bytes)
    broken ("no file in memory");
  return path;
}

static void
check_round_trip (const GPtrArray *choices)
{
  g_autofree char *text = sb_layout_file_text (choices);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) again = sb_layout_file_read (put_in_file (text, strlen (text)), &error);
  if (again == NULL)
    broken (error->message);
  if (again->len != choices->len)
    broken ("a layout was lost on the way through its file");
  for (guint i = 0; i < choices->len; i++)
    if (!sb_layout_choice_equal (choices->pdata[i], again->pdata[i]))
      broken ("a layout is another after it was written and read");
  g_autofree char *text_again = sb_layout_file_text (again);
  if (strcmp (text, text_again) != 0)
    broken ("a file of layouts changes when it is written anew");
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) choices = sb_layout_file_read (put_in_file (data, size), &error);
  if (choices != NULL)
    check_round_trip (choices);
  else if (error == NULL || !g_utf8_validate (error->message, -1, NULL))
    broken ("no layouts, and no reason");
  return 0;
}
