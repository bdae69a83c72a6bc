/* Whether device and relay let a start pass, with starts made up so that the share used is one division. Times are
   those of device_time_limits.csv (hold, open), device_curves_typical.csv (fastest, slowest) and
   overload_trip_classes.csv. */
#include "let_help.h"

#define DUAL(amps)    "device=dual_element_fuse,device_amps=" amps
#define NONTIME(amps) "device=nontime_fuse,device_amps=" amps
#define BREAKER(amps) "device=inverse_time_breaker,device_amps=" amps
#define SETTING(amps) "device=instantaneous_breaker,device_amps=" amps

/* used: least, likely, most. Least is the slower of slowest and must-open, most the slower of fastest and must-hold. */
static void devices(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double amps, seconds;
        enum sag_let wanted;
        double used[3];
    } rows[] = {
        /* 5 times: holds 10 s; usual 10 to 20 s, likely sqrt(200) = 14.142 */
        {"dual, 5 times, 9 s", DUAL("100"), 500, 9, SAG_LET_YES, {0.45, 0.636396, 0.9}},
        {"dual, 5 times, 11 s", DUAL("100"), 500, 11, SAG_LET_MAKER, {0.55, 0.777817, 1.1}},
        {"dual, 5 times, 20 s", DUAL("100"), 500, 20, SAG_LET_NO, {1, 1.414214, 2}},
        /* 6 times: nothing holds; usual 4 to 11 s, likely sqrt(44) = 6.6332 */
        {"dual, 6 times, 3 s", DUAL("100"), 600, 3, SAG_LET_LIKELY, {0.272727, 0.452267, 0.75}},
        /* between 5 and 6: weight ln 1.1 / ln 1.2 = 0.52276; fastest 10 * 0.4^w = 6.1943, slowest 20 * 0.55^w = 14.6319
         */
        {"dual, 5.5 times, 3 s", DUAL("100"), 550, 3, SAG_LET_LIKELY, {0.205032, 0.315113, 0.484305}},
        /* 2 times: 30 A must open in 120 s, 60 A in 240; usual 60 to 300 s, likely 134.16 */
        {"dual, 2 times, 119 s", DUAL("30"), 60, 119, SAG_LET_MAKER, {0.991667, 0.991667, 1.983333}},
        {"dual, 2 times, 121 s", DUAL("30"), 60, 121, SAG_LET_NO, {1.008333, 1.008333, 2.016667}},
        {"dual, 2 times, larger", DUAL("60"), 120, 121, SAG_LET_MAKER, {0.504167, 0.901880, 2.016667}},
        /* 1.2 times: holds 10 s, and makers draw no curve there */
        {"dual, 1.2 times, 9 s", DUAL("100"), 120, 9, SAG_LET_YES, {0, 0, 0}},
        {"dual, 1.2 times, an hour", DUAL("100"), 120, 3600, SAG_LET_LIKELY, {0, 0, 0}},
        /* above 600 A no standard of this table holds it */
        {"dual, above the classes", DUAL("800"), 4000, 9, SAG_LET_LIKELY, {0.45, 0.636396, 0.9}},
        /* 5 times: usual 0.25 to 1.5 s, likely 0.61237 */
        {"nontime, 5 times, 0.2 s", NONTIME("100"), 500, 0.2, SAG_LET_LIKELY, {0.133333, 0.326599, 0.8}},
        {"nontime, 5 times, 1 s", NONTIME("100"), 500, 1, SAG_LET_MAKER, {0.666667, 1.632993, 4}},
        {"nontime, 5 times, 2 s", NONTIME("100"), 500, 2, SAG_LET_NO, {1.333333, 3.265986, 8}},
        /* 5 times: usual 5 to 20 s, likely 10; 2 times: 30 A must open in 120 s, usual 45 to 250 */
        {"breaker, 5 times, 4 s", BREAKER("100"), 500, 4, SAG_LET_LIKELY, {0.2, 0.4, 0.8}},
        {"breaker, 5 times, 6 s", BREAKER("100"), 500, 6, SAG_LET_MAKER, {0.3, 0.6, 1.2}},
        {"breaker, 5 times, 20 s", BREAKER("100"), 500, 20, SAG_LET_NO, {1, 2, 4}},
        {"breaker, 2 times, 119 s", BREAKER("30"), 60, 119, SAG_LET_MAKER, {0.991667, 1.121942, 2.644444}},
        {"breaker, 2 times, 121 s", BREAKER("30"), 60, 121, SAG_LET_NO, {1.008333, 1.140798, 2.688889}},
        /* what never carries more than its rating never opens, as a fire pump's */
        {"at its rating for a week", BREAKER("500"), 500, 6e5, SAG_LET_YES, {0, 0, 0}},
        {"fuse at its rating for a week", DUAL("500"), 500, 6e5, SAG_LET_YES, {0, 0, 0}},
        {"nontime at its rating for a week", NONTIME("500"), 500, 6e5, SAG_LET_YES, {0, 0, 0}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_one(&m, rows[i].plate, rows[i].amps, rows[i].seconds);
        check_let(rows[i].name, m.out.device.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.device, rows[i].used);
        assert_true(m.out.device_installed);
        made_free(&m);
    }
}

