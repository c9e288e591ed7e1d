/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of several columns of one role is read. */
#pragma once

#include "layout.h"

/* Leaves one column with the role, and makes the others read past, which is told where they say as much. A choice that
 * rests on nothing but their order, or against a stated unit, is asked about. */
void sb_roles_choose (SbLayout *layout, SbRole role);
