/* start: what happens when a motor, a sequence or everything starts. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "cli/progress.h"
#include "cli/session.h"
#include "write/escape.h"

enum {
    BATCH = 32 /* starts between two looks at the clock */
};

struct starting {
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_start_plan plan;
    struct sag_start_result *results;
    const struct sag_writer *writer;
    struct sag_sheet sheet;
};

/* A sequence and an outage are one run; motors by themselves go in batches, so that the bar moves. */
static enum sag_status run_all(struct session *s, struct starting *st)
{
    double since = seconds_now();
    enum sag_status status = SAG_OK;
    if (st->plan.order != SAG_START_ALONE)
        return sag_judge_starts(&st->plan, st->results);
    for (size_t done = 0; done < s->order_count && status == SAG_OK; done += st->plan.count) {
        size_t left = s->order_count - done;
        st->plan.motors = s->order + done;
        st->plan.count = left < BATCH ? left : BATCH;
        status = sag_judge_starts(&st->plan, st->results + done);
        show_progress(s, since, done + st->plan.count, s->order_count);
    }
    st->plan.motors = s->order;
    st->plan.count = s->order_count;
    return status;
}

static void count_results(struct session *s, const struct starting *st)
{
    for (size_t i = 0; i < st->plan.count; i++) {
        const struct sag_start_result *r = &st->results[i];
        if (r->judged)
            s->counts[r->worst]++;
    }
}

static enum sag_status write_rows(struct session *s, struct starting *st)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    uint32_t feeder = UINT32_MAX;
    for (size_t i = 0; i < st->plan.count && status == SAG_OK; i++) {
        const struct sag_start_result *r = &st->results[i];
        if (!r->judged)
            continue;
        if (!st->sheet.started || r->motor.plate->feeder != feeder) {
            struct sag_title title;
            feeder = r->motor.plate->feeder;
            st->writer->begin(&st->sheet, sag_start_title(&s->plant, feeder, &title));
        }
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++) {
            if (!r->of[c].present)
                continue;
            sag_start_row(&s->plant, r, (enum sag_case)c, &text, values);
            status = st->writer->row(&st->sheet, values);
        }
    }
    return status;
}

static enum sag_status write_findings(struct session *s, struct starting *st)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    st->writer->begin(&st->sheet, NULL);
    for (size_t i = 0; i < st->plan.count; i++)
        for (size_t k = 0; k < st->results[i].finding_count && status == SAG_OK; k++) {
            sag_finding_row(&s->list, &st->results[i].findings[k], values);
            status = st->writer->row(&st->sheet, values);
        }
    return status;
}

static enum sag_status write_trace(struct session *s, struct starting *st, const struct sag_start_job *job)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_run run = {0};
    enum sag_status status = sag_run_up(job, &run);
    for (size_t i = 0; i < run.trace_count && status == SAG_OK; i++) {
        sag_trace_values(&s->list, job->grid, &run.trace[i], values);
        status = st->writer->row(&st->sheet, values);
    }
    sag_run_free(&run);
    if (status == SAG_NO_SOLUTION)
        status = sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0},
                              "the network does not settle in the %s case; there is no trace of that start",
                              sag_case_word(job->which));
    return status;
}

/* Time series have no column for the case, so there is one of them: the first that was asked for. */
static enum sag_case trace_case(const struct session *s)
{
    const struct sag_board *b = &s->boards[s->list.plates[s->order[0]].feeder];
    int c = 0;
    while (c + 1 < SAG_CASE_COUNT && !(s->options->cases[c] && sag_known(&b->of[c].volts)))
        c++;
    return (enum sag_case)c;
}

static enum sag_status run_trace(struct session *s, struct starting *st)
{
    struct sag_start_job job = {.tables = s->tables,
                                .grid = &st->grids[SAG_CORNER_LIKELY],
                                .list = &s->list,
                                .which = trace_case(s),
                                .keep_trace = true};
    struct sag_closing *closings = calloc(s->order_count, sizeof *closings);
    enum sag_status status = closings ? SAG_OK : SAG_NO_MEMORY;
    st->writer->begin(&st->sheet, NULL);
    if (status == SAG_OK && st->plan.order != SAG_START_ALONE) {
        job.closings = closings;
        job.count = sag_plan_closings(&st->plan, closings);
        job.from_rest = sag_plan_from_rest(&st->plan);
        status = job.count ? write_trace(s, st, &job) : SAG_OK;
    }
    for (size_t i = 0; i < s->order_count && status == SAG_OK && st->plan.order == SAG_START_ALONE; i++) {
        const struct sag_closing closing = {s->order[i], 0};
        job.closings = &closing;
        job.count = 1;
        status = write_trace(s, st, &job);
    }
    free(closings);
    return status;
}