/* A relay of 115 A at 690 A, 6 times: its tau is fixed by least, likely and most seconds at 7.2 times a setting that
   1.2, 1.15 and 1.05 times trip in the end. Class 10: 4, 6.89446, 13.1047 s; class 20: 6, 11.9416, 26.2094 s. */
static void relays(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double amps, seconds;
        enum sag_let wanted;
        double used[3];
    } rows[] = {
        {"class 10, 3.9 s", "overload_amps=115,trip_class=10", 690, 3.9, SAG_LET_YES, {0.297603, 0.565672, 0.975}},
        {"class 10, 4.1 s", "overload_amps=115,trip_class=10", 690, 4.1, SAG_LET_MAKER, {0.312865, 0.594681, 1.025}},
        {"class 10, 13 s", "overload_amps=115,trip_class=10", 690, 13, SAG_LET_MAKER, {0.992011, 1.885572, 3.25}},
        {"class 10, 13.2 s", "overload_amps=115,trip_class=10", 690, 13.2, SAG_LET_NO, {1.007272, 1.914581, 3.3}},
        {"class 20, 5.9 s", "overload_amps=115,trip_class=20", 690, 5.9, SAG_LET_YES, {0.225110, 0.494073, 0.983333}},
        {"class 5, 0.49 s", "overload_amps=115,trip_class=5", 690, 0.49, SAG_LET_YES, {0.074782, 0.284286, 0.98}},
        {"class 30, 8.9 s", "overload_amps=115,trip_class=30", 690, 8.9, SAG_LET_YES, {0.226382, 0.496864, 0.988889}},
        {"half the amps, class 10",
         "overload_amps=115,trip_class=10",
         345,
         10,
         SAG_LET_YES,
         {0.182511, 0.346910, 0.597941}},
        /* 4 s of class 10 to 20 s of class 20 */
        {"class not given", "overload_amps=115", 690, 3.9, SAG_LET_YES, {0.148802, 0.399990, 0.975}},
        {"class not given, longer", "overload_amps=115", 690, 4.1, SAG_LET_MAKER, {0.156432, 0.420503, 1.025}},
        {"never above its final trip", "overload_amps=115,trip_class=10", 115, 6e5, SAG_LET_YES, {0, 0, 0}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_one(&m, rows[i].plate, rows[i].amps, rows[i].seconds);
        check_let(rows[i].name, m.out.relay.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.relay, rows[i].used);
        assert_true(m.out.relay_installed);
        made_free(&m);
    }
}

/* Where the trip goes by one half cycle: amps_transfer stands for it, the offset left out of it. UL 489: 80 to 130 % of
   a setting. A magnetic part: 5 to 12 times the rating. */
static void first_half_cycle(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double peak;
        enum sag_let wanted;
        double used[3];
    } rows[] = {
        {"at the least of its tolerance", SETTING("1000"), 800, SAG_LET_YES, {0.615385, 0.8, 1}},
        {"a little above", SETTING("1000"), 801, SAG_LET_MAKER, {0.616154, 0.801, 1.00125}},
        {"at the most", SETTING("1000"), 1300, SAG_LET_MAKER, {1, 1.3, 1.625}},
        {"above it", SETTING("1000"), 1301, SAG_LET_NO, {1.000769, 1.301, 1.62625}},
        {"magnetic part, at the least", BREAKER("100"), 500, SAG_LET_LIKELY, {0.416667, 0.5, 1}},
        {"magnetic part, between", BREAKER("100"), 1199, SAG_LET_MAKER, {0.999167, 1.199, 2.398}},
        {"magnetic part, above", BREAKER("100"), 1201, SAG_LET_NO, {1.000833, 1.201, 2.402}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_open(&m, rows[i].plate);
        made_run(&m, 60, 1);
        m.started[0].amps_transfer = rows[i].peak;
        made_find(&m);
        check_let(rows[i].name, m.out.instant.let, rows[i].wanted);
        check_used(rows[i].name, &m.out.instant, rows[i].used);
        check_near(rows[i].name, m.out.first_amps, rows[i].peak, 1e-9);
        made_free(&m);
    }
}

