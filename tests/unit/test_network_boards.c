/* Boards of the network against closed forms: other load, banks, taps, measured volts, the light-load case, spares,
   collapse, faults. */
#include "unit/network_help.h"

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,kva,impedance_pct,x_over_r,primary_volts,secondary_volts,tap_pct,bank,ohms_r,"     \
    "ohms_x,load_kw,load_pf,load_kind,measured_ab,measured_bc,measured_ca,system\n"
#define MOTORS "tag,feeder,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,design,code_letter,load,load_pct,duty\n"
#define IDLE   MOTORS "IDLE,U,460,0.02,1745,60,0.7,B,J,pump,50\n" /* a list needs a motor; no share of what is tested */

#define NOMINAL  SAG_CASE_NOMINAL
#define LOW      SAG_CASE_LOW
#define HIGH     SAG_CASE_HIGH
#define MEASURED SAG_CASE_MEASURED

/* A line of r + jx with other load at its end, closed forms for each kind; e: volts at its head. */
#define LINE_R 0.12
#define LINE_X 0.09
#define WATTS  60e3
#define FACTOR 0.85

static double volts_with_power(double e)
{
    double va = WATTS / FACTOR, z = hypot(LINE_R, LINE_X);
    double middle = e * e / 2 - (WATTS * LINE_R + va * sqrt(1 - FACTOR * FACTOR) * LINE_X);
    return sqrt(middle + sqrt(middle * middle - z * z * va * va));
}

static double volts_with_current(double e)
{
    double drop = WATTS / FACTOR / 480; /* sqrt3 times amps: line volts an ohm */
    double sine = sqrt(1 - FACTOR * FACTOR);
    double along = drop * (LINE_R * FACTOR + LINE_X * sine), across = drop * (LINE_X * FACTOR - LINE_R * sine);
    return sqrt(e * e - across * across) - along;
}

static double volts_with_impedance(double e)
{
    double complex y = WATTS / FACTOR / (480.0 * 480) * CMPLX(FACTOR, -sqrt(1 - FACTOR * FACTOR));
    return e / cabs(1 + CMPLX(LINE_R, LINE_X) * y);
}

static void kinds_of_other_load(void **state)
{
    (void)state;
    static const struct {
        const char *kind;
        double (*volts)(double e);
        double power; /* watts go with this power of volts */
    } rows[] = {{"power", volts_with_power, 0},
                {"", volts_with_power, 0}, /* blank: constant power */
                {"current", volts_with_current, 1},
                {"impedance", volts_with_impedance, 2}};
    const double head[] = {[NOMINAL] = 480, [LOW] = 456};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int c = NOMINAL; c <= LOW; c++) {
            struct grid_plant p;
            char supply[500];
            snprintf(supply, sizeof supply, SUPPLY "U,,utility,480\nB,U,cable,,,,,,,,,%g,%g,%g,%g,%s\n", LINE_R, LINE_X,
                     WATTS / 1000, FACTOR, rows[i].kind);
            grid_plant_solved(&p, supply, IDLE);
            const struct sag_board_flow *f = flow_at(&p, "B", (enum sag_case)c);
            check_percent(rows[i].kind, f->volts_ll, rows[i].volts(head[c]), 1e-7);
            check_percent(rows[i].kind, f->watts, WATTS * pow(f->volts_ll / 480, rows[i].power), 1e-7);
            check_percent(rows[i].kind, f->watts / f->va, FACTOR, 1e-7);
            check_percent(rows[i].kind, flow_at(&p, "B", HIGH)->volts_ll, 504, 1e-9); /* light load: it is off */
            grid_plant_free(&p);
        }
}

