/* Volts along the path from the source to one motor, in each case: boards in percent of their nominal volts, the
   motor's terminals in percent of its plate against the band of the plate. Below the axis, the volts themselves. */
#include <math.h>
#include <stdlib.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/gnuplot.h"

enum {
    MOST_PLACES = 12, /* of a path: a longer one is shown from its end */
    HEAD_TALL = 96,
    PANEL_TALL = 330,
    FOOT_TALL = 66, /* names of places, then a line a case */
    LINE_TALL = 20,
    WIDE_PLACE = 130,
    WIDE_LEFT = 110,
    WIDE_RIGHT = 30,
    WIDE_LEAST = 760
};

#define BAND_HALF 0.42 /* of a place's width */

struct path {
    const struct sag_plot_job *job;
    const struct sag_result *motor;
    const struct sag_grid_motor *in_grid;
    int32_t nodes[MOST_PLACES];
    int count; /* boards; two more places are the motor's */
    int above; /* boards nearer to the source, that there is no room for */
    int cases;
};

/* In the low case, else in the first there is. */
static enum sag_case judged_by(const struct sag_plot_job *job)
{
    int place = 0;
    while (place + 1 < KEY_CASES && !has_case(job, case_in_key(place)))
        place++;
    return case_in_key(place);
}

/* The motor whose volts are lowest against its plate. */
static const struct sag_result *lowest_motor(const struct sag_plot_job *job)
{
    const struct sag_result *lowest = NULL;
    enum sag_case which = judged_by(job);
    double least = INFINITY;
    for (size_t i = 0; i < job->count; i++) {
        const struct sag_result *r = &job->results[i];
        double share = r->of[which].present ? r->of[which].terminals.volts_share : NAN;
        if (share < least) {
            least = share;
            lowest = r;
        }
    }
    return lowest;
}

static void put_path(const struct sag_plot_job *job, struct path *p)
{
    int32_t all = 0, node = p->in_grid->node;
    for (int32_t at = node; at >= 0 && all < MOST_PLACES; at = job->supply->nodes[at].parent)
        all++;
    p->count = (int)all;
    for (int i = p->count; i-- > 0; node = job->supply->nodes[node].parent)
        p->nodes[i] = node;
    for (; node >= 0; node = job->supply->nodes[node].parent)
        p->above++;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        p->cases += has_case(job, (enum sag_case)c);
}

static double volts_at(const struct path *p, int place, enum sag_case which)
{
    if (place < p->count)
        return p->job->reports[p->nodes[place]].of[which].volts_ll;
    return p->motor->of[which].present ? p->job->plant->volts[p->motor->index].at_motor[which] : NAN;
}

/* Nominal volts of a board; at the terminals, those of the motor's board between two of its lines or to the neutral. */
static double nominal_at(const struct path *p, int place)
{
    if (place < p->count)
        return p->job->supply->nodes[p->nodes[place]].volts_nominal;
    return nominal_at(p, p->count - 1) * p->in_grid->terminal_share;
}

static double percent_at(const struct path *p, int place, enum sag_case which)
{
    return 100 * volts_at(p, place, which) / nominal_at(p, place);
}

static double percent_of_plate(const struct path *p, enum sag_case which)
{
    return 100 * volts_at(p, p->count, which) / p->motor->motor.fact[SAG_RATED_VOLTS].value;
}

static void band_of(const struct path *p, double *low, double *high)
{
    double rated = p->motor->motor.fact[SAG_RATED_VOLTS].value;
    *low = *high = NAN;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (p->motor->of[c].present) {
            *low = 100 * p->motor->of[c].terminals.band_low / rated;
            *high = 100 * p->motor->of[c].terminals.band_high / rated;
        }
}

/* Place and a column a case: $path in percent of nominal, $plate at the motor in percent of its plate. */
static void write_data(const struct path *p, FILE *f)
{
    fputs("# place; then in the order of the key, for each case: % of nominal volts; $plate: % of plate volts\n"
          "$path << EOD\n",
          f);
    for (int place = 0; place <= p->count; place++) {
        fprintf(f, "%d", place);
        for (int k = 0; k < KEY_CASES; k++)
            put_datum(f, has_case(p->job, case_in_key(k)) ? percent_at(p, place, case_in_key(k)) : NAN, 2);
        fputc('\n', f);
    }
    fputs("EOD\n$plate << EOD\n", f);
    fprintf(f, "%d", p->count + 1);
    for (int k = 0; k < KEY_CASES; k++)
        put_datum(f, has_case(p->job, case_in_key(k)) ? percent_of_plate(p, case_in_key(k)) : NAN, 2);
    fputs("\nEOD\n", f);
}

