/* Every example in the pages is run, and the lines printed below it must be the program's own, in order: "..." stands
   for lines left out, everything else must follow on. */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "golden.h"
#include "support.h"

enum {
    MOST_PAGES = 40
};

static char pages[MOST_PAGES][128];
static struct CMUnitTest tests[MOST_PAGES];

static const char *const prompt = "    $ ";

/* The line at *at without its newline, in place; NULL at the end. */
static char *next_line(char **at)
{
    char *line = *at;
    if (!line || !*line)
        return NULL;
    size_t n = strcspn(line, "\n");
    *at = line + n + (line[n] == '\n');
    line[n] = '\0';
    return line;
}

static bool is_shown(const char *line)
{
    return strncmp(line, "    ", 4) == 0 && strncmp(line, prompt, strlen(prompt)) != 0;
}

/* Find `wanted` in what is left of the output: the very next line, or any later one after a gap. */
static bool find_line(char **output, const char *wanted, bool gap)
{
    for (char *line; (line = next_line(output));) {
        if (strcmp(line, wanted) == 0)
            return true;
        if (!gap)
            return false;
    }
    return false;
}

/* A blank line inside an example is a blank line of the output if the example goes on below it. */
static bool goes_on(const char *rest)
{
    return is_shown(rest);
}

static void check_example(const char *page, const char *command, char **page_at)
{
    struct ran ran;
    bool gap = false;
    if (strstr(command, "sagband plot") && system("rm -rf build/lift") != 0) /* the pages' folder for pictures */
        fail_msg("build/lift cannot be removed");
    run_command(command, &ran);
    char *both = calloc(1, strlen(ran.out) + strlen(ran.err) + 1);
    assert_non_null(both);
    strcat(strcat(both, ran.out), ran.err);
    char *output = both;
    while (is_shown(*page_at) || (**page_at == '\n' && goes_on(*page_at + 1))) {
        char *line = next_line(page_at);
        const char *wanted = *line ? line + 4 : "";
        if (strcmp(wanted, "...") == 0) {
            gap = true;
            continue;
        }
        if (!find_line(&output, wanted, gap))
            fail_msg("%s: %s\n does not print here: %s", page, command, wanted);
        gap = false;
    }
    free(both);
    free_ran(&ran);
}

static void run_page(void **state)
{
    const char *page = *state;
    char *text = slurp(page), *at = text;
    for (char *line; (line = next_line(&at));)
        if (strncmp(line, prompt, strlen(prompt)) == 0 && strstr(line, "sagband"))
            check_example(page, line + strlen(prompt), &at);
    free(text);
}

const struct CMUnitTest *pages_tests(size_t *count);
const struct CMUnitTest *pages_tests(size_t *count)
{
    glob_t found;
    size_t n = 0;
    if (glob("*.md", 0, NULL, &found) == 0 && glob("docs/*.md", GLOB_APPEND, NULL, &found) == 0)
        for (; n < found.gl_pathc && n < MOST_PAGES; n++) {
            snprintf(pages[n], sizeof pages[n], "%s", found.gl_pathv[n]);
            tests[n] = (struct CMUnitTest){pages[n], run_page, NULL, NULL, pages[n]};
        }
    globfree(&found);
    *count = n;
    return tests;
}
