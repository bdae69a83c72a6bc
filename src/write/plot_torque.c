/* Torque of each motor while it starts, at the volts that it really gets and through the stages of its starter, against
   what its load takes: a panel for each motor, two in a row. */
#include <math.h>
#include <stdlib.h>

#include "base/number.h"
#include "network/net.h"
#include "write/escape.h"
#include "write/plot_starts.h"

enum {
    WIDE = 1200,
    ROWS_A_PAGE = 3,
    ROW_TALL = 384,
    ROW_HEAD = 60, /* for two lines of title, */
    ROW_FOOT = 64, /* and for the axis */
    HEAD_TALL = 96,
    PAGE_FOOT = 16,
    POINTS = 81 /* of the load's curve and of the band */
};

#define RAD_S_PER_RPM (3.14159265358979323846 / 30)
#define NEAR          0.002 /* share of synchronous speed, of rated torque: rows closer than that look like one */
#define FAR_APART     0.02  /* share of synchronous speed */

static double sync_rpm(const struct start_group *g)
{
    return g->motor->sync_rad_s / RAD_S_PER_RPM;
}

static double rated_torque(const struct start_group *g)
{
    return g->motor->base.torque_nm * g->motor->machine.power / (1 - g->motor->machine.slip);
}

static double percent(const struct start_group *g, double newton_metres)
{
    return 100 * newton_metres / rated_torque(g);
}

static bool is_on(const struct sag_trace_row *row)
{
    return row->amps > 0;
}

/* Torque of the circuit at a row's volts, machine's unit: what a starter makes of it is the row's. */
static double circuit_torque(const struct sag_grid_motor *m, double volts, double speed)
{
    const struct sag_feed feed = {volts / m->volts_rated, m->hz_share, m->main_flux};
    struct sag_point point;
    sag_circuit_at(&m->machine, &feed, 1 - speed / m->hz_share, &point);
    return point.torque;
}

/* Torque at a speed between two rows. Rows lie far apart where speed rises evenly, and the curve bends there: so it
   follows the circuit, brought to the rows at both ends. */
static double torque_between(const struct sag_grid_motor *m, const struct sag_trace_row *a,
                             const struct sag_trace_row *b, double speed)
{
    double part = (speed - a->speed) / (b->speed - a->speed);
    double volts = a->motor_volts + part * (b->motor_volts - a->motor_volts);
    double from = a->motor_torque_nm / circuit_torque(m, a->motor_volts, a->speed);
    double to = b->motor_torque_nm / circuit_torque(m, b->motor_volts, b->speed);
    double torque = (from + part * (to - from)) * circuit_torque(m, volts, speed);
    return isfinite(torque) ? torque : a->motor_torque_nm + part * (b->motor_torque_nm - a->motor_torque_nm);
}

static const struct sag_grid_motor *motor_of(const struct starts *s, const struct start_group *g, int run)
{
    return &s->job->grids[run == RUN_LOW ? SAG_CORNER_LIKELY : run].motors[g->first->index];
}

/* The torque a run has at a speed: the last time that it passes it, connected. NAN where it never does. */
static double torque_at(const struct starts *s, const struct start_group *g, int run, double speed)
{
    const struct sag_run *r = &g->runs[run];
    for (size_t i = r->trace_count; i-- > 1;) {
        const struct sag_trace_row *a = &r->trace[i - 1], *b = &r->trace[i];
        if (is_on(a) && is_on(b) && a->speed <= speed && speed <= b->speed && b->speed > a->speed)
            return torque_between(motor_of(s, g, run), a, b, speed);
    }
    return NAN;
}

static void write_point(const struct start_group *g, double speed, double torque, FILE *f)
{
    put_fixed(f, speed * sync_rpm(g), 1);
    put_datum(f, percent(g, torque), 1);
    fputc('\n', f);
}

/* Up to a row from the one before: points between them where they lie far apart. */
static void write_up_to(const struct starts *s, const struct start_group *g, int run, size_t i, FILE *f)
{
    const struct sag_trace_row *a = i > 0 ? &g->runs[run].trace[i - 1] : NULL, *b = &g->runs[run].trace[i];
    int between = a && is_on(a) && b->speed > a->speed ? (int)((b->speed - a->speed) / FAR_APART) : 0;
    for (int k = 1; k <= between; k++) {
        double speed = a->speed + k * (b->speed - a->speed) / (between + 1);
        write_point(g, speed, torque_between(motor_of(s, g, run), a, b, speed), f);
    }
    write_point(g, b->speed, b->motor_torque_nm, f);
}

