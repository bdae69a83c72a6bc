/* Where each fact is taken from, in order, with its origin and bounds. */
#include "read_help.h"

enum {
    EXACT = 0,
    ASSUMED_BIT = 1
};

struct fact_row {
    const char *name, *plate;
    double volts_ll;
    enum sag_fact fact;
    double value, low, high; /* low 0: all three are the same */
    enum sag_origin origin;
    int assumed; /* whether its bit is set */
};

static void check_fact(const struct fact_row *row, const struct sag_motor *motor)
{
    const struct sag_qty *q = &motor->fact[row->fact];
    double low = row->low > 0 ? row->low : row->value, high = row->high > 0 ? row->high : row->value;
    check_percent(row->name, q->value, row->value, 0.01);
    check_percent(row->name, q->low, low, 0.01);
    check_percent(row->name, q->high, high, 0.01);
    if (q->origin != row->origin)
        fail_msg("%s: origin %s, wanted %s", row->name, sag_origin_words((enum sag_origin)q->origin),
                 sag_origin_words(row->origin));
    if ((motor->assumed >> row->fact & 1) != (uint64_t)row->assumed)
        fail_msg("%s: its bit is %sset", row->name, row->assumed ? "not " : "");
    if (q->origin != SAG_NAMEPLATE && !q->rule)
        fail_msg("%s: has no rule", row->name);
}

#define V440 "rated_volts=440,rated_hp=75"
#define V460 "rated_volts=460,rated_hp=75"
#define V400 "rated_volts=400,rated_kw=7.5"

/* A plate that fits 50 and 60 Hz alike is taken as made for the supply it is on. */
static void doubtful_hz_takes_the_supplys(void **state)
{
    (void)state;
    const double supplies[] = {50, 60};
    for (size_t i = 0; i < sizeof supplies / sizeof *supplies; i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        const struct fact_row row = {"400 V", V400, 400, SAG_HZ, supplies[i], 50, 60, SAG_ASSUMED, ASSUMED_BIT};
        complete_connected(row.plate, &(struct sag_connection){400, supplies[i], 0}, &list, &motor);
        check_fact(&row, &motor);
        sag_motor_list_free(&list);
    }
}

static void check_facts(const struct fact_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, rows[i].volts_ll, &list, &motor);
        check_fact(&rows[i], &motor);
        sag_motor_list_free(&list);
    }
}

static void volts(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"plate", V440, 480, SAG_RATED_VOLTS, 440, 0, 0, SAG_NAMEPLATE, EXACT},
        {"dual on 480", "rated_volts=230/460,rated_hp=5", 480, SAG_RATED_VOLTS, 460, 0, 0, SAG_NAMEPLATE, EXACT},
        {"dual on 240", "rated_volts=230/460,rated_hp=5", 240, SAG_RATED_VOLTS, 230, 0, 0, SAG_NAMEPLATE, EXACT},
        {"triple on 208", "rated_volts=208-230/460,rated_hp=5", 208, SAG_RATED_VOLTS, 208, 0, 0, SAG_NAMEPLATE, EXACT},
        {"triple on 240", "rated_volts=208-230/460,rated_hp=5", 240, SAG_RATED_VOLTS, 230, 0, 0, SAG_NAMEPLATE, EXACT},
        {"triple on 600", "rated_volts=208-230/460,rated_hp=5", 600, SAG_RATED_VOLTS, 460, 0, 0, SAG_NAMEPLATE, EXACT},
        {"phases", V440, 480, SAG_PHASES, 3, 0, 0, SAG_ASSUMED, EXACT},
        {"phases of the plate", V440 ",phases=1", 480, SAG_PHASES, 1, 0, 0, SAG_NAMEPLATE, EXACT},
        {"hz", V460, 480, SAG_HZ, 60, 0, 0, SAG_ASSUMED, EXACT},
        {"hz of the plate", V400 ",hz=50", 400, SAG_HZ, 50, 0, 0, SAG_NAMEPLATE, EXACT},
        {"400 V without hz", V400, 480, SAG_HZ, 60, 50, 60, SAG_ASSUMED, ASSUMED_BIT},
        {"380 V without hz", "rated_volts=380,rated_kw=5", 480, SAG_HZ, 60, 50, 60, SAG_ASSUMED, ASSUMED_BIT},
        {"440 V without hz", V440, 480, SAG_HZ, 60, 0, 0, SAG_ASSUMED, EXACT},
    };
    check_facts(rows, COUNT(rows));
}

