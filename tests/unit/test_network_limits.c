/* Where a path cannot bring the power, and what a bolted fault draws. */
#include "unit/network_help.h"

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,x_over_r,primary_volts,secondary_volts,ohms_r,ohms_x," \
    "load_kw,load_pf,rating_ka\n"
#define MOTORS "tag,feeder,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,design,code_letter,load,load_pct,duty\n"
#define IDLE   MOTORS "IDLE,U,460,5,1745,87.5,0.84,B,J,pump,50\n"

/* --- collapse ----------------------------------------------------------------------------------------------------- */

/* The most of a constant power at the end of a line, as a share: where the two solutions for its volts meet,
   e^2 = 2 k (P R + Q X + |Z| |S|). */
static double nose(double e, double complex z, double watts, double factor)
{
    double complex s = watts / factor * CMPLX(factor, sqrt(1 - factor * factor));
    return e * e / 2 / (creal(s) * creal(z) + cimag(s) * cimag(z) + cabs(z) * cabs(s));
}

struct weak {
    const char *name;
    double r, x, kilowatts, factor;
};

static enum sag_status solve_weak(const struct weak *w, double share, char *text, size_t room)
{
    struct grid_plant p;
    struct sag_diags diags = {0};
    char supply[500];
    snprintf(supply, sizeof supply, SUPPLY "U,,utility,480\nFAR END,U,cable,,,,,,,,%g,%g,%.12g,%g\n", w->r, w->x,
             share * w->kilowatts, w->factor);
    grid_plant_open(&p, supply, IDLE);
    enum sag_status status = grid_plant_solve(&p, &diags);
    diags_text(&diags, text, room);
    sag_diags_free(&diags);
    grid_plant_free(&p);
    return status;
}

static const struct weak weak_lines[] = {
    {"mostly resistance", 1.2, 0.1, 80, 0.9},
    {"mostly reactance", 0.1, 1.2, 90, 0.95},
    {"no power factor to speak of", 0.3, 0.4, 100, 0.5},
    {"far over", 1, 1, 400, 1},
};

/* The bearable share is found by halving, to 1/4096, with solutions of 200 passes: near the nose a pass brings the less
   the nearer it is, so that the last 0.7 % count as a collapse too. Three figures are printed, 0.4 % of the smallest
   here. */
static void collapse_names_the_board_and_the_most(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(weak_lines); i++) {
        const struct weak *w = &weak_lines[i];
        char text[600], kilowatts[40];
        assert_int_equal(solve_weak(w, 1, text, sizeof text), SAG_BAD_INPUT);
        snprintf(kilowatts, sizeof kilowatts, "cannot bring the %g kW", w->kilowatts);
        if (strncmp(text, "3:0 E volts at FAR END collapse in the nominal case: ", 53) != 0 || !strstr(text, kilowatts))
            fail_msg("%s: %s", w->name, text);
        const char *about = strstr(text, "about ");
        assert_non_null(about);
        double most = strtod(about + 6, NULL) / 100,
               wanted = nose(480, CMPLX(w->r, w->x), w->kilowatts * 1000, w->factor);
        if (!(most <= wanted * 1.005 && most >= wanted * 0.99))
            fail_msg("%s: %g is said to be the most, the nose is at %g", w->name, most, wanted);
    }
}

static void below_the_nose_it_stands(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(weak_lines); i++) {
        const struct weak *w = &weak_lines[i];
        char text[600];
        double low_case = nose(456, CMPLX(w->r, w->x), w->kilowatts * 1000, w->factor);
        assert_int_equal(solve_weak(w, 0.995 * low_case, text, sizeof text), SAG_OK);
        check_text(w->name, text, "");
        assert_int_equal(solve_weak(w, 1.001 * low_case, text, sizeof text), SAG_BAD_INPUT);
        assert_non_null(strstr(text, "in the low case"));
    }
}

/* The board that is lowest is named, with its motors' constant power in the kilowatts. */
static void collapse_among_others(void **state)
{
    (void)state;
    struct grid_plant p;
    struct sag_diags diags = {0};
    grid_plant_open(&p,
                    SUPPLY "U,,utility,480\nA,U,cable,,,,,,,,0.05,0.05,20,0.9\nB,A,cable,,,,,,,,0.9,0.5,90,0.9\n"
                           "C,A,cable,,,,,,,,0.1,0.1,20,0.9\n",
                    IDLE);
    assert_int_equal(grid_plant_solve(&p, &diags), SAG_BAD_INPUT);
    assert_int_equal(diags.count, 1);
    assert_int_equal(diags.items[0].at.line, 4);
    if (!strstr(diags.items[0].text, "volts at B collapse") || !strstr(diags.items[0].text, " 90 kW"))
        fail_msg("%s", diags.items[0].text);
    sag_diags_free(&diags);
    grid_plant_free(&p);
}

