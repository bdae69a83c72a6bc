/* What the pictures of protection say: runs, curves, what standards fix, sizes against those that are there. */
#include <stdlib.h>

#include "plot_help.h"

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,system,fault_mva,kva,impedance_pct,primary_volts,secondary_volts,length_ft,"       \
    "conductor,material,raceway,device,device_amps\n"                                                                  \
    "UTIL,,utility,13800,wye,90,,,,,,,,,,\n"                                                                           \
    "T1,UTIL,transformer,,wye,,750,5.75,13800,480,,,,,,\n"                                                             \
    "MAIN,T1,cable,,,,,,,,200,500,cu,steel,inverse_time_breaker,800\n"
/* A, B and C are twins, but B's breaker is not that of the others. */
#define MOTORS                                                                                                         \
    "tag,feeder,rated_volts,rated_hp,phases,rpm,rated_amps,service_factor,design,load,starting,branch_length_ft,"      \
    "branch_conductor,device,device_amps,overload_amps,trip_class,start_setting,transfer_s\n"                          \
    "A,MAIN,460,50,,1775,60,1.15,B,fan,,50,3,inverse_time_breaker,175,60,20,,\n"                                       \
    "B,MAIN,460,50,,1775,60,1.15,B,fan,,50,3,inverse_time_breaker,200,60,20,,\n"                                       \
    "C,MAIN,460,50,,1775,60,1.15,B,fan,,50,3,inverse_time_breaker,175,60,20,,\n"                                       \
    "FUSE,MAIN,460,40,,1775,48,1.15,B,fan,,,,dual_element_fuse,100,,,,\n"                                              \
    "INST,MAIN,460,30,,1775,36,1.15,B,fan,,,,instantaneous_breaker,400,,,,\n"                                          \
    "BIG,MAIN,460,25,,1775,30,1.15,B,fan,autotransformer,50,12,inverse_time_breaker,300,,,50,0.05\n"                   \
    "DRIVE,MAIN,460,20,,1775,24,1.15,B,fan,drive,,,,,,,,\n"                                                            \
    "ONE,MAIN,230,3,1,1740,17,1.15,,constant,,,,,,,,,\n"

enum { /* panels, in the order of the list */
    AC = 1,
    ONLY_B,
    FUSE,
    INST,
    BIG,
    DRIVE
};

#define FIGURES 1e-3 /* a script has that many digits of amps */

static double at(const char *text, const char *block, int panel, int row, int column)
{
    char name[40];
    snprintf(name, sizeof name, "%s%d", block, panel);
    return cell(text, name, row, column);
}

/* Twins share a panel where their protection is the same as well. */
static void panels_and_their_words(void **state)
{
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "timecurrent");
    check_says(text, "'A, C: 50 hp, breaker 175 A installed'");
    check_says(text, "'B: 50 hp, breaker 200 A installed'");
    check_says(text, "'relay 60 A installed, class 20'");
    check_says(text, "'FUSE: 40 hp, dual-element fuse 100 A installed'");
    check_says(text, "'relay 60 A chosen, class 10 to 20 assumed'"); /* 48 A by 125 %, NFPA 70-2023 430.32(A)(1) */
    check_says(text, "'INST: 30 hp, instantaneous breaker set at 400 A installed'");
    check_says(text, "'no overload relay'"); /* of the drive */
    check_says(text, "'No circuit, so no start: ONE'");
    assert_null(strstr(text, "'B, "));
    assert_null(strstr(text, "$run7"));
    free(text);
    drawn_free(&d);
}

/* From closing at the foot to running amps at the top. */
static void start_is_that_of_the_run(void **state)
{
    struct drawn d = {0};
    struct sag_run run;
    int row = 1;
    draw(state, SUPPLY, MOTORS, &d);
    run_alone(&d.plant, "B", &run);
    char *text = script(state, "timecurrent");
    check_near("closing", at(text, "run", ONLY_B, 1, 1), run.started[0].amps_closing, FIGURES);
    check_near("foot", at(text, "run", ONLY_B, 1, 2), 0.005, 1e-9);
    while (!isnan(at(text, "run", ONLY_B, row + 1, 1)))
        row++;
    check_near("running", at(text, "run", ONLY_B, row, 1), run.trace[run.trace_count - 1].amps, FIGURES);
    check_near("top", at(text, "run", ONLY_B, row, 2), 20000, 1e-6);
    assert_true(at(text, "first", ONLY_B, 1, 1) > run.started[0].amps_closing);
    free(text);
    sag_run_free(&run);
    drawn_free(&d);
}

