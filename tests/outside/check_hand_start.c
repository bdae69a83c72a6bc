/* docs/hand-start.md: one start worked on paper. Every number of the page is worked out here again from the rows of the
   plant (divider of percent impedances: IEEE 399, from memory, and any textbook), must stand in the page as printed,
   and must be what the program gives, within the rounding shown where both do the same, else within the difference that
   the page explains. */
#include <complex.h>

#include "../golden/golden.h"
#include "../unit/network_help.h"

#define ROOT3 1.7320508075688772

struct hand {
    double volts, scale; /* without current; of ohms at 13.8 kV brought to the board */
    double complex utility, t1, lift, branch, motor, all;
    double locked_amps, rotor_watts, winding_watts, power_factor;
    double closing, amps, board;
};

static double complex split(double z, double k)
{
    double r = z / sqrt(1 + k * k);
    return r + I * k * r;
}

static struct hand by_hand(void)
{
    const double rated = 460, torque = 400.2, stator_r = 0.05573; /* plate, its rated torque, R_1 of the sheet */
    struct hand h = {.volts = 14490 * 480 / 13800.0 * 1.025, .scale = pow(480 / 13800.0 * 1.025, 2)};
    h.utility = split(13800.0 * 13800 / 90e6, 8);
    h.t1 = split(0.0575 * 480 * 480 / 750e3, 5.5);
    h.lift = (0.052 + I * 0.041) * 0.18 / 2;
    h.branch = (0.10 + I * 0.043) * 0.09;
    h.locked_amps = 5.95 * 100 * 1000 / (ROOT3 * rated);
    h.rotor_watts = 1.5 * torque * 2 * acos(-1.0) * 30;
    h.winding_watts = 3 * h.locked_amps * h.locked_amps * stator_r;
    h.power_factor = (h.rotor_watts + h.winding_watts) / 595e3;
    double z = rated / (ROOT3 * h.locked_amps);
    h.motor = z * (h.power_factor + I * sqrt(1 - h.power_factor * h.power_factor));
    h.all = h.scale * h.utility + h.t1 + h.lift + h.branch + h.motor;
    h.closing = h.volts * z / cabs(h.all);
    h.amps = h.closing / (ROOT3 * z);
    h.board = h.volts * cabs(h.branch + h.motor) / cabs(h.all);
    return h;
}

/* The number as the page prints it is the one worked out here, to the last digit shown. */
static void paper_says_what_it_works_out(void **state)
{
    (void)state;
    const struct hand h = by_hand();
    double complex path = h.all - h.motor;
    const struct {
        const char *text, *number;
        double value;
    } rows[] = {
        {"14490 x 480 / 13800 x 1.025 = 516.6 V", "516.6", h.volts},
        {"(480 / 13800 x 1.025)^2 = 0.0012711", "0.0012711", h.scale},
        {"90 000 000 = 2.116 |", "2.116", cabs(h.utility)},
        {"| 8 | 0.2625 |", "0.2625", creal(h.utility)},
        {"| 0.2625 | 2.0997 |", "2.0997", cimag(h.utility)},
        {"| 2.0997 | 0.00033 |", "0.00033", h.scale * creal(h.utility)},
        {"| 0.00033 | 0.00267 |", "0.00267", h.scale * cimag(h.utility)},
        {"750 000 = 0.01766 |", "0.01766", cabs(h.t1)},
        {"| 5.5 | 0.00316 |", "0.00316", creal(h.t1)},
        {"| 0.00316 | 0.01738 |", "0.01738", cimag(h.t1)},
        {"| 0.00468 | 0.00369 |", "0.00468", creal(h.lift)},
        {"| 0.00468 | 0.00369 |", "0.00369", cimag(h.lift)},
        {"| 0.00900 | 0.00387 |", "0.00900", creal(h.branch)},
        {"| 0.00900 | 0.00387 |", "0.00387", cimag(h.branch)},
        {"| 0.01717 | 0.02761 |", "0.01717", creal(path)},
        {"| 0.01717 | 0.02761 |", "0.02761", cimag(path)},
        {"(1.732 x 460) = 746.8 A", "746.8", h.locked_amps},
        {"(1.732 x 746.8) = 0.3556 ohm", "0.3556", cabs(h.motor)},
        {"188.5 rad/s = 113.2 kW", "113.2", h.rotor_watts / 1000},
        {"0.05573 ohm = 93.2 kW", "93.2", h.winding_watts / 1000},
        {"power factor of 0.347", "0.347", h.power_factor},
        {"thus 0.12336 + j 0.33355 ohm", "0.12336", creal(h.motor)},
        {"thus 0.12336 + j 0.33355 ohm", "0.33355", cimag(h.motor)},
        {"= 0.1405 + j 0.3612,", "0.1405", creal(h.all)},
        {"|Z| = 0.3875 ohm", "0.3875", cabs(h.all)},
        {"0.3875 = 474.1 V at", "474.1", h.closing},
        {"103.1 % of the plate", "103.1", 100 * h.closing / 460},
        {"= 769.6 A", "769.6", h.amps},
        {"= 0.36245 ohm", "0.36245", cabs(h.branch + h.motor)},
        {"= 483.2 V", "483.2", h.board},
        {"a dip of 6.5 %", "6.5", 100 * (1 - h.board / h.volts)},
    };
    char *page = slurp("docs/hand-start.md");
    for (size_t i = 0; i < COUNT(rows); i++) {
        const char *point = strchr(rows[i].number, '.');
        if (!strstr(page, rows[i].text))
            fail_msg("not in the page: %s", rows[i].text);
        check_near(rows[i].text, strtod(rows[i].number, NULL), rows[i].value,
                   0.501 * pow(10, -(double)strlen(point + 1)));
    }
    free(page);
}