/* A plate without hz: the one of 50 and 60 Hz at which its speed is a motor's. */
static void hz_told_by_speed(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"400 V 1460", V400 ",rpm=1460", 400, SAG_HZ, 50, 0, 0, SAG_COMPUTED, EXACT},
        {"440 V 1460", V440 ",rpm=1460", 480, SAG_HZ, 50, 0, 0, SAG_COMPUTED, EXACT},
        {"460 V 1755", V460 ",rpm=1755", 480, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"400 V 1755", V400 ",rpm=1755", 400, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"3500", V460 ",rpm=3500", 480, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"2920", V460 ",rpm=2920", 480, SAG_HZ, 50, 0, 0, SAG_COMPUTED, EXACT},
        {"1460 with 4 poles", V440 ",rpm=1460,poles=4", 480, SAG_HZ, 50, 0, 0, SAG_COMPUTED, EXACT},
        {"3500 with 2 poles", V460 ",rpm=3500,poles=2", 480, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"poles settle 580", V460 ",rpm=580,poles=10", 480, SAG_HZ, 50, 0, 0, SAG_COMPUTED, EXACT},
        {"and the other way", V460 ",rpm=580,poles=12", 480, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"580 at both", V460 ",rpm=580", 480, SAG_HZ, 60, 0, 0, SAG_ASSUMED, EXACT},
        {"400 V 580 at both", V400 ",rpm=580", 400, SAG_HZ, 60, 50, 60, SAG_ASSUMED, ASSUMED_BIT},
        {"1600 at neither", V460 ",rpm=1600", 480, SAG_HZ, 60, 0, 0, SAG_ASSUMED, EXACT},
        {"1460 with 6 poles at neither", V460 ",rpm=1460,poles=6", 480, SAG_HZ, 60, 0, 0, SAG_ASSUMED, EXACT},
        {"8 % of slip is a motor's", V460 ",rpm=1656", 480, SAG_HZ, 60, 0, 0, SAG_COMPUTED, EXACT},
        {"the plate goes first", V440 ",rpm=1460,hz=60", 480, SAG_HZ, 60, 0, 0, SAG_NAMEPLATE, EXACT},
        {"poles at that frequency", V440 ",rpm=1460", 480, SAG_POLES, 4, 0, 0, SAG_COMPUTED, EXACT},
        {"slip at that frequency", V440 ",rpm=1460", 480, SAG_SLIP, 40.0 / 1500, 0, 0, SAG_COMPUTED, EXACT},
    };
    check_facts(rows, COUNT(rows));
}

