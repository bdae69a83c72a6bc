/* What volts arrive at a feeder's board in each case. */
#include <stdlib.h>

#include "base/csv.h"
#include "base/number.h"
#include "read_help.h"

/* A list with one motor on `feeder`, and its board by typed volts or by a supply text. */
struct setup {
    struct sag_motor_list list;
    struct sag_supply supply;
    struct sag_board *boards;
};

static void start(struct setup *s, const char *supply, const char *feeder, const struct sag_typed_volts *typed)
{
    struct sag_diags diags = {0};
    char text[100];
    *s = (struct setup){0};
    struct sag_input input = text_input("s.csv", supply ? supply : "");
    if (supply)
        sag_read_supply(&input, shared_tables(), &s->supply, &diags);
    snprintf(text, sizeof text, "tag,rated_volts,rated_hp,feeder\nP,208-230/460,5,%s\n", feeder);
    struct sag_input motors = text_input("m.csv", text);
    sag_read_motors(&motors, shared_tables(), supply ? &s->supply : NULL, &s->list, &diags);
    check_diags("set up", &diags, "");
    assert_int_equal(sag_find_boards(shared_tables(), supply ? &s->supply : NULL, typed, &s->list, &s->boards), SAG_OK);
}

static void finish(struct setup *s)
{
    free(s->boards);
    sag_motor_list_free(&s->list);
    if (s->supply.arena)
        sag_supply_free(&s->supply);
}

struct wanted {
    double volts[SAG_CASE_COUNT]; /* NAN: the case does not exist */
    double nominal, hz;
    bool neutral;
};

static void check_board(const char *name, const struct sag_board *board, const struct wanted *wanted)
{
    for (int i = 0; i < SAG_CASE_COUNT; i++) {
        char what[80];
        snprintf(what, sizeof what, "%s, %s", name, sag_case_word((enum sag_case)i));
        if (isnan(wanted->volts[i]) != !sag_known(&board->of[i].volts))
            fail_msg("%s: %s", what, isnan(wanted->volts[i]) ? "should not exist" : "does not exist");
        if (!isnan(wanted->volts[i]))
            check_percent(what, board->of[i].volts.value, wanted->volts[i], 1e-9);
        if (sag_known(&board->of[i].volts) && !board->of[i].volts.rule)
            fail_msg("%s: has no rule", what);
    }
    check_percent(name, board->volts_nominal, wanted->nominal, 1e-9);
    check_near(name, board->hz, wanted->hz, 0);
    assert_int_equal((board->neutral_share > 0), wanted->neutral);
}

static void typed_volts(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        struct sag_typed_volts typed;
        struct wanted wanted;
    } rows[] = {
        {"480 V: Range A", {{480}, 1, 0}, {{480, 432, 504, NAN}, 480, 60, true}},
        {"208 V", {{208}, 1, 60}, {{208, 187, 218, NAN}, 208, 60, true}},
        {"460 V is not listed: 120 V base", {{460}, 1, 0}, {{460, 414, 483, NAN}, 460, 60, true}},
        {"400 V 50 Hz: 10 % either way", {{400}, 1, 50}, {{400, 360, 440, NAN}, 400, 50, true}},
        {"three measured", {{497, 494, 499}, 3, 0}, {{NAN, NAN, NAN, 1490.0 / 3}, 1490.0 / 3, 60, true}},
        {"three measured at 50 Hz", {{400, 400, 400}, 3, 50}, {{NAN, NAN, NAN, 400}, 400, 50, true}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct setup s;
        start(&s, NULL, "ANY", &rows[i].typed);
        check_text(rows[i].name, s.boards[0].id, "ANY");
        check_board(rows[i].name, &s.boards[0], &rows[i].wanted);
        finish(&s);
    }
}

