/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs that no reader of them could tell apart: for cmocka tests and for programs without it. */
#pragma once

#include "log.h"

#include <string.h>

static inline gboolean
same_fault (const SbFault *a, const SbFault *b)
{
  return a->line == b->line && strcmp (a->what, b->what) == 0 && g_strcmp0 (a->column, b->column) == 0;
}

static inline gboolean
same_column (const SbLogColumn *a, const SbLogColumn *b)
{
  return strcmp (a->name, b->name) == 0 && strcmp (a->unit, b->unit) == 0 && a->channel == b->channel
         && memcmp (&a->factor, &b->factor, sizeof a->factor) == 0;
}

static inline gboolean
same_setting (const SbSetting *a, const SbSetting *b)
{
  return strcmp (a->name, b->name) == 0 && strcmp (a->text, b->text) == 0 && strcmp (a->unit, b->unit) == 0;
}

/* Bit for bit. */
static inline const char *
difference_of_values (const SbLog *a, const SbLog *b)
{
  for (int c = 0; c < SB_N_CHANNELS; c++) {
    if ((a->channel[c] == NULL) != (b->channel[c] == NULL))
      return "the channels there are";
    if (a->channel[c] != NULL && memcmp (a->channel[c], b->channel[c], a->n_rows * sizeof (double)) != 0)
      return "a value";
  }
  return NULL;
}

static inline const char *
difference_of_lists (const SbLog *a, const SbLog *b)
{
  if (a->faults->len != b->faults->len || a->columns->len != b->columns->len || a->settings->len != b->settings->len
      || a->fault_groups->len != b->fault_groups->len || a->notes->len != b->notes->len)
    return "the length of a list";
  for (guint i = 0; i < a->faults->len; i++)
    if (!same_fault (a->faults->pdata[i], b->faults->pdata[i]))
      return "a fault";
  for (guint i = 0; i < a->columns->len; i++)
    if (!same_column (a->columns->pdata[i], b->columns->pdata[i]))
      return "a column";
  for (guint i = 0; i < a->settings->len; i++)
    if (!same_setting (a->settings->pdata[i], b->settings->pdata[i]))
      return "a setting";
  for (guint i = 0; i < a->notes->len; i++)
    if (strcmp (sb_notes_text (a->notes, i), sb_notes_text (b->notes, i)) != 0)
      return "a note";
  return NULL;
}

static inline const char *
difference_of_places (const SbLog *a, const SbLog *b)
{
  if (a->end_line != b->end_line)
    return "the line behind the table";
  if (a->setbacks->len != b->setbacks->len)
    return "how often the clock is set back";
  for (guint i = 0; i < a->setbacks->len; i++) {
    const SbSetback *one = &g_array_index (a->setbacks, SbSetback, i),
                    *other = &g_array_index (b->setbacks, SbSetback, i);
    if (one->row != other->row || one->line != other->line || one->n_rows != other->n_rows)
      return "where the clock is set back";
  }
  if (a->jumps->len != b->jumps->len)
    return "how often the clock jumps ahead";
  for (guint i = 0; i < a->jumps->len; i++)
    if (g_array_index (a->jumps, SbJump, i).row != g_array_index (b->jumps, SbJump, i).row
        || g_array_index (a->jumps, SbJump, i).line != g_array_index (b->jumps, SbJump, i).line)
      return "where the clock jumps ahead";
  return NULL;
}

/* In which way the two differ; NULL when they do not. */
static inline const char *
log_difference (const SbLog *a, const SbLog *b)
{
  if (a->n_rows != b->n_rows)
    return "the number of rows";
  if (a->n_rows_left_out != b->n_rows_left_out)
    return "the number of rows left out";
  if (a->n_faults != b->n_faults)
    return "the number of faults";
  if (a->n_repeated_headers != b->n_repeated_headers)
    return "the number of repeated headers";
  if (strcmp (a->sha256, b->sha256) != 0 || a->size_bytes != b->size_bytes)
    return "the digest or size";
  if (a->delimiter != b->delimiter || a->decimal != b->decimal || a->header_line != b->header_line)
    return "the dialect";
  const char *difference = difference_of_places (a, b);
  if (difference == NULL)
    difference = difference_of_lists (a, b);
  return difference != NULL ? difference : difference_of_values (a, b);
}
