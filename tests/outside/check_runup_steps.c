/* The program's steps against a general integrator (GSL, Runge-Kutta-Fehlberg) on the same slopes, and their order. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rig.h"
#include "start/sim.h"

enum {
    MOST_STATES = 8
};

/* A run taken in hand: opened, its first motors closed. Close it with sim_close() and sag_run_free(). */
struct stepped {
    struct sim sim;
    struct sag_run run;
};

static void open_run(const struct rig *rig, struct stepped *t)
{
    *t = (struct stepped){.sim.job = &rig->job};
    t->sim.run = &t->run;
    assert_int_equal(sim_open(&t->sim), SAG_OK);
    t->sim.close = 1e-9; /* what is measured here is the step, not the network */
    assert_true(t->sim.size <= MOST_STATES);
    for (size_t i = 0; i < rig->job.count; i++)
        sim_enter_stage(&t->sim, i, 0);
}

static void close_run(struct stepped *t)
{
    sim_close(&t->sim);
    sag_run_free(&t->run);
}

static int slopes_of(double time, const double state[], double slope[], void *sim)
{
    return sim_slopes(sim, time, state, slope, NULL) ? GSL_SUCCESS : GSL_EBADFUNC;
}

/* The state after `seconds`, by GSL. */
static void integrate(struct sim *s, double seconds, double *state)
{
    const double close = 1e-7;
    gsl_odeiv2_system system = {slopes_of, NULL, s->size, s};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rkf45, 1e-4, close, close);
    double time = 0;
    assert_non_null(driver);
    gsl_odeiv2_driver_set_nmax(driver, 1000000);
    assert_int_equal(gsl_odeiv2_driver_apply(driver, &time, seconds, state), GSL_SUCCESS);
    gsl_odeiv2_driver_free(driver);
}

/* At the time when the program has a speed, what speed has GSL? Apart by less than 0.2 % of the time. */
static void check_times(const struct rig *rig, double gsl_share)
{
    static const double speeds[] = {0.1, 0.25, 0.5, 0.75, 0.9, 0.97};
    struct stepped t;
    double state[MOST_STATES], slope[MOST_STATES], before = 0;
    open_run(rig, &t);
    size_t mover = (size_t)t.sim.items[0].mover;
    memcpy(state, t.sim.state, t.sim.size * sizeof *state);
    for (size_t i = 0; i < sizeof speeds / sizeof *speeds; i++) {
        double at = rig_time_at(rig, rig_first(rig)->motor, speeds[i]);
        integrate(&t.sim, at - before, state);
        before = at;
        assert_true(sim_slopes(&t.sim, at, state, slope, NULL));
        char name[48];
        snprintf(name, sizeof name, "time to %g of speed", speeds[i]);
        check_percent(name, at + (state[mover] - speeds[i]) / slope[mover], at, gsl_share);
    }
    close_run(&t);
}

static void times_beside_running_motors(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    rig_close(&rig, RIG_STARTS, 0);
    rig_run(&rig);
    check_times(&rig, 0.2);
    rig_free(&rig);
}

static void times_on_a_generator(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    rig_generator(&rig, 250e3, 1.5);
    rig_close(&rig, RIG_STARTS, 0);
    rig_run(&rig);
    check_times(&rig, 0.2);
    rig_free(&rig);
}

/* --- order ------------------------------------------------------------------------------------------------------- */

/* Equal steps over a stretch, with the diagonal set wrong by a factor. */
static void step_along(struct sim *s, double seconds, int steps, double factor)
{
    double h = seconds / steps;
    for (int i = 0; i < steps; i++) {
        assert_true(sim_slopes(s, s->time, s->state, s->slope, s->stiff));
        for (size_t k = 0; k < s->size; k++)
            s->stiff[k] *= factor;
        assert_true(sim_step(s, h) >= 0);
        memcpy(s->state, s->next, s->size * sizeof *s->state);
        s->time += h;
    }
}

