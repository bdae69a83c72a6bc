/* Advice: what is proposed is done to the texts by hand, and the start is judged anew; the figures must be those that
   were printed. */
#include "start_help.h"

static void advise(struct start_plant *p, enum sag_start_order order, size_t motor, struct sag_advice_list *list)
{
    struct sag_start_plan plan = start_plant_plan(p, order);
    *list = (struct sag_advice_list){0};
    start_plant_judge(p, order);
    assert_int_equal(sag_advise_start(&plan, &p->supply, &p->results[motor], list), SAG_OK);
}

static const struct sag_advice *kind_of(const struct sag_advice_list *list, const char *kind)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].kind, kind) == 0)
            return &list->items[i];
    return NULL;
}

/* A plant that fails, the kind of advice looked for, and the same plant with that advice followed. */
static const struct followed {
    const char *kind, *supply, *motors, *words;
    const char *supply_then, *motors_then;
} followed[] = {
    {"shed", "U,,utility,480,100\nA,U,cable,,,,,,,,,1000,2\n",
     START_MOTORS "M,A,460,25,1770,4,93.6,0.85,B,182,135,220,constant,100,0.2,0.2\n"
                  "BIG,A,460,100,1780,4,95,0.86,B,725,150,220,pump,95,0.5,0.5\n",
     "switch off before: BIG", NULL,
     START_MOTORS "M,A,460,25,1770,4,93.6,0.85,B,182,135,220,constant,100,0.2,0.2\n"
                  "BIG,A,460,100,1780,4,95,0.86,B,725,150,220,pump,95,0.5,0.5,,,,,,spare\n"},
    {"tap", "U,,utility,480,100\nA,U,transformer,,,75,5,2,480,480,-2.5\n",
     START_MOTORS "M,A,460,40,1775,4,94.1,0.85,B,290,140,210,constant,90,0.2,0.2\n", "tap of A to ",
     "U,,utility,480,100\nA,U,transformer,,,75,5,2,480,480,%s\n", NULL},
    {"conductor", "U,,utility,480,100\nA,U,cable,,,,,,,,,700,8\n",
     START_MOTORS "M,A,460,25,1770,4,93.6,0.85,B,182,150,220,constant,90,0.2,0.2\n", "conductors of A ",
     "U,,utility,480,100\nA,U,cable,,,,,,,,,700,%s\n", NULL},
    {"transformer", "U,,utility,480,100\nA,U,transformer,,,75,6,2,480,480\n",
     START_MOTORS "M,A,460,60,1780,4,95,0.86,B,435,140,210,constant,90,0.5,0.5\n", "A with ",
     "U,,utility,480,100\nA,U,transformer,,,%s,6,2,480,480\n", NULL},
};

/* The first number after the words: the size, tap or rating that is proposed. */
static void proposed(const char *change, const char *words, char *out, size_t room)
{
    const char *at = strstr(change, words);
    if (!at) {
        fail_msg("\"%s\" does not say \"%s\"", change, words);
        return;
    }
    at += strlen(words);
    snprintf(out, room, "%.*s", (int)strcspn(at, " "), at);
}

static void check_followed(const struct followed *row)
{
    struct start_plant p, then;
    struct sag_advice_list list;
    char supply[400], value[40];
    start_plant_open(&p, row->supply, row->motors);
    advise(&p, SAG_START_ALONE, 0, &list);
    check_text(row->kind, sag_verdict_word(p.results[0].worst), "fail");
    const struct sag_advice *a = kind_of(&list, row->kind);
    check_text("kind", a ? a->kind : "none", row->kind);
    if (!a)
        return;
    proposed(a->change, row->words, value, sizeof value);
    snprintf(supply, sizeof supply, row->supply_then ? row->supply_then : row->supply, value);
    start_plant_open(&then, supply, row->motors_then ? row->motors_then : row->motors);
    start_plant_judge(&then, SAG_START_ALONE);
    if (then.results[0].worst == SAG_VERDICT_FAIL)
        fail_msg("%s: followed, it still fails", row->kind);
    const struct sag_start_case *c = &then.results[0].of[a->which];
    check_percent(row->kind, c->volts_lowest.value, a->start.volts_lowest.value, 1e-6);
    check_percent(row->kind, c->time_to_speed.value, a->start.time_to_speed.value, 1e-6);
    check_percent(row->kind, c->amps_peak.value, a->start.amps_peak.value, 1e-6);
    sag_advice_free(&list);
    start_plant_free(&p);
    start_plant_free(&then);
}

