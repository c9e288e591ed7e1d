#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test, once plain and once under AddressSanitizer and UBSan; a minute of the fuzzer, which brings its own. Needs
# nothing but this tree and Debian's packages.
set -eu
cd "$(dirname "$0")/.."
. app/packages.sh

# shellcheck disable=SC2086 # words are wanted apart
need_packages $BUILD_PACKAGES $TEST_PACKAGES
# shellcheck disable=SC2086 # words are wanted apart
want_packages "the comparison with SciPy" $OPTIONAL_TEST_PACKAGES
# shellcheck disable=SC2086 # words are wanted apart
want_packages "the comparison with GNU Octave" $OCTAVE_TEST_PACKAGES
# No more to debug with than the lines of a stack that the sanitizers print: it is a sixth of what compiling takes.
build build/test "" --buildtype=debugoptimized -Ddebug=false -Ddefault_library=shared
build build/sanitize "" --buildtype=debugoptimized -Ddebug=false -Dc_args=-g1 -Ddefault_library=shared -Db_sanitize=address,undefined -Db_lundef=false

# Without always-malloc, objects from GLib's slices are invisible to the leak checker; mesa's are not ours.
export G_SLICE=always-malloc GDK_DEBUG=gl-disable LC_ALL=C.UTF-8
export ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1
export UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
export LSAN_OPTIONS=suppressions="$PWD/tests/window/lsan.supp":print_suppressions=0

passed=0 failed=0 skipped=0
for folder in build/test build/sanitize; do
    echo "== $folder"
    except=
    [ "$folder" = build/test ] || except="--no-suite fuzzer"
    # shellcheck disable=SC2086 # words are wanted apart
    meson test -C "$folder" --no-rebuild --timeout-multiplier 4 --print-errorlogs $except || true
    counts=$(python3 - "$folder/meson-logs/testlog.json" <<'END'
import json, sys
results = [json.loads(line)["result"] for line in open(sys.argv[1])]
good = sum(r in ("OK", "EXPECTEDFAIL") for r in results)
skip = results.count("SKIP")
print(good, len(results) - good - skip, skip)
END
    ) || fail "no test ran in $folder."
    # shellcheck disable=SC2086 # three numbers
    set -- $counts
    passed=$((passed + $1)) failed=$((failed + $2)) skipped=$((skipped + $3))
done

echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
