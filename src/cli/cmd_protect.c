/* protect: the schedule of conductors, overloads, devices and transformers; and whether they let each motor start. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "cli/progress.h"
#include "cli/session.h"

enum {
    BATCH = 32 /* motors between two looks at the clock */
};

struct protecting {
    struct sag_plant_size size;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_protect_job job;
    struct sag_branch_result *branches; /* one a motor of the session's order */
    struct sag_circuit_result *feeders, *transformers;
    bool *shown;   /* of each feeder of the size */
    size_t *first; /* of each feeder of the list: where its motors begin in the session's order, and the end */
    struct sag_protect_table table;
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
        status = sag_judge_branches(&p->job, s->order + done, count, p->branches + done);
        done += count;
        show_progress(s, since, done, s->order_count);
    }
    return status;
}

/* Amps without a kind are read as those of the kind that is sized. */
static void note_blank_kinds(struct session *s)
{
    for (size_t i = 0; i < s->order_count; i++) {
        const struct sag_plate *plate = &s->list.plates[s->order[i]];
        struct sag_shown shown;
        if (isnan(plate->given[SAG_DEVICE_AMPS]) || plate->choice[SAG_DEVICE] != SAG_DEVICE_BLANK)
            continue;
        enum sag_device kind = s->options->device ? s->options->device : SAG_DEVICE_INVERSE_TIME_BREAKER;
        sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){s->list.file, plate->line, 0},
                     "device: blank for %s although device_amps is given; taken as %s",
                     sag_shown(&shown, plate->tag, strlen(plate->tag)), sag_choice_word(SAG_DEVICE, kind));
    }
}

/* A curve has no tag in it. */
static void note_shared_curves(struct session *s)
{
    if ((s->device_curve.count || s->relay_curve.count) && s->order_count > 1)
        sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){0},
                     "a curve is taken for all %zu motors; --motor TAG names one", s->order_count);
}

/* All rows; with --feeder that one and what it is fed through; with --motor none but the motor's. */
static void choose_circuits(const struct session *s, struct protecting *p)
{
    const struct options *o = s->options;
    for (size_t i = 0; i < p->size.feeder_count; i++)
        p->shown[i] = !o->motor && !o->feeder;
    for (size_t i = 0; i < p->size.feeder_count && o->feeder && !o->motor; i++)
        p->shown[i] = strcmp(p->size.feeders[i].id, o->feeder) == 0;
    for (size_t i = p->size.feeder_count; i-- > 0 && s->has_supply;)
        if (p->shown[i] && s->supply.nodes[i].parent >= 0)
            p->shown[s->supply.nodes[i].parent] = true;
}

static void find_first(const struct session *s, struct protecting *p)
{
    for (size_t i = 0; i < s->order_count; i++)
        p->first[s->list.plates[s->order[i]].feeder + 1]++;
    for (size_t f = 0; f < s->list.feeder_count; f++)
        p->first[f + 1] += p->first[f];
}

static bool is_alone(const struct session *s)
{
    return !s->has_supply && s->list.count == 1;
}

static bool shows_feeder(const struct session *s, const struct protecting *p, size_t i)
{
    return p->shown[i] && p->size.feeders[i].sized && !is_alone(s);
}

static bool shows_transformer(const struct protecting *p, size_t i)
{
    return p->shown[i] && p->size.transformers && p->size.transformers[i].present;
}

static enum sag_status make_room(struct session *s, struct protecting *p)
{
    size_t feeders = p->size.feeder_count ? p->size.feeder_count : 1;
    p->branches = calloc(s->order_count, sizeof *p->branches);
    p->feeders = calloc(feeders, sizeof *p->feeders);
    p->shown = calloc(feeders, sizeof *p->shown);
    p->first = calloc(s->list.feeder_count + 1, sizeof *p->first);
    if (s->has_supply)
        p->transformers = calloc(feeders, sizeof *p->transformers);
    bool all = p->branches && p->feeders && p->shown && p->first && (p->transformers || !s->has_supply);
    return all ? SAG_OK : SAG_NO_MEMORY;
}

