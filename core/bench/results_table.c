/* SPDX-License-Identifier: GPL-3.0-or-later */
typedef int unused;
