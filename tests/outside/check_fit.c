/* The fit of the circuit against a second implementation (reference_fit.c: a library's trust-region least squares on
   the same eleven residuals) and against its own promises: every target met, the rated point exactly. The worked fit
   and its predictions were computed with a third program, in another language (no publication). */
#include <math.h>
#include <stdio.h>

#include "outside/reference_circuit.h"
#include "support.h"

static const struct sag_load_shape constant_torque = {.t0 = 1};

/* 25 hp, 460 V, 60 Hz, 4 poles, 1770 rpm, 93.6 %, pf 0.84, 182 A, 175 %, 240 %; a made-up motor. The worked numbers
   take the horsepower as 745.69987 W, so the base is 29.7598 A. */
#define WORKED_AMPS 29.7598
#define FIRST_SEED  20240817
static const struct sag_targets worked = {.efficiency = 0.936,
                                          .power_factor = 0.84,
                                          .slip = 30.0 / 1800,
                                          .locked_amps = 182 / WORKED_AMPS,
                                          .locked_torque = 1.75,
                                          .breakdown_torque = 2.40,
                                          .poles = 4};

static void worked_elements(void **state)
{
    (void)state;
    struct sag_machine m;
    sag_fit_machine(&worked, &m);
    const struct {
        const char *name;
        double got, wanted;
    } rows[] = {
        {"stator_r", m.stator_r, 0.025855},     {"stator_x", m.stator_x, 0.124507},
        {"core_r", m.core_r, 77.9039},          {"magnet_x", m.magnet_x, 2.59847},
        {"inner_r", m.inner_r, 0.0207896},      {"inner_x", m.inner_x, 0.177448},
        {"outer_r", m.outer_r, 0.0961225},      {"outer_x", m.outer_x, 0.0832264},
        {"leakage", m.leakage_share, 0.397928}, {"gap_volts", m.gap_volts, 0.915217},
        {"friction", m.friction, 0.003763},     {"slip_breakdown", m.slip_breakdown, 0.10447},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_percent(rows[i].name, rows[i].got, rows[i].wanted, 0.1);
    assert_int_equal(m.way, SAG_FIT_CLOSE);
    check_near("locked amps off", m.miss_amps, 0, 2e-5);
    check_near("locked torque off", m.miss_locked_torque, 0, 2e-5);
    check_near("breakdown torque off", m.miss_breakdown, 0, 2e-5);
}

/* Predictions of the worked fit with main-flux constant 0.08: amps, slip, efficiency, pf, starting amps, starting
   torque in N m. Four digits. Torque base: V I sqrt3 / synchronous speed. */
static void worked_predictions(void **state)
{
    (void)state;
    static const struct {
        double volts, amps, slip, efficiency, power_factor, start_amps, start_nm;
    } rows[] = {{0.9, 32.653, 0.021449, 0.92822, 0.85360, 160.36, 138.06},
                {1.0, 29.760, 0.016667, 0.93600, 0.84000, 181.87, 176.37},
                {1.1, 28.208, 0.013515, 0.93919, 0.80549, 203.45, 219.40}};
    const double digits = 0.01; /* percent: one in the fourth digit of the smallest leading one */
    const double base_nm = sqrt(3.0) * 460 * WORKED_AMPS / (60 * acos(-1.0));
    struct sag_machine m;
    sag_fit_machine(&worked, &m);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct sag_feed feed = {rows[i].volts, 1, 0.08};
        struct sag_point run, start;
        double slip = NAN;
        assert_true(sag_operate(&m, &feed, &constant_torque, 1, &slip, &run));
        sag_circuit_at(&m, &feed, 1, &start);
        check_percent("running amps", run.amps * WORKED_AMPS, rows[i].amps, digits);
        check_percent("slip", slip, rows[i].slip, digits);
        check_percent("efficiency", run.efficiency, rows[i].efficiency, digits);
        check_percent("power factor", run.power_factor, rows[i].power_factor, digits);
        check_percent("starting amps", start.amps * WORKED_AMPS, rows[i].start_amps, digits);
        check_percent("starting torque", start.torque * base_nm, rows[i].start_nm, digits);
    }
}