/* Two units of three: the balanced drop is that of twice the impedance, the capacity 1/sqrt3. */
static void open_delta(void **state)
{
    (void)state;
    static const char *const words[] = {"closed", "", "open"};
    double ohms[3], rated[3], fault[3];
    for (size_t i = 0; i < 3; i++) {
        struct grid_plant p;
        char supply[500];
        snprintf(supply, sizeof supply, SUPPLY "U,,utility,480\nT,U,transformer,,75,4,2,480,240,0,%s\n", words[i]);
        grid_plant_solved(&p, supply, IDLE);
        const struct sag_grid_node *node = &p.grid.nodes[node_at(&p, "T")];
        ohms[i] = hypot(node->r, node->x);
        rated[i] = p.reports[node_at(&p, "T")].rated_va;
        fault[i] = p.reports[node_at(&p, "T")].fault_amps;
        check_percent("X over R stays", node->x / node->r, 2, 1e-9);
        grid_plant_free(&p);
    }
    check_percent("closed", ohms[0], 0.04 * 240 * 240 / 75e3, 1e-9);
    check_percent("blank is closed", ohms[1], ohms[0], 1e-9);
    check_percent("twice the impedance", ohms[2], 2 * ohms[0], 1e-9);
    check_percent("half the fault", fault[2], fault[0] / 2, 1e-6);
    check_percent("closed capacity", rated[0], 75e3, 1e-9);
    check_percent("open capacity", rated[2], 75e3 / sqrt(3.0), 1e-9);
}

static void taps(void **state)
{
    (void)state;
    static const struct {
        const char *tap;
        double volts;
    } rows[] = {{"", 208}, {"0", 208}, {"2.5", 213.2}, {"-5", 197.6}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct grid_plant p;
        char supply[500];
        snprintf(supply, sizeof supply, SUPPLY "U,,utility,480\nT,U,transformer,,75,4,2,480,208,%s\n", rows[i].tap);
        grid_plant_solved(&p, supply, IDLE);
        check_percent(rows[i].tap, flow_at(&p, "T", NOMINAL)->volts_ll, rows[i].volts, 1e-9);
        check_percent(rows[i].tap, flow_at(&p, "T", NOMINAL)->volts_ln, rows[i].volts / sqrt(3.0), 1e-9);
        check_percent(rows[i].tap, p.grid.nodes[1].volts_nominal, 208, 1e-9); /* a tap changes no rating */
        grid_plant_free(&p);
    }
}

static void volts_to_neutral(void **state)
{
    (void)state;
    static const struct {
        const char *system;
        double volts, share; /* share NAN: no neutral */
    } rows[] = {{"wye", 480, 0.57735027}, {"", 208, 0.57735027},    {"delta", 240, 0.5},
                {"ungrounded", 240, NAN}, {"ungrounded", 480, NAN}, {"delta", 480, NAN}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct grid_plant p;
        char supply[500], motors[300];
        snprintf(supply, sizeof supply, SUPPLY "U,,utility,%g,,,,,,,,,,30,0.9,,,,,%s\n", rows[i].volts, rows[i].system);
        snprintf(motors, sizeof motors, MOTORS "IDLE,U,%g,0.02,1745,60,0.7,B,J,pump,50\n", rows[i].volts);
        grid_plant_solved(&p, supply, motors);
        double neutral = flow_at(&p, "U", NOMINAL)->volts_ln;
        if (isnan(rows[i].share))
            assert_true(isnan(neutral));
        else
            check_percent(rows[i].system, neutral, rows[i].share * rows[i].volts, 1e-5);
        grid_plant_free(&p);
    }
}

/* --- measured volts ----------------------------------------------------------------------------------------------- */

#define PATH "U,,utility,480\nA,U,cable,,,,,,,,,0.02,0.02,30,0.9\n"
#define B    "B,A,cable,,,,,,,,,0.05,0.03,20,0.9,current"

