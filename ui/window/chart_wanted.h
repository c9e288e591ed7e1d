/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a sheet asks for what is shown by the time that it is to be written. */
#pragma once

#include "chart_model.h"

/* Borrowed user_data. (transfer full); NULL: nothing is shown any more */
typedef SbChartModel *(*SbChartWanted) (gpointer user_data);
