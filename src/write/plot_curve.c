/* Torque and current against speed, at rated volts and at each case's, with the load curve: a row of two panels for
   each motor; motors of the same plate, volts and load share a row. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/gnuplot.h"

enum {
    ROWS_A_PAGE = 6,
    ROW_TALL = 320,
    ROW_HEAD = 34, /* for the row's title, */
    ROW_FOOT = 56, /* and for its axis */
    HEAD_TALL = 90,
    PAGE_FOOT = 16,
    POINTS = 81
};

/* Motors that have the same curves. */
struct group {
    const struct sag_result *first;
    size_t count;
    char tags[200];
};

static bool same_curves(const struct sag_result *a, const struct sag_result *b)
{
    static const enum sag_fact facts[] = {SAG_RATED_VOLTS, SAG_RATED_POWER, SAG_HZ,
                                          SAG_SYNC_RPM,    SAG_LOAD_SHARE,  SAG_MAIN_FLUX};
    const struct sag_load_shape *load = &a->motor.load, *other = &b->motor.load;
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++)
        if (a->motor.fact[facts[i]].value != b->motor.fact[facts[i]].value)
            return false;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (a->of[c].present != b->of[c].present ||
            (a->of[c].present && a->of[c].terminals.volts.value != b->of[c].terminals.volts.value))
            return false;
    return same_machine(&a->machine, &b->machine) && load->exponent == other->exponent && load->t0 == other->t0 &&
           load->breakaway == other->breakaway;
}

static size_t collect(const struct sag_plot_job *job, struct group *groups)
{
    size_t count = 0;
    for (size_t i = 0; i < job->count; i++) {
        const struct sag_result *r = &job->results[i];
        if (r->machine.way == SAG_FIT_NONE)
            continue;
        size_t g = 0;
        while (g < count && !same_curves(groups[g].first, r))
            g++;
        if (g == count)
            groups[count++] = (struct group){.first = r};
        groups[g].count++;
        add_tag(groups[g].tags, sizeof groups[g].tags, r->motor.plate->tag);
    }
    return count;
}

/* Curves of a group: rated volts first, then the cases that are there and that the model may be asked about. */
struct curve {
    struct sag_feed feed;
    const char *colour, *word;
    int dash;
};

static int curves_of(const struct sag_result *r, struct curve curves[1 + SAG_CASE_COUNT])
{
    double c = r->motor.fact[SAG_MAIN_FLUX].value;
    int n = 0;
    curves[n++] = (struct curve){{1, 1, c}, COLOUR_RATED, "rated volts", 2};
    for (int k = 0; k < KEY_CASES; k++) {
        enum sag_case which = case_in_key(k);
        const struct sag_motor_case *in_case = &r->of[which];
        if (!in_case->present || !sag_known(&in_case->effects.of[SAG_EFFECT_STARTING_AMPS].at_case))
            continue;
        curves[n++] =
            (struct curve){{in_case->terminals.volts_share, in_case->terminals.hz / r->motor.fact[SAG_HZ].value, c},
                           case_colour(which),
                           sag_case_word(which),
                           1};
    }
    return n;
}

/* Synchronous speed at the highest frequency that a curve is drawn for. */
static double top_speed(const struct group *g)
{
    struct curve curves[1 + SAG_CASE_COUNT];
    int count = curves_of(g->first, curves);
    double most = 1;
    for (int k = 0; k < count; k++)
        most = fmax(most, curves[k].feed.hz);
    return most * g->first->motor.fact[SAG_SYNC_RPM].value;
}

/* Slips close together where the curves bend. */
static double slip_at(int point)
{
    double x = (double)point / (POINTS - 1);
    return x >= 1 ? 1 : 0.0008 + 0.9992 * x * x * x;
}