/* The second implementation on the same motor: it must land where its description says, or it is no reference. */
static void reference_lands_there_too(void **state)
{
    (void)state;
    struct reference_targets t = {worked.efficiency,    worked.power_factor,     worked.slip, worked.locked_amps,
                                  worked.locked_torque, worked.breakdown_torque, worked.poles};
    struct reference m;
    assert_true(reference_fit(&t, &m) < 2e-5);
    print_message("reference fit: %d and %d steps, sums %.4e and %.4e\n", m.steps[0], m.steps[1], m.sums[0], m.sums[1]);
    check_percent("x1", m.x1, 0.124507, 0.1);
    check_percent("r21", m.r21, 0.0207896, 0.1);
    check_percent("x21", m.x21, 0.177448, 0.1);
    check_percent("r22", m.r22, 0.0961225, 0.1);
    check_percent("x22", m.x22, 0.0832264, 0.1);
    check_percent("h", m.h, 0.397928, 0.1);
    check_percent("first sum", m.sums[0], 2.4545e-4, 1);
    check_percent("second sum", m.sums[1], 2.4596e-6, 1);
}

/* Numbers from 0 to 1, the same on every machine. */
static double next_share(uint64_t *walk)
{
    *walk = *walk * 6364136223846793005U + 1442695040888963407U;
    return (double)(*walk >> 11) / 9007199254740992.0;
}

static double between(uint64_t *walk, double low, double high)
{
    return low + (high - low) * next_share(walk);
}

/* A motor as a catalogue might have it: efficiency, power factor and slip near the tables, amps and torques on the
   good side of the Design B limits. */
static struct sag_targets made_up(uint64_t *walk, double hp, int poles)
{
    const struct sag_tables *tables = shared_tables();
    struct sag_efficiency_query level = {.hp = hp, .year = 2000, .poles = poles};
    struct sag_running running = sag_ask_typical_running(tables, hp, poles);
    struct sag_torques least = sag_ask_design_torques(tables, 'B', hp, poles);
    return (struct sag_targets){
        .efficiency = sag_ask_efficiency(tables, &level).value + between(walk, -0.005, 0.010),
        .power_factor = running.power_factor.value + between(walk, -0.02, 0.03),
        .slip = running.slip.value * between(walk, 0.75, 1.15),
        .locked_amps = between(walk, 5.2, 6.8),
        .locked_torque = least.locked.value * between(walk, 1.15, 1.5),
        .breakdown_torque = least.breakdown.value * between(walk, 1.1, 1.4),
        .poles = poles,
    };
}

struct comparison {
    struct sag_machine ours;
    struct reference theirs;
    double worst; /* percent */
};

static void compare(struct comparison *c, double ours, double theirs)
{
    c->worst = fmax(c->worst, 100 * fabs(ours / theirs - 1));
}

static void compare_at(struct comparison *c, double volts)
{
    const double flux = 0.08;
    struct sag_feed feed = {volts, 1, flux};
    struct sag_point run, start;
    double slip = NAN;
    assert_true(sag_operate(&c->ours, &feed, &constant_torque, 1, &slip, &run));
    sag_circuit_at(&c->ours, &feed, 1, &start);
    double their_slip = reference_running_slip(&c->theirs, volts, flux);
    struct reference_point their_start = reference_solve(&c->theirs, volts, flux, 1);
    compare(c, slip, their_slip);
    compare(c, run.amps, cabs(reference_solve(&c->theirs, volts, flux, their_slip).amps));
    compare(c, start.amps, cabs(their_start.amps) * c->theirs.k_amps);
    compare(c, start.torque, their_start.gap_power * c->theirs.k_torque);
}

/* The rated point of any fit, whatever else it misses. */
static void rated_point_is_exact(const struct sag_targets *t, const struct sag_machine *m)
{
    const double exact = 1e-6;
    struct sag_point p;
    sag_circuit_at(m, &(struct sag_feed){1, 1, 0.1}, m->slip, &p);
    check_near("rated amps", p.amps, 1, exact);
    check_near("rated power factor", p.power_factor, t->power_factor, exact);
    check_near("rated power", p.power_out, t->efficiency * t->power_factor, exact);
    check_near("rated efficiency", p.efficiency, t->efficiency, exact);
    if (!m->slip_moved)
        check_near("rated slip", m->slip, t->slip, exact);
}

/* Trims make standstill exact, also where torque is greatest there. */
static void standstill_is_exact(const struct sag_targets *t, const struct sag_machine *m)
{
    const double exact = 1e-6;
    struct sag_point p;
    double rated_torque = t->efficiency * t->power_factor / (1 - m->slip);
    sag_circuit_at(m, &(struct sag_feed){1, 1, 0}, 1, &p);
    check_near("locked-rotor amps over target", p.amps / t->locked_amps, 1, exact);
    check_near("locked-rotor torque over target", p.torque / (rated_torque * t->locked_torque), 1, exact);
}

static const double within = 0.01;

