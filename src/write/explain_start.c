/* The start of a sheet: the first instant by the impedances, then what the run-up takes. */
#include <complex.h>
#include <math.h>

#include "write/sheet.h"

#define ROOT3 1.7320508075688772

struct starting {
    struct sag_lines *lines;
    const struct sag_sheet_job *job;
    const char *section;
    enum sag_case which;
    const struct sag_start_case *c;
    const struct sag_started *s;
    const struct sag_grid_motor *motor;
    double complex behind, branch,
        drawn; /* ohms a phase at the board's volts: path, branch cable, starter's line side */
};

static const char *pair(struct sag_lines *lines, double complex z)
{
    return sheet_text(lines, "%s + j %s", sheet_number(lines, creal(z), 5), sheet_number(lines, cimag(z), 5));
}

/* All of the path in ohms at the volts of `node`. */
static double complex path_ohms(const struct sag_grid *grid, int32_t node)
{
    double complex sum = 0;
    double ratio = 1;
    for (int32_t i = node; i >= 0; i = grid->nodes[i].parent) {
        sum += ratio * ratio * (grid->nodes[i].r + I * grid->nodes[i].x);
        ratio *= grid->nodes[i].ratio;
    }
    return sum;
}

static void add(const struct starting *st, struct sag_line line, const struct symbols *symbols)
{
    line.section = st->section;
    line.formula = line.formula ? line.formula : "";
    line.source = line.source ? line.source : "";
    line.figures = line.figures ? line.figures : 5;
    if (sag_known(&line.value))
        add_line(st->lines, symbols, line);
}

/* With nothing else on, the source's volts divide over path, branch cable and motor. */
static void add_closing(const struct starting *st)
{
    bool alone = st->which == SAG_CASE_HIGH || !st->job->supply; /* typed volts are held */
    double complex all = st->behind + st->branch + st->drawn;
    const struct symbol extra[] = {{"V_b", st->s->volts_before, 6},
                                   {"V_c", st->s->volts_closing, 6},
                                   {"I_c", st->s->amps_closing, 5},
                                   {"Z_m", cabs(st->drawn), 5},
                                   {"Z_all", cabs(all), 5}};
    struct symbols symbols = {NULL, extra, sizeof extra / sizeof *extra};
    struct sag_lines *lines = st->lines;
    add(st,
        (struct sag_line){.symbol = "V_b",
                          .words = "volts at the starter before",
                          .value = sag_exact(st->s->volts_before, SAG_COMPUTED),
                          .unit = "V"},
        &symbols);
    add(st,
        (struct sag_line){
            .symbol = "Z_m",
            .words = "starter and motor at standstill",
            .formula = "V_c / (sqrt3 * I_c)",
            .value = sag_exact(cabs(st->drawn), SAG_COMPUTED),
            .unit = "ohm",
            .note = sheet_text(lines, "R + j X = %s, from the circuit at these volts", pair(lines, st->drawn))},
        &symbols);
    if (alone)
        add(st,
            (struct sag_line){.symbol = "Z_all",
                              .words = "path, branch cable and motor together",
                              .formula = "|Z_path + Z_branch + Z_m|",
                              .numbers = sheet_text(lines, "|%s + %s + %s|", pair(lines, st->behind),
                                                    pair(lines, st->branch), pair(lines, st->drawn)),
                              .value = sag_exact(cabs(all), SAG_COMPUTED),
                              .unit = "ohm"},
            &symbols);
    add(st,
        (struct sag_line){.symbol = "V_c",
                          .words = "volts at the starter at closing",
                          .formula = alone ? "V_b * Z_m / Z_all" : "",
                          .value = sag_exact(st->s->volts_closing, SAG_COMPUTED),
                          .unit = "V",
                          .note = alone ? "" : "from the network: what else runs shares the path"},
        &symbols);
    add(st,
        (struct sag_line){
            .symbol = "I_c",
            .words = "amps in the line at closing",
            .formula = alone ? "V_c / (sqrt3 * Z_m)" : "",
            .value = sag_exact(st->s->amps_closing, SAG_COMPUTED),
            .unit = "A",
            .note = sheet_text(lines, "power factor %s", sheet_number(lines, st->s->power_factor_closing, 3))},
        &symbols);
}

