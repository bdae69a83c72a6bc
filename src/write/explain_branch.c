/* The protection of a motor's branch circuit on its sheet: amps, wire, overload, every kind of device, let-start. */
#include <math.h>

#include "write/explain_sizes.h"

static const struct sag_motor_size *size_of(const struct sizing *s)
{
    return &s->job->size->motors[s->job->branch->index];
}

static void add_amps(const struct sizing *s)
{
    const struct sag_motor_size *m = size_of(s);
    bool slow_or_not_listed = m->clauses >> SAG_CLAUSE_PLATE_AMPS & 1;
    add_size(s,
             (struct sag_line){.symbol = "I_code",
                               .words = "amps that sizes go by",
                               .value = m->code_amps,
                               .unit = "A",
                               .note = slow_or_not_listed ? "below 1200 rev/min, or in no column of the tables" : ""});
    add_size(s,
             (struct sag_line){
                 .symbol = "I_plate", .words = "amps that the overload goes by", .value = m->plate_amps, .unit = "A"});
}

static void add_leads(const struct sizing *s)
{
    const struct sag_motor_size *m = size_of(s);
    add_size(s, (struct sag_line){.symbol = "I_lead",
                                  .words = "each wire from starter to motor, at least",
                                  .value = m->leads_min,
                                  .unit = "A"});
}

static void add_grounds(const struct sizing *s)
{
    const struct sag_motor_size *m = size_of(s);
    const char *larger = sag_larger_ground(s->job->plant->tables, m->ground, &m->wire, &m->installed);
    if (!m->ground)
        return;
    add_words(s, sheet_text(s->lines, "equipment ground: %s", m->ground), SAG_CODE_EDITION " 250.122",
              m->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER ? "by the dual-element fuse that 430.52 allows" : "");
    if (larger)
        add_words(s, sheet_text(s->lines, "equipment ground with the installed wire: %s", larger),
                  SAG_CODE_EDITION " 250.122(B)",
                  "the wire is larger than need be, so its ground is in the same ratio");
}

static const char *class_words(struct sag_lines *lines, const struct sag_relay *relay)
{
    return sheet_text(lines, "%s to %s s at %s times its setting, from cold%s", sheet_number(lines, relay->least, 3),
                      sheet_number(lines, relay->most, 3), sheet_number(lines, relay->multiple, 3),
                      relay->class_assumed ? "; class not given" : "");
}

static void add_overload(struct sizing *s)
{
    const struct sag_motor_size *m = size_of(s);
    const struct sag_relay *relay = &s->job->branch->relay;
    const struct symbol extra[] = {{"k_o", 100 * m->overload_share, 4},
                                   {"k_om", 100 * m->overload_most_share, 4},
                                   {"I_plate", m->plate_amps.value, 5}};
    s->section = "Overload by the code";
    s->symbols = (struct symbols){NULL, extra, sizeof extra / sizeof *extra};
    if (!sag_known(&m->overload)) {
        add_words(s, "none: a fire pump has short-circuit protection only", SAG_CODE_EDITION " 695.6(C)", "");
        return;
    }
    add_size(s,
             (struct sag_line){.symbol = "I_o", .words = "trips at no more than", .value = m->overload, .unit = "A"});
    add_size(s, (struct sag_line){.symbol = "I_om",
                                  .words = "only where that will not start or carry it",
                                  .value = m->overload_most,
                                  .unit = "A"});
    if (m->clauses >> SAG_CLAUSE_WYE_DELTA & 1)
        add_words(s, "a relay in the windings' own wires is set at 1/sqrt3 of these", "phase amps of a delta", "");
    add_size(
        s, (struct sag_line){.words = "relay taken for the let-start check",
                             .value = sag_exact(relay->trip_amps, SAG_COMPUTED),
                             .unit = "A",
                             .note = relay->curve.count ? "by the maker's curve given" : class_words(s->lines, relay)});
}

static void add_kind(struct sizing *s, enum sag_device kind)
{
    const struct sag_motor_size *m = size_of(s);
    const struct sag_device_size *d = &m->device[kind];
    const struct symbol extra[] = {
        {"k_d", 100 * d->share, 4}, {"k_dm", 100 * d->most_share, 4}, {"I_code", m->code_amps.value, 5}};
    bool setting = kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    struct sag_qty most = d->most_computed;
    s->section = sheet_text(s->lines, "Device by the code: %s%s", sag_choice_word(SAG_DEVICE, kind),
                            kind == m->kind ? " (in the schedule)" : "");
    s->symbols = (struct symbols){NULL, extra, sizeof extra / sizeof *extra};
    if (!sag_known(&d->computed))
        return;
    add_size(s, (struct sag_line){.symbol = d->computed.rule->symbol,
                                  .words = setting ? "setting" : "computed",
                                  .value = d->computed,
                                  .unit = "A",
                                  .note = setting ? "only in a listed combination controller" : ""});
    if (!setting)
        add_size(s, (struct sag_line){.words = "standard size, the next one up",
                                      .formula = "",
                                      .value = d->amps,
                                      .unit = "A",
                                      .source = SAG_CODE_EDITION " 240.6(A)"});
    if (setting)
        most.rule = NULL;
    add_size(s, (struct sag_line){.symbol = setting ? "" : "I_dm",
                                  .words = setting ? "setting at most" : "at most, computed",
                                  .value = most,
                                  .unit = "A",
                                  .source = setting ? SAG_CODE_EDITION " 430.52(C)(3)" : NULL,
                                  .note = "only where the first will not let it start"});
    if (!setting)
        add_size(s, (struct sag_line){.words = "standard size at most, the next one down",
                                      .formula = "",
                                      .value = d->most,
                                      .unit = "A",
                                      .source = SAG_CODE_EDITION " 240.6(A)",
                                      .note = d->most.value == d->amps.value ? "no more than the size above" : ""});
}