static void write_range(const struct path *p, FILE *f)
{
    const double room = 2;
    double least, most;
    band_of(p, &least, &most);
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        if (!has_case(p->job, (enum sag_case)c))
            continue;
        for (int place = 0; place <= p->count; place++) {
            least = fmin(least, percent_at(p, place, (enum sag_case)c));
            most = fmax(most, percent_at(p, place, (enum sag_case)c));
        }
        least = fmin(least, percent_of_plate(p, (enum sag_case)c));
        most = fmax(most, percent_of_plate(p, (enum sag_case)c));
    }
    fprintf(f, "set xrange [-0.5:%d.5]; set yrange [%d:%d]\n", p->count + 1, (int)floor(least - room),
            (int)ceil(most + room));
    fprintf(f, "set ytics %d nomirror out\n", most - least > 60 ? 20 : most - least > 30 ? 10 : 5);
}

/* Words below a place of the axis, in line 0, 1, ...; place -1: at the left, before the axis. */
static void write_below(const struct path *p, int place, int line, const char *text, FILE *f)
{
    int foot = FOOT_TALL + LINE_TALL * p->cases;
    fputs("set label ", f);
    put_gnuplot(f, text);
    if (place < 0)
        fputs(" at screen 0.012", f);
    else
        fprintf(f, " at first %d", place);
    fprintf(f, ", screen %d.0/tall %s font ',10'", foot - 18 - LINE_TALL * line, place < 0 ? "left" : "center");
}

static void write_names(const struct path *p, FILE *f)
{
    char text[120], number[SAG_NUMBER_ROOM];
    if (p->above) {
        snprintf(text, sizeof text, "%d above", p->above);
        write_below(p, -1, 0, text, f);
        fputc('\n', f);
    }
    write_below(p, -1, 1, "100 %", f);
    fputs(" textcolor rgb '" COLOUR_FRAME "'\n", f);
    for (int place = 0; place <= p->count + 1; place++) {
        bool board = place < p->count;
        put_cut(text, sizeof text, board ? p->job->supply->nodes[p->nodes[place]].id : p->motor->motor.plate->tag, 14);
        write_below(p, place, 0, text, f);
        fputc('\n', f);
        double volts = place <= p->count ? nominal_at(p, place) : p->motor->motor.fact[SAG_RATED_VOLTS].value;
        snprintf(text, sizeof text, "%s%s V", place > p->count ? "plate " : "", sag_number_figures(number, volts, 5));
        write_below(p, place, 1, text, f);
        fputs(" textcolor rgb '" COLOUR_FRAME "'\n", f);
    }
}

static void write_volts(const struct path *p, enum sag_case which, int line, FILE *f)
{
    char number[SAG_NUMBER_ROOM], text[SAG_NUMBER_ROOM + 8];
    write_below(p, -1, line, sag_case_word(which), f);
    fprintf(f, " textcolor rgb '%s'\n", case_colour(which));
    for (int place = 0; place <= p->count + 1; place++) {
        double value = place <= p->count ? volts_at(p, place, which) : percent_of_plate(p, which);
        if (isnan(value))
            continue;
        snprintf(text, sizeof text, "%s%s", sag_number_print(number, value, value < 1000 ? 1 : 0),
                 place <= p->count ? "" : " %");
        write_below(p, place, line, text, f);
        fprintf(f, " textcolor rgb '%s'\n", case_colour(which));
    }
}

static void write_below_axis(const struct path *p, FILE *f)
{
    int line = 2;
    write_names(p, f);
    for (int k = 0; k < KEY_CASES; k++)
        if (has_case(p->job, case_in_key(k)))
            write_volts(p, case_in_key(k), line++, f);
}

