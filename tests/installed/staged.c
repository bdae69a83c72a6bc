#include "installed/installed.h"

#include <stdio.h>
#include <string.h>

/* What an outer make hands down is kept from the inner one: its folder, flags and variables would go along. */
static const char preamble[] =
    "D=%s; B=${SAGBAND%%/*}; P=\"$D" PREFIX "\"; "
    "house_make() { env -u MAKEFLAGS -u MAKELEVEL make -s --no-print-directory BUILD=\"$B\" DESTDIR=\"$D\" "
    "PREFIX='" PREFIX "' \"$@\"; }; %s";

void run_staged(void **state, const char *command, struct ran *ran)
{
    char line[1600];
    assert_true(sizeof preamble + strlen(*state) + strlen(command) < sizeof line);
    snprintf(line, sizeof line, preamble, (char *)*state, command);
    run_command(line, ran);
    if (ran->status != 0)
        fail_msg("%s\n ended with %d; it said: %.1500s", command, ran->status, ran->err);
}

void do_staged(void **state, const char *command)
{
    struct ran ran;
    run_staged(state, command, &ran);
    free_ran(&ran);
}
