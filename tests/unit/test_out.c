/* Files appear whole or not at all. Each test works in a folder of its own. */
#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "read_help.h"

/* How many names the folder holds besides its own. */
static size_t names_in(const char *folder)
{
    size_t n = 0;
    DIR *open = opendir(folder);
    assert_non_null(open);
    for (struct dirent *entry; (entry = readdir(open));)
        n += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    closedir(open);
    return n;
}

static const char *path_in(void **state, const char *name)
{
    static char path[100];
    snprintf(path, sizeof path, "%s/%s", (char *)*state, name);
    return path;
}

static void put_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

static void check_file(const char *path, const char *wanted)
{
    char text[100] = "";
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("%s: not there", path);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    check_text(path, text, wanted);
}

static void check_refused(struct sag_diags *diags, const char *path, const char *why)
{
    char wanted[200];
    snprintf(wanted, sizeof wanted, "0:0 E %s: %s\n", path, why);
    check_diags("refused", diags, wanted);
}

static struct sag_out *open_out(const char *path, bool force)
{
    struct sag_diags diags = {0};
    struct sag_out *out = NULL;
    enum sag_status status = sag_out_open(&out, path, force, &diags);
    check_diags(path, &diags, "");
    assert_int_equal(status, SAG_OK);
    fputs("new\n", sag_out_stream(out));
    return out;
}

static void commit(struct sag_out *out)
{
    struct sag_diags diags = {0};
    enum sag_status status = sag_out_close(out, SAG_OK, &diags);
    check_diags("commit", &diags, "");
    assert_int_equal(status, SAG_OK);
}

static void drop(struct sag_out *out)
{
    struct sag_diags diags = {0};
    enum sag_status status = sag_out_close(out, SAG_BAD_INPUT, &diags);
    check_diags("drop", &diags, "");
    assert_int_equal(status, SAG_BAD_INPUT);
}

static void appears_whole(void **state)
{
    const char *path = path_in(state, "a.csv");
    struct sag_out *out = open_out(path, false);
    fflush(sag_out_stream(out));
    assert_int_equal(access(path, F_OK), -1);
    commit(out);
    check_file(path, "new\n");
    assert_int_equal(names_in(*state), 1);
}

static void existing_is_refused(void **state)
{
    const char *path = path_in(state, "a.csv");
    struct sag_diags diags = {0};
    struct sag_out *out = NULL;
    put_file(path, "old\n");
    assert_int_equal(sag_out_open(&out, path, false, &diags), SAG_IO);
    assert_null(out);
    check_refused(&diags, path, "exists already; --force overwrites it");
    check_file(path, "old\n");
    assert_int_equal(names_in(*state), 1);
}

static void force_replaces(void **state)
{
    const char *path = path_in(state, "a.csv");
    put_file(path, "old, and longer than the new one\n");
    struct sag_out *out = open_out(path, true);
    fflush(sag_out_stream(out));
    check_file(path, "old, and longer than the new one\n");
    commit(out);
    check_file(path, "new\n");
    assert_int_equal(names_in(*state), 1);
}

/* Somebody else was faster. */
static void appeared_meanwhile(void **state)
{
    const char *path = path_in(state, "a.csv");
    struct sag_diags diags = {0};
    struct sag_out *out = open_out(path, false);
    put_file(path, "theirs\n");
    assert_int_equal(sag_out_close(out, SAG_OK, &diags), SAG_IO);
    check_refused(&diags, path, "could not be written: File exists");
    check_file(path, "theirs\n");
    assert_int_equal(names_in(*state), 1);
}

static void drop_leaves_nothing(void **state)
{
    const char *path = path_in(state, "a.csv");
    drop(open_out(path, false));
    assert_int_equal(names_in(*state), 0);
    put_file(path, "old\n");
    drop(open_out(path, true));
    check_file(path, "old\n");
    assert_int_equal(names_in(*state), 1);
}

static void no_folder(void **state)
{
    const char *path = path_in(state, "none/a.csv");
    struct sag_diags diags = {0};
    struct sag_out *out = NULL;
    assert_int_equal(sag_out_open(&out, path, true, &diags), SAG_IO);
    assert_null(out);
    check_refused(&diags, path, "cannot be written: No such file or directory");
}

static void a_folder_is_no_target(void **state)
{
    const char *path = path_in(state, "folder");
    struct sag_diags diags = {0};
    struct sag_out *out = NULL;
    assert_int_equal(mkdir(path, 0777), 0);
    enum sag_status status = sag_out_open(&out, path, true, &diags);
    if (status == SAG_OK)
        status = sag_out_close(out, SAG_OK, &diags);
    assert_int_equal(status, SAG_IO);
    assert_int_equal(diags.errors, 1);
    sag_diags_free(&diags);
    assert_int_equal(names_in(*state), 1);
    assert_int_equal(names_in(path), 0);
}

static void rights_follow_the_umask(void **state)
{
    static const mode_t masks[] = {022, 027, 077, 002};
    for (size_t i = 0; i < COUNT(masks); i++) {
        char name[20];
        struct stat there;
        mode_t before = umask(masks[i]);
        snprintf(name, sizeof name, "%03o.csv", masks[i]);
        const char *path = path_in(state, name);
        commit(open_out(path, false));
        assert_int_equal(umask(before), masks[i]);
        assert_int_equal(stat(path, &there), 0);
        assert_int_equal(there.st_mode & 0777, 0666 & ~masks[i]);
    }
}

