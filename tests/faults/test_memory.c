/* Short of memory: every command in every format at many limits either does all of its work, or says so, exits with 3
   and leaves no file that is half there. */
#include "faults_help.h"
#include "sanitizer.h"

/* A sanitizer's own maps need more than any limit leaves. */
#if HAS_SANITIZER
#define MEMORY_TESTS cmocka_unit_test(not_under_a_sanitizer)

static void not_under_a_sanitizer(void **state)
{
    (void)state;
    print_message("skipped: a sanitizer needs more memory than any limit leaves\n");
    skip();
}

#else
#define MEMORY_TESTS IN_FOLDER(nothing_half_there)

/* One row a command and format. */
static const char *const rows[] = {
    "check -v 480 -f csv $D/big.csv",
    "check -v 480 $D/big.csv",
    "check -v 480 -f json --findings $D/big.csv",
    "explain M-3 -v 480 $D/big.csv",
    "protect --motor M-3 -v 480 -f csv $D/big.csv",
    "protect --motor M-3 -v 480 --device-curve " CURVE " $D/big.csv",
    "check -f json " DEMO,
    "supply " DEMO,
    "supply -f json " DEMO,
    "start --case nominal --feeder LIFT " DEMO,
    "start --case nominal --motor LP-1 -f json " DEMO,
    "start --sequence --case nominal --feeder LIFT -f csv " DEMO,
    "start --trace --case nominal --motor LP-1 -f csv " DEMO,
    "start --advice --case nominal --motor LP-1 -f csv " DEMO,
    "protect --case nominal --feeder SHOP " DEMO,
    "protect --case nominal --feeder SHOP -f json " DEMO,
    "explain LIFT " DEMO,
    "explain LP-1 -f json --case nominal " DEMO,
    "explain LP-1 -f csv --case nominal " DEMO,
    "plot --case nominal --feeder SHOP " DEMO,
    "survey -f json --motors " DEMO_MOTORS " -s " DEMO_SUPPLY " --at T1 motordata/cawdry-flats/survey.csv",
    "tables",
    "tables -f json iec_60034_30_1_efficiency_50hz",
    "template motors",
};

/* Whether the program can be loaded at all within `kb`: below that the fault is not its own. */
static bool is_loadable(void **state, int kb)
{
    char command[100];
    struct ran ran;
    snprintf(command, sizeof command, "(ulimit -v %d; exec sagband --version)", kb);
    run_in(state, command, &ran);
    bool loads = ran.status == 0;
    free_ran(&ran);
    return loads;
}

/* Nothing of a failed run is there but whole scripts. */
#define NOTHING_HALF                                                                                                   \
    "for g in $(find $D/got -type f 2>&-); do "                                                                        \
    "case $g in *.gp) test \"$(tail -n 1 $g)\" = 'unset output';; *) false;; esac || exit 1; done"

/* `usual`: its status where there is enough. */
static bool check_within(void **state, size_t row, int kb, int usual)
{
    char command[500];
    struct ran ran;
    snprintf(command, sizeof command, "rm -rf $D/got; (ulimit -v %d; exec sagband %s -q -o $D/got)", kb, rows[row]);
    run_in(state, command, &ran);
    bool well = ran.status == usual;
    if (!well && (ran.status != 3 || !strstr(ran.err, "sagband: ")))
        fail_msg("%s\n ended with %d within %d kB; it said: %.300s", rows[row], ran.status, kb, ran.err);
    free_ran(&ran);
    run_in(state, well ? "diff -r $D/wanted $D/got" : NOTHING_HALF, &ran);
    if (ran.status != 0)
        fail_msg("%s\n within %d kB, %s: %.300s", rows[row], kb, well ? "differs" : "half there", ran.out);
    free_ran(&ran);
    expect(state, "test -z \"$(find $D -name '*tmp')\"", 0);
    return well;
}

static void nothing_half_there(void **state)
{
    enum {
        STEP = 100,
        MOST = 90000,
        ENOUGH = 3 /* limits one after the other that leave enough: more will too */
    };
    write_big_list(state, 200);
    int least = STEP;
    while (least < MOST && !is_loadable(state, least))
        least += STEP;
    for (size_t i = 0; i < COUNT(rows); i++) {
        char command[400];
        struct ran ran;
        int refused = 0, well = 0;
        snprintf(command, sizeof command, "rm -rf $D/wanted; sagband %s -q -o $D/wanted", rows[i]);
        run_in(state, command, &ran);
        const int usual = ran.status;
        free_ran(&ran);
        assert_in_range(usual, 0, 1);
        for (int kb = least; kb < MOST && well < ENOUGH; kb += STEP) {
            bool all = check_within(state, i, kb, usual);
            refused += !all;
            well = all ? well + 1 : 0;
        }
        assert_int_equal(well, ENOUGH);
        if (refused == 0 && strcmp(rows[i], "template motors") != 0) /* which needs next to nothing */
            fail_msg("%s: no limit was too small", rows[i]);
    }
}

#endif

TEST_LIST(memory, MEMORY_TESTS)
