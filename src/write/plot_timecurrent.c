/* Amps against time of each motor's start, of what would open its circuit, and of what its winding stands: a panel for
   each motor, two in a row, both axes logarithmic. */
#include "write/plot_timecurrent.h"

#include <math.h>
#include <stdlib.h>

#include "base/number.h"
#include "write/escape.h"

enum {
    WIDE = 1200,
    ROWS_A_PAGE = 3,
    ROW_TALL = 580,
    ROW_HEAD = 98, /* for four lines of title, */
    ROW_FOOT = 64, /* and for the axis */
    HEAD_TALL = 124,
    KEY_FOOT = 104
};

/* An item of a page is a row of two panels. */
struct drawn {
    const struct starts *starts;
    struct tc_panel *panels;
    size_t count;
    int notes;
};

/* --- words ------------------------------------------------------------------------------------------------------- */

static const char *is_there(bool installed)
{
    return installed ? "installed" : "chosen";
}

/* "LP-3, LP-4: 100 hp, breaker 350 A installed" */
static void put_panel_title(const struct tc_panel *p, FILE *f)
{
    char title[320], tags[130], power[SAG_NUMBER_ROOM + 4], amps[SAG_NUMBER_ROOM];
    size_t n = (size_t)snprintf(title, sizeof title, "%s: %s", put_cut(tags, sizeof tags, p->tags, 24),
                                power_words(p->group, power, sizeof power));
    const char *setting = p->let.kind == SAG_DEVICE_INSTANTANEOUS_BREAKER ? " set at" : "";
    if (!isnan(p->let.device_amps) && n < sizeof title)
        snprintf(title + n, sizeof title - n, ", %s%s %s A %s", device_words(p->let.kind), setting,
                 sag_number_figures(amps, p->let.device_amps, 4), is_there(p->let.device_installed));
    put_gnuplot(f, title);
}

/* "class 20", "class 10 to 20 assumed", "its curve" */
static void put_class(const struct starts *s, const struct tc_panel *p, char *out, size_t room)
{
    char least[SAG_NUMBER_ROOM], most[SAG_NUMBER_ROOM];
    struct sag_answer usual =
        sag_ask_protection_default(s->job->plant->tables, p->first->motor.iec ? "trip_class_iec" : "trip_class_nema");
    if (p->relay.curve.count)
        snprintf(out, room, "its curve");
    else if (!p->relay.class_assumed)
        snprintf(out, room, "class %s", sag_choice_word(SAG_TRIP_CLASS, p->first->motor.plate->choice[SAG_TRIP_CLASS]));
    else
        snprintf(out, room, "class %s%s%s assumed", sag_number_figures(least, usual.low, 3),
                 usual.high > usual.low ? " to " : "",
                 usual.high > usual.low ? sag_number_figures(most, usual.high, 3) : "");
}

static void put_relay_words(const struct starts *s, const struct tc_panel *p, char *out, size_t room)
{
    char amps[SAG_NUMBER_ROOM], trip_class[80];
    put_class(s, p, trip_class, sizeof trip_class);
    if (p->has_relay)
        snprintf(out, room, "relay %s A %s, %s",
                 sag_number_figures(amps, floor(100 * p->relay.trip_amps + 1e-9) / 100, 5),
                 is_there(p->let.relay_installed), trip_class);
    else
        snprintf(out, room, "no overload relay");
}

static void put_limit_words(const struct tc_panel *p, char *out, size_t room)
{
    char seconds[SAG_NUMBER_ROOM];
    const struct sag_qty *stall = &p->first->motor.fact[SAG_STALL_TIME];
    out[0] = '\0';
    if (sag_known(stall))
        snprintf(out, room, "locked rotor, hot: %s s%s", sag_number_figures(seconds, stall->value, 3),
                 stall->origin == SAG_NAMEPLATE ? "" : " assumed");
}

static bool hangs_in(const struct tc_panel *p, int run)
{
    const struct sag_started *started = started_in(p->group, run);
    return started && p->group->settles[run] && !started->runs_up;
}

