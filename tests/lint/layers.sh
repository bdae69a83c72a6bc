#!/bin/sh
# A folder of src may include itself and those above it in src/LAYERS; public headers are named as the folders.
awk 'FNR == NR { level[$1] = NR; next }
     sub(/^#include "(sagband\/)?/, "") {
         split(FILENAME, part, "/")
         sub(/[.\/].*/, "")
         if (level[$0] > level[part[2]]) { print FILENAME ":" FNR ": " part[2] " may not include " $0; bad = 1 }
     }
     END { exit bad }' src/LAYERS src/*/*.[ch] || exit 1
# Only these know these libraries, and user text has one way into each format.
bad=0
only() { # pattern, the files that may have it
    found=$(grep -lE "$1" src/*/*.[ch] include/sagband/*.h | grep -vE "$2")
    [ -z "$found" ] || { echo "$1 in $found"; bad=1; }
}
only '#include <csv.h>' '^src/base/csv.c$'
only '#include <gsl/' '^src/(model|start)/|^src/cli/main.c$'
only '#include <jansson.h>' '^src/write/as_json.c$'
only '\b(getenv|exit)\(' '^src/cli/'
only '\b(printf|puts)\(' '^src/(cli|write)/'
only '\b(setlocale|atof|strtod|strtof|sscanf)\(' '^$'
exit $bad
