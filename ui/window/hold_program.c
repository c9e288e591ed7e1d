/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hold_program.h"

#include <gio/gio.h>

void
sb_hold_program (void)
{
  if (g_application_get_default () != NULL)
    g_application_hold (g_application_get_default ());
}

void
sb_release_program (void)
{
  if (g_application_get_default () != NULL)
    g_application_release (g_application_get_default ());
}