/* Whether the start passes; true: a reader must attend to it. */
static bool put_let_words(const struct starts *s, const struct tc_panel *p, char *out, size_t room)
{
    enum sag_let let = p->let.let, low = p->let_low.let;
    const char *which = sag_case_word(s->which);
    if (hangs_in(p, SAG_CORNER_LIKELY))
        snprintf(out, room, "%s case: it hangs", which);
    else if (!p->let.computed)
        snprintf(out, room, "%s case: volts collapse%s", which,
                 p->group->settles[SAG_CORNER_LIKELY] ? " in a hard start" : "");
    else if (hangs_in(p, RUN_LOW))
        snprintf(out, room, "lets it start: %s (%s case); low case: it hangs", sag_let_word(let), which);
    else if (low > let)
        snprintf(out, room, "lets it start: %s (%s case), %s (low case)", sag_let_word(let), which, sag_let_word(low));
    else
        snprintf(out, room, "lets it start: %s (%s case)", let ? sag_let_word(let) : "nothing to open it", which);
    return !p->let.computed || hangs_in(p, RUN_LOW) || let == SAG_LET_NO || low == SAG_LET_NO;
}

/* A line above the panel, the third right above it. */
static void write_line(const char *text, int line, bool bad, FILE *f)
{
    static const char *const up[] = {"2.9", "1.8", "0.7"};
    fprintf(f, "set label %d ", line + 1);
    put_gnuplot(f, text);
    fprintf(f, " at graph 0.5, graph 1 center offset 0,%s textcolor rgb '%s'\n", up[line],
            bad ? COLOUR_OUTSIDE : COLOUR_INSIDE);
}

static void write_words(const struct starts *s, const struct tc_panel *p, FILE *f)
{
    char text[200];
    put_relay_words(s, p, text, sizeof text);
    write_line(text, 0, false, f);
    put_limit_words(p, text, sizeof text);
    write_line(text, 1, false, f);
    bool bad = put_let_words(s, p, text, sizeof text);
    write_line(text, 2, bad, f);
}

/* --- lines ------------------------------------------------------------------------------------------------------- */

#define USUAL         "fs solid 1 noborder fc rgb '" COLOUR_DEVICES "'"
#define RELAYS        "fs transparent solid 0.6 noborder fc rgb '" COLOUR_RELAYS "'"
#define EDGE          "lines lw 1 dt 3 lc rgb '" COLOUR_DEVICE "'"
#define OWN           "lines lw 2.5 dt 5 lc rgb '" COLOUR_DEVICE "'"
#define BOUND         "lines lw 1 lc rgb '" COLOUR_RELAY "'"
#define LIKELY        "lines lw 2 dt 4 lc rgb '" COLOUR_RELAY "'"
#define HOLDS         "lines lw 2 dt 2 lc rgb '" COLOUR_DEVICE "'"
#define OPENS         "lines lw 2 lc rgb '" COLOUR_DEVICE "'"
#define LIMIT         "lw 3 dt (14,5) lc rgb '" COLOUR_STALL "'"
#define ASSUMED_LIMIT "lw 1.2 dt (14,5) lc rgb '" COLOUR_STALL "'"
#define FIRST         "points pt 12 ps 1.5*mark lw 2 lc rgb '" COLOUR_NOMINAL "'"

