/* The run-up of a motor beside two that run, on a weak supply, against a general integrator (SciPy) with a second
   writing of the machine and the network (run_up.py). */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "outside/plant_json.h"

/* --- SciPy ------------------------------------------------------------------------------------------------------- */

enum {
    MOST_ANSWERS = 24
};

struct answers {
    char name[MOST_ANSWERS][32];
    double value[MOST_ANSWERS];
    size_t count;
};

static void ask_scipy(const struct rig *rig, double seconds, const char *folder, struct answers *a)
{
    char plant[128], command[256];
    snprintf(plant, sizeof plant, "%s/plant.json", folder);
    FILE *to = fopen(plant, "w");
    assert_non_null(to);
    write_plant_json(rig, seconds, 1e-7, to);
    assert_int_equal(fclose(to), 0);
    snprintf(command, sizeof command, "/usr/bin/python3 tests/outside/run_up.py <%s", plant);
    FILE *from = popen(command, "r");
    assert_non_null(from);
    while (a->count < MOST_ANSWERS && fscanf(from, "%31s %lf", a->name[a->count], &a->value[a->count]) == 2)
        a->count++;
    if (pclose(from) != 0)
        fail_msg("%s: failed; `make setup` installs python3-scipy", command);
}

static double answer(const struct answers *a, const char *name)
{
    for (size_t i = 0; i < a->count; i++)
        if (strcmp(a->name[i], name) == 0)
            return a->value[i];
    fail_msg("run_up.py did not say %s", name);
    return NAN;
}

/* Where a motor's speed is least from `since` on. */
static double lowest_speed(const struct rig *rig, size_t motor, double since)
{
    double least = INFINITY;
    for (size_t i = 0; i < rig->run.trace_count; i++)
        if (rig->run.trace[i].motor == motor && rig->run.trace[i].time >= since)
            least = fmin(least, rig->run.trace[i].speed);
    return least;
}

/* Times, volts and heat of the start; everything within 1 %, most of it far closer. */
static void check_start(const struct rig *rig, const struct sag_started *s, const struct answers *a)
{
    const double percent = 1;
    const struct {
        const char *name;
        double value;
    } rows[] = {
        {"time_50", rig_time_at(rig, RIG_STARTS, 0.5) - s->closes_at},
        {"time_90", rig_time_at(rig, RIG_STARTS, 0.9) - s->closes_at},
        {"time_to_speed", s->time_to_speed},
        {"volts_closing", s->volts_closing},
        {"volts_lowest", s->volts_lowest},
        {"heat_used", s->heat_used},
        {"speed_end", s->speed_end},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_percent(rows[i].name, rows[i].value, answer(a, rows[i].name), percent);
}

/* How far the start pulls a running motor's speed down, as its slip then. */
static void check_running(const struct rig *rig, size_t motor, double since, const struct answers *a)
{
    char name[32];
    snprintf(name, sizeof name, "speed_lowest_%zu", motor);
    double lowest = answer(a, name);
    snprintf(name, sizeof name, "speed_before_%zu", motor);
    assert_true(lowest < answer(a, name) - 5e-3); /* there is something to see */
    check_percent("slip of a running motor", 1 - lowest_speed(rig, motor, since), 1 - lowest, 1);
}

/* The two others run before, and are no part of the trace. */
static void one_start(void **state)
{
    struct rig rig;
    struct answers a = {.count = 0};
    rig_weak_plant(&rig);
    ask_scipy(&rig, 20, *state, &a);
    rig_close(&rig, RIG_STARTS, 0);
    rig_run(&rig);
    check_start(&rig, rig_first(&rig), &a);
    rig_free(&rig);
}

/* The two others are started long before, so that the trace has them too. */
static void one_start_after_others(void **state)
{
    const double since = 60;
    struct rig rig;
    struct answers a = {.count = 0};
    rig_weak_plant(&rig);
    ask_scipy(&rig, 20, *state, &a);
    rig_close(&rig, RIG_RUNS_ONE, 0);
    rig_close(&rig, RIG_RUNS_TWO, 10);
    rig_close(&rig, RIG_STARTS, since);
    rig_run(&rig);
    check_start(&rig, &rig.run.started[RIG_STARTS], &a);
    check_running(&rig, RIG_RUNS_ONE, since, &a);
    check_running(&rig, RIG_RUNS_TWO, since, &a);
    rig_free(&rig);
}

TEST_LIST(runup_integrator, IN_FOLDER(one_start), IN_FOLDER(one_start_after_others))
