#!/bin/sh
# The same answer everywhere: tests/same.sh PROGRAM OTHER-PROGRAM...
# Runs every command on the demonstration plant and the examples, and compares byte for byte what it prints, writes and
# ends with: other builds of the program with the first, and the first with itself in other locales and with other
# numbers of threads. What there was stays in build/same. Silent but for a line at the end when all is the same.
set -eu
export SOURCE_DATE_EPOCH=0 # the date of reports
cd "$(dirname "$0")/.."

out=$(pwd)/${BUILD:-build}/same
plant=motordata/cawdry-flats
examples=motordata/examples
motors=$plant/motors.csv
number=0
rm -rf "$out"
mkdir -p "$out"

# One command: what it printed, wrote and ended with. $here, $program and $before are set by run_all.
run() {
    number=$((number + 1))
    nth=$(printf '%03d' $number)
    status=0
    # shellcheck disable=SC2086 # a list of words, none of them with a blank in it
    $before "$program" "$@" >"$here/$nth.out" 2>"$here/$nth.err" || status=$?
    printf '%s: status %s\n' "$*" $status | sed "s|$here|HERE|" >"$here/$nth.command"
}

every_format() {
    for format in text csv json; do
        run "$@" -f $format
    done
}

# A new command is one line here. Starts cost most, so each way of starting goes through one format.
run_all() { # folder program, words to run it by
    here=$out/$1
    program=$2
    shift 2
    before=$*
    number=0
    mkdir -p "$here"
    set -- -s $plant/supply.csv $motors
    for command in check supply protect; do
        every_format $command "$@"
        run $command --findings -f csv "$@"
    done
    run check --us "$@"
    run start -f csv "$@"
    run start --feeder LIFT "$@"
    run start --sequence -f json "$@"
    run start --together --case low "$@"
    run start --findings -f csv --case high "$@"
    run start --trace -f csv --feeder PACK "$@"
    run start --advice -f csv --motor LP-1 "$@"
    run protect -f csv --feeder PACK --insulation 90 --terminals 60 --device dual_element_fuse "$@"
    run protect --motor LP-1 --device-curve $examples/breaker-curve.csv --relay-curve $examples/relay-curve.csv "$@"
    run explain LIFT "$@"
    run explain PACK -f csv "$@"
    run explain LP-1 -f json "$@"
    run explain LP-4 "$@"
    run explain FP-1 -f csv "$@"
    run explain BENCH --us "$@"
    run plot -o "$here/plots" "$@"
    run report --no-pictures -o "$here/report" "$@"
    run survey $plant/survey.csv --motors $motors --script "$here/survey.gp"
    run survey -f csv $plant/survey.csv --motors $motors
    run survey -f json --dips $plant/survey.csv
    run check --measured LIFT=$plant/survey.csv --case measured "$@"
    set -- -s $plant/supply-standby.csv $motors
    run check "$@"
    run supply -f csv "$@"
    run protect --case nominal "$@"
    run start -f csv --case nominal "$@"
    run plot -q --findings -f json --feeder FIRE -o "$here/standby" "$@"
    every_format check -v 478,481,469 $motors
    run protect -f json -v 208 $motors
    for list in $examples/european.csv $examples/fifty-hertz.csv; do
        every_format check -v 400 --hz 50 $list
        run protect -f csv -v 400 --hz 50 $list
        run start -v 400 --hz 50 $list
    done
    run check -f csv -v 480 $examples/one-motor.csv
    run check -v 480 $examples/spreadsheet.csv
    run check -v 480 $examples/mistakes.csv
    run check -s $examples/mistakes-supply.csv $examples/mistakes-plant.csv
    run protect -v 480 --device-curve $examples/mistakes-curve.csv $examples/one-motor.csv
    every_format tables
    run tables nema_code_letters -f json
    run template motors
    run template supply
    run --help
    run check -v 480 --plate rated_volts=440,rated_hp=75,efficiency_pct=91.5
    sed -i "s|$here|HERE|" "$here"/*.out "$here/report/index.html"
}

bad=0
seen=""
compare() { # folder
    if ! diff -rq "$out/plain" "$out/$1" >"$out/$1.differs" 2>&1; then
        bad=1
        echo "$1 is not the same; first of $(wc -l <"$out/$1.differs"):"
        # shellcheck disable=SC2046 # two names
        diff $(sed -n '1s/^Files \(.*\) and \(.*\) differ$/\1 \2/p' "$out/$1.differs") | head -n 6 || true
    fi
    seen="$seen $1"
}

plain=$(realpath "$1")
shift
run_all plain "$plain" env LC_ALL=C
commands=$number

for other in "$@"; do
    name=build-$(basename "$(dirname "$other")")
    run_all "$name" "$(realpath "$other")" env LC_ALL=C
    compare "$name"
done

# A comma for a point, and a Turkish i: made here, so that no root is needed to install them.
export LOCPATH="$out/locales"
mkdir -p "$LOCPATH"
for locale in de_DE tr_TR; do
    if localedef -i $locale -f UTF-8 "$LOCPATH/$locale.UTF-8" >"$out/localedef.log" 2>&1 &&
        [ "$(LC_ALL=$locale.UTF-8 locale decimal_point)" = , ]; then
        run_all $locale "$plain" env LC_ALL=$locale.UTF-8
        compare $locale
    else
        echo "$locale is left out: localedef cannot make it (Debian: package locales)"
    fi
done

# The program asks the system for the number of processors; in a mount namespace of its own it is told another.
for threads in 1 2 7; do
    echo "0-$((threads - 1))" | sed 's/^0-0$/0/' >"$out/online"
    tell="mount --bind $out/online /sys/devices/system/cpu/online"
    if [ "$(unshare -rm sh -c "$tell && getconf _NPROCESSORS_ONLN" 2>/dev/null)" = $threads ]; then
        # shellcheck disable=SC2016 # the inner shell expands it
        printf '#!/bin/sh\n%s\nexec "$@"\n' "$tell" >"$out/told.sh"
        run_all threads-$threads "$plain" env LC_ALL=C unshare -rm sh "$out/told.sh"
        compare threads-$threads
    else
        echo "$threads threads are left out: no mount namespace here"
    fi
done

[ $bad -eq 0 ] && echo "same: $commands commands, byte for byte:$seen"
exit $bad