static void write_plot(const struct starts *s, const struct tc_panel *p, size_t n, FILE *f)
{
    fprintf(f, "plot $usual%zu using 1:2:3 with filledcurves " USUAL " notitle", n);
    fprintf(f, ", \\\n  $trip%zu using 1:2:3 with filledcurves " USUAL " notitle", n);
    fprintf(f, ", \\\n  $relay%zu using 1:2:4 with filledcurves " RELAYS " notitle", n);
    for (int column = 2; column <= 3; column++)
        fprintf(f, ", \\\n  $usual%zu using 1:%d with %s notitle", n, column, s->job->device_curve.count ? OWN : EDGE);
    for (int column = 2; column <= 4; column += 2)
        fprintf(f, ", \\\n  $relay%zu using 1:%d with " BOUND " notitle", n, column);
    fprintf(f, ", \\\n  $relay%zu using 1:3 with " LIKELY " notitle", n);
    fprintf(f, ", \\\n  $holds%zu using 1:2 with " HOLDS " notitle", n);
    fprintf(f, ", \\\n  $opens%zu using 1:2 with " OPENS " notitle", n);
    fprintf(f, ", \\\n  $limit%zu using 1:2 with lines %s notitle", n,
            p->first->motor.fact[SAG_STALL_TIME].origin == SAG_NAMEPLATE ? LIMIT : ASSUMED_LIMIT);
    fprintf(f,
            ", \\\n  $limit%zu every ::0::0 using 1:2 with points pt 5 ps 1.1*mark lc rgb '" COLOUR_STALL "' notitle",
            n);
    if (s->low)
        fprintf(f, ", \\\n  $low%zu using 1:2 with lines lw 1.5 dt 2 lc rgb '%s' notitle", n,
                case_colour(SAG_CASE_LOW));
    fprintf(f, ", \\\n  $run%zu using 1:2 with lines lw 2.5 lc rgb '%s' notitle", n, case_colour(s->which));
    fprintf(f, ", \\\n  $first%zu using 1:2 with " FIRST " notitle\n", n);
}

static void write_panel(const struct starts *s, const struct tc_panel *p, size_t number, FILE *f)
{
    put_panel_place(&(struct panel_grid){HEAD_TALL, ROW_TALL, ROW_HEAD, ROW_FOOT, {"0.485", "0.985"}}, number, f);
    fputs("set xrange [", f);
    put_fixed(f, p->from, 3);
    fputs(":", f);
    put_fixed(f, p->to, 3);
    fputs("]\n", f);
    put_log_marks(p->from, p->to, f);
    fputs("set xlabel 'Current, A'; set ylabel 'Time, s'\nset title ", f);
    put_panel_title(p, f);
    fputs(" offset 0,2.6\n", f);
    write_words(s, p, f);
    write_plot(s, p, number, f);
}

/* What is left out, at the foot of the page; labels of the key's plot. */
static void write_notes(const struct starts *s, FILE *f)
{
    char text[260];
    int line = 0;
    if (s->beyond > 0) {
        snprintf(text, sizeof text, "Smaller motors that are not drawn: %zu", s->beyond);
        put_foot_note(text, line++, f);
    }
    if (*s->no_run) {
        snprintf(text, sizeof text, "No circuit, so no start: %s", s->no_run);
        put_foot_note(text, line, f);
    }
}

struct shown {
    bool relay, device, standard, holds, first;
};

/* What any panel of the page has. */
static struct shown shown_on(const struct drawn *d, size_t from, size_t to)
{
    struct shown any = {0};
    for (size_t i = from; i < to; i++) {
        const struct sag_let_start *let = &d->panels[i].let;
        bool device = !isnan(let->device_amps);
        any.relay = any.relay || d->panels[i].has_relay;
        any.device = any.device || device;
        any.standard = any.standard || (device && let->kind != SAG_DEVICE_INSTANTANEOUS_BREAKER);
        any.holds = any.holds || (device && let->kind == SAG_DEVICE_DUAL_ELEMENT_FUSE);
        any.first = any.first || !isnan(let->first_amps);
    }
    return any;
}

static void write_relay_key(const struct starts *s, const struct shown *any, FILE *f)
{
    if (any->relay && s->job->relay_curve.count)
        fputs(", \\\n  NaN with " LIKELY " title 'relay trips, its curve'", f);
    else if (any->relay)
        fputs(", \\\n  NaN with filledcurves fs solid 1 border lc rgb '" COLOUR_RELAY "' fc rgb '" COLOUR_RELAYS
              "' title 'relay trips, its class'"
              ", \\\n  NaN with " LIKELY " title 'relay, as likely'",
              f);
}