static bool fails(const struct sag_start_result *r)
{
    return r->judged && r->worst == SAG_VERDICT_FAIL;
}

/* Each piece of advice costs dozens of runs, so text stops at some; --advice does them all. */
static enum sag_status find_advice(struct session *s, struct starting *st, size_t most, struct sag_advice_list *list)
{
    enum sag_status status = SAG_OK;
    const struct sag_supply *supply = s->has_supply ? &s->supply : NULL;
    double since = seconds_now();
    size_t done = 0, all = 0;
    for (size_t i = 0; i < st->plan.count; i++)
        all += fails(&st->results[i]);
    all = all < most ? all : most;
    for (size_t i = 0; i < st->plan.count && done < all && status == SAG_OK; i++)
        if (fails(&st->results[i])) {
            status = sag_advise_start(&st->plan, supply, &st->results[i], list);
            show_progress(s, since, ++done, all);
        }
    return status;
}

static enum sag_status write_advice(struct session *s, struct starting *st, const struct sag_advice_list *list)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < list->count && status == SAG_OK; i++) {
        sag_advice_row(&s->plant, &list->items[i], values);
        status = st->writer->row(&st->sheet, values);
    }
    return status;
}

static bool has_advice(const struct sag_advice_list *list, size_t motor)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].motor == motor)
            return true;
    return false;
}

static bool is_computed(const struct sag_start_result *r)
{
    bool computed = false;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        computed = computed || r->of[c].likely.computed || r->of[c].collapses;
    return computed;
}

static size_t reaching_speed(const struct sag_start_result *results, size_t count, size_t *judged)
{
    size_t reached = 0;
    *judged = 0;
    for (size_t i = 0; i < count; i++) {
        bool up = results[i].judged && is_computed(&results[i]);
        *judged += up;
        for (int c = 0; c < SAG_CASE_COUNT && up; c++)
            up = !results[i].of[c].present || results[i].of[c].likely.runs_up;
        reached += up;
    }
    return reached;
}

static size_t without_fail(const struct sag_start_result *results, size_t count)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++)
        n += results[i].judged && results[i].worst != SAG_VERDICT_FAIL;
    return n;
}

/* For all at once there is one thing to try: the order of the list. */
static enum sag_status print_sequence_advice(struct session *s, struct starting *st, FILE *stream)
{
    struct sag_start_plan plan = st->plan;
    struct sag_start_result *results = calloc(s->order_count, sizeof *results);
    size_t all = 0, ordered = 0, up = reaching_speed(st->results, s->order_count, &all);
    enum sag_status status = results ? SAG_OK : SAG_NO_MEMORY;
    plan.order = SAG_START_SEQUENCE;
    if (status == SAG_OK)
        status = sag_judge_starts(&plan, results);
    if (status == SAG_OK) {
        size_t then = reaching_speed(results, s->order_count, &ordered);
        fprintf(stream, "\nAll at once, %zu of %zu motors reach speed in every case.", up, all);
        if (ordered)
            fprintf(
                stream,
                "\nIn the order of the list (--sequence) %zu of the %zu that have an order do, %zu of them without\n"
                "a fail; all others are taken as running again by then.\n",
                then, ordered, without_fail(results, s->order_count));
        else
            fputs(" The list has no start_order; give one and try --sequence.\n", stream);
    }
    free(results);
    return status;
}

