/* protect: the schedule of conductors, overloads, devices and transformers; and whether they let each motor start. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "cli/progress.h"
#include "cli/schedule.h"

enum {
    BATCH = 32 /* motors between two looks at the clock */
};

struct protecting {
    struct schedule plan;
    struct sag_branch_result *branches; /* one a motor of the session's order */
    const struct sag_writer *writer;
    struct sag_sheet sheet;
};

/* --- what is computed -------------------------------------------------------------------------------------------- */

static enum sag_status judge_branches(struct session *s, struct protecting *p)
{
    double since = seconds_now();
    enum sag_status status = SAG_OK;
    for (size_t done = 0; done < s->order_count && status == SAG_OK;) {
        size_t left = s->order_count - done, count = left < BATCH ? left : BATCH;
        status = sag_judge_branches(&p->plan.job, s->order + done, count, p->branches + done);
        done += count;
        show_progress(s, since, done, s->order_count);
    }
    return status;
}

static enum sag_status compute(struct session *s, struct protecting *p)
{
    enum sag_status status = schedule_open(s, &p->plan);
    p->branches = status == SAG_OK ? calloc(s->order_count, sizeof *p->branches) : NULL;
    if (status == SAG_OK && !p->branches)
        status = SAG_NO_MEMORY;
    return status == SAG_OK ? judge_branches(s, p) : status;
}

/* Where nothing is installed and nothing starts there is nothing to judge, and nothing to count. */
static void count_circuits(struct session *s, const struct protecting *p)
{
    for (size_t i = 0; i < s->order_count; i++)
        s->counts[p->branches[i].verdict] += p->branches[i].judged;
    for (size_t i = 0; i < p->plan.size.feeder_count; i++) {
        s->counts[p->plan.feeders[i].verdict] += schedule_shows_feeder(s, &p->plan, i) && p->plan.feeders[i].judged;
        if (schedule_shows_transformer(&p->plan, i))
            s->counts[p->plan.transformers[i].verdict] += p->plan.transformers[i].judged;
    }
}

/* --- what is written --------------------------------------------------------------------------------------------- */

static enum sag_status put_row(struct protecting *p, const struct sag_value *values)
{
    enum sag_status status = p->writer->row(&p->sheet, values);
    return status == SAG_OK && ferror(p->sheet.stream) ? SAG_IO : status;
}

static enum sag_status write_transformer(struct protecting *p, size_t i)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (int w = 0; w < SAG_WINDINGS && status == SAG_OK; w++) {
        sag_transformer_row(&p->plan.table, i, (enum sag_winding)w, &text, values);
        status = put_row(p, values);
    }
    return status;
}

/* The motors that hang on the board itself: `order` is sorted by feeder, so they stand together. */
static enum sag_status write_motors(struct protecting *p, uint32_t feeder)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    if (feeder == UINT32_MAX)
        return SAG_OK;
    for (size_t i = p->plan.first[feeder]; i < p->plan.first[feeder + 1] && status == SAG_OK; i++) {
        sag_branch_row(&p->plan.table, &p->branches[i], &text, values);
        status = put_row(p, values);
    }
    return status;
}

static enum sag_status write_feeder(struct protecting *p, size_t i)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    sag_feeder_row(&p->plan.table, i, &text, values);
    return put_row(p, values);
}

/* The motors of a board, then the feeder that carries them. */
static enum sag_status write_board(const struct session *s, struct protecting *p, size_t i)
{
    enum sag_status status = write_motors(p, p->plan.size.feeders[i].feeder);
    return status == SAG_OK && schedule_shows_feeder(s, &p->plan, i) ? write_feeder(p, i) : status;
}

static enum sag_status print_transformer(struct protecting *p, size_t i)
{
    struct sag_title title;
    p->writer->begin(&p->sheet, sag_transformer_title(&p->plan.table, i, &title));
    return write_transformer(p, i);
}

static enum sag_status print_board(const struct session *s, struct protecting *p, size_t i)
{
    struct sag_title title;
    p->writer->begin(&p->sheet, sag_circuit_title(&p->plan.table, i, &title));
    return write_board(s, p, i);
}

