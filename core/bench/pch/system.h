/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What nearly every file here includes from outside, read by the compiler once for all of them: about half of what
 * compiling this folder takes. Each file names what it uses all the same; -Db_pch=false builds without. */
#include <json-glib/json-glib.h>

#include <math.h>
#include <string.h>
