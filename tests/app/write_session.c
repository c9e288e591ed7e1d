/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes a session in which every member of the format occurs: write_session PATH. */
#include "bench_claims.h"
#include "layout_json.h"
#include "session.h"

#include <stdio.h>

static SbLayoutChoice *
layout (void)
{
  g_autoptr (JsonNode) node = json_from_string (
      "{\"name\": \"rig\", \"encoding\": \"UTF-8\", \"delimiter\": \"tab\", \"decimal\": \"comma\", "
      "\"thousands\": \"none\", \"quote\": \"none\", \"comment_prefix\": \"%\", \"header_line\": 1, "
      "\"units_line\": 2, \"table\": 1, \"sample_rate_hz\": 1000, \"columns\": [{\"name\": \"a\", "
      "\"role\": \"angle\", \"unit\": \"counts\", \"counts_per_turn\": 4096, \"wrap\": 0}, "
      "{\"name\": \"i\", \"role\": \"current\", \"unit\": \"A\", \"torque_constant_nm_per_a\": 2}, "
      "{\"name\": \"t\", \"role\": \"torque\", \"unit\": \"%\", \"full_scale\": 20}]}",
      NULL);
  return sb_layout_choice_parse (node, SB_UNKNOWN_MEMBERS_REFUSED, NULL);
}

static void
add_trial (SbBench *bench)
{
  SbTrialEntry entry = { .path = g_ref_string_new ("/logs/a/run-1.csv"),
                         .step = 1,
                         .n_steps = 2,
                         .kept_whole = TRUE,
                         .exclusion_reason = g_ref_string_new ("loose"),
                         .choices = { .onset_s = 0.2, .active_end_s = 0.4, .from_s = 0.1, .to_s = 0.5 },
                         .layout = layout () };
  g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, "log", -1);
  entry.sha256 = g_ref_string_new (sha256);
  entry.size_bytes = 3;
  sb_bench_add_entry (bench, 0, &entry);
  sb_trial_entry_clear (&entry);
}

int
main (int argc, char *argv[])
{
  if (argc != 2)
    return 2;
  g_autoptr (SbBench) bench = sb_bench_new ();
  g_autoptr (GError) error = NULL;
  sb_bench_add_configuration (bench, "a", NULL, 0);
  sb_bench_set_folder (bench, 0, "/logs/a", "/logs");
  add_trial (bench);
  bench->passed_over = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (bench->passed_over, g_strdup ("/logs/a/run-2.csv"));
  bench->layouts = sb_layout_choices_new ();
  g_ptr_array_add (bench->layouts, layout ());
  const char *settings[] = { "torque slope" };
  sb_bench_set_audits (bench, settings, 1);
  const char *const claims[] = { "a: peak_torque >= 5 N·m", "Teasel: peak_torque about 5 N·m ± 10 %" };
  for (gsize i = 0; i < G_N_ELEMENTS (claims); i++) {
    SbClaim *claim = sb_claim_parse (bench, claims[i], &error);
    if (claim == NULL)
      break;
    sb_bench_add_claim (bench, claim);
    sb_claim_free (claim);
  }
  if (error == NULL && sb_session_save (bench, NULL, argv[1], &error))
    return 0;
  fprintf (stderr, "%s\n", error->message);
  return 1;
}
