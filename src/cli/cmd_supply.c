/* supply: what each board of the path gets, carries and would let through into a fault. */
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "cli/session.h"
#include "write/escape.h"

struct supplying {
    bool *shown; /* of each node: is it on the path that --feeder asks for? */
    struct sag_board_table table;
    const struct sag_writer *writer;
    struct sag_sheet sheet;
};

static enum sag_status choose_boards(struct session *s, struct supplying *p)
{
    const char *feeder = s->options->feeder;
    p->shown = calloc(s->supply.count, sizeof *p->shown);
    if (!p->shown)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < s->supply.count; i++)
        p->shown[i] = !feeder;
    if (!feeder)
        return SAG_OK;
    int32_t at = sag_find_node(&s->supply, feeder);
    struct sag_shown shown;
    if (at < 0)
        return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->supply.file, 0, 0}, "no row has the id \"%s\"",
                            sag_shown(&shown, feeder, strlen(feeder)));
    for (; at >= 0; at = s->supply.nodes[at].parent)
        p->shown[at] = true;
    return SAG_OK;
}

/* Boards by their worst verdict, for the closing line and the exit status. */
static enum sag_status count_boards(struct session *s, const struct supplying *p)
{
    bool any = false;
    for (size_t i = 0; i < s->supply.count; i++) {
        bool present = false;
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            present = present || s->board_results[i].present[c];
        if (p->shown[i] && present)
            s->counts[s->board_results[i].worst]++;
        any = any || (p->shown[i] && present);
    }
    return any ? SAG_OK : session_usage(s, "no such case on that path: nothing was measured there");
}

static enum sag_status write_row(struct supplying *p, size_t node, enum sag_case which)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    sag_supply_row(&p->table, node, which, &text, values);
    enum sag_status status = p->writer->row(&p->sheet, values);
    return status == SAG_OK && ferror(p->sheet.stream) ? SAG_IO : status;
}

/* For machines: the cases of a board follow one another. */
static enum sag_status write_rows(struct session *s, struct supplying *p)
{
    enum sag_status status = SAG_OK;
    p->writer->begin(&p->sheet, NULL);
    for (size_t i = 0; i < s->supply.count && status == SAG_OK; i++)
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (p->shown[i] && s->board_results[i].present[c])
                status = write_row(p, i, (enum sag_case)c);
    return status;
}

static enum sag_status write_findings(struct session *s, struct supplying *p)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    p->writer->begin(&p->sheet, NULL);
    for (size_t i = 0; i < s->supply.count; i++)
        for (size_t k = 0; k < s->board_results[i].finding_count && p->shown[i] && status == SAG_OK; k++) {
            sag_finding_row(&s->list, &s->board_results[i].findings[k], values);
            status = p->writer->row(&p->sheet, values);
        }
    return status;
}

static enum sag_status print_findings(struct session *s, const struct supplying *p)
{
    struct sag_finding *findings = calloc(s->supply.count * SAG_MOST_BOARD_FINDINGS, sizeof *findings);
    size_t count = 0;
    if (!findings)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < s->supply.count; i++)
        for (size_t k = 0; k < s->board_results[i].finding_count && p->shown[i]; k++)
            findings[count++] = s->board_results[i].findings[k];
    fputs("Findings\n", p->sheet.stream);
    enum sag_status status = sag_print_findings(p->sheet.stream, p->sheet.colour, &s->list, findings, count);
    fputc('\n', p->sheet.stream);
    free(findings);
    return status;
}

/* For people: the boards of a case below one another, so that the volts are seen to fall along the path. */
static enum sag_status print_case(struct session *s, struct supplying *p, enum sag_case which)
{
    enum sag_status status = SAG_OK;
    bool begun = false;
    for (size_t i = 0; i < s->supply.count && status == SAG_OK; i++) {
        if (!p->shown[i] || !s->board_results[i].present[which])
            continue;
        if (!begun)
            p->writer->begin(&p->sheet, sag_case_title(which));
        begun = true;
        status = write_row(p, i, which);
    }
    return status;
}

static enum sag_status print_faults(struct session *s, struct supplying *p)
{
    enum sag_status status = SAG_OK;
    p->sheet.view = &sag_fault_view;
    p->writer->begin(&p->sheet, sag_fault_title());
    for (size_t i = 0; i < s->supply.count && status == SAG_OK; i++)
        if (p->shown[i])
            status = write_row(p, i, SAG_CASE_NOMINAL);
    return status;
}

/* Each blank cell of the path once, by board. */
static void print_assumed(const struct session *s, const struct supplying *p)
{
    bool begun = false;
    for (size_t i = 0; i < s->supply.count; i++) {
        const struct sag_node *n = &s->supply.nodes[i];
        const char *column = p->shown[i] ? sag_assumed_in_path(n, 0) : NULL;
        if (!column)
            continue;
        if (!begun)
            fputs("\nBlank in the supply file, so that a usual value stands in\n", p->sheet.stream);
        begun = true;
        put_padded(p->sheet.stream, n->id, 11);
        for (size_t k = 0; (column = sag_assumed_in_path(n, k)); k++)
            fprintf(p->sheet.stream, " %s", column);
        fputc('\n', p->sheet.stream);
    }
}

static enum sag_status print_text(struct session *s, struct supplying *p)
{
    FILE *stream = p->sheet.stream;
    print_supply_basis(s, stream);
    fputs("Volts are those behind the drops of the path. Spares and fire pumps do not run; what fire pumps\n"
          "add is in the findings. Amps and power go into the board from above; own is what its transformer\n"
          "or generator may carry, used is by amps, loss is lost in the piece that feeds it. Single-phase\n"
          "motors are spread over the three phases: their own line has up to three times their share.\n\n",
          stream);
    enum sag_status status = print_findings(s, p);
    for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
        status = print_case(s, p, (enum sag_case)c);
    if (status == SAG_OK)
        status = print_faults(s, p);
    print_assumed(s, p);
    if (status == SAG_OK)
        sag_print_cautions(stream);
    return status;
}

static enum sag_status write_all(struct session *s, struct supplying *p, FILE *stream)
{
    const struct options *o = s->options;
    p->table = (struct sag_board_table){&s->supply, s->reports, s->board_results};
    p->writer = sag_writer_find(o->format);
    p->sheet = (struct sag_sheet){
        .stream = stream, .view = o->findings ? &sag_finding_view : &sag_supply_view, .colour = wants_colour(stream)};
    if (o->findings)
        return write_findings(s, p);
    return strcmp(o->format, "text") == 0 ? print_text(s, p) : write_rows(s, p);
}

enum exit_status cmd_supply(const struct options *options)
{
    struct session s;
    struct supplying p = {0};
    struct sag_out *out = NULL;
    enum sag_status status = session_open(&s, options, options->words[0]);
    if (status == SAG_OK)
        status = choose_boards(&s, &p);
    if (status == SAG_OK)
        status = session_judge_boards(&s);
    if (status == SAG_OK)
        status = count_boards(&s, &p);
    if (status == SAG_OK)
        status = sag_out_open(&out, options->output, options->force, &s.diags);
    if (status == SAG_OK)
        status = sag_out_close(out, write_all(&s, &p, sag_out_stream(out)), &s.diags);
    free(p.shown);
    return session_close(&s, status);
}
