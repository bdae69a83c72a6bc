/* What the pages and the manual must name, and must not: commands, options, columns, checks, words, pictures, as the
   program has them. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "golden.h"
#include "support.h"

#define DEMO "-s motordata/cawdry-flats/supply.csv"

enum {
    MOST_BYTES = 1 << 16
};

/* The lines of a page from `from`, which begins a line, up to a line that begins with `to`. */
static void section(const char *page, const char *from, const char *to, char out[MOST_BYTES])
{
    char *text = slurp(page), *at = strstr(text, from), *end;
    if (!at || (at > text && at[-1] != '\n'))
        fail_msg("%s has no line that begins with %s", page, from);
    end = strchr(at, '\n');
    while (end && strncmp(end + 1, to, strlen(to)) != 0)
        end = strchr(end + 1, '\n');
    snprintf(out, MOST_BYTES, "%.*s", end ? (int)(end + 1 - at) : (int)strlen(at), at);
    free(text);
}

/* Words between backticks in the first cells of those tables of a section that are of columns, a space after each. */
static void first_cells(const char *lines, char out[MOST_BYTES])
{
    size_t used = 0;
    bool of_columns = false;
    for (const char *line = lines; line; line = strchr(line, '\n') ? strchr(line, '\n') + 1 : NULL) {
        of_columns = *line == '|' && (of_columns || strncmp(line, "| column |", 10) == 0);
        if (!of_columns)
            continue;
        const char *end = strstr(line, " |");
        for (const char *open = strchr(line, '`'); open && open < end; open = strchr(open + 1, '`')) {
            size_t n = strcspn(open + 1, "`");
            used += (size_t)snprintf(out + used, MOST_BYTES - used, "%.*s ", (int)n, open + 1);
            open += n + 1;
        }
    }
    out[used] = '\0';
}

static bool has_word(const char *text, const char *word)
{
    char quoted[120];
    snprintf(quoted, sizeof quoted, "`%s`", word);
    return strstr(text, quoted) != NULL;
}

/* --- the manual page --------------------------------------------------------------------------------------------- */

/* "s,supply FILE" a line, from the help's "  -s, --supply FILE     ...". */
static void options_of_help(char out[MOST_BYTES])
{
    struct ran ran;
    size_t used = 0;
    run_command("sagband --help", &ran);
    for (char *line = strtok(strstr(ran.out, "\nOptions\n"), "\n"); line; line = strtok(NULL, "\n")) {
        char letter[3] = "", name[40] = "", value[40] = "";
        if (strncmp(line, "  ", 2) != 0 || strncmp(line + 6, "--", 2) != 0)
            continue;
        snprintf(letter, sizeof letter, "%.*s", line[2] == '-' ? 1 : 0, line + 3);
        sscanf(line + 8, "%39s", name);
        if (line[8 + strlen(name)] == ' ' && line[9 + strlen(name)] != ' ')
            sscanf(line + 9 + strlen(name), "%39s", value);
        used += (size_t)snprintf(out + used, MOST_BYTES - used, "%s,%s %s\n", letter, name, value);
    }
    free_ran(&ran);
}

/* "Oo Ar BOARD Ns = Oc Ns Ar LOG.csv" as the help has it, and a line's end; returns its length. */
static size_t put_value(char *macros, char *out, size_t room)
{
    size_t used = 0;
    char *rest = NULL;
    for (char *word = strtok_r(macros, " ", &rest); word; word = strtok_r(NULL, " ", &rest)) {
        bool silent = strcmp(word, "Ar") == 0 || strcmp(word, "Cm") == 0 || strcmp(word, "Ns") == 0;
        const char *shown = strcmp(word, "Oo") == 0 ? "[" : strcmp(word, "Oc") == 0 ? "]" : silent ? "" : word;
        used += (size_t)snprintf(out + used, room - used, "%s", shown);
    }
    return used + (size_t)snprintf(out + used, room - used, "\n");
}