static void origins(void **state)
{
    (void)state;
    struct setup s;
    start(&s, NULL, "ANY", &(struct sag_typed_volts){{480}, 1, 0});
    assert_int_equal(s.boards[0].of[SAG_CASE_LOW].volts.origin, SAG_TABLE);
    assert_true(s.boards[0].of[SAG_CASE_LOW].volts.from_memory);
    assert_true(s.boards[0].of[SAG_CASE_NOMINAL].volts.origin < SAG_TABLE);
    finish(&s);
    start(&s, NULL, "ANY", &(struct sag_typed_volts){{497, 494, 499}, 3, 0});
    const struct sag_board_case *m = &s.boards[0].of[SAG_CASE_MEASURED];
    assert_int_equal(m->volts.origin, SAG_MEASURED);
    check_near("lowest pair", m->volts.low, 494, 0);
    check_near("highest pair", m->volts.high, 499, 0);
    check_percent("unbalance", m->unbalance, (1490.0 / 3 - 494) / (1490.0 / 3), 1e-9);
    assert_int_equal(s.boards[0].measured_at, -1);
    finish(&s);
}

#define HEAD                                                                                                           \
    "id,fed_from,kind,nominal_volts,low_volts,high_volts,hz,kva,impedance_pct,primary_volts,secondary_volts,tap_pct,"  \
    "ohms_r,system,measured_ab,measured_bc,measured_ca\n"
#define UTIL           "U,,utility,13800\n"
#define T1             "T1,U,transformer,,,,,750,5.75,13800,480,2.5\n"
#define T2             "T2,C,transformer,,,,,45,4,480,208,0\n"
#define CABLE          "C,T1,cable,,,,,,,,,,0.01\n"
#define CABLE_MEASURED "C,T1,cable,,,,,,,,,,0.01,,497,494,499\n"
#define SERVICE_LOW    (13460.0 / 13800)
#define SERVICE_HIGH   (14490.0 / 13800)