static void measured_volts_hold(void **state)
{
    (void)state;
    struct grid_plant p, without;
    grid_plant_solved(&p, SUPPLY PATH B ",470,474,469\nC,B,cable,,,,,,,,,0.1,0.05,10,1,current\n",
                      MOTORS "M,C,460,20,1765,91,0.85,B,G,pump,80\n");
    grid_plant_solved(&without, SUPPLY PATH B "\nC,B,cable,,,,,,,,,0.1,0.05,10,1,current\n",
                      MOTORS "M,C,460,20,1765,91,0.85,B,G,pump,80\n");
    const struct sag_board_flow *b = flow_at(&p, "B", MEASURED), *c = flow_at(&p, "C", MEASURED);
    check_percent("as measured", b->volts_ll, 471, 1e-9);
    assert_true(b->measured_here && !c->measured_here && !flow_at(&p, "B", NOMINAL)->measured_here);
    check_near("the network's own", b->computed_volts, flow_at(&without, "B", NOMINAL)->volts_ll, 1e-6);
    check_near("below", c->computed_volts, flow_at(&without, "C", NOMINAL)->volts_ll, 1e-6);
    assert_true(fabs(b->computed_volts - 471) > 1);
    /* the board below: what comes in, less its own drop */
    double s = sqrt(1 - pow(c->watts / c->va, 2)), f = c->watts / c->va, drop = sqrt(3.0) * c->amps;
    double along = drop * (0.1 * f + 0.05 * s), across = drop * (0.05 * f - 0.1 * s);
    check_near("follows", c->volts_ll, sqrt(471 * 471 - across * across) - along, 1e-6);
    check_percent("motor", p.volts[0].at_board[MEASURED], c->volts_ll, 1e-9);
    check_percent("its board", p.boards[0].of[MEASURED].volts.value, c->volts_ll, 1e-9);
    check_percent("nominal is free", flow_at(&p, "C", NOMINAL)->volts_ll, flow_at(&without, "C", NOMINAL)->volts_ll,
                  1e-9);
    assert_true(isnan(flow_at(&p, "A", MEASURED)->volts_ll));       /* nothing is measured there or above */
    assert_true(isnan(flow_at(&without, "B", MEASURED)->volts_ll)); /* and here nowhere */
    assert_true(isnan(without.volts[0].at_motor[MEASURED]));
    grid_plant_free(&without);
    grid_plant_free(&p);
}

/* --- who runs when ------------------------------------------------------------------------------------------------ */

/* High case: source volts, the path's ohms by hand, and nothing but the motor. */
static void light_load_by_hand(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p,
                      SUPPLY "U,,utility,480,,,,,,,,,,100\nA,U,cable,,,,,,,,,0.03,0.02,50,0.9\n"
                             "T,A,transformer,,45,4,2,480,208,2.5,,,,5\n",
                      MOTORS "M,T,200,10,1755,90,0.85,B,H,pump,80\nN,A,460,50,1775,94,0.86,B,G,pump,90\n");
    const double ratio = 208.0 / 480 * 1.025, z = 0.04 * 208 * 208 / 45e3 / sqrt(5);
    const double complex path = ratio * ratio * CMPLX(0.03, 0.02) + CMPLX(z, 2 * z);
    const struct sag_grid_motor *g = &p.grid.motors[0];
    double volts = 504 * ratio, slip = 0;
    for (int i = 0; i < 60; i++) { /* amps at these volts, drop at these amps, and again */
        struct sag_point at;
        struct sag_feed feed = {volts / g->volts_rated, 1, g->main_flux};
        assert_true(sag_operate(&g->machine, &feed, &g->load, g->share, &slip, &at));
        double complex y =
            at.amps / feed.volts / g->base.ohms * CMPLX(at.power_factor, -sqrt(1 - at.power_factor * at.power_factor));
        volts = 504 * ratio / cabs(1 + path * y);
    }
    check_percent("at the motor", p.volts[0].at_motor[HIGH], volts, 1e-6);
    check_percent("at its board", p.volts[0].at_board[HIGH], volts, 1e-6);
    check_percent("the board alone", flow_at(&p, "T", HIGH)->volts_ll, 504 * ratio, 1e-9);
    assert_true(volts < 0.999 * 504 * ratio && volts > p.volts[0].at_motor[NOMINAL]);
    grid_plant_free(&p);
}

static void spares_run_for_their_own_row(void **state)
{
    (void)state;
    static const char supply[] = SUPPLY "U,,utility,480\nA,U,cable,,,,,,,,,0.05,0.03,10\n";
#define RUN "M,A,460,50,1775,94,0.86,B,G,pump,90\n"
    static const char *const duties[] = {"spare", "fire_pump"};
    for (size_t i = 0; i < 2; i++) {
        struct grid_plant with, without, both;
        char motors[500];
        snprintf(motors, sizeof motors, MOTORS RUN "S,A,460,30,1770,93,0.86,B,G,pump,90,%s\n", duties[i]);
        grid_plant_solved(&with, supply, motors);
        grid_plant_solved(&without, supply, MOTORS RUN);
        grid_plant_solved(&both, supply, MOTORS RUN "S,A,460,30,1770,93,0.86,B,G,pump,90,jockey_pump\n");
        for (int c = NOMINAL; c <= LOW; c++) {
            check_percent(duties[i], with.volts[0].at_motor[c], without.volts[0].at_motor[c], 1e-9);
            check_percent(duties[i], flow_at(&with, "A", (enum sag_case)c)->volts_ll,
                          flow_at(&without, "A", (enum sag_case)c)->volts_ll, 1e-9);
            /* to a spare what runs answers as an impedance would: it takes the last 0.03 % of the volts less */
            check_percent(duties[i], with.volts[1].at_motor[c], both.volts[1].at_motor[c], 0.03);
            assert_true(with.volts[1].at_board[c] < with.volts[0].at_board[c] - 1);
        }
        check_percent("no part in a fault", with.reports[1].motor_fault_amps, without.reports[1].motor_fault_amps,
                      1e-9);
        assert_true(both.reports[1].motor_fault_amps > 1.2 * with.reports[1].motor_fault_amps);
        grid_plant_free(&with);
        grid_plant_free(&without);
        grid_plant_free(&both);
    }
}