/* A limit on the size of files stands for a full disk. */
static void a_full_disk_leaves_nothing(void **state)
{
    const char *path = path_in(state, "a.csv");
    struct rlimit before, small;
    struct sag_diags diags = {0};
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = (struct rlimit){.rlim_cur = 4096, .rlim_max = before.rlim_max};
    void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
    struct sag_out *out = open_out(path, false);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    for (int i = 0; i < 100000; i++)
        fputs("0123456789\n", sag_out_stream(out));
    enum sag_status status = sag_out_close(out, SAG_OK, &diags);
    setrlimit(RLIMIT_FSIZE, &before);
    signal(SIGXFSZ, handler);
    assert_int_equal(status, SAG_IO);
    check_refused(&diags, path, "could not be written: File too large");
    assert_int_equal(names_in(*state), 0);
}

/* Does this folder's file system make files without a name? */
static bool makes_nameless(const char *folder)
{
    int file = open(folder, O_WRONLY | O_TMPFILE, 0600);
    if (file >= 0)
        close(file);
    return file >= 0 && access("/proc/self/fd/0", F_OK) == 0;
}

/* A process that is killed while it writes cannot tidy up; there has to be nothing to tidy. */
static void killed_while_writing(void **state)
{
    const char *path = path_in(state, "a.csv");
    if (!makes_nameless(*state)) {
        print_message("skipped: %s is on a file system where a new file needs a name\n", (char *)*state);
        skip();
    }
    for (int exists = 0; exists < 2; exists++) {
        int ended = 0;
        if (exists)
            put_file(path, "old\n");
        pid_t child = fork();
        if (child == 0) {
            struct sag_diags diags = {0};
            struct sag_out *out = NULL;
            sag_out_open(&out, path, exists, &diags);
            fputs("new\n", sag_out_stream(out));
            fflush(sag_out_stream(out));
            raise(SIGKILL);
        }
        assert_int_equal(waitpid(child, &ended, 0), child);
        assert_true(WIFSIGNALED(ended) && WTERMSIG(ended) == SIGKILL);
        assert_int_equal(names_in(*state), exists);
    }
    check_file(path, "old\n");
}

/* Where no file can be made without a name, one beside the target serves: here no second hold on a file is left. */
static void without_a_second_hold(void **state)
{
    const char *path = path_in(state, "a.csv");
    struct rlimit before, few;
    assert_int_equal(getrlimit(RLIMIT_NOFILE, &before), 0);
    int next = dup(0);
    close(next);
    few = (struct rlimit){.rlim_cur = (rlim_t)next + 1, .rlim_max = before.rlim_max};
    for (int force = 0; force < 2; force++) {
        assert_int_equal(setrlimit(RLIMIT_NOFILE, &few), 0);
        struct sag_out *out = open_out(path, force);
        assert_int_equal(setrlimit(RLIMIT_NOFILE, &before), 0);
        size_t names = names_in(*state);
        commit(out);
        assert_int_equal(names, 1 + force);
        check_file(path, "new\n");
        assert_int_equal(names_in(*state), 1);
    }
}

static void standard_output(void **state)
{
    (void)state;
    static const char *const names[] = {NULL, "-"};
    for (size_t i = 0; i < COUNT(names); i++) {
        struct sag_diags diags = {0};
        struct sag_out *out = NULL;
        assert_int_equal(sag_out_open(&out, names[i], false, &diags), SAG_OK);
        assert_ptr_equal(sag_out_stream(out), stdout);
        assert_int_equal(sag_out_close(out, SAG_OK, &diags), SAG_OK);
        check_diags("standard output", &diags, "");
    }
    assert_int_equal(fflush(stdout), 0); /* still open */
}

static void folders(void **state)
{
    struct sag_diags diags = {0};
    const char *path = path_in(state, "out");
    assert_int_equal(sag_out_folder(path, &diags), SAG_OK);
    assert_int_equal(sag_out_folder(path, &diags), SAG_OK);
    path = path_in(state, "a.csv");
    put_file(path, "");
    assert_int_equal(sag_out_folder(path, &diags), SAG_IO);
    check_refused(&diags, path, "cannot be used as a folder: File exists");
    path = path_in(state, "no/such");
    assert_int_equal(sag_out_folder(path, &diags), SAG_IO);
    check_refused(&diags, path, "cannot be used as a folder: No such file or directory");
}

TEST_LIST(out, IN_FOLDER(appears_whole), IN_FOLDER(existing_is_refused), IN_FOLDER(force_replaces),
          IN_FOLDER(appeared_meanwhile), IN_FOLDER(drop_leaves_nothing), IN_FOLDER(no_folder),
          IN_FOLDER(a_folder_is_no_target), IN_FOLDER(rights_follow_the_umask), IN_FOLDER(a_full_disk_leaves_nothing),
          IN_FOLDER(killed_while_writing), IN_FOLDER(without_a_second_hold), IN_FOLDER(standard_output),
          IN_FOLDER(folders))
