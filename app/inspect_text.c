/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "inspect_text.h"

#include "layout_words.h"
#include "number_text.h"
#include "wanted_options.h"

#include <math.h>
#include <stdio.h>

/* Columns that are not used are listed up to this number. */
#define MOST_UNUSED 40
/* Faults of one kind in one column are listed up to this number. */
#define FAULTS_OF_A_KIND 3

/* "semicolon between cells, decimal comma, thousands point, UTF-8, comments after '#'" */
static void
print_dialect (const SbLog *log)
{
  const SbLayout *layout = log->layout;
  printf ("  dialect       %s, decimal %s", sb_sign_word (SB_WORD_DELIMITER, layout->delimiter),
          sb_sign_word (SB_WORD_DECIMAL, layout->decimal));
  if (layout->thousands != '\0')
    printf (", thousands %s", sb_sign_word (SB_WORD_THOUSANDS, layout->thousands));
  printf (", quotes %s, %s", sb_sign_word (SB_WORD_QUOTE, layout->quote), sb_encoding_name (layout->encoding));
  if (layout->comment_prefix[0] != '\0')
    printf (", comments after '%s'", layout->comment_prefix);
  printf ("\n  lines         ");
  if (layout->header_line > 0)
    printf ("header at line %" G_GUINT64_FORMAT, layout->header_line);
  else
    printf ("no header");
  if (layout->units_line > 0)
    printf (", units at line %" G_GUINT64_FORMAT, layout->units_line);
  printf (", rows from line %" G_GUINT64_FORMAT, layout->first_line);
  if (layout->last_line > 0)
    printf (" to %" G_GUINT64_FORMAT, layout->last_line);
  guint64 n_tables = MAX (layout->n_tables, layout->table + 1 + log->n_other_tables);
  if (n_tables > 1)
    printf (", table %u of %" G_GUINT64_FORMAT, layout->table + 1, n_tables);
  printf ("\n");
}

/* Whether so many faults of the same kind and column are before that one. */
static gboolean
is_one_of_many (const SbLog *log, guint index)
{
  const SbFault *fault = g_ptr_array_index (log->faults, index);
  guint n = 0;
  for (guint i = 0; i < index && n < FAULTS_OF_A_KIND; i++) {
    const SbFault *other = g_ptr_array_index (log->faults, i);
    n += other->kind == fault->kind && g_strcmp0 (other->column, fault->column) == 0;
  }
  return n == FAULTS_OF_A_KIND;
}

/* Kinds first, because there may be thousands of each. */
static void
print_faults (const SbLog *log, gboolean all_faults)
{
  guint64 n_told = 0;
  for (guint i = 0; i < log->fault_groups->len; i++) {
    g_autofree char *text = sb_fault_group_text (g_ptr_array_index (log->fault_groups, i));
    printf ("  faults        %s\n", text);
  }
  for (guint i = 0; i < log->faults->len; i++) {
    const SbFault *fault = g_ptr_array_index (log->faults, i);
    if (!all_faults && is_one_of_many (log, i))
      continue;
    n_told++;
    /* What is told of a column without a header stands in no line. */
    g_autofree char *line = fault->line > 0 ? g_strdup_printf ("line %" G_GUINT64_FORMAT, fault->line) : g_strdup ("");
    printf ("  fault         %s%s%s%s%s%s\n", line, fault->line > 0 && fault->column != NULL ? ", " : "",
            fault->column != NULL ? "column " : "", fault->column != NULL ? fault->column : "",
            fault->line > 0 || fault->column != NULL ? ": " : "", fault->what);
  }
  if (log->n_faults > n_told)
    printf ("  fault         and %" G_GUINT64_FORMAT " more of these kinds%s\n", log->n_faults - n_told,
            all_faults ? "" : "; --all-faults lists them");
}

static void
print_step (const SbStep *step, gsize k)
{
  g_autofree char *at = sb_number_plain (step->edge_s), *base = sb_number_plain (step->base_nm),
                  *top = sb_number_plain (step->top_nm), *from = sb_number_plain (step->from_s),
                  *to = sb_number_plain (step->to_s);
  printf ("  step %-2" G_GSIZE_FORMAT "       at %s s, from %s to %s N·m; with %s s to %s s of the log\n", k, at, base,
          top, from, to);
}

/* Each with its place and levels when there are several. */
static void
print_steps (const SbTrial *trial)
{
  gsize n = sb_steps_count (trial->steps), k = 0;
  if (n < 2) {
    g_autofree char *at = sb_number_plain (trial->onset_s);
    printf ("  step          at %s s, from the %s%s\n", at, sb_onset_from_key (trial->onset_from),
            trial->mirrored ? ", downward (mirrored)" : "");
    return;
  }
  for (guint i = 0; i < trial->steps->len; i++) {
    const SbStep *step = &g_array_index (trial->steps, SbStep, i);
    if (!step->is_release)
      print_step (step, ++k);
  }
}

static void
print_asides (const SbLog *log)
{
  for (int i = 0; i < SB_N_ASIDES; i++) {
    const SbAside *aside = &log->aside[i];
    if (aside->n == 0)
      continue;
    g_autofree char *mean = sb_number_plain (aside->mean), *smallest = sb_number_plain (aside->smallest),
                    *largest = sb_number_plain (aside->largest);
    printf ("  %-13s mean %s %s, from %s to %s\n", sb_role_key (sb_inspected_role_of_aside (i)), mean,
            sb_role_unit (sb_inspected_role_of_aside (i)), smallest, largest);
  }
}