static void write_device_key(const struct starts *s, const struct shown *any, FILE *f)
{
    if (any->device && s->job->device_curve.count)
        fputs(", \\\n  NaN with " OWN " title 'device opens, its curve'", f);
    else if (any->device)
        fputs(", \\\n  NaN with filledcurves " USUAL " title 'device opens, usual'", f);
    if (any->holds)
        fputs(", \\\n  NaN with " HOLDS " title 'standard: holds up to'", f);
    if (any->standard)
        fputs(", \\\n  NaN with " OPENS " title 'standard: has opened beyond'", f);
}

static void write_key(const struct drawn *d, const struct shown *any, FILE *f)
{
    const struct starts *s = d->starts;
    begin_key(f);
    fprintf(f, "set bmargin at screen 1 - %d.0/tall; set key width 0 maxrows 3\n", KEY_FOOT);
    write_notes(s, f);
    fprintf(f, "plot NaN with lines lw 2.5 lc rgb '%s' title 'start, %s case'", case_colour(s->which),
            sag_case_word(s->which));
    if (s->low)
        fprintf(f, ", \\\n  NaN with lines lw 1.5 dt 2 lc rgb '%s' title 'start, low case'", case_colour(SAG_CASE_LOW));
    if (any->first)
        fputs(", \\\n  NaN with " FIRST " title 'highest half cycle'", f);
    fputs(", \\\n  NaN with linespoints pt 5 ps 1.1*mark " LIMIT " title 'motor thermal limit'", f);
    write_relay_key(s, any, f);
    write_device_key(s, any, f);
    fputc('\n', f);
    end_key(f);
}

static void draw(const struct sag_plot_job *job, const void *context, size_t first, size_t count, FILE *f)
{
    const struct drawn *d = context;
    size_t from = 2 * first, to = 2 * (first + count) < d->count ? 2 * (first + count) : d->count;
    fputs(
        "# amps, then s: run, low, limit, holds, opens, first; relay: fastest, likely, slowest; usual, trip: fastest, "
        "slowest\n",
        f);
    for (size_t i = from; i < to; i++)
        write_panel_data(d->starts, &d->panels[i], i - from + 1, f);
    put_title(job, "multiplot title", "each start against what protects its circuit", f);
    const struct shown any = shown_on(d, from, to);
    write_key(d, &any, f);
    fputs("unset label; set logscale xy; set mytics 10; set mxtics 10\n"
          "set grid xtics ytics lt 1 lw 0.7 lc rgb '" COLOUR_GRID "'\nset yrange [",
          f);
    put_fixed(f, TC_FLOOR, 3);
    fputs(":", f);
    put_fixed(f, TC_TOP, 0);
    fputs("]; set ytics nomirror out ('0.01' 0.01, '0.1' 0.1, '1' 1, '10' 10, '100' 100, '1000' 1000, '10000' 10000)\n",
          f);
    for (size_t i = from; i < to; i++)
        write_panel(d->starts, &d->panels[i], i - from + 1, f);
    fputs("unset multiplot\n", f);
}

enum sag_status plot_timecurrent(const struct starts *starts, struct sag_file_list *files, struct sag_diags *diags)
{
    size_t room = starts->job->count ? starts->job->count : 1;
    struct drawn d = {.starts = starts, .panels = calloc(room, sizeof *d.panels)};
    if (!d.panels)
        return SAG_NO_MEMORY;
    d.count = find_panels(starts, d.panels);
    d.notes = (starts->beyond > 0) + (*starts->no_run != 0);
    const struct pages pages = {"timecurrent",
                                (d.count + 1) / 2,
                                ROWS_A_PAGE,
                                WIDE,
                                HEAD_TALL + NOTES_FOOT + NOTE_TALL * d.notes,
                                ROW_TALL,
                                draw,
                                &d};
    enum sag_status status = write_pages(starts->job, &pages, files, diags);
    free(d.panels);
    return status;
}
