/* A case is a folder with `cmd` (one line for the shell, run from the top of the tree with `sagband` on the path) and
   what must come of it: `stdout`, `stderr`, `status`. SAGBAND_GOLDEN=rewrite writes them anew instead. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "golden.h"
#include "support.h"

enum {
    MOST_CASES = 200,
    MOST_BYTES = 1 << 20
};

struct golden_case {
    char name[256];
};

static struct golden_case cases[MOST_CASES];
static struct CMUnitTest tests[MOST_CASES];

static void case_path(const char *name, const char *file, char *out, size_t room)
{
    snprintf(out, room, "tests/golden/%s/%s", name, file);
}

char *slurp(const char *path)
{
    char *text = calloc(1, MOST_BYTES);
    FILE *file = fopen(path, "rb");
    assert_non_null(text);
    if (file) {
        size_t n = fread(text, 1, MOST_BYTES - 1, file);
        text[n] = '\0';
        fclose(file);
    }
    return text;
}

static void spill(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

/* Where two texts part, so that a failure says more than "differs". */
static void compare(const char *name, const char *what, const char *got, const char *wanted)
{
    size_t at = 0, line = 1, start = 0;
    while (got[at] && got[at] == wanted[at]) {
        if (got[at++] == '\n') {
            line++;
            start = at;
        }
    }
    if (got[at] != wanted[at])
        fail_msg("%s: %s differs in line %zu:\n got    %.*s\n wanted %.*s", name, what, line,
                 (int)strcspn(got + start, "\n"), got + start, (int)strcspn(wanted + start, "\n"), wanted + start);
}

static void put_program_on_path(void)
{
    const char *program = getenv("SAGBAND");
    const char *path = getenv("PATH");
    char joined[4096];
    assert_non_null(program);
    const char *slash = strrchr(program, '/');
    assert_non_null(slash);
    size_t n = (size_t)(slash - program);
    if (path && strncmp(path, program, n) == 0 && path[n] == ':')
        return;
    snprintf(joined, sizeof joined, "%.*s:%s", (int)n, program, path ? path : "");
    setenv("PATH", joined, 1);
}

static void check_or_rewrite(const char *name, const char *file, const char *got)
{
    const char *mode = getenv("SAGBAND_GOLDEN");
    char path[512];
    case_path(name, file, path, sizeof path);
    if (mode && strcmp(mode, "rewrite") == 0) {
        spill(path, got);
        return;
    }
    char *wanted = slurp(path);
    compare(name, file, got, wanted);
    free(wanted);
}

void run_command(const char *command, struct ran *ran)
{
    char out[] = "/tmp/golden-out-XXXXXX", err[] = "/tmp/golden-err-XXXXXX", line[2048];
    put_program_on_path();
    close(mkstemp(out));
    close(mkstemp(err));
    snprintf(line, sizeof line, "{ %s ; } >%s 2>%s </dev/null", command, out, err);
    int status = system(line);
    assert_true(WIFEXITED(status));
    *ran = (struct ran){slurp(out), slurp(err), WEXITSTATUS(status)};
    unlink(out);
    unlink(err);
}

void free_ran(struct ran *ran)
{
    free(ran->out);
    free(ran->err);
}

static void run_case(void **state)
{
    const struct golden_case *c = *state;
    char path[512], status[16];
    struct ran ran;
    case_path(c->name, "cmd", path, sizeof path);
    char *command = slurp(path);
    command[strcspn(command, "\n")] = '\0';
    run_command(command, &ran);
    snprintf(status, sizeof status, "%d\n", ran.status);
    check_or_rewrite(c->name, "status", status);
    check_or_rewrite(c->name, "stderr", ran.err);
    check_or_rewrite(c->name, "stdout", ran.out);
    free(command);
    free_ran(&ran);
}

static int by_name(const void *left, const void *right)
{
    return strcmp(((const struct golden_case *)left)->name, ((const struct golden_case *)right)->name);
}

const struct CMUnitTest *golden_tests(size_t *count);
const struct CMUnitTest *golden_tests(size_t *count)
{
    DIR *folder = opendir("tests/golden");
    size_t n = 0;
    for (struct dirent *entry; folder && n < MOST_CASES && (entry = readdir(folder));) {
        char path[512];
        case_path(entry->d_name, "cmd", path, sizeof path);
        if (entry->d_name[0] != '.' && access(path, R_OK) == 0)
            snprintf(cases[n++].name, sizeof cases->name, "%s", entry->d_name);
    }
    if (folder)
        closedir(folder);
    qsort(cases, n, sizeof *cases, by_name);
    for (size_t i = 0; i < n; i++)
        tests[i] = (struct CMUnitTest){cases[i].name, run_case, NULL, NULL, &cases[i]};
    *count = n;
    return tests;
}