/* A number that the lines before the table state. */
static void
print_stated (const char *what, double value, const char *unit)
{
  g_autofree char *number = sb_number_plain (value);
  if (isfinite (value))
    printf ("  %-13s %s%s\n", what, number, unit);
}

/* What the lines before the table say, and the columns that are no signals. */
static void
print_circumstances (const SbLog *log)
{
  const struct {
    const char *what, *value;
  } words[] = {
    { "device", log->device }, { "firmware", log->firmware }, { "operator", log->operator_name }, { "date", log->date }
  };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].value != NULL)
      printf ("  %-13s %s\n", words[i].what, words[i].value);
  print_stated ("rotation", log->rotation_deg, "°");
  print_stated ("inertia", log->inertia_kg_m2, " kg·m²");
  for (guint i = 0; i < log->settings->len; i++) {
    const SbSetting *setting = g_ptr_array_index (log->settings, i);
    printf ("  setting       %s: %s\n", setting->name, setting->text);
  }
  print_asides (log);
}

/* A question stands below its column already. */
static void
print_notes (const GPtrArray *notes)
{
  for (guint i = 0; i < notes->len; i++)
    if (sb_notes_get (notes, i)->kind != SB_NOTE_COLUMN)
      printf ("  note          %s\n", sb_notes_text (notes, i));
}

/* "; -1.2 to 8.21 N·m", "; 12 to 65500 as written, in the first 20000 rows", "; no numbers" */
static void
print_range (const SbColumnRange *range)
{
  if (!range->is_known)
    return;
  /* A sign that was turned leaves -0. */
  g_autofree char *lowest = sb_number_plain (range->lowest + 0.0), *highest = sb_number_plain (range->highest + 0.0);
  if (range->n_numbers == 0)
    printf ("; no numbers");
  else
    printf ("; %s to %s %s", lowest, highest, range->unit != NULL ? range->unit : "as written");
  if (range->n_first_rows > 0)
    printf (", in the first %" G_GSIZE_FORMAT " rows", range->n_first_rows);
}

static gboolean
is_used (const SbLog *log, guint index)
{
  const SbLogColumn *column = g_ptr_array_index (log->columns, index);
  return column->role != SB_ROLE_OTHER || sb_layout_column (log->layout, index)->question != NULL;
}

static void
print_column (const SbInspected *inspected, guint index)
{
  const SbLog *log = inspected->log;
  const SbLogColumn *column = g_ptr_array_index (log->columns, index);
  gboolean read = column->role != SB_ROLE_OTHER;
  const char *unit = !read ? "" : column->unit[0] != '\0' ? column->unit : sb_role_unit (column->role);
  printf ("  column %-3u    %s: %s%s%s", index + 1, column->name, sb_inspected_role (column), read ? ", in " : "",
          unit);
  SbColumnRange range = sb_inspected_range (inspected, index);
  print_range (&range);
  double stated = sb_layout_column (log->layout, index)->factor;
  g_autofree char *factor = sb_number_plain (stated);
  if (read && isfinite (stated))
    printf ("; written values times %s", factor);
  double zero_v = sb_layout_column (log->layout, index)->torque_zero_v;
  g_autofree char *zero = sb_number_plain (zero_v);
  if (read && isfinite (zero_v))
    printf ("; %s%s V taken off", isfinite (stated) ? "then " : "", zero);
  printf ("\n");
  const char *question = sb_layout_column (log->layout, index)->question;
  const char *option = sb_wanted_option (log->layout, index);
  if (question != NULL)
    printf ("  question      %s%s%s%s\n", question, option != NULL ? " (" : "", option != NULL ? option : "",
            option != NULL ? ")" : "");
}

static void
print_columns (const SbInspected *inspected, gboolean all_columns)
{
  const SbLog *log = inspected->log;
  guint n_unused = 0;
  for (guint i = 0; i < log->columns->len; i++)
    n_unused += is_used (log, i) ? 0 : 1;
  gboolean whole = all_columns || n_unused <= MOST_UNUSED;
  for (guint i = 0; i < log->columns->len; i++)
    if (whole || is_used (log, i))
      print_column (inspected, i);
  if (!whole)
    printf ("  columns       and %u columns that are not used; --all-columns lists them\n", n_unused);
}

void
sb_inspect_text_print (const SbInspected *inspected, gboolean all_columns, gboolean all_faults)
{
  const SbLog *log = inspected->log;
  g_autofree char *reason = NULL;
  g_autoptr (SbTrial) trial = sb_inspected_trial (inspected, &reason);
  printf ("%s\n", log->path);
  printf ("  sha256        %s\n", log->sha256);
  print_dialect (log);
  print_columns (inspected, all_columns);
  print_circumstances (log);
  printf ("  rows          %" G_GSIZE_FORMAT " read, %" G_GSIZE_FORMAT " left out\n", log->n_rows,
          log->n_rows_left_out);
  if (trial != NULL) {
    g_autofree char *rate = sb_number_plain (1 / trial->sample_interval_s);
    g_autofree char *jitter = sb_seconds_plain (trial->jitter_s);
    printf ("  rate          %s sample%s per second, jitter %s, %u gap%s\n", rate, strcmp (rate, "1") == 0 ? "" : "s",
            jitter, trial->gaps->len, trial->gaps->len == 1 ? "" : "s");
    print_steps (trial);
  } else {
    printf ("  step          none: %s\n", reason);
  }
  print_notes (trial != NULL ? trial->notes : log->notes);
  print_faults (log, all_faults);
}
