# bash completion for sagband; commands and options come from `sagband --completions`, so they never fall behind the program.

# Sets `value` to what stands behind an option: csv, path, text, or the words it may be; empty for one without a value.
_sagband_value()
{
    case $1 in
    -s | --supply | --device-curve | --relay-curve | --measured | --motors) value=csv ;;
    -o | --output | --script) value=path ;;
    -v | --volts | --hz | --plate | --feeder | --motor | --at | --starts|--title) value=text ;;
    -f | --format) value="text csv json" ;;
    --case) value="nominal low high measured all" ;;
    --render) value="png svg pdf" ;;
    --device) value="dual_element_fuse nontime_fuse inverse_time_breaker instantaneous_breaker" ;;
    --terminals) value="60 75" ;;
    --insulation) value="60 75 90" ;;
    *) value='' ;;
    esac
}

# Sets `command`, and `given` to how many words stand between it and the cursor that are neither option nor value.
_sagband_words()
{
    local i value
    command='' given=0
    for ((i = 1; i < COMP_CWORD; i++)); do
        if [[ ${COMP_WORDS[i]} == -?* ]]; then
            _sagband_value "${COMP_WORDS[i]}"
            [[ ${COMP_WORDS[i + 1]} == "=" ]] && ((i++)) # bash makes "=" a word of its own
            [[ -n $value ]] && ((i++))
        elif [[ -z $command ]]; then
            command=${COMP_WORDS[i]}
        else
            ((given++))
        fi
    done
}

# CSV files, and folders on the way to them.
_sagband_files()
{
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -f -X '!*.[cC][sS][vV]' -- "$1"; compgen -d -- "$1")
}

_sagband()
{
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} program=${COMP_WORDS[0]}
    local words value command given
    COMPREPLY=()
    if [[ $word == "=" ]]; then
        word=''
    elif [[ $before == "=" ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    _sagband_value "$before"
    case $value in
    '') ;;
    csv)
        _sagband_files "$word"
        return
        ;;
    path)
        compopt -o filenames 2>/dev/null
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
        ;;
    text) return ;;
    *)
        mapfile -t COMPREPLY < <(compgen -W "$value" -- "$word")
        return
        ;;
    esac

    words=$("$program" --completions 2>/dev/null)
    if [[ $word == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$(grep -e '^-' <<<"$words")" -- "$word")
        return
    fi
    _sagband_words
    case $command:$given in
    :*) mapfile -t COMPREPLY < <(compgen -W "$(grep -v -e '^-' <<<"$words")" -- "$word") ;;
    template:0) mapfile -t COMPREPLY < <(compgen -W "motors supply" -- "$word") ;;
    tables:0)
        words=$("$program" tables --format csv 2>/dev/null | sed '1d; s/,.*//')
        mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
        ;;
    template:* | tables:* | explain:0) ;; # of `explain` a motor's tag, which no file here tells
    explain:1 | *:0) _sagband_files "$word" ;;
    esac
}

complete -F _sagband sagband
