/* What a panel of the time-current picture shows: the motor's run-up and limit, its relay, its device. */
#include <math.h>
#include <string.h>

#include "write/plot_timecurrent.h"

enum {
    POINTS = 60 /* of a curve */
};

#define LIMIT_FROM     2.5   /* times plate amps: below it a motor turns, and its limit is another */
#define FIRST_HALF     0.008 /* s; half a cycle at 60 Hz */
#define NEAR_ASYMPTOTE 1e-4  /* a relay's curve begins that much above the amps at which it trips in the end */
#define RUN_ROOM       0.55  /* from the least amps of all to the left edge */
#define EDGE_ROOM      1.25  /* from the most to the right edge */
#define NEAR           0.01  /* share: rows closer than that look like one */
#define STEP           0.01  /* in which the multiples of product standards are written */
#define MOST_MULTIPLE  12    /* that curves of devices are drawn to */

static double fact_of(const struct tc_panel *p, enum sag_fact fact)
{
    return p->first->motor.fact[fact].value;
}

/* --- which panels there are -------------------------------------------------------------------------------------- */

static void fill_panel(const struct starts *s, const struct start_group *g, const struct sag_result *r,
                       struct tc_panel *out)
{
    const struct sag_tables *tables = s->job->plant->tables;
    *out = (struct tc_panel){.group = g, .first = r, .size = &s->job->size->motors[r->index]};
    out->relay = sag_relay_of(tables, out->size, &r->motor, s->job->relay_curve);
    out->has_relay = !isnan(out->relay.trip_amps);
    struct sag_let_job job = {.tables = tables,
                              .size = out->size,
                              .motor = &r->motor,
                              .device_curve = s->job->device_curve,
                              .relay_curve = s->job->relay_curve,
                              .runs = g->runs,
                              .run_count = s->job->only_look ? 0 : SAG_CORNER_COUNT};
    for (int k = 0; k < SAG_CORNER_COUNT && k < job.run_count; k++)
        if (!g->settles[k])
            job.run_count = 0;
    sag_find_let_start(&job, &out->let);
    job.runs = &g->runs[RUN_LOW];
    job.run_count = g->has_run[RUN_LOW] && g->settles[RUN_LOW];
    sag_find_let_start(&job, &out->let_low);
}

static bool same_panel(const struct tc_panel *a, const struct tc_panel *b)
{
    const double left[] = {a->relay.trip_amps,       a->relay.least,     a->relay.most,
                           a->relay.multiple,        a->let.device_amps, fact_of(a, SAG_STALL_TIME),
                           a->size->plate_amps.value};
    const double right[] = {b->relay.trip_amps,       b->relay.least,     b->relay.most,
                            b->relay.multiple,        b->let.device_amps, fact_of(b, SAG_STALL_TIME),
                            b->size->plate_amps.value};
    _Static_assert(sizeof left == sizeof right, "the same of both");
    return a->group == b->group && a->let.kind == b->let.kind && a->has_relay == b->has_relay &&
           a->relay.class_assumed == b->relay.class_assumed && a->let.device_installed == b->let.device_installed &&
           a->let.relay_installed == b->let.relay_installed && same_numbers(left, right, sizeof left / sizeof *left);
}

/* Curves of a device end there, times its rating. */
static double most_multiple(const struct sag_tables *tables, const struct tc_panel *p)
{
    if (p->let.kind == SAG_DEVICE_INSTANTANEOUS_BREAKER)
        return sag_ask_protection_default(tables, "instantaneous_setting").high;
    return MOST_MULTIPLE;
}

static void find_range(const struct sag_tables *tables, struct tc_panel *p)
{
    double least = p->size->plate_amps.value, most = fact_of(p, SAG_LOCKED_AMPS);
    least = fmin(least, p->relay.trip_amps);
    most = fmax(most, p->let.first_amps);
    most = fmax(most, p->let.device_amps * most_multiple(tables, p));
    for (int k = 0; k < RUN_COUNT; k++) {
        const struct sag_run *r = &p->group->runs[k];
        for (size_t i = 0; i < r->trace_count && (k == SAG_CORNER_LIKELY || k == RUN_LOW); i++)
            most = fmax(most, r->trace[i].amps);
        if (r->trace_count && r->trace[r->trace_count - 1].amps > 0 && r->trace[r->trace_count - 1].time > 0)
            least = fmin(least, r->trace[r->trace_count - 1].amps);
    }
    p->from = isfinite(least) && least > 0 ? RUN_ROOM * least : 1;
    p->to = isfinite(most) && most > p->from ? EDGE_ROOM * most : 100 * p->from;
}

