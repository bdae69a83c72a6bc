/* docs/example.c is built as a stranger would, with nothing but what was installed and pkg-config, and has to tell of
   the demonstration plant what the program tells. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "installed/installed.h"

#define PLANT    "motordata/cawdry-flats"
#define WARNINGS "-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror"

/* Flags are those of the staged library; eval takes the blank in the prefix as pkg-config escapes it. $CC and $CFLAGS
   are there when make was told of them: a library with sanitizers in it has to be linked with them. */
static const char prepare[] = "house_make install && export PKG_CONFIG_PATH=\"$P/lib/pkgconfig\" "
                              "PKG_CONFIG_SYSROOT_DIR=\"$D\"; "
                              "build() { eval \"$1 docs/example.c $(pkg-config $2 sagband)\"; }; ";

static void in_example(void **state, const char *command, struct ran *ran)
{
    char line[1200];
    assert_true(sizeof prepare + strlen(command) < sizeof line);
    snprintf(line, sizeof line, "%s%s", prepare, command);
    run_staged(state, line, ran);
}

static void expect_well(void **state, const char *command)
{
    struct ran ran;
    in_example(state, command, &ran);
    check_text(command, ran.err, "");
    free_ran(&ran);
}

/* Headers and example are silent under the warnings of the house. A compiler that is not there is passed over. */
static void no_warnings(void **state)
{
    expect_well(state, "build \"gcc -std=c11 " WARNINGS " -c -o $D/example.o\" --cflags");
    expect_well(state,
                "! command -v clang >/dev/null || build \"clang -std=c11 " WARNINGS " -c -o $D/example.o\" --cflags");
}

#define BUILD_IT "build \"${CC:-gcc} ${CFLAGS:-} -std=c11 -o $D/example\" '--cflags --libs' && "

/* Its rows are the program's, all motors and cases. */
static void says_the_same(void **state)
{
    static const struct {
        const char *argument, *option;
    } rows[] = {{"480", "-v 480"}, {PLANT "/supply.csv", "-s " PLANT "/supply.csv"}, {"240", "-v 240"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ran ran;
        char command[800];
        snprintf(command, sizeof command,
                 BUILD_IT "{ $D/example " PLANT "/motors.csv %s >$D/ours; echo $? >>$D/ours; "
                          "sagband check -q -f csv %s " PLANT "/motors.csv >$D/all; echo $? >$D/status; "
                          "awk -F, '{ print $1\",\"$3\",\"$6\",\"$(NF - 1) }' $D/all | cat - $D/status >$D/theirs; "
                          "diff $D/theirs $D/ours && wc -l <$D/ours; }",
                 rows[i].argument, rows[i].option);
        in_example(state, command, &ran);
        if (atoi(ran.out) < 50)
            fail_msg("%s: only %s rows", rows[i].argument, ran.out);
        free_ran(&ran);
    }
}

/* The archive is all there is, so a program may be linked into one file, where its libraries are archives too; not one
   with sanitizers in it. */
static void linked_as_a_whole(void **state)
{
    expect_well(state,
                "case ${CFLAGS:-}$(gcc -print-file-name=libgsl.a) in *sanitize* | *[!/]libgsl.a | libgsl.a) ;; *) "
                "build \"gcc -static -std=c11 -o $D/example\" '--static --cflags --libs' && "
                "$D/example " PLANT "/motors.csv 480 >$D/out; test $? -eq 1 ;; esac");
}

/* What is wrong with input is told with its place, as the program does it. */
static void refuses(void **state)
{
    static const struct {
        const char *arguments, *said;
    } rows[] = {
        {"motordata/examples/mistakes.csv 480", "mistakes.csv:5:5: efficiency_pct: 0.93 looks like a fraction"},
        {"nowhere.csv 480", "nowhere.csv:0:0: cannot be opened\nexample: input refused\n"},
        {PLANT "/motors.csv nowhere.csv", "nowhere.csv:0:0: cannot be opened\nexample: input refused\n"},
        {"motordata/examples/one-motor.csv 4160", "example: input refused\n"},
        {PLANT "/motors.csv", "usage: example MOTORS.csv VOLTS|SUPPLY.csv\n"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ran ran;
        char command[400];
        snprintf(command, sizeof command, BUILD_IT "{ $D/example %s; test $? -eq 2; }", rows[i].arguments);
        in_example(state, command, &ran);
        check_text(rows[i].arguments, ran.out, "");
        if (!strstr(ran.err, rows[i].said))
            fail_msg("%s: said %s wanted %s", rows[i].arguments, ran.err, rows[i].said);
        free_ran(&ran);
    }
}

/* From C++ as docs/library.md says. */
static void from_cpp(void **state)
{
    expect_well(state,
                "if command -v g++ >/dev/null; then "
                "printf '%s\\n' '#include <math.h>' '#include <stdio.h>' 'extern \"C\" {' "
                "'#include <sagband/sagband.h>' '}' 'int main() { struct sag_tables *t; struct sag_diags d = {}; "
                "return sag_tables_open(&t, &d) == SAG_OK && sag_tables_count(t) > 0 ? sag_tables_free(t), 0 : 1; }' "
                ">$D/use.cc && eval \"g++ ${CFLAGS:-} -Wall -Wextra -Werror -o $D/use $D/use.cc "
                "$(pkg-config --cflags --libs sagband)\" && $D/use; fi");
}

TEST_LIST(example, IN_FOLDER(no_warnings), IN_FOLDER(says_the_same), IN_FOLDER(linked_as_a_whole), IN_FOLDER(refuses),
          IN_FOLDER(from_cpp))
