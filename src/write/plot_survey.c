/* Volts of a log over time against the bands of the plates. What the picture shows is stretches of the log: the mean
   of each, and the lowest and the highest pair in it. Dips are deeper than the axis goes, so they are marked. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/number.h"
#include "write/escape.h"
#include "write/gnuplot.h"

enum {
    WIDE = 1200,
    TALL = 640,
    MOST_EDGES = 12,  /* lines of bands: more would hide the volts */
    MOST_LABELS = 12, /* of dips */
    NAME_ROOM = 80
};

#define DAY  86400.0
#define HOUR 3600.0

struct axes {
    double unit; /* s of a mark's unit; of a dated axis 1 */
    double from, to, step;
    double low, high; /* V */
    bool dated;
};

/* --- time -------------------------------------------------------------------------------------------------------- */

/* A step of whole seconds, minutes, hours or days that makes at most eight marks. */
static double mark_step(double span)
{
    static const double steps[] = {1,       2,       5,        10,       15,       30,       60,        120,      300,
                                   600,     900,     1800,     HOUR,     7200,     10800,    21600,     43200,    DAY,
                                   2 * DAY, 7 * DAY, 14 * DAY, 28 * DAY, 56 * DAY, 91 * DAY, 182 * DAY, 365 * DAY};
    const double marks = 8;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        if (span / steps[i] <= marks)
            return steps[i];
    return span / marks;
}

static void find_time(const struct sag_survey *s, struct axes *a)
{
    double span = s->span > 0 ? s->span : 1;
    a->dated = s->log.dated;
    a->unit = a->dated || span <= 120 ? 1 : span <= 2 * HOUR ? 60 : HOUR;
    a->from = s->log.begin / a->unit;
    a->to = (s->log.begin + span) / a->unit;
    a->step = mark_step(span);
}

static void put_time_axis(const struct axes *a, FILE *f)
{
    const char *format = a->step >= DAY ? "%Y-%m-%d" : a->step >= 60 ? "%H:%M\\n%Y-%m-%d" : "%H:%M:%S\\n%Y-%m-%d";
    fputs("set xrange [", f);
    put_fixed(f, a->from, 3);
    fputs(":", f);
    put_fixed(f, a->to, 3);
    fputs("]\n", f);
    if (a->dated) {
        fputs("set xtics ", f);
        put_fixed(f, a->step, 3);
        fprintf(f, " nomirror out\nset format x \"%s\" timedate\n", format);
        fputs("set xlabel \"the log's clock\"\n", f);
        return;
    }
    fprintf(f, "set xlabel 'time of the log, %s'\n", a->unit == 1 ? "s" : a->unit == 60 ? "min" : "h");
}

/* --- volts ------------------------------------------------------------------------------------------------------- */

/* All edges that the volts come near, and the volts themselves without the rarest: dips would press the rest flat. */
static void find_volts(const struct sag_survey *s, struct axes *a)
{
    const double room = 0.06, near = 0.12; /* shares of the reference */
    a->low = INFINITY;
    a->high = -INFINITY;
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++) {
        a->low = fmin(a->low, s->pair[i].p01);
        a->high = fmax(a->high, s->pair[i].highest);
    }
    a->high = fmin(a->high, fmax(1.3 * s->reference, s->average.p99));
    double low = a->low - near * s->reference, high = a->high + near * s->reference;
    for (size_t i = 0; i < 2 * s->band_count; i++) {
        double edge = i % 2 ? s->bands[i / 2].high : s->bands[i / 2].low;
        if (edge < low || edge > high)
            continue;
        a->low = fmin(a->low, edge);
        a->high = fmax(a->high, edge);
    }
    double span = a->high - a->low;
    a->low -= fmax(0.15 * span, 0.1 * room * s->reference);
    a->high += fmax(room * span, 0.1 * room * s->reference);
}

