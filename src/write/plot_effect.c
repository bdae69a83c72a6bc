/* What the volts of each case do to each motor: five panels side by side, a row a motor, a mark a case. */
#include <math.h>

#include "write/escape.h"
#include "write/gnuplot.h"

enum {
    HEAD_TALL = 100,
    FOOT_TALL = 72,
    WIDE = 1200,
    WIDE_LETTER = 10 /* pixels of a capital */
};

static const struct panel {
    enum sag_effect_kind kind;
    const char *label;
} panels[] = {
    {SAG_EFFECT_STARTING_TORQUE, "Starting torque, %"},
    {SAG_EFFECT_RUNNING_AMPS, "Running amps, %"},
    {SAG_EFFECT_SLIP, "Slip, %"},
    {SAG_EFFECT_EFFICIENCY, "Efficiency, points"},
    {SAG_EFFECT_RISE, "Winding rise, K"},
};

enum {
    PANELS = sizeof panels / sizeof *panels
};

static double change(const struct sag_result *r, enum sag_case which, enum sag_effect_kind kind)
{
    return r->of[which].present ? r->of[which].effects.of[kind].change.value : NAN;
}

/* Row, then for each panel the change in each case and its least and greatest. */
static void write_data(const struct sag_plot_job *job, size_t first, size_t count, FILE *f)
{
    fputs("# row; then for each panel low, nominal, measured, high, least, greatest\n$motors << EOD\n", f);
    for (size_t i = 0; i < count; i++) {
        fprintf(f, "%zu", count - i);
        for (int p = 0; p < PANELS; p++) {
            double least = INFINITY, most = -INFINITY;
            for (int k = 0; k < KEY_CASES; k++) {
                double v = change(&job->results[first + i], case_in_key(k), panels[p].kind);
                put_datum(f, v, 2);
                least = fmin(least, v);
                most = fmax(most, v);
            }
            put_datum(f, least, 2);
            put_datum(f, most, 2);
        }
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

/* A range with room at both ends, zero always inside; marks on round numbers, about four of them. */
static void write_range(const struct sag_plot_job *job, enum sag_effect_kind kind, FILE *f)
{
    double least = 0, most = 0;
    for (size_t i = 0; i < job->count; i++)
        for (int k = 0; k < KEY_CASES; k++) {
            double v = change(&job->results[i], case_in_key(k), kind);
            least = fmin(least, v);
            most = fmax(most, v);
        }
    double span = fmax(most - least, 0.3);
    static const double steps[] = {0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500};
    size_t s = 0;
    while (s + 1 < sizeof steps / sizeof *steps && span / steps[s] > 4)
        s++;
    fputs("set xrange [", f);
    put_fixed(f, least - 0.12 * span, 2);
    fputs(":", f);
    put_fixed(f, most + 0.12 * span, 2);
    fputs("]\nset xtics ", f);
    put_fixed(f, steps[s], 1);
    fputs(" nomirror out\n", f);
}

/* `left`: where the first panel begins, a share of the picture. */
static void write_panel(const struct sag_plot_job *job, int p, double left, FILE *f)
{
    const int base = 2 + p * (KEY_CASES + 2);
    const double pitch = (1 - left) / PANELS, gap = 0.02;
    fputs("set lmargin at screen ", f);
    put_fixed(f, left + p * pitch, 3);
    fputs("; set rmargin at screen ", f);
    put_fixed(f, left + (p + 1) * pitch - gap, 3);
    fputs("\n", f);
    fprintf(f, "set xlabel '%s'\n", panels[p].label);
    write_range(job, panels[p].kind, f);
    if (p > 0)
        fputs("unset ytics\n", f);
    fprintf(f, "plot $motors using %d:1:($%d-$%d):(0) with vectors nohead lw 2 lc rgb '" COLOUR_SPAN "' notitle",
            base + KEY_CASES, base + KEY_CASES + 1, base + KEY_CASES);
    for (int k = 0; k < KEY_CASES; k++)
        if (has_effects(job, case_in_key(k)))
            fprintf(f, ", \\\n  $motors using %d:1 with points pt %d ps 1.3*mark lw 2 lc rgb '%s' notitle", base + k,
                    case_point(case_in_key(k)), case_colour(case_in_key(k)));
    fputc('\n', f);
}

static void write_key(const struct sag_plot_job *job, FILE *f)
{
    const char *before = "plot ";
    begin_key(f);
    for (int k = 0; k < KEY_CASES; k++)
        if (has_effects(job, case_in_key(k))) {
            fprintf(f, "%sNaN with points pt %d ps 1.3*mark lw 2 lc rgb '%s' title '%s case'", before,
                    case_point(case_in_key(k)), case_colour(case_in_key(k)), sag_case_word(case_in_key(k)));
            before = ", \\\n  ";
        }
    fputc('\n', f);
    end_key(f);
}

static bool is_drawn(const struct sag_result *r)
{
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present && sag_known(&r->of[c].effects.of[SAG_EFFECT_STARTING_AMPS].at_case))
            return true;
    return false;
}

/* Comes back with the characters of the longest. */
static int write_labels(const struct sag_plot_job *job, size_t first, size_t count, FILE *f)
{
    int longest = 0;
    fputs("set ytics nomirror out (", f);
    for (size_t i = 0; i < count; i++) {
        const struct sag_result *r = &job->results[first + i];
        char label[200], tag[120];
        bool drawn = is_drawn(r); /* either way no more than 21 characters */
        snprintf(label, sizeof label, "%s%s", put_cut(tag, sizeof tag, r->motor.plate->tag, drawn ? 20 : 11),
                 drawn ? "" : " (no calc)");
        put_gnuplot(f, label);
        fprintf(f, " %zu%s", count - i, i + 1 < count ? ", " : "");
        longest = text_width(label) > longest ? text_width(label) : longest;
    }
    fprintf(f, ")\nset yrange [0.3:%zu.7]\n", count);
    return longest;
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    (void)context;
    write_data(job, first, count, f);
    put_title(job, "multiplot title", "change from the same load at rated volts", f);
    write_key(job, f);
    fprintf(f, "set tmargin at screen 1 - %d.0/tall; set bmargin at screen %d.0/tall\n", HEAD_TALL - 10, FOOT_TALL);
    fprintf(f, "set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '%s'\n", COLOUR_RATED);
    int longest = write_labels(job, first, count, f);
    for (int p = 0; p < PANELS; p++)
        write_panel(job, p, (30.0 + WIDE_LETTER * longest) / WIDE, f);
    fputs("unset multiplot\n", f);
}

enum sag_status plot_effect(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    const struct pages pages = {"effect", job->count, 30, WIDE, HEAD_TALL + FOOT_TALL, 30, draw, NULL};
    bool any = false;
    for (int k = 0; k < KEY_CASES; k++)
        any = any || has_effects(job, case_in_key(k));
    return any ? write_pages(job, &pages, files, diags) : SAG_OK;
}
