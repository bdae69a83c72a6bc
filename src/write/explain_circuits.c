/* The protection of a feeder and of the transformers on its way on its sheet. */
#include <math.h>

#include "write/explain_sizes.h"

void add_size(const struct sizing *s, struct sag_line line)
{
    line.section = s->section;
    line.figures = line.figures ? line.figures : 5;
    if (sag_known(&line.value))
        add_line(s->lines, &s->symbols, line);
}

void add_words(const struct sizing *s, const char *words, const char *source, const char *note)
{
    add_line(s->lines, &s->symbols,
             (struct sag_line){.section = s->section,
                               .words = words,
                               .formula = "",
                               .value = sag_unknown(),
                               .source = source,
                               .note = note});
}

void add_wire_facts(const struct sizing *s, const struct sag_wire *wire, const char *words)
{
    char size[40];
    if (!wire->size)
        return;
    const struct symbol extra[] = {{"n", wire->sets, 3},
                                   {"I_col", wire->column_amps, 5},
                                   {"f_amb", wire->ambient_factor, 3},
                                   {"f_n", wire->count_factor, 3},
                                   {"I_term", wire->terminal_amps, 5}};
    struct sizing own = *s;
    own.symbols = (struct symbols){NULL, extra, sizeof extra / sizeof *extra};
    add_size(&own,
             (struct sag_line){.words = sheet_text(s->lines, "%s: %s", words, sag_wire_words(wire, size, sizeof size)),
                               .formula = "n * floor(min(I_col * f_amb * f_n; I_term))",
                               .value = sag_exact(wire->amps, SAG_TABLE),
                               .unit = "A",
                               .source = SAG_CODE_EDITION " Table 310.16, 310.15, 110.14(C)",
                               .note = sheet_text(s->lines, "insulation %d C, terminals %d C", wire->insulation_c,
                                                  wire->terminal_c)});
}

static const char *tag_of(const struct sizing *s, size_t motor)
{
    return motor == SIZE_MAX ? "" : s->job->plant->list->plates[motor].tag;
}

/* What hangs on the board itself; what stands below other boards is on their sheets. */
static void add_motors(const struct sizing *s, const struct sag_feeder_size *f)
{
    const struct sag_motor_list *list = s->job->plant->list;
    for (size_t i = 0; i < list->count && f->feeder != UINT32_MAX; i++)
        if (list->plates[i].feeder == f->feeder)
            add_size(s, (struct sag_line){.symbol = list->plates[i].tag,
                                          .words = "counts with",
                                          .formula = "",
                                          .value = s->job->size->motors[i].code_amps,
                                          .unit = "A"});
}

static void add_feeder_wire(const struct sizing *s, const struct sag_feeder_size *f)
{
    const struct {
        const char *symbol, *words;
        double amps;
    } parts[] = {{"I_largest", sheet_text(s->lines, "largest motor: %s", tag_of(s, f->largest)), f->largest_amps},
                 {"I_others", "all other motors", f->others_amps},
                 {"I_load", "other load, counted as continuous", f->load_amps}};
    for (size_t i = 0; i < sizeof parts / sizeof *parts && !f->by_fire; i++)
        add_size(s, (struct sag_line){.symbol = parts[i].symbol,
                                      .words = parts[i].words,
                                      .value = sag_exact(parts[i].amps, SAG_COMPUTED),
                                      .unit = "A"});
    add_size(s, (struct sag_line){.symbol = "I_w",
                                  .words = "its wires carry at least",
                                  .numbers = f->by_fire ? sheet_text(s->lines, "1.25 * %s + %s",
                                                                     sheet_number(s->lines, f->fire_amps, 5),
                                                                     sheet_number(s->lines, f->accessory_amps, 5))
                                                        : NULL,
                                  .formula = f->by_fire ? "1.25 * fire and jockey pumps + the rest" : NULL,
                                  .value = f->conductor_min,
                                  .unit = "A"});
    add_wire_facts(s, &f->wire, "size that does");
    add_wire_facts(s, &f->installed, "installed");
    if (f->ground)
        add_words(s, sheet_text(s->lines, "equipment ground: %s", f->ground), SAG_CODE_EDITION " 250.122",
                  f->wire.sets > 1 ? "one in each raceway" : "");
}

/* Fire pump locked, jockey pumps locked, the rest at code amps. */
static const char *locked_terms(struct sag_lines *lines, const struct sag_feeder_size *f)
{
    return sheet_text(lines, "%s + %s + %s", sheet_number(lines, f->fire_locked, 5),
                      sheet_number(lines, f->jockey_locked, 5),
                      sheet_number(lines, f->locked_amps - f->fire_locked - f->jockey_locked, 5));
}

static void add_feeder_device(const struct sizing *s, const struct sag_feeder_size *f)
{
    if (!isnan(f->set_amps)) {
        add_words(s, "its own device", SAG_CODE_EDITION " 445.12", "");
        return;
    }
    if (!f->locked_for_ever && f->device_motor != SIZE_MAX)
        add_size(s, (struct sag_line){
                        .symbol = "I_branch",
                        .words = sheet_text(s->lines, "largest branch device: that of %s", tag_of(s, f->device_motor)),
                        .value = sag_exact(f->branch_device, SAG_COMPUTED),
                        .unit = "A",
                        .source = SAG_CODE_EDITION " 430.52(C)(1), as the kind of the feeder's"});
    if (!f->locked_for_ever)
        add_size(s, (struct sag_line){.symbol = "I_others",
                                      .words = "all other motors",
                                      .value = sag_exact(f->device_others_amps, SAG_COMPUTED),
                                      .unit = "A"});
    add_size(s, (struct sag_line){.symbol = f->device_computed.rule ? f->device_computed.rule->symbol : "",
                                  .words = "computed",
                                  .numbers = f->locked_for_ever ? locked_terms(s->lines, f) : NULL,
                                  .value = f->device_computed,
                                  .unit = "A"});
    add_size(s, (struct sag_line){.words = f->locked_for_ever ? "standard size, the next one up"
                                                              : "standard size, the next one down",
                                  .formula = "",
                                  .value = f->device,
                                  .unit = "A",
                                  .source = SAG_CODE_EDITION " 240.6(A)"});
    if (f->device_most.value > f->device.value)
        add_size(
            s, (struct sag_line){
                   .words = "at most, with the installed wires", .formula = "", .value = f->device_most, .unit = "A"});
}

