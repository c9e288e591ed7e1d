/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads logs in one of several ways and says how long it took: read_logs WAY THREADS FILE...
 *
 *     lines    counts line ends; the floor of any reader
 *     libcsv   libcsv with empty callbacks: what splitting alone costs
 *     import   our importer; all columns stay in memory
 *
 *     touch    reads nothing and touches half as much memory again as the logs have bytes: where the host of a virtual
 * machine takes back free memory, the next program need not wait until it is given again
 *
 * Prints seconds, seconds of processor time, bytes of the columns kept, and bytes of memory that were needed at the
 * most while reading. */
#include "log.h"

#include <csv.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK_SIZE ((gsize) 1 << 20)

typedef struct {
  const char *way;
  SbLog **logs;
  char **paths;
} Job;

/* Gives the file to `take` block by block. */
static void
read_blocks (const char *path, void (*take) (const char *block, gsize n_bytes, gpointer data), gpointer data)
{
  g_autofree char *block = g_malloc (BLOCK_SIZE);
  int fd = open (path, O_RDONLY | O_CLOEXEC);
  for (ssize_t n; fd >= 0 && (n = read (fd, block, BLOCK_SIZE)) > 0;)
    take (block, (gsize) n, data);
  if (fd >= 0)
    close (fd);
}

static void
take_lines (const char *block, gsize n_bytes, gpointer data)
{
  guint64 *n_lines = data;
  const char *end = block + n_bytes;
  for (const char *p = block; (p = memchr (p, '\n', (gsize) (end - p))) != NULL; p++)
    ++*n_lines;
}

static void
on_cell (void *text, size_t length, void *data)
{
  guint64 *n_cells = data;
  ++*n_cells;
}

static void
take_cells (const char *block, gsize n_bytes, gpointer data)
{
  guint64 n_cells = 0;
  csv_parse (data, block, n_bytes, on_cell, NULL, &n_cells);
}

static void
touch (const char *path)
{
  struct stat facts;
  gsize step = (gsize) 2 << 20; /* a huge page */
  gsize n_bytes = stat (path, &facts) == 0 ? (gsize) facts.st_size * 3 / 2 / step * step + step : step;
  char *memory = aligned_alloc (step, n_bytes);
  madvise (memory, n_bytes, MADV_HUGEPAGE);
  memset (memory, 1, n_bytes); /* not freed: the next file is to touch more */
}

static void
read_one (gpointer data, gpointer user_data)
{
  const Job *job = user_data;
  guint i = GPOINTER_TO_UINT (data) - 1;
  if (strcmp (job->way, "lines") == 0) {
    guint64 n_lines = 0;
    read_blocks (job->paths[i], take_lines, &n_lines);
  } else if (strcmp (job->way, "libcsv") == 0) {
    struct csv_parser parser;
    csv_init (&parser, 0);
    read_blocks (job->paths[i], take_cells, &parser);
    csv_free (&parser);
  } else if (strcmp (job->way, "touch") == 0) {
    touch (job->paths[i]);
  } else {
    job->logs[i] = sb_log_read (job->paths[i], NULL, NULL, NULL, NULL);
  }
}

static double
processor_seconds (void)
{
  struct rusage used;
  getrusage (RUSAGE_SELF, &used);
  return (double) (used.ru_utime.tv_sec + used.ru_stime.tv_sec)
         + 1e-6 * (double) (used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

/* Bytes of a line of the process's status, "VmHWM" or "VmRSS". */
static guint64
memory (const char *name)
{
  g_autofree char *status = NULL;
  const char *line = g_file_get_contents ("/proc/self/status", &status, NULL, NULL) ? strstr (status, name) : NULL;
  return line != NULL ? g_ascii_strtoull (line + strlen (name) + 1, NULL, 10) * 1024 : 0;
}

/* FALSE when a log was not read. */
static gboolean
count_kept (const Job *job, guint n_files, guint64 *n_bytes)
{
  for (guint i = 0; strcmp (job->way, "import") == 0 && i < n_files; i++) {
    if (job->logs[i] == NULL)
      return FALSE;
    for (int c = 0; c < SB_N_CHANNELS; c++)
      *n_bytes += job->logs[i]->channel[c] != NULL ? job->logs[i]->n_rows * sizeof (double) : 0;
  }
  return TRUE;
}

int
main (int argc, char **argv)
{
  static const char *const ways[] = { "lines", "libcsv", "import", "touch", NULL };
  int n_threads = argc > 3 ? atoi (argv[2]) : 0;
  if (n_threads < 1 || !g_strv_contains (ways, argv[1])) {
    fprintf (stderr, "usage: read_logs lines|libcsv|import|touch THREADS FILE...\n");
    return EXIT_FAILURE;
  }
  guint n_files = (guint) argc - 3;
  g_autofree SbLog **logs = g_new0 (SbLog *, n_files);
  Job job = { argv[1], logs, argv + 3 };
  guint64 before = memory ("VmRSS"), n_kept = 0;
  gint64 start = g_get_monotonic_time ();
  double start_processor = processor_seconds ();
  GThreadPool *pool = g_thread_pool_new (read_one, &job, n_threads, TRUE, NULL);
  for (guint i = 0; i < n_files; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  double seconds = (double) (g_get_monotonic_time () - start) * 1e-6;
  double processor = processor_seconds () - start_processor;
  guint64 needed = memory ("VmHWM") - before;
  gboolean good = count_kept (&job, n_files, &n_kept);
  printf ("%.6f %.6f %" G_GUINT64_FORMAT " %" G_GUINT64_FORMAT "\n", seconds, processor, n_kept, needed);
  for (guint i = 0; i < n_files; i++)
    sb_log_unref (logs[i]);
  return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
