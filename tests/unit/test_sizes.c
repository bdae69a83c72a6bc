/* Sizes of motor branch circuits, worked by hand from the tables of NFPA 70-2023; a row a case. */
#include "size_help.h"

static const struct size_asked plain = {0};

#define P50 "rated_volts=460,rated_hp=50,rated_amps=62"

/* Code amps of 50 hp are 65, so wires need 81.25; 3 AWG carries 85 at 60 C, 4 AWG 85 at 75 C. */
static void devices_of_each_kind(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        enum sag_device kind;
        double computed, amps, most_computed, most;
        const char *ground;
    } rows[] = {
        {"breaker", P50, BREAKER, 162.5, 175, 260, 250, "6"},
        {"dual-element fuse", P50, DUAL, 113.75, 125, 146.25, 125, "6"},
        {"nontime fuse", P50, NONTIME, 195, 200, 260, 250, "6"},
        /* its ground is that of a 125 A dual-element fuse, 250.122(D)(2) */
        {"instantaneous", P50, INSTANT, 520, 520, 845, 845, "6"},
        {"installed wins", P50 ",device=nontime_fuse", NONTIME, 195, 200, 260, 250, "6"},
        {"design B at its level", P50 ",design=B,efficiency_pct=93", INSTANT, 715, 715, 1105, 1105, "6"},
        {"design B below it", P50 ",design=B,efficiency_pct=92.4", INSTANT, 520, 520, 845, 845, "6"},
        {"design B, not said", P50 ",design=B", INSTANT, 520, 520, 845, 845, "6"},
        {"efficient, design C", P50 ",design=C,efficiency_pct=95", INSTANT, 520, 520, 845, 845, "6"},
        {"efficient, breaker", P50 ",design=B,efficiency_pct=95", BREAKER, 162.5, 175, 260, 250, "6"},
        {"wound, breaker", P50 ",rotor=wound", BREAKER, 97.5, 100, 260, 250, "8"},
        {"wound, dual", P50 ",rotor=wound", DUAL, 97.5, 100, 146.25, 125, "8"},
        {"wound, nontime", P50 ",rotor=wound", NONTIME, 97.5, 100, 260, 250, "8"},
        {"wound, instantaneous", P50 ",rotor=wound", INSTANT, 520, 520, 845, 845, "8"},
        {"1 phase, breaker", "rated_volts=230,rated_hp=5,phases=1", BREAKER, 70, 70, 112, 110, "8"},
        {"1 phase, dual", "rated_volts=230,rated_hp=5,phases=1", DUAL, 49, 50, 63, 60, "10"},
        {"1 phase, instantaneous", "rated_volts=230,rated_hp=5,phases=1", INSTANT, 224, 224, 364, 364, "10"},
        /* exception 1 above exception 2: the larger stands; and no breaker is below 15 A */
        {"1 hp, dual", "rated_volts=460,rated_hp=1", DUAL, 3.675, 6, 4.725, 6, "14"},
        {"1 hp, breaker", "rated_volts=460,rated_hp=1", BREAKER, 5.25, 15, 8.4, 15, "14"},
        /* more than 100 A: 300 % in place of 400 % */
        {"75 hp, breaker", "rated_volts=460,rated_hp=75", BREAKER, 240, 250, 384, 350, "4"},
        {"100 hp, breaker", "rated_volts=460,rated_hp=100", BREAKER, 310, 350, 372, 350, "3"},
        /* fuses at 600 A and beyond */
        {"125 hp, nontime", "rated_volts=460,rated_hp=125", NONTIME, 468, 500, 624, 600, "2"},
        {"150 hp, nontime", "rated_volts=460,rated_hp=150", NONTIME, 540, 600, 720, 600, "1"},
        {"200 hp, nontime", "rated_volts=460,rated_hp=200", NONTIME, 720, 800, 720, 800, "1/0"},
        {"300 hp, dual", "rated_volts=460,rated_hp=300", DUAL, 631.75, 700, 1083, 1000, "1/0"},
        {"250 hp, dual", "rated_volts=460,rated_hp=250", DUAL, 528.5, 600, 679.5, 601,
         "1"} /* 601 A is a fuse of its own */,
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct size_asked asked = {.device = rows[i].kind, .volts = strstr(rows[i].plate, "=230") ? 240 : 480};
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &asked);
        const struct sag_device_size *d = &m->device[rows[i].kind];
        assert_int_equal(m->kind, rows[i].kind);
        check_amps(rows[i].name, d->computed.value, rows[i].computed);
        check_amps(rows[i].name, d->amps.value, rows[i].amps);
        check_amps(rows[i].name, d->most_computed.value, rows[i].most_computed);
        check_amps(rows[i].name, d->most.value, rows[i].most);
        check_size(rows[i].name, m->ground, rows[i].ground);
        assert_int_equal(rests_on(m->clauses, SAG_CLAUSE_GROUND_OF_SETTING), rows[i].kind == INSTANT);
        size_free(&p);
    }
}

