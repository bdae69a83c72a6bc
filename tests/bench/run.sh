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
for tool in generate bare_csv measure fit_bench size_bench volt_log; do
    ${CC:-cc} $standard -O2 -Iinclude -Isrc -Itests -o "$out/$tool" "tests/bench/$tool.c" "$build/libsagband.a" $libraries
done
${CC:-cc} $standard -O2 -Iinclude -Isrc -Itests -o "$out/start_bench" tests/bench/start_bench.c tests/rig.c \
    tests/support.c tests/outside/plant_json.c "$build/libsagband.a" -lcmocka $libraries

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

# motors per board: a plant of n motors on n over that many boards, all running, of five sizes; its transformer grows with it
grown_plant() {
    awk -v n="$1" -v each="${2:-5}" 'BEGIN {
        print "id,fed_from,kind,nominal_volts,hz,system,fault_mva,kva,impedance_pct,primary_volts,secondary_volts,length_ft,conductor,material,raceway,sets"
        printf "UTIL,,utility,13800,60,wye,%d,,,,,,,,,\n", (n < 1000 ? 250 : 5000)
        printf "T1,UTIL,transformer,,,wye,,%d,5.75,13800,480,,,,,\n", (n < 16000 ? 60 * n : 1000000)
        for (b = 1; b <= n / each; b++)
            printf "B%d,T1,cable,,,,,,,,,%d,250,cu,steel,1\n", b, 60 + 7 * b % 200
    }' >"$out/grown-supply.csv"
    awk -v n="$1" -v each="${2:-5}" 'BEGIN {
        print "tag,feeder,rated_volts,rated_hp,rpm,poles,efficiency_pct,power_factor,design,code_letter,load,load_pct"
        split("10 20 30 50 75", hp); split("1760 1765 1770 1775 1775", rpm); split("91.7 93 93.6 94.5 95", eff)
        split("pump fan conveyor compressor", load)
        for (i = 1; i <= n; i++)
            printf "M-%03d,B%d,460,%d,%d,4,%.2f,0.85,B,G,%s,%d\n", i, 1 + (i - 1) % (n / each), hp[1 + i % 5], rpm[1 + i % 5],
                eff[1 + i % 5] + i % 7 / 20, load[1 + i % 4], 60 + i % 30
    }' >"$out/grown-motors.csv"
}

starts() {
    plant=motordata/cawdry-flats
    echo "starts, demo plant"
    for tag in LP-3 FAN-1 CP-1 LP-4; do
        "$out/start_bench" one $plant/supply.csv $plant/motors.csv $tag >"$out/figures"
        read -r best median steps end <"$out/figures"
        printf '  %-34s best %.2f ms, median %.2f ms, %d steps over %.1f s; %s\n' \
            "$tag beside what runs" "$best" "$median" "$steps" "$end" "$(against "$best" 5 ms)"
    done
    "$out/start_bench" each $plant/supply.csv $plant/motors.csv 4 >"$out/figures"
    read -r motors runs lost seconds busy <"$out/figures"
    printf '  %-34s %.3f s (%.3f s of processor) for %d runs, %d not settled; %s\n' \
        "$motors motors alone, all cases" "$seconds" "$busy" "$runs" "$lost" "$(against "$seconds" 0.5 s)"
    echo "starts, each motor alone in the nominal case, all others running"
    for n in 50 100 200 400; do
        grown_plant $n
        "$out/start_bench" each "$out/grown-supply.csv" "$out/grown-motors.csv" 1 >"$out/figures"
        read -r motors runs lost seconds busy <"$out/figures"
        printf '  %-34s %8.3f s %9.2f ms of processor a start, %d not settled%s\n' "$motors motors on $((motors / 5)) boards" \
            "$seconds" "$(calculate "1000 * $busy / $runs")" "$lost" \
            "$([ $n != 200 ] || printf '; %s' "$(against "$seconds" 5 s)")"
    done
    echo "one start beside two running motors, the same plant"
    "$out/start_bench" peer "$out/peer.json" >"$out/figures"
    read -r best median steps _ <"$out/figures"
    printf '  %-34s best %.2f ms, median %.2f ms, %d steps\n' "sagband" "$best" "$median" "$steps"
    /usr/bin/python3 tests/outside/run_up.py <"$out/peer.json" |
        awk '$1 == "took" { printf "  %-34s %.0f ms (its integration alone)\n", "SciPy, LSODA to 1e-4", 1000 * $2 }'
}