size_t find_panels(const struct starts *s, struct tc_panel *panels)
{
    size_t count = 0;
    for (size_t g = 0; g < s->count; g++) {
        size_t first = count;
        for (size_t i = 0; i < s->job->count; i++) {
            struct tc_panel p;
            size_t at = first;
            if (s->group_of[i] != s->groups[g].id)
                continue;
            fill_panel(s, &s->groups[g], &s->job->results[i], &p);
            while (at < count && !same_panel(&panels[at], &p))
                at++;
            if (at == count) {
                find_range(s->job->plant->tables, &p);
                panels[count++] = p;
            }
            add_tag(panels[at].tags, sizeof panels[at].tags, s->job->results[i].motor.plate->tag);
        }
    }
    return count;
}

/* --- data -------------------------------------------------------------------------------------------------------- */

static void begin(const char *name, size_t number, FILE *f)
{
    fprintf(f, "$%s%zu << EOD\n", name, number);
}

/* A block is never empty: gnuplot would not draw the picture. */
static void end(FILE *f)
{
    fputs("NaN NaN NaN NaN\nEOD\n", f);
}

static void point(double amps, double seconds, FILE *f)
{
    put_datum(f, amps, 3);
    put_datum(f, seconds, 4);
    fputc('\n', f);
}

static double drawn(double seconds)
{
    return fmin(fmax(seconds, TC_FLOOR), TC_TOP);
}

static void spread(double amps, const double seconds[], int count, FILE *f)
{
    put_datum(f, amps, 3);
    for (int i = 0; i < count; i++)
        put_datum(f, drawn(seconds[i]), 4);
    fputc('\n', f);
}

static bool near_row(const struct sag_trace_row *row, double amps, double time)
{
    return fabs(log(row->amps / amps)) < NEAR && fabs(log(drawn(row->time) / drawn(time))) < 2 * NEAR;
}

/* Amps since closing, from the foot of the panel to its top; a blank row where the motor is off for a moment. */
static void write_run(const struct tc_panel *p, int run, size_t number, FILE *f)
{
    const struct sag_run *r = &p->group->runs[run];
    double amps = NAN, time = NAN;
    begin(run == RUN_LOW ? "low" : "run", number, f);
    for (size_t i = 0; i < r->trace_count; i++) {
        const struct sag_trace_row *row = &r->trace[i];
        if (row->time < 0 || (near_row(row, amps, time) && i + 1 < r->trace_count))
            continue;
        if (row->amps > 0)
            point(row->amps, drawn(row->time), f);
        else if (amps > 0)
            fputc('\n', f);
        amps = row->amps;
        time = row->time;
    }
    if (amps > 0 && p->group->settles[run])
        point(amps, TC_TOP, f);
    end(f);
}

static void write_limit(const struct tc_panel *p, size_t number, FILE *f)
{
    double locked = fact_of(p, SAG_LOCKED_AMPS), stall = fact_of(p, SAG_STALL_TIME);
    double least = LIMIT_FROM * p->size->plate_amps.value;
    begin("limit", number, f);
    if (locked > least && stall > 0) {
        point(locked, stall, f);
        point(least, stall * locked / least * locked / least, f);
    }
    end(f);
}

static void write_relay(const struct starts *s, const struct tc_panel *p, size_t number, FILE *f)
{
    double last = p->to / p->relay.trip_amps - 1; /* above the amps at which it trips in the end */
    begin("relay", number, f);
    if (p->has_relay)
        spread(p->relay.trip_amps, (const double[]){INFINITY, INFINITY, INFINITY}, 3, f);
    for (int i = 0; i < POINTS && p->has_relay && last > NEAR_ASYMPTOTE; i++) {
        double amps = p->relay.trip_amps * (1 + NEAR_ASYMPTOTE * pow(last / NEAR_ASYMPTOTE, (double)i / (POINTS - 1)));
        struct sag_qty time = sag_relay_time(s->job->plant->tables, &p->relay, amps, 0);
        spread(amps, (const double[]){time.low, time.value, time.high}, 3, f);
    }
    end(f);
}

/* A staircase of what the standard fixes: at each step the time before it and behind it. That a breaker holds its own
   rating says nothing of a start, and is left out. */