static void wires(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        int insulation, terminal;
        int column;       /* of the terminals, that follows */
        const char *size; /* NULL: none will do */
        int sets;
        double amps;
        const char *ground;
    } rows[] = {
        {"terminals by the rule", P50, 0, 0, 60, "3", 1, 85, "6"},
        {"a motor marked design B", P50 ",design=B", 0, 0, 75, "4", 1, 85, "6"},
        {"design A is not of them", P50 ",design=A", 0, 0, 60, "3", 1, 85, "6"},
        {"60 C insulation gains nothing by design B", P50 ",design=B", 60, 0, 60, "3", 1, 85, "6"},
        {"75 C terminals", P50, 0, 75, 75, "4", 1, 85, "6"},
        {"90 C insulation on 75 C terminals", P50, 90, 75, 75, "4", 1, 85, "6"},
        {"90 C insulation on 60 C terminals", P50, 90, 60, 60, "3", 1, 85, "6"},
        {"60 C insulation, 10 hp", "rated_volts=460,rated_hp=10", 60, 0, 60, "12", 1, 20, "12"},
        {"75 C both, 10 hp", "rated_volts=460,rated_hp=10", 75, 75, 75, "14", 1, 20, "14"},
        {"over 100 A terminals are 75 C", "rated_volts=460,rated_hp=75", 0, 0, 75, "1", 1, 130, "4"},
        {"aluminium", P50 ",branch_material=al", 0, 0, 60, "1", 1, 85, "4"},
        {"46 C", P50 ",branch_ambient_c=46", 0, 0, 60, "2", 1, 86, "6"},
        {"46 C, 90 C insulation", P50 ",branch_ambient_c=46", 90, 0, 60, "3", 1, 85, "6"},
        {"a cold place gains nothing at its terminals", P50 ",branch_ambient_c=5", 0, 0, 60, "3", 1, 85, "6"},
        {"6 conductors", P50 ",branch_conductors=6", 0, 0, 60, "2", 1, 92, "6"},
        {"6 conductors, 90 C insulation", P50 ",branch_conductors=6", 90, 0, 60, "3", 1, 85, "6"},
        {"6 conductors at 46 C", P50 ",branch_conductors=6,branch_ambient_c=46", 0, 0, 75, "1/0", 1, 90, "6"},
        {"60 C around 60 C insulation", P50 ",branch_ambient_c=60", 60, 0, 60, NULL, 1, NAN, NULL},
        {"86 C around 90 C insulation", P50 ",branch_ambient_c=86", 90, 0, 60, NULL, 1, NAN, NULL},
        {"the largest single", "rated_volts=460,rated_hp=250", 0, 0, 75, "500", 1, 380, "1/0"},
        {"two sets", "rated_volts=460,rated_hp=300", 0, 0, 75, "4/0", 2, 460, "2/0"},
        {"three sets", "rated_volts=460,rated_hp=600,rated_amps=680", 0, 0, 75, "300", 3, 855, "250"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct size_asked asked = {.insulation_c = rows[i].insulation, .terminal_c = rows[i].terminal};
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &asked);
        check_size(rows[i].name, m->wire.size, rows[i].size);
        check_amps(rows[i].name, m->wire.amps, rows[i].amps);
        check_size(rows[i].name, m->ground, rows[i].ground);
        assert_int_equal(m->wire.terminal_c, rows[i].column);
        if (m->wire.sets != rows[i].sets)
            fail_msg("%s: %d sets", rows[i].name, m->wire.sets);
        size_free(&p);
    }
}

/* What is installed, in a circuit of 81.25 A. */
static void installed_wires(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double amps;
    } rows[] = {{P50 ",branch_conductor=4", 70},
                {P50 ",branch_conductor=4,design=B", 85},
                {P50 ",branch_conductor=95mm2", 200}, /* as 3/0, whose terminals are marked for 75 C */
                {P50 ",branch_conductor=1/0,branch_material=al", 120},
                {P50 ",branch_conductor=1,branch_conductors=9", 91},
                {P50, NAN}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &plain);
        check_amps(rows[i].plate, m->installed.amps, rows[i].amps);
        assert_int_equal(m->installed.size == NULL, isnan(rows[i].amps));
        size_free(&p);
    }
}

/* 250.122(B), by circular mils: 6 AWG has 26240, of wires 3 AWG 52620, 2 AWG 66360, 1/0 105600, 250 kcmil 250000.
   1/0 in place of 3 AWG: 26240 x 2.00684 = 52659, which 3 AWG just misses. */