static void speed(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"poles of the plate", V460 ",poles=6,rpm=1180", 480, SAG_POLES, 6, 0, 0, SAG_NAMEPLATE, EXACT},
        {"3500 at 60 Hz", V460 ",rpm=3500", 480, SAG_POLES, 2, 0, 0, SAG_COMPUTED, EXACT},
        {"1770 at 60 Hz", V460 ",rpm=1770", 480, SAG_POLES, 4, 0, 0, SAG_COMPUTED, EXACT},
        {"1175 at 60 Hz", V460 ",rpm=1175", 480, SAG_POLES, 6, 0, 0, SAG_COMPUTED, EXACT},
        {"880 at 60 Hz", V460 ",rpm=880", 480, SAG_POLES, 8, 0, 0, SAG_COMPUTED, EXACT},
        {"510 at 60 Hz", V460 ",rpm=510", 480, SAG_POLES, 14, 0, 0, SAG_COMPUTED, EXACT},
        {"2920 at 50 Hz", V400 ",hz=50,rpm=2920", 400, SAG_POLES, 2, 0, 0, SAG_COMPUTED, EXACT},
        {"1455 at 50 Hz", V400 ",hz=50,rpm=1455", 400, SAG_POLES, 4, 0, 0, SAG_COMPUTED, EXACT},
        {"960 at 50 Hz", V400 ",hz=50,rpm=960", 400, SAG_POLES, 6, 0, 0, SAG_COMPUTED, EXACT},
        {"no speed", V460, 480, SAG_POLES, 4, 0, 0, SAG_ASSUMED, EXACT},
        {"above all poles", V460 ",rpm=3700", 480, SAG_POLES, 4, 0, 0, SAG_ASSUMED, EXACT},
        {"synchronous", V460 ",rpm=1175", 480, SAG_SYNC_RPM, 1200, 0, 0, SAG_COMPUTED, EXACT},
        {"slip from rpm", V460 ",rpm=1770", 480, SAG_SLIP, 30.0 / 1800, 0, 0, SAG_COMPUTED, EXACT},
        {"slip typical", V460, 480, SAG_SLIP, 0.011, 0.0077, 0.0154, SAG_ASSUMED, ASSUMED_BIT},
        {"slip when rpm is synchronous", V460 ",poles=4,rpm=1800", 480, SAG_SLIP, 0.011, 0.0077, 0.0154, SAG_ASSUMED,
         ASSUMED_BIT},
        {"synchronous without poles: poles", V460 ",rpm=1800", 480, SAG_POLES, 4, 0, 0, SAG_COMPUTED, EXACT},
        {"synchronous without poles: slip", V460 ",rpm=1800", 480, SAG_SLIP, 0.011, 0.0077, 0.0154, SAG_ASSUMED,
         ASSUMED_BIT},
        {"synchronous without poles: speed", V460 ",rpm=1800", 480, SAG_RPM, 1780.2, 1772.28, 1786.14, SAG_ASSUMED,
         EXACT},
        {"rpm from slip", V460, 480, SAG_RPM, 1780.2, 1772.28, 1786.14, SAG_ASSUMED, EXACT},
        {"torque", V460 ",rpm=1770", 480, SAG_RATED_TORQUE, 301.855, 0, 0, SAG_COMPUTED, EXACT},
    };
    check_facts(rows, COUNT(rows));
}

/* LP-1 of the demo: no efficiency, power factor or locked amps on the plate. */
#define LP1 V440 ",rpm=1770,rated_amps=95,code_letter=G,enclosure=open,year=1958"

