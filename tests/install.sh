#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs the Debian packages that are missing. `sh tests/install.sh GROUP...` with the groups
# build (compile and run), page (make the browser page), test (also run the tests), browser (also
# those of the browser page) and check (also every check of .ci/run).
# This is the one list of packages.
set -eu

packages_of() {
    case $1 in
    build) echo gcc libc6-dev meson ninja-build pkg-config libgsl-dev libcsv-dev \
        libjansson-dev zlib1g-dev check ;;
    test) echo bash binutils bsdextrautils git jq libxml2-utils mandoc parallel sqlite3 ;;
    page) echo clang libclang-rt-14-dev-wasm32 lld llvm make util-linux wasi-libc ;;
    browser) echo chromium chromium-driver python3-selenium webkit2gtk-driver xauth xvfb ;;
    check) echo chromium clang clang-format clang-tidy clang-tools cppcheck gcovr \
        libclang-rt-14-dev llvm shellcheck valgrind ;;
    *) echo "install.sh: unknown group '$1': expected build, page, test, browser or check" >&2 && return 1 ;;
    esac
}

missing_of() {
    for package; do
        case $(dpkg-query -W -f='${Status}' "$package" 2>/dev/null || :) in
        *' ok installed') ;;
        *) printf '%s ' "$package" ;;
        esac
    done
}

apt() {
    if [ "$(id -u)" -eq 0 ]; then
        DEBIAN_FRONTEND=noninteractive apt-get -q "$@" </dev/null
    elif command -v sudo >/dev/null; then
        sudo DEBIAN_FRONTEND=noninteractive apt-get -q "$@"
    else
        echo "install.sh: neither root nor sudo; install these packages first: $missing" >&2
        return 1
    fi
}

wanted=
for group; do
    wanted="$wanted $(packages_of "$group")"
done
if ! command -v dpkg-query >/dev/null; then
    echo "install.sh: not a Debian system; these are needed: $wanted" >&2
    exit 0
fi
# shellcheck disable=SC2086 # a list of words
missing=$(missing_of $wanted)
[ -n "$missing" ] || exit 0
echo "installing: $missing"
apt update || echo "install.sh: the package lists could not be renewed; using the old ones" >&2
# shellcheck disable=SC2086
apt install -y --no-install-recommends $missing
