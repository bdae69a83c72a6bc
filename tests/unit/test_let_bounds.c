/* Bounds of the let-start check over corners, makers' curves, relays, and what must hold for any start. */
#include "let_help.h"
#include "sagband/protect.h"

#define FUSE "device=dual_element_fuse,device_amps=100"

/* Value of the first run, bounds of all: 5 times for 5, 9, 11 s; fastest 10, slowest 20, likely 14.142, holds 10. */
static void corners(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double likely, easy, hard;
        enum sag_let wanted;
        double used[3];
    } rows[] = {
        {"all hold", 8, 5, 9, SAG_LET_YES, {0.25, 0.565685, 0.9}},
        {"the hard one may not", 8, 5, 11, SAG_LET_MAKER, {0.25, 0.565685, 1.1}},
        {"the easy one alone passes", 25, 19, 30, SAG_LET_MAKER, {0.95, 1.767767, 3}},
        {"none passes", 25, 21, 30, SAG_LET_NO, {1.05, 1.767767, 3}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_open(&m, FUSE);
        made_run(&m, 500, rows[i].likely);
        made_run(&m, 500, rows[i].easy);
        made_run(&m, 500, rows[i].hard);
        made_find(&m);
        check_let(rows[i].name, m.out.device.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.device, rows[i].used);
        made_free(&m);
    }
}

/* The peak has its bounds from the corners as well: 400, 300, 600 A * 1.02 at a setting of 500 A. */
static void corners_of_a_peak(void **state)
{
    (void)state;
    struct made m;
    made_open(&m, "device=instantaneous_breaker,device_amps=500");
    made_run(&m, 400, 1);
    made_run(&m, 300, 1);
    made_run(&m, 600, 1);
    made_find(&m);
    check_used("peak", &m.out.instant, (const double[]){306 / 650.0, 408 / 500.0, 612 / 400.0});
    check_let("peak", m.out.instant.let, SAG_LET_MAKER);
    check_near("hardest", m.out.first_amps, 612, 1e-9);
    made_free(&m);
}

/* A corner that hangs is no start, and says nothing; where the likely one hangs there is none at all. */
static void runs_that_hang(void **state)
{
    (void)state;
    struct made m;
    made_open(&m, FUSE);
    made_run(&m, 500, 8);
    made_run(&m, 500, 5);
    made_run(&m, 500, 30);
    m.started[2].runs_up = false;
    made_find(&m);
    assert_true(m.out.computed && !m.out.hangs);
    check_used("two that start", &m.out.device, (const double[]){0.25, 0.565685, 0.8});
    m.started[0].runs_up = false;
    made_find(&m);
    assert_true(!m.out.computed && m.out.hangs);
    check_let("none", m.out.let, SAG_LET_NONE);
    m.started[0].computed = false;
    made_find(&m);
    assert_true(!m.out.computed && !m.out.hangs);
    m.job.run_count = 0;
    made_find(&m);
    assert_true(!m.out.computed && !m.out.hangs);
    check_let("no run", m.out.device.let, SAG_LET_NONE);
    made_free(&m);
}

/* What counts is the motor's own trace from its closing to full speed: a ramp by the trapezoid, other motors and
   running amps left out. At 400 A 4 times: fastest 14 s; at 500 A 10 s; mean rate over 2 s (1/14 + 1/10) / 2. */
static void own_trace(void **state)
{
    (void)state;
    struct made m;
    struct sag_trace_row rows[] = {
        {.time = -1, .amps = 9000},
        {.time = 0, .amps = 400},
        {.time = 0, .amps = 9000, .motor = 1},
        {.time = 1, .amps = 9000, .motor = 1},
        {.time = 2, .amps = 500},
        {.time = 2, .amps = 9000},
        {.time = 50, .amps = 9000},
    };
    made_open(&m, FUSE);
    made_run(&m, 400, 2);
    m.runs[0].trace = rows;
    m.runs[0].trace_count = COUNT(rows);
    made_find(&m);
    check_near("most", m.out.device.used.high, 1 / 14.0 + 1 / 10.0, 1e-9);
    made_free(&m);
}

/* --- makers' curves ------------------------------------------------------------------------------------------------
 */

static void curve_between_points(void **state)
{
    (void)state;
    static const struct sag_curve_point points[] = {{100, 2}, {10, 8}, {1, 8.5}, {1, 20}};
    static const struct sag_curve curve = {points, COUNT(points)}, none = {NULL, 0};
    static const struct {
        const char *name;
        double multiple, seconds;
    } rows[] = {
        {"below the first", 1.9999, INFINITY},
        {"at the first", 2, 100},
        {"half way on log-log paper", 4, 31.6227766},
        {"a quarter of the way", 2.8284271247, 56.2341325},
        {"at the second", 8, 10},
        {"at the third", 8.5, 1},
        {"on the flat", 10, 1},
        {"at the last", 20, 1},
        {"beyond it", 1000, 1},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        double got = sag_curve_time(&curve, rows[i].multiple);
        if (isinf(rows[i].seconds))
            assert_true(isinf(got));
        else
            check_near(rows[i].name, got, rows[i].seconds, 1e-6);
    }
    assert_true(isinf(sag_curve_time(&none, 5)));
    assert_true(isnan(sag_curve_time(&curve, NAN)));
}

