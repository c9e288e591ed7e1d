#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Builds Slewbench and shows the demo bench: in the window, or as files where there is no display.
set -eu
cd "$(dirname "$0")/.."
. app/packages.sh

# shellcheck disable=SC2086 # words are wanted apart
need_packages $BUILD_PACKAGES
build build/release "app/slewbench app/slewbench-window" --buildtype=release
program=build/release/app/slewbench

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    if "$program" demo-data/demo.slewbench; then
        exit 0
    fi
    echo "The window could not be opened; writing the demo's results to files instead."
fi

# 1: done, with some rows left out. The demo has a spoiled repeat on purpose.
run() {
    "$program" "$@" || [ $? -eq 1 ] || fail "the demo could not be measured; the reason stands above."
}
run report -o build/demo-report demo-data/demo.slewbench 2>/dev/null
run measure demo-data/demo.slewbench
cat <<END

The demo's results are in build/demo-report:
  report.html              everything on one page
  chart.png, .svg, .pdf    the chart
  measures.csv, .txt       the table above
  methods.txt              how it was done
  results.json             every figure with its window and doubts
  SHA256SUMS               checksums of these files
With a display, this command opens the window.
END
