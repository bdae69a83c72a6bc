/* Devices and wires of transformers, worked by hand from the tables of NFPA 70-2023. */
#include "size_help.h"

static const struct size_asked plain = {0};

#define HEAD          "tag,feeder,rated_volts,rated_hp,duty\n"
#define UTILITY       "U,,utility,480\n"
#define CABLE(id, on) id "," on ",cable,,,,,,30,"

/* A transformer of 480 to 208 V without devices below it; NAN: none. */
static void transformers(void **state)
{
    (void)state;
    static const struct {
        const char *name, *kva, *device;
        double rated, primary, primary_most, secondary, wire[SAG_WINDINGS];
    } rows[] = {
        {"75 kVA", "75", "", 90.21098, 125, 225, 300, {112.76373, 300}},
        {"112.5 kVA", "112.5", "", 135.31647, 175, 300, 400, {169.14559, 400}},
        {"1000 kVA", "1000", "", 1202.81305, 1600, 3000, 4000, {1600, 4000}}, /* 1503.5 A; 240.4(C) as above 800 A */
        {"5 kVA, breakers", "5", "", 6.01407, NAN, 15, 20, {NAN, 20}},        /* 10.04 A has no breaker below it */
        {"5 kVA, fuse", "5", "dual_element_fuse", 6.01407, 10, 15, 20, {10, 20}},
        {"1.5 kVA, fuse", "1.5", "nontime_fuse", 1.80422, 3, 3, NAN, {3, NAN}}, /* 300 %: 5.41; 250 %: 4.51 */
        /* 300 %: 3.25; 250 %: 2.71, which would be 1 A: a secondary device does not take from the primary */
        {"0.9 kVA, fuse", "0.9", "nontime_fuse", 1.0825318, 3, 3, NAN, {3, NAN}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        char supply[300];
        snprintf(supply, sizeof supply, UTILITY "T,U,transformer,,%s,3,480,208,,,,,,,%s\n" CABLE("B", "T") "10\n",
                 rows[i].kva, rows[i].device);
        size_open(&p, supply, HEAD "a,B,200,0.5,\n", &plain);
        const struct sag_transformer_size *t = size_transformer_of(&p, "T");
        assert_true(t->sized && !t->fire && !t->has_secondary);
        check_amps(rows[i].name, t->rated_amps[SAG_PRIMARY].value, rows[i].rated);
        check_amps(rows[i].name, t->device[SAG_PRIMARY].value, rows[i].primary);
        check_amps(rows[i].name, t->most[SAG_PRIMARY].value, rows[i].primary_most);
        check_amps(rows[i].name, t->device[SAG_SECONDARY].value, rows[i].secondary);
        for (int w = 0; w < SAG_WINDINGS; w++)
            check_amps(rows[i].name, t->conductor_min[w].value, rows[i].wire[w]);
        size_free(&p);
    }
}

/* 15 kVA: 18.04 A, a 25 A device. 12 AWG has 25 A at 75 C, but 240.4(D) keeps it at 20 A. */
static void small_wires_at_a_transformer(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY "T,U,transformer,,15,3,480,208\n" CABLE("B", "T") "10\n", HEAD "a,B,200,0.5,\n",
              &(struct size_asked){.terminal_c = 75});
    const struct sag_transformer_size *t = size_transformer_of(&p, "T");
    check_amps("device", t->device[SAG_PRIMARY].value, 25);
    check_size("wire", t->wire[SAG_PRIMARY].size, "10");
    size_free(&p);
}

/* Where none is installed the kind asked for counts: 5 kVA have a 10 A fuse, and no breaker so small. */
static void kind_that_is_asked_for(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY "T,U,transformer,,5,3,480,208\n" CABLE("B", "T") "10\n", HEAD "a,B,200,0.5,\n",
              &(struct size_asked){.device = DUAL});
    check_amps("device", size_transformer_of(&p, "T")->device[SAG_PRIMARY].value, 10);
    size_free(&p);
}

/* With devices on every row below it they are its secondary protection. */
static void secondary_devices(void **state)
{
    (void)state;
    static const struct {
        const char *rows;
        double installed;
    } rows[] = {{CABLE("B", "T") "2,,,,,,100\n" CABLE("C", "T") "2,,,,,,60\n", 160},
                {CABLE("B", "T") "2,,,,,,100\n" CABLE("C", "T") "2\n", NAN},
                {CABLE("B", "T") "2\n", NAN}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        char supply[400];
        snprintf(supply, sizeof supply, UTILITY "T,U,transformer,,75,3,480,208\n%s", rows[i].rows);
        size_open(&p, supply, HEAD "a,B,200,10,\n", &plain);
        const struct sag_transformer_size *t = size_transformer_of(&p, "T");
        assert_int_equal(t->has_secondary, !isnan(rows[i].installed));
        check_amps("together", t->installed[SAG_SECONDARY], rows[i].installed);
        size_free(&p);
    }
}

