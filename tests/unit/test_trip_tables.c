/* Corners of the tables of opening times: trip classes of relays, what standards fix of fuses and breakers, what is
   usual; and overload percentages. Figures typed here, from memory of the standards beside each. */
#include "size_help.h"

/* IEC 60947-4-1 at 7.2 times the setting, from cold. */
static void trip_classes(void **state)
{
    (void)state;
    static const struct {
        const char *word;
        double least, most, multiple;
        bool found;
    } rows[] = {{"5", 0.5, 5, 7.2, true},   {"10A", 2, 10, 7.2, true},      {"10", 4, 10, 7.2, true},
                {"20", 6, 20, 7.2, true},   {"30", 9, 30, 7.2, true},       {"15", NAN, NAN, NAN, false},
                {"", NAN, NAN, NAN, false}, {"20 (NEMA)", NAN, 20, 6, true}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_class_times t = sag_ask_class_times(shared_tables(), rows[i].word);
        assert_int_equal(t.found, rows[i].found);
        check_amps(rows[i].word, t.least, rows[i].least);
        check_amps(rows[i].word, t.most, rows[i].most);
        if (t.found)
            check_amps(rows[i].word, t.multiple, rows[i].multiple);
    }
    assert_true(sag_ask_class_times(shared_tables(), "5").from_memory);
    assert_false(sag_ask_class_times(shared_tables(), "20").from_memory);
}

static void check_times(const char *name, struct sag_opening_times got, double least, double most)
{
    bool same_least = isinf(least) ? isinf(got.least) : fabs(got.least - least) <= 1e-6 * least;
    bool same_most = isinf(most) ? isinf(got.most) : fabs(got.most - most) <= 1e-6 * most;
    if (!same_least || !same_most)
        fail_msg("%s: got %g to %g s, wanted %g to %g s", name, got.least, got.most, least, most);
}

/* UL 489, UL 248-8 and 248-12 (from memory): at 135 % within an hour or two, at 200 % within minutes; a time-delay fuse
   holds 10 s at 500 %. Nobody opens at its rating. */
static void standard_times(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        enum sag_device kind;
        double rating, multiple, least, most;
    } rows[] = {
        {"breaker at its rating", BREAKER, 50, 1, INFINITY, INFINITY},
        {"breaker above it", BREAKER, 50, 1.2, 0, INFINITY},
        {"breaker 50 A, 135 %", BREAKER, 50, 1.35, 0, 3600},
        {"breaker 60 A, 135 %", BREAKER, 60, 1.35, 0, 7200},
        {"breaker 30 A, 200 %", BREAKER, 30, 2, 0, 120},
        {"breaker 35 A, 200 %", BREAKER, 35, 2, 0, 240},
        {"breaker 225 A, 300 %", BREAKER, 225, 3, 0, 600},
        {"breaker 2000 A, 200 %", BREAKER, 2000, 2, 0, 1440},
        {"breaker past the last row", BREAKER, 2500, 2, 0, 7200},
        {"breaker past every row", BREAKER, 6001, 2, 0, INFINITY},
        {"dual at its rating", DUAL, 100, 1, INFINITY, INFINITY},
        {"dual 60 A, 135 %", DUAL, 60, 1.35, 10, 3600},
        {"dual 70 A, 135 %", DUAL, 70, 1.35, 10, 7200},
        {"dual 100 A, 500 %", DUAL, 100, 5, 10, 360},
        {"dual 100 A, 501 %", DUAL, 100, 5.01, 0, 360},
        {"dual 601 A", DUAL, 601, 3, 0, INFINITY},
        {"nontime 600 A, 200 %", NONTIME, 600, 2, 0, 720},
        {"nontime 600 A, 500 %", NONTIME, 600, 5, 0, 720},
        {"instantaneous has no row", INSTANT, 100, 5, 0, INFINITY},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_times(rows[i].name,
                    sag_ask_standard_times(shared_tables(), rows[i].kind, rows[i].rating, rows[i].multiple),
                    rows[i].least, rows[i].most);
}

/* Common practice, no source. Between rows straight on log-log paper: at the geometric mean of two multiples the
   geometric mean of the times. */
static void usual_times(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        enum sag_device kind;
        double multiple, least, most;
    } rows[] = {
        {"dual below its first row", DUAL, 1.49, INFINITY, INFINITY},
        {"dual at its first row", DUAL, 1.5, 150, 1000},
        {"dual at 600 %", DUAL, 6, 4, 11},
        {"dual at its last row", DUAL, 10, 0.1, 1},
        {"dual past it", DUAL, 20, 0.1, 1},
        {"nontime at 300 %", NONTIME, 3, 2, 12},
        {"breaker at 600 %", BREAKER, 6, 3.5, 14},
        {"breaker between 200 and 300 %", BREAKER, 2.449489743, 25.98076211, 132.2875656},
        {"breaker past its last row", BREAKER, 12, 1.2, 5},
        {"instantaneous has no row", INSTANT, 5, INFINITY, INFINITY},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_times(rows[i].name, sag_ask_usual_times(shared_tables(), rows[i].kind, rows[i].multiple), rows[i].least,
                    rows[i].most);
}

/* A curve must fall, and what is usual must lie within what the standards fix. */
static void usual_within_standard(void **state)
{
    (void)state;
    for (int kind = DUAL; kind <= BREAKER; kind++) {
        struct sag_opening_times before = {INFINITY, INFINITY};
        for (double multiple = 1.5; multiple <= 12; multiple += 0.05) {
            struct sag_opening_times usual = sag_ask_usual_times(shared_tables(), (enum sag_device)kind, multiple);
            assert_true(usual.least <= usual.most);
            assert_true(usual.least <= before.least && usual.most <= before.most);
            for (double rating = 15; rating <= 600; rating *= 1.4) {
                struct sag_opening_times fixed =
                    sag_ask_standard_times(shared_tables(), (enum sag_device)kind, rating, multiple);
                if (usual.most < fixed.least || usual.least > fixed.most)
                    fail_msg("kind %d, %g A, at %g: usual %g to %g s, fixed %g to %g s", kind, rating, multiple,
                             usual.least, usual.most, fixed.least, fixed.most);
            }
            before = usual;
        }
    }
}

/* NFPA 70, 430.32(A)(1) and (C): service factor OR rise; the second is the raised share. */
static void overload_shares(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double service_factor, rise, share, most;
    } rows[] = {{"1.15", 1.15, NAN, 1.25, 1.40},       {"1.25", 1.25, NAN, 1.25, 1.40},
                {"1.14", 1.14, NAN, 1.15, 1.30},       {"1.0", 1, NAN, 1.15, 1.30},
                {"1.0 at 40 K", 1, 40, 1.25, 1.40},    {"1.0 at 41 K", 1, 41, 1.15, 1.30},
                {"1.15 at 80 K", 1.15, 80, 1.25, 1.40}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_answer a = sag_ask_overload(shared_tables(), rows[i].service_factor, rows[i].rise);
        check_amps(rows[i].name, a.value, rows[i].share);
        check_amps(rows[i].name, a.high, rows[i].most);
    }
}

TEST_LIST(trip_tables, cmocka_unit_test(trip_classes), cmocka_unit_test(standard_times), cmocka_unit_test(usual_times),
          cmocka_unit_test(usual_within_standard), cmocka_unit_test(overload_shares))
