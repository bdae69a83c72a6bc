/* The tables beside the report's page: the rows that the commands print, put in place together with the page. */
#include <errno.h>
#include <string.h>

#include "cli/reporting.h"

enum {
    PATH_ROOM = 4096
};

/* ORDER REPORT_TABLE */
static const struct {
    const char *name;
    const struct sag_view *view;
} tables[] = {{"check.csv", &sag_check_view},
              {"start.csv", &sag_start_view},
              {"protect.csv", &sag_protect_view},
              {"findings.csv", &sag_finding_view},
              {"supply.csv", &sag_supply_view}};
_Static_assert(sizeof tables / sizeof *tables == REPORT_TABLES, "ORDER REPORT_TABLE");

const char *report_folder(const struct session *s)
{
    return s->options->output ? s->options->output : ".";
}

static enum sag_status open_out(struct session *s, const char *name, struct sag_out **out)
{
    const char *folder = report_folder(s);
    char path[PATH_ROOM];
    struct sag_shown shown;
    if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path) {
        sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "--output %s: too long for a folder's name",
                     sag_shown(&shown, folder, strlen(folder)));
        return SAG_IO;
    }
    if (session_is_input(s, path)) {
        sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "%s: is an input; it would be overwritten",
                     sag_shown(&shown, path, strlen(path)));
        return SAG_IO;
    }
    return sag_out_open(out, path, s->options->force, &s->diags);
}

/* The sections wait in a file without a name; the outs tell of themselves, this one is told of here. */
enum sag_status report_tell_lost(struct session *s)
{
    sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0}, "temporary file of the page's sections: %s",
                 strerror(errno));
    return SAG_IO;
}

/* Nothing is put in place before all is written, so an old report stays whole until then. */
enum sag_status report_open(struct session *s, struct reporting *r)
{
    enum sag_status status = sag_out_folder(report_folder(s), &s->diags);
    r->writer = sag_writer_find("csv");
    for (int i = 0; i < (s->has_supply ? REPORT_TABLES : TABLE_SUPPLY) && status == SAG_OK; i++) {
        status = open_out(s, tables[i].name, &r->outs[i]);
        if (status != SAG_OK)
            break;
        r->sheets[i] = (struct sag_sheet){.stream = sag_out_stream(r->outs[i]), .view = tables[i].view};
        r->writer->begin(&r->sheets[i], NULL);
    }
    if (status == SAG_OK)
        status = open_out(s, "index.html", &r->page);
    if (status == SAG_OK && !(r->sections = tmpfile()))
        status = report_tell_lost(s);
    return status;
}

/* The page last: whoever finds it finds the rest too. */
enum sag_status report_close(struct session *s, struct reporting *r, enum sag_status status)
{
    if (r->sections)
        fclose(r->sections);
    for (int i = 0; i < REPORT_TABLES; i++)
        if (r->outs[i])
            status = sag_out_close(r->outs[i], status, &s->diags);
    return r->page ? sag_out_close(r->page, status, &s->diags) : status;
}

static enum sag_status put_row(struct reporting *r, enum report_table table, const struct sag_value *values)
{
    enum sag_status status = r->writer->row(&r->sheets[table], values);
    return status == SAG_OK && ferror(r->sheets[table].stream) ? SAG_IO : status;
}

static enum sag_status put_findings(struct session *s, struct reporting *r, const struct sag_finding *findings,
                                    size_t count)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < count && status == SAG_OK; i++) {
        sag_finding_row(&s->list, &findings[i], values);
        status = put_row(r, TABLE_FINDINGS, values);
    }
    return status;
}

enum sag_status report_write_checks(struct session *s, struct reporting *r)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->count && status == SAG_OK; i++) {
        const struct sag_result *result = &r->results[i];
        status = sag_note_check(&r->notes, result);
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (result->of[c].present) {
                sag_check_row(&s->list, result, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_CHECK, values);
            }
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

enum sag_status report_write_starts(struct session *s, struct reporting *r)
{
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->start_count && status == SAG_OK; i++) {
        const struct sag_start_result *result = &r->starts[i];
        status = sag_note_start(&r->notes, result);
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (result->of[c].present) {
                sag_start_row(&s->plant, result, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_START, values);
            }
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

enum sag_status report_write_branches(struct session *s, struct reporting *r)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->count && status == SAG_OK; i++) {
        const struct sag_branch_result *result = &r->branches[i];
        status = sag_note_branch(&r->notes, result);
        sag_branch_row(&r->plan.table, result, &text, values);
        if (status == SAG_OK)
            status = put_row(r, TABLE_PROTECT, values);
        if (status == SAG_OK)
            status = put_findings(s, r, result->findings, result->finding_count);
    }
    return status;
}

enum sag_status report_write_boards(struct session *s, struct reporting *r)
{
    const struct sag_board_table table = {&s->supply, s->reports, s->board_results};
    struct sag_row_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; s->has_supply && i < s->supply.count && status == SAG_OK; i++) {
        const struct sag_board_result *b = &s->board_results[i];
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            if (b->present[c]) {
                sag_supply_row(&table, i, (enum sag_case)c, &text, values);
                status = put_row(r, TABLE_SUPPLY, values);
            }
        if (status == SAG_OK)
            status = sag_note_findings(&r->notes, SAG_PART_SUPPLY, b->findings, b->finding_count);
        if (status == SAG_OK)
            status = put_findings(s, r, b->findings, b->finding_count);
    }
    return status;
}

static enum sag_status note_circuit(struct session *s, struct reporting *r, const struct sag_circuit_result *c)
{
    enum sag_status status = sag_note_findings(&r->notes, SAG_PART_PROTECT, c->findings, c->finding_count);
    return status == SAG_OK ? put_findings(s, r, c->findings, c->finding_count) : status;
}

static enum sag_status write_circuit(struct session *s, struct reporting *r, size_t i)
{
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    if (schedule_shows_transformer(&r->plan, i)) {
        for (int w = 0; w < SAG_WINDINGS && status == SAG_OK; w++) {
            sag_transformer_row(&r->plan.table, i, (enum sag_winding)w, &text, values);
            status = put_row(r, TABLE_PROTECT, values);
        }
        if (status == SAG_OK)
            status = note_circuit(s, r, &r->plan.transformers[i]);
    }
    if (status != SAG_OK || !r->plan.shown[i])
        return status;
    if (schedule_shows_feeder(s, &r->plan, i)) {
        sag_feeder_row(&r->plan.table, i, &text, values);
        status = put_row(r, TABLE_PROTECT, values);
    }
    return status == SAG_OK ? note_circuit(s, r, &r->plan.feeders[i]) : status;
}

enum sag_status report_write_circuits(struct session *s, struct reporting *r)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < r->plan.size.feeder_count && status == SAG_OK; i++)
        status = write_circuit(s, r, i);
    return status;
}
