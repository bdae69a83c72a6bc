/* The band chart: for each motor the span of its terminal volts from low to high case, in percent of its plate, on the
   band that its plate allows. What lies outside the band is drawn in another colour and thicker. */
#include <math.h>

#include "write/escape.h"
#include "write/gnuplot.h"

static double share(const struct sag_result *r, enum sag_case which)
{
    return r->of[which].present ? 100 * r->of[which].terminals.volts_share : NAN;
}

/* Band edges in percent of the plate, from whichever case is there. */
static void band_edges(const struct sag_result *r, double *low, double *high)
{
    double rated = r->motor.fact[SAG_RATED_VOLTS].value;
    *low = *high = NAN;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present) {
            *low = 100 * r->of[c].terminals.band_low / rated;
            *high = 100 * r->of[c].terminals.band_high / rated;
        }
}

/* y, band low, band high, low, high, nominal, measured, lowest and highest pair; then the span cut at the band. */
static void write_data(const struct sag_plot_job *job, size_t first, size_t count, FILE *f)
{
    fputs("# row, band from, to, low, high, nominal, measured, pair from, to, inside from, to, below from, to, above "
          "from,"
          " to: % of plate volts\n$motors << EOD\n",
          f);
    for (size_t i = 0; i < count; i++) {
        const struct sag_result *r = &job->results[first + i];
        double band_low, band_high, low = share(r, SAG_CASE_LOW), high = share(r, SAG_CASE_HIGH);
        band_edges(r, &band_low, &band_high);
        bool measured = r->of[SAG_CASE_MEASURED].present;
        const struct sag_terminals *t = &r->of[SAG_CASE_MEASURED].terminals;
        double rated = r->motor.fact[SAG_RATED_VOLTS].value;
        bool span = !isnan(low) && !isnan(high);
        const double row[] = {
            band_low,
            band_high,
            low,
            high,
            share(r, SAG_CASE_NOMINAL),
            share(r, SAG_CASE_MEASURED),
            measured ? 100 * t->volts.low / rated : NAN,
            measured ? 100 * t->volts.high / rated : NAN,
            span && high > band_low && low < band_high ? fmax(low, band_low) : NAN,
            span && high > band_low && low < band_high ? fmin(high, band_high) : NAN,
            span && low < band_low ? low : NAN,
            span && low < band_low ? fmin(high, band_low) : NAN,
            span && high > band_high ? fmax(low, band_high) : NAN,
            span && high > band_high ? high : NAN,
        };
        fprintf(f, "%zu", count - i);
        for (size_t k = 0; k < sizeof row / sizeof *row; k++)
            put_datum(f, row[k], 2);
        fputc('\n', f);
    }
    fputs("EOD\n", f);
}

static void write_range(const struct sag_plot_job *job, FILE *f)
{
    double least = 86, most = 114;
    for (size_t i = 0; i < job->count; i++) {
        double low, high;
        band_edges(&job->results[i], &low, &high);
        least = fmin(least, low - 3);
        most = fmax(most, high + 3);
        for (int c = 0; c < SAG_CASE_COUNT; c++) {
            double s = share(&job->results[i], (enum sag_case)c);
            least = fmin(least, s - 3);
            most = fmax(most, s + 3);
        }
    }
    double step = most - least > 80 ? 20 : most - least > 40 ? 10 : 5;
    fprintf(f, "set xrange [%d:%d]\nset xtics %d\n", (int)floor(least), (int)ceil(most), (int)step);
}

