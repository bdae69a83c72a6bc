/* Sizes of feeders and services, worked by hand from the tables of NFPA 70-2023. Code amps used: 460 V:
   2 hp 3.4, 10 hp 14, 25 hp 34, 40 hp 52, 50 hp 65, 100 hp 124, 250 hp 302; 200 V: 10 hp 32.2. */
#include "size_help.h"

static const struct size_asked plain = {0};

#define HEAD          "tag,feeder,rated_volts,rated_hp,duty\n"
#define UTILITY       "U,,utility,480\n"
#define CABLE(id, on) id "," on ",cable,,,,,,30,"

/* A row of the supply; NAN: that number must be none. */
struct feeder_row {
    const char *name, *supply, *motors, *id;
    enum sag_device device;
    double wire_min, computed, device_amps, most;
    const char *wire;
    int sets;
    const char *ground;
};

static void check_feeder(const struct feeder_row *row)
{
    struct size_plant p;
    size_open(&p, row->supply, row->motors, &(struct size_asked){.device = row->device});
    const struct sag_feeder_size *f = size_feeder_of(&p, row->id);
    assert_int_equal(f->sized, !isnan(row->wire_min));
    check_amps(row->name, f->conductor_min.value, row->wire_min);
    check_amps(row->name, f->device_computed.value, row->computed);
    check_amps(row->name, f->device.value, row->device_amps);
    check_amps(row->name, f->device_most.value, row->most);
    check_size(row->name, f->wire.size, row->wire);
    if (f->wire.size && f->wire.sets != row->sets)
        fail_msg("%s: %d sets", row->name, f->wire.sets);
    check_size(row->name, f->ground, row->ground);
    size_free(&p);
}

/* Other load of 60 kW at 480 V and power factor 1: 72.16878 A, as continuous 90.21098 A; of 100 kW 120.28131,
 * 150.35163. */
