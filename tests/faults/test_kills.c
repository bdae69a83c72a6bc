/* Ended at any moment: a file is the old one or the new one, never a part. */
#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <time.h>

#include "faults_help.h"

struct bytes {
    char *at;
    size_t size;
};

static struct bytes read_bytes(void **state, const char *name)
{
    char path[120];
    struct bytes b = {0};
    snprintf(path, sizeof path, "%s/%s", (char *)*state, name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    fseek(file, 0, SEEK_END);
    b.size = (size_t)ftell(file);
    rewind(file);
    b.at = malloc(b.size + 1);
    assert_non_null(b.at);
    assert_int_equal(fread(b.at, 1, b.size, file), b.size);
    fclose(file);
    return b;
}

static bool same_bytes(const struct bytes *a, const struct bytes *b)
{
    return a->size == b->size && memcmp(a->at, b->at, a->size) == 0;
}

/* The program itself, without a shell between: a new big.out over an old one. */
static pid_t start_writing(void **state)
{
    char list[80], out[80];
    snprintf(list, sizeof list, "%s/big.csv", (char *)*state);
    snprintf(out, sizeof out, "%s/big.out", (char *)*state);
    pid_t child = fork();
    if (child == 0) {
        int nothing = open("/dev/null", O_RDWR);
        dup2(nothing, 0);
        dup2(nothing, 1);
        dup2(nothing, 2);
        execl(getenv("SAGBAND"), "sagband", "check", "-q", "-v", "480", "-f", "csv", "--force", "-o", out, list,
              (char *)NULL);
        _exit(127);
    }
    assert_true(child > 0);
    return child;
}

static double now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static void wait_ms(double ms)
{
    struct timespec t = {(time_t)(ms / 1e3), (long)(1e6 * (ms - 1e3 * (double)(long)(ms / 1e3)))};
    nanosleep(&t, NULL);
}

/* Left-over temporaries of `child` are removed; any other name is a fault. */
static void check_names(void **state, pid_t child)
{
    static const char *const known[] = {".", "..", "big.csv", "big.out", "old", "new"};
    DIR *folder = opendir(*state);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder));) {
        char path[400];
        long pid = 0;
        int try = 0, end = 0;
        bool fine = false;
        for (size_t i = 0; i < COUNT(known); i++)
            fine = fine || strcmp(entry->d_name, known[i]) == 0;
        if (fine)
            continue;
        if (sscanf(entry->d_name, "big.out.%ld-%d.tmp%n", &pid, &try, &end) != 2 || entry->d_name[end] || pid != child)
            fail_msg("%s is left over from process %ld", entry->d_name, (long)child);
        snprintf(path, sizeof path, "%s/%s", (char *)*state, entry->d_name);
        unlink(path);
    }
    closedir(folder);
}

/* Run to the end once; how long that takes. */
static double whole_run(void **state)
{
    int ended = 0;
    double start = now_ms();
    pid_t child = start_writing(state);
    waitpid(child, &ended, 0);
    assert_true(WIFEXITED(ended) && WEXITSTATUS(ended) == 0);
    return now_ms() - start;
}

/* Delays run from 0 over 30 ms, or over the whole run where that is longer. */
static void killed_at_any_moment(void **state)
{
    enum {
        KILLS = 40
    };
    int kept = 0;
    write_big_list(state, 800);
    expect(state, "sagband check -q -v 460 -f csv $D/big.csv >$D/old; cp $D/old $D/big.out", 0);
    expect(state, "sagband check -q -v 480 -f csv $D/big.csv >$D/new; ! cmp -s $D/old $D/new", 0);
    struct bytes before = read_bytes(state, "old"), after = read_bytes(state, "new");
    double span = 1.1 * whole_run(state);
    span = span > 30 ? span : 30;
    for (int i = 0; i < KILLS; i++) {
        expect(state, "cp $D/old $D/big.out", 0);
        pid_t child = start_writing(state);
        wait_ms(span * i / KILLS);
        kill(child, SIGKILL);
        waitpid(child, NULL, 0);
        struct bytes found = read_bytes(state, "big.out");
        bool old = same_bytes(&found, &before);
        if (!old && !same_bytes(&found, &after))
            fail_msg("killed after %.1f ms: %zu bytes, neither the old file nor the new one", span * i / KILLS,
                     found.size);
        kept += old;
        free(found.at);
        check_names(state, child);
    }
    assert_true(kept > 0);
    whole_run(state);
    struct bytes found = read_bytes(state, "big.out");
    assert_true(same_bytes(&found, &after));
    free(found.at);
    free(before.at);
    free(after.at);
}