static void write_labels(const struct sag_plot_job *job, size_t first, size_t count, FILE *f)
{
    fputs("set ytics (", f);
    for (size_t i = 0; i < count; i++) {
        char label[200], tag[120];
        const struct sag_result *r = &job->results[first + i];
        snprintf(label, sizeof label, "%s  %d V%s", put_cut(tag, sizeof tag, r->motor.plate->tag, 24),
                 (int)round(r->motor.fact[SAG_RATED_VOLTS].value), r->motor.fact[SAG_HZ].value == 50 ? " 50 Hz" : "");
        put_gnuplot(f, label);
        fprintf(f, " %zu%s", count - i, i + 1 < count ? ", " : "");
    }
    fputs(")\n", f);
    fprintf(f, "set label %zu 'band' at graph 1.01, first %zu.8 left textcolor rgb '%s'\n", count + 1, count,
            COLOUR_RATED);
    for (size_t i = 0; i < count; i++) {
        const struct sag_result *r = &job->results[first + i];
        enum sag_verdict worst = SAG_VERDICT_OK;
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            if (r->of[c].present && r->of[c].band_verdict > worst)
                worst = r->of[c].band_verdict;
        fprintf(f, "set label %zu '%s' at graph 1.01, first %zu left textcolor rgb '%s'\n", i + 1,
                sag_verdict_word(worst), count - i, worst == SAG_VERDICT_FAIL ? COLOUR_OUTSIDE : COLOUR_INSIDE);
    }
}

static void write_plot(const struct sag_plot_job *job, FILE *f)
{
    bool span = has_case(job, SAG_CASE_LOW) && has_case(job, SAG_CASE_HIGH);
    fputs("plot $motors using 2:1:2:3:($1-0.42):($1+0.42) with boxxyerror fs solid 1 noborder fc rgb '" COLOUR_BAND
          "' title 'band of the plate'",
          f);
    if (span) {
        fputs(", \\\n  $motors using 10:1:($11-$10):(0) with vectors nohead lw 5 lc rgb '" COLOUR_INSIDE
              "' title 'low to high case'",
              f);
        fputs(", \\\n  $motors using 12:1:($13-$12):(0) with vectors nohead lw 9 lc rgb '" COLOUR_OUTSIDE
              "' title 'outside the band'",
              f);
        fputs(", \\\n  $motors using 14:1:($15-$14):(0) with vectors nohead lw 9 lc rgb '" COLOUR_OUTSIDE "' notitle",
              f);
    }
    if (has_case(job, SAG_CASE_NOMINAL))
        fprintf(f, ", \\\n  $motors using 6:1 with points pt %d ps 1.5*mark lc rgb '%s' title 'nominal'",
                case_point(SAG_CASE_NOMINAL), case_colour(SAG_CASE_NOMINAL));
    if (has_case(job, SAG_CASE_MEASURED))
        fprintf(f,
                ", \\\n  $motors using 8:1:($9-$8):(0) with vectors nohead lw 2 lc rgb '%s' notitle"
                ", \\\n  $motors using 7:1 with points pt %d ps 2.6*mark lc rgb 'white' notitle"
                ", \\\n  $motors using 7:1 with points pt %d ps 1.7*mark lc rgb '%s' title 'measured'",
                case_colour(SAG_CASE_MEASURED), case_point(SAG_CASE_MEASURED), case_point(SAG_CASE_MEASURED),
                case_colour(SAG_CASE_MEASURED));
    fputc('\n', f);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    (void)context;
    bool computed = has_case(job, SAG_CASE_NOMINAL) || has_case(job, SAG_CASE_LOW) || has_case(job, SAG_CASE_HIGH);
    write_data(job, first, count, f);
    put_title(job, "title", "volts at each motor against its plate", f);
    fprintf(f, "set xlabel 'Volts at the terminals, %% of plate volts%s'\n",
            computed && !job->reports ? " (typed volts, no drops)" : "");
    fprintf(f,
            "set yrange [0.3:%zu.7]\nset rmargin 10\nset bmargin at screen 118.0/tall\n"
            "set key at screen 0.5, screen 12.0/tall center bottom horizontal width 1\n"
            "set grid xtics lc rgb '%s'\n"
            "set arrow 1 from 100, graph 0 to 100, graph 1 nohead front dt 2 lc rgb '%s'\n",
            count, COLOUR_GRID, COLOUR_RATED);
    write_range(job, f);
    write_labels(job, first, count, f);
    write_plot(job, f);
}

enum sag_status plot_band(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags)
{
    const struct pages pages = {"band", job->count, 36, 1000, 183, 30, draw, NULL};
    return write_pages(job, &pages, files, diags);
}
