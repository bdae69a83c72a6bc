#!/bin/sh
# Fuzz the chain: tests/fuzz/run.sh [SECONDS for each harness, default 60] [HARNESS...]
# Starts from a copy of the stored corpus; what is found stays under build/fuzz.
# shellcheck disable=SC2016,SC2086 # the inner shell expands its own words; flags are lists
set -eu
cd "$(dirname "$0")/../.."

seconds=${1:-60}
[ $# -gt 0 ] && shift
harnesses=${*:-motors supply plate curve chain log}
build=${BUILD:-build}
out=$build/fuzz
jobs=$(nproc)

standard=$(sed -n 's/^CSTD *:= *//p' Makefile)
libraries=$(sed -n 's/^LIBS *:= *//p' Makefile)
# a sanitizer that warns and goes on would find nothing
export FLAGS="$standard -g -O1 -fno-sanitize-recover=all -Iinclude -Isrc -I$build/generated -Itests"
export SANITIZERS=address,undefined,float-cast-overflow

make -s BUILD="$build" generated
rm -rf "$out/objects"
mkdir -p "$out/objects"

# Compile once for all harnesses; src/cli is the program's, not the library's.
export OBJECTS="$out/objects"
{
    find src -name '*.c' ! -path 'src/cli/*'
    echo tests/fuzz/chain.c
    echo tests/fuzz/circuits.c
    echo tests/fuzz/page.c
    echo tests/fuzz/pictures.c
    echo tests/fuzz/printing.c
    echo tests/fuzz/promises.c
    echo tests/fuzz/whole.c
} |
    xargs -P "$jobs" -I {} sh -c \
        'clang $FLAGS -fsanitize=fuzzer-no-link,$SANITIZERS -c -o "$OBJECTS/$(echo "$1" | tr / _).o" "$1"' sh {}

status=0
for harness in $harnesses; do
    clang $FLAGS -DFUZZ_ENTRY -fsanitize=fuzzer,$SANITIZERS -o "$out/fuzz_$harness" \
        "tests/fuzz/fuzz_$harness.c" "$OBJECTS"/*.o $libraries
    rm -rf "$out/corpus-$harness"
    mkdir -p "$out/corpus-$harness"
    cp "tests/fuzz/corpus/$harness/"* "$out/corpus-$harness"
    result=ok
    "$out/fuzz_$harness" -max_total_time="$seconds" -timeout=120 -rss_limit_mb=2048 -print_final_stats=1 \
        -artifact_prefix="$out/$harness-" "$out/corpus-$harness" 2>"$out/$harness.log" || result=CRASH
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$out/$harness.log")
    edges=$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$out/$harness.log" | tail -n 1)
    echo "$harness: $seconds s, ${runs:-?} runs, ${edges:-?} edges: $result"
    [ "$result" = ok ] && continue
    status=1
    grep -m 5 -E 'broken promise|runtime error|^SUMMARY|ERROR:|Test unit written' "$out/$harness.log" || true
    echo "see $out/$harness.log"
done
exit $status