static void transformer_over_1000_volts(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, "U,,utility,4160\nT,U,transformer,,500,5,4160,480\n" CABLE("B", "T") "3\n", HEAD "a,B,460,50,\n",
              &plain);
    const struct sag_transformer_size *t = size_transformer_of(&p, "T");
    assert_true(t->present && !t->sized && rests_on(t->clauses, SAG_CLAUSE_HIGH_VOLTS));
    check_amps("rated", t->rated_amps[SAG_PRIMARY].value, 69.39307);
    check_amps("device", t->device[SAG_PRIMARY].value, NAN);
    const struct sag_feeder_size *f = size_feeder_of(&p, "T");
    assert_true(f->service && f->sized); /* the main behind it */
    check_amps("main", f->device.value, 175);
    assert_false(size_feeder_of(&p, "U")->sized);
    size_free(&p);
}

/* 695.5: 25 hp at 200 V, 78.2 A, 420 A locked: on the primary 182 A, 200 A; sqrt3 x 208 x 97.75 = 35.216 kVA. */
static void transformer_of_a_pump_room(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, UTILITY "T,U,transformer,,45,3,480,208\n" CABLE("P", "T") "2\n", HEAD "F,P,200,25,fire_pump\n",
              &plain);
    const struct sag_transformer_size *t = size_transformer_of(&p, "T");
    assert_true(t->fire && rests_on(t->clauses, SAG_CLAUSE_FIRE_TRANSFORMER));
    check_amps("kVA", t->fire_va, sqrt(3.0) * 208 * 97.75);
    check_amps("carries", t->computed[SAG_PRIMARY].value, 420.0 * 208 / 480);
    check_amps("device", t->device[SAG_PRIMARY].value, 200);
    check_amps("no secondary device", t->device[SAG_SECONDARY].value, NAN);
    check_amps("no other limit", t->most[SAG_PRIMARY].value, NAN);
    check_amps("wires go by the pumps", t->conductor_min[SAG_SECONDARY].value, 1.25 * 78.2);
    check_amps("on the primary too", t->conductor_min[SAG_PRIMARY].value, 1.25 * 78.2 * 208 / 480);
    const struct sag_feeder_size *behind = size_feeder_of(&p, "P");
    check_amps("nor one in the cable behind it", behind->device.value, NAN);
    assert_true(rests_on(behind->clauses, SAG_CLAUSE_FIRE_TRANSFORMER));
    size_free(&p);
    /* 59.4 + 4.6 + 59.4 and (59.4 + 59.4) + 4.6 differ as binary numbers; it is a room of pumps all the same */
    size_open(&p, UTILITY "T,U,transformer,,75,3,480,208\n" CABLE("P", "T") "1/0\n",
              HEAD "F,P,208,20,fire_pump\nJ,P,208,1,jockey_pump\nG,P,208,20,fire_pump\n", &plain);
    t = size_transformer_of(&p, "T");
    assert_true(t->fire);
    check_amps("kVA of three", t->fire_va, sqrt(3.0) * 208 * 1.25 * (59.4 + 59.4 + 4.6));
    check_amps("one locked, jockey locked, one runs", t->computed[SAG_PRIMARY].value, (321 + 33 + 59.4) * 208 / 480);
    size_free(&p);
}

/* One that feeds other motors too, or hangs on a set, is an ordinary one. */
static void transformer_of_more_than_a_pump_room(void **state)
{
    (void)state;
    static const struct {
        const char *head, *motors;
        bool fire;
    } rows[] = {{"U,,utility,480\n", HEAD "F,P,200,25,fire_pump\nJ,P,200,1,jockey_pump\n", true},
                {"U,,utility,480\n", HEAD "F,P,200,25,fire_pump\na,P,200,10,\n", false},
                {"U,,generator,480,500\n", HEAD "F,P,200,25,fire_pump\n", false},
                {"U,,utility,480\n", HEAD "a,P,200,10,\nJ,P,200,1,jockey_pump\n", false}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        char supply[200];
        snprintf(supply, sizeof supply, "%sT,U,transformer,,75,3,480,208\n" CABLE("P", "T") "2\n", rows[i].head);
        size_open(&p, supply, rows[i].motors, &plain);
        const struct sag_transformer_size *t = size_transformer_of(&p, "T");
        assert_int_equal(t->fire, rows[i].fire);
        check_amps("secondary device", t->device[SAG_SECONDARY].value, rows[i].fire ? NAN : 300);
        size_free(&p);
    }
}

TEST_LIST(transformer_sizes, cmocka_unit_test(transformers), cmocka_unit_test(small_wires_at_a_transformer),
          cmocka_unit_test(kind_that_is_asked_for), cmocka_unit_test(secondary_devices),
          cmocka_unit_test(transformer_over_1000_volts), cmocka_unit_test(transformer_of_a_pump_room),
          cmocka_unit_test(transformer_of_more_than_a_pump_room))