/* For each curve three columns (rev/min, torque, amps, % of rated); then the load's two. */
static void write_data(const struct group *g, size_t number, FILE *f)
{
    struct curve curves[1 + SAG_CASE_COUNT];
    const struct sag_result *r = g->first;
    const struct sag_machine *m = &r->machine;
    int count = curves_of(r, curves);
    double sync = r->motor.fact[SAG_SYNC_RPM].value, rated_torque = m->power / (1 - m->slip);
    double most_hz = top_speed(g) / sync; /* the load curve goes as far as any speed curve */
    fprintf(f,
            "# for each of %d voltages: rev/min, torque, amps; then load: rev/min, torque (%% of rated)\n"
            "$motor%zu << EOD\n",
            count, number);
    for (int i = 0; i < POINTS; i++) {
        double slip = slip_at(i);
        for (int k = 0; k < count; k++) {
            struct sag_point p;
            sag_circuit_at(m, &curves[k].feed, slip, &p);
            put_datum(f, p.speed * sync, 1);
            put_datum(f, 100 * p.torque / rated_torque, 2);
            put_datum(f, 100 * p.amps, 2);
        }
        double speed = most_hz * (1 - slip);
        put_datum(f, speed * sync, 1);
        put_datum(
            f, 100 * sag_load_torque(m, &r->motor.load, r->motor.fact[SAG_LOAD_SHARE].value, speed) / rated_torque, 2);
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

static void write_panel(const struct group *g, size_t number, bool torque, FILE *f)
{
    struct curve curves[1 + SAG_CASE_COUNT];
    int count = curves_of(g->first, curves);
    for (int k = 0; k < count; k++)
        fprintf(f, "%s$motor%zu using %d:%d with lines lw 2 dt %d lc rgb '%s' notitle", k ? ", \\\n  " : "plot ",
                number, 3 * k + 1, 3 * k + (torque ? 2 : 3), curves[k].dash, curves[k].colour);
    if (torque)
        fprintf(f, ", \\\n  $motor%zu using %d:%d with lines lw 2.5 dt 3 lc rgb '" COLOUR_LOAD "' notitle", number,
                3 * count + 1, 3 * count + 2);
    fputc('\n', f);
}

static void write_key(const struct sag_plot_job *job, FILE *f)
{
    begin_key(f);
    fputs("plot NaN with lines lw 2 dt 2 lc rgb '" COLOUR_RATED "' title 'rated volts'", f);
    for (int k = 0; k < KEY_CASES; k++)
        if (has_effects(job, case_in_key(k)))
            fprintf(f, ", \\\n  NaN with lines lw 2 lc rgb '%s' title '%s'", case_colour(case_in_key(k)),
                    sag_case_word(case_in_key(k)));
    fputs(", \\\n  NaN with lines lw 2.5 dt 3 lc rgb '" COLOUR_LOAD "' title 'load'\n", f);
    end_key(f);
}

static void write_row(const struct group *g, size_t number, size_t row, FILE *f)
{
    char title[320];
    const struct sag_qty *fact = g->first->motor.fact;
    bool kilowatts = g->first->motor.iec;
    char power[SAG_NUMBER_ROOM];
    sag_number_figures(power, fact[SAG_RATED_POWER].value / (kilowatts ? 1000 : SAG_WATTS_PER_HP), 4);
    snprintf(title, sizeof title, "%s: %s %s, %d V, %d Hz%s", g->tags, power, kilowatts ? "kW" : "hp",
             (int)round(fact[SAG_RATED_VOLTS].value), (int)round(fact[SAG_HZ].value),
             g->first->machine.way == SAG_FIT_SINGLE_CAGE ? " (starting part not known)" : "");
    for (int torque = 1; torque >= 0; torque--) {
        fprintf(
            f,
            "set tmargin at screen 1 - (%d.0 + %zu*%d.0 + %d)/tall; set bmargin at screen 1 - (%d.0 + %zu*%d.0)/tall\n",
            HEAD_TALL, row, ROW_TALL, ROW_HEAD, HEAD_TALL - ROW_FOOT, row + 1, ROW_TALL);
        fprintf(f, "set lmargin at screen %s; set rmargin at screen %s\n", torque ? "0.08" : "0.58",
                torque ? "0.48" : "0.98");
        fprintf(f,
                "set xrange [0:%d]; set yrange [0:*]; set xtics autofreq nomirror out; set ytics autofreq nomirror "
                "out\nset xlabel 'Speed, rev/min'\n",
                (int)round(top_speed(g)));
        fprintf(f, "set ylabel '%s'\nset title ", torque ? "Torque, % of rated" : "Amps, % of rated");
        put_gnuplot(f, torque ? title : "");
        fputs(" offset 0,-0.4\n", f);
        write_panel(g, number, torque, f);
    }
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct group *groups = (const struct group *)context + first;
    for (size_t i = 0; i < count; i++)
        write_data(&groups[i], i + 1, f);
    put_title(job, "multiplot title", "torque and amps against speed", f);
    write_key(job, f);
    for (size_t i = 0; i < count; i++)
        write_row(&groups[i], i + 1, i, f);
    fputs("unset multiplot\n", f);
}

enum sag_status plot_curve(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    struct group *groups = calloc(job->count, sizeof *groups);
    if (!groups)
        return SAG_NO_MEMORY;
    const struct pages pages = {"curve", collect(job, groups), ROWS_A_PAGE, 1000, HEAD_TALL + PAGE_FOOT, ROW_TALL, draw,
                                groups};
    enum sag_status status = write_pages(job, &pages, files, diags);
    free(groups);
    return status;
}