static void power(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"efficiency of the plate", V460 ",efficiency_pct=94.1", 480, SAG_EFFICIENCY, 0.941, 0, 0, SAG_NAMEPLATE,
         EXACT},
        {"efficiency before 1992", LP1, 480, SAG_EFFICIENCY, 0.919, 0.879, 0.934, SAG_TABLE, ASSUMED_BIT},
        {"efficiency 1997", V460 ",rpm=1770", 480, SAG_EFFICIENCY, 0.941, 0.901, 0.956, SAG_TABLE, ASSUMED_BIT},
        {"efficiency 2012", V460 ",year=2012", 480, SAG_EFFICIENCY, 0.954, 0.914, 0.969, SAG_TABLE, ASSUMED_BIT},
        {"efficiency 2016, open", V460 ",year=2018,enclosure=open", 480, SAG_EFFICIENCY, 0.95, 0.91, 0.965, SAG_TABLE,
         ASSUMED_BIT},
        {"efficiency IE1", V400 ",hz=50", 400, SAG_EFFICIENCY, 0.86, 0.82, 0.875, SAG_TABLE, ASSUMED_BIT},
        {"pf of the plate", V460 ",power_factor=0.86", 480, SAG_POWER_FACTOR, 0.86, 0, 0, SAG_NAMEPLATE, EXACT},
        {"pf from amps", V460 ",efficiency_pct=94.1,rated_amps=87", 480, SAG_POWER_FACTOR, 0.857774, 0, 0, SAG_COMPUTED,
         EXACT},
        {"pf from amps and table", LP1, 480, SAG_POWER_FACTOR, 0.840906, 0.827402, 0.879173, SAG_TABLE, ASSUMED_BIT},
        {"pf typical", V460, 480, SAG_POWER_FACTOR, 0.87, 0.83, 0.91, SAG_ASSUMED, ASSUMED_BIT},
        {"pf typical when amps contradict", "rated_volts=460,rated_hp=7.5,efficiency_pct=91,rated_amps=18.6", 480,
         SAG_POWER_FACTOR, 0.83, 0.79, 0.87, SAG_ASSUMED, ASSUMED_BIT},
        {"amps computed", "rated_volts=460,rated_hp=50,efficiency_pct=94.5,power_factor=0.86", 480, SAG_COMPUTED_AMPS,
         57.6050, 0, 0, SAG_COMPUTED, EXACT},
        {"amps are those that pf came from", LP1, 480, SAG_COMPUTED_AMPS, 95, 0, 0, SAG_TABLE, EXACT},
        {"amps of the plate", LP1, 480, SAG_RATED_AMPS, 95, 0, 0, SAG_NAMEPLATE, EXACT},
        {"code table", LP1, 480, SAG_TABLE_AMPS, 96, 0, 0, SAG_TABLE, EXACT},
        {"code table, single-phase", "rated_volts=115,rated_hp=0.5,phases=1", 208, SAG_TABLE_AMPS, 9.8, 0, 0, SAG_TABLE,
         EXACT},
        {"single-phase amps", "rated_volts=115,rated_hp=0.5,phases=1,efficiency_pct=62,power_factor=0.65", 208,
         SAG_COMPUTED_AMPS, 8.04833, 0, 0, SAG_COMPUTED, EXACT},
    };
    check_facts(rows, COUNT(rows));
}

#define S115 "rated_volts=115,rated_hp=0.5,phases=1"
#define S277 "rated_volts=277,rated_hp=0.5,phases=1"

/* Without efficiency a single-phase plate has no arithmetic: its own amps count, else those of the code. */
static void single_phase_amps(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"plate amps", S115 ",rated_amps=8.2", 240, SAG_COMPUTED_AMPS, 8.2, 0, 0, SAG_NAMEPLATE, EXACT},
        {"plate amps and power factor", S115 ",rated_amps=8.2,power_factor=0.7", 240, SAG_COMPUTED_AMPS, 8.2, 0, 0,
         SAG_NAMEPLATE, EXACT},
        {"code table", S115, 240, SAG_COMPUTED_AMPS, 9.8, 0, 0, SAG_TABLE, EXACT},
        {"efficiency alone", S115 ",efficiency_pct=62", 240, SAG_COMPUTED_AMPS, 9.8, 0, 0, SAG_TABLE, EXACT},
        {"efficiency and plate amps", S115 ",efficiency_pct=62,rated_amps=9", 240, SAG_COMPUTED_AMPS, 9, 0, 0,
         SAG_COMPUTED, EXACT},
    };
    check_facts(rows, COUNT(rows));
    struct sag_motor_list list;
    struct sag_motor motor;
    complete_typed(S277, 480, &list, &motor);
    assert_false(sag_known(&motor.fact[SAG_COMPUTED_AMPS])); /* the code has no column for 277 V */
    assert_false(sag_known(&motor.fact[SAG_EFFICIENCY]));
    sag_motor_list_free(&list);
}

/* The level of a year, and the table that the sheet will cite for it. */
static void efficiency_of_a_year(void **state)
{
    (void)state;
#define OLD   "standard_efficiency_pre1992"
#define FIRST "us_10cfr431_25_efficiency_1997"
#define LATER "us_10cfr431_25_efficiency_2016"
    static const struct {
        const char *plate;
        double share;
        const char *table;
    } rows[] = {
        {V460 ",year=1991", 0.919, OLD},   {V460 ",year=1997", 0.919, OLD},
        {V460 ",year=1998", 0.941, FIRST}, {V460, 0.941, FIRST},
        {V460 ",year=2010", 0.941, FIRST}, {V460 ",year=2011", 0.954, LATER},
        {V460 ",year=2016", 0.954, LATER}, {V400 ",hz=50,year=1990", 0.86, "iec_60034_30_1_efficiency_50hz"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, 480, &list, &motor);
        check_percent(rows[i].plate, motor.fact[SAG_EFFICIENCY].value, rows[i].share, 1e-9);
        assert_non_null(motor.fact[SAG_EFFICIENCY].rule);
        check_text(rows[i].plate, motor.fact[SAG_EFFICIENCY].rule->table, rows[i].table);
        sag_motor_list_free(&list);
    }
}