/* An autotransformer's changeover brings more than closing does with its offset, and a magnetic trip feels that. */
static void changeover_counts_for_the_trip(void **state)
{
    struct drawn d = {0};
    struct sag_run run;
    const double most_offset = 2;
    draw(state, SUPPLY, MOTORS, &d);
    run_alone(&d.plant, "BIG", &run);
    char *text = script(state, "timecurrent");
    assert_true(run.started[0].amps_peak > most_offset * run.started[0].amps_closing);
    assert_true(at(text, "first", BIG, 1, 1) >= run.started[0].amps_peak - FIGURES);
    free(text);
    sag_run_free(&run);
    drawn_free(&d);
}

/* Class 20 trips in 6 to 20 s at 7.2 times its setting (IEC 60947-4-1, table of trip classes), which is 1.15 times less
   than where it trips in the end; likely between the two. */
static void relay_is_its_class(void **state)
{
    struct drawn d = {0};
    const double amps = 60 * 7.2 / 1.15;
    int row = 2;
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "timecurrent");
    check_near("ends", at(text, "relay", AC, 1, 1), 60, FIGURES);
    check_near("never", at(text, "relay", AC, 1, 3), 20000, 1e-6);
    while (at(text, "relay", AC, row, 1) < amps)
        row++;
    double left = at(text, "relay", AC, row - 1, 1), right = at(text, "relay", AC, row, 1);
    double part = log(amps / left) / log(right / left);
    double before = at(text, "relay", AC, row - 1, 3), after = at(text, "relay", AC, row, 3);
    check_percent("likely", before * pow(after / before, part), sqrt(6 * 20.0), 1);
    assert_true(at(text, "relay", AC, row, 2) < after && after < at(text, "relay", AC, row, 4));
    assert_true(isnan(at(text, "relay", DRIVE, 1, 1)));
    free(text);
    drawn_free(&d);
}

/* I^2 t from locked-rotor amps at 12 s down to 2.5 times plate amps. */
static void limit_keeps_its_heat(void **state)
{
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "timecurrent");
    double locked = at(text, "limit", AC, 1, 1);
    check_near("locked", locked, d.results[0].motor.fact[SAG_LOCKED_AMPS].value, FIGURES);
    check_near("stall", at(text, "limit", AC, 1, 2), 12, 1e-9);
    check_near("least", at(text, "limit", AC, 2, 1), 2.5 * 60, FIGURES);
    check_percent("heat", at(text, "limit", AC, 2, 2) * 150 * 150, 12 * locked * locked, 0.01);
    free(text);
    drawn_free(&d);
}

/* UL 489: a breaker of 175 A opens within 2 h at 135 % and within 10 min at 200 %. UL 248: a fuse of 100 A marked
   time-delay holds 500 % for 10 s and opens 200 % within 6 min. All from memory. */
static void standards_are_staircases(void **state)
{
    static const struct {
        const char *name, *block;
        int panel, row;
        double amps, seconds;
    } rows[] = {
        {"breaker at 135 %", "opens", AC, 2, 236.25, 7200}, {"breaker at 200 %", "opens", AC, 4, 350, 600},
        {"fuse rests", "holds", FUSE, 2, 100, 10},          {"fuse at 500 %", "holds", FUSE, 3, 500, 10},
        {"fuse lets go", "holds", FUSE, 4, 500, 0.005},     {"fuse at 135 %", "opens", FUSE, 2, 135, 7200},
        {"fuse at 200 %", "opens", FUSE, 4, 200, 360},
    };
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "timecurrent");
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_near(rows[i].name, at(text, rows[i].block, rows[i].panel, rows[i].row, 1), rows[i].amps, FIGURES);
        check_near(rows[i].name, at(text, rows[i].block, rows[i].panel, rows[i].row, 2), rows[i].seconds, 1e-6);
    }
    free(text);
    drawn_free(&d);
}

