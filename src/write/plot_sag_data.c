#include <math.h>
#include <stdlib.h>

#include "write/plot_sag.h"

#define PIXELS    400.0 /* about what a panel is wide: samples closer than one are not told apart */
#define LEAD      0.06  /* share of the time axis before closing */
#define SHORTEST  0.2   /* s, of what is shown after closing */
#define SPEED_EPS 0.01  /* share of synchronous speed: nearer than that a motor is there */
#define VOLTS_EPS 0.3   /* percent of nominal: nearer than that volts have come back */
#define DIFFERENT 0.5   /* percent: less is not seen as a second line, or as a band */

enum column {
    LINE_VOLTS,
    MOTOR_VOLTS,
    BOARD_VOLTS,
    SERVICE_VOLTS,
    AMPS,
    RPM,
    COLUMNS
};

static double value_of(const struct sag_drawing *d, const struct sag_trace_row *row, enum column column)
{
    switch (column) {
    case LINE_VOLTS:
        return row->line_volts * d->motor_scale;
    case MOTOR_VOLTS: /* nothing while the starter is open */
        return row->amps > 0 && d->own_motor_volts ? row->motor_volts * d->motor_scale : NAN;
    case BOARD_VOLTS:
        return row->board_volts * d->board_scale;
    case SERVICE_VOLTS:
        return d->board_is_service ? NAN : row->service_volts * d->service_scale;
    case AMPS:
        return row->amps;
    default:
        return row->speed * d->sync_rpm;
    }
}

/* From when on nothing moves that one could see. */
static double still_from(const struct sag_drawing *d, const struct sag_run *run)
{
    if (run->trace_count == 0)
        return 0;
    const struct sag_trace_row *end = &run->trace[run->trace_count - 1];
    for (size_t i = run->trace_count - 1; i-- > 0;) {
        const struct sag_trace_row *row = &run->trace[i];
        if (fabs(row->speed - end->speed) > SPEED_EPS ||
            fabs(row->board_volts - end->board_volts) * d->board_scale > VOLTS_EPS)
            return run->trace[i + 1].time;
    }
    return 0;
}

/* Two rows of one time: something changed over there. */
static bool is_event(const struct sag_run *run, size_t i)
{
    return i > 0 && i < run->trace_count && run->trace[i].time == run->trace[i - 1].time;
}

static void put_events(const struct sag_run *run, struct sag_drawing *d)
{
    d->events[d->event_count++] = 0;
    for (size_t i = 1; i < run->trace_count && d->event_count < MOST_EVENTS; i++)
        if (is_event(run, i))
            d->events[d->event_count++] = run->trace[i].time;
}

/* To where the likely run is still, and the hard one where that is not much longer. */
static void put_times(const struct start_group *g, struct sag_drawing *d)
{
    double likely = still_from(d, likely_run(g)), hard = still_from(d, &g->runs[SAG_CORNER_HARD]);
    double last = fmax(likely, fmin(hard, 2 * likely));
    last = fmax(last, d->events[d->event_count - 1]);
    d->until = 1.15 * fmax(last, SHORTEST);
    d->from = -LEAD * d->until;
}

static double row_before(const struct sag_drawing *d, enum column column)
{
    const struct sag_started *s = &likely_run(d->group)->started[0];
    switch (column) {
    case LINE_VOLTS:
        return s->volts_before * d->motor_scale;
    case BOARD_VOLTS:
        return s->board_before * d->board_scale;
    case SERVICE_VOLTS:
        return d->board_is_service ? NAN : likely_run(d->group)->node_before[d->service] * d->service_scale;
    case MOTOR_VOLTS:
        return NAN;
    default:
        return 0;
    }
}

static void put_volts_range(struct sag_drawing *d)
{
    const struct sag_run *run = likely_run(d->group);
    d->least = INFINITY;
    d->most = -INFINITY;
    for (int c = LINE_VOLTS; c <= SERVICE_VOLTS; c++) {
        for (size_t i = 0; i < run->trace_count; i++) {
            d->least = fmin(d->least, value_of(d, &run->trace[i], (enum column)c));
            d->most = fmax(d->most, value_of(d, &run->trace[i], (enum column)c));
        }
        d->most = fmax(d->most, row_before(d, (enum column)c));
    }
}

static void put_most(struct sag_drawing *d)
{
    d->most_amps = d->most_rpm = 0;
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        for (size_t i = 0; i < d->group->runs[k].trace_count; i++) {
            d->most_amps = fmax(d->most_amps, d->group->runs[k].trace[i].amps);
            d->most_rpm = fmax(d->most_rpm, d->group->runs[k].trace[i].speed * d->sync_rpm);
        }
    d->most_rpm = fmax(d->most_rpm, d->sync_rpm * d->group->motor->hz_share);
}

void sag_drawing_of(const struct starts *starts, const struct start_group *g, struct sag_drawing *out)
{
    const struct sag_grid *grid = &starts->job->grids[SAG_CORNER_LIKELY];
    const struct sag_run *run = likely_run(g);
    const struct sag_started *s = started_in(g, SAG_CORNER_LIKELY);
    int32_t node = g->motor->node;
    *out = (struct sag_drawing){.group = g,
                                .motor_scale = 100 / g->motor->volts_rated,
                                .board_scale = 100 / grid->nodes[node].volts_nominal,
                                .sync_rpm = g->motor->sync_rad_s * 30 / acos(-1.0),
                                .dip = INFINITY,
                                .service = sag_service_node(grid, node)};
    out->service_scale = 100 / grid->nodes[out->service].volts_nominal;
    out->board_is_service = out->service == node;
    if (!s)
        return;
    if (g->settles[SAG_CORNER_LIKELY])
        out->dip = 1 - s->board_lowest / s->board_before;
    for (size_t i = 0; i < run->trace_count; i++) {
        const struct sag_trace_row *row = &run->trace[i];
        double apart = (row->line_volts - row->motor_volts) * out->motor_scale;
        out->own_motor_volts = out->own_motor_volts || (row->amps > 0 && fabs(apart) > DIFFERENT);
    }
    put_events(run, out);
    put_times(g, out);
    put_volts_range(out);
    put_most(out);
}

