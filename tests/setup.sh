#!/bin/sh
# Install what a target needs: build (also drawing), test, browser, same, lint, fuzz or bench. Does nothing when nothing is missing.
set -eu
case ${1:-build} in
build) packages="gcc make libc6-dev libcsv-dev libgsl-dev libjansson-dev libmd-dev pkg-config gnuplot-nox fonts-dejavu-core" ;;
test) packages="libcmocka-dev ngspice python3-scipy" ;; # two of them work figures out another way
browser) packages="chromium python3 fonts-dejavu-core" ;;
same) packages="clang locales libc-bin util-linux" ;;
lint) packages="clang clang-format clang-tidy cppcheck mandoc binutils" ;;
fuzz) packages="clang libclang-rt-14-dev" ;;
bench) packages="mawk miller time libcmocka-dev python3-scipy" ;;
*) echo "setup.sh: build, test, browser, same, lint, fuzz or bench" >&2; exit 2 ;;
esac
if ! command -v apt-get >/dev/null; then
    echo "setup: this is not Debian or one of its children; install what these are called on your system:"
    echo "  $packages"
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
# shellcheck disable=SC2086 # a list of names
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -q -y --no-install-recommends $missing
