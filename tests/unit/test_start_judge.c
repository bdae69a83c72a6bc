/* Starts judged: each check of a start in a small plant that is built to meet it, and verdicts that hang on what is
   assumed. */
#include "start_help.h"

#define STRONG "U,,utility,480,100\n"
#define WEAK   "U,,utility,480,100\nA,U,transformer,,,37.5,4,2,480,480\n"

static void check_one(const char *name, const char *supply, const char *motors, const char *check, enum sag_case which,
                      enum sag_verdict wanted)
{
    struct start_plant p;
    start_plant_open(&p, supply, motors);
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_finding *f = start_finding(&p, 0, check, which);
    enum sag_verdict got = f ? (enum sag_verdict)f->verdict : SAG_VERDICT_OK;
    check_text(name, sag_verdict_word(got), sag_verdict_word(wanted));
    start_plant_free(&p);
}

static void verdicts(void **state)
{
    (void)state;
    static const struct {
        const char *name, *supply, *motors, *check;
        enum sag_case which;
        enum sag_verdict wanted;
    } rows[] = {
        {"a strong supply", STRONG, START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4\n",
         "start_volts", SAG_CASE_NOMINAL, SAG_VERDICT_OK},
        {"low volts, torque to spare", WEAK, START_MOTORS "M,A,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4\n",
         "start_volts", SAG_CASE_NOMINAL, SAG_VERDICT_WATCH},
        {"low volts, none to spare", WEAK,
         START_MOTORS "M,A,460,50,1775,4,94.1,0.86,B,362,150,220,constant,95,0.4,0.4\n", "start_volts",
         SAG_CASE_NOMINAL, SAG_VERDICT_FAIL},
        {"it does not turn", WEAK, START_MOTORS "M,A,460,50,1775,4,94.1,0.86,B,362,110,200,constant,95,0.4,0.4\n",
         "start_speed", SAG_CASE_NOMINAL, SAG_VERDICT_FAIL},
        {"contactors", "U,,utility,480,100\nA,U,transformer,,,75,6,2,480,480\n",
         START_MOTORS "M,A,460,100,1780,4,94.5,0.86,B,725,150,220,pump,90,0.9,0.9\n", "start_coils", SAG_CASE_NOMINAL,
         SAG_VERDICT_FAIL},
        {"a heavy wheel", STRONG, START_MOTORS "M,U,460,25,1770,4,93.6,0.85,B,182,170,230,fan,90,12,0.2\n",
         "start_inertia", SAG_CASE_COUNT, SAG_VERDICT_FAIL},
        {"a light wheel", STRONG, START_MOTORS "M,U,460,25,1770,4,93.6,0.85,B,182,170,230,fan,90,3,0.2\n",
         "start_inertia", SAG_CASE_COUNT, SAG_VERDICT_OK},
        {"too long for its stall time", STRONG,
         START_MOTORS "M,U,460,25,1770,4,93.6,0.85,B,182,170,230,fan,90,40,0.2,5\n", "start_heat", SAG_CASE_NOMINAL,
         SAG_VERDICT_FAIL},
        {"a dip for lamps, seldom", WEAK, START_MOTORS "M,A,460,5,1745,4,87.5,0.82,B,46,185,225,pump,90,0.03,0.02\n",
         "start_flicker", SAG_CASE_NOMINAL, SAG_VERDICT_OK},
        {"the same dip, often", WEAK, START_MOTORS "M,A,460,5,1745,4,87.5,0.82,B,46,185,225,pump,90,0.03,0.02,12,120\n",
         "start_flicker", SAG_CASE_NOMINAL, SAG_VERDICT_WATCH},
        {"open transition", STRONG,
         START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4,12,,wye_delta,,3\n", "start_transfer",
         SAG_CASE_HIGH, SAG_VERDICT_WATCH},
        {"a fire pump's controller", WEAK,
         START_MOTORS "M,A,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4,12,,,,,fire_pump\n", "fire_pump_start",
         SAG_CASE_NOMINAL, SAG_VERDICT_FAIL},
        {"a fire pump that runs low", "U,,utility,440,100\n",
         START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4,12,,,,,fire_pump\n", "fire_pump_run",
         SAG_CASE_LOW, SAG_VERDICT_FAIL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_one(rows[i].name, rows[i].supply, rows[i].motors, rows[i].check, rows[i].which, rows[i].wanted);
}

/* NFPA 70-2023 695.7: 15 % and 5 % (408 V on a 480 V controller, 437 V at a 460 V motor: rules.md 8.19, arithmetic). */
static void fire_pump_limits(void **state)
{
    (void)state;
    struct start_plant p;
    start_plant_open(&p, WEAK,
                     START_MOTORS "M,A,460,50,1775,4,94.1,0.86,B,362,150,220,pump,90,0.4,0.4,12,,,,,fire_pump\n");
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_finding *f = start_finding(&p, 0, "fire_pump_start", SAG_CASE_NOMINAL);
    assert_non_null(f);
    check_near("controller", f->limit / 100 * 480, 408, 1e-9);
    const struct sag_start_case *c = &p.results[0].of[SAG_CASE_NOMINAL];
    check_near("is the board's", f->value.value, 100 * c->board_lowest.value / 480, 1e-9);
    double amps = 1.15 * p.results[0].motor.fact[SAG_COMPUTED_AMPS].value;
    check_near("runs at 115 % amps", c->run_share, sag_volts_at_amps(&p.grids[0], SAG_CASE_NOMINAL, 0, amps) / 460,
               1e-12);
    start_plant_free(&p);
}

/* Others that suffer: one near its breakdown is dragged down by a large start, and stands alone when nothing starts. */
static void others(void **state)
{
    (void)state;
    static const char supply[] = "U,,utility,480,100\nA,U,transformer,,,75,4,2,480,480\n";
    static const char big[] = "BIG,A,460,100,1780,4,94.5,0.86,B,725,150,220,fan,90,30,0.9\n";
    static const char weak[] = "LOW,A,460,10,1750,4,89.5,0.83,B,70,150,202,constant,150,0.06,0.05\n";
    char motors[900];
    struct start_plant p;
    snprintf(motors, sizeof motors, START_MOTORS "%s%s", big, weak);
    start_plant_open(&p, supply, motors);
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_start_case *c = &p.results[0].of[SAG_CASE_NOMINAL];
    check_text("worst other", p.list.plates[c->other].tag, "LOW");
    assert_true(c->other_share.value < c->other_before - 0.1);
    assert_non_null(start_finding(&p, 0, "start_others", SAG_CASE_NOMINAL));
    const struct sag_finding *dragged = start_finding(&p, 0, "start_dragged", SAG_CASE_NOMINAL);
    assert_non_null(dragged);
    check_text("named", p.list.plates[c->dragged].tag, "LOW");
    assert_null(start_finding(&p, 1, "start_dragged", SAG_CASE_NOMINAL));
    start_plant_free(&p);
}

/* Bounds on both sides of the limit: unknown, and the fact that moves it most is named. With it given, no more. */
static void what_to_read_next(void **state)
{
    (void)state;
    static const char weak[] = "U,,utility,480,100\nA,U,transformer,,,37.5,7,2,480,480\n";
    struct start_plant p;
    start_plant_open(&p, weak, START_MOTORS "M,A,460,30,1775,4,93.6,0.85,B,200,,220,constant,95,0.2,0.2\n");
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_finding *f = start_finding(&p, 0, "start_speed", SAG_CASE_NOMINAL);
    assert_non_null(f);
    check_text("verdict", sag_verdict_word((enum sag_verdict)f->verdict), "unknown");
    assert_true(f->value.low < f->limit && f->value.high > f->limit);
    check_text("read next", f->missing, "locked_torque_pct");
    start_plant_free(&p);
    start_plant_open(&p, weak, START_MOTORS "M,A,460,30,1775,4,93.6,0.85,B,200,300,320,constant,95,0.2,0.2\n");
    start_plant_judge(&p, SAG_START_ALONE);
    f = start_finding(&p, 0, "start_speed", SAG_CASE_NOMINAL);
    assert_true(!f || f->verdict != SAG_VERDICT_UNKNOWN);
    start_plant_free(&p);
}

/* Every value lies between its bounds, and the bounds differ where something is assumed. */
static void bounds(void **state)
{
    (void)state;
    struct start_plant p;
    start_plant_open(&p, WEAK, START_MOTORS "M,A,460,20,1765,4,93,0.85,B,,,,fan,90,,\n");
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_start_case *c = &p.results[0].of[SAG_CASE_NOMINAL];
    const struct {
        const char *name;
        const struct sag_qty *q;
    } rows[] = {{"volts", &c->volts_lowest},
                {"amps", &c->amps_peak},
                {"time", &c->time_to_speed},
                {"heat", &c->heat_used},
                {"torque", &c->least_surplus}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) /* torque need not fall with all at its hard bound */
        if (!(rows[i].q->low <= rows[i].q->value && rows[i].q->value <= rows[i].q->high &&
              rows[i].q->low < rows[i].q->high))
            fail_msg("%s: %g in %g to %g", rows[i].name, rows[i].q->value, rows[i].q->low, rows[i].q->high);
    assert_true(sag_assumed_in_start(&p.results[0].motor) >> SAG_ROTOR_INERTIA & 1);
    start_plant_free(&p);
}

/* A wound rotor starts as its resistors let it, of which the plate says nothing: it is not computed, and not ok. */
static void wound_rotor(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    struct sag_fit_store store = {0};
    struct sag_board *boards;
    struct sag_grid grids[SAG_CORNER_COUNT];
    const struct sag_typed_volts typed = {.line = {480}, .count = 1};
    sag_read_plate("rated_volts=460,rated_hp=50,rotor=wound", shared_tables(), NULL, &list, &diags);
    assert_int_equal(sag_find_boards(shared_tables(), NULL, &typed, &list, &boards), SAG_OK);
    struct sag_grid_job job = {shared_tables(), NULL, boards, &list, &store, SAG_CORNER_LIKELY};
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        assert_int_equal(sag_grid_build(&job, &grids[k]), SAG_OK);
    const struct sag_plant plant = {
        .tables = shared_tables(), .list = &list, .boards = boards, .cases = {true, true, true, true}, .store = &store};
    const size_t motor = 0;
    const struct sag_start_plan plan = {.plant = &plant, .grids = grids, .motors = &motor, .count = 1};
    struct sag_start_result r;
    assert_int_equal(sag_judge_starts(&plan, &r), SAG_OK);
    assert_false(r.of[SAG_CASE_NOMINAL].likely.computed);
    check_text("verdict", sag_verdict_word(r.worst), "unknown");
    check_text("and says so", r.findings[0].check->name, "start_computed");
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&grids[k]);
    sag_fit_store_free(&store);
    free(boards);
    sag_motor_list_free(&list);
}

/* Sequence and outage: who starts, when, and what is on. */
static void plans(void **state)
{
    (void)state;
    static const char motors[] = START_MOTORS "B,U,460,10,1760,4,91.7,0.83,B,81,165,225,pump,80,,,,,,,,,2,5\n"
                                              "A,U,460,10,1760,4,91.7,0.83,B,81,165,225,pump,80,,,,,,,,,1,9\n"
                                              "C,U,460,10,1760,4,91.7,0.83,B,81,165,225,pump,80,,,,,,,,,2,7\n"
                                              "N,U,460,10,1760,4,91.7,0.83,B,81,165,225,pump,80\n"
                                              "S,U,460,10,1760,4,91.7,0.83,B,81,165,225,pump,80,,,,,,,,spare\n";
    struct start_plant p;
    struct sag_closing closings[5];
    start_plant_open(&p, STRONG, motors);
    struct sag_start_plan plan = start_plant_plan(&p, SAG_START_SEQUENCE);
    assert_int_equal(sag_plan_closings(&plan, closings), 3);
    check_text("first", p.list.plates[closings[0].motor].tag, "A");
    check_near("at once", closings[0].at, 0, 0);
    check_text("then", p.list.plates[closings[1].motor].tag, "B");
    check_near("after its delay", closings[1].at, 5, 0);
    check_near("equal orders together", closings[2].at, 5, 0);
    plan.moves_first = true;
    plan.first = motor_named(&p.list, "C");
    sag_plan_closings(&plan, closings);
    check_text("moved", p.list.plates[closings[0].motor].tag, "C");
    plan = start_plant_plan(&p, SAG_START_TOGETHER);
    assert_int_equal(sag_plan_closings(&plan, closings), 4); /* not the spare */
    assert_true(sag_plan_from_rest(&plan));
    start_plant_judge(&p, SAG_START_SEQUENCE);
    assert_false(p.results[motor_named(&p.list, "N")].judged);
    assert_true(p.results[motor_named(&p.list, "C")].judged);
    start_plant_free(&p);
}

/* No load is none in the low case either, where every other motor is at full load: it comes up behind a soft starter
   whose limit leaves it less than its rated torque. */
static void no_load_in_the_low_case(void **state)
{
    (void)state;
    struct start_plant p;
    start_plant_open(&p, STRONG, START_MOTORS "M,U,460,50,1775,4,94.1,0.86,B,362,150,220,none,,0.4,0.4,12,,soft,300\n");
    start_plant_judge(&p, SAG_START_ALONE);
    assert_true(p.results[0].of[SAG_CASE_LOW].likely.runs_up);
    start_plant_free(&p);
}

/* It hangs as likely and comes up at the easy bounds: nobody knows, and something is to be read. */
static void hangs_as_likely_only(void **state)
{
    (void)state;
    struct start_plant p;
    start_plant_open(&p, "U,,utility,432,100\n", START_MOTORS "M,U,440,75,,,91,,,,,,pump,100,,,,,autotransformer\n");
    start_plant_judge(&p, SAG_START_ALONE);
    const struct sag_start_case *c = &p.results[0].of[SAG_CASE_NOMINAL];
    assert_true(!c->likely.runs_up && c->some_run_up);
    const struct sag_finding *f = start_finding(&p, 0, "start_speed", SAG_CASE_NOMINAL);
    check_text("verdict", f ? sag_verdict_word((enum sag_verdict)f->verdict) : "none", "unknown");
    check_text("next", f ? f->missing : "none", "breakdown_torque_pct");
    start_plant_free(&p);
}

/* Still on its way when the next one closes, a motor is timed until it is up, and not until that closing. */
static void overlapping_starts(void **state)
{
    (void)state;
    struct start_plant p;
    start_plant_open(&p, STRONG,
                     START_MOTORS "SLOW,U,460,25,1770,4,93.6,0.85,B,182,170,230,fan,90,7,0.2,40,,,,,,1,\n"
                                  "NEXT,U,460,5,1745,4,87.5,0.82,B,46,185,225,pump,90,0.03,0.02,12,,,,,,2,2\n");
    start_plant_judge(&p, SAG_START_ALONE);
    double alone = p.results[0].of[SAG_CASE_NOMINAL].likely.time_to_speed;
    assert_true(alone > 4);
    start_plant_judge(&p, SAG_START_SEQUENCE);
    check_near("closes", p.results[1].of[SAG_CASE_NOMINAL].likely.closes_at, 2, 0);
    check_percent("time", p.results[0].of[SAG_CASE_NOMINAL].likely.time_to_speed, alone, 1);
    start_plant_free(&p);
}

TEST_LIST(start_judge, cmocka_unit_test(verdicts), cmocka_unit_test(fire_pump_limits), cmocka_unit_test(others),
          cmocka_unit_test(what_to_read_next), cmocka_unit_test(bounds), cmocka_unit_test(plans),
          cmocka_unit_test(no_load_in_the_low_case), cmocka_unit_test(overlapping_starts),
          cmocka_unit_test(hangs_as_likely_only), cmocka_unit_test(wound_rotor))