static void put_volts_axis(const struct axes *a, FILE *f)
{
    fputs("set yrange [", f);
    put_fixed(f, a->low, 2);
    fputs(":", f);
    put_fixed(f, a->high, 2);
    fputs("]\nset ylabel 'line to line volts, V'\n", f);
}

/* --- data -------------------------------------------------------------------------------------------------------- */

static void put_stretches(const struct sag_survey *s, const struct axes *a, FILE *f)
{
    bool open = false;
    fputs("$log << EOD\n# time lowest_pair mean highest_pair; a blank line where nothing was recorded\n", f);
    for (size_t i = 0; i < s->bucket_count; i++) {
        const struct sag_bucket *b = &s->buckets[i];
        if (!(b->seconds > 0)) {
            fputs(open ? "\n" : "", f);
            open = false;
            continue;
        }
        open = true;
        put_fixed(f, (s->log.begin + b->time) / a->unit, 3);
        put_datum(f, b->lowest, 2);
        put_datum(f, b->sum / b->seconds, 2);
        put_datum(f, b->highest, 2);
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

/* Dips at their volts or, deeper, at the lower end of the axis; swells likewise at the upper. */
static void put_events(const struct sag_survey *s, const struct axes *a, FILE *f)
{
    double room = 0.065 * (a->high - a->low); /* for the shares below them */
    fputs("$dips << EOD\n# time mark_volts extreme_volts\n", f);
    for (size_t i = 0; i < s->event_count; i++) {
        const struct sag_volt_event *e = &s->events[i];
        put_fixed(f, e->clock / a->unit, 3);
        put_datum(f, fmin(a->high - room, fmax(a->low + room, e->extreme)), 2);
        put_datum(f, e->extreme, 1);
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

/* --- words ------------------------------------------------------------------------------------------------------- */

struct label {
    double volts, place; /* V; where its words stand, share of the axis */
    char words[NAME_ROOM];
};

static int by_volts(const void *left, const void *right)
{
    const struct label *a = left, *b = right;
    return a->volts != b->volts ? (a->volts < b->volts ? -1 : 1) : strcmp(a->words, b->words);
}

static size_t find_edges(const struct sag_survey_table *t, const struct axes *a, struct label edges[MOST_EDGES])
{
    size_t n = 0;
    char plate[SAG_NUMBER_ROOM], volts[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < 2 * t->plates->count && n < MOST_EDGES; i++) {
        const struct sag_survey_plate *p = &t->plates->items[i / 2];
        struct label *e = &edges[n];
        e->volts = i % 2 ? p->high : p->low;
        if (!(e->volts > a->low && e->volts < a->high))
            continue;
        snprintf(e->words, sizeof e->words, "%s V plate %s %s V", sag_number_figures(plate, p->rated_volts, 5),
                 i % 2 ? "to" : "from", sag_number_figures(volts, e->volts, 4));
        n++;
    }
    qsort(edges, n, sizeof *edges, by_volts);
    return n;
}

/* Lines at the edges of bands, their words to the right, moved up where two would meet. */
static void put_edges(const struct sag_survey_table *t, const struct axes *a, FILE *f)
{
    const double line_height = 0.036; /* of the axis */
    struct label edges[MOST_EDGES];
    size_t n = find_edges(t, a, edges);
    double free_from = 0;
    for (size_t i = 0; i < n; i++) {
        struct label *e = &edges[i];
        e->place = fmax((e->volts - a->low) / (a->high - a->low), free_from);
        free_from = e->place + line_height;
        fprintf(f, "set arrow %zu from graph 0, first ", i + 1);
        put_fixed(f, e->volts, 2);
        fputs(" to graph 1, first ", f);
        put_fixed(f, e->volts, 2);
        fputs(" nohead front dt 2 lc rgb '" COLOUR_OUTSIDE "'\n", f);
        fprintf(f, "set label %zu ", i + 1);
        put_gnuplot(f, e->words);
        fputs(" at graph 1.008, graph ", f);
        put_fixed(f, e->place, 4);
        fputs(" left textcolor rgb '" COLOUR_OUTSIDE "'\n", f);
    }
}

/* Shares of the deepest events, those that would overlap left out. */
static void put_shares(const struct sag_survey *s, const struct axes *a, FILE *f)
{
    const double wide = 0.045; /* of the axis */
    double last = -1;
    int n = 0;
    char share[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < s->event_count && n < MOST_LABELS; i++) {
        const struct sag_volt_event *e = &s->events[i];
        double at = (e->clock / a->unit - a->from) / (a->to - a->from);
        if (at - last < wide || at > 1 - wide / 2 || at < wide / 2)
            continue;
        last = at;
        fprintf(f, "set label %d '%s %%' at first ", 100 + n++,
                sag_number_print(share, 100 * e->extreme / s->reference, 0));
        put_fixed(f, e->clock / a->unit, 3);
        fprintf(f, ", graph %s center front textcolor rgb '" COLOUR_LOW "'\n",
                e->kind == SAG_EVENT_SWELL ? "0.975" : "0.02");
    }
}

static void put_words(const struct sag_survey_plot_job *job, FILE *f)
{
    char place[200], title[400], begin[SAG_CLOCK_ROOM], end[SAG_CLOCK_ROOM];
    const struct sag_log_facts *log = &job->table->survey->log;
    put_cut(place, sizeof place, job->place, 40);
    snprintf(title, sizeof title, "Measured volts%s%s, %.16s to %.16s%s", *place ? " at " : "", place,
             sag_clock_print(begin, log->begin, log->dated), sag_clock_print(end, log->end, log->dated),
             log->dated ? "" : " s");
    fputs("set title ", f);
    put_gnuplot(f, title);
    fputs(" font ',14'\n", f);
}

static void script_stem(const char *path, char out[NAME_ROOM])
{
    const char *base = strrchr(path, '/');
    base = base ? base + 1 : path;
    size_t n = strlen(base);
    char stem[4 * NAME_ROOM];
    snprintf(stem, sizeof stem, "%.*s", (int)(n > 3 ? n - 3 : n), base);
    put_file_name(out, NAME_ROOM, stem);
}

void sag_plot_survey(const struct sag_survey_plot_job *job, FILE *f)
{
    const struct sag_survey *s = job->table->survey;
    char name[NAME_ROOM];
    struct axes axes;
    find_time(s, &axes);
    find_volts(s, &axes);
    script_stem(job->path, name);
    write_head(job->picture, WIDE, TALL, name, f);
    put_stretches(s, &axes, f);
    put_events(s, &axes, f);
    put_words(job, f);
    put_time_axis(&axes, f);
    put_volts_axis(&axes, f);
    fprintf(f,
            "set rmargin %d\nset bmargin at screen 118.0/tall\n"
            "set key at screen 0.5, screen 10.0/tall center bottom horizontal maxrows 1 width 1\n"
            "set grid lc rgb '" COLOUR_GRID "'\n",
            job->table->plates->count ? 25 : 4);
    put_edges(job->table, &axes, f);
    put_shares(s, &axes, f);
    fputs("plot $log using 1:2:4 with filledcurves fc rgb '" COLOUR_RANGE "' title 'lowest to highest pair', \\\n"
          "  $log using 1:3 with lines lw 1.5 lc rgb '" COLOUR_MEASURED "' title 'mean of the three'",
          f);
    if (job->table->plates->count)
        fputs(", \\\n  NaN with lines dt 2 lc rgb '" COLOUR_OUTSIDE "' title 'edges of bands'", f);
    if (s->event_count)
        fputs(", \\\n  $dips using 1:2 with points pt 11 ps 1.4*mark lc rgb '" COLOUR_LOW
              "' title 'dips and swells, % of reference'",
              f);
    fputs("\nunset output\n", f);
}