static void add_dips(const struct starting *st)
{
    const struct sag_run *run = &st->job->runs[st->which];
    const struct sag_grid *grid = st->job->grid;
    for (int32_t i = st->motor->node; i >= 0 && run->windows; i = grid->nodes[i].parent) {
        double before = run->node_before[i], closing = run->node_closing[i];
        const struct symbol extra[] = {{"V", closing, 6}, {"V_0", before, 6}};
        add(st,
            (struct sag_line){.symbol = grid->nodes[i].id,
                              .words = "dip at closing",
                              .formula = "100 * (1 - V / V_0)",
                              .value = sag_exact(100 * (1 - closing / before), SAG_COMPUTED),
                              .unit = "%",
                              .note = sheet_text(st->lines, "lowest in the run-up %s V, dip %s %%",
                                                 sheet_number(st->lines, run->node_lowest[i], 5),
                                                 sheet_number(st->lines, 100 * (1 - run->node_lowest[i] / before), 3)),
                              .figures = 3},
            &(struct symbols){NULL, extra, 2});
    }
}

static void add_run_up(const struct starting *st)
{
    struct sag_qty time = st->c->time_to_speed, heat = st->c->heat_used;
    const struct sag_start_result *r = st->job->start;
    double permitted = r->motor.fact[SAG_STALL_TIME].value;
    const struct symbol extra[] = {{"t_used", heat.value, 4}, {"t_stall", permitted, 4}};
    bool endless = isinf(time.high);
    time.high = endless ? time.value : time.high;
    add(st,
        (struct sag_line){.symbol = "t_a",
                          .words = "time to full speed",
                          .value = time,
                          .unit = "s",
                          .note = endless ? "at the hard bounds of what is assumed it hangs" : "",
                          .figures = 3},
        &(struct symbols){0});
    if (!sag_known(&time))
        add(st,
            (struct sag_line){.words = "does not come up; ends at, of synchronous speed",
                              .value = sag_scaled(st->c->speed_end, 100),
                              .unit = "%",
                              .figures = 3},
            &(struct symbols){0});
    heat = sag_scaled(heat, 100 / permitted);
    heat.high = isinf(heat.high) ? heat.value : heat.high;
    add(st,
        (struct sag_line){.symbol = "heat",
                          .words = "locked-rotor time used up",
                          .formula = "100 * t_used / t_stall",
                          .value = heat,
                          .unit = "%",
                          .note = "t_used: integral of (I / I_locked) squared over the run-up, s",
                          .figures = 3},
        &(struct symbols){NULL, extra, 2});
}

static void add_case(struct starting *st)
{
    const struct sag_start_result *r = st->job->start;
    st->c = &r->of[st->which];
    st->s = &st->c->likely;
    st->section = sheet_text(st->lines, "Start, %s case%s: %s", sag_case_word(st->which),
                             st->which == SAG_CASE_HIGH ? ", nothing else runs" : "", sag_verdict_word(st->c->verdict));
    bool computed = st->s->computed && !st->c->collapses;
    if (!computed) {
        add_line(st->lines, &(struct symbols){0},
                 (struct sag_line){.section = st->section,
                                   .words = st->c->collapses ? "the network does not settle while it starts"
                                                             : "not computed: no circuit, or no inertia known",
                                   .value = sag_unknown()});
        return;
    }
    st->drawn = 0;
    if (st->s->amps_closing > 0) {
        double pf = st->s->power_factor_closing;
        st->drawn = st->s->volts_closing / (ROOT3 * st->s->amps_closing) * (pf + I * sqrt(fmax(1 - pf * pf, 0)));
        add_closing(st);
    }
    add_dips(st);
    add_run_up(st);
}

void add_start(struct sag_lines *lines, const struct sag_sheet_job *job)
{
    if (!job->start || !job->runs || !job->grid)
        return;
    const struct sag_grid_motor *motor = &job->grid->motors[job->start->index];
    struct starting st = {.lines = lines,
                          .job = job,
                          .motor = motor,
                          .behind = path_ohms(job->grid, motor->node),
                          .branch = motor->branch_r + I * motor->branch_x};
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (job->start->of[c].present) {
            st.which = (enum sag_case)c;
            add_case(&st);
        }
}
