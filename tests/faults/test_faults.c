/* Output that cannot be written, or must not be; and what the machine around the program may not change. */
#include <sys/stat.h>

#include "faults_help.h"

/* Every command that prints; what follows names where to. */
static const char *const printing[] = {
    "sagband check -q -v 480 " ONE_MOTOR,
    "sagband check -q -v 480 -f csv " ONE_MOTOR,
    "sagband check -q -v 480 -f json " ONE_MOTOR,
    "sagband check -q -v 520 --findings -f csv " ONE_MOTOR,
    "sagband check -q -f csv " DEMO,
    "sagband check -q -f json " DEMO,
    "sagband check -q " DEMO,
    "sagband explain P-1 -q -v 480 " ONE_MOTOR,
    "sagband explain P-1 -q -v 480 -f csv " ONE_MOTOR,
    "sagband explain P-1 -q -v 480 -f json " ONE_MOTOR,
    "sagband survey -q motordata/cawdry-flats/survey.csv",
    "sagband survey -q -f csv motordata/cawdry-flats/survey.csv",
    "sagband supply -q " DEMO,
    "sagband supply -q -f json " DEMO,
    "sagband start -q --case nominal --feeder PACK " DEMO,
    "sagband start -q --case nominal --feeder PACK -f csv " DEMO,
    "sagband start -q --trace --motor CV-1 -f csv " DEMO,
    "sagband start -q --together --case low --findings -f json " DEMO,
    "sagband protect -q -v 480 " ONE_MOTOR,
    "sagband protect -q -v 480 -f csv --device-curve " CURVE " " ONE_MOTOR,
    "sagband protect -q --feeder PACK -f json " DEMO,
    "sagband protect -q --feeder PACK --findings " DEMO,
    "sagband tables",
    "sagband tables -f json",
    "sagband tables nema_code_letters",
    "sagband tables nema_code_letters -f csv",
    "sagband tables iec_60034_30_1_efficiency_50hz -f json",
    "sagband template motors",
    "sagband template supply",
    "sagband plot -v 480 --force -o $D/plots " ONE_MOTOR,
    "sagband plot -q -v 520 --force -o $D/plots --findings -f csv " ONE_MOTOR,
    "sagband --help",
    "sagband check --help",
    "sagband --version",
    "sagband --completions",
};

static void check_lost(void **state, const char *to)
{
    for (size_t i = 0; i < COUNT(printing); i++) {
        char command[400];
        snprintf(command, sizeof command, "%s %s", printing[i], to);
        expect_words(state, command, 3, "standard output");
    }
}

static void full_disk(void **state)
{
    if (access("/dev/full", W_OK) != 0)
        skip();
    check_lost(state, ">/dev/full");
}

static void closed_output(void **state)
{
    check_lost(state, ">&-");
}

/* A pipe that nobody reads, as behind `| head` when it has seen enough. */
static void closed_pipe(void **state)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    close(ends[0]);
    assert_int_equal(dup2(ends[1], 9), 9);
    close(ends[1]);
    check_lost(state, ">&9");
    close(9);
}

/* The reader goes away in the middle; the status is told past the pipe. */
static void reader_that_stops(void **state)
{
    static const char *const formats[] = {"text", "csv", "json"};
    write_big_list(state, 300);
    for (size_t i = 0; i < COUNT(formats); i++) {
        char command[300];
        struct ran ran;
        snprintf(command, sizeof command,
                 "{ sagband check -q -v 480 -f %s $D/big.csv; echo $? >$D/status; } | head -c 1; cat $D/status",
                 formats[i]);
        run_in(state, command, &ran);
        check_text(formats[i], ran.out + 1, "3\n");
        assert_non_null(strstr(ran.err, "Broken pipe"));
        free_ran(&ran);
    }
}