static enum sag_status print_advice(struct session *s, struct starting *st, FILE *stream)
{
    /* a changed sequence takes as long as all of its starts */
    const size_t most = st->plan.order == SAG_START_SEQUENCE ? 4 : 10;
    if (st->plan.order == SAG_START_TOGETHER)
        return print_sequence_advice(s, st, stream);
    struct sag_advice_list list = {0};
    enum sag_status status = find_advice(s, st, most, &list);
    struct sag_sheet sheet = st->sheet;
    st->sheet = (struct sag_sheet){.stream = stream, .view = &sag_advice_view, .colour = sheet.colour};
    if (status == SAG_OK && list.count) {
        fputc('\n', stream);
        st->writer->begin(&st->sheet, "What makes failing starts pass (each line was run, in order of cost)");
        status = write_advice(s, st, &list);
        fputs("Whether breakers and fuses let it through, ratings of gear, and the utility's consent are not part of "
              "it.\n",
              stream);
    }
    size_t looked = 0;
    for (size_t i = 0; i < st->plan.count && status == SAG_OK; i++) {
        const struct sag_start_result *r = &st->results[i];
        if (!fails(r) || ++looked > most)
            continue;
        struct sag_shown shown;
        sag_shown(&shown, r->motor.plate->tag, strlen(r->motor.plate->tag));
        if (sag_is_curable(r) && !has_advice(&list, r->index))
            fprintf(stream, "%s: no single change that was tried makes it pass\n", shown.text);
        if (sag_has_heavy_load(r))
            fprintf(stream, "%s: its load inertia is a matter for the motor's maker\n", shown.text);
    }
    if (looked > most)
        fprintf(stream, "%zu more failing start%s not looked into; see --motor TAG or --advice\n", looked - most,
                looked - most == 1 ? " was" : "s were");
    sag_advice_free(&list);
    st->sheet = sheet;
    return status;
}

static enum sag_status run_advice(struct session *s, struct starting *st)
{
    struct sag_advice_list list = {0};
    enum sag_status status = find_advice(s, st, SIZE_MAX, &list);
    st->writer->begin(&st->sheet, NULL);
    if (status == SAG_OK)
        status = write_advice(s, st, &list);
    sag_advice_free(&list);
    return status;
}

/* What the code asks of a fire pump is told whether it is met or not. */
static void print_fire_pump(const struct session *s, const struct sag_start_result *r, FILE *stream)
{
    char start[SAG_NUMBER_ROOM], run[SAG_NUMBER_ROOM], least[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    const char *tag = r->motor.plate->tag;
    double nominal = s->boards[r->motor.plate->feeder].volts_nominal;
    sag_number_figures(least, 100 * SAG_FIRE_PUMP_START, 3);
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present && r->of[c].likely.computed)
            fprintf(stream,
                    "  %-12s %-8s controller %s %% of board volts while it starts (least %s), motor %s %% of plate\n",
                    sag_shown(&shown, tag, strlen(tag)), sag_case_word((enum sag_case)c),
                    sag_number_print(start, 100 * r->of[c].board_lowest.value / nominal, 1), least,
                    sag_number_print(run, 100 * r->of[c].run_share, 1));
}

static void print_fire_pumps(const struct session *s, const struct starting *st, FILE *stream)
{
    char amps[SAG_NUMBER_ROOM], least[SAG_NUMBER_ROOM];
    bool any = false;
    for (size_t i = 0; i < st->plan.count; i++) {
        const struct sag_start_result *r = &st->results[i];
        if (!r->judged || r->motor.plate->choice[SAG_DUTY] != SAG_DUTY_FIRE_PUMP)
            continue;
        if (!any)
            fprintf(stream, "\nFire pumps, NFPA 70-2023 695.7; motor: running at %s %% of full-load amps (least %s)\n",
                    sag_number_figures(amps, 100 * SAG_FIRE_PUMP_RUN_AMPS, 3),
                    sag_number_figures(least, 100 * SAG_FIRE_PUMP_RUN, 3));
        any = true;
        print_fire_pump(s, r, stream);
    }
}

static const char *order_words(const struct starting *st)
{
    static const char *const words[] = {
        [SAG_START_ALONE] = "Each motor starts by itself while the others run",
        [SAG_START_SEQUENCE] = "Motors start in their order; those without an order run before",
        [SAG_START_TOGETHER] = "All motors start at once from rest, as when power comes back",
    };
    bool some = st->plan.order == SAG_START_TOGETHER && !sag_plan_from_rest(&st->plan);
    return some ? "The motors chosen start at once while the others run" : words[st->plan.order];
}