static void locked_rotor(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"of the plate", V460 ",locked_amps=540,code_letter=G", 480, SAG_LOCKED_AMPS, 540, 0, 0, SAG_NAMEPLATE, EXACT},
        {"from the letter", LP1, 480, SAG_LOCKED_AMPS, 585.551, 551.107, 619.995, SAG_TABLE, ASSUMED_BIT},
        {"the letter", LP1, 480, SAG_LOCKED_KVA, 5.95, 5.6, 6.3, SAG_TABLE, ASSUMED_BIT},
        {"the letter beside amps", V460 ",locked_amps=540,code_letter=G", 480, SAG_LOCKED_KVA, 5.95, 5.6, 6.3,
         SAG_TABLE, EXACT},
        {"letter, single-phase", "rated_volts=230,rated_hp=2,phases=1,code_letter=H", 240, SAG_LOCKED_AMPS, 58.2609,
         54.7826, 61.7391, SAG_TABLE, ASSUMED_BIT},
        {"design B", V460 ",design=B", 480, SAG_LOCKED_AMPS, 488.25, 434, 542.5, SAG_TABLE, ASSUMED_BIT},
        {"no design: as B, assumed", V460, 480, SAG_LOCKED_AMPS, 488.25, 434, 542.5, SAG_ASSUMED, ASSUMED_BIT},
        {"scaled to 440 V", V440 ",design=B", 480, SAG_LOCKED_AMPS, 510.443, 453.727, 567.159, SAG_TABLE, ASSUMED_BIT},
        {"design N", V400 ",design=N,hz=50", 400, SAG_LOCKED_AMPS, 116.913, 103.923, 129.904, SAG_TABLE, ASSUMED_BIT},
        {"50 Hz: as N, assumed", V400 ",hz=50", 400, SAG_LOCKED_AMPS, 116.913, 103.923, 129.904, SAG_ASSUMED,
         ASSUMED_BIT},
        {"design A has no limit", V460 ",design=A,efficiency_pct=94.1,power_factor=0.86", 480, SAG_LOCKED_AMPS, 520.649,
         433.874, 694.198, SAG_ASSUMED, ASSUMED_BIT},
        {"wound rotor", V460 ",rotor=wound,efficiency_pct=94.1,power_factor=0.86", 480, SAG_LOCKED_AMPS, 520.649,
         433.874, 694.198, SAG_ASSUMED, ASSUMED_BIT},
    };
    check_facts(rows, COUNT(rows));
}

static void torques(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"of the plate", V460 ",locked_torque_pct=150", 480, SAG_LOCKED_TORQUE, 1.5, 0, 0, SAG_NAMEPLATE, EXACT},
        {"design B", V460 ",design=B", 480, SAG_LOCKED_TORQUE, 1.68, 1.4, 1.96, SAG_TABLE, ASSUMED_BIT},
        {"design B, breakdown", V460 ",design=B", 480, SAG_BREAKDOWN_TORQUE, 2.4, 2.0, 2.8, SAG_TABLE, ASSUMED_BIT},
        {"no design", V460, 480, SAG_LOCKED_TORQUE, 1.68, 1.4, 1.96, SAG_ASSUMED, ASSUMED_BIT},
        {"design C, 6 poles", V460 ",design=C,poles=6", 480, SAG_LOCKED_TORQUE, 2.4, 2, 2.8, SAG_TABLE, ASSUMED_BIT},
        {"design D", V460 ",design=D", 480, SAG_LOCKED_TORQUE, 3.3, 2.75, 3.85, SAG_TABLE, ASSUMED_BIT},
        {"design D, breakdown as locked", V460 ",design=D", 480, SAG_BREAKDOWN_TORQUE, 3.3, 2.75, 3.85, SAG_ASSUMED,
         ASSUMED_BIT},
        {"design N", V400 ",design=N,hz=50", 400, SAG_LOCKED_TORQUE, 1.92, 1.6, 2.24, SAG_TABLE, ASSUMED_BIT},
    };
    check_facts(rows, COUNT(rows));
    struct sag_motor_list list;
    struct sag_motor motor;
    complete_typed(V460 ",rotor=wound", 480, &list, &motor);
    assert_false(sag_known(&motor.fact[SAG_LOCKED_TORQUE]));
    assert_false(sag_known(&motor.fact[SAG_BREAKDOWN_TORQUE]));
    sag_motor_list_free(&list);
}

