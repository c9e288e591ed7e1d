/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "prefix_code.h"

#include <stdlib.h>

typedef struct {
  guint64 count;
  guint symbol;
  guint parent;
} Node;

static int
by_count (const void *a, const void *b)
{
  const Node *one = a, *other = b;
  if (one->count != other->count)
    return one->count < other->count ? -1 : 1;
  return one->symbol < other->symbol ? -1 : 1;
}

/* The rarer of the next leaf and the next inner node; a leaf among equals. */
static guint
take_rarest (const Node *nodes, guint n_leaves, guint *leaf, guint *inner, guint n_nodes)
{
  gboolean take_leaf = *leaf < n_leaves && (*inner == n_nodes || nodes[*leaf].count <= nodes[*inner].count);
  return take_leaf ? (*leaf)++ : (*inner)++;
}

/* Huffman 1952, with two queues: leaves by their count, inner nodes as they are made. Returns the longest length. */
static guint
find_lengths (const guint32 *count, guint n, guint shift, guint8 *length)
{
  Node nodes[2 * SB_PREFIX_SYMBOLS];
  guint depth[2 * SB_PREFIX_SYMBOLS], n_leaves = 0, longest = 0;
  for (guint s = 0; s < n; s++) {
    length[s] = 0;
    if (count[s] > 0)
      nodes[n_leaves++] = (Node){ (count[s] >> shift) + 1, s, 0 };
  }
  qsort (nodes, n_leaves, sizeof *nodes, by_count);
  guint leaf = 0, inner = n_leaves, n_nodes = n_leaves;
  while (n_nodes < 2 * n_leaves - 1) {
    guint a = take_rarest (nodes, n_leaves, &leaf, &inner, n_nodes);
    guint b = take_rarest (nodes, n_leaves, &leaf, &inner, n_nodes);
    nodes[a].parent = nodes[b].parent = n_nodes;
    nodes[n_nodes++] = (Node){ nodes[a].count + nodes[b].count, 0, 0 };
  }
  depth[n_nodes - 1] = 0;
  for (guint i = n_nodes - 1; i-- > 0;) {
    depth[i] = depth[nodes[i].parent] + 1;
    longest = MAX (longest, depth[i]);
    if (i < n_leaves)
      length[nodes[i].symbol] = (guint8) depth[i];
  }
  return longest;
}

static guint16
reversed (guint code, guint length)
{
  guint bits = 0;
  for (guint i = 0; i < length; i++)
    bits |= (code >> i & 1) << (length - 1 - i);
  return (guint16) bits;
}

/* RFC 1951, 3.2.2: codes of one length follow each other in the order of their symbols. */
static void
number_codes (SbPrefixCode *code, guint n)
{
  guint n_of_length[SB_PREFIX_LONGEST + 1] = { 0 }, next[SB_PREFIX_LONGEST + 1] = { 0 };
  for (guint s = 0; s < n; s++)
    n_of_length[code->length[s]]++;
  n_of_length[0] = 0;
  for (guint l = 1; l <= SB_PREFIX_LONGEST; l++)
    next[l] = (next[l - 1] + n_of_length[l - 1]) << 1;
  for (guint s = 0; s < n; s++)
    code->bits[s] = code->length[s] > 0 ? reversed (next[code->length[s]]++, code->length[s]) : 0;
}

/* Counts that are made more alike give shorter codes; shifted by all their bits they are equal. */
void
sb_prefix_code_init (SbPrefixCode *code, const guint32 *count, guint n)
{
  g_assert (n <= SB_PREFIX_SYMBOLS);
  guint shift = 0;
  while (find_lengths (count, n, shift, code->length) > SB_PREFIX_LONGEST)
    shift++;
  number_codes (code, n);
}
