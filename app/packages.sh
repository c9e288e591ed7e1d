# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh disable=SC2034 # the lists are used by the scripts that source this
# Sourced by app/demo.sh and tests/run.sh: the Debian packages that are needed, and how missing ones are installed.

BUILD_PACKAGES="gcc libc6-dev meson ninja-build pkg-config libgtk-4-dev libcairo2-dev libpango1.0-dev libcsv-dev
    libgsl-dev libjson-glib-dev nettle-dev zlib1g-dev libarchive-dev libcmocka-dev fonts-inter fonts-dejavu-core adwaita-icon-theme"

TEST_PACKAGES="locales xvfb openbox dbus dbus-daemon at-spi2-core python3 python3-gi gir1.2-atspi-2.0 gir1.2-gtk-4.0 python3-jsonschema
    xdotool x11-utils imagemagick clang libclang-rt-14-dev"

# The tests that need them are skipped without. The first bring some 100 MB, the second 230 MB in less than a minute.
OPTIONAL_TEST_PACKAGES="python3-numpy python3-scipy"
OCTAVE_TEST_PACKAGES="octave octave-control octave-signal"

fail() {
    echo "slewbench: $*" >&2
    exit 1
}

is_installed() {
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# find_missing PACKAGE...: those that are not installed, in $missing; false when there are none.
find_missing() {
    command -v dpkg-query >/dev/null || fail "this script installs Debian packages, and this is no Debian system." \
        "Install what app/packages.sh lists and run meson by hand (see DEVELOPERS.md)."
    missing=
    for package in "$@"; do
        is_installed "$package" || missing="$missing $package"
    done
    [ -n "$missing" ]
}

# want_packages WHAT PACKAGE...: the same for what can be done without; says what is skipped then.
want_packages() {
    what=$1
    shift
    find_missing "$@" || return 0
    # A failure ends the subshell, not the script.
    (need_packages "$@") || echo "Not installed:$missing; $what is skipped."
}

# need_packages PACKAGE...: installs those that are missing and says which; silent when there are none.
need_packages() {
    find_missing "$@" || return 0
    echo "Installing:$missing"
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || fail "installing packages needs root: run 'apt-get install$missing' as root."
        as_root=sudo
    fi
    log=$(mktemp)
    # shellcheck disable=SC2086 # words are wanted apart
    if ! { $as_root apt-get update -qq &&
        $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing; } \
        >"$log" 2>&1; then
        tail -n 20 "$log" >&2
        rm -f "$log"
        fail "apt-get could not install$missing; the reason stands above."
    fi
    rm -f "$log"
}

# build FOLDER TARGETS MESON-OPTION...: sets the build folder up when it is new and builds the targets ("" for all);
# prints only what went wrong.
build() {
    folder=$1 targets=$2
    shift 2
    log=$(mktemp)
    if [ ! -f "$folder/build.ninja" ]; then
        rm -rf "$folder"
        if ! meson setup "$folder" "$@" >"$log" 2>&1; then
            tail -n 30 "$log" >&2
            rm -f "$log"
            fail "the build in $folder could not be set up; the reason stands above."
        fi
    fi
    # shellcheck disable=SC2086 # words are wanted apart
    if ! ninja -C "$folder" $targets >"$log" 2>&1; then
        grep -v '^\[' "$log" | tail -n 60 >&2
        rm -f "$log"
        fail "the build in $folder failed; the reason stands above."
    fi
    rm -f "$log"
}
