/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory of long columns, used again from log to log. A batch run reads one long log after the other and keeps none of
 * them: memory fresh from the system is cleared page by page, which costs as much as reading a log does.
 *
 * Shared by the threads that read and by the logs made from it; goes when the last of them goes. */
#pragma once

#include <glib.h>

typedef struct SbColumnPool SbColumnPool;

SbColumnPool *sb_column_pool_new (void);
SbColumnPool *sb_column_pool_ref (SbColumnPool *pool);
void sb_column_pool_unref (SbColumnPool *pool);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SbColumnPool, sb_column_pool_unref)
