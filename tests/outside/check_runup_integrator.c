/* The run-up of a motor beside two that run, on a weak supply, against a general integrator (SciPy) with a second
   writing of the machine and the network (run_up.py). */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rig.h"

/* --- the plant as JSON ------------------------------------------------------------------------------------------- */

static void write_nodes(const struct rig *rig, FILE *to)
{
    fprintf(to, "{\"nodes\": [");
    for (size_t i = 0; i < rig->grid.node_count; i++) {
        const struct sag_grid_node *n = &rig->nodes[i];
        fprintf(to,
                "%s{\"parent\": %d, \"r\": %.17g, \"x\": %.17g, \"emf\": %.17g, \"nominal\": %.17g, \"watts\": %.17g, "
                "\"vars\": %.17g}",
                i ? ", " : "", n->parent, n->r, n->x, n->parent < 0 ? n->emf[SAG_CASE_NOMINAL] : 0, n->volts_nominal,
                n->load_watts, n->load_vars);
    }
}

static void write_motor(const struct sag_grid_motor *g, FILE *to)
{
    const struct sag_machine *m = &g->machine;
    const struct {
        const char *name;
        double value;
    } facts[] = {
        {"stator_r", m->stator_r},
        {"stator_x", m->stator_x},
        {"core_r", m->core_r},
        {"magnet_x", m->magnet_x},
        {"inner_r", m->inner_r},
        {"inner_x", m->inner_x},
        {"outer_r", m->outer_r},
        {"outer_x", m->outer_x},
        {"leakage_share", m->leakage_share},
        {"friction", m->friction},
        {"gap_volts", m->gap_volts},
        {"power", m->power},
        {"slip", m->slip},
        {"slip_breakdown", m->slip_breakdown},
        {"trim_amps", m->trim_amps},
        {"trim_torque", m->trim_torque},
        {"saddle", m->saddle},
        {"main_flux", g->main_flux},
        {"volts", g->volts_rated},
        {"amps", g->base.amps},
        {"sync", g->sync_rad_s},
        {"inertia", g->inertia},
        {"load_share", g->share},
        {"breakaway", g->load.breakaway},
        {"t0", g->load.t0},
        {"exponent", g->load.exponent},
        {"branch_r", g->branch_r},
        {"branch_x", g->branch_x},
    };
    fprintf(to, "{\"node\": %d", g->node);
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++)
        fprintf(to, ", \"%s\": %.17g", facts[i].name, facts[i].value);
    fprintf(to, "}");
}

static void write_plant(const struct rig *rig, double seconds, FILE *to)
{
    write_nodes(rig, to);
    fprintf(to, "], \"motors\": [");
    for (size_t i = 0; i < rig->grid.motor_count; i++) {
        fputs(i ? ", " : "", to);
        write_motor(&rig->motors[i], to);
    }
    fprintf(to, "], \"started\": %d, \"seconds\": %.17g}\n", RIG_STARTS, seconds);
}

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
    write_plant(rig, seconds, to);
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