/* The same with a signal that asks: nothing is half there either. */
static void interrupted(void **state)
{
    static const int signals[] = {SIGINT, SIGTERM, SIGHUP};
    write_big_list(state, 800);
    expect(state, "sagband check -q -v 460 -f csv $D/big.csv >$D/old", 0);
    expect(state, "sagband check -q -v 480 -f csv $D/big.csv >$D/new; ! cmp -s $D/old $D/new", 0);
    struct bytes before = read_bytes(state, "old"), after = read_bytes(state, "new");
    for (size_t i = 0; i < COUNT(signals); i++) {
        expect(state, "cp $D/old $D/big.out", 0);
        pid_t child = start_writing(state);
        wait_ms(5);
        kill(child, signals[i]); /* on a quick machine it may be done by now */
        waitpid(child, NULL, 0);
        struct bytes found = read_bytes(state, "big.out");
        assert_true(same_bytes(&found, &before) || same_bytes(&found, &after));
        free(found.at);
        check_names(state, child);
    }
    free(before.at);
    free(after.at);
}

/* What is written over what, by one row a command; a folder is old and new file by file. */
static const struct {
    const char *old, *new;
} rewrites[] = {
    {"check --case low -f json " DEMO, "check -f json " DEMO},
    {"supply --case low " DEMO, "supply " DEMO},
    {"start --trace --case low --motor LP-1 -f csv " DEMO, "start --trace --motor LP-1 -f csv " DEMO},
    {"protect --feeder SHOP --device nontime_fuse -f json " DEMO, "protect --feeder SHOP -f json " DEMO},
    {"explain LP-1 --case low " DEMO, "explain LP-1 " DEMO},
    {"explain LP-1 --case low -f json " DEMO, "explain LP-1 -f json " DEMO},
    {"plot --case low " DEMO, "plot " DEMO},
    {"tables", "tables -f json iec_60034_30_1_efficiency_50hz"},
};

/* Many times one after the other over the same output, each killed a little later than the one before. */
static void every_command_killed(void **state)
{
    for (size_t i = 0; i < COUNT(rewrites); i++) {
        char command[FAULTS_COMMAND_MAX];
        snprintf(
            command, sizeof command,
            "rm -rf $D/*; sagband %s -q -o $D/old; sagband %s -q -o $D/new; cp -r $D/old $D/got; "
            "same() { if test -d $D/new; then for g in $(ls $D/got); do cmp -s $D/got/$g $D/old/$g || "
            "cmp -s $D/got/$g $D/new/$g || return 1; done; "
            "else cmp -s $D/got $D/old || cmp -s $D/got $D/new; fi; }; "
            "diff -rq $D/old $D/new >$D/differ && exit 97; "
            "for ms in 00 01 02 05 08 12 17 23 30 40 55 75 99; do "
            "sagband %s -q --force -o $D/got >$D/said 2>&1 & sleep 0.0$ms; kill -9 $!; wait $!; same || exit 98; done "
            "2>$D/said; sagband %s -q --force -o $D/got; diff -r $D/got $D/new",
            rewrites[i].old, rewrites[i].new, rewrites[i].new, rewrites[i].new);
        expect(state, command, 0);
    }
}

TEST_LIST(kills, IN_FOLDER(killed_at_any_moment), IN_FOLDER(interrupted), IN_FOLDER(every_command_killed))