/* Root may write into any folder, so a path below a regular file stands for one that cannot be written. */
static void no_such_place(void **state)
{
    static const struct {
        const char *command, *words;
    } rows[] = {
        {"sagband check -v 480 -o $D/file/x.csv " ONE_MOTOR, "Not a directory"},
        {"sagband check -v 480 --force -o $D/file/x.csv " ONE_MOTOR, "Not a directory"},
        {"sagband explain P-1 -v 480 -o $D/file/x.txt " ONE_MOTOR, "Not a directory"},
        {"sagband protect -v 480 -o $D/file/x.txt " ONE_MOTOR, "Not a directory"},
        {"sagband tables -o $D/file/x.txt", "Not a directory"},
        {"sagband template motors -o $D/file/x.csv", "Not a directory"},
        {"sagband plot -v 480 -o $D/file/plots " ONE_MOTOR, "Not a directory"},
        {"sagband plot -v 480 -o $D/file " ONE_MOTOR, "cannot be used as a folder"},
        {"sagband check -v 480 -o $D/none/x.csv " ONE_MOTOR, "No such file or directory"},
        {"sagband check -v 480 --force -o $D " ONE_MOTOR, "could not be written"},
    };
    expect(state, "echo kept >$D/file", 0);
    for (size_t i = 0; i < COUNT(rows); i++)
        expect_words(state, rows[i].command, 3, rows[i].words);
    expect(state, "test \"$(cat $D/file)\" = kept && test \"$(ls -A $D)\" = file", 0);
}

/* --- files that are there already ------------------------------------------------------------------------------- */

static void existing_is_refused(void **state)
{
    static const char *const commands[] = {
        "sagband check -v 480 -o $D/a.csv " ONE_MOTOR,
        "sagband check -v 480 --findings -f json -o $D/a.csv " ONE_MOTOR,
        "sagband explain P-1 -v 480 -o $D/a.csv " ONE_MOTOR,
        "sagband protect -v 480 -f csv -o $D/a.csv " ONE_MOTOR,
        "sagband tables -o $D/a.csv",
        "sagband tables nema_code_letters -f csv -o $D/a.csv",
        "sagband template supply -o $D/a.csv",
    };
    expect(state, "echo old >$D/a.csv", 0);
    for (size_t i = 0; i < COUNT(commands); i++) {
        expect_words(state, commands[i], 3, "exists already; --force overwrites it");
        expect(state, "test \"$(cat $D/a.csv)\" = old && test \"$(ls -A $D)\" = a.csv", 0);
    }
}

/* One script in the way: none of the others is written. */
static void existing_script_is_refused(void **state)
{
    expect(state, "mkdir $D/p && echo old >$D/p/MAIN-effect.gp", 0);
    expect_words(state, "sagband plot -v 480 -o $D/p " ONE_MOTOR, 3, "exists already; --force overwrites it");
    expect(state, "test \"$(cat $D/p/MAIN-effect.gp)\" = old && test \"$(ls -A $D/p)\" = MAIN-effect.gp", 0);
    expect(state, "sagband plot -v 480 --force -o $D/p " ONE_MOTOR, 0);
    expect(state, "test $(ls -A $D/p | wc -l) = 6 && ! grep -qx old $D/p/MAIN-effect.gp", 0);
}

/* With a supply file there are more, and each of them in the way stops all. */
static void existing_start_script_is_refused(void **state)
{
    static const char *const names[] = {"profile", "sag", "torque", "torque-2", "timecurrent-2", "sizes"};
    for (size_t i = 0; i < COUNT(names); i++) {
        char command[300];
        snprintf(command, sizeof command, "rm -rf $D/p; mkdir $D/p && echo old >$D/p/PACK-%s.gp", names[i]);
        expect(state, command, 0);
        expect_words(state, "sagband plot -s " DEMO_SUPPLY " --feeder PACK -o $D/p " DEMO_MOTORS, 3,
                     "exists already; --force overwrites it");
        snprintf(command, sizeof command, "test \"$(ls -A $D/p)\" = PACK-%s.gp", names[i]);
        expect(state, command, 0);
    }
    expect(state, "sagband plot -s " DEMO_SUPPLY " --feeder PACK --force -o $D/p " DEMO_MOTORS, 1);
    expect(state,
           "test \"$(ls $D/p | tr '\\n' ' ')\" = 'PACK-band.gp PACK-curve-2.gp PACK-curve.gp PACK-effect.gp "
           "PACK-profile.gp PACK-sag.gp PACK-sizes.gp PACK-timecurrent-2.gp PACK-timecurrent.gp PACK-torque-2.gp "
           "PACK-torque.gp '",
           0);
}