/* --- motors without a circuit ------------------------------------------------------------------------------------- */

/* A drive, and a single-phase motor on line and neutral: the same watts at any volts, at full load in the low case. */
static void constant_power_motors(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, SUPPLY "U,,utility,208\nV,,utility,480\n",
                      "tag,feeder,rated_volts,rated_hp,efficiency_pct,power_factor,load,load_pct,phases,starting,"
                      "branch_length_ft,branch_conductor\n"
                      "ONE,U,115,0.5,62,0.65,constant,60,1,,400,12\nTWO,V,460,25,93.6,0.85,fan,80,3,drive\n");
    const double loss = sag_ask_starter_default(shared_tables(), "drive_efficiency").value;
    const double head[] = {[NOMINAL] = 208, [LOW] = 197, [HIGH] = 218}, share[] = {0.6, 1, 0.6}, driven[] = {0.8, 1};
    for (int c = NOMINAL; c <= HIGH; c++) {
        /* 400 ft of 12 copper in steel, out and back: 2.0 and 0.068 ohm a thousand feet */
        double watts = share[c] * 0.5 * SAG_WATTS_PER_HP / 0.62, va = watts / 0.65, z = hypot(1.6, 0.0544);
        double middle = head[c] * head[c] / 6 - watts * 1.6 - sqrt(va * va - watts * watts) * 0.0544;
        double volts = sqrt(middle + sqrt(middle * middle - z * z * va * va));
        check_percent("head", p.volts[0].at_board[c], head[c], 1e-9);
        check_percent("line to neutral", p.volts[0].at_motor[c], volts, 1e-7);
        if (c != HIGH)
            check_percent("drive", flow_at(&p, "V", (enum sag_case)c)->watts,
                          driven[c] * 25 * SAG_WATTS_PER_HP / 0.936 / loss, 1e-7);
    }
    grid_plant_free(&p);
}

/* Volts for amps that are asked for, at the plate's power factor: a line's drop by hand. */
static void volts_at_amps(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_open(&p, SUPPLY "U,,utility,480\nB,U,cable,,,,,,,,,0.1,0.08\n",
                    MOTORS "F,B,460,50,1775,94,0.86,B,G,pump,90,fire_pump\n");
    static const double amps[] = {1, 66.7, 200};
    const double head[] = {[NOMINAL] = 480, [LOW] = 456, [HIGH] = 504};
    for (size_t i = 0; i < COUNT(amps); i++)
        for (int c = NOMINAL; c <= HIGH; c++) {
            double sine = sqrt(1 - 0.86 * 0.86), drop = sqrt(3.0) * amps[i];
            double along = drop * (0.1 * 0.86 + 0.08 * sine), across = drop * (0.08 * 0.86 - 0.1 * sine);
            check_percent("amps", sag_volts_at_amps(&p.grid, (enum sag_case)c, 0, amps[i]),
                          sqrt(head[c] * head[c] - across * across) - along, 1e-7);
        }
    grid_plant_free(&p);
}

TEST_LIST(network_boards, cmocka_unit_test(kinds_of_other_load), cmocka_unit_test(open_delta), cmocka_unit_test(taps),
          cmocka_unit_test(volts_to_neutral), cmocka_unit_test(measured_volts_hold),
          cmocka_unit_test(light_load_by_hand), cmocka_unit_test(spares_run_for_their_own_row),
          cmocka_unit_test(constant_power_motors), cmocka_unit_test(volts_at_amps))