/* A setting's tolerance, UL 489 (from memory): 80 to 130 %. A setting has no thermal part, a fuse no magnetic one. */
static void bands_of_devices(void **state)
{
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "timecurrent");
    check_near("from", at(text, "trip", INST, 1, 1), 0.8 * 400, FIGURES);
    check_near("to", at(text, "trip", INST, 2, 1), 1.3 * 400, FIGURES);
    assert_true(isnan(at(text, "usual", INST, 1, 1)) && isnan(at(text, "opens", INST, 1, 1)));
    assert_true(isnan(at(text, "trip", AC, 1, 1)));
    assert_true(least_in(text, "$usual3 <<", 2) > 0.05 && least_in(text, "$usual1 <<", 2) < 0.0051);
    /* no slower than the standard lets it be */
    for (int row = 1; !isnan(at(text, "usual", FUSE, row, 1)); row++)
        assert_true(at(text, "usual", FUSE, row, 1) < 200 || at(text, "usual", FUSE, row, 3) <= 360);
    free(text);
    drawn_free(&d);
}

/* NFPA 70-2023 Table 430.250: 50 hp at 460 V 65 A, 25 hp 34 A; wire 125 %, breaker from 115 % to 250 % and its next
   size, 400 % and the size below by the exception. */
static void sizes_are_those_of_the_code(void **state)
{
    enum {
        ROW,
        LEAST,
        HAS_WIRE,
        SHORT,
        CARRY,
        BASE,
        MOST,
        SIZE,
        HAS_DEVICE,
        STANDING,
        COLUMNS
    };
    static const struct {
        const char *name;
        int row;
        double is[COLUMNS];
    } rows[] = {
        {"A", 1, {9, 81.25, 100, 0, 74.75, 175, 250, 175, 175, 1}},
        {"B", 2, {8, 81.25, 100, 0, 74.75, 175, 250, 175, 200, 2}},
        {"BIG", 6, {4, 42.5, 25, 1, 39.1, 90, 125, 90, 300, 3}},
        {"INST", 5, {5, 50, NAN, 0, 0, 320, 520, 320, 400, 2}},
    };
    struct drawn d = {0};
    draw(state, SUPPLY, MOTORS, &d);
    char *text = script(state, "sizes");
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int c = 0; c < COLUMNS; c++) {
            double value = cell(text, "sizes", rows[i].row, c + 1), wanted = rows[i].is[c];
            if (isnan(wanted))
                assert_true(isnan(value));
            else if (c != CARRY || wanted > 0) /* nothing bounds a setting from below */
                check_near(rows[i].name, value, wanted, 0.0051);
        }
    check_says(text, "'feeder MAIN'");
    check_near("feeder", cell(text, "sizes", 9, HAS_DEVICE + 1), 800, FIGURES);
    free(text);
    drawn_free(&d);
}

/* The rest is drawn all the same. */
static void nothing_without_sizes(void **state)
{
    struct drawn d = {0};
    char path[200];
    draw(state, SUPPLY, MOTORS, &d);
    struct sag_diags diags = {0};
    struct sag_file_list files = {0};
    const struct sag_plot_job job = {.plant = &d.judged,
                                     .results = d.results,
                                     .count = d.plant.list.count,
                                     .supply = &d.plant.supply,
                                     .reports = d.plant.reports,
                                     .grids = d.grids,
                                     .folder = *state,
                                     .picture = "png",
                                     .force = true};
    assert_int_equal(sag_plot_feeder(&job, &files, &diags), SAG_OK);
    for (size_t i = 0; i < files.count; i++)
        assert_true(!strstr(files.names[i], "-timecurrent") && !strstr(files.names[i], "-sizes"));
    snprintf(path, sizeof path, "%s/MAIN-torque.gp", (char *)*state);
    assert_string_equal(files.names[files.count - 1], path);
    sag_file_list_free(&files);
    drawn_free(&d);
}

TEST_LIST(plot_protect, IN_FOLDER(panels_and_their_words), IN_FOLDER(start_is_that_of_the_run),
          IN_FOLDER(changeover_counts_for_the_trip), IN_FOLDER(relay_is_its_class), IN_FOLDER(limit_keeps_its_heat),
          IN_FOLDER(standards_are_staircases), IN_FOLDER(bands_of_devices), IN_FOLDER(sizes_are_those_of_the_code),
          IN_FOLDER(nothing_without_sizes))
