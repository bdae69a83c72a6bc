#!/bin/sh
# The same answer everywhere: tests/same.sh PROGRAM OTHER-PROGRAM...
# Runs every command on the demonstration plant and the examples, and compares byte for byte what it prints, writes and
# ends with: other builds of the program with the first, and the first with itself in other locales and with other
# numbers of threads. What there was stays in build/same. Silent but for a line at the end when all is the same.
set -eu
cd "$(dirname "$0")/.."

out=$(pwd)/${BUILD:-build}/same
plant=motordata/cawdry-flats
examples=motordata/examples
motors=$plant/motors.csv
number=0
rm -rf "$out"
mkdir -p "$out"

# One command: its number names what it printed. $here and $program are set by run_all; $before runs it.
run() {
    number=$((number + 1))
    name=$(printf '%03d' $number)
    status=0
    # shellcheck disable=SC2086 # a list of words, none of them with a blank in it
    $before "$program" "$@" >"$here/$name.out" 2>"$here/$name.err" || status=$?
    printf '%s: status %s\n' "$*" $status >"$here/$name.command"
}

every_format() {
    for format in text csv json; do
        run "$@" -f $format
    done
}

# A row a command: `survey` and `report` are one line each.
run_all() { # folder program, words to run it by
    here=$out/$1
    program=$2
    shift 2
    before=$*
    number=0
    mkdir -p "$here/plots"
    for supply in $plant/supply.csv $plant/supply-standby.csv; do
        for command in check supply protect start "start --sequence" "start --together"; do
            # shellcheck disable=SC2086 # a command and its options
            every_format $command -s $supply $motors
            # shellcheck disable=SC2086
            run $command --findings -f csv -s $supply $motors
        done
        run check --us -s $supply $motors
        run start --trace -f csv --feeder PACK -s $supply $motors
        run start --advice -f csv --feeder LIFT -s $supply $motors
        run protect -f csv --insulation 90 --terminals 60 --device dual_element_fuse -s $supply $motors
        run protect --motor LP-1 --device-curve $examples/breaker-curve.csv --relay-curve $examples/relay-curve.csv \
            -s $supply $motors
        for what in LIFT PACK FIRE LP-1 LP-4 HOIST FP-1 CV-1 LATHE BENCH; do
            every_format explain $what -s $supply $motors
        done
        for feeder in LIFT PACK COLD FIRE SHOP; do
            (cd "$here/plots" && top=$OLDPWD && $before "$program" plot -q --force --feeder $feeder -s "$top/$supply" \
                -o "$(basename $supply .csv)" "$top/$motors") >>"$here/plots.out" 2>&1 || true
        done
    done
    for typed in "-v 480" "-v 480 --hz 50" "-v 478,481,469" "-v 208"; do
        # shellcheck disable=SC2086 # an option and its value
        every_format check $typed $motors
        # shellcheck disable=SC2086
        run protect -f json $typed $motors
    done
    for list in $examples/european.csv $examples/fifty-hertz.csv; do
        every_format check -v 400 --hz 50 $list
        every_format protect -v 400 --hz 50 $list
        every_format start -v 400 --hz 50 $list
    done
    every_format check -v 480 $examples/one-motor.csv
    every_format check -v 480 $examples/spreadsheet.csv
    run check -v 480 $examples/mistakes.csv
    run check -s $examples/mistakes-supply.csv $examples/mistakes-plant.csv
    run protect -v 480 --device-curve $examples/mistakes-curve.csv $examples/one-motor.csv
    every_format tables
    run tables nema_code_letters -f json
    run template motors
    run template supply
    run --help
    run check -v 480 --plate rated_volts=440,rated_hp=75,efficiency_pct=91.5
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
