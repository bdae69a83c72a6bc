/* What the pictures of starts rest on: rows on both sides of a changeover, and scripts that say what the runs say. */
#include <stdlib.h>

#include "plot_help.h"

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,system,fault_mva,kva,impedance_pct,primary_volts,secondary_volts,length_ft,"       \
    "conductor,material,raceway\n"                                                                                     \
    "UTIL,,utility,13800,wye,90,,,,,,,,\n"                                                                             \
    "T1,UTIL,transformer,,wye,,500,5.75,13800,480,,,,\n"                                                               \
    "MAIN,T1,cable,,,,,,,,200,250,cu,steel\n"
#define MOTORS                                                                                                         \
    "tag,feeder,rated_volts,rated_hp,rpm,load,starting,start_setting,transfer_s,branch_length_ft,branch_conductor\n"   \
    "BIG,MAIN,460,100,1780,fan,autotransformer,65,4,50,1/0\n"                                                          \
    "SMALL,MAIN,460,2,1740,pump,,,,,\n"                                                                                \
    "WYE,MAIN,460,50,1775,fan,wye_delta,,3,,\n"

/* Share of nominal volts within which the run's network settles (src/start/run.c). */
#define CLOSE 1e-6

/* Rows that share their time with the row before. */
static size_t pairs_in(const struct sag_run *run, size_t *first)
{
    size_t pairs = 0;
    *first = 0;
    for (size_t i = 1; i < run->trace_count; i++)
        if (run->trace[i].time == run->trace[i - 1].time) {
            *first = pairs ? *first : i;
            pairs++;
        }
    return pairs;
}

static void both_sides_of_a_changeover(void **state)
{
    (void)state;
    static const struct {
        const char *tag;
        size_t pairs; /* a gap has two ends */
        double at;
        bool off_after;
    } rows[] = {{"BIG", 1, 4, false}, {"SMALL", 0, 0, false}, {"WYE", 2, 3, true}};
    struct grid_plant p;
    grid_plant_solved(&p, SUPPLY, MOTORS);
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_run run;
        size_t at;
        run_alone(&p, rows[i].tag, &run);
        assert_int_equal(pairs_in(&run, &at), rows[i].pairs);
        if (rows[i].pairs) {
            const struct sag_trace_row *before = &run.trace[at - 1], *after = &run.trace[at];
            check_near(rows[i].tag, before->time, rows[i].at, 1e-6);
            check_near(rows[i].tag, after->speed, before->speed, 1e-12);
            assert_true(before->amps > 0 && before->motor_volts > 0);
            assert_int_equal(after->amps == 0, rows[i].off_after);
            if (rows[i].off_after) /* the board comes up when the line is let go */
                assert_true(after->board_volts > before->board_volts);
            else /* full volts draw more than the tap did */
                assert_true(after->amps > before->amps);
        }
        sag_run_free(&run);
    }
    grid_plant_free(&p);
}

/* The trace's own volts before the starter are those that the run is judged by. */
static void line_volts_are_those_judged(void **state)
{
    (void)state;
    struct grid_plant p;
    struct sag_run run;
    double lowest = INFINITY;
    grid_plant_solved(&p, SUPPLY, MOTORS);
    run_alone(&p, "BIG", &run);
    for (size_t i = 0; i < run.trace_count; i++) {
        lowest = fmin(lowest, run.trace[i].line_volts);
        assert_true(run.trace[i].line_volts < run.trace[i].board_volts); /* a branch lies between them */
        assert_true(run.trace[i].motor_volts <= run.trace[i].line_volts * (1 + CLOSE));
    }
    check_near("lowest", lowest, run.started[0].volts_lowest, 1e-9);
    check_near("tap", run.trace[0].motor_volts / run.trace[0].line_volts, 0.65, CLOSE);
    sag_run_free(&run);
    grid_plant_free(&p);
}

/* --- scripts ----------------------------------------------------------------------------------------------------- */

static void sag_says_what_the_run_says(void **state)
{
    struct drawn d = {0};
    struct sag_run run;
    draw(state, SUPPLY, MOTORS, &d);
    run_alone(&d.plant, "BIG", &run);
    char *text = script(state, "sag"), wanted[60];
    const double two_digits = 0.005 + 1e-9;
    /* BIG dips deepest, so it is the first block */
    check_near("board", least_in(text, "$start1 << EOD", 4), 100 * run.started[0].board_lowest / 480, two_digits);
    check_near("starter", least_in(text, "$start1 << EOD", 2), 100 * run.started[0].volts_lowest / 460, two_digits);
    snprintf(wanted, sizeof wanted, "'dip %.1f %%, peak %.0f A, ",
             100 * (1 - run.started[0].board_lowest / run.started[0].board_before), run.started[0].amps_peak);
    if (!strstr(text, wanted))
        fail_msg("no %s", wanted);
    assert_null(strstr(text, "SMALL: "));     /* not drawn, */
    assert_non_null(strstr(text, "'SMALL'")); /* but named */
    free(text);
    sag_run_free(&run);
    drawn_free(&d);
}

static void profile_says_what_the_boards_say(void **state)
{
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "profile"), wanted[60];
    snprintf(wanted, sizeof wanted, "'%.1f' at first 2,", flow_at(&d.plant, "MAIN", SAG_CASE_LOW)->volts_ll);
    if (!strstr(text, wanted))
        fail_msg("no %s", wanted);
    check_near("lowest board", least_in(text, "$path << EOD", 2),
               100 *
                   fmin(d.plant.volts[motor_at(&d.plant, "BIG")].at_motor[SAG_CASE_LOW],
                        flow_at(&d.plant, "MAIN", SAG_CASE_LOW)->volts_ll) /
                   480,
               0.005 + 1e-9);
    free(text);
    drawn_free(&d);
}

static void torque_says_what_the_run_says(void **state)
{
    struct drawn d = {0};
    struct sag_run run;
    draw(state, SUPPLY, MOTORS, &d);
    run_alone(&d.plant, "BIG", &run);
    const struct sag_grid_motor *m = &d.plant.grid.motors[motor_at(&d.plant, "BIG")];
    double rated = m->base.torque_nm * m->machine.power / (1 - m->machine.slip);
    char *text = script(state, "torque"), wanted[60];
    snprintf(wanted, sizeof wanted, "$motor1 << EOD\n0.0 %.1f\n", 100 * run.trace[0].motor_torque_nm / rated);
    if (!strstr(text, wanted))
        fail_msg("no %s", wanted);
    snprintf(wanted, sizeof wanted, "'least over load: %.0f %% of rated", 100 * run.started[0].least_surplus);
    if (!strstr(text, wanted))
        fail_msg("no %s", wanted);
    free(text);
    sag_run_free(&run);
    drawn_free(&d);
}

TEST_LIST(plot_starts, cmocka_unit_test(both_sides_of_a_changeover), cmocka_unit_test(line_volts_are_those_judged),
          IN_FOLDER(sag_says_what_the_run_says), IN_FOLDER(profile_says_what_the_boards_say),
          IN_FOLDER(torque_says_what_the_run_says))