/* The offset: R/X from the power factor; without a transfer the closing amps with it are what counts. */
static void offset_by_power_factor(void **state)
{
    (void)state;
    static const struct {
        double power_factor, offset;
    } rows[] = {{0, 2}, {0.35, 1.02 + 0.98 * 0.325987}, {0.7071067811865476, 1.02 + 0.98 * 0.049787}, {1, 1.02}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_open(&m, SETTING("1000"));
        made_run(&m, 300, 1);
        m.started[0].power_factor_closing = rows[i].power_factor;
        made_find(&m);
        check_near("offset", m.out.offset, rows[i].offset, 1e-5);
        check_near("amps", m.out.first_amps, 300 * rows[i].offset, 1e-2);
        m.started[0].amps_transfer = 299; /* less than the first half cycle has: nothing new */
        made_find(&m);
        check_near("amps", m.out.first_amps, 300 * rows[i].offset, 1e-2);
        m.started[0].amps_peak = 700; /* for good, after a changeover */
        made_find(&m);
        check_near("amps", m.out.first_amps, 700, 0);
        made_free(&m);
    }
}

/* Which parts there are: a setting has no thermal part, a fuse no instantaneous one, a drive no relay, a fire pump none
   unless one is installed. A breaker has both, with its maker's curve or without. */
static void which_parts(void **state)
{
    (void)state;
    static const struct sag_curve_point points[] = {{100, 2}, {10, 6}};
    static const struct {
        const char *name, *plate;
        bool curve, relay, device, instant;
    } rows[] = {
        {"fuse", DUAL("100"), false, true, true, false},
        {"nontime fuse", NONTIME("100"), false, true, true, false},
        {"breaker", BREAKER("100"), false, true, true, true},
        {"breaker with its curve", BREAKER("100"), true, true, true, true},
        {"setting", SETTING("800"), false, true, false, true},
        {"setting, a curve beside it", SETTING("800"), true, true, false, true},
        {"drive", "starting=drive", false, false, true, true},
        {"drive with a relay", "starting=drive,overload_amps=70", false, false, true, true},
        {"fire pump", "duty=fire_pump", false, false, true, true},
        {"fire pump with a relay", "duty=fire_pump,overload_amps=70", false, true, true, true},
        {"jockey pump", "duty=jockey_pump", false, true, true, true},
        {"fire pump with a setting only", "duty=fire_pump,device=instantaneous_breaker", false, false, false, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_open(&m, rows[i].plate);
        made_run(&m, 300, 1);
        if (rows[i].curve)
            m.job.device_curve = (struct sag_curve){points, COUNT(points)};
        made_find(&m);
        const bool got[] = {m.out.relay.let != SAG_LET_NONE, m.out.device.let != SAG_LET_NONE,
                            m.out.instant.let != SAG_LET_NONE};
        const bool wanted[] = {rows[i].relay, rows[i].device, rows[i].instant};
        for (size_t k = 0; k < COUNT(got); k++)
            if (got[k] != wanted[k])
                fail_msg("%s: part %zu is %sthere", rows[i].name, k, got[k] ? "" : "not ");
        made_free(&m);
    }
}

/* All is the worst of the parts. */
static void all_is_the_worst(void **state)
{
    (void)state;
    struct made m;
    made_one(&m, "overload_amps=115,trip_class=10," DUAL("200"), 690, 3.9);
    check_let("relay", m.out.relay.let, SAG_LET_YES);
    check_let("device", m.out.device.let, SAG_LET_YES);
    check_let("all", m.out.let, SAG_LET_YES);
    made_free(&m);
    made_one(&m, "overload_amps=115,trip_class=10," DUAL("200"), 690, 13.2);
    check_let("all by its relay", m.out.let, SAG_LET_NO);
    made_free(&m);
}

/* Chosen where nothing is installed: 50 hp, 65 A by the code: 175, 300, 250, 800 % and the next standard size. */
static void chosen_devices(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        enum sag_device kind;
        double amps;
    } rows[] = {{"device=dual_element_fuse", SAG_DEVICE_DUAL_ELEMENT_FUSE, 125},
                {"device=nontime_fuse", SAG_DEVICE_NONTIME_FUSE, 200},
                {"phases=3", SAG_DEVICE_INVERSE_TIME_BREAKER, 175},
                {"device=instantaneous_breaker", SAG_DEVICE_INSTANTANEOUS_BREAKER, 8 * 65}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct made m;
        made_one(&m, rows[i].plate, 300, 1);
        assert_int_equal(m.out.kind, rows[i].kind);
        check_near(rows[i].plate, m.out.device_amps, rows[i].amps, 1e-9);
        assert_false(m.out.device_installed || m.out.relay_installed);
        made_free(&m);
    }
}

TEST_LIST(let_start, cmocka_unit_test(devices), cmocka_unit_test(relays), cmocka_unit_test(first_half_cycle),
          cmocka_unit_test(offset_by_power_factor), cmocka_unit_test(which_parts), cmocka_unit_test(all_is_the_worst),
          cmocka_unit_test(chosen_devices))