/* Rev/min and torque of one run; a blank row where the motor is off for a moment. */
static void write_run(const struct starts *s, const struct start_group *g, int run, size_t number, FILE *f)
{
    const struct sag_run *r = &g->runs[run];
    double speed = NAN, torque = NAN;
    fprintf(f, "$%s%zu << EOD\n", run == RUN_LOW ? "low" : "motor", number);
    for (size_t i = 0; i < r->trace_count; i++) {
        const struct sag_trace_row *row = &r->trace[i];
        bool near = fabs(row->speed - speed) < NEAR && fabs(row->motor_torque_nm - torque) < NEAR * rated_torque(g);
        if (!is_on(row) && i + 1 < r->trace_count && is_on(&r->trace[i + 1]))
            fputc('\n', f);
        if (!is_on(row) || (near && i + 1 < r->trace_count))
            continue;
        speed = row->speed;
        torque = row->motor_torque_nm;
        write_up_to(s, g, run, i, f);
    }
    fputs(r->trace_count ? "EOD\n" : "NaN NaN\nEOD\n", f);
}

/* Where the contactor closes, and where the starter has changed over: of the main case, then of the low one. */
static void write_closings(const struct start_group *g, size_t number, FILE *f)
{
    fprintf(f, "$closes%zu << EOD\n", number);
    for (int k = 0; k < RUN_COUNT; k++) {
        const struct sag_run *r = &g->runs[k];
        for (size_t i = 0; i < r->trace_count && (k == SAG_CORNER_LIKELY || k == RUN_LOW); i++) {
            const struct sag_trace_row *row = &r->trace[i];
            if (is_on(row) && (i == 0 || row->time == r->trace[i - 1].time)) {
                fprintf(f, "%d ", k == RUN_LOW);
                write_point(g, row->speed, row->motor_torque_nm, f);
            }
        }
    }
    fputs("NaN NaN NaN\nEOD\n", f);
}

static double top_speed(const struct start_group *g)
{
    return g->motor->hz_share;
}

static double load_at(const struct start_group *g, double speed, enum sag_case which)
{
    double share = net_share_of(g->motor, which);
    return sag_load_torque(&g->motor->machine, &g->motor->load, share, speed) * g->motor->base.torque_nm;
}

static bool loads_differ(const struct starts *s, const struct start_group *g)
{
    return s->low && net_share_of(g->motor, SAG_CASE_LOW) > net_share_of(g->motor, s->which);
}