static void supply_paths(void **state)
{
    (void)state;
    static const struct {
        const char *name, *supply, *feeder;
        struct wanted wanted;
        const char *measured_at;
    } rows[] = {
        {"tap +2.5 %", HEAD UTIL T1 CABLE, "C", {{492, 492 * SERVICE_LOW, 492 * SERVICE_HIGH, NAN}, 480, 60, true}, ""},
        {"source itself", HEAD "U,,utility,480\n", "U", {{480, 456, 504, NAN}, 480, 60, true}, ""},
        {"given range", HEAD "U,,utility,480,470,490\n", "U", {{480, 470, 490, NAN}, 480, 60, true}, ""},
        {"one end given", HEAD "U,,utility,480,,490\n", "U", {{480, 456, 490, NAN}, 480, 60, true}, ""},
        {"50 Hz", HEAD "U,,utility,400,,,50\n", "U", {{400, 360, 440, NAN}, 400, 50, true}, ""},
        {"delta", HEAD "U,,utility,480,,,,,,,,,,delta\n", "U", {{480, 456, 504, NAN}, 480, 60, false}, ""},
        {"second transformer",
         HEAD UTIL T1 CABLE T2,
         "T2",
         {{213.2, 213.2 * SERVICE_LOW, 213.2 * SERVICE_HIGH, NAN}, 208, 60, true},
         ""},
        {"measured here",
         HEAD UTIL T1 CABLE_MEASURED,
         "C",
         {{492, 492 * SERVICE_LOW, 492 * SERVICE_HIGH, 1490.0 / 3}, 480, 60, true},
         "C"},
        {"measured above, through a ratio",
         HEAD UTIL T1 CABLE_MEASURED T2,
         "T2",
         {{213.2, 213.2 * SERVICE_LOW, 213.2 * SERVICE_HIGH, 1490.0 / 3 * 208 / 480}, 208, 60, true},
         "C"},
        {"measured below says nothing",
         HEAD UTIL T1 CABLE_MEASURED,
         "T1",
         {{492, 492 * SERVICE_LOW, 492 * SERVICE_HIGH, NAN}, 480, 60, true},
         ""},
        {"the nearest of two measured",
         HEAD UTIL "T1,U,transformer,,,,,750,5.75,13800,480,2.5,,,480,480,480\n" CABLE_MEASURED,
         "C",
         {{492, 492 * SERVICE_LOW, 492 * SERVICE_HIGH, 1490.0 / 3}, 480, 60, true},
         "C"},
        {"measured at the source, through the tap",
         HEAD "U,,utility,13800,,,,,,,,,,,13800,13900,13700\n" T1 CABLE,
         "C",
         {{492, 492 * SERVICE_LOW, 492 * SERVICE_HIGH, 492}, 480, 60, true},
         "U"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct setup s;
        start(&s, rows[i].supply, rows[i].feeder, &(struct sag_typed_volts){0});
        check_board(rows[i].name, &s.boards[0], &rows[i].wanted);
        int32_t at = s.boards[0].measured_at;
        check_text(rows[i].name, at < 0 ? "" : s.supply.nodes[at].id, rows[i].measured_at);
        finish(&s);
    }
}

static void ratio_keeps_unbalance(void **state)
{
    (void)state;
    struct setup s;
    const double line[3] = {497, 494, 499};
    start(&s, HEAD UTIL T1 CABLE_MEASURED T2, "T2", &(struct sag_typed_volts){0});
    const struct sag_board_case *m = &s.boards[0].of[SAG_CASE_MEASURED];
    check_percent("unbalance", m->unbalance, sag_unbalance(line), 1e-9);
    check_percent("negative share", m->negative_share, sag_negative_share(line), 1e-9);
    check_percent("second pair", m->line[1], 494 * 208.0 / 480, 1e-9);
    finish(&s);
}

/* Cells of a worked example: name, three voltages, average, deviation, NEMA percent, negative sequence percent. */
static enum sag_status check_example(void *context, const struct sag_row *row)
{
    double numbers[8] = {0};
    size_t *examples = context;
    if ((*examples)++ == 0)
        return SAG_OK; /* header */
    for (size_t i = 1; i < 8; i++)
        assert_int_equal(sag_number_read(row->cells[i].text, row->cells[i].length, '.', &numbers[i]), SAG_NUMBER_OK);
    check_near(row->cells[0].text, 100 * sag_unbalance(&numbers[1]), numbers[6], 0.0005); /* as printed */
    check_near(row->cells[0].text, 100 * sag_negative_share(&numbers[1]), numbers[7], 0.0005);
    return SAG_OK;
}

static void worked_examples(void **state)
{
    (void)state;
    size_t rows = 0;
    struct sag_diags diags = {0};
    struct sag_input input = {.name = "tests/outside/data/unbalance_worked_examples.csv"};
    input.file = fopen(input.name, "r");
    assert_non_null(input.file);
    sag_csv_read(&input, &(struct sag_csv_events){check_example, NULL, &rows}, &diags);
    fclose(input.file);
    check_diags("examples", &diags, "");
    assert_int_equal(rows, 3);
}

static void unbalance_edges(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double line[3], unbalance, negative;
    } rows[] = {
        {"balanced", {480, 480, 480}, 0, 0},
        {"order is nothing", {450, 460, 467}, 9.0 / 459, 0.0214646},
        {"nor is scale", {4.5, 4.6, 4.67}, 9.0 / 459, 0.0214646},
        {"one pair flat: as much negative as positive", {480, 480, 0}, 1, 1},
        {"no triangle", {480, 100, 100}, 480 / (680.0 / 3) - 1, NAN},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_near(rows[i].name, sag_unbalance(rows[i].line), rows[i].unbalance, 1e-12);
        double negative = sag_negative_share(rows[i].line);
        if (isnan(rows[i].negative))
            assert_true(isnan(negative));
        else
            check_near(rows[i].name, negative, rows[i].negative, 1e-6);
    }
}

TEST_LIST(cases, cmocka_unit_test(typed_volts), cmocka_unit_test(origins), cmocka_unit_test(supply_paths),
          cmocka_unit_test(ratio_keeps_unbalance), cmocka_unit_test(worked_examples), cmocka_unit_test(unbalance_edges))
