#include "fuzz/circuits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "fuzz/printing.h"
#include "fuzz/promises.h"

static bool at_least(double value, double least)
{
    return value >= least - 1e-9 * fabs(least);
}

/* --- sizes ------------------------------------------------------------------------------------------------------- */

static void check_wire(const struct sag_wire *wire, const struct sag_qty *least, const char *where)
{
    must(!wire->size || at_least(wire->amps, least->value), "a wire carries what it must", where);
    must(!wire->size || (wire->sets >= 1 && isfinite(wire->amps)), "a wire has sets and amps", where);
}

static void check_device(const struct sag_device_size *d, bool rating)
{
    must_be_between(&d->computed, "device");
    must_be_between(&d->amps, "device");
    must_be_between(&d->most, "device");
    if (rating && sag_known(&d->amps))
        must(at_least(d->amps.value, d->computed.value), "a standard size is not below what was computed", "device");
    if (sag_known(&d->amps) && sag_known(&d->most))
        must(at_least(d->most.value, d->amps.value), "the exception never allows less", "device");
}

static void check_motor_size(const struct sag_motor_size *m)
{
    const struct sag_qty *known[] = {&m->code_amps, &m->plate_amps, &m->locked_amps,   &m->conductor_min,
                                     &m->leads_min, &m->overload,   &m->overload_most, &m->disconnect};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        must_be_between(known[i], "motor size");
    must(m->kind > SAG_DEVICE_BLANK && m->kind < SAG_DEVICE_KINDS, "a device has a kind", "motor size");
    must((m->sizing == SAG_SIZED_NOT) == !sag_known(&m->code_amps), "without amps, and only so, no sizes", "motor");
    must(m->clauses != 0 || m->sizing == SAG_SIZED_NOT, "a size rests on a clause", "motor size");
    for (int k = SAG_DEVICE_BLANK + 1; k < SAG_DEVICE_KINDS; k++)
        check_device(&m->device[k], k != SAG_DEVICE_INSTANTANEOUS_BREAKER);
    if (m->sizing != SAG_SIZED)
        return;
    must(at_least(m->conductor_min.value, m->code_amps.value), "a wire carries the motor", "motor size");
    must(at_least(m->disconnect.value, m->code_amps.value), "a disconnect carries the motor", "motor size");
    check_wire(&m->wire, &m->conductor_min, "motor size");
    const struct sag_device_size *d = &m->device[m->kind];
    if (sag_known(&d->amps) && m->kind != SAG_DEVICE_INSTANTANEOUS_BREAKER)
        must(at_least(d->amps.value, m->disconnect.value), "a device carries what it must", "motor size");
    if (sag_known(&m->overload))
        must(at_least(m->overload_most.value, m->overload.value), "the exception never allows less", "overload");
}

static void check_feeder_size(const struct sag_feeder_size *f)
{
    const struct sag_qty *known[] = {&f->conductor_min, &f->device_computed, &f->device, &f->device_most,
                                     &f->carry_min};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        must_be_between(known[i], f->id);
    must(f->kind != SAG_DEVICE_INSTANTANEOUS_BREAKER, "a feeder has no instantaneous-trip breaker", f->id);
    if (!f->sized)
        return;
    must(sag_known(&f->conductor_min) && f->conductor_min.value >= 0, "a sized feeder has amps", f->id);
    must(f->clauses != 0, "a size rests on a clause", f->id);
    check_wire(&f->wire, &f->conductor_min, f->id);
    if (sag_known(&f->device) && sag_known(&f->device_most))
        must(at_least(f->device_most.value, f->device.value), "larger wires never allow less", f->id);
    if (sag_known(&f->device) && sag_known(&f->carry_min))
        must(at_least(f->device.value, f->carry_min.value), "a device carries what it must", f->id);
}

static void check_transformer_size(const struct sag_transformer_size *t, const char *id)
{
    must(!t->sized || t->present, "what is not there has no size", id);
    for (int w = 0; w < SAG_WINDINGS; w++) {
        must_be_between(&t->rated_amps[w], id);
        must_be_between(&t->device[w], id);
        must_be_between(&t->most[w], id);
        must(!t->sized || t->rated_amps[w].value > 0, "a winding has amps", id);
        if (t->sized)
            check_wire(&t->wire[w], &t->conductor_min[w], id);
    }
}

