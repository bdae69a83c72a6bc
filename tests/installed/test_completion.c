/* docs/sagband.bash as bash would ask it: words of a line, the last of them under the cursor. */
#include <stdio.h>
#include <string.h>

#include "installed/installed.h"

/* In a folder with two lists, one of them with a blank in its name, another file and a folder; `ask` asks for a line.
 */
#define ASK                                                                                                            \
    "set -f; ask() { bash \"$OLDPWD/tests/installed/complete.sh\" \"$@\"; }; "                                         \
    "cd $D && mkdir -p plant && touch motors.csv 'our list.CSV' notes.txt && "

static void offered(void **state, const char *words, struct ran *ran)
{
    char command[400];
    snprintf(command, sizeof command, ASK "ask %s | LC_ALL=C sort | tr '\\n' '|'", words);
    run_staged(state, command, ran);
}

static const struct {
    const char *words, *wanted; /* sorted, a bar behind each */
} rows[] = {
    /* commands */
    {"sagband ch", "check|"},
    {"sagband st", "start|"},
    {"sagband nothing", ""},
    {"sagband -q -v 480 pl", "plot|"},
    {"sagband --case = low pl", "plot|"},
    {"sagband --motor start pl", "plot|"},
    /* options, before and behind a command */
    {"sagband --fo", "--force|--format|"},
    {"sagband check motors.csv --relay", "--relay-curve|"},
    {"sagband check --f", "--feeder|--findings|--force|--format|"},
    /* words of an option, the whole list, a part, behind "=" */
    {"sagband check --case ''", "all|high|low|measured|nominal|"},
    {"sagband check --case m", "measured|"},
    {"sagband check --case =", "all|high|low|measured|nominal|"},
    {"sagband check --case = h", "high|"},
    {"sagband check -f ''", "csv|json|text|"},
    {"sagband check --format j", "json|"},
    {"sagband plot --render ''", "pdf|png|svg|"},
    {"sagband plot --render = s", "svg|"},
    {"sagband protect --device i", "instantaneous_breaker|inverse_time_breaker|"},
    {"sagband protect --device d", "dual_element_fuse|"},
    {"sagband protect --terminals ''", "60|75|"},
    {"sagband protect --insulation ''", "60|75|90|"},
    /* what nobody can guess */
    {"sagband check --volts ''", ""},
    {"sagband check --motor m", ""},
    {"sagband check --plate = m", ""},
    /* files: lists and folders for inputs, all for outputs */
    {"sagband check ''", "motors.csv|our list.CSV|plant|"},
    {"sagband check -q o", "our list.CSV|"},
    {"sagband check -s ''", "motors.csv|our list.CSV|plant|"},
    {"sagband check --supply = m", "motors.csv|"},
    {"sagband protect --device-curve pl", "plant|"},
    {"sagband check -o n", "notes.txt|"},
    {"sagband plot --output ''", "motors.csv|notes.txt|our list.CSV|plant|"},
    /* a command's own words, and no more of them than it takes */
    {"sagband template ''", "motors|supply|"},
    {"sagband template -q m", "motors|"},
    {"sagband template motors ''", ""},
    {"sagband tables nema_co", "nema_code_letters|"},
    {"sagband tables nema_code_letters n", ""},
    {"sagband explain m", ""},
    {"sagband explain LP-1 m", "motors.csv|"},
    {"sagband explain -s supply.csv LP-1 m", "motors.csv|"},
    {"sagband check motors.csv m", ""},
};

static void lines(void **state)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct ran ran;
        offered(state, rows[i].words, &ran);
        check_text(rows[i].words, ran.out, rows[i].wanted);
        check_text(rows[i].words, ran.err, "");
        free_ran(&ran);
    }
}

/* Nothing is offered that the program does not know, and the other way round. */
static void commands_and_options(void **state)
{
    do_staged(state, ASK "sagband --completions >all && { ask sagband ''; ask sagband -; } >ours && diff all ours");
}

/* Words of options are those that the program asks for when it is given another one. */
static void words_are_the_programs(void **state)
{
    static const char *const options[] = {"case", "format", "render", "device", "terminals", "insulation"};
    for (size_t i = 0; i < sizeof options / sizeof *options; i++) {
        char command[600];
        snprintf(command, sizeof command,
                 ASK "true; o=%s; { sagband check --$o ? 2>&1 || :; } | sed 's/.* is not //; s/,//g; s/ or / /' | "
                     "tr ' ' '\\n' >wanted; test -s wanted && ask sagband check --$o '' | diff wanted -",
                 options[i]);
        do_staged(state, command);
    }
}

/* Behind an option that takes a value no command is offered; behind one that takes none they all are. A new option that
   is not told of in docs/sagband.bash fails here. */
static void values_are_not_commands(void **state)
{
    struct ran ran;
    run_staged(state,
               ASK "sagband --help | sed -n 's/^  \\(-.,\\|   \\) --//p' >options; test $(wc -l <options) -gt 20 && "
                   "while read -r name value rest; do n=$(ask sagband --$name '' | grep -c '^check$'); "
                   "case $value in [A-Z]* | '['* | *'|'*) test $n -eq 0 ;; *) test $n -eq 1 ;; esac || "
                   "echo \"--$name\"; done <options",
               &ran);
    check_text("options whose value docs/sagband.bash does not know", ran.out, "");
    free_ran(&ran);
}

/* Sourced as bash-completion does it, it is there for the name that was installed. */
static void registered(void **state)
{
    do_staged(state, "house_make install && bash -euc '. \"$0\"; complete -p sagband' "
                     "\"$P/share/bash-completion/completions/sagband\" | grep -qx 'complete -F _sagband sagband'");
}

TEST_LIST(completion, IN_FOLDER(lines), IN_FOLDER(commands_and_options), IN_FOLDER(words_are_the_programs),
          IN_FOLDER(values_are_not_commands), IN_FOLDER(registered))
