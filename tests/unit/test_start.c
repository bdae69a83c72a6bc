/* What a start does to motors and network; each run on a plant put together by hand. */
#include <complex.h>
#include <math.h>

#include "rig.h"

#define HUNDRED                                                                                                        \
    "rated_volts=460,rated_hp=100,rpm=1780,poles=4,efficiency_pct=94.5,rated_amps=118,design=B,locked_amps=690"

/* One motor of 100 hp, to be started at 0 s. */
static void one_motor(struct rig *rig, double volts, double x, const char *plate)
{
    rig_start(rig, volts, x / 10, x);
    rig_close(rig, rig_motor(rig, 0, plate), 0);
    rig->job.keep_trace = true;
}

static void endless_source_gives_no_dip(void **state)
{
    (void)state;
    struct rig rig;
    one_motor(&rig, 480, 0, HUNDRED ",load=pump");
    rig_run(&rig);
    const struct sag_started *s = rig_first(&rig);
    check_near("before", s->volts_before, 480, 1e-6);
    check_near("closing", s->volts_closing, 480, 1e-6);
    check_near("lowest", s->volts_lowest, 480, 1e-6);
    check_near("board", rig.run.node_lowest[0], 480, 1e-6);
    assert_true(s->runs_up && s->computed && rig.run.settled);
    rig_free(&rig);
}

/* At rated volts a motor draws the locked-rotor amps of its plate, which the trim makes exact but for main flux. */
static void peak_is_locked_amps(void **state)
{
    (void)state;
    struct rig rig;
    one_motor(&rig, 460, 0, HUNDRED ",load=pump");
    rig_run(&rig);
    check_percent("peak", rig_first(&rig)->amps_peak, 690, 0.5);
    rig_free(&rig);
}

/* The divider, with the impedance of the motor at standstill worked out beside the network. */
static void static_answer_is_the_divider(void **state)
{
    (void)state;
    struct rig rig;
    struct sag_point p;
    one_motor(&rig, 480, 0.06, HUNDRED ",load=pump");
    const struct sag_grid_motor *g = &rig.motors[0];
    rig_make_linear(&rig.motors[0]);
    sag_circuit_at(&g->machine, &(struct sag_feed){1, 1, 0}, 1, &p);
    double complex motor = g->base.ohms / p.amps * (p.power_factor + I * sqrt(1 - p.power_factor * p.power_factor));
    double complex source = 0.006 + 0.06 * I;
    rig_run(&rig);
    check_percent("closing", rig_first(&rig)->volts_closing, 480 * cabs(motor / (motor + source)), 1e-4);
    check_percent("amps", rig.run.trace[0].amps, 480 / sqrt(3.0) / cabs(motor + source), 1e-4);
    check_near("before", rig_first(&rig)->volts_before, 480, 1e-6);
    rig_free(&rig);
}

/* A fan on half of its volts turns until its load meets the torque below breakdown, and hangs there. */
static void hangs_at_a_speed(void **state)
{
    (void)state;
    struct rig rig;
    one_motor(&rig, 235, 0, HUNDRED ",load=fan");
    rig_run(&rig);
    const struct sag_started *s = rig_first(&rig);
    const struct sag_trace_row *end = rig_last(&rig, 0);
    assert_false(s->runs_up);
    assert_true(isnan(s->time_to_speed) && isnan(s->heat_used) && isnan(s->energy));
    assert_true(s->speed_end > 0.3 && s->speed_end < 0.9);
    check_percent("torques meet", end->motor_torque_nm, end->load_torque_nm, 0.5);
    check_near("no surplus", s->least_surplus, 0, 0.005);
    check_near("least where it hangs", s->least_at, s->speed_end, 0.02);
    rig_free(&rig);
}

static void does_not_move(void **state)
{
    (void)state;
    struct rig rig;
    one_motor(&rig, 276, 0, HUNDRED ",load=hoist");
    rig_run(&rig);
    const struct sag_started *s = rig_first(&rig);
    assert_false(s->runs_up);
    check_near("speed", s->speed_end, 0, 0);
    assert_true(s->least_surplus < -0.1 && s->least_at == 0);
    assert_true(rig.run.end_time < 1); /* nothing moves, so nothing is waited for */
    rig_free(&rig);
}

