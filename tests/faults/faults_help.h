/* The program run where something goes wrong. Each test works in a folder of its own, `$D` in its commands. */
#ifndef TESTS_FAULTS_HELP_H
#define TESTS_FAULTS_HELP_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "golden/golden.h"
#include "support.h"

#define COUNT(array)       (sizeof(array) / sizeof *(array))
#define ONE_MOTOR          "motordata/examples/one-motor.csv"
#define DEMO               "-s motordata/cawdry-flats/supply.csv motordata/cawdry-flats/motors.csv"
#define CURVE              "motordata/examples/breaker-curve.csv"
#define DEMO_SUPPLY        "motordata/cawdry-flats/supply.csv"
#define DEMO_MOTORS        "motordata/cawdry-flats/motors.csv"
#define FAULTS_COMMAND_MAX 1500

/* Run a line for the shell; end with free_ran(). */
static inline void run_in(void **state, const char *command, struct ran *ran)
{
    char line[FAULTS_COMMAND_MAX + 100];
    assert_true(strlen(command) < FAULTS_COMMAND_MAX);
    snprintf(line, sizeof line, "D=%s; %s", (char *)*state, command);
    run_command(line, ran);
}

/* Run a line that has to end with `status`; what it printed does not matter. */
static inline void expect(void **state, const char *command, int status)
{
    struct ran ran;
    run_in(state, command, &ran);
    if (ran.status != status)
        fail_msg("%s\n ended with %d, wanted %d; it said: %.500s", command, ran.status, status, ran.err);
    free_ran(&ran);
}

/* The same, and what it said must hold `word`. */
static inline void expect_words(void **state, const char *command, int status, const char *word)
{
    struct ran ran;
    run_in(state, command, &ran);
    if (ran.status != status || !strstr(ran.err, word))
        fail_msg("%s\n ended with %d, wanted %d and \"%s\"; it said: %.500s", command, ran.status, status, word,
                 ran.err);
    free_ran(&ran);
}

/* `count` motors of forty sizes, in the folder as big.csv. */
static inline void write_big_list(void **state, int count)
{
    char path[80];
    snprintf(path, sizeof path, "%s/big.csv", (char *)*state);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("tag,rated_volts,rated_hp,rpm,code_letter\n", file);
    for (int i = 0; i < count; i++)
        fprintf(file, "M-%d,460,%d,1770,G\n", i, i % 40 + 1);
    fclose(file);
}

#endif
