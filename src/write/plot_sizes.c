/* Sizes that the code asks for against those that are there: a row a circuit, wires at the left and devices at the
   right, both in amps. */
#include <math.h>
#include <stdlib.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"
#include "write/gnuplot.h"

enum {
    WIDE = 1200,
    ROW_TALL = 26,
    HEAD_TALL = 142,
    FOOT_TALL = 62,
    ROWS_A_PAGE = 36,
    WIDE_LETTER = 8,
    WIDE_WORDS = 128, /* at the right of each panel */
    GAP = 14
};

#define LOG_FROM 20.0 /* largest over smallest from which an axis is logarithmic */

/* What is asked of one circuit, and what is there. Amps; NAN: none, or not known. */
struct circuit {
    char name[130];
    double wire_least, wire_has;
    double carry, base, most; /* of its device; most INFINITY: nothing bounds it */
    double device_has;
    char wire_words[60], device_words[60]; /* at the right of each panel */
};

struct drawn {
    struct circuit *circuits;
    size_t count;
};

/* --- what is drawn ----------------------------------------------------------------------------------------------- */

/* What is there, else in brackets what the code would take. */
static void put_wire_words(const struct sag_wire *has, const struct sag_wire *chosen, struct circuit *out)
{
    char words[48];
    bool there = has->size;
    sag_wire_words(there ? has : chosen, words, sizeof words);
    if (*words)
        snprintf(out->wire_words, sizeof out->wire_words, there ? "%s" : "(%s)", words);
}

static void put_device_words(uint8_t kind, struct circuit *out)
{
    char amps[SAG_NUMBER_ROOM];
    bool there = !isnan(out->device_has);
    double value = there ? out->device_has : out->base;
    if (!isnan(value))
        snprintf(out->device_words, sizeof out->device_words, there ? "%s A %s" : "(%s A %s)",
                 sag_number_figures(amps, value, 4), short_device(kind));
}

static void name_motor(const struct sag_motor_size *m, const char *tag, char *out, size_t room)
{
    static const char *const why[] = {[SAG_SIZED] = "",
                                      [SAG_SIZED_LOCAL] = " (local code)",
                                      [SAG_SIZED_HIGH_VOLTS] = " (over 1000 V)",
                                      [SAG_SIZED_NOT] = " (no amps)"};
    char cut[120];
    put_cut(cut, sizeof cut, tag, m->sizing == SAG_SIZED ? 20 : 11);
    snprintf(out, room, "%s%s", cut, why[m->sizing]);
}

static struct circuit of_motor(const struct sag_result *r, const struct sag_motor_size *m)
{
    const struct sag_plate *plate = r->motor.plate;
    bool setting = m->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    const struct sag_device_size *d = &m->device[m->kind];
    struct circuit c = {.wire_least = m->conductor_min.value,
                        .wire_has = m->installed.size ? m->installed.amps : NAN,
                        .carry = setting              ? NAN
                                 : m->locked_for_ever ? m->locked_amps.value
                                                      : m->disconnect.value,
                        .base = d->amps.value,
                        .most = m->locked_for_ever && !isnan(d->amps.value) ? INFINITY : d->most.value,
                        .device_has = plate->given[SAG_DEVICE_AMPS]};
    if (m->sizing != SAG_SIZED)
        c.carry = NAN;
    name_motor(m, plate->tag, c.name, sizeof c.name);
    put_wire_words(&m->installed, &m->wire, &c);
    put_device_words(m->kind, &c);
    return c;
}

static struct circuit of_feeder(const struct sag_feeder_size *f)
{
    char cut[100];
    struct circuit c = {.wire_least = f->conductor_min.value,
                        .wire_has = f->installed.size ? f->installed.amps : NAN,
                        .carry = f->carry_min.value,
                        .base = f->device.value,
                        .most = f->locked_for_ever && !isnan(f->device.value) ? INFINITY : f->device_most.value,
                        .device_has = f->device_installed};
    snprintf(c.name, sizeof c.name, "feeder %s", put_cut(cut, sizeof cut, f->id, 14));
    put_wire_words(&f->installed, &f->wire, &c);
    put_device_words(f->kind, &c);
    return c;
}

static void collect(const struct sag_plot_job *job, struct drawn *d)
{
    for (size_t i = 0; i < job->count; i++)
        d->circuits[d->count++] = of_motor(&job->results[i], &job->size->motors[job->results[i].index]);
    for (size_t i = 0; i < job->size->feeder_count; i++)
        if (job->size->feeders[i].feeder == job->feeder && job->size->feeders[i].sized)
            d->circuits[d->count++] = of_feeder(&job->size->feeders[i]);
}

/* --- the page ---------------------------------------------------------------------------------------------------- */

enum panel {
    WIRES,
    DEVICES,
    PANELS
};

/* Amps from which to which an axis runs. */
struct axis {
    double from, to;
    bool logarithmic;
};

