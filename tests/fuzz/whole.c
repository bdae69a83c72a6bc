#include "fuzz/whole.h"

#include <stdlib.h>

#include "fuzz/printing.h"
#include "fuzz/promises.h"

struct whole {
    const struct whole_job *job;
    struct sag_start_plan plan;
    size_t motors[WHOLE_MOTORS];
    struct sag_start_result starts[WHOLE_MOTORS];
    struct sag_board_result boards[WHOLE_NODES];
    struct sag_run run;            /* whose trace is printed */
    struct sag_lines lines;        /* of a motor */
    struct sag_advice_list advice; /* of the first start that fails */
};

/* --- starts ------------------------------------------------------------------------------------------------------ */

static void look_at_start(const struct sag_start_case *c)
{
    const struct sag_qty *known[] = {&c->volts_lowest, &c->board_lowest,  &c->amps_peak,     &c->amps_transfer,
                                     &c->heat_used,    &c->time_to_speed, &c->least_surplus, &c->speed_end,
                                     &c->other_share,  &c->coil_share,    &c->lamp_dip};
    for (size_t i = 0; i < sizeof known / sizeof *known && !c->collapses; i++)
        must_be_between(known[i], "start");
    must(c->collapses || !c->likely.runs_up || c->likely.time_to_speed >= 0, "who runs up takes time", "start");
}

void must_judge_starts(const struct sag_start_plan *plan, struct sag_start_result *results)
{
    must(sag_judge_starts(plan, results) == SAG_OK, "every start is judged", "start");
    for (size_t i = 0; i < plan->count; i++) {
        const struct sag_start_result *r = &results[i];
        must(r->finding_count <= SAG_MOST_START_FINDINGS, "findings have room", "start");
        for (size_t k = 0; k < r->finding_count && r->judged; k++)
            must_be_finding(&r->findings[k]);
        for (int k = 0; k < SAG_CASE_COUNT && r->judged; k++)
            if (r->of[k].present)
                look_at_start(&r->of[k]);
    }
}

static size_t put_starts(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_row_text text;
    size_t rows = 0;
    for (size_t i = 0; i < w->plan.count; i++)
        for (int k = 0; k < SAG_CASE_COUNT && w->starts[i].judged; k++)
            if (w->starts[i].of[k].present) {
                sag_start_row(w->job->plant, &w->starts[i], (enum sag_case)k, &text, values);
                put_one(writer, sheet, values);
                rows++;
            }
    return rows;
}

static size_t put_start_findings(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    size_t rows = 0;
    for (size_t i = 0; i < w->plan.count; i++)
        for (size_t k = 0; k < w->starts[i].finding_count; k++, rows++) {
            sag_finding_row(w->job->plant->list, &w->starts[i].findings[k], values);
            put_one(writer, sheet, values);
        }
    return rows;
}

static size_t put_trace(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    for (size_t i = 0; i < w->run.trace_count; i++) {
        sag_trace_values(w->job->plant->list, &w->job->grids[SAG_CORNER_LIKELY], &w->run.trace[i], values);
        put_one(writer, sheet, values);
    }
    return w->run.trace_count;
}

static void print(const struct whole *w, const struct sag_view *view, put_rows_fn *put_rows)
{
    print_in_all_formats(&(struct print_job){view, NULL, put_rows, w, w->job->says_nan});
}

static enum sag_case first_case(const struct whole_job *job)
{
    int c = 0;
    while (c + 1 < SAG_CASE_COUNT && !(job->plant->cases[c] && sag_known(&job->plant->boards[0].of[c].volts)))
        c++;
    return (enum sag_case)c;
}

/* The run of all closings of a plan, or of the first motor by itself, as time series. */
static void trace(struct whole *w)
{
    struct sag_closing closings[WHOLE_MOTORS] = {{0, 0}};
    struct sag_start_job job = {.tables = w->job->plant->tables,
                                .grid = &w->job->grids[SAG_CORNER_LIKELY],
                                .list = w->job->plant->list,
                                .closings = closings,
                                .count = 1,
                                .which = first_case(w->job),
                                .keep_trace = true};
    if (w->plan.order != SAG_START_ALONE) {
        job.count = sag_plan_closings(&w->plan, closings);
        job.from_rest = sag_plan_from_rest(&w->plan);
    }
    if (!job.count)
        return;
    enum sag_status status = sag_run_up(&job, &w->run);
    must(status == SAG_OK || status == SAG_NO_SOLUTION, "a run ends, or has no solution", "trace");
    if (status == SAG_OK)
        print(w, &sag_trace_view, put_trace);
    sag_run_free(&w->run);
}

static void start_all(struct whole *w)
{
    w->plan = (struct sag_start_plan){.plant = w->job->plant,
                                      .grids = w->job->grids,
                                      .order = w->job->options->order,
                                      .motors = w->motors,
                                      .count = w->job->plant->list->count};
    for (size_t i = 0; i < w->plan.count; i++)
        w->motors[i] = i;
    must_judge_starts(&w->plan, w->starts);
    print(w, &sag_start_view, put_starts);
    print(w, &sag_finding_view, put_start_findings);
    trace(w);
}

/* --- advice ------------------------------------------------------------------------------------------------------ */