static void heat_and_load(void **state)
{
    (void)state;
    static const struct fact_row rows[] = {
        {"service factor", V460, 480, SAG_SERVICE_FACTOR, 1, 0, 0, SAG_ASSUMED, EXACT},
        {"rise of the plate", V460 ",rise_c=80", 480, SAG_RISE, 80, 0, 0, SAG_NAMEPLATE, EXACT},
        {"rise of the class", V460 ",insulation=B", 480, SAG_RISE, 70, 60, 80, SAG_ASSUMED, ASSUMED_BIT},
        {"rise of no class", V460, 480, SAG_RISE, 80, 60, 105, SAG_ASSUMED, ASSUMED_BIT},
        {"limit", V460 ",insulation=F,service_factor=1.15", 480, SAG_RISE_LIMIT, 115, 0, 0, SAG_TABLE, EXACT},
        {"stall time", V460, 480, SAG_STALL_TIME, 12, 0, 0, SAG_TABLE, EXACT},
        {"stall time of the plate", V460 ",stall_time_s=20", 480, SAG_STALL_TIME, 20, 0, 0, SAG_NAMEPLATE, EXACT},
        {"saturation", V460, 480, SAG_MAIN_FLUX, 0.10, 0.05, 0.28, SAG_ASSUMED, ASSUMED_BIT},
        {"saturation said", V460 ",saturation=high", 480, SAG_MAIN_FLUX, 0.28, 0, 0, SAG_TABLE, EXACT},
        {"full load", V460, 480, SAG_LOAD_SHARE, 1, 0, 0, SAG_ASSUMED, EXACT},
        {"share from hp", V460 ",load_hp=60", 480, SAG_LOAD_SHARE, 0.8, 0, 0, SAG_COMPUTED, EXACT},
        {"share of the plate", V460 ",load_pct=90", 480, SAG_LOAD_SHARE, 0.9, 0, 0, SAG_NAMEPLATE, EXACT},
        {"rotor inertia", "rated_volts=460,rated_hp=50", 480, SAG_ROTOR_INERTIA, 0.4, 0.24, 0.64, SAG_ASSUMED,
         ASSUMED_BIT},
        {"load inertia of a fan", "rated_volts=460,rated_hp=50,load=fan", 480, SAG_LOAD_INERTIA, 4, 2, 8, SAG_ASSUMED,
         ASSUMED_BIT},
        {"load inertia given", V460 ",load_inertia_kgm2=3", 480, SAG_LOAD_INERTIA, 3, 0, 0, SAG_NAMEPLATE, EXACT},
    };
    check_facts(rows, COUNT(rows));
}

TEST_LIST(complete, cmocka_unit_test(volts), cmocka_unit_test(hz_told_by_speed),
          cmocka_unit_test(doubtful_hz_takes_the_supplys), cmocka_unit_test(speed), cmocka_unit_test(power),
          cmocka_unit_test(single_phase_amps), cmocka_unit_test(efficiency_of_a_year), cmocka_unit_test(locked_rotor),
          cmocka_unit_test(torques), cmocka_unit_test(heat_and_load))