/* With the maker's own curve and one start the word is yes or no. */
static void curve_of_a_device(void **state)
{
    (void)state;
    static const struct sag_curve_point points[] = {{100, 2}, {10, 8}};
    static const struct {
        const char *name;
        double amps, seconds;
        enum sag_let wanted;
        double used;
    } rows[] = {
        {"less than its time", 800, 9.9, SAG_LET_YES, 0.99},    {"its time", 800, 10, SAG_LET_NO, 1},
        {"at the first point", 200, 99, SAG_LET_YES, 0.99},     {"below it for ever", 199, 6e5, SAG_LET_YES, 0},
        {"between points", 400, 32, SAG_LET_NO, 32 / 31.62278}, {"beyond its end", 3000, 9.9, SAG_LET_YES, 0.99},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_open(&m, "device=inverse_time_breaker,device_amps=100");
        made_run(&m, rows[i].amps, rows[i].seconds);
        m.job.device_curve = (struct sag_curve){points, COUNT(points)};
        made_find(&m);
        check_let(rows[i].name, m.out.device.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.device, (const double[]){rows[i].used, rows[i].used, rows[i].used});
        made_free(&m);
    }
}

/* Corners on both sides of a maker's curve: unsure, for no other curve could tell more. */
static void curve_between_corners(void **state)
{
    (void)state;
    static const struct sag_curve_point points[] = {{100, 2}, {10, 8}};
    struct made m;
    made_open(&m, "device=inverse_time_breaker,device_amps=100,overload_amps=115");
    made_run(&m, 800, 9);
    made_run(&m, 800, 8);
    made_run(&m, 800, 11);
    m.job.device_curve = m.job.relay_curve = (struct sag_curve){points, COUNT(points)};
    made_find(&m);
    check_let("device", m.out.device.let, SAG_LET_UNSURE);
    check_used("device", &m.out.device, (const double[]){0.8, 0.9, 1.1});
    check_let("relay", m.out.relay.let, SAG_LET_UNSURE); /* 800 A are 8 times its setting of 100 A as well */
    made_free(&m);
}

/* Where a breaker's curve opens within a cycle it acts on the first half cycle: half way on log-log paper between 1 s
   at 4 and 1/3600 s at 16 times lies 1/60 s, at 8 times. A curve that ends above a cycle leaves it to usual trips, 5 to
   12 times. */
