/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a fuzz target says that a promise was broken: as a sanitizer does, by the end of the program. */
#pragma once

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

G_NORETURN static inline void
broken (const char *what)
{
  fprintf (stderr, "fuzz: %s\n", what);
  abort ();
}
