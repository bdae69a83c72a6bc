/* explain: the calculation sheet of one motor, or of a feeder. */
#include <stdlib.h>
#include <string.h>

#include "cli/session.h"

struct explaining {
    struct sag_lines lines;
    struct sag_result *results; /* of the motor, or of the feeder's motors */
    size_t count;
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
    return kept ? SAG_OK
                : sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->list.file, 0, 0},
                               "no motor and no feeder is called \"%s\"", sag_shown(&shown, name, strlen(name)));
}

static enum sag_status build(struct session *s, const char *name, struct explaining *e)
{
    bool is_feeder = false;
    struct sag_units units = {.si = !s->options->us};
    const struct sag_supply *supply = s->has_supply ? &s->supply : NULL;
    enum sag_status status = choose(s, name, &is_feeder);
    if (status != SAG_OK)
        return status;
    e->results = calloc(s->order_count, sizeof *e->results);
    status = e->results ? session_each(s, keep_result, e) : SAG_NO_MEMORY;
    if (status != SAG_OK)
        return status;
    if (is_feeder)
        return sag_explain_feeder(&s->plant, supply, s->list.plates[s->order[0]].feeder, e->results, e->count,
                                  &e->lines);
    return sag_explain_motor(&s->plant, supply, &e->results[0], &units, &e->lines);
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
    sag_lines_free(&e.lines);
    free(e.results);
    return session_close(&s, status);
}
