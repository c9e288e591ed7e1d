#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Writes the accuracy tables into docs/methods.md, between its markers. Takes about two minutes.
#   sh tests/accuracy/run.sh [DRAWS]
set -eu
cd "$(dirname "$0")/../.."
build=build/accuracy
[ -d "$build" ] || meson setup "$build" --buildtype=release >/dev/null
ninja -C "$build" tests/accuracy/write_tables tests/accuracy/write_audit_table >/dev/null
tables=$(mktemp)
trap 'rm -f "$tables"' EXIT
"$build/tests/accuracy/write_tables" "${1:-400}" >"$tables"
awk -v tables="$tables" '
    /<!-- accuracy tables: end -->/ { inside = 0 }
    !inside { print }
    /<!-- accuracy tables: begin/ { inside = 1; while ((getline line < tables) > 0) print line }
' docs/methods.md >"$tables.new"
mv "$tables.new" docs/methods.md
