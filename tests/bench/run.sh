#!/bin/sh
# Time and memory: tests/bench/run.sh. Makes its own inputs under build/bench, prints figures beside goals, and fails
# only when something cannot be measured. BENCH_ALL=1 runs the longest list even when that takes more than its share.
# shellcheck disable=SC2016,SC2086 # programs of awk and mlr expand their own words; flags are lists
set -eu
cd "$(dirname "$0")/../.."

build=${BUILD:-build}
out=$build/bench
program=$build/sagband
longest=1000000 # rows
share=240       # seconds that the longest list may take

standard=$(sed -n 's/^CSTD *:= *//p' Makefile)
libraries=$(sed -n 's/^LIBS *:= *//p' Makefile)
make -s BUILD="$build" all
mkdir -p "$out"
for tool in generate bare_csv measure fit_bench; do
    ${CC:-cc} $standard -O2 -Iinclude -Isrc -o "$out/$tool" "tests/bench/$tool.c" "$build/libsagband.a" $libraries
done

# best, median, KiB and processor seconds of $1 runs
measure() {
    "$out/measure" "$@"
}

calculate() {
    awk "BEGIN { print $1 }"
}

# a figure, its goal (both in the same unit), the unit
against() {
    awk -v got="$1" -v goal="$2" -v unit="$3" 'BEGIN {
        printf "goal %g %s: %s\n", goal, unit, got <= goal ? "met" : "MISSED" }'
}

# what, seconds, rows, KiB
line() {
    awk -v what="$1" -v s="$2" -v rows="$3" -v kib="$4" 'BEGIN {
        printf "  %-34s %9.3f s %9.2f us a row %8.1f MiB\n", what, s, 1e6 * s / rows, kib / 1024 }'
}

inputs() {
    for rows in 1 1000 10000 100000 $longest; do
        "$out/generate" "$rows" >"$out/$rows.csv"
    done
    "$out/generate" 100000 28 >"$out/repeated.csv"
}

check() {
    measure 1 "$out/$1.out" "$program" check --quiet --volts 480 --format csv --case nominal "$out/$1.csv"
}

# rows: a line and, against the list of a thousand, what a row takes of memory
check_rows() {
    check "$1" >"$out/figures"
    read -r seconds _ peak busy <"$out/figures"
    line "$1 rows" "$seconds" "$1" "$peak"
    [ "$1" = 1000 ] && base=$peak
    [ "$1" -lt 100000 ] && return
    growth=$(calculate "1024 * ($peak - $base) / ($1 - 1000)")
    printf '  %34s growth %.0f bytes a row, %s\n' "" "$growth" "$(against "$growth" 1024 'bytes a row')"
    if [ "$1" = 100000 ]; then
        hundred_thousand=$seconds
        printf '  %34s %s on %s cores (%.1f s of processor time)\n' \
            "" "$(against "$seconds" 20 s)" "$(nproc)" "$busy"
    fi
}

distinct_plates() {
    echo "check, nominal case, distinct plates"
    for rows in 1000 10000 100000; do
        check_rows "$rows"
    done
    expected=$(calculate "$longest / 100000 * $hundred_thousand")
    if [ "${BENCH_ALL:-0}" = 1 ] || [ "$(calculate "$expected < $share")" = 1 ]; then
        check_rows $longest
    else
        printf '  %-34s not run: about %.0f s; BENCH_ALL=1 runs it\n' "$longest rows" "$expected"
    fi
}

repeated_plates() {
    echo "check, nominal case, 28 plates repeated"
    check repeated >"$out/figures"
    read -r seconds _ peak _ <"$out/figures"
    line "100000 rows" "$seconds" 100000 "$peak"
}

bare_csv() {
    echo "bare libcsv: reading alone, best of 3"
    for rows in 1000 10000 100000 $longest; do
        measure 3 /dev/null "$out/bare_csv" "$out/$rows.csv" >"$out/figures"
        read -r seconds _ peak _ <"$out/figures"
        line "$rows rows" "$seconds" "$rows" "$peak"
    done
}

# A peer does only I = hp 746 / (sqrt(3) V eff pf): no band, no circuit.
peer() {
    name=$1
    shift
    command -v "$name" >/dev/null || {
        echo "  $name: not installed"
        return
    }
    for rows in 100000 $longest; do
        measure 1 /dev/null "$@" "$out/$rows.csv" >"$out/figures"
        read -r seconds _ peak _ <"$out/figures"
        line "$name, $rows rows" "$seconds" "$rows" "$peak"
    done
}

peers() {
    echo "peers: full-load amps only"
    peer mawk mawk -F, -v OFS=, '
        NR == 1 { print $1, "amps"; next }
        { n = split($2, v, "/"); amps = $5 != "" && $6 != "" ? $3 * 746 / (sqrt(3) * v[n] * $5 / 100 * $6) : ""
          print $1, amps }'
    peer mlr mlr --icsv --ocsv put '
        v = splitnv(string($rated_volts), "/");
        if (is_not_empty($efficiency_pct) && is_not_empty($power_factor)) {
            $amps = $rated_hp * 746 / (sqrt(3) * v[length(v)] * $efficiency_pct / 100 * $power_factor)
        } else {
            $amps = ""
        }' 'then' cut -f tag,amps
}

fits() {
    echo "one fit, 5000 distinct plates, one thread"
    "$out/generate" 5000 >"$out/fits.csv"
    "$out/fit_bench" "$out/fits.csv" | while read -r path count mean median slowest; do
        printf '  %-12s %6d fits  mean %7.1f us  median %7.1f us  slowest %8.1f us\n' \
            "$path" "$count" "$mean" "$median" "$slowest"
    done
}

cold_start() {
    echo "one row, cold start, 50 runs"
    measure 50 /dev/null "$program" check --quiet --volts 480 "$out/1.csv" >"$out/figures"
    read -r best median peak _ <"$out/figures"
    awk -v b="$best" -v m="$median" -v k="$peak" -v goal="$(against "$(calculate "1000 * $median")" 10 ms)" 'BEGIN {
        printf "  best %.2f ms, median %.2f ms, %.1f MiB; %s\n", 1000 * b, 1000 * m, k / 1024, goal }'
}

demo_plant() {
    echo "demo plant, all cases, best of 5"
    plant=motordata/cawdry-flats
    measure 5 /dev/null "$program" check --quiet --supply $plant/supply.csv $plant/motors.csv >"$out/figures"
    read -r best _ <"$out/figures"
    printf '  %.3f s, %s\n' "$best" "$(against "$best" 0.2 s)"
}

# other work on the machine shows here, and as processor time well below cores times seconds
echo "$(nproc) cores, load $(cut -d ' ' -f 1 /proc/loadavg); making inputs"
inputs
cold_start
demo_plant
fits
bare_csv
peers
repeated_plates
distinct_plates
rm -f "$out"/*.out "$out/figures"