/* --- faults ------------------------------------------------------------------------------------------------------- */

#define STRONG              SUPPLY "U,,utility,480\nA,U,cable,,,,,,,,0.02,0.03,,,22\nB,A,cable,,,,,,,,0.03,0.02\n"
#define TURN(tag, on, duty) tag "," on ",460,50,1775,94,0.86,B,G,pump,90," duty "\n"

/* Standing still behind its terminals at rated volts, saturation and all: the locked-rotor admittance. */
static double complex locked(const struct sag_grid_motor *g)
{
    struct sag_point at;
    sag_circuit_at(&g->machine, &(struct sag_feed){1, 1, 0}, 1, &at);
    return at.amps / g->base.ohms * CMPLX(at.power_factor, -sqrt(1 - at.power_factor * at.power_factor));
}

static void faults_from_sources_and_motors(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, STRONG, MOTORS TURN("M", "B", "") TURN("N", "A", "") TURN("S", "B", "spare"));
    const double complex to_a = CMPLX(0.02, 0.03), to_b = CMPLX(0.03, 0.02);
    const double volts = 480 / sqrt(3.0);
    double complex y = locked(&p.grid.motors[0]);
    double at_a = volts / cabs(to_a), at_b = volts / cabs(to_a + to_b);
    check_percent("A, sources", p.reports[1].fault_amps, at_a, 1e-9);
    check_percent("B, sources", p.reports[2].fault_amps, at_b, 1e-9);
    /* into A: from the source, from N at the board, from M through the cable */
    double complex into_a = 1 / to_a + y + 1 / (to_b + 1 / y);
    check_percent("A, motors", p.reports[1].motor_fault_amps, volts * cabs(into_a) - at_a, 1e-4);
    /* into B: from M, and through the cable from source and N in parallel */
    double complex into_b = y + 1 / (to_b + 1 / (1 / to_a + y));
    check_percent("B, motors", p.reports[2].motor_fault_amps, volts * cabs(into_b) - at_b, 1e-4);
    check_near("rating", p.reports[1].rating_amps, 22e3, 0);
    assert_true(isnan(p.reports[2].rating_amps));
    grid_plant_free(&p);
}

/* Code letter G is 5.6 to 6.3 kVA a horsepower with locked rotor at rated volts (NFPA 70 table 430.7(B)); a fault at
   480 V draws 480/460 of it. Source and motors differ in angle, which takes a little off: 5 % at most here. It is 6.3
   times rated amps at rated volts, above the 4 to 6 that IEEE 141 (from memory) allows for a group: on the safe side.
 */
static void motors_add_their_locked_rotor_amps(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, SUPPLY "U,,utility,13800\nT,U,transformer,,,750,5.75,5,13800,480\n",
                      MOTORS TURN("M", "T", "") TURN("N", "T", ""));
    double a_kva = 2 * 50 * 1000 / (sqrt(3.0) * 460) * 480 / 460, adds = p.reports[1].motor_fault_amps;
    if (!(adds > 0.95 * 5.6 * a_kva && adds < 6.3 * a_kva))
        fail_msg("motors add %g A, %g kVA a horsepower", adds, adds / a_kva);
    grid_plant_free(&p);
}

static void no_motors_no_more(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, STRONG, MOTORS TURN("S", "B", "spare") TURN("F", "B", "fire_pump"));
    for (size_t i = 1; i < 3; i++)
        check_near("nothing turns", p.reports[i].motor_fault_amps, 0, 1e-9 * p.reports[i].fault_amps);
    grid_plant_free(&p);
}

TEST_LIST(network_limits, cmocka_unit_test(collapse_names_the_board_and_the_most),
          cmocka_unit_test(below_the_nose_it_stands), cmocka_unit_test(collapse_among_others),
          cmocka_unit_test(faults_from_sources_and_motors), cmocka_unit_test(motors_add_their_locked_rotor_amps),
          cmocka_unit_test(no_motors_no_more))