/* The same from the manual's ".It Fl s , Fl -supply Ar FILE". */
static void options_of_manual(char out[MOST_BYTES])
{
    static char text[MOST_BYTES];
    size_t used = 0;
    section("docs/sagband.1", ".Ss Options", ".Ss Verdicts", text);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        char letter[3] = "", name[40] = "", value[80] = "";
        if (strncmp(line, ".It Fl ", 7) != 0)
            continue;
        if (sscanf(line, ".It Fl %1[a-z] , Fl -%39s %79[^\n]", letter, name, value) < 2)
            sscanf(line, ".It Fl -%39s %79[^\n]", name, value);
        used += (size_t)snprintf(out + used, MOST_BYTES - used, "%s,%s ", letter, name);
        used += put_value(value, out + used, MOST_BYTES - used);
    }
}

static void options_in_the_manual(void **state)
{
    (void)state;
    static char wanted[MOST_BYTES], got[MOST_BYTES];
    options_of_help(wanted);
    options_of_manual(got);
    assert_non_null(strstr(wanted, "s,supply FILE\n"));
    check_text("options of docs/sagband.1 against those of --help", got, wanted);
}

static void commands_in_the_manual(void **state)
{
    (void)state;
    static char text[MOST_BYTES], got[MOST_BYTES], wanted[MOST_BYTES], synopsis[MOST_BYTES];
    struct ran ran;
    size_t used = 0;
    section("docs/sagband.1", ".Ss Commands", ".Ss Options", text);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
        if (strncmp(line, ".It Cm ", 7) == 0)
            used += (size_t)snprintf(got + used, sizeof got - used, "%s\n", line + 7);
    run_command("sagband --completions | grep -v '^-'", &ran);
    check_text("commands of docs/sagband.1 against those of the program", got, ran.out);
    section("docs/sagband.1", ".Sh SYNOPSIS", ".Sh DESCRIPTION", text);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
        if (strncmp(line, ".Cm ", 4) == 0)
            snprintf(synopsis + strlen(synopsis), sizeof synopsis - strlen(synopsis), "%s\n", line + 4);
    snprintf(wanted, sizeof wanted, "%smotors | supply\n", ran.out); /* `template` takes a word of these */
    check_text("commands in the synopsis", synopsis, wanted);
    free_ran(&ran);
}

static void sections_of_the_manual(void **state)
{
    (void)state;
    static const char *const titles[] = {"NAME",     "SYNOPSIS",    "DESCRIPTION", "ENVIRONMENT",
                                         "FILES",    "EXIT STATUS", "EXAMPLES",    "DIAGNOSTICS",
                                         "SEE ALSO", "STANDARDS",   "CAVEATS"};
    char *text = slurp("docs/sagband.1"), *at = text;
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++) {
        char head[40];
        snprintf(head, sizeof head, "\n.Sh %s\n", titles[i]);
        at = strstr(at, head);
        if (!at)
            fail_msg("docs/sagband.1: no %s at its place", titles[i]);
    }
    free(text);
}

/* --- columns ----------------------------------------------------------------------------------------------------- */

/* The tables of a section name the columns of an output, all of them, in their order. */
static void columns_of_outputs(void **state)
{
    (void)state;
    static const struct {
        const char *from, *to;
        const struct sag_view *view;
    } rows[] = {
        {"## Output of `check`", "#", &sag_check_view},  {"## Output of `supply`", "#", &sag_supply_view},
        {"## Output of `start`", "#", &sag_start_view},  {"### `start --trace`", "#", &sag_trace_view},
        {"### `start --advice`", "#", &sag_advice_view}, {"## Output of `protect`", "#", &sag_protect_view},
        {"## Findings", "#", &sag_finding_view},
    };
    static char text[MOST_BYTES], got[MOST_BYTES], wanted[MOST_BYTES];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        size_t used = 0;
        section("docs/columns.md", rows[i].from, rows[i].to, text);
        first_cells(text, got);
        for (size_t c = 0; c < rows[i].view->count; c++)
            if (rows[i].view->columns[c].name)
                used += (size_t)snprintf(wanted + used, sizeof wanted - used, "%s ", rows[i].view->columns[c].name);
        check_text(rows[i].from, got, wanted);
    }
}