/* With no network about it, time goes with inertia: twice of it, twice the time, the heat and the energy. */
static void time_goes_with_inertia(void **state)
{
    (void)state;
    struct rig rig;
    one_motor(&rig, 460, 0, HUNDRED ",load=pump,rotor_inertia_kgm2=2,load_inertia_kgm2=6");
    rig_run(&rig);
    struct sag_started once = *rig_first(&rig);
    rig.motors[0].inertia *= 2;
    rig_run(&rig);
    const struct sag_started *twice = rig_first(&rig);
    check_percent("time", twice->time_to_speed / once.time_to_speed, 2, 0.3);
    check_percent("heat", twice->heat_used / once.heat_used, 2, 0.3);
    check_percent("energy", twice->energy / once.energy, 2, 0.3);
    assert_true(once.heat_used < once.time_to_speed); /* never more than locked amps */
    rig_free(&rig);
}

/* --- energy ------------------------------------------------------------------------------------------------------ */

struct balance {
    double heat, work, kinetic, drawn;
};

/* Watts at a row of the trace: what the windings and the core turn into heat, and what shaft and friction take. */
static void watts_at(const struct sag_grid_motor *g, const struct sag_trace_row *row, double *heat, double *work)
{
    struct sag_point p;
    const struct sag_machine *m = &g->machine;
    sag_circuit_at(m, &(struct sag_feed){row->motor_volts / g->volts_rated, 1, 0}, 1 - row->speed, &p);
    double core = p.power_in - p.gap_power - p.amps * p.amps * m->stator_r;
    double friction = p.gap_power - p.torque;
    *heat = (p.winding_loss + core) * g->base.watts;
    *work = row->load_torque_nm * row->speed * g->sync_rad_s + friction * row->speed * g->base.watts;
}

static struct balance balance_of(const struct rig *rig)
{
    const struct sag_grid_motor *g = &rig->motors[0];
    const struct sag_started *s = rig_first(rig);
    struct balance b = {.drawn = s->energy};
    double heat = 0, work = 0, reached = 0;
    for (size_t i = 0; i < rig->run.trace_count && rig->run.trace[i].time <= s->time_to_speed; i++) {
        double heat_before = heat, work_before = work;
        watts_at(g, &rig->run.trace[i], &heat, &work);
        double h = i ? rig->run.trace[i].time - rig->run.trace[i - 1].time : 0;
        b.heat += 0.5 * h * (heat + heat_before);
        b.work += 0.5 * h * (work + work_before);
        reached = rig->run.trace[i].speed;
    }
    b.kinetic = 0.5 * g->inertia * pow(reached * g->sync_rad_s, 2);
    return b;
}

/* What is drawn heats windings and core, drives load and friction, and turns the masses. The last piece of the way to
   speed is not in the sums, hence 1 % of the whole. */
static void energy_is_kept(void **state)
{
    (void)state;
    static const char *const loads[] = {HUNDRED ",load=none,rotor_inertia_kgm2=8", HUNDRED ",load=pump",
                                        HUNDRED ",load=fan"};
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++) {
        struct rig rig;
        one_motor(&rig, 460, 0.02, loads[i]);
        rig_make_linear(&rig.motors[0]); /* trims and saddle change amps and torque apart from the circuit */
        rig_run(&rig);
        struct balance b = balance_of(&rig);
        assert_true(b.kinetic > 0.2 * b.drawn);
        check_percent(loads[i], b.heat + b.work + b.kinetic, b.drawn, 1);
        rig_free(&rig);
    }
}

/* --- others ------------------------------------------------------------------------------------------------------ */

