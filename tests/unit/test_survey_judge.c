/* A survey against limits, and which motors it is held against. */
#include <math.h>
#include <stdlib.h>

#include "network_help.h"

struct verdict_row {
    const char *name;
    double inside, sustained; /* of one plate's band */
    double unbalance;         /* 99th percentile */
    double dip, swell;        /* V of 480; 0: none */
    double recorded;          /* share of the span */
    enum sag_verdict plate, log;
    const char *finding; /* the first; "" */
};

static void check_row(const struct verdict_row *row)
{
    struct sag_survey *s = calloc(1, sizeof *s);
    struct sag_survey_band band = {.inside = row->inside, .sustained = row->sustained};
    struct sag_survey_plate plate = {.source = "NEMA MG 1 12.44.1", .count = 1};
    int32_t of = 0;
    const struct sag_survey_plates plates = {&plate, 1, &of};
    struct sag_survey_result r;
    assert_non_null(s);
    s->reference = 480;
    s->span = 1000;
    s->recorded = 1000 * row->recorded;
    s->unbalance.p99 = row->unbalance;
    s->bands = &band;
    s->band_count = 1;
    s->counts[SAG_EVENT_DIP] = row->dip > 0;
    s->counts[SAG_EVENT_SWELL] = row->swell > 0;
    s->extreme[SAG_EVENT_DIP] = row->dip;
    s->extreme[SAG_EVENT_SWELL] = row->swell;
    assert_int_equal(sag_judge_survey(s, &plates, 1, "B", &r), SAG_OK);
    check_near(row->name, r.of_plate[0], row->plate, 0);
    check_near(row->name, r.of_log, row->log, 0);
    check_text(row->name, r.finding_count ? r.findings[0].check->name : "", row->finding);
    sag_survey_result_free(&r);
    free(s);
}

static void verdicts(void **state)
{
    (void)state;
    static const struct verdict_row rows[] = {
        {"all well", 1, 0, 0.009, 0, 0, 1, SAG_VERDICT_OK, SAG_VERDICT_OK, ""},
        {"0.9 % of the time lasting", 0.991, 0.009, 0, 0, 0, 1, SAG_VERDICT_WATCH, SAG_VERDICT_OK, "band_time"},
        {"1 % of the time", 0.99, 0.01, 0, 0, 0, 1, SAG_VERDICT_WATCH, SAG_VERDICT_OK, "band_time"},
        {"1.1 % of the time", 0.989, 0.011, 0, 0, 0, 1, SAG_VERDICT_FAIL, SAG_VERDICT_OK, "band_time"},
        {"moments, however many", 0.5, 0, 0, 0, 0, 1, SAG_VERDICT_WATCH, SAG_VERDICT_OK, "band_moments"},
        {"unbalance that derates", 1, 0, 0.011, 0, 0, 1, SAG_VERDICT_OK, SAG_VERDICT_WATCH, "unbalance_time"},
        {"unbalance beyond 5 %", 1, 0, 0.051, 0, 0, 1, SAG_VERDICT_OK, SAG_VERDICT_FAIL, "unbalance_time"},
        {"a dip", 1, 0, 0, 240, 0, 1, SAG_VERDICT_OK, SAG_VERDICT_WATCH, "dips"},
        {"a swell", 1, 0, 0, 0, 560, 1, SAG_VERDICT_OK, SAG_VERDICT_WATCH, "swells"},
        {"90 % recorded", 1, 0, 0, 0, 0, 0.9, SAG_VERDICT_OK, SAG_VERDICT_OK, ""},
        {"89 % recorded", 1, 0, 0, 0, 0, 0.89, SAG_VERDICT_OK, SAG_VERDICT_WATCH, "recorded"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_row(&rows[i]);
}

/* 460 and 230/460 V allow the same; 115 V line to neutral is 199 V between lines, which is none of 480 V. */
static void plates_of_a_board(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_open(&p, "id,fed_from,kind,nominal_volts,system,fault_mva\nMAIN,,utility,480,wye,50\n",
                    "tag,feeder,rated_volts,rated_hp,hz,phases\nA,MAIN,460,50,60,3\nB,MAIN,440,50,60,3\n"
                    "C,MAIN,230/460,5,60,3\nD,MAIN,400,10,50,3\nE,MAIN,265,1,60,1\nF,MAIN,230,1,60,1\n");
    const struct sag_plant plant = {.tables = shared_tables(), .list = &p.list, .boards = p.boards};
    const bool wanted[] = {true, true, true, true, true, true};
    struct sag_survey_plates plates;
    assert_int_equal(sag_find_survey_plates(&plant, wanted, &plates), SAG_OK);
    check_near("how many", (double)plates.count, 4, 0);
    check_near("A and C are one", plates.of[0], plates.of[2], 0);
    check_near("its motors", (double)plates.items[plates.of[0]].count, 2, 0);
    check_near("460 V from", plates.items[plates.of[0]].low, 414, 1e-9);
    check_near("460 V to", plates.items[plates.of[0]].high, 506, 1e-9);
    check_near("440 V to", plates.items[plates.of[1]].high, 484, 1e-9);
    check_near("400 V at 50 Hz by flux, to", plates.items[plates.of[3]].high, 400 * 1.2 * 1.1, 1e-9);
    check_near("265 V to the neutral, to", plates.items[plates.of[4]].high, 265 * 1.1 * sqrt(3.0), 1e-9);
    check_near("230 V is nobody's to the neutral of 480", plates.of[5], -1, 0);
    check_near("lowest first", plates.items[0].rated_volts, 265, 0);
    sag_survey_plates_free(&plates);
    const bool one[] = {false, true, false, false, false, false};
    assert_int_equal(sag_find_survey_plates(&plant, one, &plates), SAG_OK);
    check_near("only B", (double)plates.count, 1, 0);
    check_near("not A", plates.of[0], -1, 0);
    sag_survey_plates_free(&plates);
    grid_plant_free(&p);
}

TEST_LIST(survey_judge, cmocka_unit_test(verdicts), cmocka_unit_test(plates_of_a_board))