static void larger_grounds(void **state)
{
    (void)state;
    static const struct {
        const char *plate, *ground;                                                     /* NULL: no need */
    } rows[] = {{P50 ",branch_conductor=1/0", "2"},   {P50 ",branch_conductor=2", "4"}, /* 33092 */
                {P50 ",branch_conductor=250", "2/0"},                                   /* 124667 */
                {P50 ",branch_conductor=3", NULL},    {P50 ",branch_conductor=6", NULL}, {P50, NULL}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &plain);
        check_size(rows[i].plate, m->ground, "6");
        check_size(rows[i].plate, sag_larger_ground(shared_tables(), m->ground, &m->wire, &m->installed),
                   rows[i].ground);
        size_free(&p);
    }
}

/* Which amps count. */
static void code_amps(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double volts, code, leads, disconnect;
        enum sag_sizing sizing;
        enum sag_clause clause;
    } rows[] = {
        {"table", P50, 480, 65, NAN, 74.75, SAG_SIZED, SAG_CLAUSE_CODE_AMPS},
        {"between rows the larger", "rated_volts=460,rated_hp=55", 480, 77, NAN, 88.55, SAG_SIZED,
         SAG_CLAUSE_CODE_AMPS},
        {"900 rev/min", P50 ",poles=8", 480, 62, NAN, 71.3, SAG_SIZED, SAG_CLAUSE_PLATE_AMPS},
        {"1200 rev/min is not below", P50 ",poles=6", 480, 65, NAN, 74.75, SAG_SIZED, SAG_CLAUSE_CODE_AMPS},
        {"900 rev/min without amps", "rated_volts=460,rated_hp=50,poles=8", 480, 65, NAN, 74.75, SAG_SIZED,
         SAG_CLAUSE_CODE_AMPS},
        {"past the table", "rated_volts=460,rated_hp=600,rated_amps=680", 480, 680, NAN, 782, SAG_SIZED,
         SAG_CLAUSE_PLATE_AMPS},
        {"no column of 380 V", "rated_volts=380,rated_hp=50,rated_amps=75", 400, 75, NAN, 86.25, SAG_SIZED,
         SAG_CLAUSE_PLATE_AMPS},
        {"wye-delta", P50 ",starting=wye_delta", 480, 65, 46.8, 74.75, SAG_SIZED, SAG_CLAUSE_WYE_DELTA},
        {"part-winding", P50 ",starting=part_winding", 480, 65, 40.625, 74.75, SAG_SIZED, SAG_CLAUSE_PART_WINDING},
        {"drive", P50 ",starting=drive", 480, 65, NAN, 74.75, SAG_SIZED, SAG_CLAUSE_DRIVE},
        {"wound rotor", P50 ",rotor=wound", 480, 65, NAN, 74.75, SAG_SIZED, SAG_CLAUSE_WOUND_ROTOR},
        {"50 Hz", "rated_volts=400,rated_kw=37,rated_amps=66,hz=50", 400, 66, NAN, NAN, SAG_SIZED_LOCAL,
         SAG_CLAUSE_LOCAL_CODE},
        {"design N", P50 ",design=N", 480, 62, NAN, NAN, SAG_SIZED_LOCAL, SAG_CLAUSE_LOCAL_CODE},
        {"2300 V", "rated_volts=2300,rated_hp=200,rated_amps=47", 2400, 47, NAN, NAN, SAG_SIZED_HIGH_VOLTS,
         SAG_CLAUSE_HIGH_VOLTS},
        {"nothing known", "rated_volts=230,rated_hp=20,phases=1", 240, NAN, NAN, NAN, SAG_SIZED_NOT,
         SAG_CLAUSE_PLATE_AMPS},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &(struct size_asked){.volts = rows[i].volts});
        if (m->sizing != rows[i].sizing || !rests_on(m->clauses, rows[i].clause))
            fail_msg("%s: sizing %d, clauses %llx", rows[i].name, m->sizing, (unsigned long long)m->clauses);
        check_amps(rows[i].name, m->code_amps.value, rows[i].code);
        check_amps(rows[i].name, m->leads_min.value, rows[i].leads);
        check_amps(rows[i].name, m->disconnect.value, rows[i].disconnect);
        if (rows[i].sizing != SAG_SIZED) { /* amps only */
            check_amps(rows[i].name, m->conductor_min.value, NAN);
            check_amps(rows[i].name, m->overload.value, NAN);
            check_size(rows[i].name, m->wire.size, NULL);
            check_size(rows[i].name, m->ground, NULL);
            for (int k = 0; k < SAG_DEVICE_KINDS; k++)
                check_amps(rows[i].name, m->device[k].amps.value, NAN);
        }
        size_free(&p);
    }
}