/* Rev/min, load in the main and in the low case, least and most torque at the corners. */
static void write_grid(const struct starts *s, const struct start_group *g, size_t number, FILE *f)
{
    fprintf(f, "$load%zu << EOD\n", number);
    for (int i = 0; i < POINTS; i++) {
        double speed = top_speed(g) * i / (POINTS - 1), least = INFINITY, most = -INFINITY;
        bool all = true;
        for (int k = 0; k < SAG_CORNER_COUNT; k++) {
            double torque = torque_at(s, g, k, speed);
            all = all && !isnan(torque);
            least = fmin(least, torque);
            most = fmax(most, torque);
        }
        put_fixed(f, speed * sync_rpm(g), 1);
        put_datum(f, percent(g, load_at(g, speed, s->which)), 1);
        put_datum(f, loads_differ(s, g) ? percent(g, load_at(g, speed, SAG_CASE_LOW)) : NAN, 1);
        put_datum(f, all ? percent(g, least) : NAN, 1);
        put_datum(f, all ? percent(g, most) : NAN, 1);
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

static bool hangs(const struct start_group *g, int run)
{
    const struct sag_started *started = started_in(g, run);
    return started && !started->runs_up;
}

/* Where runs end below speed: speed, and the load there. */
static void write_hanging(const struct start_group *g, size_t number, FILE *f)
{
    fprintf(f, "$hangs%zu << EOD\n", number);
    for (int k = 0; k < RUN_COUNT; k++) {
        const struct sag_run *r = &g->runs[k];
        if (!hangs(g, k))
            continue;
        const struct sag_trace_row *end = &r->trace[r->trace_count - 1];
        write_point(g, end->speed, end->motor_torque_nm, f);
    }
    fputs("NaN NaN\nEOD\n", f);
}

static void write_data(const struct starts *s, const struct start_group *g, size_t number, FILE *f)
{
    fputs("# rev/min, torque (% of rated); load: rev/min, its torque, that in the low case, least and most of the "
          "motor's; where it hangs\n",
          f);
    write_run(s, g, SAG_CORNER_LIKELY, number, f);
    if (s->low)
        write_run(s, g, RUN_LOW, number, f);
    write_grid(s, g, number, f);
    write_closings(g, number, f);
    write_hanging(g, number, f);
}

static void put_figures(const struct start_group *g, char *out, size_t room)
{
    char surplus[SAG_NUMBER_ROOM], speed[SAG_NUMBER_ROOM];
    const struct sag_started *started = started_in(g, SAG_CORNER_LIKELY);
    const char *end = hangs(g, SAG_CORNER_LIKELY) ? "hangs" : hangs(g, RUN_LOW) ? "low case hangs" : NULL;
    size_t n = 0;
    out[0] = '\0';
    if (!started || !g->settles[SAG_CORNER_LIKELY])
        snprintf(out, room, "volts collapse: the network does not settle");
    else if (!isnan(started->least_surplus))
        n = (size_t)snprintf(out, room, "least over load: %s %% of rated",
                             sag_number_print(surplus, 100 * started->least_surplus, 0));
    if (n && !end)
        snprintf(out + n, room - n, ", at %s rev/min", sag_number_print(speed, started->least_at * sync_rpm(g), 0));
    else if (end)
        snprintf(out + n, room - n, "%s%s", n ? "; " : "", end);
}

/* "least over load: 18 % of rated, at 0 rev/min" */
static void write_figures(const struct start_group *g, FILE *f)
{
    char text[120];
    const struct sag_started *started = started_in(g, SAG_CORNER_LIKELY);
    bool bad = !started || started->least_surplus < 0 || hangs(g, SAG_CORNER_LIKELY) || hangs(g, RUN_LOW);
    put_figures(g, text, sizeof text);
    fputs("set label 1 ", f);
    put_gnuplot(f, text);
    fprintf(f, " at graph 0.5, graph 1 center offset 0,0.7 textcolor rgb '%s'\n", bad ? COLOUR_OUTSIDE : COLOUR_INSIDE);
}

static void write_plot(const struct starts *s, const struct start_group *g, size_t number, FILE *f)
{
    fprintf(f, "plot $load%zu using 1:4:5 with filledcurves fs solid 1 noborder fc rgb '" COLOUR_RANGE "' notitle",
            number);
    fprintf(f, ", \\\n  $load%zu using 1:2 with lines lw 2.5 dt 3 lc rgb '" COLOUR_LOAD "' notitle", number);
    if (loads_differ(s, g))
        fprintf(f, ", \\\n  $load%zu using 1:3 with lines lw 1.5 dt 3 lc rgb '%s' notitle", number,
                case_colour(SAG_CASE_LOW));
    if (s->low)
        fprintf(f, ", \\\n  $low%zu using 1:2 with lines lw 2 lc rgb '%s' notitle", number, case_colour(SAG_CASE_LOW));
    fprintf(f, ", \\\n  $motor%zu using 1:2 with lines lw 2 lc rgb '%s' notitle", number, case_colour(s->which));
    fprintf(f,
            ", \\\n  $closes%zu using ($1==1?$2:NaN):3 with points pt 7 ps 1.1*mark lc rgb '%s' notitle"
            ", \\\n  $closes%zu using ($1==0?$2:NaN):3 with points pt 7 ps 1.1*mark lc rgb '%s' notitle",
            number, case_colour(SAG_CASE_LOW), number, case_colour(s->which));
    fprintf(f, ", \\\n  $hangs%zu using 1:2 with points pt 2 ps 2*mark lw 3 lc rgb '" COLOUR_OUTSIDE "' notitle\n",
            number);
}

static double most_torque(const struct starts *s, const struct start_group *g)
{
    double most = fmax(load_at(g, 0, s->which), load_at(g, top_speed(g), s->which));
    if (loads_differ(s, g))
        most = fmax(most, fmax(load_at(g, 0, SAG_CASE_LOW), load_at(g, top_speed(g), SAG_CASE_LOW)));
    for (int k = 0; k < RUN_COUNT; k++)
        for (size_t i = 0; i < g->runs[k].trace_count; i++)
            most = fmax(most, g->runs[k].trace[i].motor_torque_nm);
    return most;
}

static void write_panel(const struct starts *s, const struct start_group *g, size_t number, FILE *f)
{
    put_panel_place(&(struct panel_grid){HEAD_TALL, ROW_TALL, ROW_HEAD, ROW_FOOT, {"0.475", "0.975"}}, number, f);
    int top = (int)round(top_speed(g) * sync_rpm(g));
    fprintf(f, "set xrange [%d:%d]; set xtics autofreq nomirror out\n", -top / 50, top);
    put_rising_range(percent(g, most_torque(s, g)), f);
    fputs("set xlabel 'Speed, rev/min'; set ylabel 'Torque, % of rated'\nset title ", f);
    put_start_title(g, f);
    fputs(" offset 0,0.9\n", f);
    write_figures(g, f);
    write_plot(s, g, number, f);
}

/* An item of a page is a row of two panels. */
struct drawn {
    const struct starts *starts;
    const struct start_group **groups;
    size_t count;
};

static void write_key(const struct drawn *d, FILE *f)
{
    const struct starts *s = d->starts;
    bool any = false;
    for (size_t i = 0; i < d->count; i++)
        for (int k = 0; k < RUN_COUNT; k++)
            any = any || hangs(d->groups[i], k);
    begin_key(f);
    fprintf(f, "plot NaN with lines lw 2 lc rgb '%s' title 'motor, %s case'", case_colour(s->which),
            sag_case_word(s->which));
    if (s->low)
        fprintf(f, ", \\\n  NaN with lines lw 2 lc rgb '%s' title 'motor, low case'", case_colour(SAG_CASE_LOW));
    fputs(", \\\n  NaN with filledcurves fs solid 1 noborder fc rgb '" COLOUR_RANGE "' title 'easy to hard'"
          ", \\\n  NaN with points pt 7 ps 1.1*mark lc rgb '" COLOUR_FRAME "' title 'closes, changes over'",
          f);
    fputs(", \\\n  NaN with lines lw 2.5 dt 3 lc rgb '" COLOUR_LOAD "' title 'load'", f);
    if (s->low)
        fprintf(f, ", \\\n  NaN with lines lw 1.5 dt 3 lc rgb '%s' title 'load, low case'", case_colour(SAG_CASE_LOW));
    if (any)
        fputs(", \\\n  NaN with points pt 2 ps 1.5*mark lw 3 lc rgb '" COLOUR_OUTSIDE "' title 'it hangs'", f);
    fputc('\n', f);
    end_key(f);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct drawn *d = context;
    size_t from = 2 * first, to = 2 * (first + count) < d->count ? 2 * (first + count) : d->count;
    for (size_t i = from; i < to; i++)
        write_data(d->starts, d->groups[i], i - from + 1, f);
    put_title(job, "multiplot title", "torque while starting", f);
    write_key(d, f);
    for (size_t i = from; i < to; i++)
        write_panel(d->starts, d->groups[i], i - from + 1, f);
    fputs("unset multiplot\n", f);
}

enum sag_status plot_torque(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags)
{
    struct drawn d = {starts, calloc(starts->count ? starts->count : 1, sizeof(void *)), 0};
    if (!d.groups)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < starts->count; i++)
        if (!starts->groups[i].motor->driven) /* a drive holds torque at what the load takes */
            d.groups[d.count++] = &starts->groups[i];
    const struct pages pages = {"torque", (d.count + 1) / 2, ROWS_A_PAGE, WIDE, HEAD_TALL + PAGE_FOOT, ROW_TALL, draw,
                                &d};
    enum sag_status status = write_pages(starts->job, &pages, files, diags);
    free(d.groups);
    return status;
}
