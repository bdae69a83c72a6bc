/* Voltage bands of motors and ranges of supplies, judged through the whole chain from plate and volts to verdict. */
#include <math.h>
#include <stdlib.h>

#include "support.h"

/* One plate on one typed supply. */
struct judged {
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_result result;
};

static void judge(const char *plate, double volts, double hz, struct judged *j)
{
    struct sag_diags diags = {0};
    struct sag_fit_store store = {0};
    struct sag_typed_volts typed = {.line = {volts}, .count = 1, .hz = hz};
    size_t first = 0;
    if (sag_read_plate(plate, shared_tables(), NULL, &j->list, &diags) != SAG_OK)
        fail_msg("%s: %s", plate, diags.count ? diags.items[0].text : "?");
    sag_diags_free(&diags);
    assert_int_equal(sag_find_boards(shared_tables(), NULL, &typed, &j->list, &j->boards), SAG_OK);
    struct sag_plant plant = {.tables = shared_tables(),
                              .list = &j->list,
                              .boards = j->boards,
                              .cases = {true, true, true, false},
                              .store = &store};
    assert_int_equal(sag_judge_motors(&plant, &first, 1, &j->result), SAG_OK);
    sag_fit_store_free(&store);
}

static void forget(struct judged *j)
{
    free(j->boards);
    sag_motor_list_free(&j->list);
}

/* NEMA MG 1 12.44.1 (read in a condensed MG 1 of 2011, page 13): 10 % volts, 5 % hertz, both together 10 %. IEC 60034-1
   7.3 zones: corner values from memory. */
static void bands(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double system, hz, low, high;
    } rows[] = {
        {"rated_volts=460,rated_hp=75", 480, 60, 414, 506},
        {"rated_volts=440,rated_hp=75", 480, 60, 396, 484},
        {"rated_volts=230,rated_hp=5", 240, 60, 207, 253},
        {"rated_volts=200,rated_hp=5", 208, 60, 180, 220},
        {"rated_volts=575,rated_hp=5", 600, 60, 517.5, 632.5},
        {"rated_volts=460,rated_hp=75", 480, 57, 437, 483}, /* 5 % of hertz leave 5 % of volts */
        {"rated_volts=460,rated_hp=75", 480, 61.2, 423.2, 496.8},
        {"rated_volts=400,rated_kw=55,hz=50", 400, 50, 360, 440}, /* zone B */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct judged j;
        judge(rows[i].plate, rows[i].system, rows[i].hz, &j);
        const struct sag_terminals *t = &j.result.of[SAG_CASE_NOMINAL].terminals;
        check_near(rows[i].plate, t->band_low, rows[i].low, 1e-9);
        check_near(rows[i].plate, t->band_high, rows[i].high, 1e-9);
        forget(&j);
    }
}

/* ANSI C84.1, Range A, 2006 and later: 480 V at the equipment 432 to 504 V (from memory; 108 and 126 on the 120 V
   base). Service minimum 456 V. */
static void supply_range(void **state)
{
    (void)state;
    struct judged j;
    judge("rated_volts=460,rated_hp=75", 480, 60, &j);
    check_near("low", j.boards[0].of[SAG_CASE_LOW].volts.value, 432, 1e-9);
    check_near("high", j.boards[0].of[SAG_CASE_HIGH].volts.value, 504, 1e-9);
    check_near("service", sag_ask_supply_range(shared_tables(), 480, true).low, 456, 1e-9);
    forget(&j);
}

/* Which plate belongs on which system: NEMA MG 1 10.30, read in a public specification, for 460 on 480 and 440 on
   older 480; 440 on 450 is naval practice (common practice, no source). A plate that belongs stays in its band over the
   whole of Range A; a 440 V plate does not on 480 V: 504 V is above its 484. */
static void plates_on_systems(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double system;
        enum sag_verdict nominal, low, high;
    } rows[] = {
        {"rated_volts=460,rated_hp=75", 480, SAG_VERDICT_OK, SAG_VERDICT_OK, SAG_VERDICT_WATCH},
        {"rated_volts=230,rated_hp=5", 240, SAG_VERDICT_OK, SAG_VERDICT_OK, SAG_VERDICT_WATCH},
        {"rated_volts=200,rated_hp=5", 208, SAG_VERDICT_OK, SAG_VERDICT_OK, SAG_VERDICT_WATCH},
        {"rated_volts=575,rated_hp=25", 600, SAG_VERDICT_OK, SAG_VERDICT_OK, SAG_VERDICT_WATCH},
        {"rated_volts=440,rated_hp=75", 450, SAG_VERDICT_OK, SAG_VERDICT_OK, SAG_VERDICT_OK},
        {"rated_volts=440,rated_hp=75", 480, SAG_VERDICT_WATCH, SAG_VERDICT_OK, SAG_VERDICT_FAIL},
        {"rated_volts=230,rated_hp=5", 208, SAG_VERDICT_WATCH, SAG_VERDICT_FAIL, SAG_VERDICT_OK},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct judged j;
        judge(rows[i].plate, rows[i].system, 60, &j);
        const struct sag_motor_case *of = j.result.of;
        const enum sag_verdict wanted[] = {rows[i].nominal, rows[i].low, rows[i].high};
        for (int k = SAG_CASE_NOMINAL; k <= SAG_CASE_HIGH; k++)
            if (of[k].band_verdict != wanted[k])
                fail_msg("%s on %g V, %s (%.1f V): %s, wanted %s", rows[i].plate, rows[i].system,
                         sag_case_word((enum sag_case)k), of[k].terminals.volts.value,
                         sag_verdict_word(of[k].band_verdict), sag_verdict_word(wanted[k]));
        forget(&j);
    }
}

/* A wye system gives 1/sqrt(3) to neutral: 480Y/277, 208Y/120 (ANSI C84.1 names both so). */
static void line_to_neutral(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double system, volts;
    } rows[] = {{"rated_volts=265,rated_hp=0.5,phases=1", 480, 277}, {"rated_volts=115,rated_hp=1,phases=1", 208, 120}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct judged j;
        judge(rows[i].plate, rows[i].system, 60, &j);
        assert_true(j.result.motor.line_to_neutral);
        check_near(rows[i].plate, j.result.of[SAG_CASE_NOMINAL].terminals.volts.value, rows[i].volts, 0.5);
        forget(&j);
    }
}

TEST_LIST(bands, cmocka_unit_test(bands), cmocka_unit_test(supply_range), cmocka_unit_test(plates_on_systems),
          cmocka_unit_test(line_to_neutral))
