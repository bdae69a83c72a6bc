# Print what docs/sagband.bash offers for the last of the words given, a line each. Words are as bash splits them: "=" is
# one of its own.
# shellcheck source=docs/sagband.bash
source "${0%/*}/../../docs/sagband.bash"
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
_sagband
((${#COMPREPLY[@]} == 0)) || printf '%s\n' "${COMPREPLY[@]}"