sizes() {
    echo "sizes by the code: conductors, overloads, devices of each kind, feeders; best of 5"
    for n in 1000 10000 100000; do
        grown_plant $n 20
        "$out/size_bench" "$out/grown-supply.csv" "$out/grown-motors.csv" >"$out/figures"
        read -r motors feeders seconds busy sized <"$out/figures"
        printf '  %-34s %8.3f s %9.2f us of processor a motor, %d sized%s\n' "$motors motors on $((feeders - 2)) feeders" \
            "$seconds" "$(calculate "1e6 * $busy / $motors")" "$sized" \
            "$([ $n != 100000 ] || printf '; %s' "$(against "$seconds" 1 s)")"
    done
}

# A log of volts: reading and surveying it against reading alone, and memory that does not grow with it.
logs() {
    plant=motordata/cawdry-flats
    echo "survey of a log against the demo plant's plates, best of 3"
    for rows in 500000 5000000; do
        "$out/volt_log" $rows >"$out/log.csv"
        measure 3 /dev/null "$out/bare_csv" "$out/log.csv" >"$out/figures"
        read -r bare _ _ bare_busy <"$out/figures"
        measure 3 /dev/null "$program" survey --quiet --supply $plant/supply.csv --motors $plant/motors.csv "$out/log.csv" \
            >"$out/figures"
        read -r seconds _ peak busy <"$out/figures"
        line "$rows rows" "$seconds" "$rows" "$peak"
        printf '  %34s bare libcsv %.3f s; of processor time %.2f times that, %s\n' "" "$bare" \
            "$(calculate "$busy / $bare_busy")" "$(against "$(calculate "$busy / $bare_busy")" 3 times)"
        [ $rows = 500000 ] && least=$peak
    done
    printf '  %34s growth %s\n' "" "$(against "$(calculate "($peak - $least) / 1024")" 1 MiB)"
    rm -f "$out/log.csv"
}

# The page of the demonstration plant, and those of grown plants, twenty motors a board, whose starts are a part.
reports() {
    plant=motordata/cawdry-flats
    echo "report without pictures"
    measure 5 /dev/null "$program" report --quiet --no-pictures --force --supply $plant/supply.csv -o "$out/report" \
        $plant/motors.csv >"$out/figures"
    read -r best _ peak busy <"$out/figures"
    printf '  %-34s %8.3f s (%.3f s of processor) %8.1f MiB; %s\n' "demo plant, best of 5" "$best" \
        "$busy" "$(calculate "$peak / 1024")" "$(against "$best" 0.3 s)"
    for n in 1000 10000 100000; do
        grown_plant $n 20
        rm -rf "$out/report"
        measure 1 /dev/null "$program" report --quiet --no-pictures --supply "$out/grown-supply.csv" -o "$out/report" \
            "$out/grown-motors.csv" >"$out/figures"
        read -r seconds _ peak busy <"$out/figures"
        printf '  %-34s %8.1f s (%.1f s of processor) %8.1f MiB\n' "$n motors" "$seconds" "$busy" \
            "$(calculate "$peak / 1024")"
    done
    rm -rf "$out/report"
}

# other work on the machine shows here, and as processor time well below cores times seconds
echo "$(nproc) cores, load $(cut -d ' ' -f 1 /proc/loadavg); making inputs"
inputs
cold_start
demo_plant
sizes
starts
fits
bare_csv
logs
reports
peers
repeated_plates
distinct_plates
rm -f "$out"/*.out "$out/figures"
