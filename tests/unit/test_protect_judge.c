/* Branch circuits judged: each check on both sides of its limit, and what would settle what is not known. */
#include "circuit_help.h"

#define SUPPLY "id,fed_from,kind,nominal_volts,fault_mva,length_ft,conductor,material,raceway\n"
#define STRONG SUPPLY "U,,utility,480,100,,,,\n"
#define WEAK   SUPPLY "U,,utility,480,100,,,,\nA,U,cable,,,1500,1,cu,steel\n"
#define COLUMNS                                                                                                        \
    "tag,feeder,rated_volts,rated_hp,rpm,poles,efficiency_pct,power_factor,rated_amps,service_factor,design,"          \
    "locked_amps,locked_torque_pct,breakdown_torque_pct,load,rotor_inertia_kgm2"

/* 25 hp: 34 A by the code, 31 A on the plate; wire 42.5 A; breaker 85, so 90 A, at most 400 %, so 125 A; disconnect
   39.1 A; overload 38.75 A, at most 43.4 A. A locked rotor draws 182 A. */
static void open_one(struct circuit_plant *c, const char *supply, const char *head, const char *cells)
{
    char motors[900];
    snprintf(motors, sizeof motors, COLUMNS "%s%s\nM,%s,460,25,1770,4,93.6,0.85,31,1.15,B,182,170,230,fan,0.2%s%s\n",
             *head ? "," : "", head, strstr(supply, "\nA,") ? "A" : "U", *cells ? "," : "", cells);
    circuit_plant_open(c, supply, motors, SAG_DEVICE_BLANK);
}

struct branch_row {
    const char *name, *supply, *head, *cells, *check, *wanted, *missing;
};

static void check_branch_row(const struct branch_row *row)
{
    struct circuit_plant c;
    open_one(&c, row->supply, row->head, row->cells);
    circuit_plant_judge(&c);
    const struct sag_branch_result *b = &c.branches[0];
    const struct sag_finding *f = worst_finding(b->findings, b->finding_count, row->check);
    check_text(row->name, found_word(f), row->wanted);
    check_text(row->name, f ? f->missing : "", row->missing ? row->missing : "");
    assert_true(!f || b->verdict >= f->verdict);
    circuit_plant_free(&c);
}

