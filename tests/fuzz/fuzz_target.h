/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The function that libFuzzer calls, by the name it wants; replay.c calls it without libFuzzer. */
#pragma once

#include <stddef.h>
#include <stdint.h>

/* Stops the program when something does not hold for these bytes; always 0. */
__attribute__ ((visibility ("default"))) int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);
