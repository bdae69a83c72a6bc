/* Starts on a generator: the dip behind the transient reactance, what the regulator makes of it, and where it ends. */
#include <complex.h>
#include <math.h>
#include <stdio.h>

#include "rig.h"

#define FIFTY                                                                                                          \
    "rated_volts=460,rated_hp=50,rpm=1770,poles=4,efficiency_pct=94,rated_amps=59,design=B,locked_amps=350,load=pump," \
    "load_inertia_kgm2=3"

static void on_a_set(struct rig *rig, double kva, double recovery_time)
{
    rig_start(rig, 480, 0, 0);
    rig_generator(rig, 1e3 * kva, recovery_time);
    rig_close(rig, rig_motor(rig, 0, FIFTY), 0);
    rig->job.keep_trace = true;
}

static double complex standing_ohms(const struct sag_grid_motor *g)
{
    struct sag_point p;
    sag_circuit_at(&g->machine, &(struct sag_feed){1, 1, 0}, 1, &p);
    return g->base.ohms / p.amps * (p.power_factor + I * sqrt(1 - p.power_factor * p.power_factor));
}

/* So heavy that it does not move in the time of a run. */
static void stand_still(struct sag_grid_motor *motor)
{
    motor->inertia = 1e5;
    rig_make_linear(motor);
}

/* Nothing ran before, so the voltage behind the transient reactance is the set one; the divider does the rest. */
static void dips_behind_the_transient_reactance(void **state)
{
    (void)state;
    static const double sizes[] = {100, 200, 1000};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct rig rig;
        on_a_set(&rig, sizes[i], 1.5);
        rig_make_linear(&rig.motors[0]);
        double complex motor = standing_ohms(&rig.motors[0]), source = rig.nodes[0].r + I * rig.nodes[0].x;
        rig_run(&rig);
        check_near("before", rig_first(&rig)->volts_before, 480, 1e-4);
        check_percent("closing", rig_first(&rig)->volts_closing, 480 * cabs(motor / (motor + source)), 1e-3);
        rig_free(&rig);
    }
}

static void comes_back_to_the_set_volts(void **state)
{
    (void)state;
    static const double sizes[] = {150, 300};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct rig rig;
        on_a_set(&rig, sizes[i], 1.5);
        rig_run(&rig);
        assert_true(rig_first(&rig)->runs_up);
        assert_true(rig_first(&rig)->volts_closing < 430);
        check_percent("in the end", rig_last(&rig, 0)->board_volts, 480, 0.2);
        rig_free(&rig);
    }
}

/* First time after the closing at which half of the dip is made up for. */
static double half_way(const struct rig *rig)
{
    const struct sag_trace_row *row = rig->run.trace;
    double middle = 0.5 * (480 + row->board_volts);
    while (row->board_volts < middle)
        row++;
    return row->time;
}

static void recovers_as_fast_as_it_says(void **state)
{
    (void)state;
    static const double times[] = {0.5, 1, 2, 4};
    double last = 0;
    for (size_t i = 0; i < sizeof times / sizeof *times; i++) {
        struct rig rig;
        on_a_set(&rig, 300, times[i]);
        rig_run(&rig);
        double now = half_way(&rig);
        assert_true(now > 1.3 * last);
        last = now;
        rig_free(&rig);
    }
}

/* What is left of the dip at a time, on a straight line of its logarithm between two rows. */
static double left_at(const struct rig *rig, double time)
{
    const struct sag_trace_row *row = rig->run.trace;
    double dip = 480 - row->board_volts;
    while (row[1].time < time)
        row++;
    double a = log((480 - row[0].board_volts) / dip), b = log((480 - row[1].board_volts) / dip);
    return exp(a + (b - a) * (time - row[0].time) / (row[1].time - row[0].time));
}

/* A motor that cannot move is a constant load: the dip is down to a twentieth when the recovery time is over. */
static void recovery_time_is_that_to_a_twentieth(void **state)
{
    (void)state;
    static const double sizes[] = {2000, 600, 300};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct rig rig;
        char name[48];
        on_a_set(&rig, sizes[i], 2);
        stand_still(&rig.motors[0]);
        rig_run(&rig);
        snprintf(name, sizeof name, "left of the dip, %g kVA", sizes[i]);
        check_near(name, left_at(&rig, 2), 0.05, 0.003);
        rig_free(&rig);
    }
}

/* Four at once on a set that is too small: the field stays at its ceiling, E_ceiling = E' + (X_d - X'_d) I_d. */
static void ceiling_holds_it_down(void **state)
{
    (void)state;
    struct rig rig;
    on_a_set(&rig, 60, 0.5);
    for (int i = 0; i < 3; i++)
        rig_close(&rig, rig_motor(&rig, 0, FIFTY), 0);
    for (size_t i = 0; i < 4; i++)
        stand_still(&rig.motors[i]);
    rig_run(&rig);
    const struct sag_grid_node *g = &rig.nodes[0];
    double complex whole = standing_ohms(&rig.motors[0]) / 4 + g->r + I * g->x;
    double field = g->ceiling / creal(1 + I * (g->synchronous_x - g->x) / whole);
    assert_false(rig_first(&rig)->runs_up);
    assert_true(rig_last(&rig, 0)->board_volts < 0.6 * 480);
    check_percent("in the end", rig_last(&rig, 0)->board_volts, field * cabs(standing_ohms(&rig.motors[0]) / 4 / whole),
                  0.2);
    rig_free(&rig);
}

TEST_LIST(generator_start, cmocka_unit_test(dips_behind_the_transient_reactance),
          cmocka_unit_test(comes_back_to_the_set_volts), cmocka_unit_test(recovers_as_fast_as_it_says),
          cmocka_unit_test(recovery_time_is_that_to_a_twentieth), cmocka_unit_test(ceiling_holds_it_down))