static void write_standard(const struct starts *s, const struct tc_panel *p, bool opens, size_t number, FILE *f)
{
    const double rating = p->let.device_amps;
    bool any = !isnan(rating) &&
               (opens ? p->let.kind != SAG_DEVICE_INSTANTANEOUS_BREAKER : p->let.kind == SAG_DEVICE_DUAL_ELEMENT_FUSE);
    double before = INFINITY, last = fmin(p->to / rating, MOST_MULTIPLE);
    begin(opens ? "opens" : "holds", number, f);
    for (int i = (int)(1 / STEP); any && i * STEP <= last; i++) {
        struct sag_opening_times fixed =
            sag_ask_standard_times(s->job->plant->tables, (enum sag_device)p->let.kind, rating, i * STEP);
        double now = opens ? fixed.most : fixed.least;
        if (now != before) { /* what must hold does so up to the multiple, what must open from it on */
            double at = rating * (opens ? i : i - 1) * STEP;
            point(at, drawn(before), f);
            point(at, drawn(now), f);
        }
        before = now;
    }
    if (any && isfinite(before) && before > 0)
        point(rating * last, before, f);
    end(f);
}

/* Usual times, as far as what the standard fixes leaves them. */
static struct sag_opening_times usual_times(const struct starts *s, const struct tc_panel *p, double multiple)
{
    enum sag_device kind = (enum sag_device)p->let.kind;
    const struct sag_tables *tables = s->job->plant->tables;
    if (s->job->device_curve.count) {
        double own = sag_curve_time(&s->job->device_curve, multiple);
        return (struct sag_opening_times){own, own};
    }
    struct sag_opening_times usual = sag_ask_usual_times(tables, kind, multiple);
    struct sag_opening_times fixed = sag_ask_standard_times(tables, kind, p->let.device_amps, multiple);
    if (isinf(usual.most))
        return usual;
    return (struct sag_opening_times){fmax(usual.least, fixed.least), fmin(usual.most, fixed.most)};
}

/* Thermal curves from the first multiple at which one is usual. A breaker's magnetic part acts somewhere between its
   bounds: from the lower on it may open at once. */
static void write_usual(const struct starts *s, const struct tc_panel *p, size_t number, FILE *f)
{
    const struct sag_tables *tables = s->job->plant->tables;
    enum sag_device kind = (enum sag_device)p->let.kind;
    bool any = !isnan(p->let.device_amps) && kind != SAG_DEVICE_INSTANTANEOUS_BREAKER;
    struct sag_answer magnetic = sag_ask_protection_default(tables, "breaker_magnetic");
    double last = kind == SAG_DEVICE_INVERSE_TIME_BREAKER ? magnetic.high : MOST_MULTIPLE;
    bool acts = false;
    begin("usual", number, f);
    for (int i = 0; any && i <= 4 * POINTS; i++) {
        double multiple = pow(last, (double)i / (4 * POINTS));
        struct sag_opening_times usual = usual_times(s, p, multiple);
        if (isinf(usual.most))
            continue;
        if (kind == SAG_DEVICE_INVERSE_TIME_BREAKER && multiple >= magnetic.low && !s->job->device_curve.count) {
            if (!acts)
                spread(p->let.device_amps * multiple, (const double[]){usual.least, usual.most}, 2, f);
            usual.least = 0;
            acts = true;
        }
        spread(p->let.device_amps * multiple, (const double[]){usual.least, usual.most}, 2, f);
    }
    end(f);
}

static void write_trip(const struct starts *s, const struct tc_panel *p, size_t number, FILE *f)
{
    struct sag_answer acts = sag_ask_protection_default(s->job->plant->tables, "instantaneous_setting");
    begin("trip", number, f);
    if (!isnan(p->let.device_amps) && p->let.kind == SAG_DEVICE_INSTANTANEOUS_BREAKER) {
        spread(p->let.device_amps * acts.low, (const double[]){0, INFINITY}, 2, f);
        spread(p->let.device_amps * acts.high, (const double[]){0, INFINITY}, 2, f);
    }
    end(f);
}

void write_panel_data(const struct starts *s, const struct tc_panel *p, size_t number, FILE *f)
{
    write_run(p, SAG_CORNER_LIKELY, number, f);
    if (s->low)
        write_run(p, RUN_LOW, number, f);
    write_limit(p, number, f);
    write_relay(s, p, number, f);
    write_standard(s, p, false, number, f);
    write_standard(s, p, true, number, f);
    write_usual(s, p, number, f);
    write_trip(s, p, number, f);
    begin("first", number, f);
    if (!isnan(p->let.first_amps))
        point(p->let.first_amps, FIRST_HALF, f);
    end(f);
}