/* Those two are told in a sentence. */
static void columns_in_words(void **state)
{
    (void)state;
    static const struct {
        const char *from;
        const struct sag_view *view;
    } rows[] = {{"## Calculation sheet", &sag_explain_view}, {"## List of tables", &sag_tables_view}};
    static char text[MOST_BYTES];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        section("docs/columns.md", rows[i].from, "#", text);
        for (size_t c = 0; c < rows[i].view->count; c++)
            if (rows[i].view->columns[c].name && !has_word(text, rows[i].view->columns[c].name))
                fail_msg("%s in docs/columns.md does not tell of %s", rows[i].from, rows[i].view->columns[c].name);
    }
}

typedef size_t columns_fn(size_t index, struct sag_column_help *help);

/* Every column of an input is there, and nothing in the first cells of its tables is not a column. */
static void check_inputs(const char *from, const char *to, columns_fn *columns)
{
    static char text[MOST_BYTES], cells[MOST_BYTES];
    struct sag_column_help help;
    size_t count = columns(0, &help);
    section("docs/columns.md", from, to, text);
    first_cells(text, cells);
    for (size_t i = 0; i < count; i++) {
        columns(i, &help);
        if (!has_word(text, help.name))
            fail_msg("docs/columns.md: nothing of the column %s", help.name);
    }
    for (char *word = strtok(cells, " "); word; word = strtok(NULL, " ")) {
        bool known = false;
        for (size_t i = 0; i < count && !known; i++)
            known = columns(i, &help) && strcmp(help.name, word) == 0;
        if (!known)
            fail_msg("docs/columns.md: %s is no column", word);
    }
}

static void columns_of_inputs(void **state)
{
    (void)state;
    check_inputs("## The motor list", "## ", sag_motor_columns);
    check_inputs("## The supply file", "## ", sag_supply_columns);
}

/* Words that a cell may hold. */
static void words_of_choices(void **state)
{
    (void)state;
    char *page = slurp("docs/columns.md");
    const char *word;
    for (int choice = 0; choice < SAG_CHOICE_COUNT; choice++)
        for (unsigned value = 1; (word = sag_choice_word((enum sag_choice)choice, value)); value++)
            if (!has_word(page, word))
                fail_msg("docs/columns.md: nothing of the word %s", word);
    free(page);
}

/* --- checks, tables, pictures ------------------------------------------------------------------------------------ */

static void checks_in_the_method(void **state)
{
    (void)state;
    char *method = slurp("docs/method.md"), *protection = slurp("docs/protection.md");
    size_t in_branches = 0;
    for (size_t i = 0; i < sag_check_count(); i++) {
        if (!has_word(method, sag_check_at(i)->name))
            fail_msg("docs/method.md: nothing of the check %s", sag_check_at(i)->name);
        in_branches += has_word(protection, sag_check_at(i)->name);
    }
    assert_true(in_branches > 10); /* docs/columns.md sends readers of `protect` there */
    free(method);
    free(protection);
}

/* Every table that a sheet of the demonstration plant cites can be printed. */
static void tables_of_the_sheets(void **state)
{
    (void)state;
    struct ran ran;
    size_t count = 0;
    run_command("for m in LP-1 CV-6 FAN-2 SORT-1 CP-1 LATHE FP-1 LIFT; do sagband explain $m -q " DEMO
                " motordata/cawdry-flats/motors.csv; done | grep -oE 'table [a-z0-9]+_[a-z0-9_]+' | sort -u",
                &ran);
    for (char *name = strtok(ran.out, "\n"); name; name = strtok(NULL, "\n"), count++)
        if (!sag_tables_find(shared_tables(), name + strlen("table ")))
            fail_msg("a sheet cites \"%s\", which is not there", name);
    assert_true(count > 8);
    free_ran(&ran);
}

