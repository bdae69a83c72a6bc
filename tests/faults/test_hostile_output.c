/* Hostile names through every command and format, read again by parsers that are not ours (tests/faults/harmless.py,
   Python's csv and json): no cell runs as a formula, no byte steers a terminal, each line of JSON is one object. */
#include "hostile_help.h"

#define HARMLESS "python3 tests/faults/harmless.py "
#define LOG      "motordata/cawdry-flats/survey.csv"
#define LISTS    " -s $D/s.csv $D/m.csv"

static const char *const formats[] = {"text", "csv", "json"};

/* One row a command; `most` is its highest status. Those that run starts look at one case, or one motor: what a name
   can do does not depend on it. */
static const struct {
    const char *words;
    int most;
    bool is_text; /* whatever the format */
} commands[] = {
    {"check" LISTS, 1, false},
    {"check --findings" LISTS, 1, false},
    {"check --strict" LISTS, 2, false},
    {"supply" LISTS, 1, false},
    {"supply --findings" LISTS, 1, false},
    {"start --case nominal" LISTS, 1, false},
    {"start --case nominal --findings" LISTS, 1, false},
    {"start --case nominal --sequence" LISTS, 1, false},
    {"start --case nominal --together" LISTS, 1, false},
    {"start --motor '=cmd(1)' --trace" LISTS, 1, false},
    {"start --motor '=cmd(1)' --advice" LISTS, 1, false},
    {"protect --case nominal" LISTS, 1, false},
    {"protect --case nominal --findings" LISTS, 1, false},
    {"protect -v 480 --case nominal $D/m.csv", 1, false},
    {"explain '=cmd(1)'" LISTS, 1, false},
    {"explain '+1+1' --findings" LISTS, 1, false},
    {"explain \"$(printf 'x\\033[2Jy')\"" LISTS, 1, false},
    {"explain \"$(printf 'x\\302\\2332Jy')\"" LISTS, 1, false},
    {"plot --case nominal --findings -o $D/p --force --feeder '=cmd(1)'" LISTS, 2, false},
    {"plot --case nominal -o $D/p --force --feeder '@m'" LISTS, 2, true},
    {"report --no-pictures --starts 3 --case nominal -o $D/r --force" LISTS, 1, true},
    {"survey --motors $D/m.csv -s $D/s.csv --at '=cmd(1)' " LOG, 1, false},
    {"survey --findings --motors $D/m.csv -s $D/s.csv --at '@m' " LOG, 1, false},
    {"check -v 480 --plate 'rated_volts=460,rated_hp=5,rpm=1740,feeder==cmd(1)'", 1, false},
    {"check -v 480 --plate \"$(printf 'rated_volts=460,rated_hp=5,\\033[2J=1')\"", 2, false},
    {"tables \"$(printf 'x\\033[2Jy')\"", 2, false},
    {"tables '`touch m`'", 2, false},
    {"template \"$(printf 'x\\033[2Jy')\"", 2, true},
    {"check --feeder \"$(printf 'x\\033[2J\\342\\200\\256y')\"" LISTS, 2, false},
    {"check --motor \"$(printf 'x\\033[2J\\342\\200\\256y')\"" LISTS, 2, false},
    {"check -s \"$(printf '$D/x\\033[2J\\342\\200\\256y')\" $D/m.csv", 2, false},
    {"check -v 480 -o \"$(printf 'none\\033[2J/x')\" " ONE_MOTOR, 3, false},
    {"check -f \"$(printf 'x\\033[2Jy')\"" LISTS, 2, true},
    {"check \"$(printf -- '--x\\033[2Jy')\"" LISTS, 2, true},
    {"check -$(printf '\\033[2Jy')" LISTS, 2, true},
    {"check -$(printf '\\302\\2332Jy')" LISTS, 2, true},
    {"\"$(printf 'x\\033[2Jy')\"" LISTS, 2, true},
};

static bool has_python(void **state)
{
    struct ran ran;
    run_in(state, "python3 -c 'import csv, json, unicodedata'", &ran);
    bool has = ran.status == 0;
    free_ran(&ran);
    if (!has)
        print_message("skipped: no python3 to read the output again\n");
    return has;
}

static void check_harmless(void **state, const char *words, const char *format, bool is_text, int most)
{
    char command[FAULTS_COMMAND_MAX];
    snprintf(command, sizeof command,
             "sagband %s -f %s >$D/out 2>$D/err; s=$?; " HARMLESS
             "%s $D/out text $D/err && test ! -e $D/m -a ! -e m -a $s -le %d || { echo \"status $s\" >&2; exit 9; }",
             words, format, is_text ? "text" : format, most);
    expect(state, command, 0);
}

static void check_all(void **state, bool as_feeder)
{
    write_supply(state, !as_feeder);
    write_started(state, as_feeder);
    for (size_t i = 0; i < COUNT(commands); i++)
        for (size_t k = 0; k < COUNT(formats); k++)
            if (!as_feeder || k == i % COUNT(formats))
                check_harmless(state, commands[i].words, formats[k], commands[i].is_text, commands[i].most);
}

/* All motors on the last of a row of boards, each of which bears a name. */
static void as_tags_on_a_path(void **state)
{
    if (!has_python(state))
        skip();
    check_all(state, false);
}

static void as_feeders(void **state)
{
    if (!has_python(state))
        skip();
    check_all(state, true);
}

