/* Boards judged: each check on both sides of its watch point and its limit, and what the path rests on. */
#include "network_help.h"

#define MOTORS "tag,feeder,rated_volts,rated_hp,rpm\nM,B,460,1,1750\n"

struct judged_boards {
    struct grid_plant plant;
    struct sag_board_result *results;
};

static void judge_boards(const char *supply, struct judged_boards *j)
{
    grid_plant_solved(&j->plant, supply, MOTORS);
    const struct sag_plant plant = {.tables = shared_tables(),
                                    .list = &j->plant.list,
                                    .boards = j->plant.boards,
                                    .cases = {true, true, true, true}};
    j->results = calloc(j->plant.grid.node_count, sizeof *j->results);
    sag_judge_boards(&plant, &j->plant.grid, j->plant.reports, j->results);
}

static void judged_boards_free(struct judged_boards *j)
{
    free(j->results);
    grid_plant_free(&j->plant);
}

/* NULL when the check is ok there. */
static const struct sag_finding *board_finding(const struct judged_boards *j, const char *id, const char *check)
{
    const struct sag_board_result *r = &j->results[node_at(&j->plant, id)];
    for (size_t i = 0; i < r->finding_count; i++)
        if (strcmp(r->findings[i].check->name, check) == 0)
            return &r->findings[i];
    return NULL;
}

/* Other load at a generator that holds its volts: kVA are load / power factor, the cable of no ohms adds none. The
   motor is 1 hp, about 1.1 kVA. An open bank of 100 kVA carries 57.7. */
static void verdicts_turn_at_the_limits(void **state)
{
    (void)state;
    /* capacity goes by amps: 75 kW is 79 % in the low case, at 456 V; the first finding is the nominal case's */
    static const struct {
        const char *name, *supply, *board, *check, *wanted;
    } rows[] = {
        {"capacity ok", "id,fed_from,kind,nominal_volts,kva,load_kw,load_pf\nB,,generator,480,100,75,1\n", "B",
         "capacity", "ok"},
        {"capacity watched", "id,fed_from,kind,nominal_volts,kva,load_kw,load_pf\nB,,generator,480,100,80,1\n", "B",
         "capacity", "watch"},
        {"capacity up to its own", "id,fed_from,kind,nominal_volts,kva,load_kw,load_pf\nB,,generator,480,100,98,1\n",
         "B", "capacity", "watch"},
        {"capacity gone", "id,fed_from,kind,nominal_volts,kva,load_kw,load_pf\nB,,generator,480,100,100,1\n", "B",
         "capacity", "fail"},
        {"closed bank",
         "id,fed_from,kind,nominal_volts,kva,impedance_pct,primary_volts,secondary_volts,bank,load_kw,load_pf\n"
         "S,,utility,480,,,,,,,\nB,S,transformer,,100,2,480,480,closed,60,1\n",
         "B", "capacity", "ok"},
        {"open bank",
         "id,fed_from,kind,nominal_volts,kva,impedance_pct,primary_volts,secondary_volts,bank,load_kw,load_pf\n"
         "S,,utility,480,,,,,,,\nB,S,transformer,,100,2,480,480,open,60,1\n",
         "B", "capacity", "fail"},
        /* 8 kA of the source; the motor adds a few amps */
        {"rating ok", "id,fed_from,kind,nominal_volts,fault_ka,rating_ka\nB,,utility,480,8,9.2\n", "B", "fault_rating",
         "ok"},
        {"rating watched", "id,fed_from,kind,nominal_volts,fault_ka,rating_ka\nB,,utility,480,8,8.7\n", "B",
         "fault_rating", "watch"},
        {"rating gone", "id,fed_from,kind,nominal_volts,fault_ka,rating_ka\nB,,utility,480,8,7.9\n", "B",
         "fault_rating", "fail"},
        {"fault level not given", "id,fed_from,kind,nominal_volts,rating_ka\nB,,utility,480,10\n", "B", "fault_rating",
         "unknown"},
        {"measured as computed",
         "id,fed_from,kind,nominal_volts,measured_ab,measured_bc,measured_ca\nB,,utility,480,489,489,489\n", "B",
         "measured_gap", "ok"},
        {"measured above",
         "id,fed_from,kind,nominal_volts,measured_ab,measured_bc,measured_ca\nB,,utility,480,490,490,490\n", "B",
         "measured_gap", "watch"},
        {"measured far below is still no failure",
         "id,fed_from,kind,nominal_volts,measured_ab,measured_bc,measured_ca\nB,,utility,480,440,440,440\n", "B",
         "measured_gap", "watch"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct judged_boards j;
        judge_boards(rows[i].supply, &j);
        const struct sag_finding *f = board_finding(&j, rows[i].board, rows[i].check);
        check_text(rows[i].name, sag_verdict_word(f ? (enum sag_verdict)f->verdict : SAG_VERDICT_OK), rows[i].wanted);
        judged_boards_free(&j);
    }
}

static void board_is_the_subject(void **state)
{
    (void)state;
    struct judged_boards j;
    struct sag_value values[SAG_MOST_COLUMNS];
    judge_boards("id,fed_from,kind,nominal_volts,rating_ka\nB,,utility,480,10\n", &j);
    const struct sag_finding *f = board_finding(&j, "B", "fault_rating");
    assert_non_null(f);
    check_text("missing", f->missing, "fault_mva");
    assert_int_equal(f->which, SAG_CASE_COUNT);
    sag_finding_row(&j.plant.list, f, values);
    check_text("subject", values[0].text, "B");
    judged_boards_free(&j);
}

/* What is blank is named, once each, and only where it counts; each is a column that the supply file has. */
static void blanks_are_named(void **state)
{
    (void)state;
    static const struct {
        const char *id, *wanted;
    } rows[] = {{"U", "fault_mva"},
                {"V", "x_over_r"},
                {"G", "x_over_r transient_pct"},
                {"T", "x_over_r"},
                {"B", "raceway load_pf load_kind"},
                {"C", ""}};
    struct judged_boards j;
    judge_boards(
        "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,primary_volts,secondary_volts,length_ft,"
        "conductor,material,ohms_r,ohms_x,load_kw\n"
        "U,,utility,480,,,,,,,,,,,\nV,,utility,480,90,,,,,,,,,,\nG,,generator,480,,100,,,,,,,,,\n"
        "T,U,transformer,,,45,4,480,480,,,,,,\nB,T,cable,,,,,,,100,1/0,cu,,,5\nC,T,cable,,,,,,,,,,0.01,0.01,\n",
        &j);
    for (size_t i = 0; i < COUNT(rows); i++) {
        char named[200] = "";
        const char *column;
        const struct sag_node *node = &j.plant.supply.nodes[node_at(&j.plant, rows[i].id)];
        for (size_t k = 0; (column = sag_assumed_in_path(node, k)); k++) {
            struct sag_column_help help;
            bool known = false;
            for (size_t c = 0, all = sag_supply_columns(0, &help); c < all; c++) {
                sag_supply_columns(c, &help);
                known = known || strcmp(help.name, column) == 0;
            }
            assert_true(known);
            snprintf(named + strlen(named), sizeof named - strlen(named), "%s%s", k ? " " : "", column);
        }
        check_text(rows[i].id, named, rows[i].wanted);
    }
    judged_boards_free(&j);
}

TEST_LIST(judge_boards, cmocka_unit_test(verdicts_turn_at_the_limits), cmocka_unit_test(board_is_the_subject),
          cmocka_unit_test(blanks_are_named))
