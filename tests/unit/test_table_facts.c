/* Questions about running data, heat and the supply; test_tables.c has those about amps and torque. */
#include "read_help.h"

static void check_three(const char *name, const struct sag_answer *got, const double wanted[3], bool beyond)
{
    const double parts[3] = {got->value, got->low, got->high};
    for (int i = 0; i < 3; i++)
        if (isnan(wanted[i]) ? !isnan(parts[i]) : !(fabs(parts[i] - wanted[i]) <= 1e-9 * fabs(wanted[i])))
            fail_msg("%s, %s: got %.9g, wanted %.9g", name, (const char *[]){"value", "low", "high"}[i], parts[i],
                     wanted[i]);
    if (!isnan(wanted[0]) && got->beyond != beyond)
        fail_msg("%s: beyond is %d", name, got->beyond);
}

static void check_one(const char *name, const struct sag_answer *got, double wanted, bool beyond)
{
    const double same[3] = {wanted, wanted, wanted};
    check_three(name, got, same, beyond);
}

static void efficiency(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        struct sag_efficiency_query query;
        double percent;
        bool beyond;
        const char *table;
    } rows[] = {
#define OLD     "standard_efficiency_pre1992"
#define LEVEL_1 "us_10cfr431_25_efficiency_1997"
#define LEVEL_2 "us_10cfr431_25_efficiency_2016"
#define IEC     "iec_60034_30_1_efficiency_50hz"
        {"1958", {75, 1958, 4, true, false}, 91.9, false, OLD},
        {"1991", {1, 1991, 2, false, false}, 76, false, OLD},
        {"old, between rows", {4, 1970, 4, false, false}, 82.4, false, OLD},
        {"1992", {75, 1992, 4, false, false}, 91.9, false, OLD},
        {"1997", {25, 1997, 4, true, false}, 89.2, false, OLD},
        {"1998", {75, 1998, 4, false, false}, 94.1, false, LEVEL_1},
        {"2010", {20, 2010, 2, true, false}, 90.2, false, LEVEL_1},
        {"year not known", {100, NAN, 4, false, false}, 94.5, false, LEVEL_1},
        {"open", {100, NAN, 4, true, false}, 94.1, false, LEVEL_1},
        {"2011", {20, 2011, 2, true, false}, 91, false, LEVEL_2},
        {"2016", {20, 2016, 2, true, false}, 91, false, LEVEL_2},
        {"2016, 8 poles", {30, 2020, 8, false, false}, 91.7, false, LEVEL_2},
        {"2016, 12 poles as 8", {30, 2020, 12, false, false}, 91.7, false, LEVEL_2},
        {"1997, 8 poles as 6", {30, 2000, 8, false, false}, 91.7, false, LEVEL_1},
        {"between rows", {85, 2000, 4, false, false}, 94.26, false, LEVEL_1},
        {"above the last row", {300, 2000, 4, false, false}, 95, true, LEVEL_1},
        {"below the first row", {0.5, 2000, 4, false, false}, 82.5, true, LEVEL_1},
        {"no row of 1 hp: open, 2 poles", {1, 2000, 2, true, false}, 82.5, true, LEVEL_1},
        {"IE1 4 kW", {4 / 0.746, 2015, 4, false, true}, 83.1, false, IEC},
        {"IE1 2.2 kW 8 poles as 6", {2.2 / 0.746, NAN, 8, false, true}, 77.7, false, IEC},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_answer a = sag_ask_efficiency(shared_tables(), &rows[i].query);
        check_one(rows[i].name, &a, rows[i].percent / 100, rows[i].beyond);
        check_text(rows[i].name, a.table->name, rows[i].table);
    }
}

static void typical_running(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double hp;
        int poles;
        double power_factor, slip;
        bool beyond;
    } rows[] = {
        {"75 hp 4 poles", 75, 4, 0.87, 0.011, false},
        {"10 hp 6 poles", 10, 6, 0.79, 0.025, false},
        {"between rows", 67.5, 2, 0.895, 0.011, false},
        {"12 poles as 8", 5, 12, 0.72, 0.035, false},
        {"below the first row", 0.5, 4, 0.76, 0.03, true},
        {"above the last row", 1000, 2, 0.92, 0.007, true},
        {"odd poles", 10, 3, NAN, NAN, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_running r = sag_ask_typical_running(shared_tables(), rows[i].hp, rows[i].poles);
        check_one(rows[i].name, &r.power_factor, rows[i].power_factor, rows[i].beyond);
        check_one(rows[i].name, &r.slip, rows[i].slip, rows[i].beyond);
    }
}

