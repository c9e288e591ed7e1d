/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Members of a session that this version does not know: a later one wrote them. They stay with what they were written
 * about (the bench, a configuration, a trial, a layout) and are written back to it, so that nothing is lost when an
 * older program saves.
 *
 * A member is known when the bench that was read writes it too, so nothing has to be listed for a new choice; what is
 * left out while it says nothing is in a list of unknown_members.c. */
#pragma once

#include "bench.h"

#include <json-glib/json-glib.h>

/* `read`: root of the session that `bench`, which is not shared yet, was read from; `written`: the same as this version
 * would write it. */
void sb_unknown_members_keep (SbBench *bench, JsonObject *read, JsonObject *written);

/* Puts what is kept into `written`, the root of a session that was built of `bench`. */
void sb_unknown_members_put_back (const SbBench *bench, JsonObject *written);