static void add_one_feeder(struct sizing *s, const struct sag_feeder_size *f)
{
    const struct symbol wire[] = {
        {"I_largest", f->largest_amps, 6}, {"I_others", f->others_amps, 6}, {"I_load", f->load_amps, 5}};
    const struct symbol device[] = {
        {"I_branch", f->branch_device, 6}, {"I_others", f->device_others_amps, 6}, {"I_load", f->load_amps, 5}};
    s->section = sheet_text(s->lines, "%s %s by the code: wires", f->service ? "Main" : "Feeder", f->id);
    s->symbols = (struct symbols){NULL, wire, sizeof wire / sizeof *wire};
    add_motors(s, f);
    add_feeder_wire(s, f);
    if (f->ahead)
        add_words(s, sag_clause_words(SAG_CLAUSE_FIRE_AHEAD), SAG_CODE_EDITION " 695.3", "");
    s->section = sheet_text(s->lines, "%s %s by the code: device, %s", f->service ? "Main" : "Feeder", f->id,
                            sag_choice_word(SAG_DEVICE, f->kind));
    s->symbols = (struct symbols){NULL, device, sizeof device / sizeof *device};
    add_feeder_device(s, f);
    add_size(s, (struct sag_line){.words = "installed",
                                  .value = sag_exact(f->device_installed, SAG_NAMEPLATE),
                                  .unit = "A",
                                  .origin = "given"});
}

static void add_winding(struct sizing *s, const struct sag_transformer_size *t, enum sag_winding w)
{
    static const char *const sides[] = {[SAG_PRIMARY] = "primary", [SAG_SECONDARY] = "secondary"};
    const struct symbol extra[] = {{"kVA", t->rated_va / 1000, 5}, {"V", t->volts[w], 5}};
    s->symbols = (struct symbols){NULL, extra, sizeof extra / sizeof *extra};
    add_size(s, (struct sag_line){.symbol = "I_rated",
                                  .words = sheet_text(s->lines, "%s amps", sides[w]),
                                  .value = t->rated_amps[w],
                                  .unit = "A"});
    struct sag_qty computed = t->computed[w];
    computed.rule = NULL;
    add_size(s,
             (struct sag_line){.words = isnan(t->share[w]) ? "locked-rotor amps of the pump room"
                                                           : sheet_text(s->lines, "%s device, %s %% of that", sides[w],
                                                                        sheet_number(s->lines, 100 * t->share[w], 4)),
                               .value = computed,
                               .unit = "A",
                               .source = t->fire ? SAG_CODE_EDITION " 695.5(B)" : SAG_CODE_EDITION " 450.3(B)"});
    add_size(s, (struct sag_line){.words = "standard size", .formula = "", .value = t->device[w], .unit = "A"});
    add_size(s, (struct sag_line){.words = sheet_text(s->lines, "standard size at most, %s %%",
                                                      sheet_number(s->lines, 100 * t->most_share[w], 4)),
                                  .formula = "",
                                  .value = t->most[w],
                                  .unit = "A",
                                  .note = "only with a secondary device"});
    add_wire_facts(s, &t->wire[w], "wire that this device protects");
    add_size(s, (struct sag_line){.words = w == SAG_PRIMARY ? "installed" : "installed, all rows below together",
                                  .value = sag_exact(t->installed[w], SAG_NAMEPLATE),
                                  .unit = "A",
                                  .origin = "given"});
}

static void add_transformer(struct sizing *s, size_t node)
{
    const struct sag_transformer_size *t = &s->job->size->transformers[node];
    if (!t->present)
        return;
    s->section = sheet_text(s->lines, "Transformer %s by the code", s->job->size->feeders[node].id);
    for (int w = 0; w < SAG_WINDINGS; w++)
        add_winding(s, t, (enum sag_winding)w);
    if (!t->sized)
        add_words(s, sag_clause_words(SAG_CLAUSE_HIGH_VOLTS), SAG_CODE_EDITION " 450.3(A)", "");
}

/* The feeder's row of the sizes; with typed volts rows are feeders of the list. */
static size_t row_of(const struct sag_sheet_job *job, uint32_t feeder)
{
    return job->supply ? (size_t)job->plant->list->feeders[feeder].node : feeder;
}

void add_feeder(struct sag_lines *lines, const struct sag_sheet_job *job, uint32_t feeder)
{
    struct sizing s = {.lines = lines, .job = job};
    if (!job->size)
        return;
    for (int32_t i = (int32_t)row_of(job, feeder); i >= 0; i = job->supply ? job->supply->nodes[i].parent : -1) {
        if (job->size->feeders[i].sized)
            add_one_feeder(&s, &job->size->feeders[i]);
        if (job->size->transformers)
            add_transformer(&s, (size_t)i);
        if (job->feeders)
            add_findings(lines, job->feeders[i].findings, job->feeders[i].finding_count);
        if (job->transformers)
            add_findings(lines, job->transformers[i].findings, job->transformers[i].finding_count);
    }
}