/* A test of the reader of the tests: each of these it must refuse. */
static void the_parsers_would_see_it(void **state)
{
    static const struct {
        const char *format, *output;
    } rows[] = {
        {"text", "a\\033[2Jb\\n"},
        {"text", "a\\342\\200\\256b\\n"},
        {"text", "a\\302\\2332J\\n"},
        {"text", "a\\303\\n"},
        {"text", "a"},
        {"csv", "a,b\\n=1,2\\n"},
        {"csv", "a,b\\n\"+1\",2\\n"},
        {"csv", "a,b\\n1\\n"},
        {"csv", "a\\n-1-1\\n"},
        {"csv", "a\\n\"\\n=1\"\\n"},
        {"csv", "a\\n\"b\"c\\n"},
        {"json", "{\"a\":NaN}\\n"},
        {"json", "{\"a\":1}{\"a\":2}\\n"},
        {"json", "{\"a\":1,\"a\":2}\\n"},
        {"json", "{\"a\":1}\\n{\"b\":1}\\n"},
        {"json", "{\"a\":\"\\t\"}\\n"},
        {"json", "{\"a\":-Infinity}\\n"},
    };
    if (!has_python(state))
        skip();
    for (size_t i = 0; i < COUNT(rows); i++) {
        char command[300];
        snprintf(command, sizeof command, "printf '%s' >$D/x; " HARMLESS "%s $D/x", rows[i].output, rows[i].format);
        expect(state, command, 1);
    }
    expect(state, "printf 'a,b\\n-1.5,\"'\"'\"'=1\"\\n' >$D/x; " HARMLESS "csv $D/x", 0);
    expect(state, "printf '{\"a\":null}\\n{\"a\":-1}\\n' >$D/x; " HARMLESS "json $D/x", 0);
}

/* --- long cells, broken ones ------------------------------------------------------------------------------------- */

/* 200 kB in one cell, as whatever a cell can be. */
static void long_cells(void **state)
{
    static const char *const letters[] = {"x",         "\xC3\xB6", "\xE7\x94\xB5", "\xF0\x9F\x98\x80",
                                          "e\xCC\x81", "x ",       "\n=1"};
    static const char *const runs[] = {"check -v 480",
                                       "check -v 480 --findings",
                                       "start -v 480 --case nominal",
                                       "protect -v 480 --case nominal",
                                       "explain T -v 480",
                                       "plot -v 480 --case nominal -q --force -o $D/p --findings"};
    if (!has_python(state))
        skip();
    for (size_t i = 0; i < COUNT(letters); i++)
        for (int column = 0; column < 3; column++) {
            char path[80];
            snprintf(path, sizeof path, "%s/m.csv", (char *)*state);
            FILE *file = fopen(path, "w");
            assert_non_null(file);
            fputs("rated_volts,rated_hp,rpm,tag,feeder,note\n460,50,1775", file);
            for (int c = 0; c < 3; c++) {
                fputs(c == 0 && column != 0 ? ",T" : c == 1 && column != 1 ? ",F" : ",\"a", file);
                for (size_t n = 0; c == column && n < 200000; n += strlen(letters[i]))
                    fputs(letters[i], file);
                fputs((c == 0 && column != 0) || (c == 1 && column != 1) ? "" : "\"", file);
            }
            fputs("\n", file);
            fclose(file);
            for (size_t k = 0; k < 2; k++) { /* each command meets each column, each letter two commands */
                char words[200];
                size_t r = (2 * i + (size_t)column + 3 * k) % COUNT(runs);
                bool long_tag = column == 0 && strncmp(runs[r], "explain", 7) == 0;
                snprintf(words, sizeof words, "%s $D/m.csv", runs[r]);
                check_harmless(state, words, formats[(i + k) % COUNT(formats)], false, long_tag ? 2 : 1);
            }
        }
}

/* Bytes that are no UTF-8, in any cell: refused, and the message is fit to print. */
static void broken_bytes(void **state)
{
    static const char *const bytes[] = {"\\377",      "\\300\\200", "\\355\\240\\200", "\\364\\220\\200\\200",
                                        "\\342\\200", "\\200",      "x\\303"};
    static const char *const lists[] = {
        "tag,rated_volts,rated_hp\\n%s,460,5\\n", "tag,rated_volts,rated_hp\\nA,%s,5\\n",
        "tag,rated_volts,rated_hp,%s\\nA,460,5,1\\n", "tag,note,rated_volts,rated_hp\\nA,\"%s\",460,5\\n"};
    if (!has_python(state))
        skip();
    for (size_t i = 0; i < COUNT(bytes); i++)
        for (size_t k = 0; k < COUNT(lists); k++) {
            char list[200], command[400];
            snprintf(list, sizeof list, lists[k], bytes[i]);
            snprintf(command, sizeof command, "printf '%s' >$D/m.csv", list);
            expect(state, command, 0);
            expect(state, "sagband check -v 480 -o $D/got $D/m.csv", 2);
            expect(state, "test ! -e $D/got", 0);
            check_harmless(state, "check -v 480 $D/m.csv", "text", true, 2);
        }
}

TEST_LIST(hostile_output, IN_FOLDER(as_tags_on_a_path), IN_FOLDER(as_feeders), IN_FOLDER(the_parsers_would_see_it),
          IN_FOLDER(long_cells), IN_FOLDER(broken_bytes))