static void overloads(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double first, most;
    } rows[] = {
        {P50 ",service_factor=1.15", 77.5, 86.8},
        {P50 ",service_factor=1.0", 71.3, 80.6},
        {P50, 71.3, 80.6},
        {P50 ",service_factor=1.0,rise_c=40", 77.5, 86.8},
        {P50 ",service_factor=1.0,rise_c=80", 71.3, 80.6},
        {P50 ",service_factor=1.25,rise_c=80", 77.5, 86.8},
        {P50 ",duty=fire_pump", NAN, NAN},
        {P50 ",duty=jockey_pump", 71.3, 80.6},
        {P50 ",duty=spare", 71.3, 80.6},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &plain);
        check_amps(rows[i].plate, m->overload.value, rows[i].first);
        check_amps(rows[i].plate, m->overload_most.value, rows[i].most);
        assert_int_equal(rests_on(m->clauses, SAG_CLAUSE_FIRE_NO_OVERLOAD), isnan(rows[i].first));
        size_free(&p);
    }
}

#define FIRE "rated_volts=460,rated_hp=100,duty=fire_pump"

/* Locked amps: of the plate; the upper end of its letter (G 6.3, J 8.0 kVA/hp); the table's. */
static void fire_pumps(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double locked, device;
        const char *wire, *ground;
    } rows[] = {
        {"table", FIRE, 725, 800, "2/0", "1/0"},
        {"plate", FIRE ",locked_amps=850", 850, 1000, "2/0", "2/0"},
        {"letter G", FIRE ",code_letter=G", 790.71885, 800, "2/0", "1/0"},
        {"letter J", FIRE ",code_letter=J", 1004.08743, 1200, "2/0", "2/0"}, /* 3/0 by table, not above the wire */
        {"plate before letter", FIRE ",code_letter=J,locked_amps=700", 700, 700, "2/0", "1/0"},
        {"10 hp", "rated_volts=460,rated_hp=10,duty=fire_pump", 81, 90, "12", "12"},
        {"25 hp", "rated_volts=460,rated_hp=25,duty=fire_pump", 183, 200, "6", "6"},
        /* two sets of 4/0: a ground in each raceway, by the device and above one of the wires, 250.122(F) */
        {"300 hp", "rated_volts=460,rated_hp=300,duty=fire_pump", 2200, 2500, "4/0", "350"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        const struct sag_motor_size *m = size_plate(&p, rows[i].plate, &plain);
        check_amps(rows[i].name, m->locked_amps.value, rows[i].locked);
        for (int k = DUAL; k <= BREAKER; k++) {
            check_amps(rows[i].name, m->device[k].amps.value, rows[i].device);
            check_amps(rows[i].name, m->device[k].most.value, NAN);
        }
        check_amps("nothing but an instantaneous part", m->device[INSTANT].amps.value, NAN);
        check_size(rows[i].name, m->wire.size, rows[i].wire);
        check_size(rows[i].name, m->ground, rows[i].ground);
        size_free(&p);
    }
}

/* Nobody else's locked amps are asked for. */
static void locked_amps_of_other_duties(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double locked;
    } rows[] = {{P50 ",duty=jockey_pump", 363},
                {P50 ",duty=normal", NAN},
                {P50 ",duty=spare", NAN},
                {P50 ",locked_amps=400", NAN},
                {P50, NAN}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        check_amps(rows[i].plate, size_plate(&p, rows[i].plate, &plain)->locked_amps.value, rows[i].locked);
        size_free(&p);
    }
}

/* On a standby set it is sized as any motor's; 100 hp: 350 A, and 372 A lets it be no more. */
static void fire_pump_on_a_set(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, "G,,generator,480,500\nB,G,cable,,,,,,30,500\n",
              "tag,feeder,rated_volts,rated_hp,duty\nF,B,460,100,fire_pump\n", &plain);
    const struct sag_motor_size *m = size_motor(&p, "F");
    assert_true(!m->locked_for_ever && rests_on(m->clauses, SAG_CLAUSE_FIRE_ON_SET));
    check_amps("device", m->device[BREAKER].amps.value, 350);
    check_amps("most", m->device[BREAKER].most.value, 350);
    check_amps("overload", m->overload.value, NAN);
    size_free(&p);
}

TEST_LIST(sizes, cmocka_unit_test(devices_of_each_kind), cmocka_unit_test(wires), cmocka_unit_test(installed_wires),
          cmocka_unit_test(larger_grounds), cmocka_unit_test(code_amps), cmocka_unit_test(overloads),
          cmocka_unit_test(fire_pumps), cmocka_unit_test(locked_amps_of_other_duties),
          cmocka_unit_test(fire_pump_on_a_set))
