/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saving a window's session, with the questions that go with it. */
#pragma once

#include "window.h"

void sb_saving_save (SbWindow *window);    /* to its file; asks for one when there is none */
void sb_saving_save_as (SbWindow *window); /* asks for a file */

/* Asks whether to save; closes the window when it is saved, or when it need not be. */
void sb_saving_ask_before_close (SbWindow *window);
