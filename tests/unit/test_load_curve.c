/* Load torque against speed: a power law, and what breaks a standing load away. */
#include "judge_help.h"

static const double power = 1.2, slip = 0.025;

/* The torque that the rated point has: share 1 at rated speed. */
static double rated_torque(void)
{
    return power / (1 - slip);
}

static double torque_at(const char *load, double share, double of_rated_speed)
{
    struct sag_machine machine = {.power = power, .slip = slip};
    struct sag_load_shape shape = sag_ask_load_shape(shared_tables(), load);
    assert_true(shape.found);
    return sag_load_torque(&machine, &shape, share, of_rated_speed * (1 - slip));
}

/* Speeds are shares of rated speed; those above 1 are what more hertz give. */
static void follows_speed(void **state)
{
    (void)state;
    static const struct {
        const char *load;
        double speed, torque; /* of rated */
    } rows[] = {
        {"pump", 0, 0.15},
        {"pump", 0.05, 0.1011875},
        {"pump", 0.1, 0.0595},
        {"pump", 0.5, 0.2875},
        {"pump", 1, 1},
        {"pump", 1.2, 1.418},
        {"fan", 0, 0.1},
        {"fan", 0.05, 0.05125},
        {"fan", 0.1, 0.01},
        {"fan", 0.5, 0.25},
        {"fan", 1, 1},
        {"fan", 1.2, 1.44},
        {"fan", 50.0 / 60, 0.694444444},
        {"conveyor", 0, 1.5},
        {"conveyor", 0.05, 1.25},
        {"conveyor", 0.1, 1},
        {"conveyor", 1, 1},
        {"conveyor", 1.2, 1},
        {"constant", 0.5, 1},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char name[60];
        snprintf(name, sizeof name, "%s at %g of rated speed", rows[i].load, rows[i].speed);
        check_near(name, torque_at(rows[i].load, 1, rows[i].speed) / rated_torque(), rows[i].torque, 1e-8);
    }
}

static void grows_with_its_share(void **state)
{
    (void)state;
    static const double shares[] = {0, 0.25, 0.8, 1.3};
    for (size_t i = 0; i < COUNT(shares); i++)
        for (double speed = 0; speed < 1.3; speed += 0.1)
            check_near("share", torque_at("pump", shares[i], speed), shares[i] * torque_at("pump", 1, speed), 1e-12);
    check_near("none", torque_at("none", 0, 1), 0, 0);
}

/* Backwards, as after an uphill stop, the load still only has to be broken away. */
static void standing_is_the_end(void **state)
{
    (void)state;
    check_near("pump", torque_at("pump", 1, -0.2), torque_at("pump", 1, 0), 1e-12);
    check_near("conveyor", torque_at("conveyor", 1, -0.2), torque_at("conveyor", 1, 0), 1e-12);
}

static void never_jumps(void **state)
{
    (void)state;
    static const char *const loads[] = {"pump", "fan", "compressor", "conveyor", "hoist", "constant"};
    const double step = 1e-4, most = 20 * step; /* of rated torque: no shape falls or climbs faster */
    for (size_t i = 0; i < COUNT(loads); i++)
        for (double speed = 0; speed < 1.3; speed += step) {
            double change = torque_at(loads[i], 1, speed + step) - torque_at(loads[i], 1, speed);
            if (!(fabs(change) <= most * rated_torque()))
                fail_msg("%s: torque jumps by %g at %g of rated speed", loads[i], change, speed);
        }
}

/* A judged motor runs where its curve and the load's meet, also at hertz that are not the plate's. */
static void meets_the_motor(void **state)
{
    (void)state;
#define P460 "rated_volts=460,rated_hp=50,rpm=1775,efficiency_pct=94.5,power_factor=0.86,code_letter=G,hz=60"
    static const struct {
        const char *name, *plate;
        double volts, hz, exponent; /* shaft power goes with speed to this */
    } rows[] = {
        {"fan at 60 Hz", P460 ",load=fan", 460, 60, 3},
        {"fan at 50 Hz", P460 ",load=fan", 383, 50, 3},
        {"fan at 66 Hz", P460 ",load=fan", 506, 66, 3},
        {"conveyor at 50 Hz", P460 ",load=conveyor", 383, 50, 1},
        {"conveyor at 66 Hz", P460 ",load=conveyor", 506, 66, 1},
        {"fan, low volts", P460 ",load=fan", 420, 60, 3},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct judged j;
        judge_typed(rows[i].plate, &(struct sag_typed_volts){{rows[i].volts}, 1, rows[i].hz}, &j);
        const struct sag_effect *of = j.result->of[SAG_CASE_NOMINAL].effects.of;
        double efficiency = of[SAG_EFFECT_EFFICIENCY].at_case.value / 100;
        double out = of[SAG_EFFECT_LOSSES].at_case.value * efficiency / (1 - efficiency);
        double speed = of[SAG_EFFECT_SPEED].at_case.value;
        check_percent(rows[i].name, out, 37300 * pow(speed / 1775, rows[i].exponent), 0.5);
        judged_free(&j);
    }
}

TEST_LIST(load_curve, cmocka_unit_test(follows_speed), cmocka_unit_test(grows_with_its_share),
          cmocka_unit_test(standing_is_the_end), cmocka_unit_test(never_jumps), cmocka_unit_test(meets_the_motor))