/* The band as a box at the last place, 100 as a line, and a line between the two bases. */
static void write_frame(const struct path *p, FILE *f)
{
    double low, high;
    band_of(p, &low, &high);
    fprintf(f, "set object 1 rectangle from %d-%.2f, first ", p->count + 1, BAND_HALF);
    put_fixed(f, low, 2);
    fprintf(f, " to %d+%.2f, first ", p->count + 1, BAND_HALF);
    put_fixed(f, high, 2);
    fputs(" behind fs solid 1 noborder fc rgb '" COLOUR_BAND "'\n", f);
    fputs("set arrow 1 from graph 0, first 100 to graph 1, first 100 nohead back dt 2 lc rgb '" COLOUR_RATED "'\n", f);
    fprintf(f, "set arrow 2 from %d.5, graph 0 to %d.5, graph 1 nohead back lw 1 lc rgb '" COLOUR_SPAN "'\n", p->count,
            p->count);
    fprintf(f, "set label '%% of plate' at first %d, graph 1 center offset 0,0.6 textcolor rgb '" COLOUR_FRAME "'\n",
            p->count + 1);
    fprintf(f,
            "set label '%% of nominal' at first %d.0/2, graph 1 center offset 0,0.6 textcolor rgb '" COLOUR_FRAME "'\n",
            p->count);
}

static void write_plot(const struct path *p, FILE *f)
{
    const char *before = "plot ";
    for (int k = 0; k < KEY_CASES; k++) {
        enum sag_case which = case_in_key(k);
        if (!has_case(p->job, which))
            continue;
        fprintf(f, "%s$path using 1:%d with lines lw 2 lc rgb '%s' notitle", before, k + 2, case_colour(which));
        before = ", \\\n  ";
        fprintf(f, "%s$path using 1:%d with points pt %d ps 1.3*mark lw 2 lc rgb '%s' notitle", before, k + 2,
                case_point(which), case_colour(which));
        fprintf(f, "%s$plate using 1:%d with points pt %d ps 1.6*mark lw 2 lc rgb '%s' notitle", before, k + 2,
                case_point(which), case_colour(which));
    }
    fputc('\n', f);
}

static void write_key(const struct path *p, FILE *f)
{
    begin_key(f);
    fputs("plot NaN with filledcurves fs solid 1 noborder fc rgb '" COLOUR_BAND "' title 'band of the plate'", f);
    for (int k = 0; k < KEY_CASES; k++)
        if (has_case(p->job, case_in_key(k)))
            fprintf(f, ", \\\n  NaN with linespoints pt %d ps 1.3*mark lw 2 lc rgb '%s' title '%s case'",
                    case_point(case_in_key(k)), case_colour(case_in_key(k)), sag_case_word(case_in_key(k)));
    fputc('\n', f);
    end_key(f);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct path *p = context;
    char title[120], tag[100];
    (void)first;
    (void)count;
    write_data(p, f);
    snprintf(title, sizeof title, "volts on the way to %s", put_cut(tag, sizeof tag, p->motor->motor.plate->tag, 20));
    put_title(job, "multiplot title", title, f);
    write_key(p, f);
    fprintf(f, "set tmargin at screen 1 - %d.0/tall; set bmargin at screen %d.0/tall\n", HEAD_TALL,
            FOOT_TALL + LINE_TALL * p->cases);
    fprintf(f, "set lmargin at screen %d.0/wide; set rmargin at screen 1 - %d.0/wide\n", WIDE_LEFT, WIDE_RIGHT);
    fputs("set ylabel 'Volts, %'; set xtics 1 nomirror out; set format x ''\n", f);
    write_range(p, f);
    write_frame(p, f);
    write_below_axis(p, f);
    write_plot(p, f);
    fputs("unset multiplot\n", f);
}

enum sag_status plot_profile(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    if (!job->supply || !job->reports || !job->grids || !job->plant->volts)
        return SAG_OK;
    struct path path = {.job = job, .motor = lowest_motor(job)};
    if (!path.motor)
        return SAG_OK;
    path.in_grid = &job->grids[SAG_CORNER_LIKELY].motors[path.motor->index];
    put_path(job, &path);
    int wide = WIDE_LEFT + WIDE_RIGHT + WIDE_PLACE * (path.count + 2);
    const struct pages pages = {"profile",
                                1,
                                1,
                                wide > WIDE_LEAST ? wide : WIDE_LEAST,
                                HEAD_TALL + PANEL_TALL + FOOT_TALL + LINE_TALL * path.cases,
                                0,
                                draw,
                                &path};
    return write_pages(job, &pages, files, diags);
}