static void curve_of_a_first_half_cycle(void **state)
{
    (void)state;
    static const struct sag_curve_point through[] = {{1, 4}, {1 / 3600.0, 16}}, below[] = {{0.01, 5}, {0.005, 10}},
                                        above[] = {{1, 4}, {0.02, 16}};
    static const struct {
        const char *name;
        const struct sag_curve_point *points;
        double likely, easy, hard;
        enum sag_let wanted;
        double used[3];
    } rows[] = {
        {"below it", through, 700, 600, 799, SAG_LET_YES, {0.75, 0.875, 0.99875}},
        {"about it", through, 790, 780, 801, SAG_LET_UNSURE, {0.975, 0.9875, 1.00125}},
        {"above it", through, 810, 801, 820, SAG_LET_NO, {1.00125, 1.0125, 1.025}},
        {"within a cycle from its first point", below, 490, 480, 499, SAG_LET_YES, {0.96, 0.98, 0.998}},
        {"and above", below, 510, 501, 520, SAG_LET_NO, {1.002, 1.02, 1.04}},
        {"its curve does not tell", above, 450, 400, 500, SAG_LET_LIKELY, {0.333333, 0.45, 1}},
        {"nor does it there", above, 800, 700, 900, SAG_LET_MAKER, {0.583333, 0.8, 1.8}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double peaks[] = {rows[i].likely, rows[i].easy, rows[i].hard};
        struct made m;
        made_open(&m, "device=inverse_time_breaker,device_amps=100");
        for (size_t k = 0; k < COUNT(peaks); k++) {
            made_run(&m, 60, 1);
            m.started[k].amps_transfer = peaks[k];
        }
        m.job.device_curve = (struct sag_curve){rows[i].points, 2};
        made_find(&m);
        check_let(rows[i].name, m.out.instant.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.instant, rows[i].used);
        made_free(&m);
    }
}

/* A relay's curve is in multiples of its setting: 115 A of final trip are 100 A of setting. */
static void curve_of_a_relay(void **state)
{
    (void)state;
    static const struct sag_curve_point points[] = {{100, 2}, {10, 8}};
    struct made m;
    made_open(&m, "overload_amps=115,trip_class=10");
    made_run(&m, 800, 9.9);
    m.job.relay_curve = (struct sag_curve){points, COUNT(points)};
    made_find(&m);
    check_let("relay", m.out.relay.let, SAG_LET_YES);
    check_used("relay", &m.out.relay, (const double[]){0.99, 0.99, 0.99});
    struct sag_relay relay = sag_relay_of(shared_tables(), &m.size, &m.motor, m.job.relay_curve);
    /* warm: as much shorter as the model has it, x = 800 / 115, p = 0.8 */
    double x2 = pow(800 / 115.0, 2), share = log((x2 - 0.64) / (x2 - 1)) / log(x2 / (x2 - 1));
    check_near("warm", sag_relay_time(shared_tables(), &relay, 800, 0.8).value, 10 * share, 1e-9);
    check_near("hot", sag_relay_time(shared_tables(), &relay, 800, 1).value, 0, 0);
    /* below its first point it never opens, hot or not */
    assert_true(isinf(sag_relay_time(shared_tables(), &relay, 199, 0.8).value));
    assert_true(isinf(sag_relay_time(shared_tables(), &relay, 199, 1).value));
    made_free(&m);
}

/* --- relays --------------------------------------------------------------------------------------------------------
 */

/* Setting given, by 430.32 (50 hp: 125 or 115 % of plate amps); of an IEC plate 115 % of the dial, which stands at
   plate amps when nobody says; class by its row, else 10 to 20, for an IEC plate 10. */
static void relay_of_a_motor(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double trip, least, most;
        bool assumed;
    } rows[] = {
        {"given", MADE_PLATE "overload_amps=70,trip_class=30", 70, 9, 30, false},
        {"by service factor", MADE_PLATE "rated_amps=60,service_factor=1.15", 75, 4, 20, true},
        {"by neither", MADE_PLATE "rated_amps=60,service_factor=1", 69, 4, 20, true},
        {"class 5", MADE_PLATE "rated_amps=60,service_factor=1,trip_class=5", 69, 0.5, 5, false},
        {"fire pump", MADE_PLATE "duty=fire_pump", NAN, 4, 20, true},
        {"IEC plate", "rated_volts=400,rated_kw=37,hz=50,rpm=1475,rated_amps=67,design=N", 77.05, 4, 10, true},
        {"IEC plate, given", "rated_volts=400,rated_kw=37,hz=50,rpm=1475,rated_amps=67,design=N,overload_amps=70", 80.5,
         4, 10, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        struct sag_motor_size size;
        complete_typed(rows[i].plate, i < 5 ? 480 : 400, &list, &motor);
        const struct sag_size_job job = {.tables = shared_tables(), .list = &list};
        sag_size_motor(&job, &motor, false, &size);
        struct sag_relay r = sag_relay_of(shared_tables(), &size, &motor, (struct sag_curve){NULL, 0});
        if (isnan(rows[i].trip))
            assert_true(isnan(r.trip_amps));
        else
            check_near(rows[i].name, r.trip_amps, rows[i].trip, 1e-9);
        check_near(rows[i].name, r.least, rows[i].least, 0);
        check_near(rows[i].name, r.most, rows[i].most, 0);
        check_near(rows[i].name, r.likely, sqrt(rows[i].least * rows[i].most), 1e-12);
        check_near(rows[i].name, r.multiple, 7.2, 0);
        assert_int_equal(r.class_assumed, rows[i].assumed);
        sag_motor_list_free(&list);
    }
}

/* From cold and after a load: class 20, 100 A, 300 A: ln(9/8) = 0.117783; preload 0.8: ln(8.36/8) = 0.044017. */
static void relay_times(void **state)
{
    (void)state;
    const struct sag_relay relay = {.trip_amps = 100, .least = 6, .most = 20, .likely = sqrt(120.0), .multiple = 7.2};
    struct sag_qty cold = sag_relay_time(shared_tables(), &relay, 300, 0);
    struct sag_qty warm = sag_relay_time(shared_tables(), &relay, 300, 0.8);
    check_near("value", cold.value, 10.954451 / 0.0258410 * 0.117783, 1e-2);
    check_near("least", cold.low, 6 / 0.0281709 * 0.117783, 1e-3);
    check_near("most", cold.high, 20 / 0.0214977 * 0.117783, 1e-2);
    check_near("warm", warm.value / cold.value, 0.044017 / 0.117783, 1e-5);
    check_near("hot", sag_relay_time(shared_tables(), &relay, 300, 1).value, 0, 0);
    assert_true(isinf(sag_relay_time(shared_tables(), &relay, 100, 0).low));
    assert_true(isinf(sag_relay_time(shared_tables(), &relay, 99, 1).low));
    const struct sag_relay none = {.trip_amps = NAN, .least = 6, .most = 20, .likely = 11, .multiple = 7.2};
    assert_true(isnan(sag_relay_time(shared_tables(), &none, 300, 0).value));
}

TEST_LIST(let_bounds, cmocka_unit_test(corners), cmocka_unit_test(corners_of_a_peak), cmocka_unit_test(runs_that_hang),
          cmocka_unit_test(own_trace), cmocka_unit_test(curve_between_points), cmocka_unit_test(curve_of_a_device),
          cmocka_unit_test(curve_between_corners), cmocka_unit_test(curve_of_a_first_half_cycle),
          cmocka_unit_test(curve_of_a_relay), cmocka_unit_test(curve_between_corners),
          cmocka_unit_test(curve_of_a_first_half_cycle), cmocka_unit_test(relay_of_a_motor),
          cmocka_unit_test(relay_times))
