# bash completion for sagband; the words come from `sagband --completions`, so they never fall behind the program.

_sagband()
{
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} program=${COMP_WORDS[0]}
    local words command='' i
    COMPREPLY=()

    # the value of an option; after "--case=" bash has made "=" a word of its own
    if [[ $word == "=" ]]; then
        word=''
    elif [[ $before == "=" ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    case $before in
    -s | --supply | --device-curve | --relay-curve)
        _sagband_files "$word"
        return
        ;;
    -o | --output)
        compopt -o filenames 2>/dev/null
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
        ;;
    -f | --format) words="text csv json" ;;
    --case) words="nominal low high measured all" ;;
    --render) words="png svg pdf" ;;
    --device) words="dual_element_fuse nontime_fuse inverse_time_breaker instantaneous_breaker" ;;
    --terminals) words="60 75" ;;
    --insulation) words="60 75 90" ;;
    -v | --volts | --hz | --plate | --feeder | --motor) return ;;
    *) words='' ;;
    esac
    if [[ -n $words ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
        return
    fi

    words=$("$program" --completions 2>/dev/null)
    if [[ $word == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$(grep -e '^-' <<<"$words")" -- "$word")
        return
    fi

    # the first word that is a command
    for ((i = 1; i < COMP_CWORD; i++)); do
        if [[ ${COMP_WORDS[i]} != -* ]] && grep -qxF -e "${COMP_WORDS[i]}" <<<"$words"; then
            command=${COMP_WORDS[i]}
            break
        fi
    done
    case $command in
    "") mapfile -t COMPREPLY < <(compgen -W "$(grep -v -e '^-' <<<"$words")" -- "$word") ;;
    template) mapfile -t COMPREPLY < <(compgen -W "motors supply" -- "$word") ;;
    tables)
        words=$("$program" tables --format csv 2>/dev/null | sed '1d; s/,.*//')
        mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
        ;;
    *) _sagband_files "$word" ;;
    esac
}

# CSV files, and folders on the way to them.
_sagband_files()
{
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -f -X '!*.[cC][sS][vV]' -- "$1"; compgen -d -- "$1")
}

complete -F _sagband sagband
