/* Inputs that somebody writes to while they are read. The list is a pipe: that it is opened says that the supply was
   read, and as long as nothing comes out of it the program waits. So each change falls where it should, every time. */
#include "faults_help.h"

#define WAITS   "mkfifo $D/pipe; sagband %s -o $D/got -s $D/s.csv $D/pipe 2>$D/err & exec 8>$D/pipe; "
#define GOES_ON "; cat " DEMO_MOTORS " >&8; exec 8>&-; wait $!; s=$?; rm -f $D/pipe; cat $D/err >&2; exit $s"
#define SAYS    "s.csv: changed while it was read; run again"

/* One row a command that reads a list; what it needs beside its files. */
static const char *const reading[] = {
    "check -q -f csv",   "check -q",        "supply -q -f csv",        "start -q --feeder PACK -f csv",
    "protect -q -f csv", "explain PACK -q", "explain LP-1 -q -f json", "check -q --findings",
};

static const struct {
    const char *what, *change;
} changes[] = {
    {"grows", "echo >>$D/s.csv"},
    {"shrinks", "truncate -s -1 $D/s.csv"},
    {"is emptied", ": >$D/s.csv"},
    {"is written anew with the same size", "cp $D/s.csv $D/old; sleep 0.05; cat $D/old >$D/s.csv; rm $D/old"},
    {"keeps its size and gets an old date", "touch -d 2001-01-01 $D/s.csv"},
    {"is another file of the same bytes, size and date", "cp -p $D/s.csv $D/new; mv $D/new $D/s.csv"},
    {"is gone", "rm $D/s.csv"},
    {"is a folder now", "rm $D/s.csv; mkdir $D/s.csv"},
};

static void run_with(void **state, const char *words, const char *change, int status, const char *says)
{
    char command[FAULTS_COMMAND_MAX], waits[300];
    snprintf(waits, sizeof waits, WAITS, words);
    snprintf(command, sizeof command, "rm -rf $D/*; cp " DEMO_SUPPLY " $D/s.csv; %s%s" GOES_ON, waits, change);
    expect_words(state, command, status, says);
}

static void every_change_is_seen(void **state)
{
    for (size_t i = 0; i < COUNT(changes); i++) {
        run_with(state, reading[0], changes[i].change, 2, SAYS);
        expect(state, "test ! -e $D/got && test -z \"$(ls $D | grep tmp)\"", 0);
    }
}

static void every_command_looks(void **state)
{
    for (size_t i = 0; i < COUNT(reading); i++) {
        run_with(state, reading[i], changes[0].change, 2, SAYS);
        expect(state, "test ! -e $D/got", 0);
    }
}

/* What is none of the program's business is not refused, or the rows above would pass for any reason. */
static void nothing_else_is_a_change(void **state)
{
    static const char *const quiet[] = {":", "cat $D/s.csv >/dev/null", "chmod 400 $D/s.csv", "ln $D/s.csv $D/more",
                                        "echo x >$D/other"};
    for (size_t i = 0; i < COUNT(quiet); i++) {
        run_with(state, reading[0], quiet[i], 1, "");
        expect(state, "sagband check -q -f csv " DEMO " >$D/wanted; cmp $D/got $D/wanted", 0);
    }
}

/* The list and the curves are looked at as well: here the last of the inputs is the pipe. */
static void every_input_is_looked_at(void **state)
{
    static const char *const names[] = {"m.csv", "s.csv", "d.csv"};
    for (size_t i = 0; i < COUNT(names); i++) {
        char command[FAULTS_COMMAND_MAX], says[100];
        snprintf(says, sizeof says, "%s: changed while it was read; run again", names[i]);
        snprintf(command, sizeof command,
                 "rm -f $D/*; mkfifo $D/pipe; cp " DEMO_SUPPLY " $D/s.csv; cp " DEMO_MOTORS " $D/m.csv; cp " CURVE
                 " $D/d.csv; sagband protect -q --motor LIFT-1 --device-curve $D/d.csv --relay-curve $D/pipe -s "
                 "$D/s.csv -o $D/got $D/m.csv 2>$D/err & exec 8>$D/pipe; echo >>$D/%s; cat " CURVE
                 " >&8; exec 8>&-; wait $!; s=$?; cat $D/err >&2; test ! -e $D/got && exit $s",
                 names[i]);
        expect_words(state, command, 2, says);
    }
}

/* Faults of a list that is half there are told with it, the change first. */
static void half_a_list_says_so(void **state)
{
    run_with(state, "check -q --strict", "echo 'X,,cable' >>$D/s.csv", 2, SAYS);
    expect(state, "head -n 1 $D/err | grep -q 'changed while'", 0);
}

/* Standard input may be a file that grows, such as a log. */
static void standard_input_is_exempt(void **state)
{
    expect(state,
           "cp " ONE_MOTOR " $D/m.csv; mkfifo $D/pipe; "
           "sagband protect -q -v 480 --device-curve $D/pipe -o $D/got - <$D/m.csv & exec 8>$D/pipe; "
           "echo >>$D/m.csv; cat " CURVE " >&8; exec 8>&-; wait $!",
           0);
    expect(state, "test -s $D/got", 0);
}

/* Two lists take turns under one name, written over each other: an answer is that of one of them, or there is none. */
static void lists_that_take_turns(void **state)
{
    enum {
        RUNS = 60
    };
    write_big_list(state, 4000);
    expect(
        state,
        "cd $D && sed s/,460,/,440,/ big.csv >a && cp big.csv b && for l in a b; do "
        "sagband check -q --case nominal -v 480 -f csv $l >$l.out; test $? -lt 2 || exit 1; done; ! cmp -s a.out b.out",
        0);
    char command[FAULTS_COMMAND_MAX];
    snprintf(command, sizeof command,
             "cd $D; : >go; { while test -e go; do cat a >m; sleep 0.02; cat b >m; sleep 0.02; done; } & "
             "while test ! -s m; do :; done; n=0; s=0; "
             "for i in $(seq %d); do sagband check -q --case nominal -v 480 -f csv m >out 2>err; r=$?; "
             "if test $r -lt 2; then cmp -s out a.out || cmp -s out b.out || s=1; n=$((n+1)); "
             "else test $r -eq 2 && test ! -s out && grep -qE 'changed while|is empty' err || s=1; fi; done; "
             "rm go; wait; test $n -gt 0 || s=2; exit $s",
             RUNS);
    expect(state, command, 0);
}

TEST_LIST(changed, IN_FOLDER(every_change_is_seen), IN_FOLDER(every_command_looks), IN_FOLDER(nothing_else_is_a_change),
          IN_FOLDER(every_input_is_looked_at), IN_FOLDER(half_a_list_says_so), IN_FOLDER(standard_input_is_exempt),
          IN_FOLDER(lists_that_take_turns))