static void closings_at_their_times(void **state)
{
    (void)state;
    static const double at[] = {0, 4, 25};
    struct rig rig;
    rig_weak_plant(&rig);
    for (size_t i = 0; i < 3; i++)
        rig_close(&rig, i, at[i]);
    rig_run(&rig);
    for (size_t i = 0; i < 3; i++) {
        const struct sag_started *s = &rig.run.started[i];
        const struct sag_trace_row *row = rig.run.trace;
        while (row->motor != i)
            row++;
        check_near("closes", s->closes_at, at[i], 0);
        check_near("first row", row->time, at[i], 1e-9);
        check_near("stands", row->speed, 0, 0);
        assert_true(s->runs_up && s->time_to_speed > 0.1);
    }
    assert_true(rig.run.end_time > at[2] + rig.run.started[2].time_to_speed);
    rig_free(&rig);
}

static double lowest_board(const struct rig *rig, size_t motor, double before)
{
    double least = INFINITY;
    for (size_t i = 0; i < rig->run.trace_count; i++)
        if (rig->run.trace[i].motor == motor && rig->run.trace[i].time < before)
            least = fmin(least, rig->run.trace[i].board_volts);
    return least;
}

/* Each start of a sequence has its own dips, and the others that it pulls down are those that turn by then. */
static void windows_of_a_sequence(void **state)
{
    (void)state;
    struct rig rig;
    double share = 0;
    rig_weak_plant(&rig);
    rig_close(&rig, RIG_RUNS_ONE, 0);
    rig_close(&rig, RIG_STARTS, 20);
    rig_run(&rig);
    const struct sag_started *first = &rig.run.started[0], *second = &rig.run.started[1];
    const double *lowest = rig.run.node_lowest, *before = rig.run.node_before;
    size_t nodes = rig.grid.node_count;
    assert_int_equal(rig.run.windows, 2);
    assert_int_equal(first->window, 0);
    assert_int_equal(second->window, 1);
    check_near("the first dips its own board", lowest[0], lowest_board(&rig, RIG_RUNS_ONE, 20), 1e-9);
    check_near("the second too", lowest[nodes + 1], second->board_lowest, 1e-9);
    assert_true(lowest[nodes + 1] < lowest[1] - 10); /* the larger one dips more */
    assert_true(before[nodes + 1] > lowest[1] + 10); /* after the first has let go */
    assert_int_equal(sag_worst_other(&rig.grid, &rig.run, 0, &share), RIG_RUNS_TWO);
    check_near("its volts", share, rig.run.motor_lowest[RIG_RUNS_TWO] / 460, 1e-9);
    assert_int_equal(sag_worst_other(&rig.grid, &rig.run, 1, &share), RIG_RUNS_TWO); /* on the board of the start */
    check_near("its volts then", share, rig.run.motor_lowest[rig.grid.motor_count + RIG_RUNS_TWO] / 460, 1e-9);
    rig_free(&rig);
}

/* After an outage nothing turns and other load stays; in the other way all runs that runs normally. */
static void from_rest(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    rig_close(&rig, RIG_STARTS, 0);
    rig_run(&rig);
    double beside = rig_first(&rig)->volts_before, slow = rig_first(&rig)->time_to_speed;
    assert_true(rig.run.motor_before[RIG_RUNS_ONE] > 400);
    rig.job.from_rest = true;
    rig_run(&rig);
    assert_true(isnan(rig.run.motor_before[RIG_RUNS_ONE]) && isnan(rig.run.motor_before[RIG_RUNS_TWO]));
    assert_true(rig_first(&rig)->volts_before > beside + 5);
    assert_true(rig_first(&rig)->time_to_speed < slow - 0.2);
    rig_free(&rig);
}

