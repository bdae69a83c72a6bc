/* explain: the calculation sheet of one motor, or of a feeder. */
#include <stdlib.h>
#include <string.h>

#include "cli/session.h"

struct explaining {
    struct sag_lines lines;
    struct sag_result *results; /* of the motor, or of the feeder's motors */
    size_t count;
    /* of a motor: its path with it running, and its start */
    struct sag_board_report *reports;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_run runs[SAG_CASE_COUNT];
    struct sag_start_result *start;
    /* protection: of all, of the motor, of the circuits */
    struct sag_plant_size size;
    struct sag_branch_result *branch;
    struct sag_circuit_result *feeders, *transformers;
};

static enum sag_status keep_result(struct session *s, const struct sag_result *r, void *context)
{
    struct explaining *e = context;
    session_count(s, r);
    e->results[e->count++] = *r;
    return SAG_OK;
}

/* Leave only the motors that `name` means: one tag, else all of a feeder. */
static enum sag_status choose(struct session *s, const char *name, bool *is_feeder)
{
    size_t kept = 0;
    *is_feeder = false;
    for (size_t i = 0; i < s->order_count; i++)
        if (strcmp(s->list.plates[s->order[i]].tag, name) == 0)
            s->order[kept++] = s->order[i];
    for (size_t i = 0; i < s->order_count && kept == 0; i++)
        *is_feeder = *is_feeder || strcmp(s->list.feeders[s->list.plates[s->order[i]].feeder].id, name) == 0;
    for (size_t i = 0; i < s->order_count && *is_feeder; i++)
        if (strcmp(s->list.feeders[s->list.plates[s->order[i]].feeder].id, name) == 0)
            s->order[kept++] = s->order[i];
    s->order_count = kept;
    struct sag_shown shown;
    bool is_board = !kept && s->has_supply && sag_find_node(&s->supply, name) >= 0;
    if (is_board)
        return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, 0, 0},
                            "no motor hangs on \"%s\" itself, so it has no sheet; sagband protect has its line",
                            sag_shown(&shown, name, strlen(name)));
    return kept ? SAG_OK
                : sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, 0, 0},
                               "no motor and no feeder is called \"%s\"", sag_shown(&shown, name, strlen(name)));
}

/* A spare or fire pump is off in the solution that all share: the path is solved once more with it on. */
static enum sag_status find_path(struct session *s, struct explaining *e, size_t motor)
{
    if (!s->has_supply)
        return SAG_OK;
    e->reports = calloc(s->supply.count, sizeof *e->reports);
    if (!e->reports)
        return SAG_NO_MEMORY;
    uint8_t duty = s->grid.motors[motor].duty;
    if (!sag_runs_normally(&s->grid.motors[motor]))
        s->grid.motors[motor].duty = SAG_DUTY_BLANK;
    struct sag_volts_job job = {.grid = &s->grid, .supply = &s->supply, .list = &s->list};
    memcpy(job.cases, s->options->cases, sizeof job.cases);
    enum sag_status status = sag_find_volts(&job, NULL, NULL, e->reports, &s->diags);
    s->grid.motors[motor].duty = duty;
    return status;
}

static enum sag_status find_start(struct session *s, struct explaining *e, size_t motor)
{
    struct sag_grid_job grid = {.tables = s->tables,
                                .supply = s->has_supply ? &s->supply : NULL,
                                .boards = s->boards,
                                .list = &s->list,
                                .store = &s->store};
    enum sag_status status = SAG_OK;
    for (int k = 0; k < SAG_CORNER_COUNT && status == SAG_OK; k++) {
        grid.corner = (enum sag_corner)k;
        status = sag_grid_build(&grid, &e->grids[k]);
    }
    const struct sag_start_plan plan = {
        .plant = &s->plant, .grids = e->grids, .order = SAG_START_ALONE, .motors = &motor, .count = 1};
    e->start = calloc(1, sizeof *e->start);
    if (!e->start)
        return SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = sag_judge_starts(&plan, e->start);
    const struct sag_closing closing = {motor, 0};
    struct sag_start_job job = {
        .tables = s->tables, .grid = &e->grids[SAG_CORNER_LIKELY], .list = &s->list, .closings = &closing, .count = 1};
    for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++) {
        job.which = (enum sag_case)c;
        if (e->start->of[c].present && !e->start->of[c].collapses)
            status = sag_run_up(&job, &e->runs[c]);
    }
    return status;
}

static struct sag_protect_job protect_job(const struct session *s, const struct explaining *e)
{
    return (struct sag_protect_job){.plant = &s->plant,
                                    .supply = s->has_supply ? &s->supply : NULL,
                                    .size = &e->size,
                                    .grids = e->grids,
                                    .reports = s->reports,
                                    .device_curve = s->device_curve,
                                    .relay_curve = s->relay_curve};
}

static enum sag_status find_branch(struct session *s, struct explaining *e, size_t motor)
{
    struct sag_protect_job job = protect_job(s, e);
    e->branch = calloc(1, sizeof *e->branch);
    return e->branch ? sag_judge_branches(&job, &motor, 1, e->branch) : SAG_NO_MEMORY;
}

static enum sag_status find_circuits(struct session *s, struct explaining *e)
{
    struct sag_protect_job job = protect_job(s, e);
    e->feeders = calloc(e->size.feeder_count, sizeof *e->feeders);
    e->transformers = s->has_supply ? calloc(e->size.feeder_count, sizeof *e->transformers) : NULL;
    if (!e->feeders || (s->has_supply && !e->transformers))
        return SAG_NO_MEMORY;
    enum sag_status status = session_build_corners(s, e->grids);
    if (status == SAG_OK)
        sag_judge_circuits(&job, e->feeders, e->transformers);
    return status;
}

