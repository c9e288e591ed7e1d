#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# How long the window takes to its first frame, and to the curves of the demo bench, against an empty window of the
# toolkit, in turn on one private screen. Not part of the tests.
#
#     sh tests/bench/window.sh BUILD      BUILD of a release build: build/release
set -eu
[ $# -eq 1 ] || { echo "usage: sh tests/bench/window.sh BUILD" >&2; exit 64; }
build=$(realpath "$1")
cd "$(dirname "$0")/../.."
ninja -C "$build" tests/bench/bench_window >/dev/null
export GDK_DEBUG=gl-disable GSK_RENDERER=cairo

# shellcheck disable=SC2016 # expanded by the inner shell
tests/window/headless sh -c '
    for turn in 1 2 3 4 5 6 7 8 9; do
        "$1" empty | sed "s/^/empty_/"
        "$1" page | sed "s/^/page_/"
        "$1" bench "$2" | sed "s/^/bench_/"
    done' sh "$build/tests/bench/bench_window" "$PWD/demo-data" | sort -k1,1 -k2,2n | awk '
    { if ($1 != name) { name = $1; n = 0 } value[name, ++n] = $2; count[name] = n }
    function median(name) { return value[name, int((count[name] + 1) / 2)] }
    END {
        empty = median("empty_first_frame"); page = median("page_first_frame")
        frame = median("bench_first_frame"); curves = median("bench_all_curves")
        printf "empty window of the toolkit   %6.1f ms to the first frame (median of 9)\n", empty
        printf "first page                    %6.1f ms, %.2f times that (goal: 2)\n", page, page / empty
        printf "demo bench                    %6.1f ms to the first frame, %.2f times that\n", frame, frame / empty
        printf "                              %6.1f ms to all curves, %.1f ms later (goal: 150)\n", curves, curves - frame
    }'