static void write_row(double time, const double values[COLUMNS], FILE *f)
{
    put_fixed(f, time, 4);
    for (int c = 0; c < COLUMNS; c++)
        put_datum(f, values[c], c == AMPS || c == RPM ? 1 : 2);
    fputc('\n', f);
}

static void write_before(const struct sag_drawing *d, FILE *f)
{
    double values[COLUMNS];
    for (int c = 0; c < COLUMNS; c++)
        values[c] = row_before(d, (enum column)c);
    write_row(d->from, values, f);
    write_row(0, values, f);
}

/* Rows a pixel apart, both sides of every changeover, and the last state up to the end of the axis. */
static void write_lines(const struct sag_drawing *d, size_t number, FILE *f)
{
    const struct sag_run *run = likely_run(d->group);
    double values[COLUMNS] = {0}, kept = -INFINITY;
    fprintf(f, "$start%zu << EOD\n", number);
    if (run->trace_count)
        write_before(d, f);
    for (size_t i = 0; i < run->trace_count && kept <= d->until; i++) {
        const struct sag_trace_row *row = &run->trace[i];
        bool event = is_event(run, i) || is_event(run, i + 1);
        if (!event && row->time < kept + d->until / PIXELS && i + 1 < run->trace_count)
            continue;
        for (int c = 0; c < COLUMNS; c++)
            values[c] = value_of(d, row, (enum column)c);
        kept = row->time;
        write_row(kept, values, f);
    }
    if (run->trace_count && kept < d->until && d->group->settles[SAG_CORNER_LIKELY])
        write_row(d->until, values, f);
    fputs(run->trace_count ? "EOD\n" : "NaN NaN NaN NaN NaN NaN NaN\nEOD\n", f);
}

/* Straight between rows; the later one where there are two; the last one after the end. */
static double value_at(const struct sag_drawing *d, const struct sag_run *run, double time, enum column column)
{
    size_t i = 0;
    while (i < run->trace_count && run->trace[i].time <= time)
        i++;
    if (i == 0)
        return NAN;
    double before = value_of(d, &run->trace[i - 1], column);
    if (i == run->trace_count)
        return before;
    const struct sag_trace_row *a = &run->trace[i - 1], *b = &run->trace[i];
    return before + (time - a->time) / (b->time - a->time) * (value_of(d, b, column) - before);
}

static int by_size(const void *left, const void *right)
{
    const double *a = left, *b = right;
    return (*a > *b) - (*a < *b);
}

/* Times of all three runs, a changeover's with an instant before it; thinned. Returns how many. */
static size_t common_times(const struct sag_drawing *d, double *times)
{
    size_t count = 0, kept = 0;
    double pixel = d->until / PIXELS;
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        const struct sag_run *run = &d->group->runs[k];
        for (size_t i = 0; i < run->trace_count; i++)
            times[count++] = run->trace[i].time - (is_event(run, i + 1) ? 0.1 * pixel : 0);
    }
    qsort(times, count, sizeof *times, by_size);
    for (size_t i = 0; i < count && times[i] <= d->until; i++)
        if (times[i] >= 0 && (kept == 0 || times[i] >= times[kept - 1] + pixel))
            times[kept++] = times[i];
    if (kept)
        times[kept++] = d->until;
    return kept;
}

static bool write_span_row(const struct sag_drawing *d, double time, FILE *f)
{
    static const enum column columns[] = {LINE_VOLTS, AMPS, RPM};
    put_fixed(f, time, 4);
    for (size_t c = 0; c < sizeof columns / sizeof *columns; c++) {
        double least = INFINITY, most = -INFINITY;
        for (int k = 0; k < SAG_CORNER_COUNT; k++) {
            double value = value_at(d, &d->group->runs[k], time, columns[c]);
            least = fmin(least, value);
            most = fmax(most, value);
        }
        put_datum(f, isfinite(least) ? least : NAN, columns[c] == LINE_VOLTS ? 2 : 1);
        put_datum(f, isfinite(most) ? most : NAN, columns[c] == LINE_VOLTS ? 2 : 1);
    }
    return fputc('\n', f) != EOF;
}

static void write_span(const struct sag_drawing *d, size_t number, FILE *f)
{
    size_t room = 1;
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        room += d->group->runs[k].trace_count;
    double *times = malloc(room * sizeof *times);
    size_t count = times ? common_times(d, times) : 0; /* without memory there is no band */
    fprintf(f, "$span%zu << EOD\n", number);
    for (size_t i = 0; i < count; i++)
        write_span_row(d, times[i], f);
    fputs(count ? "EOD\n" : "NaN NaN NaN NaN NaN NaN NaN\nEOD\n", f);
    free(times);
}

void write_sag_data(const struct sag_drawing *d, size_t number, FILE *f)
{
    write_lines(d, number, f);
    write_span(d, number, f);
}