static void motors_and_other_load(void **state)
{
    (void)state;
    static const char two[] = HEAD "a,B,460,50,\nb,B,460,25,\n";
    static const struct feeder_row rows[] = {
        {"breaker", UTILITY CABLE("B", "U") "1\n", two, "B", BREAKER, 115.25, 209, 200, 200, "1", 1, "6"},
        {"dual-element fuse", UTILITY CABLE("B", "U") "1\n", two, "B", DUAL, 115.25, 159, 150, 150, "1", 1, "6"},
        {"nontime fuse", UTILITY CABLE("B", "U") "1\n", two, "B", NONTIME, 115.25, 234, 225, 225, "1", 1, "4"},
        {"no instantaneous feeders", UTILITY CABLE("B", "U") "1\n", two, "B", INSTANT, 115.25, 209, 200, 200, "1", 1,
         "6"},
        {"kind of the row", UTILITY CABLE("B", "U") "1,,,,,dual_element_fuse\n", two, "B", BREAKER, 115.25, 159, 150,
         150, "1", 1, "6"},
        {"60 kW beside", UTILITY CABLE("B", "U") "1,,,60,1\n", two, "B", BREAKER, 205.46098, 299.21098, 250, 250, "4/0",
         1, "4"},
        {"60 kW, one motor", UTILITY CABLE("B", "U") "1,,,60,1\n", HEAD "a,B,460,50,\n", "B", BREAKER, 171.46098,
         265.21098, 250, 250, "2/0", 1, "4"},
        {"a spare counts", UTILITY CABLE("B", "U") "1\n", HEAD "a,B,460,50,\nb,B,460,25,spare\n", "B", BREAKER, 115.25,
         209, 200, 200, "1", 1, "6"},
        {"aluminium", UTILITY CABLE("B", "U") "1,al\n", two, "B", BREAKER, 115.25, 209, 200, 200, "1/0", 1, "4"},
        {"ambient 46 C", UTILITY CABLE("B", "U") "1,,,,,,,46\n", two, "B", BREAKER, 115.25, 209, 200, 200, "2/0", 1,
         "6"},
        {"6 in the raceway", UTILITY CABLE("B", "U") "1,,,,,,,,6\n", two, "B", BREAKER, 115.25, 209, 200, 200, "1/0", 1,
         "6"},
        {"two sets as installed", UTILITY CABLE("B", "U") "1/0,,2\n", two, "B", BREAKER, 115.25, 209, 200, 300, "1/0",
         2, "6"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_feeder(&rows[i]);
}

/* What a device must carry: all motors at code amps and 125 % of other load, which counts as continuous. */
static void device_carries(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY CABLE("B", "U") "1,,,60,1\n", HEAD "a,B,460,50,\nb,B,460,25,\n", &plain);
    check_amps("carries", size_feeder_of(&p, "B")->carry_min.value, 65 + 34 + 90.21098);
    size_free(&p);
    size_open(&p, UTILITY CABLE("B", "U") "1,,,60\n", HEAD "a,B,460,50,\n", &plain); /* power factor 0.9 when blank */
    check_amps("load", size_feeder_of(&p, "B")->load_amps, 72.16878 / 0.9);
    size_free(&p);
}

/* 430.62(B): wires larger than need be carry a larger device; up to 800 A the next size up, above it none. */
static void wires_for_the_future(void **state)
{
    (void)state;
    static const char three[] = HEAD "a,B,460,100,\nb,B,460,100,\nc,B,460,100,\n";
    static const struct feeder_row rows[] = {
        {"just enough", UTILITY CABLE("B", "U") "500,,2\n", HEAD "a,B,460,250,\nb,B,460,250,\n", "B", BREAKER, 679.5,
         1102, 1000, 1000, "500", 2, "2/0"},
        {"760 A, up", UTILITY CABLE("B", "U") "500,,2\n", three, "B", BREAKER, 403, 598, 500, 800, "4/0", 2, "2"},
        {"840 A, down", UTILITY CABLE("B", "U") "600,,2\n", three, "B", BREAKER, 403, 598, 500, 800, "4/0", 2, "2"},
        {"1140 A, down", UTILITY CABLE("B", "U") "500,,3\n", three, "B", BREAKER, 403, 598, 500, 1000, "1/0", 3, "2"},
        {"too small", UTILITY CABLE("B", "U") "1/0\n", three, "B", BREAKER, 403, 598, 500, 500, "4/0", 2, "2"},
        /* 900 kcmil of 520 A is hardly made */
        {"one set as installed", UTILITY CABLE("B", "U") "1000,,1\n", HEAD "a,B,460,350,\n", "B", BREAKER, 517.5, 1200,
         1200, 1200, "1000", 1, "3/0"},
        {"one motor on large wires", UTILITY CABLE("B", "U") "500\n", HEAD "a,B,460,50,\n", "B", BREAKER, 81.25, 175,
         175, 400, "3", 1, "6"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_feeder(&rows[i]);
}

static void rows_without_sizes(void **state)
{
    (void)state;
    static const struct feeder_row rows[] = {
        {"nothing below", UTILITY CABLE("B", "U") "1\n" CABLE("C", "U") "1\n", HEAD "a,B,460,50,\n", "C", BREAKER, NAN,
         NAN, NAN, NAN, NULL, 0, NULL},
        {"IEC plates only", UTILITY CABLE("B", "U") "1\n",
         "tag,feeder,rated_volts,rated_kw,rated_amps,design\na,B,460,37,62,N\nb,B,460,11,20,N\n", "B", BREAKER, NAN,
         NAN, NAN, NAN, NULL, 0, NULL},
        {"over 1000 V", "U,,utility,4160\n" CABLE("B", "U") "1\n", HEAD "a,B,4000,500,\n", "B", BREAKER, NAN, NAN, NAN,
         NAN, NULL, 0, NULL},
        {"no amps known", "U,,utility,240\n" CABLE("B", "U") "1\n",
         "tag,feeder,rated_volts,rated_hp,phases\na,B,230,20,1\n", "B", BREAKER, NAN, NAN, NAN, NAN, NULL, 0, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_feeder(&rows[i]);
}

/* An IEC motor among others: its 62 A count as a motor's, and as if 430.52 had given it a device: 155 A, 175 A. */
static void iec_among_others(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, NULL, "tag,rated_volts,rated_hp,rated_kw,rated_amps,design\na,460,10,,,B\nb,460,,37,62,N\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "MAIN");
    check_amps("wire", f->conductor_min.value, 1.25 * 62 + 14);
    check_amps("branch", f->branch_device, 175);
    check_amps("sum", f->device_computed.value, 175 + 14);
    check_amps("device", f->device.value, 175);
    size_free(&p);
}

/* Other load alone, protected as any feeder: up, and the wire carries it. */
static void other_load_alone(void **state)
{
    (void)state;
    static const struct feeder_row rows[] = {
        {"100 kW", UTILITY CABLE("B", "U") "1,,,,\n" CABLE("C", "U") "1/0,,,100,1\n", HEAD "a,B,460,50,\n", "C",
         BREAKER, 150.35163, 150.35163, 175, 175, "2/0", 1, "6"},
        /* above 800 A the wire carries its device's rating, 240.4(C): 1503.5 A have 1600 A, 5 sets of 335 A */
        {"1000 kW", UTILITY CABLE("B", "U") "1\n" CABLE("C", "U") "500,,,1000,1\n", HEAD "a,B,460,50,\n", "C", BREAKER,
         1503.51631, 1503.51631, 1600, 1600, "400", 5, "4/0"},
        /* 639 A have 700 A; up to 800 A wires of 639 A will do: 2 sets of 335 A */
        {"425 kW", UTILITY CABLE("B", "U") "1\n" CABLE("C", "U") "500,,,425,1\n", HEAD "a,B,460,50,\n", "C", BREAKER,
         638.99443, 638.99443, 700, 700, "400", 2, "1/0"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_feeder(&rows[i]);
}

/* Amps behind a transformer of 480 to 208 V count with 208/480 = 0.43333: 32.2 A as 13.95333 A, its 90 A breaker as 39
   A, which is more than the 35 A of the motor of 14 A. */
static void behind_a_transformer(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY CABLE("A", "U") "8\nT,A,transformer,,75,3,480,208\n" CABLE("P", "T") "8\n",
              HEAD "a,A,460,10,\nb,P,200,10,\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "P");
    check_amps("wire at 208 V", f->conductor_min.value, 40.25);
    check_amps("device at 208 V", f->device.value, 90);
    f = size_feeder_of(&p, "A");
    assert_int_equal(f->largest, 0);
    assert_int_equal(f->device_motor, 1);
    check_amps("largest", f->largest_amps, 14);
    check_amps("wire", f->conductor_min.value, 17.5 + 32.2 * 208 / 480);
    check_amps("branch", f->branch_device, 39);
    check_amps("others", f->device_others_amps, 14);
    check_amps("device", f->device.value, 50);
    check_amps("the service has the same", size_feeder_of(&p, "U")->device.value, 50);
    assert_true(size_feeder_of(&p, "U")->service);
    assert_false(size_feeder_of(&p, "T")->sized); /* it has rows of its own */
    assert_false(size_feeder_of(&p, "A")->service);
    size_free(&p);
}

/* The step down would end below all amps together: wires for the next size, 430.62(B). */
static void device_that_carries(void **state)
{
    (void)state;
    char motors[800] = HEAD;
    struct size_plant p;
    for (int i = 0; i < 21; i++)
        snprintf(motors + strlen(motors), sizeof motors - strlen(motors), "m%d,B,460,40,\n", i);
    size_open(&p, UTILITY CABLE("B", "U") "500,,3\n", motors, &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "B");
    check_amps("computed", f->device_computed.value, 150 + 20 * 52); /* 1000 A would not carry 21 x 52 */
    check_amps("device", f->device.value, 1200);
    assert_true(f->wires_for_device && f->wire.amps >= 1200 && rests_on(f->clauses, SAG_CLAUSE_FEEDER_FUTURE));
    check_amps("least by 430.24", f->conductor_min.value, 1.25 * 52 + 20 * 52);
    size_free(&p);
    size_open(&p, UTILITY CABLE("B", "U") "500,,3,497,1\n", HEAD "a,B,460,5,\n", &plain);
    f = size_feeder_of(&p, "B");
    check_amps("load and a small motor", f->device.value, 800); /* 7.6 + 747.2 A; 20 + 747.2 steps down to 700 */
    size_free(&p);
}

static void only_motors_over_1000_volts(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY "T,U,transformer,,1000,5,480,4160\n" CABLE("B", "T") "4\n", HEAD "a,B,4000,500,\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "U");
    assert_true(!f->sized && rests_on(f->clauses, SAG_CLAUSE_HIGH_VOLTS) &&
                !rests_on(f->clauses, SAG_CLAUSE_LOCAL_CODE));
    size_free(&p);
}

/* 30 kVA: 36.08 A, a 50 A device and wires of 45.1 A, whatever hangs behind it; with a device behind it to 90 A, as
   far as its wires let it: 85 A to 90 A, 55 A to 60 A. */
static void cable_of_a_transformer(void **state)
{
    (void)state;
    static const struct {
        const char *cable, *behind;
        double most, installed;
    } rows[] = {
        {"3,,,,,,100\n", "8,,,,,,60\n", 90, 100}, {"6,,,,,,100\n", "8,,,,,,60\n", 60, 100}, {"8\n", "8\n", 50, NAN}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        char supply[300];
        snprintf(supply, sizeof supply, UTILITY "%s%sT,A,transformer,,30,3,480,208\n%s%s", CABLE("A", "U"),
                 rows[i].cable, CABLE("B", "T"), rows[i].behind);
        size_open(&p, supply, HEAD "a,B,200,1,\n", &plain);
        const struct sag_feeder_size *f = size_feeder_of(&p, "A");
        check_amps("needs", f->conductor_min.value, 1.25 * 30e3 / (sqrt(3.0) * 480));
        check_amps("device", f->device.value, 50);
        check_amps("most", f->device_most.value, rows[i].most);
        check_amps("stands for the primary", size_transformer_of(&p, "T")->installed[SAG_PRIMARY], rows[i].installed);
        size_free(&p);
    }
}

/* Behind a transformer wires carry their device, without the step up; a panel without a motor goes by 215.2. */
static void panel_behind_a_transformer(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY "T,U,transformer,,75,3,480,208\n" CABLE("B", "T") "10,,,20,0.9\n" CABLE("C", "T") "10\n",
              HEAD "a,C,208,1,\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "B");
    check_amps("needs", f->conductor_min.value, 1.25 * 20e3 / (0.9 * sqrt(3.0) * 208)); /* 77.1 A */
    check_amps("device", f->device.value, 80);
    check_size("85 A at 60 C, not 4 AWG of 70 A", f->wire.size, "3");
    assert_true(rests_on(f->clauses, SAG_CLAUSE_FEEDER_LOAD) && !rests_on(f->clauses, SAG_CLAUSE_FEEDER_DEVICE));
    size_free(&p);
}

/* --- pump rooms ----------------------------------------------------------------------------------------------------
 */

#define ROOM HEAD "F,P,460,100,fire_pump\nJ,P,460,2,jockey_pump\n"

static void pump_room_ahead_of_the_main(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY CABLE("P", "U") "2/0\n" CABLE("B", "U") "3\n", ROOM "a,B,460,50,\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "P");
    assert_true(f->fire);
    check_amps("its wire", f->conductor_min.value, 1.25 * 127.4);
    check_amps("its device carries", f->device_computed.value, 725 + 25);
    check_amps("its device", f->device.value, 800);
    f = size_feeder_of(&p, "U");
    assert_true(f->service && !f->fire && rests_on(f->clauses, SAG_CLAUSE_FIRE_AHEAD));
    assert_int_equal(f->ahead, 2);
    assert_int_equal(f->motors, 1);
    check_amps("main wire", f->conductor_min.value, 81.25);
    check_amps("main device", f->device.value, 175);
    size_free(&p);
}

/* Other load without a motor is a main's all the same: 500 kW at pf 0.9 are 668.2 A. */
static void pump_room_beside_load_alone(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY CABLE("P", "U") "2/0\n" CABLE("B", "U") "500,,3,500\n", ROOM, &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "U");
    assert_true(!f->fire && f->ahead == 2);
    check_amps("load", f->load_amps, 500e3 / (0.9 * sqrt(3.0) * 480));
    size_free(&p);
}

/* A service that is a pump room is its own; so are two pumps: the one that locks with more, the other runs. */
static void service_of_a_pump_room(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY CABLE("P", "U") "500\n", ROOM "G,P,460,50,fire_pump\n", &plain);
    for (int i = 0; i < 2; i++) {
        const struct sag_feeder_size *f = size_feeder_of(&p, i ? "U" : "P");
        assert_int_equal(f->ahead, 0);
        check_amps("wire", f->conductor_min.value, 1.25 * (124 + 3.4 + 65));
        check_amps("device carries", f->carry_min.value, 725 + 25 + 65);
        check_amps("device", f->device.value, 1000);
    }
    size_free(&p);
}

/* Beside other motors 430.24 still holds: 25 hp of a fire pump (34 A), 200 hp (240 A) and 60 kW (72.16878 A). */
static void fire_pump_beside_a_larger_motor(void **state)
{
    (void)state;
    static const struct {
        const char *name, *motors;
        double wire;
        enum sag_clause clause;
    } rows[] = {
        {"larger motor", HEAD "F,B,460,25,fire_pump\na,B,460,200,\n", 1.25 * (240 + 72.16878) + 34,
         SAG_CLAUSE_FEEDER_CONDUCTOR},
        {"two pumps", HEAD "F,B,460,50,fire_pump\nG,B,460,100,fire_pump\nJ,B,460,40,jockey_pump\n",
         1.25 * (65 + 124 + 52) + 72.16878, SAG_CLAUSE_FIRE_CONDUCTOR},
        /* accessories of a pump room would count 100 % (695.6(B)); whether the load is one the list does not say */
        {"pump alone", HEAD "F,B,460,25,fire_pump\n", 1.25 * (34 + 72.16878), SAG_CLAUSE_FEEDER_CONDUCTOR},
        {"smaller motor, load", HEAD "F,B,460,25,fire_pump\na,B,460,10,\n", 1.25 * (34 + 72.16878) + 14,
         SAG_CLAUSE_FEEDER_CONDUCTOR},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        size_open(&p, "G,,generator,480,10\n" CABLE("B", "G") "500,,,60,1\n", rows[i].motors, &plain);
        const struct sag_feeder_size *f = size_feeder_of(&p, "B");
        check_amps(rows[i].name, f->conductor_min.value, rows[i].wire);
        assert_true(f->fire && rests_on(f->clauses, rows[i].clause));
        size_free(&p);
    }
}

/* On a set there is no main to tap ahead of. 500 kVA at 480 V: 601.4065 A, 115 %: 691.6175 A. */
static void pump_room_on_a_set(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, "G,,generator,480,500\n" CABLE("P", "G") "2/0\n" CABLE("B", "G") "3\n", ROOM "a,B,460,50,\n", &plain);
    const struct sag_feeder_size *f = size_feeder_of(&p, "G");
    assert_true(f->on_set && f->fire && !f->locked_for_ever);
    assert_int_equal(f->ahead, 0);
    assert_int_equal(f->motors, 3);
    check_amps("wire", f->conductor_min.value, 691.61746);
    assert_true(rests_on(f->clauses, SAG_CLAUSE_GENERATOR) && f->conductor_min.from_memory);
    check_amps("its own device", f->device.value, NAN);
    check_amps("sum", f->code_sum, 124 + 3.4 + 65);
    check_amps("rated", f->set_amps, 500e3 / (sqrt(3.0) * 480));
    check_size("ahead of it no equipment ground", f->ground, NULL);
    f = size_feeder_of(&p, "P");
    check_amps("room's wire", f->conductor_min.value, 1.25 * 127.4);
    check_amps("room's device", f->device.value, 350);
    size_free(&p);
}

TEST_LIST(feeder_sizes, cmocka_unit_test(motors_and_other_load), cmocka_unit_test(device_carries),
          cmocka_unit_test(wires_for_the_future), cmocka_unit_test(rows_without_sizes),
          cmocka_unit_test(iec_among_others), cmocka_unit_test(other_load_alone),
          cmocka_unit_test(behind_a_transformer), cmocka_unit_test(device_that_carries),
          cmocka_unit_test(panel_behind_a_transformer), cmocka_unit_test(cable_of_a_transformer),
          cmocka_unit_test(only_motors_over_1000_volts), cmocka_unit_test(pump_room_beside_load_alone),
          cmocka_unit_test(pump_room_ahead_of_the_main), cmocka_unit_test(service_of_a_pump_room),
          cmocka_unit_test(fire_pump_beside_a_larger_motor), cmocka_unit_test(pump_room_on_a_set))
