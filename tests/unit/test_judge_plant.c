/* Judging as a whole: which fact to read, what rises with volts, and that neither batches nor order change a result. */
#include "judge_help.h"

/* 400 V is usual at 50 Hz: on 480 V 60 Hz that alone decides. */
static void names_the_fact_to_read(void **state)
{
    (void)state;
    struct judged j;
    judge_typed("rated_volts=400,rated_kw=7.5", &(struct sag_typed_volts){{480}, 1, 60}, &j);
    static const char *const checks[] = {"band_high", "flux"};
    for (size_t i = 0; i < COUNT(checks); i++) {
        const struct sag_finding *f = finding_of(&j, checks[i], SAG_CASE_NOMINAL);
        assert_non_null(f);
        check_verdict(checks[i], (enum sag_verdict)f->verdict, SAG_VERDICT_UNKNOWN);
        check_text(checks[i], f->missing, "hz");
        check_percent(checks[i], f->value.low, 100, 0.01);
        check_percent(checks[i], f->value.high, 120, 0.01);
    }
    check_verdict("band", j.result->of[SAG_CASE_NOMINAL].band_verdict, SAG_VERDICT_UNKNOWN);
    judged_free(&j);
    judge_typed("rated_volts=400,rated_kw=7.5,hz=50", &(struct sag_typed_volts){{480}, 1, 60}, &j);
    check_verdict("at 50 Hz", j.result->of[SAG_CASE_NOMINAL].band_verdict, SAG_VERDICT_OK);
    judged_free(&j);
    judge_typed("rated_volts=400,rated_kw=7.5,hz=60", &(struct sag_typed_volts){{480}, 1, 60}, &j);
    check_verdict("at 60 Hz", j.result->of[SAG_CASE_NOMINAL].band_verdict, SAG_VERDICT_FAIL);
    judged_free(&j);
}

static void only_an_unknown_names_a_fact(void **state)
{
    (void)state;
    static const char *const plates[] = {"rated_volts=440,rated_hp=75", "rated_volts=460,rated_hp=5,load_pct=110",
                                         "rated_volts=400,rated_kw=7.5"};
    for (size_t p = 0; p < COUNT(plates); p++) {
        struct judged j;
        judge_typed(plates[p], &(struct sag_typed_volts){{480}, 1, 0}, &j);
        for (size_t i = 0; i < j.result->finding_count; i++) {
            const struct sag_finding *f = &j.result->findings[i];
            if ((f->verdict == SAG_VERDICT_UNKNOWN) != (*f->missing != '\0'))
                fail_msg("%s, %s: %s, missing \"%s\"", plates[p], f->check->name,
                         sag_verdict_word((enum sag_verdict)f->verdict), f->missing);
        }
        judged_free(&j);
    }
}

static void cases_that_exist(void **state)
{
    (void)state;
    struct judged j;
    judge_typed("rated_volts=460,rated_hp=50", &(struct sag_typed_volts){{480}, 1, 0}, &j);
    assert_true(j.result->of[SAG_CASE_NOMINAL].present && j.result->of[SAG_CASE_LOW].present);
    assert_true(j.result->of[SAG_CASE_HIGH].present && !j.result->of[SAG_CASE_MEASURED].present);
    enum sag_verdict worst = SAG_VERDICT_OK;
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        if (j.result->of[i].present && j.result->of[i].verdict > worst)
            worst = j.result->of[i].verdict;
    check_verdict("worst", j.result->worst, worst);
    judged_free(&j);
    judge_typed("rated_volts=460,rated_hp=50", &(struct sag_typed_volts){{480, 481, 482}, 3, 0}, &j);
    assert_true(j.result->of[SAG_CASE_MEASURED].present && !j.result->of[SAG_CASE_NOMINAL].present);
    judged_free(&j);
}