static enum sag_status print_schedule(const struct session *s, struct protecting *p)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < p->plan.size.feeder_count && status == SAG_OK; i++) {
        if (schedule_shows_transformer(&p->plan, i))
            status = print_transformer(p, i);
        if (status == SAG_OK && (schedule_has_motors(&p->plan, i) || schedule_shows_feeder(s, &p->plan, i)))
            status = print_board(s, p, i);
    }
    return status;
}

/* All findings of what is shown, in the order of the schedule. */
static struct sag_finding *collect_findings(const struct session *s, const struct protecting *p, size_t *count)
{
    size_t most = s->order_count * SAG_MOST_BRANCH_FINDINGS + 2 * p->plan.size.feeder_count * SAG_MOST_CIRCUIT_FINDINGS;
    struct sag_finding *all = calloc(most ? most : 1, sizeof *all);
    *count = 0;
    if (!all)
        return NULL;
    for (size_t i = 0; i < s->order_count; i++)
        for (size_t k = 0; k < p->branches[i].finding_count; k++)
            all[(*count)++] = p->branches[i].findings[k];
    for (size_t i = 0; i < p->plan.size.feeder_count; i++) {
        for (size_t k = 0; k < p->plan.feeders[i].finding_count && p->plan.shown[i]; k++)
            all[(*count)++] = p->plan.feeders[i].findings[k];
        for (size_t k = 0; schedule_shows_transformer(&p->plan, i) && k < p->plan.transformers[i].finding_count; k++)
            all[(*count)++] = p->plan.transformers[i].findings[k];
    }
    return all;
}

static void print_basis(const struct session *s, FILE *stream)
{
    const struct options *o = s->options;
    const char *terminals = o->terminal_c == 75 ? "listed for 75 C"
                            : o->terminal_c == 60
                                ? "for 60 C"
                                : "for 60 C to 100 A, but 75 C above 1 AWG and at motors marked design B, C or D";
    enum sag_device device = o->device ? o->device : SAG_DEVICE_INVERSE_TIME_BREAKER;
    if (s->has_supply)
        print_supply_basis(s, stream);
    else
        fputs("Supply: volts as typed, held whatever starts\n", stream);
    if (!s->has_supply)
        print_measured_basis(s, stream);
    fprintf(
        stream,
        "Sizes by " SAG_CODE_EDITION ", continuous duty, each line as if nothing were there yet; installed: what the\n"
        "list says is there. Device: the kind that is there, else %s.\n"
        "Wires: copper, %d C insulation, 30 C around them, three in a raceway, unless the list says otherwise;\n"
        "terminals %s.\nOther load counts as continuous.\n"
        "passes: yes by what product standards fix or the maker's curve; likely by usual curves; maker: only\n"
        "the maker's curve tells (--device-curve, --relay-curve); unsure: the start itself is not known well\n"
        "enough; no: it opens; hangs: it does not get up to speed. The start itself is judged by sagband start.\n\n",
        sag_choice_word(SAG_DEVICE, device), o->insulation_c ? o->insulation_c : 75, terminals);
}

static bool has_fire_pump(const struct session *s)
{
    for (size_t i = 0; i < s->order_count; i++)
        if (s->list.plates[s->order[i]].choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP)
            return true;
    return false;
}

/* What the code asks of a fire pump's volts is told whether it is met or not. */
static void print_fire_pumps(const struct session *s, const struct protecting *p, FILE *stream)
{
    char start[SAG_NUMBER_ROOM], run[SAG_NUMBER_ROOM], amps[SAG_NUMBER_ROOM];
    bool any = false;
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_branch_result *r = &p->branches[i];
        struct sag_shown shown;
        if (isnan(r->start_volts_share))
            continue;
        if (!any)
            fprintf(stream,
                    "Fire pumps, 695.7, the worst of the cases; start: at the controller, least %s %% of board volts;\n"
                    "run: at the motor with %s %% of full-load amps, least %s %% of plate volts\n",
                    sag_number_figures(start, 100 * SAG_FIRE_PUMP_START, 3),
                    sag_number_figures(amps, 100 * SAG_FIRE_PUMP_RUN_AMPS, 3),
                    sag_number_figures(run, 100 * SAG_FIRE_PUMP_RUN, 3));
        any = true;
        fprintf(stream, "%-12s start %s %%, run %s %%\n",
                sag_shown(&shown, r->motor.plate->tag, strlen(r->motor.plate->tag)),
                sag_number_print(start, 100 * r->start_volts_share, 1),
                sag_number_print(run, 100 * r->run_volts_share, 1));
    }
    if (any)
        fputc('\n', stream);
    else if (!s->has_supply && has_fire_pump(s))
        fputs("Fire pumps, 695.7: not judged without a supply file\n\n", stream);
}