static void force_keeps_the_mode(void **state)
{
    static const char *const modes[] = {"640", "600", "444", "755", "606"};
    expect(state, "sagband tables >$D/wanted", 0);
    for (size_t i = 0; i < COUNT(modes); i++) {
        char command[300];
        snprintf(command, sizeof command,
                 "umask 027; rm -f $D/a; echo old >$D/a; chmod %s $D/a; sagband tables --force -o $D/a && "
                 "cmp $D/a $D/wanted && test $(stat -c %%a $D/a) = %s",
                 modes[i], modes[i]);
        expect(state, command, 0);
    }
}

static void inputs_are_spared(void **state)
{
    static const char *const commands[] = {
        "sagband check -v 480 -o $D/m.csv $D/m.csv",
        "sagband check -v 480 --force -o $D/m.csv $D/m.csv",
        "sagband check -v 480 --force -o $D/../$(basename $D)/./m.csv $D/m.csv",
        "ln -sf m.csv $D/link; sagband check -v 480 --force -o $D/link $D/m.csv",
        "ln -sf m.csv $D/link; sagband check -v 480 --force -o $D/m.csv $D/link",
        "ln -f $D/m.csv $D/hard; sagband check -v 480 --force -o $D/hard $D/m.csv",
        "sagband check --force -s $D/s.csv -o $D/s.csv $D/m.csv",
        "sagband check --force -s $D/s.csv -o $D/m.csv $D/m.csv",
        "sagband explain LP-1 -v 480 --force -o $D/m.csv $D/m.csv",
        "sagband explain LIFT --force -s $D/s.csv -o $D/s.csv $D/m.csv",
        "sagband protect --force -s $D/s.csv -o $D/m.csv $D/m.csv",
        "sagband protect -v 480 --force --device-curve $D/c.csv -o $D/c.csv $D/m.csv",
        "sagband protect -v 480 --force --relay-curve $D/c.csv -o $D/c.csv $D/m.csv",
        "sagband protect -v 480 -o $D/c.csv --relay-curve $D/c.csv $D/m.csv",
        "ln -sf c.csv $D/link; sagband protect -v 480 --force --device-curve $D/link -o $D/c.csv $D/m.csv",
        "ln -f $D/c.csv $D/hard; sagband protect -v 480 --force --relay-curve $D/c.csv -o $D/hard $D/m.csv",
    };
    expect(state, "cp " DEMO_MOTORS " $D/m.csv && cp " DEMO_SUPPLY " $D/s.csv && cp " CURVE " $D/c.csv", 0);
    for (size_t i = 0; i < COUNT(commands); i++) {
        expect_words(state, commands[i], 2, "--output names an input");
        expect(state, "cmp $D/m.csv " DEMO_MOTORS " && cmp $D/s.csv " DEMO_SUPPLY " && cmp $D/c.csv " CURVE, 0);
    }
}

/* An input may bear the name that a script would get. */
static void plot_spares_its_inputs(void **state)
{
    expect(state, "mkdir $D/p; cp " DEMO_MOTORS " $D/p/LIFT-band.gp && cp " DEMO_SUPPLY " $D/p/COLD-curve.gp", 0);
    expect_words(state, "sagband plot --force -s " DEMO_SUPPLY " -o $D/p $D/p/LIFT-band.gp", 3, "is an input");
    expect_words(state, "sagband plot --force -s $D/p/COLD-curve.gp -o $D/p " DEMO_MOTORS, 3, "is an input");
    expect(state, "cmp $D/p/LIFT-band.gp " DEMO_MOTORS " && cmp $D/p/COLD-curve.gp " DEMO_SUPPLY, 0);
    expect(state, "test $(ls -A $D/p | wc -l) = 2", 0);
    expect(state, "mkdir $D/q; cp " CURVE " $D/q/LIFT-sizes.gp", 0);
    expect_words(state,
                 "sagband plot --force -s " DEMO_SUPPLY " --device-curve $D/q/LIFT-sizes.gp -o $D/q " DEMO_MOTORS, 3,
                 "is an input");
    expect_words(state, "sagband plot --force -s " DEMO_SUPPLY " --relay-curve $D/q/LIFT-sizes.gp -o $D/q " DEMO_MOTORS,
                 3, "is an input");
    expect(state, "cmp $D/q/LIFT-sizes.gp " CURVE, 0);
}

