#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The coverage-guided fuzzer (libFuzzer) on the log importer and the readers of layout files and of proofs, for SECONDS in
# all.
#
#     sh tests/fuzz/run.sh SECONDS [BUILD [TARGET]]      TARGET: log, layout or proof; all, two thirds for logs, when left out
#
# Builds with clang, AddressSanitizer and UBSan in BUILD (build/fuzz when left out), where the inputs it found to reach
# new code are kept for the next run (corpus-TARGET). An input that breaks something is left there as found-TARGET-*,
# and the exit status is 1. FUZZ_SEED=N in the environment makes a run that can be repeated. Needs the Debian packages
# clang and libclang-rt-14-dev; exit status 77 without them.
set -eu

fail() {
    echo "fuzz: $*" >&2
    exit "${status:-1}"
}

usage="usage: sh tests/fuzz/run.sh SECONDS [BUILD [log|layout|proof]]"
{ [ $# -ge 1 ] && [ $# -le 3 ]; } || fail "$usage"
case $1 in '' | *[!0-9]*) fail "$usage" ;; esac
seconds=$1 here=$(realpath "$(dirname "$0")")
top=$(realpath "$here/../..")
build=${2:-$top/build/fuzz}

mkdir -p "$build"
build=$(realpath "$build")
echo 'int LLVMFuzzerTestOneInput(const unsigned char *d, unsigned long n) { return d[n - 1] * 0; }' >"$build/try.c"
clang -fsanitize=fuzzer "$build/try.c" -o "$build/try" 2>/dev/null || {
    status=77
    fail "clang with libFuzzer is missing. Install: clang libclang-rt-14-dev"
}
if [ ! -f "$build/meson/build.ninja" ]; then
    # fuzzer-no-link: the library reports its coverage, the target alone brings a main. gcc's warnings are the build's.
    CC=clang meson setup "$build/meson" "$top" --buildtype=debugoptimized -Dwerror=false -Db_lundef=false \
        -Db_sanitize=address,undefined -Dc_args="-fsanitize=fuzzer-no-link -w" >"$build/setup.txt" 2>&1 || {
        tail -n 20 "$build/setup.txt" >&2
        fail "the build could not be set up"
    }
fi
ninja -C "$build/meson" tests/fuzz/fuzz_log tests/fuzz/fuzz_layout tests/fuzz/fuzz_proof >"$build/build.txt" 2>&1 || {
    tail -n 40 "$build/build.txt" >&2
    fail "the build failed"
}

export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
export G_SLICE=always-malloc

# fuzz TARGET SECONDS SEEDS...: prints the last line of progress, or how it broke.
broken=0
fuzz() {
    target=$1 time=$2
    shift 2
    mkdir -p "$build/corpus-$target"
    # Inputs stay small: what a long log does, a short one does faster. A block of 1 MiB is cut by the target.
    if nice -n 19 "$build/meson/tests/fuzz/fuzz_$target" -max_total_time="$time" -max_len=4096 -timeout=20 \
        -rss_limit_mb=2048 -dict="$here/$target.dict" -artifact_prefix="$build/found-$target-" \
        -print_final_stats=1 -seed="${FUZZ_SEED:-0}" "$build/corpus-$target" "$@" >"$build/$target.txt" 2>&1; then
        echo "$target: $(grep 'DONE' "$build/$target.txt")"
        grep '^stat::number_of_executed_units' "$build/$target.txt"
        return 0
    fi
    tail -n 60 "$build/$target.txt" >&2
    echo "fuzz: $target broke; the input is $build/found-$target-*" >&2
    broken=1
}

corpus=$top/tests/core/import/corpus
[ -d "$corpus" ] || corpus=
logs="$here/regressions/log $here/seeds/log $corpus" layouts="$here/regressions/layout $here/seeds/layout"
proofs="$here/regressions/proof $here/seeds/proof"
# shellcheck disable=SC2086 # folders are wanted apart
case ${3:-all} in
log) fuzz log "$seconds" $logs ;;
layout) fuzz layout "$seconds" $layouts ;;
proof) fuzz proof "$seconds" $proofs ;;
all)
    fuzz log "$((seconds * 2 / 3))" $logs
    fuzz proof "$((seconds / 6))" $proofs
    fuzz layout "$((seconds / 6))" $layouts
    ;;
*) fail "$usage" ;;
esac
exit $broken