static struct axis axis_of(const struct circuit *circuits, size_t count, enum panel panel)
{
    const double room = 1.15, log_room = 1.4, nothing = 100;
    double least = INFINITY, most = 0;
    for (size_t i = 0; i < count; i++) {
        const struct circuit *c = &circuits[i];
        const double wires[] = {c->wire_least, c->wire_has}, devices[] = {c->carry, c->base, c->most, c->device_has};
        size_t values = panel == WIRES ? sizeof wires / sizeof *wires : sizeof devices / sizeof *devices;
        for (size_t k = 0; k < values; k++) {
            double value = panel == WIRES ? wires[k] : devices[k];
            if (!isfinite(value) || value <= 0)
                continue;
            least = fmin(least, value);
            most = fmax(most, value);
        }
    }
    if (most <= 0)
        return (struct axis){0, nothing, false};
    if (most < LOG_FROM * least)
        return (struct axis){0, room * most, false};
    return (struct axis){least / log_room, log_room * most, true};
}

/* 1: well, 2: only by the exception, 3: outside. */
static int standing(const struct circuit *c)
{
    if (isnan(c->device_has))
        return 0;
    if (c->device_has < c->carry || c->device_has > c->most)
        return 3;
    return !isinf(c->most) && c->device_has > c->base ? 2 : 1;
}

/* Row; wire: least, has, is it too small; device: where each range begins and ends, its size, has, standing. */
static void write_data(const struct circuit *c, size_t row, const struct axis axes[PANELS], FILE *f)
{
    double from = isnan(c->carry) ? axes[DEVICES].from : c->carry;
    double most = isinf(c->most) ? axes[DEVICES].to : c->most, base = isinf(c->most) ? most : fmin(c->base, most);
    bool ranged = !isnan(c->base);
    fprintf(f, "%zu", row);
    put_datum(f, c->wire_least, 2);
    put_datum(f, c->wire_has, 2);
    fprintf(f, " %d", c->wire_has < c->wire_least);
    put_datum(f, ranged ? fmin(from, base) : NAN, 2);
    put_datum(f, ranged ? base : NAN, 2);
    put_datum(f, ranged && most > base ? most : 0, 2);
    put_datum(f, c->base, 2);
    put_datum(f, c->device_has, 2);
    fprintf(f, " %d\n", standing(c));
}

static void write_axis(const struct axis *axis, FILE *f)
{
    fputs(axis->logarithmic ? "set logscale x\nset xrange [" : "unset logscale x\nset xrange [", f);
    put_fixed(f, axis->from, 3);
    fputs(":", f);
    put_fixed(f, axis->to, 3);
    fputs("]\n", f);
    if (axis->logarithmic)
        put_log_marks(axis->from, axis->to, f);
    else
        fputs("set xtics autofreq nomirror out\n", f);
}

/* Texts at the right of a panel, in red where its circuit is outside. */
static void write_words(const struct circuit *circuits, size_t count, enum panel panel, FILE *f)
{
    fputs("unset label\n", f);
    for (size_t i = 0; i < count; i++) {
        const struct circuit *c = &circuits[i];
        const char *words = panel == WIRES ? c->wire_words : c->device_words;
        bool bad = panel == WIRES ? c->wire_has < c->wire_least : standing(c) == 3;
        bool there = !isnan(panel == WIRES ? c->wire_has : c->device_has);
        if (!*words)
            continue;
        fprintf(f, "set label %zu ", i + 1);
        put_gnuplot(f, words);
        fprintf(f, " at graph 1, first %zu left offset 0.8,0 font ',10' textcolor rgb '%s'\n", count - i,
                bad     ? COLOUR_OUTSIDE
                : there ? COLOUR_INSIDE
                        : COLOUR_RATED);
    }
}

#define CARRIES  "boxxyerror fs solid 1 noborder fc rgb '" COLOUR_SPAN "'"
#define SHORT    "boxxyerror fs solid 1 noborder fc rgb '" COLOUR_OUTSIDE "'"
#define ALLOWED  "boxxyerror fs solid 1 noborder fc rgb '" COLOUR_ALLOWED "'"
#define EXCEPTED "boxxyerror fs solid 1 border lc rgb '" COLOUR_ALLOWED "' fc rgb '" COLOUR_EXCEPTED "'"
#define INSIDE   "points pt 7 ps 1.3*mark lc rgb '" COLOUR_INSIDE "'"
#define REASON   "points pt 6 ps 1.4*mark lw 2.5 lc rgb '" COLOUR_INSIDE "'"
#define OUTSIDE  "points pt 13 ps 1.9*mark lc rgb '" COLOUR_OUTSIDE "'"

/* The tick of what is asked: a short upright line. */
static const char *const tick = "with vectors nohead lw 3 lc rgb '" COLOUR_NOMINAL "'";

static void write_wires(double from, FILE *f)
{
    fputs("plot $sizes using ($4==0?", f);
    put_fixed(f, from, 3);
    fputs(":NaN):1:(", f);
    put_fixed(f, from, 3);
    fputs("):3:($1-0.26):($1+0.26) with " CARRIES " notitle, \\\n  $sizes using ($4==1?", f);
    put_fixed(f, from, 3);
    fputs(":NaN):1:(", f);
    put_fixed(f, from, 3);
    fprintf(f, "):3:($1-0.26):($1+0.26) with " SHORT " notitle, \\\n  $sizes using 2:($1-0.38):(0):(0.76) %s notitle\n",
            tick);
}