/* --- what is no regular file ------------------------------------------------------------------------------------ */

/* A null device of our own where we may make one, so that a slip cannot hurt the machine's; else that one, which only
   root could replace. */
static bool find_null_device(void **state)
{
    struct ran ran;
    run_in(state, "mknod -m 666 $D/null c 1 3 && : >$D/null", &ran);
    bool made = ran.status == 0;
    free_ran(&ran);
    if (made)
        return true;
    if (geteuid() == 0)
        return false;
    expect(state, "rm -f $D/null; ln -s /dev/null $D/null", 0);
    return true;
}

static void device_stays_one(void **state)
{
    if (!find_null_device(state))
        skip();
    expect(state, "sagband check -q -v 480 -o $D/null " ONE_MOTOR, 0);
    expect(state, "sagband check -q -v 480 --force -o $D/null " ONE_MOTOR, 0);
    expect(state, "sagband tables --force -o $D/null", 0);
    expect(state, "sagband template motors --force -o $D/null", 0);
    expect(state, "test -c $D/null && test \"$(ls -A $D)\" = null", 0);
}

static void full_device(void **state)
{
    struct ran ran;
    run_in(state, "mknod -m 666 $D/full c 1 7 && ! echo x 2>/dev/null >$D/full", &ran);
    bool made = ran.status == 0;
    free_ran(&ran);
    if (!made)
        skip();
    expect_words(state, "sagband check -q -v 480 --force -o $D/full " ONE_MOTOR, 3, "No space left on device");
    expect_words(state, "sagband check -q -f csv --force -o $D/full " DEMO, 3, "No space left on device");
    expect_words(state, "sagband check -q -f json --findings --force -o $D/full " DEMO, 3, "No space left on device");
    expect_words(state, "sagband check -q --force -o $D/full " DEMO, 3, "No space left on device");
    expect_words(state, "sagband explain LP-1 -q -f json --force -o $D/full " DEMO, 3, "No space left on device");
    expect_words(state, "sagband protect -q -v 480 --force -o $D/full " ONE_MOTOR, 3, "No space left on device");
    expect_words(state, "sagband tables --force -o $D/full", 3, "No space left on device");
    expect(state, "test -c $D/full && test \"$(ls -A $D)\" = full", 0);
}

/* A limit on the size of files stands for a full disk: nothing is left, and an old file stays. */
static void disk_full_of_a_file(void **state)
{
    static const char *const commands[] = {"sagband check -q -f csv " DEMO,
                                           "sagband check -q " DEMO,
                                           "sagband explain LP-1 -q -f json " DEMO,
                                           "sagband protect -q --feeder PACK " DEMO,
                                           "sagband protect -q --feeder PACK -f json " DEMO,
                                           "sagband tables iec_60034_30_1_efficiency_50hz -f json"};
    for (size_t i = 0; i < COUNT(commands); i++) {
        char command[400];
        snprintf(command, sizeof command, "ulimit -f 4; rm -f $D/a; %s -o $D/a", commands[i]);
        expect_words(state, command, 3, "File too large");
        expect(state, "test -z \"$(ls -A $D)\"", 0);
        snprintf(command, sizeof command, "ulimit -f 4; echo old >$D/a; %s --force -o $D/a", commands[i]);
        expect_words(state, command, 3, "File too large");
        expect(state, "test \"$(ls -A $D)\" = a && test \"$(cat $D/a)\" = old", 0);
    }
}

static void link_stays_one(void **state)
{
    expect(state, "mkdir $D/there; echo old >$D/there/a; ln -s there/a $D/link; sagband tables >$D/wanted", 0);
    expect_words(state, "sagband tables -o $D/link", 3, "exists already");
    expect(state, "test \"$(cat $D/there/a)\" = old", 0);
    expect(state, "sagband tables --force -o $D/link", 0);
    expect(state, "test -L $D/link && test ! -L $D/there/a && cmp $D/there/a $D/wanted", 0);
    expect(state, "test \"$(ls -A $D/there)\" = a && test $(ls -A $D | wc -l) = 3", 0);
}

static void link_to_nothing_is_refused(void **state)
{
    expect(state, "ln -s nowhere $D/link", 0);
    expect(state, "sagband tables -o $D/link", 3);
    expect(state, "test -L $D/link && test \"$(ls -A $D)\" = link", 0);
}