static double distance(const double *a, const double *b, size_t size)
{
    double worst = 0;
    for (size_t i = 0; i < size; i++)
        worst = fmax(worst, fabs(a[i] - b[i]));
    return worst;
}

/* From where the motors have gained some speed, past what bends when standstill is left. */
struct stretch {
    double from, seconds;
};

static double error_of(const struct rig *rig, const struct stretch *stretch, int steps, double factor)
{
    struct stepped t;
    double start[MOST_STATES], exact[MOST_STATES];
    open_run(rig, &t);
    memcpy(start, t.sim.state, t.sim.size * sizeof *start);
    integrate(&t.sim, stretch->from, start);
    memcpy(exact, start, sizeof exact);
    integrate(&t.sim, stretch->seconds, exact);
    memcpy(t.sim.state, start, t.sim.size * sizeof *start);
    step_along(&t.sim, stretch->seconds, steps, factor);
    double error = distance(t.sim.state, exact, t.sim.size);
    close_run(&t);
    return error;
}

/* Half the step, a quarter of the error: between 3.6 and 4.4 where the next order still shows. */
static void check_order(const struct rig *rig, const struct stretch *stretch, int steps)
{
    static const double factors[] = {1, 0.5, 0, 2}; /* of the diagonal */
    for (size_t i = 0; i < sizeof factors / sizeof *factors; i++) {
        char name[48];
        double coarse = error_of(rig, stretch, steps, factors[i]);
        double fine = error_of(rig, stretch, 2 * steps, factors[i]);
        snprintf(name, sizeof name, "%d steps, diagonal times %g", steps, factors[i]);
        assert_true(coarse > 2e-6); /* well above what the network is solved to */
        check_near(name, coarse / fine, 4, 0.4);
    }
}

static void second_order(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    rig_close(&rig, RIG_STARTS, 0);
    rig.job.shed = (const size_t[]){RIG_RUNS_ONE, RIG_RUNS_TWO};
    rig.job.shed_count = 2;
    /* from steps on that are short beside the hollow of the torque curve */
    check_order(&rig, &(struct stretch){0.6, 1.6}, 8);
    check_order(&rig, &(struct stretch){0.6, 1.6}, 10);
    rig_free(&rig);
}

/* Three at once, each moving the other's volts, which the diagonal does not see. */
static void second_order_of_three(void **state)
{
    (void)state;
    struct rig rig;
    rig_weak_plant(&rig);
    for (size_t i = 0; i < 3; i++) {
        rig_close(&rig, i, 0);
        rig.motors[i].inertia *= i == RIG_STARTS ? 1 : 20; /* so that none is up to speed in the stretch */
    }
    check_order(&rig, &(struct stretch){1, 1.6}, 8);
    rig_free(&rig);
}

/* Running motors answer in some hundredths of a second. Steps many times as long neither grow nor ring. */
static void long_steps_stay_near(void **state)
{
    (void)state;
    static const double factors[] = {1, 2};
    struct rig rig;
    rig_weak_plant(&rig);
    rig_close(&rig, RIG_STARTS, 0);
    for (size_t i = 0; i < sizeof factors / sizeof *factors; i++) {
        double error = error_of(&rig, &(struct stretch){0.6, 3}, 12, factors[i]);
        check_near("steps of 0.25 s", error, 0, 1e-3);
    }
    struct stepped t;
    open_run(&rig, &t);
    assert_true(sim_slopes(&t.sim, 0, t.sim.state, t.sim.slope, t.sim.stiff));
    assert_true(t.sim.stiff[0] * 0.25 < -5); /* these steps are long */
    close_run(&t);
    rig_free(&rig);
}

TEST_LIST(runup_steps, cmocka_unit_test(times_beside_running_motors), cmocka_unit_test(times_on_a_generator),
          cmocka_unit_test(second_order), cmocka_unit_test(second_order_of_three),
          cmocka_unit_test(long_steps_stay_near))
