/* Disks that are full or may not be written, as file systems and not as limits: one is mounted for each row in a mount
   namespace of its own, where the user may do so. */
#include "faults_help.h"

#define LOG "motordata/cawdry-flats/survey.csv"

/* One row a command that writes a file or a folder; each writes more than is left on the full disk. */
static const struct {
    const char *command, *output;
} writing[] = {
    {"check -q -f csv " DEMO, "a"},
    {"check -q -f json " DEMO, "a"},
    {"check -q " DEMO, "a"},
    {"check -q --findings -f json " DEMO, "a"},
    {"supply -q -f json " DEMO, "a"},
    {"start -q --case nominal -f json " DEMO, "a"},
    {"start -q --trace --feeder PACK -f csv " DEMO, "a"},
    {"protect -q --case nominal " DEMO, "a"},
    {"protect -q --case nominal -f json " DEMO, "a"},
    {"explain LP-1 -q -f json " DEMO, "a"},
    {"tables -f json iec_60034_30_1_efficiency_50hz", "a"},
    {"survey -q -f json --motors " DEMO_MOTORS " -s " DEMO_SUPPLY " --at T1 " LOG, "a"},
    {"plot -q --case nominal --feeder LIFT " DEMO, "plots"},
    {"report -q --no-pictures --case nominal --feeder PACK " DEMO, "plots"},
};

/* What is done before on the disk, and what must be there afterwards; `$O` is the output's name. */
#define FULL     "head -c 61440 /dev/zero >fill"
#define ONLY_OLD "test \"$(ls -A $O)\" = $O && test \"$(cat $O)\" = old"

static const struct {
    const char *what, *options, *before, *force, *words, *after;
} disks[] = {
    {"full", "size=64k", FULL, "", "No space left on device", "test ! -e a"},
    {"full, with an old file", "size=64k", FULL "; echo old >$O", "--force", "No space left on device", ONLY_OLD},
    {"read-only", "size=64k,ro", ":", "", "Read-only file system", "test -z \"$(ls -A .)\""},
    {"read-only, with an old file", "size=64k", "echo old >$O; mount -o remount,ro .", "--force",
     "Read-only file system", ONLY_OLD},
    {"no more names", "size=64k,nr_inodes=1", ":", "", "No space left on device", "test -z \"$(ls -A .)\""},
};

/* false: no mounting here. */
static bool can_mount(void **state)
{
    struct ran ran;
    run_in(state, "mkdir -p $D/disk && unshare -rm mount -t tmpfs -o size=64k tmpfs $D/disk", &ran);
    bool can = ran.status == 0;
    free_ran(&ran);
    if (!can)
        print_message("skipped: no file system can be mounted here\n");
    return can;
}

static void check_disk(void **state, size_t disk, size_t row)
{
    char command[FAULTS_COMMAND_MAX];
    struct ran ran;
    bool folder = strcmp(writing[row].output, "plots") == 0;
    const char *after = disks[disk].after;
    if (folder && strcmp(after, ONLY_OLD) == 0)
        return; /* a folder is no file to be replaced */
    if (folder) /* each script that is there is whole */
        after = "for g in $(find . -name '*.gp'); do test \"$(tail -n 1 $g)\" = 'unset output' || exit 96; done";
    snprintf(
        command, sizeof command,
        "export D O=%s; cat >$D/line <<'END'\nT=$(pwd); mount -t tmpfs -o %s tmpfs $D/disk || exit 99; cd $D/disk\n"
        "%s\ncd $T; sagband %s %s -o $D/disk/$O; s=$?; cd $D/disk\n{ %s; } && test -z \"$(find . -name '*tmp')\" || "
        "exit 98\nexit $s\nEND\nunshare -rm sh $D/line",
        writing[row].output, disks[disk].options, disks[disk].before, writing[row].command, disks[disk].force, after);
    run_in(state, command, &ran);
    if (ran.status != 3 || !strstr(ran.err, disks[disk].words))
        fail_msg("%s: %s\n ended with %d, wanted 3 and \"%s\"; it said: %.500s", disks[disk].what, writing[row].command,
                 ran.status, disks[disk].words, ran.err);
    free_ran(&ran);
}

static void nothing_half_there(void **state)
{
    if (!can_mount(state))
        skip();
    for (size_t d = 0; d < COUNT(disks); d++)
        for (size_t i = 0; i < COUNT(writing); i++)
            check_disk(state, d, i);
}

/* A folder that somebody else owns. Root may write everywhere, so it becomes somebody who may not. */
static void not_allowed(void **state)
{
    const char *as = geteuid() == 0 ? "setpriv --reuid 65534 --regid 65534 --clear-groups --inh-caps=-all" : "";
    char command[FAULTS_COMMAND_MAX];
    struct ran ran;
    snprintf(command, sizeof command, "chmod 755 $D; mkdir $D/theirs; chmod 555 $D/theirs; %s sagband tables", as);
    run_in(state, command, &ran);
    bool possible = ran.status == 0;
    free_ran(&ran);
    if (!possible) {
        print_message("skipped: another user cannot run the program here\n");
        skip();
    }
    for (size_t i = 0; i < COUNT(writing); i++) {
        snprintf(command, sizeof command, "%s sagband %s -o $D/theirs/%s", as, writing[i].command, writing[i].output);
        expect_words(state, command, 3, "Permission denied");
        expect(state, "test -z \"$(ls -A $D/theirs)\"", 0);
    }
    expect(state, "cp " ONE_MOTOR " $D/m.csv; chmod 0 $D/m.csv", 0);
    snprintf(command, sizeof command, "%s sagband check -v 480 $D/m.csv", as);
    expect_words(state, command, 2, "cannot be opened: Permission denied");
}

TEST_LIST(disks, IN_FOLDER(nothing_half_there), IN_FOLDER(not_allowed))