static enum sag_status compute(struct session *s, struct protecting *p)
{
    const struct sag_supply *supply = s->has_supply ? &s->supply : NULL;
    enum sag_status status = session_group_by_feeder(s);
    if (status == SAG_OK)
        status = session_size(s, &p->size);
    if (status == SAG_OK)
        status = make_room(s, p);
    if (status == SAG_OK)
        status = session_build_corners(s, p->grids);
    if (status != SAG_OK)
        return status;
    p->job.plant = &s->plant;
    p->job.supply = supply;
    p->job.size = &p->size;
    p->job.grids = p->grids;
    p->job.reports = s->reports;
    p->job.device_curve = s->device_curve;
    p->job.relay_curve = s->relay_curve;
    note_blank_kinds(s);
    note_shared_curves(s);
    choose_circuits(s, p);
    find_first(s, p);
    sag_judge_circuits(&p->job, p->feeders, p->transformers);
    return judge_branches(s, p);
}

/* Where nothing is installed and nothing starts there is nothing to judge, and nothing to count. */
static void count_circuits(struct session *s, const struct protecting *p)
{
    for (size_t i = 0; i < s->order_count; i++)
        s->counts[p->branches[i].verdict] += p->branches[i].judged;
    for (size_t i = 0; i < p->size.feeder_count; i++) {
        s->counts[p->feeders[i].verdict] += shows_feeder(s, p, i) && p->feeders[i].judged;
        if (shows_transformer(p, i))
            s->counts[p->transformers[i].verdict] += p->transformers[i].judged;
    }
}

/* --- what is written --------------------------------------------------------------------------------------------- */

static uint64_t all_clauses(const struct session *s, const struct protecting *p)
{
    uint64_t clauses = 0;
    for (size_t i = 0; i < s->order_count; i++)
        clauses |= p->size.motors[s->order[i]].clauses;
    for (size_t i = 0; i < p->size.feeder_count; i++) {
        clauses |= shows_feeder(s, p, i) ? p->size.feeders[i].clauses : 0;
        clauses |= shows_transformer(p, i) ? p->size.transformers[i].clauses : 0;
    }
    return clauses;
}

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
        sag_transformer_row(&p->table, i, (enum sag_winding)w, &text, values);
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
    for (size_t i = p->first[feeder]; i < p->first[feeder + 1] && status == SAG_OK; i++) {
        sag_branch_row(&p->table, &p->branches[i], &text, values);
        status = put_row(p, values);
    }
    return status;
}

static enum sag_status write_feeder(struct protecting *p, size_t i)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    sag_feeder_row(&p->table, i, &text, values);
    return put_row(p, values);
}

static bool has_motors(const struct protecting *p, size_t i)
{
    uint32_t feeder = p->size.feeders[i].feeder;
    return feeder != UINT32_MAX && p->first[feeder] < p->first[feeder + 1];
}

/* The motors of a board, then the feeder that carries them. */
static enum sag_status write_board(const struct session *s, struct protecting *p, size_t i)
{
    enum sag_status status = write_motors(p, p->size.feeders[i].feeder);
    return status == SAG_OK && shows_feeder(s, p, i) ? write_feeder(p, i) : status;
}

static void board_title(const struct session *s, const struct protecting *p, size_t i, char *out, size_t room)
{
    const struct sag_feeder_size *f = &p->size.feeders[i];
    const struct sag_board_report *r = s->reports ? &s->reports[i] : NULL;
    char volts[SAG_NUMBER_ROOM], amps[SAG_NUMBER_ROOM], wire[40];
    struct sag_shown shown;
    double nominal = s->has_supply ? s->supply.nodes[i].volts_nominal : s->boards[f->feeder].volts_nominal;
    double fault = r ? r->fault_amps + r->motor_fault_amps : NAN;
    size_t used = (size_t)snprintf(out, room, "%s %s, %s V nominal",
                                   f->on_set && f->service ? "Generator"
                                   : f->service            ? "Service"
                                                           : "Feeder",
                                   sag_shown(&shown, f->id, strlen(f->id)), sag_number_figures(volts, nominal, 5));
    if (isfinite(fault) && used < room)
        used +=
            (size_t)snprintf(out + used, room - used, ", bolted fault %s kA", sag_number_print(amps, fault / 1000, 2));
    if (r && !isnan(r->rating_amps) && used < room)
        used += (size_t)snprintf(out + used, room - used, ", gear rated %s kA",
                                 sag_number_figures(amps, r->rating_amps / 1000, 4));
    if (f->installed.size && used < room)
        snprintf(out + used, room - used, ", has %s for %s A", sag_wire_words(&f->installed, wire, sizeof wire),
                 sag_number_print(amps, f->installed.amps, 0));
}