/* A start that hangs in one case has no word of its own where another case has one. */
static void print_hanging(const struct session *s, const struct protecting *p, FILE *stream)
{
    bool any = false;
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_branch_result *r = &p->branches[i];
        struct sag_shown shown;
        if (!r->hangs)
            continue;
        fprintf(stream, "%s %s", any ? "" : "Not up to speed in one case or more, see sagband start:",
                sag_shown(&shown, r->motor.plate->tag, strlen(r->motor.plate->tag)));
        any = true;
    }
    if (any)
        fputs("\n\n", stream);
}

static enum sag_status print_text(const struct session *s, struct protecting *p)
{
    FILE *stream = p->sheet.stream;
    size_t count = 0;
    struct sag_finding *findings = collect_findings(s, p, &count);
    if (!findings)
        return SAG_NO_MEMORY;
    print_basis(s, stream);
    fputs("Findings\n", stream);
    enum sag_status status = sag_print_findings(stream, p->sheet.colour, &s->list, findings, count);
    free(findings);
    fputc('\n', stream);
    if (status == SAG_OK)
        status = print_schedule(s, p);
    if (status != SAG_OK)
        return status;
    fputc('\n', stream);
    print_hanging(s, p, stream);
    print_fire_pumps(s, p, stream);
    sag_print_feet(stream, schedule_clauses(s, &p->plan));
    sag_print_cautions(stream);
    return status;
}

static enum sag_status write_findings(const struct session *s, struct protecting *p)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    size_t count = 0;
    struct sag_finding *findings = collect_findings(s, p, &count);
    enum sag_status status = findings ? SAG_OK : SAG_NO_MEMORY;
    p->writer->begin(&p->sheet, NULL);
    for (size_t i = 0; i < count && status == SAG_OK; i++) {
        sag_finding_row(&s->list, &findings[i], values);
        status = put_row(p, values);
    }
    free(findings);
    return status;
}

/* For machines there is one head. */
static enum sag_status write_table(const struct session *s, struct protecting *p)
{
    enum sag_status status = SAG_OK;
    p->writer->begin(&p->sheet, NULL);
    for (size_t i = 0; i < p->plan.size.feeder_count && status == SAG_OK; i++) {
        status = schedule_shows_transformer(&p->plan, i) ? write_transformer(p, i) : SAG_OK;
        if (status == SAG_OK)
            status = write_board(s, p, i);
    }
    return status;
}

static enum sag_status write_all(struct session *s, struct protecting *p, FILE *stream)
{
    const struct options *o = s->options;
    p->writer = sag_writer_find(o->format);
    p->sheet = (struct sag_sheet){
        .stream = stream, .view = o->findings ? &sag_finding_view : &sag_protect_view, .colour = wants_colour(stream)};
    if (o->findings)
        return write_findings(s, p);
    return strcmp(o->format, "text") == 0 ? print_text(s, p) : write_table(s, p);
}

enum exit_status cmd_protect(const struct options *options)
{
    struct session s;
    struct protecting p = {0};
    struct sag_out *out = NULL;
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = compute(&s, &p);
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK) {
        count_circuits(&s, &p);
        status = sag_out_close(out, write_all(&s, &p, sag_out_stream(out)), &s.diags);
    }
    schedule_free(&p.plan);
    free(p.branches);
    return session_close(&s, status);
}