static void sizes(void **state)
{
    (void)state;
    static const struct branch_row rows[] = {
        {"wire of 50 A", STRONG, "branch_length_ft,branch_conductor", "60,8", "wire_amps", "ok", NULL},
        {"wire of 35 A", STRONG, "branch_length_ft,branch_conductor", "60,10", "wire_amps", "fail", NULL},
        {"wire in the heat", STRONG, "branch_length_ft,branch_conductor,branch_ambient_c", "60,8,50", "wire_amps",
         "fail", NULL},
        {"fire pump's wire", STRONG, "branch_length_ft,branch_conductor,duty", "60,10,fire_pump", "wire_amps", "fail",
         NULL},
        {"the table's device", STRONG, "device_amps", "90", "device_most", "ok", NULL},
        {"more than the table's", STRONG, "device_amps", "100", "device_most", "watch", NULL},
        {"the exception's", STRONG, "device_amps", "125", "device_most", "watch", NULL},
        {"more than any", STRONG, "device_amps", "150", "device_most", "fail", NULL},
        {"a dual-element fuse", STRONG, "device,device_amps", "dual_element_fuse,60", "device_most", "ok", NULL},
        {"a larger one", STRONG, "device,device_amps", "dual_element_fuse,70", "device_most", "watch", NULL},
        {"too large a one", STRONG, "device,device_amps", "dual_element_fuse,80", "device_most", "fail", NULL},
        {"a setting", STRONG, "device,device_amps", "instantaneous_breaker,370", "device_most", "ok", NULL},
        {"a setting above", STRONG, "device,device_amps", "instantaneous_breaker,380", "device_most", "watch", NULL},
        {"a setting beyond", STRONG, "device,device_amps", "instantaneous_breaker,600", "device_most", "fail", NULL},
        {"it carries 115 %", STRONG, "device_amps", "40", "device_carry", "ok", NULL},
        {"it does not", STRONG, "device_amps", "35", "device_carry", "fail", NULL},
        {"a setting is no rating", STRONG, "device,device_amps", "instantaneous_breaker,30", "device_carry", "ok",
         NULL},
        {"fire pump's, 182 A for ever", STRONG, "device_amps,duty", "200,fire_pump", "device_carry", "ok", NULL},
        {"fire pump's, too small", STRONG, "device_amps,duty", "150,fire_pump", "device_carry", "fail", NULL},
        {"fire pump's has no most", STRONG, "device_amps,duty", "600,fire_pump", "device_most", "ok", NULL},
        {"overload 125 %", STRONG, "overload_amps", "38.7", "overload_most", "ok", NULL},
        {"overload above", STRONG, "overload_amps", "38.8", "overload_most", "watch", NULL},
        {"overload beyond 140 %", STRONG, "overload_amps", "43.5", "overload_most", "fail", NULL},
        {"overload carries", STRONG, "overload_amps", "38", "overload_carry", "ok", NULL},
        {"overload does not", STRONG, "overload_amps", "20", "overload_carry", "fail", NULL},
        {"fire pump without overload", STRONG, "duty", "fire_pump", "overload_fire", "ok", NULL},
        {"fire pump with one", STRONG, "duty,overload_amps", "fire_pump,38", "overload_fire", "fail", NULL},
        {"any other with one", STRONG, "duty,overload_amps", "jockey_pump,38", "overload_fire", "ok", NULL},
        {"plate amps", STRONG, "", "", "plate_amps", "ok", NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_branch_row(&rows[i]);
}

/* Over 1000 V nothing is sized and no device is looked at; the volts of a fire pump are, and its verdict counts. */
static void fire_pump_at_high_volts(void **state)
{
    (void)state;
    struct circuit_plant c;
    circuit_plant_open(&c, SUPPLY "U,,utility,4160,9,,,,\n",
                       "tag,feeder,rated_volts,rated_hp,poles,duty\nF,U,4000,500,4,fire_pump\nM,U,4000,50,4,\n",
                       SAG_DEVICE_BLANK);
    circuit_plant_judge(&c);
    const struct sag_branch_result *pump = &c.branches[0];
    assert_int_equal(c.size.motors[0].sizing, SAG_SIZED_HIGH_VOLTS);
    check_text("volts", found_word(worst_finding(pump->findings, pump->finding_count, "fire_pump_start")), "fail");
    check_text("verdict", sag_verdict_word(pump->verdict), "fail");
    assert_true(pump->judged);
    assert_false(c.branches[1].judged);
    circuit_plant_free(&c);
}

/* 38 A of relay after 31 A, with 182 A: x = 4.79, p = 0.816, so class 10 trips in 2 to 7 s, class 20 in 3 to 14 s,
   class 30 in 5 to 21 s. Starts with 0.3, 15 and 150 kgm2 of load take 0.6, 17 and 164 s. */
static void starts(void **state)
{
    (void)state;
    static const struct branch_row rows[] = {
        {"guards", STRONG, "overload_amps,trip_class,stall_time_s", "38,10,20", "relay_guards", "ok", NULL},
        {"too slow", STRONG, "overload_amps,trip_class,stall_time_s", "38,30,3", "relay_guards", "fail", NULL},
        {"somewhere in its class", STRONG, "overload_amps,trip_class,stall_time_s", "38,20,8", "relay_guards",
         "unknown", "relay_curve"},
        {"a relay that nobody described", STRONG, "overload_amps,stall_time_s", "38,8", "relay_guards", "ok", NULL},
        {"a drive's own", STRONG, "starting,overload_amps,trip_class,stall_time_s", "drive,38,30,3", "relay_guards",
         "ok", NULL},
        {"a fire pump's", STRONG, "duty,overload_amps,trip_class,stall_time_s", "fire_pump,38,30,3", "relay_guards",
         "ok", NULL},
        {"a short start", STRONG, "load_inertia_kgm2,overload_amps,trip_class", "0.3,38,20", "relay_passes", "ok",
         NULL},
        {"a very long one", STRONG, "load_inertia_kgm2,overload_amps,trip_class", "150,38,10", "relay_passes", "fail",
         NULL},
        {"a long one", STRONG, "load_inertia_kgm2,overload_amps,trip_class", "15,38,20", "relay_passes", "unknown",
         "relay_curve"},
        {"a long one, class not given", STRONG, "load_inertia_kgm2,overload_amps", "15,38", "relay_passes", "unknown",
         "trip_class"},
        {"fuse, a short start", STRONG, "load_inertia_kgm2,device,device_amps", "0.3,dual_element_fuse,60",
         "device_passes", "ok", NULL},
        {"fuse, too long", STRONG, "load_inertia_kgm2,device,device_amps", "150,dual_element_fuse,40", "device_passes",
         "fail", NULL},
        {"fuse, long", STRONG, "load_inertia_kgm2,device,device_amps", "15,dual_element_fuse,40", "device_passes",
         "unknown", "device_curve"},
        {"peak passes", STRONG, "load_inertia_kgm2,device_amps", "0.3,90", "peak_passes", "ok", NULL},
        {"peak may trip it", STRONG, "load_inertia_kgm2,device_amps", "0.3,45", "peak_passes", "unknown",
         "the breaker's instantaneous trip"},
        {"peak trips a setting", STRONG, "load_inertia_kgm2,device,device_amps", "0.3,instantaneous_breaker,100",
         "peak_passes", "fail", NULL},
        {"peak passes a setting", STRONG, "load_inertia_kgm2,device,device_amps", "0.3,instantaneous_breaker,370",
         "peak_passes", "ok", NULL},
        {"a fire pump far away", WEAK, "duty", "fire_pump", "fire_pump_start", "fail", NULL},
        {"a fire pump nearby", STRONG, "duty", "fire_pump", "fire_pump_start", "ok", NULL},
        {"another motor far away", WEAK, "duty", "normal", "fire_pump_start", "ok", NULL},
        {"a fire pump runs low", SUPPLY "U,,utility,440,100,,,,\n", "duty", "fire_pump", "fire_pump_run", "fail", NULL},
        {"a fire pump runs", STRONG, "duty", "fire_pump", "fire_pump_run", "ok", NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_branch_row(&rows[i]);
}

/* With the maker's curve nothing is unknown, and its source says so. */
static void makers_curves(void **state)
{
    (void)state;
    static const struct sag_curve_point slow[] = {{4000, 1.2}, {40, 7}}, fast[] = {{10, 1.2}, {0.05, 4}},
                                        quick[] = {{4000, 1.2}, {0.01, 12}}, quicker[] = {{4000, 1.2}, {0.01, 4}};
    static const struct {
        const char *name, *cells, *check, *wanted;
        const struct sag_curve_point *points;
        bool relay;
    } rows[] = {
        {"relay, slow", "15,dual_element_fuse,40,38", "relay_passes", "ok", slow, true},
        {"relay, fast", "15,dual_element_fuse,40,38", "relay_passes", "fail", fast, true},
        {"fuse, slow", "15,dual_element_fuse,40,38", "device_passes", "ok", slow, false},
        {"fuse, fast", "15,dual_element_fuse,40,38", "device_passes", "fail", fast, false},
        {"breaker, peak below its curve", "0.3,inverse_time_breaker,45,38", "peak_passes", "ok", quick, false},
        {"breaker, peak above its curve", "0.3,inverse_time_breaker,45,38", "peak_passes", "fail", quicker, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct circuit_plant c;
        open_one(&c, STRONG, "load_inertia_kgm2,device,device_amps,overload_amps", rows[i].cells);
        *(rows[i].relay ? &c.job.relay_curve : &c.job.device_curve) = (struct sag_curve){rows[i].points, 2};
        circuit_plant_judge(&c);
        const struct sag_branch_result *b = &c.branches[0];
        const struct sag_finding *f = worst_finding(b->findings, b->finding_count, rows[i].check);
        check_text(rows[i].name, found_word(f), rows[i].wanted);
        if (f && strcmp(rows[i].check, "peak_passes") != 0)
            check_text(rows[i].name, f->source, "the maker's curve given");
        circuit_plant_free(&c);
    }
}

/* What is installed decides, else what is asked for, else a breaker; a feeder has no setting. */
static void kinds(void **state)
{
    (void)state;
    static const struct {
        const char *name, *head, *cells;
        enum sag_device asked, motor, feeder;
        double amps;
    } rows[] = {
        {"nobody says", "", "", SAG_DEVICE_BLANK, SAG_DEVICE_INVERSE_TIME_BREAKER, SAG_DEVICE_INVERSE_TIME_BREAKER, 90},
        {"asked for", "", "", SAG_DEVICE_DUAL_ELEMENT_FUSE, SAG_DEVICE_DUAL_ELEMENT_FUSE, SAG_DEVICE_DUAL_ELEMENT_FUSE,
         60},
        {"installed", "device", "nontime_fuse", SAG_DEVICE_DUAL_ELEMENT_FUSE, SAG_DEVICE_NONTIME_FUSE,
         SAG_DEVICE_DUAL_ELEMENT_FUSE, 110},
        {"a setting asked for", "", "", SAG_DEVICE_INSTANTANEOUS_BREAKER, SAG_DEVICE_INSTANTANEOUS_BREAKER,
         SAG_DEVICE_INVERSE_TIME_BREAKER, 374},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct circuit_plant c;
        char motors[600];
        snprintf(motors, sizeof motors, COLUMNS "%s%s\nM,U,460,25,1770,4,93.6,0.85,31,1.15,B,182,170,230,fan,0.2%s%s\n",
                 *rows[i].head ? "," : "", rows[i].head, *rows[i].cells ? "," : "", rows[i].cells);
        circuit_plant_open(&c, STRONG, motors, rows[i].asked);
        circuit_plant_judge(&c);
        assert_int_equal(c.size.motors[0].kind, rows[i].motor);
        assert_int_equal(c.size.feeders[0].kind, rows[i].feeder);
        check_near(rows[i].name, c.branches[0].let[SAG_CASE_NOMINAL].device_amps, rows[i].amps, 1e-9);
        assert_int_equal(c.branches[0].let[SAG_CASE_NOMINAL].kind, rows[i].motor);
        circuit_plant_free(&c);
    }
}

TEST_LIST(protect_judge, cmocka_unit_test(sizes), cmocka_unit_test(starts), cmocka_unit_test(makers_curves),
          cmocka_unit_test(kinds), cmocka_unit_test(fire_pump_at_high_volts))
