/* Volts, amps and speed while a motor starts, the rest running: three panels on one time axis for each motor, two
   motors side by side, the deepest dip first. */
#include "write/plot_sag.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"

enum {
    ROWS_A_PAGE = 3,
    MOST_DRAWN = 12, /* of a feeder: two pages */
    WIDE_ONE = 1100,
    WIDE_TWO = 1300,
    HEAD_TALL = 106,
    BLOCK_HEAD = 56,
    BLOCK_FOOT = 72,
    GAP = 16
};

/* What an engineer need not see: common practice, no source. */
#define SMALL_DIP 0.01 /* share of the board's volts before */
#define QUICK     1.0  /* s to speed */

#define COLOUR_MOTOR   COLOUR_NOMINAL
#define COLOUR_BOARD   "#0f766e"
#define COLOUR_SERVICE "#b45309"

static const struct panel {
    const char *label;
    int tall;
    int column, span; /* of $start and $span */
} panels[] = {
    {"Volts, %", 230, 2, 2},
    {"Line, A", 105, 6, 4},
    {"Speed, rev/min", 105, 7, 6},
};

enum {
    PANELS = sizeof panels / sizeof *panels
};

struct page {
    const struct starts *starts;
    struct sag_drawing *drawings; /* the deepest dip first */
    size_t count;
    size_t beyond;      /* starts that are worth drawing, and too many */
    int columns, notes; /* notes: lines at the foot */
    char small[200];    /* tags of those that are not worth it */
    size_t small_count;
};

static int row_tall(void)
{
    int tall = BLOCK_HEAD + BLOCK_FOOT;
    for (int p = 0; p < PANELS; p++)
        tall += panels[p].tall + (p > 0 ? GAP : 0);
    return tall;
}

static double limit(const struct page *page, const char *criterion)
{
    return 100 * sag_ask_start_limit(page->starts->job->plant->tables, criterion).value;
}

/* A thin line across the panel, with its words at the right end. */
static void write_limit(double at, const char *words, int tag, FILE *f)
{
    fprintf(f, "set arrow %d from graph 0, first ", tag);
    put_fixed(f, at, 1);
    fputs(" to graph 1, first ", f);
    put_fixed(f, at, 1);
    fprintf(f, " nohead front lw 1 dt 2 lc rgb '" COLOUR_OUTSIDE "'\nset label %d '%s' at graph 0.995, first ", tag,
            words);
    put_fixed(f, at, 1);
    fputs(" right offset 0,0.45 font ',9' textcolor rgb '" COLOUR_OUTSIDE "'\n", f);
}

static void write_limits(const struct page *page, const struct sag_drawing *d, FILE *f)
{
    const struct sag_plate *plate = d->group->first->motor.plate;
    double motor = limit(page, "starting motor, least volts");
    double coils = limit(page, "contactor that must stay in, coils that let go early");
    char words[80], number[SAG_NUMBER_ROOM];
    snprintf(words, sizeof words, "before the starter %s", sag_number_print(number, motor, 0));
    write_limit(motor, words, 11, f);
    snprintf(words, sizeof words, "contactors %s", sag_number_print(number, coils, 0));
    write_limit(coils, words, 12, f);
    if (plate->choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP) {
        snprintf(words, sizeof words, "board of a fire pump %s",
                 sag_number_print(number, 100 * SAG_FIRE_PUMP_START, 0));
        write_limit(100 * SAG_FIRE_PUMP_START, words, 13, f);
    }
}

static void write_events(const struct sag_drawing *d, FILE *f)
{
    for (int i = 0; i < d->event_count; i++) {
        fprintf(f, "set arrow %d from ", i + 1);
        put_fixed(f, d->events[i], 4);
        fputs(", graph 0 to ", f);
        put_fixed(f, d->events[i], 4);
        fputs(", graph 1 nohead front lw 1 dt 3 lc rgb '" COLOUR_FRAME "'\n", f);
    }
}

static const char *seconds(char *out, double value)
{
    return sag_number_print(out, value, value < 9.995 ? 2 : 1);
}

/* "dip 6.4 %, peak 700 A, to speed 0.70 s (0.46 to 1.02)" */
static void put_figures(const struct sag_drawing *d, char *out, size_t room)
{
    const struct start_group *g = d->group;
    const struct sag_started *s = started_in(g, SAG_CORNER_LIKELY), *easy = started_in(g, SAG_CORNER_EASY),
                             *hard = started_in(g, SAG_CORNER_HARD);
    char dip[SAG_NUMBER_ROOM], amps[SAG_NUMBER_ROOM], one[SAG_NUMBER_ROOM], two[SAG_NUMBER_ROOM];
    size_t n = (size_t)snprintf(out, room, "dip %s %%, peak %s A, ", sag_number_print(dip, 100 * d->dip, 1),
                                sag_number_print(amps, s->amps_peak, 0));
    if (!s->runs_up) {
        snprintf(out + n, room - n, "hangs at %s rev/min", sag_number_print(one, s->speed_end * d->sync_rpm, 0));
        return;
    }
    n += (size_t)snprintf(out + n, room - n, "to speed %s s", seconds(one, s->time_to_speed));
    if (hard && !hard->runs_up)
        snprintf(out + n, room - n, ", or hangs");
    else if (easy && hard && !s->driven)
        snprintf(out + n, room - n, " (%s to %s)", seconds(one, easy->time_to_speed),
                 seconds(two, hard->time_to_speed));
}