static void named_pipe_is_written_through(void **state)
{
    static const char *const commands[] = {"sagband check -q -v 480 -f csv", "sagband check -q -v 480 -f csv --force",
                                           "sagband explain P-1 -q -v 480"};
    expect(state, "mkfifo $D/pipe", 0);
    for (size_t i = 0; i < COUNT(commands); i++) {
        char command[500];
        snprintf(command, sizeof command,
                 "timeout 20 cat $D/pipe >$D/got & %s -o $D/pipe " ONE_MOTOR "; s=$?; wait; %s " ONE_MOTOR
                 " >$D/wanted; cmp $D/got $D/wanted && test -p $D/pipe && exit $s",
                 commands[i], commands[i]);
        expect(state, command, 0);
    }
    expect(state, "test $(ls -A $D | wc -l) = 3", 0);
}

/* --- what changes nothing --------------------------------------------------------------------------------------- */

/* Run the demo, and a list that is judged in more than one batch, in surroundings `how`: byte for byte the same. */
static void check_same(void **state, const char *how)
{
    static const char *const commands[] = {
        "sagband check -q -f csv " DEMO,
        "sagband check -q " DEMO,
        "sagband check -q -f csv --findings " DEMO,
        "sagband explain LP-1 -q -f json " DEMO,
        "sagband protect -q --feeder PACK -f csv " DEMO,
        "sagband check -q -f csv -v 480 $D/big.csv",
        "sagband check -q -f csv -v 400 --hz 50 motordata/examples/european.csv",
    };
    for (size_t i = 0; i < COUNT(commands); i++) {
        char command[600];
        snprintf(command, sizeof command, "%s >$D/plain; %s %s >$D/other; cmp $D/plain $D/other && test -s $D/plain",
                 commands[i], how, commands[i]);
        expect(state, command, 0);
    }
}

static void locale_changes_nothing(void **state)
{
    write_big_list(state, 600);
    check_same(state, "env LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8 LC_NUMERIC=de_DE.UTF-8");
    check_same(state, "env LC_ALL=C.UTF-8");
    check_same(state, "env LC_ALL=tr_TR.UTF-8");
    check_same(state, "env -u LANG LC_ALL=C");
}

/* taskset changes where threads run, not how many there are; the number is told in a mount namespace of its own. */
static void processors_change_nothing(void **state)
{
    static const char *const online[] = {"0", "0-1", "0-6"};
    static const int counts[] = {1, 2, 7};
    write_big_list(state, 600);
    for (size_t i = 0; i < COUNT(online); i++) {
        char command[400];
        struct ran ran;
        snprintf(command, sizeof command,
                 "printf '%s\\n' >$D/online; printf '%%s\\n' '#!/bin/sh' \"mount --bind $D/online "
                 "/sys/devices/system/cpu/online\" 'exec \"$@\"' >$D/told; "
                 "test \"$(unshare -rm sh $D/told getconf _NPROCESSORS_ONLN)\" = %d",
                 online[i], counts[i]);
        run_in(state, command, &ran);
        bool possible = ran.status == 0;
        free_ran(&ran);
        if (!possible) {
            print_message("skipped: no mount namespace to tell another number of processors in\n");
            skip();
        }
        check_same(state, "unshare -rm sh $D/told");
    }
}

TEST_LIST(faults, IN_FOLDER(full_disk), IN_FOLDER(closed_output), IN_FOLDER(closed_pipe), IN_FOLDER(reader_that_stops),
          IN_FOLDER(no_such_place), IN_FOLDER(existing_is_refused), IN_FOLDER(existing_script_is_refused),
          IN_FOLDER(existing_start_script_is_refused), IN_FOLDER(force_keeps_the_mode), IN_FOLDER(inputs_are_spared),
          IN_FOLDER(plot_spares_its_inputs), IN_FOLDER(device_stays_one), IN_FOLDER(full_device),
          IN_FOLDER(disk_full_of_a_file), IN_FOLDER(link_stays_one), IN_FOLDER(link_to_nothing_is_refused),
          IN_FOLDER(named_pipe_is_written_through), IN_FOLDER(locale_changes_nothing),
          IN_FOLDER(processors_change_nothing))
