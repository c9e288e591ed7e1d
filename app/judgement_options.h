/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options --audit, --claim and --verdict-word. */
#pragma once

#include "arguments.h"

/* Puts the settings and stated figures into the bench. A figure of a configuration that may yet come of cutting logs
 * goes to `waiting` (NULL: none waits). What is wrong, as a sentence, or NULL. (transfer full) */
char *sb_judgement_options_apply (char *const *audits, char *const *claims, SbBench *edited, GPtrArray *waiting);

/* Puts the words of --verdict-word into the bench; what is wrong, likewise. (transfer full) */
char *sb_word_options_apply (char *const *words, SbBench *edited);

/* Says on stderr which stated figures are of nothing that was measured: SB_EXIT_LEFT_OUT then. */
SbExitStatus sb_judgement_options_say_unmet (const SbAnalysis *analysis);