static void write_figures(const struct sag_drawing *d, FILE *f)
{
    const struct sag_started *s = started_in(d->group, SAG_CORNER_LIKELY);
    bool settles = s && d->group->settles[SAG_CORNER_LIKELY];
    char text[160] = "volts collapse: the network does not settle";
    if (settles)
        put_figures(d, text, sizeof text);
    fputs("set label 10 ", f);
    put_gnuplot(f, text);
    fprintf(f, " at graph 0.5, graph 1 center offset 0,0.8 textcolor rgb '%s'\n",
            settles && s->runs_up ? COLOUR_INSIDE : COLOUR_OUTSIDE);
}

static void write_range(const struct page *page, const struct sag_drawing *d, int panel, FILE *f)
{
    const double room = 4;
    double lowest = limit(page, "contactor that must stay in, coils that let go early");
    if (panel > 0) {
        put_rising_range(panel == 1 ? d->most_amps : d->most_rpm, f);
        return;
    }
    double least = fmin(lowest, isfinite(d->least) ? d->least : lowest) - room;
    double most = fmax(100, isfinite(d->most) ? d->most : 100) + room;
    fprintf(f, "set yrange [%d:%d]; set ytics %d nomirror out\n", (int)floor(least), (int)ceil(most),
            most - least > 75 ? 20 : 10);
}

static void write_curves(const struct sag_drawing *d, size_t number, int panel, FILE *f)
{
    const struct panel *p = &panels[panel];
    fprintf(f, "plot $span%zu using 1:%d:%d with filledcurves fs solid 1 noborder fc rgb '" COLOUR_RANGE "' notitle",
            number, p->span, p->span + 1);
    if (panel == 0) {
        if (!d->board_is_service)
            fprintf(f, ", \\\n  $start%zu using 1:5 with lines lw 2 lc rgb '" COLOUR_SERVICE "' notitle", number);
        fprintf(f, ", \\\n  $start%zu using 1:4 with lines lw 2 lc rgb '" COLOUR_BOARD "' notitle", number);
        if (d->own_motor_volts)
            fprintf(f, ", \\\n  $start%zu using 1:3 with lines lw 2 dt 2 lc rgb '" COLOUR_MOTOR "' notitle", number);
    }
    fprintf(f, ", \\\n  $start%zu using 1:%d with lines lw 2 lc rgb '" COLOUR_MOTOR "' notitle\n", number, p->column);
}

static void write_place(const struct page *page, size_t place, int panel, FILE *f)
{
    size_t row = place / (size_t)page->columns;
    int top = HEAD_TALL + BLOCK_HEAD;
    for (int p = 0; p < panel; p++)
        top += panels[p].tall + GAP;
    fprintf(f, "set tmargin at screen 1 - (%d.0 + %zu*%d.0)/tall; ", top, row, row_tall());
    fprintf(f, "set bmargin at screen 1 - (%d.0 + %zu*%d.0)/tall\n", top + panels[panel].tall, row, row_tall());
    if (page->columns == 1)
        fputs("set lmargin at screen 0.10; set rmargin at screen 0.97\n", f);
    else
        fprintf(f, "set lmargin at screen %s\n",
                place % 2 ? "0.57; set rmargin at screen 0.98" : "0.07; set rmargin at screen 0.48");
}

static void write_block(const struct page *page, const struct sag_drawing *d, size_t place, FILE *f)
{
    double until = d->until > 0 ? d->until : 1;
    for (int p = 0; p < PANELS; p++) {
        fputs("unset arrow; unset label; unset title\nset xrange [", f);
        put_fixed(f, d->from, 4);
        fputs(":", f);
        put_fixed(f, until, 4);
        fprintf(f, "]; set xtics autofreq nomirror out; set format x '%s'\n", p + 1 < PANELS ? "" : "%g");
        fprintf(f, "set xlabel '%s'; set ylabel '%s'\n", p + 1 < PANELS ? "" : "Time from closing, s", panels[p].label);
        write_range(page, d, p, f);
        write_place(page, place, p, f);
        write_events(d, f);
        if (p == 0) {
            write_limits(page, d, f);
            write_figures(d, f);
            fputs("set title ", f);
            put_start_title(d->group, f);
            fputs(" offset 0,0.9\n", f);
        }
        write_curves(d, place + 1, p, f);
    }
}