static void add_passage(const struct sizing *s, enum sag_passage_part part, const char *words)
{
    const struct sag_branch_result *r = s->job->branch;
    const struct sag_passage *p = &r->worst[part];
    if (p->let == SAG_LET_NONE)
        return;
    add_size(s,
             (struct sag_line){.symbol = sag_let_word(p->let),
                               .words = sheet_text(s->lines, "%s, %s case", words, sag_case_word(r->worst_case[part])),
                               .formula = "",
                               .value = sag_scaled(p->used, 100),
                               .unit = "%",
                               .figures = 3});
}

static void add_let_start(struct sizing *s)
{
    const struct sag_branch_result *r = s->job->branch;
    const struct sag_let_start *first = NULL;
    for (int c = 0; c < SAG_CASE_COUNT && !first; c++)
        first = r->let[c].computed ? &r->let[c] : NULL;
    s->section = "Does it let the motor start: share of the way to opening";
    if (!first)
        return;
    add_words(s,
              sheet_text(s->lines, "device: %s of %s A, %s", sag_choice_word(SAG_DEVICE, first->kind),
                         sheet_number(s->lines, first->device_amps, 5),
                         first->device_installed ? "installed" : "by the code"),
              "", "");
    add_passage(s, SAG_PASSES_RELAY, "overload relay");
    add_passage(s, SAG_PASSES_DEVICE, "device");
    enum sag_case which = r->worst_case[SAG_PASSES_PEAK];
    if (which < SAG_CASE_COUNT) {
        add_passage(s, SAG_PASSES_PEAK, "instantaneous trip");
        add_size(s, (struct sag_line){
                        .words = "highest half cycle of the hardest start",
                        .formula = "",
                        .value = sag_exact(r->let[which].first_amps, SAG_COMPUTED),
                        .unit = "A",
                        .note = sheet_text(s->lines,
                                           "offset at closing %s, IEC 60909-0 4.3.1.1 (from memory); or a changeover",
                                           sheet_number(s->lines, r->let[which].offset, 3))});
    }
}

static void add_installed(struct sizing *s)
{
    const struct sag_plate *plate = s->job->branch->motor.plate;
    const struct sag_motor_size *m = size_of(s);
    s->section = "Installed";
    add_wire_facts(s, &m->installed, "wire carries");
    add_size(s, (struct sag_line){.words = sheet_text(s->lines, "device: %s", sag_choice_word(SAG_DEVICE, m->kind)),
                                  .value = sag_exact(plate->given[SAG_DEVICE_AMPS], SAG_NAMEPLATE),
                                  .unit = "A",
                                  .origin = "given"});
    add_size(s, (struct sag_line){.words = "overload setting",
                                  .value = sag_exact(plate->given[SAG_OVERLOAD_AMPS], SAG_NAMEPLATE),
                                  .unit = "A",
                                  .origin = "given"});
}

void add_branch(struct sag_lines *lines, const struct sag_sheet_job *job)
{
    if (!job->size || !job->branch)
        return;
    struct sizing s = {.lines = lines, .job = job, .section = "Wire by the code"};
    const struct sag_motor_size *m = size_of(&s);
    const struct symbol extra[] = {{"I_code", m->code_amps.value, 5}};
    s.symbols = (struct symbols){NULL, extra, 1};
    add_amps(&s);
    if (m->sizing == SAG_SIZED) {
        add_size(&s,
                 (struct sag_line){
                     .symbol = "I_w", .words = "its wire carries at least", .value = m->conductor_min, .unit = "A"});
        add_wire_facts(&s, &m->wire, "size that does");
        add_leads(&s);
        add_size(&s, (struct sag_line){
                         .symbol = "I_dis", .words = "its disconnect, at least", .value = m->disconnect, .unit = "A"});
        add_grounds(&s);
        add_overload(&s);
        for (int kind = SAG_DEVICE_BLANK + 1; kind < SAG_DEVICE_KINDS; kind++)
            add_kind(&s, (enum sag_device)kind);
    } else {
        add_words(&s,
                  m->sizing == SAG_SIZED_LOCAL        ? sag_clause_words(SAG_CLAUSE_LOCAL_CODE)
                  : m->sizing == SAG_SIZED_HIGH_VOLTS ? sag_clause_words(SAG_CLAUSE_HIGH_VOLTS)
                                                      : "no amps are known, so nothing is sized",
                  "", "");
    }
    add_installed(&s);
    add_let_start(&s);
}