static size_t put_advice(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    for (size_t i = 0; i < w->advice.count; i++) {
        sag_advice_row(w->job->plant, &w->advice.items[i], values);
        put_one(writer, sheet, values);
    }
    return w->advice.count;
}

/* Each piece costs dozens of runs, so it is asked for one start, and for the taps. */
static void advise(struct whole *w)
{
    size_t i = 0;
    while (i < w->plan.count && !(w->starts[i].judged && w->starts[i].worst == SAG_VERDICT_FAIL))
        i++;
    if (i < w->plan.count && w->plan.order == SAG_START_ALONE)
        must(sag_advise_start(&w->plan, w->job->supply, &w->starts[i], &w->advice) == SAG_OK, "advice ends", "advice");
    for (size_t k = 0; k < w->advice.count; k++)
        must(w->advice.items[k].verdict != SAG_VERDICT_FAIL, "what is advised passes", w->advice.items[k].kind);
    print(w, &sag_advice_view, put_advice);
    sag_advice_free(&w->advice);
    if (!w->job->supply)
        return;
    struct sag_tap_advice taps;
    struct words words;
    enum sag_status status = sag_advise_taps(w->job->plant, &w->job->grids[0], w->job->supply, &taps);
    must(status == SAG_OK || status == SAG_NO_SOLUTION, "taps are tried", "advice");
    if (status == SAG_OK) {
        must(taps.in_band_best >= taps.in_band_now, "the best taps are no worse than those of now", "advice");
        begin_words(&words);
        sag_print_tap_advice(words.stream, w->job->plant, &w->job->grids[0], &taps);
        end_words(&words, w->job->says_nan, "taps");
    }
    sag_tap_advice_free(&taps);
}

/* --- boards ------------------------------------------------------------------------------------------------------ */

static size_t put_boards(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    const struct sag_board_table table = {w->job->supply, w->job->reports, w->boards};
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_row_text text;
    size_t rows = 0;
    for (size_t i = 0; i < w->job->supply->count; i++)
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            if (w->boards[i].present[c]) {
                sag_supply_row(&table, i, (enum sag_case)c, &text, values);
                put_one(writer, sheet, values);
                rows++;
            }
    return rows;
}

static void judge_boards(struct whole *w)
{
    if (!w->job->supply)
        return;
    sag_judge_boards(w->job->plant, &w->job->grids[0], w->job->reports, w->boards);
    for (size_t i = 0; i < w->job->supply->count; i++)
        for (size_t k = 0; k < w->boards[i].finding_count; k++)
            must_be_finding(&w->boards[i].findings[k]);
    print(w, &sag_supply_view, put_boards);
    print_in_all_formats(&(struct print_job){&sag_fault_view, "Faults", put_boards, w, w->job->says_nan});
}

/* --- sheets ------------------------------------------------------------------------------------------------------ */

static size_t put_lines(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct whole *w = context;
    struct sag_value values[SAG_MOST_COLUMNS];
    for (size_t i = 0; i < w->lines.count; i++) {
        must_be_between(&w->lines.items[i].value, w->lines.items[i].words);
        sag_explain_row(&w->lines.items[i], values);
        put_one(writer, sheet, values);
    }
    return w->lines.count;
}

/* The first motor's, with its start by itself. */
static void explain_motor(struct whole *w)
{
    const struct whole_job *job = w->job;
    const size_t motor = 0;
    struct sag_run runs[SAG_CASE_COUNT] = {{0}};
    struct sag_start_result start;
    const struct sag_start_plan plan = {.plant = job->plant, .grids = job->grids, .motors = &motor, .count = 1};
    const struct sag_closing closing = {motor, 0};
    must_judge_starts(&plan, &start);
    struct sag_start_job run = {.tables = job->plant->tables,
                                .grid = &job->grids[SAG_CORNER_LIKELY],
                                .list = job->plant->list,
                                .closings = &closing,
                                .count = 1};
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        run.which = (enum sag_case)c;
        if (start.of[c].present && !start.of[c].collapses)
            must(sag_run_up(&run, &runs[c]) == SAG_OK, "what was judged runs again", "sheet");
    }
    const struct sag_sheet_job sheet = {.plant = job->plant,
                                        .supply = job->supply,
                                        .grid = &job->grids[SAG_CORNER_LIKELY],
                                        .reports = job->reports,
                                        .start = &start,
                                        .runs = runs,
                                        .size = &job->circuits->size,
                                        .branch = job->circuits->branches,
                                        .units = {.si = !job->options->us}};
    must(sag_explain_motor(&sheet, &job->results[motor], &w->lines) == SAG_OK, "memory", "sheet");
    print(w, &sag_explain_view, put_lines);
    struct words words;
    begin_words(&words);
    sag_print_lines(words.stream, &w->lines);
    end_words(&words, job->says_nan, "sheet");
    sag_lines_free(&w->lines);
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        sag_run_free(&runs[c]);
}

void run_whole(const struct whole_job *job)
{
    struct whole *w = calloc(1, sizeof *w);
    must(w != NULL, "memory", "whole");
    w->job = job;
    start_all(w);
    judge_boards(w);
    explain_motor(w);
    run_page(job, w->starts, w->boards);
    if (job->options->advice)
        advise(w);
    if (job->options->pictures)
        run_pictures(job);
    free(w);
}
