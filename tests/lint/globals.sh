#!/bin/sh
# The library keeps no state: nothing of it may land in writable memory.
size -A "$1" | awk '/^[^ ]+\.o / { file = $1 }
    $1 ~ /^\.t?(data|bss)$/ && $2 > 0 { print file ": " $2 " bytes of " $1; bad = 1 }
    END { exit bad }'
