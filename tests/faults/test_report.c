/* The report: what lies in its folder, what it says of itself, and what may go wrong while it is made. */
#include <signal.h>
#include <sys/wait.h>
#include <time.h>

#include "faults_help.h"
#include "sanitizer.h"

#define REPORT       "SOURCE_DATE_EPOCH=1000000000 sagband report -q "
#define PLAIN        REPORT "--no-pictures "
#define SAME_ROWS    "sort $D/r/%s.csv >$D/a; sagband %s -q -f csv " DEMO " | sort >$D/b; cmp $D/a $D/b"
#define WITHOUT_DRAW "mkdir -p $D/bin; ln -sf \"$(command -v sagband)\" $D/bin/; env PATH=$D/bin "

/* Its tables are those that the commands print, but for the order of feeders. */
static void tables_of_the_commands(void **state)
{
    static const char *const tables[] = {"check", "start", "protect", "supply"};
    expect(state, PLAIN "-o $D/r " DEMO, 1);
    for (size_t i = 0; i < COUNT(tables); i++) {
        char command[400];
        snprintf(command, sizeof command, SAME_ROWS, tables[i], tables[i]);
        expect(state, command, 0);
    }
    expect(state,
           "for c in check supply start protect; do sagband $c -q -f csv --findings " DEMO
           "; done | sort >$D/b; sort $D/r/findings.csv | grep -v ^subject, >$D/a; grep -v ^subject, $D/b | cmp - $D/a",
           0);
}

/* Each picture has its script beside it and stands in the page. */
static void pictures_in_the_page(void **state)
{
    expect(state, REPORT "-o $D/r --feeder FIRE " DEMO, 1);
    expect(state,
           "cd $D/r; for s in *.gp; do test -s ${s%.gp}.svg || exit 7; done; "
           "test $(ls *.gp | wc -l) -eq 8 && test $(grep -c '<svg viewBox' index.html) -eq 8",
           0);
    expect(state, "! grep -E '(src|href)=.?https?:' $D/r/index.html && ! grep -F '<script' $D/r/index.html", 0);
}

static void without_gnuplot(void **state)
{
    expect_words(state, WITHOUT_DRAW REPORT "-o $D/r " DEMO, 1, "");
    expect(state, "grep -q 'no pictures in this page: gnuplot cannot be started' $D/r/index.html", 0);
    expect(state, "test -s $D/r/LIFT-band.gp && ! ls $D/r/*.svg 2>/dev/null && test -s $D/r/check.csv", 0);
}

static void pictures_not_asked_for(void **state)
{
    expect(state, PLAIN "-o $D/r " DEMO, 1);
    expect(state, "grep -q 'they were not asked for' $D/r/index.html && test -s $D/r/LIFT-sag.gp", 0);
}

/* For the record: names, sums that another program finds too, version, date, the words it was called with. */
static void record(void **state)
{
    struct ran ran;
    expect(state, PLAIN "-o $D/r " DEMO, 1);
    expect(state,
           "for f in " DEMO_SUPPLY " " DEMO_MOTORS "; do grep -q \"$(sha256sum $f | cut -d' ' -f1)\" $D/r/index.html "
           "&& grep -q $f $D/r/index.html || exit 7; done",
           0);
    run_in(state, "sed -n '/id=\"record\"/,/<\\/p>/p' $D/r/index.html; sagband --version", &ran);
    assert_non_null(strstr(ran.out, "2001-09-09 01:46 UTC"));
    assert_non_null(strstr(ran.out, "sagband report -q --no-pictures -o "));
    assert_non_null(strstr(ran.out, "Made by sagband 0."));
    free_ran(&ran);
}

static void standard_input_is_summed_up(void **state)
{
    expect(state, PLAIN "-o $D/r -v 480 - <" ONE_MOTOR, 0);
    expect(state, "grep -q \"$(sha256sum <" ONE_MOTOR " | cut -d' ' -f1)\" $D/r/index.html", 0);
}

/* The same bytes whenever it is made. */
static void same_twice(void **state)
{
    expect(state, "cd $D && mkdir one two", 0);
    expect(state,
           PLAIN "-o $D/r " DEMO "; mv $D/r $D/one/; " PLAIN "-o $D/r " DEMO "; mv $D/r $D/two/; "
                 "diff -r $D/one $D/two",
           0);
}

