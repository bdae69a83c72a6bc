/* Files that --device-curve and --relay-curve may name: none at all, standard input, odd names. */
#include "faults_help.h"

/* Curves that are none, and standard input, which one of the inputs can be. */
static void curves_that_are_no_files(void **state)
{
    static const struct {
        const char *command, *words;
    } refused[] = {
        {"sagband protect -v 480 --device-curve $D " ONE_MOTOR, "cannot be opened: Is a directory"},
        {"sagband protect -v 480 --relay-curve $D " ONE_MOTOR, "cannot be opened: Is a directory"},
        {"sagband protect -v 480 --device-curve $D/none.csv " ONE_MOTOR, "cannot be opened: No such file or directory"},
        {"sagband protect -v 480 --relay-curve $D/none.csv -o $D/got " ONE_MOTOR, "cannot be opened"},
        {"sagband protect -v 480 --device-curve /dev/null -o $D/got " ONE_MOTOR, "the file is empty"},
        {"sagband protect -v 480 --device-curve - -o $D/got " ONE_MOTOR " </dev/null",
         "standard input: the file is empty"},
        {"sagband protect -v 480 --device-curve " ONE_MOTOR " " ONE_MOTOR, "the header has no column time_s"},
        {"sagband protect -v 480 --device-curve - --relay-curve - " ONE_MOTOR " <" CURVE,
         "standard input can be one of the inputs"},
        {"sagband protect -v 480 --device-curve - - <" ONE_MOTOR, "standard input can be one of the inputs"},
        {"sagband protect -s - --relay-curve - " DEMO_MOTORS " <" DEMO_SUPPLY,
         "standard input can be one of the inputs"},
    };
    for (size_t i = 0; i < COUNT(refused); i++) {
        expect_words(state, refused[i].command, 2, refused[i].words);
        expect(state, "test -z \"$(ls -A $D)\"", 0);
    }
    expect(state, "sagband protect -q -v 480 -f csv --device-curve " CURVE " " ONE_MOTOR " >$D/named", 0);
    expect(state, "sagband protect -q -v 480 -f csv --device-curve - " ONE_MOTOR " <" CURVE " >$D/piped", 0);
    expect(state, "cmp $D/named $D/piped && test -s $D/named", 0);
}

/* Words that a terminal would obey, or a shell: the message shows them plain. */
static void odd_names(void **state)
{
    static const char *const names[] = {"$(printf 'x\\033[2Jy')", "$(printf 'x\\342\\200\\256y')", "\\`touch $D/m\\`",
                                        "..", "/"};
    for (size_t i = 0; i < COUNT(names); i++) {
        char command[400];
        snprintf(command, sizeof command, "sagband protect -v 480 --device-curve \"%s\" " ONE_MOTOR " 2>$D/err",
                 names[i]);
        expect(state, command, 2);
        expect(state, "grep -q 'cannot be opened' $D/err", 0);
        expect(state, "! LC_ALL=C grep -qE \"$(printf '[\\001-\\010\\013-\\037\\177]|\\342\\200\\256')\" $D/err", 0);
        expect(state, "test \"$(ls $D)\" = err", 0);
    }
}

/* Where a curve stands for the relay its class says nothing. */
static void picture_names_the_curve(void **state)
{
    expect(state, "mkdir $D/p && sagband plot -q -v 480 -o $D/p " ONE_MOTOR " >$D/names", 0);
    expect(state, "grep -q 'relay .*, class ' $D/p/*-timecurrent.gp", 0);
    expect(state, "sagband plot -q --force -v 480 --relay-curve " CURVE " -o $D/p " ONE_MOTOR " >$D/names", 0);
    expect(state, "grep -q 'relay .*, its curve' $D/p/*-timecurrent.gp", 0);
    expect(state, "! grep -q 'relay .*, class ' $D/p/*-timecurrent.gp", 0);
}

TEST_LIST(curve_files, IN_FOLDER(curves_that_are_no_files), IN_FOLDER(picture_names_the_curve), IN_FOLDER(odd_names))
