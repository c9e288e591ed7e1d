/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof_seal.h"

#include "json_members.h"

#include <string.h>

#define MEMBER "seal"

static void
append_escape (GString *line, gunichar unit)
{
  g_string_append_printf (line, "\\u%04x", unit);
}

char *
sb_proof_line (JsonNode *node)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  json_generator_set_root (generator, node);
  g_autofree char *text = json_generator_to_data (generator, NULL);
  GString *line = g_string_sized_new (strlen (text));
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c)) {
    gunichar character = g_utf8_get_char (c);
    if (character >= 0x10000) {
      append_escape (line, 0xd800 + ((character - 0x10000) >> 10));
      append_escape (line, 0xdc00 + ((character - 0x10000) & 0x3ff));
    } else if (character > 0x7e || strchr ("<>&", (int) character) != NULL) {
      append_escape (line, character);
    } else {
      g_string_append_c (line, (char) character);
    }
  }
  return g_string_free (line, FALSE);
}

static char *
sum_of (JsonNode *node)
{
  g_autofree char *line = sb_proof_line (node);
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, line, -1);
}

void
sb_proof_seal (JsonNode *node)
{
  g_autofree char *seal = sum_of (node);
  json_object_set_string_member (json_node_get_object (node), MEMBER, seal);
}

/* The members of `object` but the seal; borrowed values. */
static JsonNode *
without_seal (JsonObject *object)
{
  g_autoptr (JsonObject) rest = json_object_new ();
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;
  json_object_iter_init_ordered (&iter, object);
  while (json_object_iter_next_ordered (&iter, &name, &member))
    if (strcmp (name, MEMBER) != 0)
      json_object_set_member (rest, name, json_node_copy (member));
  JsonNode *node = json_node_new (JSON_NODE_OBJECT);
  json_node_set_object (node, rest);
  return node;
}

gboolean
sb_proof_seal_fits (JsonNode *node)
{
  JsonObject *object = json_node_get_object (node);
  JsonNode *seal = sb_json_value (object, MEMBER, G_TYPE_STRING);
  g_autoptr (JsonNode) rest = without_seal (object);
  g_autofree char *sum = sum_of (rest);
  return seal != NULL && strcmp (json_node_get_string (seal), sum) == 0;
}
