/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The methods text on what the columns of the logs were taken for. Inside of methods_text.c. */
#pragma once

#include "analysis.h"

/* Adds a sentence for each thing that a reader could not see from the columns' names: a guess, a unit that was taken or
 * stated otherwise, and what an ampere, a volt, a count, a percent or the number of a sample stands for. Each once. */
void sb_methods_columns_append (GString *text, const SbConfigurationResult *configuration);