static void print_basis(const struct session *s, const struct starting *st, FILE *stream)
{
    if (s->has_supply)
        print_supply_basis(s, stream);
    else
        fputs("Supply: volts as typed, held whatever starts; only branch cables drop\n", stream);
    if (!s->has_supply)
        print_measured_basis(s, stream);
    fprintf(stream,
            "%s. Spares and fire pumps run only for\n"
            "their own row. Case low: every motor at full load, the starting one too; high: nothing runs but\n"
            "what is started here; the others: each at its own load. lowest: volts between the motor's own\n"
            "terminals, behind its starter. heat: share of the permitted locked-rotor time that is used up.\n\n",
            order_words(st));
}

static enum sag_status print_text(struct session *s, struct starting *st, FILE *stream)
{
    size_t count = 0;
    for (size_t i = 0; i < st->plan.count; i++)
        count += st->results[i].finding_count;
    struct sag_finding *findings = calloc(count ? count : 1, sizeof *findings);
    if (!findings)
        return SAG_NO_MEMORY;
    count = 0;
    for (size_t i = 0; i < st->plan.count; i++) {
        memcpy(findings + count, st->results[i].findings, st->results[i].finding_count * sizeof *findings);
        count += st->results[i].finding_count;
    }
    print_basis(s, st, stream);
    fputs("Findings\n", stream);
    enum sag_status status = sag_print_findings(stream, st->sheet.colour, &s->list, findings, count);
    free(findings);
    fputc('\n', stream);
    if (status == SAG_OK)
        status = write_rows(s, st);
    if (status == SAG_OK) {
        print_fire_pumps(s, st, stream);
        status = print_advice(s, st, stream);
    }
    if (status == SAG_OK)
        sag_print_cautions(stream);
    return status;
}

static enum sag_status write_all(struct session *s, struct starting *st, FILE *stream)
{
    const struct options *o = s->options;
    bool text = strcmp(o->format, "text") == 0;
    st->writer = sag_writer_find(text && o->trace ? "csv" : o->format);
    st->sheet = (struct sag_sheet){.stream = stream,
                                   .view = o->trace      ? &sag_trace_view
                                           : o->advice   ? &sag_advice_view
                                           : o->findings ? &sag_finding_view
                                                         : &sag_start_view,
                                   .colour = wants_colour(stream)};
    if (o->trace)
        return run_trace(s, st);
    if (o->advice)
        return run_advice(s, st);
    if (o->findings)
        return write_findings(s, st);
    return text ? print_text(s, st, stream) : write_rows(s, st);
}

/* A sequence that starts nothing answers nothing. */
static enum sag_status check_sequence(struct session *s, const struct starting *st)
{
    for (size_t i = 0; i < s->order_count; i++)
        if (st->plan.order != SAG_START_SEQUENCE || !isnan(s->list.plates[s->order[i]].given[SAG_START_ORDER]))
            return SAG_OK;
    return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, 0, 0},
                        "start_order: none of the motors chosen has one; --sequence needs it");
}

static enum sag_status prepare(struct session *s, struct starting *st)
{
    st->plan = (struct sag_start_plan){.plant = &s->plant,
                                       .grids = st->grids,
                                       .order = s->options->sequence   ? SAG_START_SEQUENCE
                                                : s->options->together ? SAG_START_TOGETHER
                                                                       : SAG_START_ALONE,
                                       .motors = s->order,
                                       .count = s->order_count};
    enum sag_status status = session_group_by_feeder(s);
    st->plan.motors = s->order;
    st->results = calloc(s->order_count, sizeof *st->results);
    if (status == SAG_OK && !st->results)
        status = SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = check_sequence(s, st);
    if (status == SAG_OK)
        status = session_build_corners(s, st->grids);
    if (status == SAG_OK)
        status = run_all(s, st);
    return status;
}

enum exit_status cmd_start(const struct options *options)
{
    struct session s;
    struct starting st = {0};
    struct sag_out *out = NULL;
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = prepare(&s, &st);
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK) {
        count_results(&s, &st);
        status = sag_out_close(out, write_all(&s, &st, sag_out_stream(out)), &s.diags);
    }
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&st.grids[k]);
    free(st.results);
    return session_close(&s, status);
}