static void rotor_inertia(void **state)
{
    (void)state;
    const struct {
        const char *name;
        double hp;
        int poles;
        double inertia;
        bool beyond;
    } rows[] = {
        {"10 hp 4 poles", 10, 4, 0.035, false},
        {"between rows, logarithms", sqrt(10 * 20), 4, sqrt(0.035 * 0.1), false},
        {"above the last row", 1000, 4, 8 * pow(2, 1.2), true},
        {"below the first row", 5, 2, 0.02 * pow(0.5, 1.2), true},
        {"12 poles as 8", 100, 12, 2.5, false},
        {"odd poles", 10, 5, NAN, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_answer a = sag_ask_rotor_inertia(shared_tables(), rows[i].hp, rows[i].poles);
        const double wanted[3] = {rows[i].inertia, 0.6 * rows[i].inertia, 1.6 * rows[i].inertia};
        check_three(rows[i].name, &a, wanted, rows[i].beyond);
    }
}

static void load_shapes(void **state)
{
    (void)state;
    static const struct {
        const char *load;
        double breakaway, t0, exponent, multiple[3];
    } rows[] = {
        {"pump", 0.15, 0.05, 2, {0.5, 0.25, 1}},
        {"fan", 0.1, 0, 2, {10, 5, 20}},
        {"conveyor", 1.5, 1, 0, {2, 1, 4}},
        {"none", 0, 0, 0, {0, 0, 0}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_load_shape s = sag_ask_load_shape(shared_tables(), rows[i].load);
        assert_true(s.found);
        check_near(rows[i].load, s.breakaway, rows[i].breakaway, 0);
        check_near(rows[i].load, s.t0, rows[i].t0, 0);
        check_near(rows[i].load, s.exponent, rows[i].exponent, 0);
        check_three(rows[i].load, &s.inertia_multiple, rows[i].multiple, false);
    }
    assert_false(sag_ask_load_shape(shared_tables(), "windmill").found);
    for (unsigned i = 1; i <= SAG_LOAD_NONE; i++)
        assert_true(sag_ask_load_shape(shared_tables(), sag_choice_word(SAG_LOAD, i)).found);
}

static void supply_range(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double volts;
        bool at_service;
        double wanted[3];
        bool beyond;
    } rows[] = {
        {"480 V in use", 480, false, {480, 432, 504}, false},
        {"480 V service", 480, true, {480, 456, 504}, false},
        {"208 V in use", 208, false, {208, 187, 218}, false},
        {"208 V service", 208, true, {208, 197, 218}, false},
        {"600 V in use", 600, false, {600, 540, 630}, false},
        {"4160 V in use", 4160, false, {4160, 3740, 4370}, false},
        {"460 V from the 120 V base", 460, false, {460, 108 * 460.0 / 120, 126 * 460.0 / 120}, true},
        {"13800 V", 13800, true, {13800, 13460, 14490}, false},
        {"6900 V as 4160", 6900, true, {6900, 4050 * 6900.0 / 4160, 4370 * 6900.0 / 4160}, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_answer a = sag_ask_supply_range(shared_tables(), rows[i].volts, rows[i].at_service);
        check_three(rows[i].name, &a, rows[i].wanted, rows[i].beyond);
        assert_true(a.from_memory);
    }
}

static void limits(void **state)
{
    (void)state;
    struct sag_limits nema = sag_ask_limits(shared_tables(), "NEMA MG 1 12.44.1", "voltage only");
    struct sag_limits iec = sag_ask_limits(shared_tables(), "IEC 60034-1 7.3 zone B", "short and rare");
    check_near("NEMA low", nema.volts_low, 0.9, 0);
    check_near("NEMA high", nema.volts_high, 1.1, 0);
    check_near("zone B, Hz low", iec.hz_low, 0.95, 0);
    check_near("zone B, Hz high", iec.hz_high, 1.03, 0);
    assert_false(nema.from_memory);
    assert_true(iec.from_memory);
    assert_false(sag_ask_limits(shared_tables(), "NEMA MG 1 12.44.1", "at night").found);
}

static void unbalance_derating(void **state)
{
    (void)state;
    static const struct {
        double percent, factor;
    } rows[] = {{0, 1}, {1, 1}, {1.5, 0.97}, {1.75, 0.96}, {2, 0.95}, {3.25, 0.87}, {5, 0.76}, {5.01, 0}, {50, 0}};
    for (size_t i = 0; i < COUNT(rows); i++)
        check_near("derating", sag_ask_unbalance_derating(shared_tables(), rows[i].percent / 100).value, rows[i].factor,
                   1e-9);
}

static void heat_and_rest(void **state)
{
    (void)state;
    const struct sag_tables *t = shared_tables();
    const struct {
        const char *name;
        struct sag_answer got;
        double wanted[3];
    } rows[] = {
        {"limit F", sag_ask_rise_limit(t, "F", 1), {105, 105, 105}},
        {"limit F, service factor 1.15", sag_ask_rise_limit(t, "F", 1.15), {115, 115, 115}},
        {"limit H has no column for 1.15", sag_ask_rise_limit(t, "H", 1.15), {125, 125, 125}},
        {"limit of no class", sag_ask_rise_limit(t, "", 1), {NAN, NAN, NAN}},
        {"typical B", sag_ask_typical_rise(t, "B"), {70, 60, 80}},
        {"typical of no class", sag_ask_typical_rise(t, "C"), {NAN, NAN, NAN}},
        {"saturation typical", sag_ask_saturation(t, "typical"), {0.10, 0.05, 0.28}},
        {"saturation high", sag_ask_saturation(t, "high"), {0.28, 0.05, 0.28}},
        {"saturation unknown", sag_ask_saturation(t, "odd"), {NAN, NAN, NAN}},
        {"locked amps", sag_ask_margin(t, "locked_amps_of_table_maximum"), {0.9, 0.8, 1}},
        {"margin unknown", sag_ask_margin(t, "odd"), {NAN, NAN, NAN}},
        {"overload, service factor", sag_ask_overload(t, 1.15, 80), {1.25, 1.25, 1.40}},
        {"overload, cool", sag_ask_overload(t, 1, 40), {1.25, 1.25, 1.40}},
        {"overload, other", sag_ask_overload(t, 1.1, 41), {1.15, 1.15, 1.30}},
        {"overload, rise not known", sag_ask_overload(t, 1, NAN), {1.15, 1.15, 1.30}},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_three(rows[i].name, &rows[i].got, rows[i].wanted, false);
}

TEST_LIST(table_facts, cmocka_unit_test(efficiency), cmocka_unit_test(typical_running), cmocka_unit_test(rotor_inertia),
          cmocka_unit_test(load_shapes), cmocka_unit_test(supply_range), cmocka_unit_test(limits),
          cmocka_unit_test(unbalance_derating), cmocka_unit_test(heat_and_rest))
