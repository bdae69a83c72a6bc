#!/bin/sh
# Each header compiles alone.
cc=${1:-gcc}
bad=0
for header in include/sagband/*.h src/*/*.h; do
    echo "#include \"$header\"" | $cc -std=c11 -D_GNU_SOURCE -Wall -Wextra -Wpedantic -Werror -I. -Iinclude -Isrc \
        -Ibuild/generated -x c -fsyntax-only - || { echo "$header does not compile alone"; bad=1; }
done
exit $bad