static void what_is_there_stays(void **state)
{
    static const char *const names[] = {"index.html", "check.csv", "LIFT-band.gp", "SHOP-sizes.gp", "LIFT-band.svg"};
    for (size_t i = 0; i < COUNT(names); i++) {
        char command[400];
        snprintf(command, sizeof command, "rm -rf $D/r; mkdir $D/r; echo kept >$D/r/%s", names[i]);
        expect(state, command, 0);
        expect_words(state, REPORT "-o $D/r " DEMO, 3, "exists already; --force overwrites it");
        snprintf(command, sizeof command, "test \"$(cat $D/r/%s)\" = kept && test \"$(ls $D/r)\" = %s", names[i],
                 names[i]);
        expect(state, command, 0);
    }
    expect(state, PLAIN "--force -o $D/r " DEMO, 1);
    expect(state, "grep -q '</html>' $D/r/index.html", 0);
}

/* An input that is named as an output, by whatever way, is not lost. */
static void inputs_are_not_overwritten(void **state)
{
    expect(state, "cp " ONE_MOTOR " $D/check.csv; cp $D/check.csv $D/copy", 0);
    expect_words(state, PLAIN "--force -o $D -v 480 $D/check.csv", 3, "is an input; it would be overwritten");
    expect(state, "cmp $D/check.csv $D/copy", 0);
}

static void no_such_place(void **state)
{
    expect(state, "echo kept >$D/file", 0);
    expect_words(state, PLAIN "-o $D/file " DEMO, 3, "cannot be used as a folder");
    expect_words(state, PLAIN "-o $D/none/deep " DEMO, 3, "cannot be used as a folder");
    expect_words(state, PLAIN "-o $D/r -s $D/none.csv " DEMO_MOTORS, 2, "cannot be opened");
    expect(state, "test \"$(ls $D)\" = file", 0);
}

/* One of the files cannot be put in place: none of the tables is, and the old page stays. */
static void fails_in_the_middle(void **state)
{
    expect(state, "mkdir -p $D/r/check.csv; echo kept >$D/r/index.html", 0);
    expect_words(state, PLAIN "--force -o $D/r " DEMO, 3, "could not be written");
    expect(state, "test \"$(cat $D/r/index.html)\" = kept && ! test -e $D/r/start.csv && ! ls $D/r/*.tmp 2>/dev/null",
           0);
}

static void fewer_starts(void **state)
{
    expect(state, PLAIN "--starts 3 -o $D/r " DEMO, 1);
    expect(state,
           "test $(tail -n +2 $D/r/start.csv | cut -d, -f1 | sort -u | wc -l) -eq 3 && "
           "grep -q ^FP-1, $D/r/start.csv && grep -q '25 smaller ones were not run' $D/r/index.html",
           0);
    expect_words(state, PLAIN "--starts 0 -o $D/s " DEMO, 2, "is not a count of motors");
}

static void measured_by_a_log(void **state)
{
    expect(state, PLAIN "--measured LIFT=motordata/cawdry-flats/survey.csv -o $D/r " DEMO, 1);
    expect(state,
           "grep -q 'log of measured volts' $D/r/index.html && "
           "grep -q \"$(sha256sum motordata/cawdry-flats/survey.csv | cut -d' ' -f1)\" $D/r/index.html",
           0);
}

/* Each file is what it was read as, also where it has no name. */
static void roles_of_files(void **state)
{
    expect(state, PLAIN "-o $D/r -s - " DEMO_MOTORS " <" DEMO_SUPPLY, 1);
    expect(state, "grep -q '>standard input</th><td>supply path</td>' $D/r/index.html", 0);
    expect(state, "grep -q '" DEMO_MOTORS "</th><td>motor list</td>' $D/r/index.html", 0);
}

/* Where nothing was measured nothing is judged, and nothing is called ok. */
static void not_judged(void **state)
{
    expect_words(state, "sagband report --no-pictures --case measured -o $D/r " DEMO, 1,
                 "20 of the unknown were not judged");
    expect(state,
           "grep -q '2 of 28 motors may stay' $D/r/index.html && "
           "grep -q 'no volts are known at their board: 22 (' $D/r/index.html",
           0);
    expect(state, PLAIN "--feeder FIRE -o $D/f " DEMO, 1);
    expect(state, "grep -q '0 of 2 motors may stay as they are\\.' $D/f/index.html", 0);
}

/* Feet are those of rows that are shown: one motor on typed volts has no feeder. */
static void feet_of_what_is_shown(void **state)
{
    expect(state, PLAIN "-o $D/r -v 480 " ONE_MOTOR, 0);
    expect(state, "grep -q '>430.22</td>' $D/r/index.html && ! grep -q '>430.24</td>' $D/r/index.html", 0);
}