/* A single-phase motor on a line and the neutral sees line volts over sqrt(3), on the leg of a 240 V system half. */
static void line_to_neutral_volts(void **state)
{
    (void)state;
    const struct {
        const char *name, *plate;
        double supply, terminals;
    } rows[] = {
        {"115 V on 208Y", "rated_volts=115,rated_hp=0.5,phases=1", 208, 208 / sqrt(3)},
        {"115 V on 240 V", "rated_volts=115,rated_hp=0.5,phases=1", 240, 120},
        {"230 V on 240 V", "rated_volts=230,rated_hp=0.5,phases=1", 240, 240},
        {"277 V on 480Y", "rated_volts=277,rated_hp=0.5,phases=1", 480, 480 / sqrt(3)},
        {"three phases on 240 V", "rated_volts=230,rated_hp=0.5", 240, 240},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct judged j;
        judge_typed(rows[i].plate, &(struct sag_typed_volts){{rows[i].supply}, 1, 0}, &j);
        const struct sag_motor_case *c = &j.result->of[SAG_CASE_NOMINAL];
        check_percent(rows[i].name, c->terminals.volts.value, rows[i].terminals, 1e-9);
        check_percent(rows[i].name, c->supply_volts.value, rows[i].supply, 1e-9);
        check_percent(rows[i].name, c->terminals.volts_share,
                      rows[i].terminals / j.result->motor.fact[SAG_RATED_VOLTS].value, 1e-9);
        check_verdict(rows[i].name, c->band_verdict, SAG_VERDICT_OK);
        judged_free(&j);
    }
}

static double starting_torque(const char *plate, double volts, double hz)
{
    struct judged j;
    judge_typed(plate, &(struct sag_typed_volts){{volts}, 1, hz}, &j);
    double torque = j.result->of[SAG_CASE_NOMINAL].effects.of[SAG_EFFECT_STARTING_TORQUE].at_case.value;
    judged_free(&j);
    return torque;
}

/* Between squared and somewhat more, since leakage saturates. */
static void torque_rises_with_volts(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double volts, hz;
    } rows[] = {
        {"rated_volts=440,rated_hp=75,rpm=1770,rated_amps=95,code_letter=G,year=1958", 440, 60},
        {"rated_volts=460,rated_hp=50,rpm=1775,efficiency_pct=94.5,power_factor=0.86,code_letter=G", 460, 60},
        {"rated_volts=440,rated_hp=10,rpm=1670,poles=4,efficiency_pct=82,power_factor=0.84,design=D", 440, 60},
        {"rated_volts=460,rated_hp=200,rpm=3570,saturation=high", 460, 60},
        {"rated_volts=400,rated_kw=7.5,hz=50,rpm=1465,efficiency_pct=90.4,power_factor=0.83,design=N", 400, 50},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        double before = 0, rated = starting_torque(rows[i].plate, rows[i].volts, rows[i].hz);
        for (int percent = 60; percent <= 125; percent += 5) {
            double torque = starting_torque(rows[i].plate, rows[i].volts * percent / 100, rows[i].hz);
            if (!(torque >= before))
                fail_msg("%s: %g N m at %d %%, %g below", rows[i].plate, torque, percent, before);
            before = torque;
        }
        double gain = starting_torque(rows[i].plate, 1.1 * rows[i].volts, rows[i].hz) / rated;
        if (gain < 1.20 || gain > 1.30)
            fail_msg("%s: 10 %% more volts gave %.3f times the torque", rows[i].plate, gain);
    }
}

/* --- the demo plant --------------------------------------------------------------------------------------------- */

struct demo {
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
};