/* What is left out, at the foot of the page, its last line first; labels of the key's plot. */
static void write_notes(const struct page *page, FILE *f)
{
    char text[260];
    int line = 0;
    if (page->beyond > 0) {
        snprintf(text, sizeof text, "Smaller dips that are not drawn: %zu", page->beyond);
        put_foot_note(text, line++, f);
    }
    if (*page->starts->no_run) {
        snprintf(text, sizeof text, "No circuit, so no start: %s", page->starts->no_run);
        put_foot_note(text, line++, f);
    }
    if (*page->small) {
        put_foot_note(page->small, line++, f);
        snprintf(text, sizeof text, "Dip under %d %% and up to speed within %d s: %zu", (int)(100 * SMALL_DIP),
                 (int)QUICK, page->small_count);
        put_foot_note(text, line++, f);
    }
}

static void write_key(const struct page *page, FILE *f)
{
    begin_key(f);
    write_notes(page, f);
    bool behind = false;
    for (size_t i = 0; i < page->count; i++)
        behind = behind || page->drawings[i].own_motor_volts;
    fputs("plot NaN with lines lw 2 lc rgb '" COLOUR_MOTOR "' title 'before starter, % plate'", f);
    if (behind)
        fputs(", \\\n  NaN with lines lw 2 dt 2 lc rgb '" COLOUR_MOTOR "' title 'behind starter, % plate'", f);
    fputs(", \\\n  NaN with lines lw 2 lc rgb '" COLOUR_BOARD "' title 'board, % nominal'"
          ", \\\n  NaN with lines lw 2 lc rgb '" COLOUR_SERVICE "' title 'service, % nominal'"
          ", \\\n  NaN with filledcurves fs solid 1 noborder fc rgb '" COLOUR_RANGE "' title 'easy to hard'"
          ", \\\n  NaN with lines lw 1 dt 2 lc rgb '" COLOUR_OUTSIDE "' title 'limit'"
          ", \\\n  NaN with lines lw 1 dt 3 lc rgb '" COLOUR_FRAME "' title 'closes, changes over'\n",
          f);
    end_key(f);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct page *page = context;
    size_t columns = (size_t)page->columns, from = columns * first, to = columns * (first + count);
    char title[80];
    to = to < page->count ? to : page->count;
    fputs("# s; volts before the starter, at the motor, board, service, %; amps; rev/min. span: s; least and most\n",
          f);
    for (size_t i = from; i < to; i++)
        write_sag_data(&page->drawings[i], i - from + 1, f);
    snprintf(title, sizeof title, "each start alone, %s case", sag_case_word(page->starts->which));
    put_title(job, "multiplot title", title, f);
    write_key(page, f);
    for (size_t i = from; i < to; i++)
        write_block(page, &page->drawings[i], i - from, f);
    fputs("unset multiplot\n", f);
}

static int by_dip(const void *left, const void *right)
{
    const struct sag_drawing *a = left, *b = right;
    size_t i = a->group->first->index, k = b->group->first->index;
    return a->dip != b->dip ? (a->dip < b->dip) - (a->dip > b->dip) : (i > k) - (i < k);
}

static bool is_small(const struct sag_drawing *d)
{
    const struct sag_started *s = started_in(d->group, SAG_CORNER_LIKELY);
    return d->dip < SMALL_DIP && s && s->runs_up && s->time_to_speed <= QUICK;
}

static void add_small(struct page *page, const struct start_group *group)
{
    add_tag(page->small, sizeof page->small, group->tags);
    page->small_count += group->count;
}

/* Deep dips first; small ones are named only, unless there is nothing else. */
static void choose(const struct starts *starts, struct page *page)
{
    for (size_t i = 0; i < starts->count; i++)
        sag_drawing_of(starts, &starts->groups[i], &page->drawings[i]);
    qsort(page->drawings, starts->count, sizeof *page->drawings, by_dip);
    for (size_t i = 0; i < starts->count; i++) {
        if (page->count > 0 && is_small(&page->drawings[i]))
            add_small(page, page->drawings[i].group);
        else
            page->drawings[page->count++] = page->drawings[i];
    }
    page->beyond = starts->beyond + (page->count > MOST_DRAWN ? page->count - MOST_DRAWN : 0);
    page->count = page->count > MOST_DRAWN ? MOST_DRAWN : page->count;
    page->columns = page->count == 1 ? 1 : 2;
    page->notes = (page->beyond > 0) + (*starts->no_run != 0) + (*page->small ? 2 : 0);
}

enum sag_status plot_sag(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags)
{
    struct page page = {.starts = starts};
    if (starts->count == 0)
        return SAG_OK;
    page.drawings = calloc(starts->count, sizeof *page.drawings);
    if (!page.drawings)
        return SAG_NO_MEMORY;
    choose(starts, &page);
    size_t columns = (size_t)page.columns;
    const struct pages pages = {"sag",
                                (page.count + columns - 1) / columns,
                                ROWS_A_PAGE,
                                page.columns == 1 ? WIDE_ONE : WIDE_TWO,
                                HEAD_TALL + NOTES_FOOT + NOTE_TALL * page.notes,
                                row_tall(),
                                draw,
                                &page};
    enum sag_status status = write_pages(starts->job, &pages, files, diags);
    free(page.drawings);
    return status;
}