static void transformer_title(const struct protecting *p, size_t i, char *out, size_t room)
{
    const struct sag_transformer_size *t = &p->size.transformers[i];
    char kva[SAG_NUMBER_ROOM], from[SAG_NUMBER_ROOM], to[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    const char *id = p->size.feeders[i].id;
    snprintf(out, room, "Transformer %s, %s kVA, %s to %s V", sag_shown(&shown, id, strlen(id)),
             sag_number_figures(kva, t->rated_va / 1000, 5), sag_number_figures(from, t->volts[SAG_PRIMARY], 5),
             sag_number_figures(to, t->volts[SAG_SECONDARY], 5));
}

static enum sag_status print_transformer(struct protecting *p, size_t i)
{
    char title[200];
    transformer_title(p, i, title, sizeof title);
    p->writer->begin(&p->sheet, title);
    return write_transformer(p, i);
}

static enum sag_status print_board(const struct session *s, struct protecting *p, size_t i)
{
    char title[300];
    board_title(s, p, i, title, sizeof title);
    p->writer->begin(&p->sheet, title);
    return write_board(s, p, i);
}

static enum sag_status print_schedule(const struct session *s, struct protecting *p)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < p->size.feeder_count && status == SAG_OK; i++) {
        if (shows_transformer(p, i))
            status = print_transformer(p, i);
        if (status == SAG_OK && (has_motors(p, i) || shows_feeder(s, p, i)))
            status = print_board(s, p, i);
    }
    return status;
}

/* All findings of what is shown, in the order of the schedule. */
static struct sag_finding *collect_findings(const struct session *s, const struct protecting *p, size_t *count)
{
    size_t most = s->order_count * SAG_MOST_BRANCH_FINDINGS + 2 * p->size.feeder_count * SAG_MOST_CIRCUIT_FINDINGS;
    struct sag_finding *all = calloc(most ? most : 1, sizeof *all);
    *count = 0;
    if (!all)
        return NULL;
    for (size_t i = 0; i < s->order_count; i++)
        for (size_t k = 0; k < p->branches[i].finding_count; k++)
            all[(*count)++] = p->branches[i].findings[k];
    for (size_t i = 0; i < p->size.feeder_count; i++) {
        for (size_t k = 0; k < p->feeders[i].finding_count && p->shown[i]; k++)
            all[(*count)++] = p->feeders[i].findings[k];
        for (size_t k = 0; shows_transformer(p, i) && k < p->transformers[i].finding_count; k++)
            all[(*count)++] = p->transformers[i].findings[k];
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
    sag_print_feet(stream, all_clauses(s, p));
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
    for (size_t i = 0; i < p->size.feeder_count && status == SAG_OK; i++) {
        status = shows_transformer(p, i) ? write_transformer(p, i) : SAG_OK;
        if (status == SAG_OK)
            status = write_board(s, p, i);
    }
    return status;
}

static enum sag_status write_all(struct session *s, struct protecting *p, FILE *stream)
{
    const struct options *o = s->options;
    p->table = (struct sag_protect_table){.list = &s->list,
                                          .supply = p->job.supply,
                                          .size = &p->size,
                                          .reports = s->reports,
                                          .feeders = p->feeders,
                                          .transformers = p->transformers};
    p->writer = sag_writer_find(o->format);
    p->sheet = (struct sag_sheet){
        .stream = stream, .view = o->findings ? &sag_finding_view : &sag_protect_view, .colour = wants_colour(stream)};
    if (o->findings)
        return write_findings(s, p);
    return strcmp(o->format, "text") == 0 ? print_text(s, p) : write_table(s, p);
}

static void release(struct protecting *p)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&p->grids[k]);
    sag_plant_size_free(&p->size);
    free(p->branches);
    free(p->feeders);
    free(p->transformers);
    free(p->shown);
    free(p->first);
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
    release(&p);
    return session_close(&s, status);
}