/* Every kind of picture that the program writes is in the list of docs/plots.md, with a picture, and in the manual. */
static void pictures_in_the_page(void **state)
{
    (void)state;
    struct ran ran;
    size_t count = 0;
    char *page = slurp("docs/plots.md"), *manual = slurp("docs/sagband.1");
    run_command("D=$(mktemp -d); sagband plot " DEMO " --feeder LIFT -o $D motordata/cawdry-flats/motors.csv "
                "| sed 's,.*/LIFT-,,; s,\\.gp$,,'; rm -r $D",
                &ran);
    for (char *kind = strtok(ran.out, "\n"); kind; kind = strtok(NULL, "\n"), count++) {
        char name[60];
        snprintf(name, sizeof name, "FEEDER-%s.gp", kind);
        if (!has_word(page, name) || !strstr(manual, name))
            fail_msg("%s is not in docs/plots.md and docs/sagband.1", name);
        snprintf(name, sizeof name, "-%s.png)", kind);
        if (!strstr(page, name))
            fail_msg("docs/plots.md shows no picture of the kind %s", kind);
    }
    assert_true(count >= 8);
    free(page);
    free(manual);
    free_ran(&ran);
}

/* --- what pages name of the tree --------------------------------------------------------------------------------- */

/* Functions, files and pages that they name exist. A name in capitals stands for one that a reader makes. */
static void names_of_the_tree(void **state)
{
    static const struct {
        const char *what, *command;
    } rows[] = {
        {"functions", "grep -ohE '`[a-z_0-9]+\\(\\)' *.md docs/*.md | tr -d '`()' | sort -u | "
                      "while read n; do grep -rqw $n src include tests || echo $n; done"},
        {"sources", "grep -ohE '`[a-z_0-9]+\\.[ch]`' *.md docs/*.md | tr -d '`' | sort -u | "
                    "while read n; do find src include tests docs -name $n | grep -q . || echo $n; done"},
        {"files", "grep -ohE '(^|[^a-z/])(src|tests|include|docs|motordata|plots)/[A-Za-z0-9_./-]+\\.[a-z0-9]+' *.md "
                  "docs/*.md docs/sagband.1 | sed 's,^[^a-z],,' | grep -v NAME | sort -u | "
                  "while read n; do test -e $n || echo $n; done"},
        {"pictures that no page shows",
         "ls docs/pictures | while read n; do grep -q \"pictures/$n)\" *.md docs/*.md || "
         "echo $n; done"},
        {"pictures together above 1.5 MB", "find docs/pictures -size +1500k; "
                                           "cat docs/pictures/* | wc -c | awk '$1 > 1500000'"},
        {"links of README and DEVELOPERS",
         "grep -ohE '\\]\\([^)#]+' README.md DEVELOPERS.md | sed 's,](,,' | sort -u | "
         "grep -v : | while read n; do test -e $n || echo $n; done"},
        {"links of the pages", "cd docs && grep -ohE '\\]\\([^)#]+' *.md | sed 's,](,,' | sort -u | "
                               "grep -v : | while read n; do test -e $n || echo $n; done"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ran ran;
        run_command(rows[i].command, &ran);
        check_text(rows[i].what, ran.out, "");
        check_text(rows[i].what, ran.err, "");
        free_ran(&ran);
    }
}

TEST_LIST(manual, cmocka_unit_test(options_in_the_manual), cmocka_unit_test(commands_in_the_manual),
          cmocka_unit_test(sections_of_the_manual), cmocka_unit_test(columns_of_outputs),
          cmocka_unit_test(columns_in_words), cmocka_unit_test(columns_of_inputs), cmocka_unit_test(words_of_choices),
          cmocka_unit_test(checks_in_the_method), cmocka_unit_test(tables_of_the_sheets),
          cmocka_unit_test(pictures_in_the_page), cmocka_unit_test(names_of_the_tree))