static bool is_met(const struct sag_targets *t, const struct sag_machine *m)
{
    double rated = t->efficiency * t->power_factor / (1 - m->slip);
    double breakdown = sag_find_breakdown(m, &(struct sag_feed){1, 1, 0}).torque;
    return m->way == SAG_FIT_CLOSE && fabs(breakdown / (rated * t->breakdown_torque) - 1) <= within;
}

/* Two reasons not to take the second implementation's word: it stopped at its 40 steps (a flat valley, elements still
   moving), or the first maximum it followed is a ripple before a greater one, so that its greatest torque is not the
   breakdown torque asked for. The 300 hp 4-pole motor of this set is of the second kind: first maximum 2.053 of rated
   at slip 0.07, greatest 2.106 at 0.19, where the program found a circuit whose greatest torque is the 2.053. */
static bool reference_is_met(const struct sag_targets *t, const struct reference *m, double worst)
{
    double greatest = 0;
    for (int i = 0; i <= 100; i++)
        greatest = fmax(greatest, reference_solve(m, 1, 0, pow(m->sn, 1 - 0.01 * i)).shaft_torque);
    bool at_rest = m->steps[1] < 40;
    return worst <= within && at_rest && greatest <= m->pn / (1 - m->sn) * t->breakdown_torque * (1 + within);
}

static const double sizes_hp[] = {1,  1.5, 2,  3,   5,   7.5, 10,  15,  20,  25,  30,  40,
                                  50, 60,  75, 100, 125, 150, 200, 250, 300, 350, 400, 500};

enum {
    SIZES = sizeof sizes_hp / sizeof *sizes_hp,
    MOTORS = 4 * SIZES
};

/* The same 96 motors for every test: 1 to 500 hp, 2 to 8 poles. */
static struct sag_targets motor_number(size_t number, uint64_t *walk)
{
    return made_up(walk, sizes_hp[number / 4], 2 + 2 * (int)(number % 4));
}

typedef void fit_check(const struct sag_targets *targets, const struct sag_machine *fitted);

static void check_each_fit(fit_check *check)
{
    uint64_t walk = FIRST_SEED;
    for (size_t i = 0; i < MOTORS; i++) {
        struct sag_targets t = motor_number(i, &walk);
        struct sag_machine m;
        sag_fit_machine(&t, &m);
        check(&t, &m);
    }
}

static void rated_points_are_exact(void **state)
{
    (void)state;
    check_each_fit(rated_point_is_exact);
}

static void standstills_are_exact(void **state)
{
    (void)state;
    check_each_fit(standstill_is_exact);
}

/* "meets every target within 1 %" is said of the plate's own numbers, breakdown torque among them. */
static void close_meets_its_targets(const struct sag_targets *t, const struct sag_machine *m)
{
    if (m->way == SAG_FIT_CLOSE && !is_met(t, m))
        fail_msg("%d poles, efficiency %.4g: breakdown torque is not the %.3g asked for", t->poles, t->efficiency,
                 t->breakdown_torque);
}

static void close_is_close(void **state)
{
    (void)state;
    check_each_fit(close_meets_its_targets);
}

static void two_fits_agree(void **state)
{
    (void)state;
    uint64_t walk = FIRST_SEED;
    int compared = 0, ours_met = 0;
    double worst = 0;
    for (size_t i = 0; i < MOTORS; i++) {
        struct sag_targets t = motor_number(i, &walk);
        struct reference_targets same = {t.efficiency,    t.power_factor,     t.slip, t.locked_amps,
                                         t.locked_torque, t.breakdown_torque, t.poles};
        struct comparison c = {.worst = 0};
        sag_fit_machine(&t, &c.ours);
        if (!is_met(&t, &c.ours))
            continue;
        ours_met++;
        double miss = reference_fit(&same, &c.theirs);
        if (!reference_is_met(&t, &c.theirs, miss))
            continue;
        compare_at(&c, 0.9);
        compare_at(&c, 1.1);
        worst = fmax(worst, c.worst);
        compared++;
        if (c.worst > 0.5)
            fail_msg("%g hp, %d poles: predictions %.3g %% apart", sizes_hp[i / 4], t.poles, c.worst);
    }
    print_message("of %d motors the fit meets %d, of these the reference %d; predictions apart by at most %.3g %%\n",
                  (int)MOTORS, ours_met, compared, worst);
    assert_true(compared >= 60);
}

TEST_LIST(fit_reference, cmocka_unit_test(worked_elements), cmocka_unit_test(worked_predictions),
          cmocka_unit_test(reference_lands_there_too), cmocka_unit_test(rated_points_are_exact),
          cmocka_unit_test(standstills_are_exact), cmocka_unit_test(close_is_close), cmocka_unit_test(two_fits_agree))