static void program_agrees_with_paper(void **state)
{
    (void)state;
    const struct hand h = by_hand();
    struct grid_plant p;
    char *supply = slurp("motordata/cawdry-flats/supply.csv"), *motors = slurp("motordata/cawdry-flats/motors.csv");
    grid_plant_open(&p, supply, motors);
    const struct sag_grid_node *nodes = p.grid.nodes;
    size_t motor = motor_at(&p, "LP-3"), util = node_at(&p, "UTIL"), t1 = node_at(&p, "T1"), lift = node_at(&p, "LIFT");
    check_percent("UTIL R", nodes[util].r, creal(h.utility), 1e-6);
    check_percent("UTIL X", nodes[util].x, cimag(h.utility), 1e-6);
    check_percent("T1 R", nodes[t1].r, creal(h.t1), 1e-6);
    check_percent("T1 X", nodes[t1].x, cimag(h.t1), 1e-6);
    check_percent("LIFT R", nodes[lift].r, creal(h.lift), 1e-6);
    check_percent("LIFT X", nodes[lift].x, cimag(h.lift), 1e-6);
    check_percent("branch R", p.grid.motors[motor].branch_r, creal(h.branch), 1e-6);
    check_percent("branch X", p.grid.motors[motor].branch_x, cimag(h.branch), 1e-6);
    const struct sag_closing closing = {motor, 0};
    const struct sag_start_job job = {.tables = shared_tables(),
                                      .grid = &p.grid,
                                      .list = &p.list,
                                      .closings = &closing,
                                      .count = 1,
                                      .which = SAG_CASE_HIGH};
    struct sag_run run;
    assert_int_equal(sag_run_up(&job, &run), SAG_OK);
    const struct sag_started *s = &run.started[0];
    check_near("volts before", s->volts_before, h.volts, 1e-6);
    /* at 103 % of rated volts the leakage iron leaves 0.5 % fewer ohms: with 8 % of all ohms in the path, 0.04 % of
     * volts */
    check_percent("volts at closing", s->volts_closing, h.closing, 0.06);
    check_percent("ohms at closing", s->volts_closing / (ROOT3 * s->amps_closing), cabs(h.motor), 0.6);
    check_near("board at closing", 100 * (1 - s->board_closing / h.volts), 100 * (1 - h.board / h.volts), 0.05);
    check_near("node and motor say the same", run.node_closing[lift], s->board_closing, 1e-9);
    /* with the program's own ohms at standstill the divider is exact, but for the 1e-6 of nominal volts to which a
       run-up solves the network at each instant (start/run.c) */
    double z = s->volts_closing / (ROOT3 * s->amps_closing), pf = s->power_factor_closing;
    double complex all = h.all - h.motor + z * (pf + I * sqrt(1 - pf * pf));
    check_percent("divider", s->volts_closing, h.volts * z / cabs(all), 1e-4);
    sag_run_free(&run);
    grid_plant_free(&p);
    free(supply);
    free(motors);
}

TEST_LIST(hand_start, cmocka_unit_test(paper_says_what_it_works_out), cmocka_unit_test(program_agrees_with_paper))
