#!/bin/sh
# Install what building, testing and looking at the pictures need. Does nothing when nothing is missing.
set -eu
packages="gcc make libc6-dev libcsv-dev libgsl-dev libjansson-dev libcmocka-dev pkg-config gnuplot-nox ngspice
clang clang-format clang-tidy cppcheck libclang-rt-14-dev mandoc mawk miller time binutils"
if ! command -v apt-get >/dev/null; then
    echo "setup: this is not Debian or one of its children; install these yourself, by the names your system has:"
    echo "  C compiler, make, libcsv, GSL, jansson, cmocka (with headers), pkg-config, gnuplot, ngspice;"
    echo "  for make lint and fuzz: clang, clang-format, clang-tidy, cppcheck, mandoc; for make bench: mawk, miller, time"
    exit 0
fi
missing=""
for package in $packages; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
done
[ -n "$missing" ] || exit 0
as_root=""
[ "$(id -u)" -eq 0 ] || as_root=sudo
$as_root apt-get update -q
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -q -y --no-install-recommends $missing
