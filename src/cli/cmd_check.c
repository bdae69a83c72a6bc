/* check: volts at each motor, and what they do to it. */
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "cli/session.h"
#include "write/escape.h"

struct checking {
    struct sag_out *out;
    const struct sag_writer *writer;
    struct sag_sheet sheet;
    struct sag_finding *findings; /* of all motors, for people, who read them first */
    size_t finding_count, finding_room;
    uint32_t feeder; /* of the last row */
};

static enum sag_status keep_findings(struct session *s, const struct sag_result *r, void *context)
{
    struct checking *c = context;
    session_count(s, r);
    if (c->finding_count + r->finding_count > c->finding_room) {
        c->finding_room = 2 * (c->finding_room + SAG_MOST_FINDINGS);
        struct sag_finding *more = realloc(c->findings, c->finding_room * sizeof *more);
        if (!more)
            return SAG_NO_MEMORY;
        c->findings = more;
    }
    if (r->finding_count)
        memcpy(c->findings + c->finding_count, r->findings, r->finding_count * sizeof *r->findings);
    c->finding_count += r->finding_count;
    return SAG_OK;
}

static enum sag_status write_rows(struct session *s, const struct sag_result *r, void *context)
{
    struct checking *c = context;
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    uint32_t feeder = r->motor.plate->feeder;
    if (!r->judged)
        return SAG_OK;
    if (!c->sheet.started || feeder != c->feeder) {
        struct sag_title title;
        const struct sag_supply *supply = s->has_supply ? &s->supply : NULL;
        c->writer->begin(&c->sheet, sag_feeder_title(&s->plant, supply, feeder, &title));
        c->feeder = feeder;
    }
    enum sag_status status = SAG_OK;
    for (int i = 0; i < SAG_CASE_COUNT && status == SAG_OK; i++) {
        if (!r->of[i].present)
            continue;
        sag_check_row(&s->list, r, (enum sag_case)i, &text, values);
        status = c->writer->row(&c->sheet, values);
    }
    return status == SAG_OK && ferror(c->sheet.stream) ? SAG_IO : status;
}

static enum sag_status count_and_write(struct session *s, const struct sag_result *r, void *context)
{
    session_count(s, r);
    return write_rows(s, r, context);
}

static enum sag_status write_findings(struct session *s, const struct sag_result *r, void *context)
{
    struct checking *c = context;
    session_count(s, r);
    return session_finding_rows(s, r, c->writer, &c->sheet);
}

/* What the volts are, where they are from, and what is left out. */
static void print_basis(const struct session *s, FILE *stream)
{
    const struct sag_board *b = &s->boards[s->list.plates[s->order[0]].feeder];
    const struct sag_qty *low = &b->of[SAG_CASE_LOW].volts;
    char a[SAG_NUMBER_ROOM], z[SAG_NUMBER_ROOM];
    if (s->has_supply) {
        print_supply_basis(s, stream);
        fputs("Volts are those behind the drops of the path and the motor's own branch cable. Case low: the least\n"
              "of that range, every motor at full load; high: the most, only the motor of the row runs; the\n"
              "others: each at its own load.\n",
              stream);
    } else if (s->options->typed.count == 0)
        fprintf(
            stream,
            "Supply: three line voltages of a log, unbalance of their means %s %%; taken as those at every motor.\n",
            sag_number_print(a, 100 * b->of[SAG_CASE_MEASURED].unbalance, 2));
    else if (s->options->typed.count == 3)
        fprintf(stream, "Supply: three measured line voltages, unbalance %s %%; taken as those at every motor.\n",
                sag_number_print(a, 100 * b->of[SAG_CASE_MEASURED].unbalance, 2));
    else
        fprintf(stream,
                "Supply: %s V, %s Hz as typed, nothing known of the path: drops are taken as zero, low is the\n"
                "least volts in use and high the most that the range allows.\n",
                sag_number_figures(a, b->volts_nominal, 5), sag_number_figures(z, b->hz, 3));
    if (!s->has_supply)
        print_measured_basis(s, stream);
    if (!s->has_supply && sag_known(low) && low->origin == SAG_TABLE)
        fprintf(stream, "Range: %s%s.\n", low->rule->source, low->from_memory ? " (from memory)" : "");
    if (!s->has_supply && s->list.feeder_count > 1 && !s->options->feeder && !s->options->motor)
        fputs("The feeders of the list only group the motors: typed volts are taken at all of them.\n", stream);
    fputs("Changes (chg) are against the same load at the plate's volts and frequency.\n\n", stream);
}