static void write_devices(FILE *f)
{
    fprintf(f,
            "plot $sizes using ($7>0?$6:NaN):1:6:7:($1-0.26):($1+0.26) with " EXCEPTED " notitle"
            ", \\\n  $sizes using 5:1:5:6:($1-0.26):($1+0.26) with " ALLOWED " notitle"
            ", \\\n  $sizes using 8:($1-0.38):(0):(0.76) %s notitle"
            ", \\\n  $sizes using ($10==1?$9:NaN):1 with " INSIDE " notitle"
            ", \\\n  $sizes using ($10==2?$9:NaN):1 with " REASON " notitle"
            ", \\\n  $sizes using ($10==3?$9:NaN):1 with " OUTSIDE " notitle\n",
            tick);
}

static void write_key(const struct circuit *circuits, size_t count, FILE *f)
{
    bool any_short = false;
    for (size_t i = 0; i < count; i++)
        any_short = any_short || circuits[i].wire_has < circuits[i].wire_least;
    begin_key(f);
    fputs("set bmargin at screen 1 - 104.0/tall; set key width 0 maxrows 3\n", f);
    fputs("plot NaN with lines lw 3 lc rgb '" COLOUR_NOMINAL "' title 'by the code'"
          ", \\\n  NaN with " CARRIES " title 'installed wire carries'",
          f);
    if (any_short)
        fputs(", \\\n  NaN with " SHORT " title 'carries too little'", f);
    fputs(", \\\n  NaN with " ALLOWED " title 'device allowed'"
          ", \\\n  NaN with " EXCEPTED " title 'only by exception'"
          ", \\\n  NaN with " INSIDE " title 'installed device'"
          ", \\\n  NaN with " REASON " title 'installed, by exception'"
          ", \\\n  NaN with " OUTSIDE " title 'installed, outside'\n",
          f);
    end_key(f);
}

static int longest_name(const struct circuit *circuits, size_t count)
{
    int longest = 0;
    for (size_t i = 0; i < count; i++)
        longest = text_width(circuits[i].name) > longest ? text_width(circuits[i].name) : longest;
    return longest;
}

/* Names stand at the first panel only. */
static void write_rows(const struct circuit *circuits, size_t count, bool named, FILE *f)
{
    fputs("set ytics nomirror out (", f);
    for (size_t i = 0; i < count; i++) {
        put_gnuplot(f, named ? circuits[i].name : "");
        fprintf(f, " %zu%s", count - i, i + 1 < count ? ", " : "");
    }
    fprintf(f, ")\nset yrange [0.4:%zu.6]\n", count);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct drawn *d = context;
    const struct circuit *circuits = d->circuits + first;
    const struct axis axes[PANELS] = {axis_of(d->circuits, d->count, WIRES), axis_of(d->circuits, d->count, DEVICES)};
    fputs("# row; wire: least, has, too small; device, A: from, to, to by exception, size, has, 0 none 1 well 2 by "
          "exception 3 outside\n$sizes << EOD\n",
          f);
    for (size_t i = 0; i < count; i++)
        write_data(&circuits[i], count - i, axes, f);
    fputs("EOD\n", f);
    put_title(job, "multiplot title", "sizes by " SAG_CODE_EDITION ", and what is installed", f);
    write_key(circuits, count, f);
    fputs("set grid xtics ytics lt 1 lw 0.7 lc rgb '" COLOUR_GRID "'\n", f);
    fprintf(f, "set tmargin at screen 1 - %d.0/tall; set bmargin at screen %d.0/tall\n", HEAD_TALL, FOOT_TALL);
    int left = 30 + WIDE_LETTER * longest_name(circuits, count);
    int wide = (WIDE - left) / PANELS - WIDE_WORDS - GAP;
    for (int p = 0; p < PANELS; p++) {
        int at = left + p * (wide + WIDE_WORDS + GAP);
        fprintf(f, "set lmargin at screen %d.0/wide; set rmargin at screen %d.0/wide\n", at, at + wide);
        fprintf(f, "set title '%s'; set xlabel 'Current, A'\n",
                p == WIRES ? "Wire installed, or (by the code)" : "Device installed, or (by the code)");
        write_rows(circuits, count, p == WIRES, f);
        write_axis(&axes[p], f);
        write_words(circuits, count, (enum panel)p, f);
        if (p == WIRES)
            write_wires(axes[p].from, f);
        else
            write_devices(f);
    }
    fputs("unset multiplot\n", f);
}

enum sag_status plot_sizes(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    if (!job->size)
        return SAG_OK;
    struct drawn d = {.circuits = calloc(job->count + job->size->feeder_count + 1, sizeof *d.circuits)};
    if (!d.circuits)
        return SAG_NO_MEMORY;
    collect(job, &d);
    const struct pages pages = {"sizes", d.count, ROWS_A_PAGE, WIDE, HEAD_TALL + FOOT_TALL, ROW_TALL, draw, &d};
    enum sag_status status = write_pages(job, &pages, files, diags);
    free(d.circuits);
    return status;
}