/* The sheet shows all of a motor's verdicts, so the worst of them counts. */
static void count_worst(struct session *s, enum sag_verdict counted, enum sag_verdict verdict)
{
    if (verdict <= counted)
        return;
    s->counts[counted]--;
    s->counts[verdict]++;
}

/* A feeder's sheet tells of every circuit on its way; the worst of them counts with its first motor. */
static void count_way(struct session *s, const struct explaining *e)
{
    uint32_t feeder = e->results[0].motor.plate->feeder;
    enum sag_verdict worst = e->results[0].worst;
    int32_t row = s->has_supply ? s->list.feeders[feeder].node : (int32_t)feeder;
    for (; row >= 0; row = s->has_supply ? s->supply.nodes[row].parent : -1) {
        worst = e->feeders[row].verdict > worst ? e->feeders[row].verdict : worst;
        if (e->transformers && e->transformers[row].verdict > worst)
            worst = e->transformers[row].verdict;
    }
    count_worst(s, e->results[0].worst, worst);
}

static enum sag_status explain_motor(struct session *s, struct explaining *e, struct sag_sheet_job *job)
{
    size_t motor = e->results[0].index;
    enum sag_status status = find_path(s, e, motor);
    if (status == SAG_OK)
        status = find_start(s, e, motor);
    if (status == SAG_OK)
        status = find_branch(s, e, motor);
    if (status != SAG_OK)
        return status;
    enum sag_verdict worst = e->results[0].worst;
    count_worst(s, worst, e->start->worst);
    worst = e->start->worst > worst ? e->start->worst : worst;
    count_worst(s, worst, e->branch->verdict);
    job->grid = &e->grids[SAG_CORNER_LIKELY];
    job->reports = e->reports;
    job->start = e->start;
    job->runs = e->runs;
    job->branch = e->branch;
    return sag_explain_motor(job, &e->results[0], &e->lines);
}

static enum sag_status build(struct session *s, const char *name, struct explaining *e)
{
    bool is_feeder = false;
    struct sag_sheet_job job = {.plant = &s->plant,
                                .supply = s->has_supply ? &s->supply : NULL,
                                .grid = &s->grid,
                                .reports = s->reports,
                                .units = {.si = !s->options->us}};
    enum sag_status status = choose(s, name, &is_feeder);
    if (status != SAG_OK)
        return status;
    e->results = calloc(s->order_count, sizeof *e->results);
    status = e->results ? session_each(s, keep_result, e) : SAG_NO_MEMORY;
    if (status != SAG_OK)
        return status;
    status = session_size(s, &e->size);
    job.size = &e->size;
    if (status == SAG_OK && is_feeder)
        status = find_circuits(s, e);
    if (status != SAG_OK)
        return status;
    job.feeders = e->feeders;
    job.transformers = e->transformers;
    if (is_feeder)
        count_way(s, e);
    return is_feeder ? sag_explain_feeder(&job, e->results, e->count, &e->lines) : explain_motor(s, e, &job);
}

static void release(struct explaining *e)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&e->grids[k]);
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        sag_run_free(&e->runs[c]);
    sag_lines_free(&e->lines);
    sag_plant_size_free(&e->size);
    free(e->branch);
    free(e->feeders);
    free(e->transformers);
    free(e->start);
    free(e->reports);
    free(e->results);
}

static void print_text(const struct sag_lines *lines, const char *name, FILE *stream)
{
    struct sag_shown shown;
    fprintf(stream, "Calculation sheet: %s\n\n", sag_shown(&shown, name, strlen(name)));
    sag_print_lines(stream, lines);
    sag_print_cautions(stream);
}

static enum sag_status write_rows(struct session *s, const struct explaining *e, FILE *stream)
{
    const struct sag_writer *writer = sag_writer_find(s->options->format);
    struct sag_sheet sheet = {.stream = stream, .view = s->options->findings ? &sag_finding_view : &sag_explain_view};
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    writer->begin(&sheet, NULL);
    for (size_t i = 0; i < e->count && status == SAG_OK && s->options->findings; i++)
        status = session_finding_rows(s, &e->results[i], writer, &sheet);
    for (size_t i = 0; e->start && i < e->start->finding_count && status == SAG_OK && s->options->findings; i++) {
        sag_finding_row(&s->list, &e->start->findings[i], values);
        status = writer->row(&sheet, values);
    }
    for (size_t i = 0; i < e->lines.count && status == SAG_OK && !s->options->findings; i++) {
        sag_explain_row(&e->lines.items[i], values);
        status = writer->row(&sheet, values);
    }
    return status;
}

static enum sag_status write(struct session *s, const struct explaining *e, const char *name, FILE *stream)
{
    if (strcmp(s->options->format, "text") != 0 || s->options->findings)
        return write_rows(s, e, stream);
    print_text(&e->lines, name, stream);
    return SAG_OK;
}

enum exit_status cmd_explain(const struct options *options)
{
    struct session s;
    struct explaining e = {0};
    struct sag_out *out = NULL;
    /* with --plate the one motor needs no tag */
    const char *name = options->words[0] ? options->words[0] : options->plate ? "plate" : NULL;
    enum sag_status status = session_open(&s, options, options->plate ? NULL : options->words[1]);
    if (status == SAG_OK && !name) {
        sag_complain(&s.diags, SAG_ERROR, &(struct sag_place){0}, "explain: write the motor's tag before MOTORS.csv");
        status = SAG_BAD_USAGE;
    }
    if (status == SAG_OK && options->plate && !options->words[0])
        name = s.list.plates[0].tag;
    if (status == SAG_OK)
        status = build(&s, name, &e);
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK) {
        status = write(&s, &e, name, sag_out_stream(out));
        status = sag_out_close(out, status, &s.diags);
    }
    release(&e);
    return session_close(&s, status);
}