/* What stands still before it is said to run: spares, fire pumps, what is shed; in the high case all. */
static void who_runs_before(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        enum sag_duty duty;
        enum sag_case which;
        size_t shed;
        bool runs;
    } rows[] = {
        {"normal", SAG_DUTY_NORMAL, SAG_CASE_NOMINAL, 0, true},   {"spare", SAG_DUTY_SPARE, SAG_CASE_NOMINAL, 0, false},
        {"fire", SAG_DUTY_FIRE_PUMP, SAG_CASE_NOMINAL, 0, false}, {"shed", SAG_DUTY_NORMAL, SAG_CASE_NOMINAL, 1, false},
        {"high", SAG_DUTY_NORMAL, SAG_CASE_HIGH, 0, false},       {"low", SAG_DUTY_NORMAL, SAG_CASE_LOW, 0, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct rig rig;
        rig_weak_plant(&rig);
        rig.motors[RIG_RUNS_TWO].duty = (uint8_t)rows[i].duty;
        rig.job.which = rows[i].which;
        rig.job.shed = (const size_t[]){RIG_RUNS_TWO};
        rig.job.shed_count = rows[i].shed;
        rig_close(&rig, RIG_STARTS, 0);
        rig_run(&rig);
        if (isnan(rig.run.motor_before[RIG_RUNS_TWO]) == rows[i].runs)
            fail_msg("%s: %s", rows[i].name, rows[i].runs ? "stands" : "runs");
        rig_free(&rig);
    }
}

/* A compressor at full load on a supply that the large fan pulls down: it stalls and stays down; with less load not. */
static void dragged_into_stall(void **state)
{
    (void)state;
    static const struct {
        double x, share;
        bool dragged;
    } rows[] = {{0.3, 1, true}, {0.3, 0.3, false}, {0.1, 1, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct rig rig;
        rig_weak_plant(&rig);
        rig.nodes[0].x = rows[i].x;
        rig.nodes[1].load_watts = rig.nodes[1].load_vars = 0;
        rig.motors[RIG_RUNS_ONE].share = rows[i].share;
        rig_close(&rig, RIG_STARTS, 0);
        rig_run(&rig);
        if (rig.run.dragged[RIG_RUNS_ONE] != rows[i].dragged)
            fail_msg("x %g, share %g: dragged %d", rows[i].x, rows[i].share, !rows[i].dragged);
        rig_free(&rig);
    }
}

/* Motors stand in any order in the list. */
static void order_of_rows_does_not_matter(void **state)
{
    (void)state;
    static const size_t orders[][3] = {{0, 1, 2}, {2, 1, 0}, {1, 2, 0}};
    struct sag_started first = {0};
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++) {
        struct rig rig, plain;
        rig_weak_plant(&plain);
        rig_weak_plant(&rig);
        for (size_t k = 0; k < 3; k++) {
            rig.motors[orders[i][k]] = plain.motors[k];
            rig.plates[orders[i][k]] = plain.plates[k];
        }
        rig_close(&rig, orders[i][RIG_STARTS], 0);
        rig_run(&rig);
        const struct sag_started *s = rig_first(&rig);
        if (i == 0)
            first = *s;
        check_percent("time", s->time_to_speed, first.time_to_speed, 1e-4);
        check_percent("volts", s->volts_lowest, first.volts_lowest, 1e-4);
        check_percent("heat", s->heat_used, first.heat_used, 1e-3);
        rig_free(&rig);
    }
}

/* No circuit or no inertia: its start is not computed, and the run goes on. */
static void what_cannot_be_computed(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    rig.motors[RIG_STARTS].inertia = NAN;
    rig_close(&rig, RIG_STARTS, 0);
    rig_run(&rig);
    const struct sag_started *s = rig_first(&rig);
    assert_false(s->computed || s->runs_up);
    assert_true(s->volts_before > 400 && isnan(s->volts_closing) && isnan(s->time_to_speed));
    rig_free(&rig);
}

TEST_LIST(start, cmocka_unit_test(endless_source_gives_no_dip), cmocka_unit_test(peak_is_locked_amps),
          cmocka_unit_test(static_answer_is_the_divider), cmocka_unit_test(hangs_at_a_speed),
          cmocka_unit_test(does_not_move), cmocka_unit_test(time_goes_with_inertia), cmocka_unit_test(energy_is_kept),
          cmocka_unit_test(closings_at_their_times), cmocka_unit_test(windows_of_a_sequence),
          cmocka_unit_test(from_rest), cmocka_unit_test(who_runs_before), cmocka_unit_test(dragged_into_stall),
          cmocka_unit_test(order_of_rows_does_not_matter), cmocka_unit_test(what_cannot_be_computed))