static void open_demo(struct demo *d)
{
    struct sag_diags diags = {0};
    struct sag_input supply = {.name = "motordata/cawdry-flats/supply.csv"};
    struct sag_input motors = {.name = "motordata/cawdry-flats/motors.csv"};
    supply.file = fopen(supply.name, "r");
    motors.file = fopen(motors.name, "r");
    assert_non_null(supply.file);
    assert_non_null(motors.file);
    sag_read_supply(&supply, shared_tables(), &d->supply, &diags);
    sag_read_motors(&motors, shared_tables(), &d->supply, &d->list, &diags);
    fclose(supply.file);
    fclose(motors.file);
    check_diags("demo", &diags, "");
    struct sag_typed_volts none = {0};
    assert_int_equal(sag_find_boards(shared_tables(), &d->supply, &none, &d->list, &d->boards), SAG_OK);
}

static void close_demo(struct demo *d)
{
    free(d->boards);
    sag_motor_list_free(&d->list);
    sag_supply_free(&d->supply);
}

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static void check_same(const struct sag_result *a, const struct sag_result *b)
{
    bool same = a->index == b->index && a->worst == b->worst && a->finding_count == b->finding_count;
    for (size_t i = 0; same && i < a->finding_count; i++) {
        const struct sag_finding *f = &a->findings[i], *g = &b->findings[i];
        same = f->check == g->check && f->which == g->which && f->verdict == g->verdict &&
               same_number(f->value.value, g->value.value) && same_number(f->value.low, g->value.low) &&
               same_number(f->limit, g->limit) && strcmp(f->missing, g->missing) == 0;
    }
    for (int c = 0; same && c < SAG_CASE_COUNT; c++)
        for (int e = 0; same && e < SAG_EFFECT_COUNT; e++) {
            const struct sag_qty *p = &a->of[c].effects.of[e].at_case, *q = &b->of[c].effects.of[e].at_case;
            same = same_number(p->value, q->value) && same_number(p->low, q->low) && same_number(p->high, q->high);
        }
    if (!same)
        fail_msg("%s: results differ", a->motor.plate->tag);
}

/* Judge motors 0 .. count-1 in batches of `batch`, from the last to the first when `backwards`; by_index[i] is i's. */
static void judge_in(const struct demo *d, size_t batch, bool backwards, struct sag_result *by_index)
{
    struct sag_fit_store store = {0};
    struct sag_plant plant = {.tables = shared_tables(),
                              .list = &d->list,
                              .boards = d->boards,
                              .cases = {true, true, true, true},
                              .store = &store};
    struct sag_result *results = calloc(batch, sizeof *results);
    size_t indexes[64];
    for (size_t done = 0; done < d->list.count;) {
        size_t n = 0;
        for (; n < batch && done < d->list.count; n++, done++)
            indexes[n] = backwards ? d->list.count - 1 - done : done;
        assert_int_equal(sag_judge_motors(&plant, indexes, n, results), SAG_OK);
        for (size_t i = 0; i < n; i++)
            by_index[indexes[i]] = results[i];
    }
    free(results);
    sag_fit_store_free(&store);
}

static void batches_and_order_change_nothing(void **state)
{
    (void)state;
    static const struct {
        size_t batch;
        bool backwards;
    } rows[] = {{1, false}, {1, true}, {3, false}, {7, true}, {64, true}};
    struct demo d;
    open_demo(&d);
    struct sag_result *all = calloc(d.list.count, sizeof *all);
    struct sag_result *other = calloc(d.list.count, sizeof *other);
    judge_in(&d, 64, false, all);
    for (size_t r = 0; r < COUNT(rows); r++) {
        judge_in(&d, rows[r].batch, rows[r].backwards, other);
        for (size_t i = 0; i < d.list.count; i++)
            check_same(&all[i], &other[i]);
    }
    free(all);
    free(other);
    close_demo(&d);
}

TEST_LIST(judge_plant, cmocka_unit_test(names_the_fact_to_read), cmocka_unit_test(only_an_unknown_names_a_fact),
          cmocka_unit_test(cases_that_exist), cmocka_unit_test(line_to_neutral_volts),
          cmocka_unit_test(torque_rises_with_volts), cmocka_unit_test(batches_and_order_change_nothing))