static void followed_by_hand(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof followed / sizeof *followed; i++)
        check_followed(&followed[i]);
}

#define WEAK "U,,utility,480,100\nA,U,transformer,,,75,6,2,480,480\n"

/* A loaded compressor in a wye: unloaded it turns. */
static void unloaded(void **state)
{
    (void)state;
    struct start_plant p;
    struct sag_advice_list list;
    start_plant_open(&p, "U,,utility,480,100\n",
                     START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,compressor,90,0.4,0.4,12,,wye_delta,,5\n");
    advise(&p, SAG_START_ALONE, 0, &list);
    const struct sag_advice *a = kind_of(&list, "load");
    if (!a) {
        fail_msg("no advice to unload");
        return;
    }
    assert_non_null(strstr(a->change, "start with its load at no more than 35 %"));
    assert_true(a->start.least_surplus.value > 0);
    assert_true(a->verdict != SAG_VERDICT_FAIL);
    sag_advice_free(&list);
    start_plant_free(&p);
}

/* Nothing is said of a start that passes, of one that only its maker can judge, and of one that nothing helps. A fire
   pump's starter is not touched. */
static void when_silent(void **state)
{
    (void)state;
    static const struct {
        const char *name, *supply, *motors;
    } rows[] = {
        {"passes", "U,,utility,480,100\n", START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4\n"},
        {"inertia alone", "U,,utility,480,100\n",
         START_MOTORS "M,U,460,25,1770,4,93.6,0.85,B,182,170,230,fan,90,12,0.2\n"},
    };
    struct start_plant p;
    struct sag_advice_list list;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        start_plant_open(&p, rows[i].supply, rows[i].motors);
        advise(&p, SAG_START_ALONE, 0, &list);
        if (list.count || list.tried)
            fail_msg("%s: advised", rows[i].name);
        sag_advice_free(&list);
        start_plant_free(&p);
    }
    start_plant_open(&p, WEAK,
                     START_MOTORS "M,A,460,60,1780,4,95,0.86,B,435,140,210,pump,90,0.5,0.5,12,,,,,fire_pump\n");
    advise(&p, SAG_START_ALONE, 0, &list);
    assert_null(kind_of(&list, "starter"));
    assert_null(kind_of(&list, "setting"));
    sag_advice_free(&list);
    start_plant_free(&p);
}

/* A sequence in which the small one comes last, when the large one holds volts down; first, it passes. */
static void another_order(void **state)
{
    (void)state;
    struct start_plant p;
    struct sag_advice_list list;
    start_plant_open(&p, "U,,utility,480,100\nA,U,cable,,,,,,,,,1000,2\n",
                     START_MOTORS "BIG,A,460,100,1780,4,95,0.86,B,725,150,220,pump,95,0.5,0.5,12,,,,,,1,\n"
                                  "M,A,460,25,1770,4,93.6,0.85,B,182,135,220,constant,100,0.2,0.2,12,,,,,,2,30\n");
    advise(&p, SAG_START_SEQUENCE, 1, &list);
    assert_int_equal(p.results[1].worst, SAG_VERDICT_FAIL);
    const struct sag_advice *a = kind_of(&list, "order");
    assert_non_null(a);
    check_text("words", a->change, "start it first in the sequence");
    sag_advice_free(&list);
    start_plant_free(&p);
}

/* What runs before a sequence can be switched off for it, what is part of it cannot. */
static void shed_before_a_sequence(void **state)
{
    (void)state;
    static const char *const orders[] = {"", ",,,,,,1,\n"};
    for (size_t i = 0; i < 2; i++) {
        struct start_plant p;
        struct sag_advice_list list;
        char motors[1200];
        snprintf(motors, sizeof motors, "%s%s%s",
                 START_MOTORS "M,A,460,25,1770,4,93.6,0.85,B,182,135,220,constant,100,0.2,0.2,12,,,,,,2,30\n"
                              "BIG,A,460,100,1780,4,95,0.86,B,725,150,220,pump,95,0.5,0.5,12",
                 orders[i], "\n");
        start_plant_open(&p, "U,,utility,480,100\nA,U,cable,,,,,,,,,1000,2\n", motors);
        advise(&p, SAG_START_SEQUENCE, 0, &list);
        assert_int_equal(p.results[0].worst, SAG_VERDICT_FAIL);
        const struct sag_advice *a = kind_of(&list, "shed");
        check_text("shed", a ? a->change : "none", i == 0 ? "switch off before: BIG" : "none");
        sag_advice_free(&list);
        start_plant_free(&p);
    }
}

/* Taps against every position tried here one by one. */
static void taps(void **state)
{
    (void)state;
    static const char motors[] = START_MOTORS "OLD,A,440,20,1765,4,93,0.85,B,145,150,220,pump,90,0.1,0.1\n"
                                              "NEW,A,460,20,1765,4,93,0.85,B,145,150,220,pump,90,0.1,0.1\n"
                                              "LOW,A,400,5,1745,4,87.5,0.82,B,46,185,225,pump,90,0.03,0.02\n";
    static const double positions[] = {-5, -2.5, 0, 2.5, 5};
    struct start_plant p;
    struct sag_tap_advice advice;
    size_t most = 0;
    start_plant_open(&p, "U,,utility,480,100\nA,U,transformer,,,112.5,4,2,480,480,5\n", motors);
    assert_int_equal(sag_advise_taps(&p.plant, &p.grids[0], &p.supply, &advice), SAG_OK);
    for (size_t i = 0; i < sizeof positions / sizeof *positions; i++) {
        struct start_plant q;
        char supply[200];
        snprintf(supply, sizeof supply, "U,,utility,480,100\nA,U,transformer,,,112.5,4,2,480,480,%g\n", positions[i]);
        start_plant_open(&q, supply, motors);
        struct sag_motor_volts volts[3];
        struct sag_diags diags = {0};
        const struct sag_volts_job job = {&q.grids[0], &q.supply, &q.list, {true, true, true, false}};
        assert_int_equal(sag_find_volts(&job, NULL, volts, NULL, &diags), SAG_OK);
        size_t in_band = 0;
        for (size_t m = 0; m < 3; m++) {
            double rated = m == 0 ? 440 : m == 1 ? 460 : 400;
            bool inside = true;
            for (int c = 0; c < SAG_CASE_MEASURED; c++) /* plus and minus 10 %: NEMA MG 1 12.44.1 */
                inside = inside && fabs(volts[m].at_motor[c] / rated - 1) <= 0.1;
            in_band += inside;
        }
        most = in_band > most ? in_band : most;
        if (positions[i] == 5)
            assert_int_equal(advice.in_band_now, in_band);
        if (fabs(positions[i] / 100 - advice.taps[0].best) < 1e-9)
            assert_int_equal(advice.in_band_best, in_band);
        start_plant_free(&q);
    }
    assert_int_equal(advice.tap_count, 1);
    assert_int_equal(advice.in_band_best, most);
    assert_true(advice.in_band_best > advice.in_band_now);
    assert_int_equal(advice.lost_count, 3 - most);
    sag_tap_advice_free(&advice);
    start_plant_free(&p);
}

TEST_LIST(advise, cmocka_unit_test(followed_by_hand), cmocka_unit_test(unloaded), cmocka_unit_test(when_silent),
          cmocka_unit_test(another_order), cmocka_unit_test(shed_before_a_sequence), cmocka_unit_test(taps))