static void size_all(const struct circuits_job *job, struct circuits *c)
{
    const struct sag_size_job size = {.tables = job->plant->tables,
                                      .supply = job->supply,
                                      .boards = job->plant->boards,
                                      .list = job->plant->list,
                                      .device = job->options->device,
                                      .insulation_c = job->options->insulation_c,
                                      .terminal_c = job->options->terminal_c};
    must(sag_size_plant(&size, &c->size) == SAG_OK, "every plant is sized", "sizes");
    must(c->size.motor_count == job->plant->list->count, "a size for each motor", "sizes");
    for (size_t i = 0; i < c->size.motor_count; i++)
        check_motor_size(&c->size.motors[i]);
    for (size_t i = 0; i < c->size.feeder_count; i++) {
        check_feeder_size(&c->size.feeders[i]);
        if (c->size.transformers)
            check_transformer_size(&c->size.transformers[i], c->size.feeders[i].id);
    }
}

/* --- verdicts ---------------------------------------------------------------------------------------------------- */

static void check_findings(const struct sag_finding *items, size_t count, enum sag_verdict verdict)
{
    bool fails = false;
    for (size_t i = 0; i < count; i++) {
        must_be_finding(&items[i]);
        must(items[i].verdict <= verdict, "the verdict is the worst", items[i].check->name);
        fails = fails || items[i].verdict == SAG_VERDICT_FAIL;
    }
    must((verdict == SAG_VERDICT_FAIL) == fails, "fail if and only if a finding fails", "circuit");
}

static void check_branch(const struct sag_branch_result *r)
{
    enum sag_let worst = SAG_LET_NONE;
    must(r->finding_count <= SAG_MOST_BRANCH_FINDINGS, "findings have room", "branch");
    check_findings(r->findings, r->finding_count, r->verdict);
    for (int part = 0; part < SAG_PASSAGE_PARTS; part++) {
        const struct sag_passage *p = &r->worst[part];
        must_be_between(&p->used, "let-start");
        must((p->let == SAG_LET_NONE) == !sag_known(&p->used), "a part that is there has a share", "let-start");
        worst = p->let > worst ? p->let : worst;
    }
    must(r->all == worst, "all is the worst of the parts", "let-start");
    for (int k = 0; k < SAG_CASE_COUNT; k++)
        must(!(r->let[k].computed && r->let[k].hangs), "a start that hangs is none", "let-start");
}

static void judge_branches(const struct circuits_job *job, const struct sag_protect_job *protect, struct circuits *c)
{
    size_t motors[CIRCUIT_STARTS], all = job->plant->list->count;
    c->branch_count = !job->starts ? 0 : all < CIRCUIT_STARTS ? all : CIRCUIT_STARTS;
    c->branches = calloc(CIRCUIT_STARTS, sizeof *c->branches);
    must(c->branches != NULL, "memory", "branches");
    for (size_t i = 0; i < c->branch_count; i++)
        motors[i] = i;
    must(sag_judge_branches(protect, motors, c->branch_count, c->branches) == SAG_OK, "every branch is judged",
         "branches");
    for (size_t i = 0; i < c->branch_count; i++)
        check_branch(&c->branches[i]);
}

static void judge_circuits(const struct sag_protect_job *protect, struct circuits *c)
{
    c->feeders = calloc(c->size.feeder_count + 1, sizeof *c->feeders);
    c->transformers = protect->supply ? calloc(c->size.feeder_count + 1, sizeof *c->transformers) : NULL;
    must(c->feeders && (c->transformers || !protect->supply), "memory", "circuits");
    sag_judge_circuits(protect, c->feeders, c->transformers);
    for (size_t i = 0; i < c->size.feeder_count; i++) {
        check_findings(c->feeders[i].findings, c->feeders[i].finding_count, c->feeders[i].verdict);
        if (c->transformers)
            check_findings(c->transformers[i].findings, c->transformers[i].finding_count, c->transformers[i].verdict);
    }
}

/* --- printing ---------------------------------------------------------------------------------------------------- */

