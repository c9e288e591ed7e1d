#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Writes the accuracy tables and the table of the setting audit into docs/methods.md, between their markers. Takes
# about a quarter of an hour.
#   sh tests/accuracy/run.sh [DRAWS [DRIVES]]
set -eu
cd "$(dirname "$0")/../.."
build=build/accuracy
[ -d "$build" ] || meson setup "$build" --buildtype=release >/dev/null
ninja -C "$build" tests/accuracy/write_tables tests/accuracy/write_audit_table >/dev/null
tables=$(mktemp)
trap 'rm -f "$tables" "$tables.new"' EXIT

# put MARKER PROGRAM NUMBER: what the program prints, between the markers
put() {
    "$build/tests/accuracy/$2" "$3" >"$tables"
    awk -v tables="$tables" -v marker="<!-- $1: " '
        index($0, marker "end") == 1 { inside = 0 }
        !inside { print }
        index($0, marker "begin") == 1 { inside = 1; while ((getline line < tables) > 0) print line }
    ' docs/methods.md >"$tables.new"
    cat "$tables.new" >docs/methods.md
}
put 'accuracy tables' write_tables "${1:-400}"
put 'audit table' write_audit_table "${2:-1000}"
