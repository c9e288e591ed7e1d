/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding logs again that are gone or changed (locate_logs.h): asks for a folder, looks in the background, tells in the
 * window what was found. */
#pragma once

#include "window.h"

void sb_locating_ask (SbWindow *window);
