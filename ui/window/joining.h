/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes steps, fresh results and news of a document of what a folder watch sees. */
#pragma once

#include "document.h"

/* Listens to `watch` on behalf of `document`, which owns it. */
void sb_joining_connect (SbDocument *document, SbFolderWatch *watch);
