/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many draws a simulation takes. Statistics are judged by the plain build; the one with sanitizers, a fifth as
 * fast, is there for memory and undefined behaviour, for which an eighth is plenty. Limits follow the number taken. */
#pragma once

#ifdef __SANITIZE_ADDRESS__
#define DRAWS(n) ((n) / 8)
#else
#define DRAWS(n) (n)
#endif