static size_t value_at(const char *name)
{
    for (size_t i = 0; i < sag_protect_view.count; i++)
        if (sag_protect_view.columns[i].name && strcmp(sag_protect_view.columns[i].name, name) == 0)
            return i;
    must(false, "the schedule has the column", name);
    return 0;
}

/* A sized circuit has a device, or says that none is large enough; the same of its wire. */
static void must_say_sizes(const struct sag_value *values, bool sized, const char *where)
{
    const struct sag_value *device = &values[value_at("device_amps")];
    must(!sized || !isnan(device->number) || *device->text, "a sized circuit has a device or says none", where);
    must(!sized || *values[value_at("conductor")].text, "a sized circuit has a wire or says none", where);
}

struct schedule {
    const struct circuits *circuits;
    const struct sag_protect_table *table;
};

static size_t put_rows(const void *context, const struct sag_writer *writer, struct sag_sheet *sheet)
{
    const struct circuits *c = ((const struct schedule *)context)->circuits;
    const struct sag_protect_table *table = ((const struct schedule *)context)->table;
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_protect_text text;
    size_t rows = 0;
    for (size_t i = 0; i < c->branch_count; i++, rows++) {
        sag_branch_row(table, &c->branches[i], &text, values);
        must_say_sizes(values, c->size.motors[c->branches[i].index].sizing == SAG_SIZED, "motor");
        put_one(writer, sheet, values);
    }
    for (size_t i = 0; i < c->size.feeder_count; i++, rows++) {
        sag_feeder_row(table, i, &text, values);
        must_say_sizes(values, c->size.feeders[i].sized, "feeder");
        put_one(writer, sheet, values);
    }
    for (size_t i = 0; i < c->size.feeder_count && c->transformers; i++)
        for (int w = 0; w < SAG_WINDINGS && c->size.transformers[i].present; w++, rows++) {
            sag_transformer_row(table, i, (enum sag_winding)w, &text, values);
            put_one(writer, sheet, values);
        }
    return rows;
}

static uint64_t all_clauses(const struct circuits *c)
{
    uint64_t clauses = 0;
    for (size_t i = 0; i < c->size.motor_count; i++)
        clauses |= c->size.motors[i].clauses;
    for (size_t i = 0; i < c->size.feeder_count; i++)
        clauses |= c->size.feeders[i].clauses | (c->size.transformers ? c->size.transformers[i].clauses : 0);
    return clauses;
}

static void print_for_people(const struct circuits_job *job, const struct circuits *c, uint64_t clauses)
{
    struct words words;
    begin_words(&words);
    sag_print_feet(words.stream, clauses);
    for (size_t i = 0; i < c->branch_count; i++)
        sag_print_findings(words.stream, false, job->plant->list, c->branches[i].findings,
                           c->branches[i].finding_count);
    for (size_t i = 0; i < c->size.feeder_count; i++)
        sag_print_findings(words.stream, false, job->plant->list, c->feeders[i].findings, c->feeders[i].finding_count);
    end_words(&words, job->says_nan, "feet");
}

void run_circuits(const struct circuits_job *job, struct circuits *c)
{
    *c = (struct circuits){0};
    size_all(job, c);
    struct sag_protect_job protect = {
        .plant = job->plant, .supply = job->supply, .size = &c->size, .grids = job->grids, .reports = job->reports};
    if (job->options->for_device)
        protect.device_curve = job->curve;
    if (job->options->for_relay)
        protect.relay_curve = job->curve;
    judge_branches(job, &protect, c);
    judge_circuits(&protect, c);
    const struct sag_protect_table table = {.list = job->plant->list,
                                            .supply = job->supply,
                                            .size = &c->size,
                                            .reports = job->reports,
                                            .feeders = c->feeders,
                                            .transformers = c->transformers};
    const struct schedule schedule = {c, &table};
    const char *title = c->size.feeder_count ? c->size.feeders[0].id : "";
    print_in_all_formats(&(struct print_job){&sag_protect_view, title, put_rows, &schedule, job->says_nan});
    print_for_people(job, c, all_clauses(c));
}

void circuits_free(struct circuits *c)
{
    sag_plant_size_free(&c->size);
    free(c->branches);
    free(c->feeders);
    free(c->transformers);
    *c = (struct circuits){0};
}