/* The page's sections wait in a file without a name; a disk for such files that is full or read-only is told of. */
static void no_room_for_sections(void **state)
{
    static const struct {
        const char *options, *words;
    } rows[] = {{"ro,size=64k", "page's sections: Read-only file system"},
                {"size=8k", "page's sections: No space left on device"},
                {"size=40k", "page's sections: No space left on device"}};
    struct ran ran;
    run_in(state, "unshare -rm sh -c \"mount --bind $D /mnt && mount -t tmpfs tmpfs /tmp\"", &ran);
    bool can = ran.status == 0;
    free_ran(&ran);
    if (!can) {
        print_message("skipped: no file system can be mounted here\n");
        skip();
    }
    for (size_t i = 0; i < COUNT(rows); i++) {
        char command[600];
        snprintf(command, sizeof command,
                 "rm -rf $D/r; cat >$D/line <<END\nexec 9<\"$(command -v sagband)\"\nmount --bind $D /mnt\n"
                 "mount -t tmpfs -o %s tmpfs /tmp\n/proc/self/fd/9 report -q --no-pictures -o /mnt/r " DEMO
                 "\nEND\nunshare -rm sh $D/line",
                 rows[i].options);
        expect_words(state, command, 3, rows[i].words);
        expect(state, "! ls $D/r/*.csv $D/r/*.html 2>/dev/null", 0);
    }
}

/* With too little memory there is a message and no page; with enough the page is the same. */
static void short_of_memory(void **state)
{
    enum {
        LEAST = 9000,
        MOST = 60000,
        STEP = 900
    };
    int refused = 0, well = 0;
    if (HAS_SANITIZER) {
        print_message("skipped: a sanitizer needs more memory than any limit leaves\n");
        skip();
    }
    expect(state, PLAIN "-o $D/r " DEMO "; cp $D/r/index.html $D/wanted", 0);
    for (int kb = LEAST; kb < MOST && well < 3; kb += STEP) {
        char command[400];
        struct ran ran;
        snprintf(command, sizeof command,
                 "rm -rf $D/r; (ulimit -v %d; SOURCE_DATE_EPOCH=1000000000 exec sagband report "
                 "-q --no-pictures -o $D/r " DEMO ")",
                 kb);
        run_in(state, command, &ran);
        well = ran.status == 1 ? well + 1 : 0;
        refused += ran.status == 3;
        if (ran.status != 1 && (ran.status != 3 || !*ran.err) && strstr(ran.err, "loading shared libraries") == NULL)
            fail_msg("within %d kB it ended with %d; it said: %.300s", kb, ran.status, ran.err);
        expect(state, ran.status == 1 ? "cmp $D/wanted $D/r/index.html" : "! test -e $D/r/index.html", 0);
        free_ran(&ran);
    }
    assert_int_equal(well, 3);
    assert_true(refused > 0);
}

/* Killed at any moment: the page is the old one or a whole one. */
static void killed(void **state)
{
    char folder[80];
    snprintf(folder, sizeof folder, "%s/r", (char *)*state);
    expect(state, PLAIN "-o $D/r " DEMO, 1);
    for (int i = 0; i < 12; i++) {
        pid_t child = fork();
        if (child == 0) {
            execl(getenv("SAGBAND"), "sagband", "report", "-q", "--force", "-o", folder, "-s", DEMO_SUPPLY, DEMO_MOTORS,
                  (char *)NULL);
            _exit(127);
        }
        assert_true(child > 0);
        nanosleep(&(struct timespec){0, 40000000L * (i + 1)}, NULL);
        kill(child, SIGKILL);
        waitpid(child, NULL, 0);
        expect(state,
               "head -c 15 $D/r/index.html | grep -q '<!DOCTYPE html>' && tail -n 1 $D/r/index.html | grep -q "
               "'</html>' && "
               "for f in check start protect findings; do tail -c 1 $D/r/$f.csv | od -An -c | grep -q '\\\\n' || exit "
               "7; done",
               0);
    }
}

TEST_LIST(report, IN_FOLDER(tables_of_the_commands), IN_FOLDER(pictures_in_the_page), IN_FOLDER(without_gnuplot),
          IN_FOLDER(pictures_not_asked_for), IN_FOLDER(record), IN_FOLDER(standard_input_is_summed_up),
          IN_FOLDER(same_twice), IN_FOLDER(what_is_there_stays), IN_FOLDER(inputs_are_not_overwritten),
          IN_FOLDER(no_such_place), IN_FOLDER(fails_in_the_middle), IN_FOLDER(fewer_starts),
          IN_FOLDER(measured_by_a_log), IN_FOLDER(roles_of_files), IN_FOLDER(not_judged),
          IN_FOLDER(feet_of_what_is_shown), IN_FOLDER(no_room_for_sections), IN_FOLDER(short_of_memory),
          IN_FOLDER(killed))