/* Boards are judged by another command; who reads this one should know when there is something to read there. */
static void print_board_hint(const struct session *s, FILE *stream)
{
    size_t count = 0;
    for (size_t i = 0; s->board_results && i < s->supply.count; i++)
        count += s->board_results[i].finding_count > 0;
    if (count)
        fprintf(stream, "Boards: %zu of %zu have findings of their own; see sagband supply.\n", count, s->supply.count);
}

/* The tap that keeps most motors in band, where the whole plant is asked about and is of a size to try it on. */
static enum sag_status print_taps(struct session *s, FILE *stream)
{
    const size_t most_work = 100000; /* motors times transformers */
    const struct options *o = s->options;
    size_t transformers = 0;
    for (size_t i = 0; i < s->grid.node_count; i++)
        transformers += s->grid.nodes[i].kind == SAG_NODE_TRANSFORMER;
    bool whole = o->cases[SAG_CASE_NOMINAL] && o->cases[SAG_CASE_LOW] && o->cases[SAG_CASE_HIGH];
    if (!s->has_supply || !whole || o->feeder || o->motor || transformers * s->list.count > most_work)
        return SAG_OK;
    struct sag_tap_advice advice;
    enum sag_status status = sag_advise_taps(&s->plant, &s->grid, &s->supply, &advice);
    if (status == SAG_OK)
        sag_print_tap_advice(stream, &s->plant, &s->grid, &advice);
    sag_tap_advice_free(&advice);
    return status;
}

static enum sag_status run_text(struct session *s, struct checking *c)
{
    enum sag_status status = session_group_by_feeder(s);
    if (status == SAG_OK)
        status = session_judge_boards(s);
    if (status == SAG_OK)
        status = session_each(s, keep_findings, c);
    if (status != SAG_OK)
        return status;
    print_basis(s, c->sheet.stream);
    fputs("Findings\n", c->sheet.stream);
    status = sag_print_findings(c->sheet.stream, c->sheet.colour, &s->list, c->findings, c->finding_count);
    print_board_hint(s, c->sheet.stream);
    fputc('\n', c->sheet.stream);
    if (status == SAG_OK)
        status = session_each(s, write_rows, c);
    if (status == SAG_OK)
        status = print_taps(s, c->sheet.stream);
    if (status == SAG_OK)
        sag_print_cautions(c->sheet.stream);
    return status;
}

static enum sag_status run(struct session *s, struct checking *c)
{
    bool text = strcmp(s->options->format, "text") == 0;
    c->writer = sag_writer_find(s->options->format);
    c->sheet = (struct sag_sheet){.stream = sag_out_stream(c->out),
                                  .view = s->options->findings ? &sag_finding_view : &sag_check_view,
                                  .colour = wants_colour(sag_out_stream(c->out))};
    if (s->options->findings) {
        c->writer->begin(&c->sheet, NULL);
        return session_each(s, write_findings, c);
    }
    return text ? run_text(s, c) : session_each(s, count_and_write, c);
}

enum exit_status cmd_check(const struct options *options)
{
    struct session s;
    struct checking c = {0};
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = sag_out_open(&c.out, options->output, options->force, &s.diags);
    if (status == SAG_OK)
        status = sag_out_close(c.out, run(&s, &c), &s.diags);
    free(c.findings);
    return session_close(&s, status);
}
