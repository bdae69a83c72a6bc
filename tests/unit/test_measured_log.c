/* A log as the measured case: means, range, and what they are held against, at the log's board and behind drops. */
#include <math.h>
#include <stdlib.h>

#include "network_help.h"

static struct sag_result *judge(const char *plate, const struct sag_volts_span *log, int typed_count)
{
    struct sag_result *r = calloc(1, sizeof *r);
    struct sag_motor_list list = {0};
    struct sag_fit_store store = {0};
    struct sag_diags diags = {0};
    struct sag_board *boards = NULL;
    struct sag_typed_volts typed = {.line = {480}, .count = typed_count};
    const size_t first = 0;
    if (typed_count == 3)
        for (int i = 0; i < 3; i++)
            typed.line[i] = log->line[i];
    assert_non_null(r);
    assert_int_equal(sag_read_plate(plate, shared_tables(), NULL, &list, &diags), SAG_OK);
    assert_int_equal(sag_find_boards(shared_tables(), NULL, &typed, &list, &boards), SAG_OK);
    sag_put_log(log, boards, 1);
    struct sag_plant plant = {.tables = shared_tables(), .list = &list, .boards = boards, .store = &store};
    plant.cases[SAG_CASE_MEASURED] = true;
    assert_int_equal(sag_judge_motors(&plant, &first, 1, r), SAG_OK);
    r->motor.plate = NULL; /* it goes with the list */
    free(boards);
    sag_fit_store_free(&store);
    sag_motor_list_free(&list);
    return r;
}

static void verdicts(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        struct sag_volts_span log;
        enum sag_verdict band;
    } rows[] = {
        /* band of 460 V: 414 to 506 V, watched from 496.8 and to 423.2 */
        {"inside all the time", "rated_volts=460,rated_hp=50", {{478, 480, 482}, 470, 490}, SAG_VERDICT_OK},
        {"high for more than 1 % of the time",
         "rated_volts=460,rated_hp=50",
         {{478, 480, 482}, 470, 507},
         SAG_VERDICT_FAIL},
        {"low for more than 1 % of the time",
         "rated_volts=460,rated_hp=50",
         {{478, 480, 482}, 413, 490},
         SAG_VERDICT_FAIL},
        {"near the edge for more than 1 %",
         "rated_volts=460,rated_hp=50",
         {{478, 480, 482}, 470, 500},
         SAG_VERDICT_WATCH},
        {"at the edge", "rated_volts=460,rated_hp=50", {{478, 480, 482}, 470, 506}, SAG_VERDICT_WATCH},
        {"outside at its mean", "rated_volts=440,rated_hp=50", {{495, 497, 499}, 490, 503}, SAG_VERDICT_FAIL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int count = 1; count <= 3; count += 2) { /* beside a nominal voltage, and without */
            struct sag_result *r = judge(rows[i].plate, &rows[i].log, count);
            const struct sag_motor_case *c = &r->of[SAG_CASE_MEASURED];
            const double *line = rows[i].log.line;
            check_near(rows[i].name, c->band_verdict, rows[i].band, 0);
            check_near(rows[i].name, c->terminals.volts.value, (line[0] + line[1] + line[2]) / 3, 1e-9);
            check_near(rows[i].name, c->terminals.volts.low, rows[i].log.low, 1e-9);
            check_near(rows[i].name, c->terminals.volts.high, rows[i].log.high, 1e-9);
            check_near(rows[i].name, c->terminals.lowest_pair, fmin(line[0], fmin(line[1], line[2])), 1e-9);
            free(r);
        }
}

/* A log at the main board: at the motor behind a cable its range moves in the ratio of the means. */
static void behind_drops(void **state)
{
    (void)state;
    struct grid_plant p;
    struct sag_diags diags = {0};
    grid_plant_open(&p,
                    "id,fed_from,kind,nominal_volts,fault_mva,measured_ab,measured_bc,measured_ca,length_ft,conductor\n"
                    "MAIN,,utility,480,50,490,490,490,,\nB,MAIN,cable,,,,,,300,2\n",
                    "tag,feeder,rated_volts,rated_hp,load_pct\nM,B,460,50,100\n");
    p.supply.nodes[0].span_low = 470;
    p.supply.nodes[0].span_high = 509;
    free(p.boards);
    assert_int_equal(sag_find_boards(shared_tables(), &p.supply, NULL, &p.list, &p.boards), SAG_OK);
    assert_int_equal(grid_plant_solve(&p, &diags), SAG_OK);
    const struct sag_qty *volts = &p.boards[0].of[SAG_CASE_MEASURED].volts;
    double ratio = volts->value / 490;
    assert_true(ratio < 0.995 && ratio > 0.95); /* there is a drop to carry the range over */
    check_near("low", volts->low, 470 * ratio, 1e-9);
    check_near("high", volts->high, 509 * ratio, 1e-9);
    assert_true(p.boards[0].of[SAG_CASE_MEASURED].over_time);
    grid_plant_free(&p);
}

TEST_LIST(measured_log, cmocka_unit_test(verdicts), cmocka_unit_test(behind_drops))
