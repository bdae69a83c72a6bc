/* survey: a recorder's log of volts against the bands of the plates that hang on them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/number.h"
#include "cli/drawing.h"
#include "cli/session.h"
#include "write/escape.h"
#include "write/wrap.h"

enum {
    SHOWN_DIPS = 10 /* in text; --dips has all that were kept */
};

struct surveying {
    struct session *s;
    int32_t node; /* of the log's board; -1: no supply file */
    bool *wanted; /* one a motor: on a board at the log's volts */
    size_t named; /* motors that --motor and --feeder leave */
    struct sag_survey survey;
    struct sag_survey_plates plates;
    struct sag_survey_result result;
    struct sag_survey_table table;
    const struct sag_writer *writer;
    struct sag_sheet sheet;
};

/* --- where it was taken ------------------------------------------------------------------------------------------ */

static enum sag_status find_place(struct surveying *v)
{
    struct session *s = v->s;
    const char *at = s->options->at;
    struct sag_shown shown;
    v->node = -1;
    if (!s->has_supply)
        return SAG_OK;
    v->node = at ? sag_find_node(&s->supply, at) : session_log_board(s);
    if (at && v->node < 0)
        return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){s->supply.file, 0, 0}, "no row has the id \"%s\"",
                            sag_shown(&shown, at, strlen(at)));
    if (v->node < 0)
        v->node = (int32_t)s->supply.count - 1;
    const char *id = s->supply.nodes[v->node].id;
    if (!at)
        sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){s->options->words[0], 0, 0},
                     "taken as measured at %s, %s; --at BOARD names another", sag_shown(&shown, id, strlen(id)),
                     s->list.count ? "the first board with motors" : "the last board of the supply file");
    return SAG_OK;
}

static const char *log_name(const struct surveying *v)
{
    const char *path = v->s->options->words[0];
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

static const char *place_name(const struct surveying *v)
{
    return v->node >= 0 ? v->s->supply.nodes[v->node].id : "log";
}

/* Does the motor's board hang on the log's, with no transformer between? */
static bool is_below(const struct surveying *v, size_t motor)
{
    const struct session *s = v->s;
    if (v->node < 0)
        return true;
    int32_t at = s->list.feeders[s->list.plates[motor].feeder].node;
    while (at >= 0 && at != v->node && s->supply.nodes[at].choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER)
        at = s->supply.nodes[at].parent;
    return at == v->node;
}

static enum sag_status choose_motors(struct surveying *v)
{
    const struct session *s = v->s;
    const struct options *o = s->options;
    v->wanted = calloc(s->list.count + 1, sizeof *v->wanted);
    if (!v->wanted)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < s->list.count; i++) {
        const struct sag_plate *p = &s->list.plates[i];
        bool named = (!o->motor || strcmp(o->motor, p->tag) == 0) &&
                     (!o->feeder || strcmp(o->feeder, s->list.feeders[p->feeder].id) == 0);
        v->wanted[i] = named && is_below(v, i);
        v->named += named;
    }
    return SAG_OK;
}

/* --- the pass ---------------------------------------------------------------------------------------------------- */

/* The reference is known: what the plates allow, as volts of the log. */
static enum sag_status find_bands(void *context, double reference, struct sag_survey_band **bands, size_t *count)
{
    struct surveying *v = context;
    struct session *s = v->s;
    struct sag_typed_volts typed = {.line = {reference}, .count = 1, .hz = s->options->typed.hz};
    enum sag_status status = SAG_OK;
    if (!s->has_supply && !s->options->typed.count && s->list.count)
        status = sag_check_typed_volts(&s->list, reference, &s->diags);
    if (status == SAG_OK)
        status = sag_find_boards(s->tables, s->has_supply ? &s->supply : NULL, &typed, &s->list, &s->boards);
    s->plant = (struct sag_plant){.tables = s->tables, .list = &s->list, .boards = s->boards, .store = &s->store};
    if (status == SAG_OK)
        status = sag_find_survey_plates(&s->plant, v->wanted, &v->plates);
    *bands = status == SAG_OK ? calloc(v->plates.count + 1, sizeof **bands) : NULL;
    if (!*bands)
        return status == SAG_OK ? SAG_NO_MEMORY : status;
    *count = v->plates.count;
    for (size_t i = 0; i < v->plates.count; i++) {
        (*bands)[i].low = v->plates.items[i].low;
        (*bands)[i].high = v->plates.items[i].high;
    }
    return SAG_OK;
}

/* A log that is of another voltage than what it is held against was taken elsewhere. */
static enum sag_status check_reference(struct surveying *v)
{
    const struct sag_survey *s = &v->survey;
    char volts[SAG_NUMBER_ROOM], reference[SAG_NUMBER_ROOM];
    if (fabs(s->average.p50 / s->reference - 1) <= SAG_VOLTS_APART)
        return SAG_OK;
    return sag_complain(
        &v->s->diags, SAG_ERROR, &(struct sag_place){log_name(v), 0, 0},
        "its median of %s V is not that of a system of %s V; name the board with --at or the volts with "
        "--volts",
        sag_number_print(volts, s->average.p50, 1), sag_number_figures(reference, s->reference, 5));
}

static enum sag_status survey(struct surveying *v)
{
    struct session *s = v->s;
    struct sag_input input;
    const struct sag_typed_volts *typed = &s->options->typed;
    double hz = v->node >= 0 ? s->supply.nodes[v->node].hz : typed->hz > 0 ? typed->hz : SAG_DEFAULT_HZ;
    const struct sag_survey_job job = {.tables = s->tables,
                                       .reference = v->node >= 0   ? s->supply.nodes[v->node].volts_nominal
                                                    : typed->count ? typed->line[0]
                                                                   : NAN,
                                       .hz = hz,
                                       .find_bands = find_bands,
                                       .context = v};
    enum sag_status status = session_open_file(s, s->options->words[0], &input);
    if (status == SAG_OK)
        status = sag_survey_log(&input, &job, &v->survey, &s->diags);
    session_close_file(&input);
    if (status == SAG_OK)
        status = session_refuse_changed(s);
    if (status == SAG_OK)
        status = check_reference(v);
    if (status == SAG_OK)
        status = sag_judge_survey(&v->survey, &v->plates, s->list.count, place_name(v), &v->result);
    v->table = (struct sag_survey_table){&s->list, &v->survey, &v->plates, &v->result};
    return status;
}

/* Motors by their plate's band; without motors the log itself. */
static void count_results(struct surveying *v)
{
    struct session *s = v->s;
    size_t compared = 0;
    for (size_t i = 0; i < s->list.count; i++) {
        int32_t at = v->plates.of[i];
        enum sag_verdict plate = at < 0 ? SAG_VERDICT_OK : v->result.of_plate[at];
        if (at >= 0)
            s->counts[plate]++;
        compared += at >= 0;
    }
    if (compared)
        return;
    s->counts[v->result.of_log]++;
    s->counted = "log";
}

/* --- what is told ------------------------------------------------------------------------------------------------ */

static void print_number(FILE *stream, const char *before, double value, int decimals, const char *behind)
{
    char number[SAG_NUMBER_ROOM];
    fprintf(stream, "%s%s%s", before, sag_number_print(number, value, decimals), behind);
}

static void print_span(const struct surveying *v, FILE *stream)
{
    const struct sag_survey *s = &v->survey;
    char begin[SAG_CLOCK_ROOM], end[SAG_CLOCK_ROOM], step[SAG_NUMBER_ROOM];
    fputs("Log: ", stream);
    put_plain(stream, log_name(v));
    if (v->node >= 0) {
        fputs(", taken at ", stream);
        put_plain(stream, place_name(v));
    }
    fprintf(stream, ", %s to %s%s\n", sag_clock_print(begin, s->log.begin, s->log.dated),
            sag_clock_print(end, s->log.end, s->log.dated), s->log.dated ? "" : " s");
    fprintf(stream, "%llu rows, usual step %s s, ", (unsigned long long)s->log.rows,
            sag_number_figures(step, s->step, 4));
    print_number(stream, "", s->recorded / 3600, 2, " h recorded of ");
    print_number(stream, "", s->span / 3600, 2, " h. Each row stands until the next.\n");
}

static void print_reference(const struct surveying *v, FILE *stream)
{
    static const char *const words[] = {
        [SAG_REFERENCE_GIVEN] = "",
        [SAG_REFERENCE_SYSTEM] = ", the usual system volts nearest to the median of the first hour",
        [SAG_REFERENCE_MEDIAN] = ", the median of the first hour; no usual system volts are near it",
    };
    const char *given = v->node >= 0 ? ", the board's nominal volts" : ", as typed";
    const char *from = v->survey.reference_from == SAG_REFERENCE_GIVEN ? given : words[v->survey.reference_from];
    char number[SAG_NUMBER_ROOM];
    fprintf(stream, "Reference: %s V%s.\n", sag_number_figures(number, v->survey.reference, 6), from);
}

/* What a recorder leaves out or doubles is told, one line a thing. */
static void print_oddities(const struct surveying *v, FILE *stream)
{
    const struct sag_survey *s = &v->survey;
    char number[SAG_NUMBER_ROOM], clock[SAG_CLOCK_ROOM];
    if (s->gaps)
        fprintf(stream, "Not recorded: %llu gap%s of more than three usual steps, the longest %s s behind %s%s.\n",
                (unsigned long long)s->gaps, s->gaps == 1 ? "" : "s", sag_number_figures(number, s->gap_longest, 6),
                sag_clock_print(clock, s->gap_clock, s->log.dated), s->log.dated ? "" : " s");
    if (s->log.blank_rows)
        fprintf(stream, "Not recorded: %llu rows without all three volts.\n", (unsigned long long)s->log.blank_rows);
    if (s->log.equal_times)
        fprintf(stream, "%llu rows have the time of the row before; the last of such rows is the one that stands.\n",
                (unsigned long long)s->log.equal_times);
    if (s->log.clock_backs)
        fprintf(stream,
                "The clock goes back by an hour (first in line %u), as at the end of daylight saving time; the log\n"
                "goes on without it.\n",
                s->log.back_line);
}

static void print_others(const struct surveying *v, FILE *stream)
{
    size_t compared = 0;
    for (size_t i = 0; i < v->plates.count; i++)
        compared += v->plates.items[i].count;
    if (v->named > compared)
        fprintf(stream,
                "%zu of %zu motors are not fed at the log's volts (another feeder, behind a transformer, plates of\n"
                "other volts).\n",
                v->named - compared, v->named);
}

static void print_basis(const struct surveying *v, FILE *stream)
{
    print_span(v, stream);
    print_reference(v, stream);
    print_oddities(v, stream);
    print_others(v, stream);
    if (v->plates.count)
        fputs("Bands are those of the plates, met by the average of the three volts at the log; drops on the way to a\n"
              "motor are not counted. lasting: outside for more than a minute at a time; a plate fails when that is\n"
              "more than 1 % of the time. room: volts to the nearer edge. worst hour: an hour of the log's clock.\n",
              stream);
    fputc('\n', stream);
}

static enum sag_status print_tables(struct surveying *v)
{
    struct sag_survey_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    if (v->plates.count)
        v->writer->begin(&v->sheet, "Plates");
    for (size_t i = 0; i < v->plates.count && status == SAG_OK; i++) {
        sag_survey_plate_row(&v->table, i, &text, values);
        status = v->writer->row(&v->sheet, values);
    }
    v->sheet.view = &sag_survey_volts_view;
    v->writer->begin(&v->sheet, "Line volts: mean, and what they were not above for that share of the time");
    for (int which = 0; which <= SAG_SURVEY_PAIRS && status == SAG_OK; which++) {
        sag_survey_volts_row(&v->table, which, &text, values);
        status = v->writer->row(&v->sheet, values);
    }
    if (!(v->survey.unbalance.seconds > 0)) /* a dip or a swell from begin to end */
        return status;
    v->sheet.view = &sag_survey_unbalance_view;
    v->writer->begin(&v->sheet, "Unbalance (NEMA MG 1 14.36.2) while no dip or swell runs; derating begins above 1 %");
    sag_survey_volts_row(&v->table, SAG_SURVEY_PAIRS + 1, &text, values);
    return status == SAG_OK ? v->writer->row(&v->sheet, values) : status;
}

static void print_hours(const struct surveying *v, FILE *stream)
{
    const struct sag_hour *high = &v->survey.highest, *low = &v->survey.lowest;
    char clock[SAG_CLOCK_ROOM];
    if (isnan(high->clock))
        return;
    fprintf(stream, "\nHours of the clock by their mean: highest %s",
            sag_clock_print(clock, high->clock, v->survey.log.dated));
    print_number(stream, " with ", high->mean, 1, " V, lowest ");
    fputs(sag_clock_print(clock, low->clock, v->survey.log.dated), stream);
    print_number(stream, " with ", low->mean, 1, " V.\n");
}

/* --- dips -------------------------------------------------------------------------------------------------------- */

static double depth(const struct surveying *v, size_t event)
{
    return fabs(v->survey.events[event].extreme / v->survey.reference - 1);
}

/* Is it among the `most` deepest of those kept? Of equals the first. */
static bool is_deep(const struct surveying *v, size_t event, size_t most)
{
    size_t deeper = 0;
    for (size_t i = 0; i < v->survey.event_count; i++)
        deeper += depth(v, i) > depth(v, event) || (depth(v, i) == depth(v, event) && i < event);
    return deeper < most;
}

static enum sag_status write_dips(struct surveying *v, size_t most)
{
    struct sag_survey_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < v->survey.event_count && status == SAG_OK; i++) {
        if (!is_deep(v, i, most))
            continue;
        sag_dip_row(&v->survey, i, &text, values);
        status = v->writer->row(&v->sheet, values);
    }
    return status == SAG_OK && ferror(v->sheet.stream) ? SAG_IO : status;
}

static unsigned long long events(const struct surveying *v)
{
    unsigned long long all = 0;
    for (int kind = 0; kind < SAG_EVENT_KINDS; kind++)
        all += v->survey.counts[kind];
    return all;
}

static enum sag_status print_dips(struct surveying *v)
{
    FILE *stream = v->sheet.stream;
    unsigned long long all = events(v);
    char title[160];
    if (!all) {
        fputs("\nNo dip, swell or interruption.\n", stream);
        return SAG_OK;
    }
    size_t used = 0;
    for (int kind = 0; kind < SAG_EVENT_KINDS; kind++) {
        unsigned long long n = v->survey.counts[kind];
        used += (size_t)snprintf(title + used, sizeof title - used, "%s%llu %s%s", kind ? ", " : "", n,
                                 sag_event_word((enum sag_event_kind)kind), n == 1 ? "" : "s");
    }
    snprintf(title + used, sizeof title - used, "; shares of the reference%s",
             all > SHOWN_DIPS ? "; the ten deepest, --dips has more" : "");
    v->sheet.view = &sag_dip_view;
    v->writer->begin(&v->sheet, title);
    return write_dips(v, SHOWN_DIPS);
}

static enum sag_status print_text(struct surveying *v)
{
    FILE *stream = v->sheet.stream;
    print_basis(v, stream);
    fputs("Findings\n", stream);
    enum sag_status status =
        sag_print_findings(stream, v->sheet.colour, &v->s->list, v->result.findings, v->result.finding_count);
    fputc('\n', stream);
    if (status == SAG_OK)
        status = print_tables(v);
    if (status == SAG_OK)
        print_hours(v, stream);
    if (status == SAG_OK)
        status = print_dips(v);
    if (status == SAG_OK)
        sag_print_cautions(stream);
    return status;
}

static enum sag_status write_rows(struct surveying *v)
{
    struct sag_survey_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    v->writer->begin(&v->sheet, NULL);
    for (size_t i = 0; i < v->plates.count && status == SAG_OK; i++) {
        sag_survey_plate_row(&v->table, i, &text, values);
        status = v->writer->row(&v->sheet, values);
    }
    for (int which = 0; which <= SAG_SURVEY_PAIRS + 1 && status == SAG_OK; which++) {
        sag_survey_volts_row(&v->table, which, &text, values);
        status = v->writer->row(&v->sheet, values);
    }
    return status == SAG_OK && ferror(v->sheet.stream) ? SAG_IO : status;
}

static enum sag_status write_findings(struct surveying *v)
{
    struct sag_value values[SAG_MOST_COLUMNS];
    enum sag_status status = SAG_OK;
    v->writer->begin(&v->sheet, NULL);
    for (size_t i = 0; i < v->result.finding_count && status == SAG_OK; i++) {
        sag_finding_row(&v->s->list, &v->result.findings[i], values);
        status = v->writer->row(&v->sheet, values);
    }
    return status;
}

static enum sag_status write_all(struct surveying *v, FILE *stream)
{
    const struct options *o = v->s->options;
    bool text = strcmp(o->format, "text") == 0;
    v->writer = sag_writer_find(text && o->dips ? "csv" : o->format);
    v->sheet = (struct sag_sheet){.stream = stream,
                                  .view = o->dips       ? &sag_dip_view
                                          : o->findings ? &sag_finding_view
                                                        : &sag_survey_view,
                                  .colour = wants_colour(stream)};
    if (o->findings)
        return write_findings(v);
    if (o->dips) {
        v->writer->begin(&v->sheet, NULL);
        return write_dips(v, SAG_SURVEY_EVENTS);
    }
    return text ? print_text(v) : write_rows(v);
}

static enum sag_status open_files(struct surveying *v, struct sag_out **out, struct sag_out **script)
{
    const struct options *o = v->s->options;
    enum sag_status status = sag_out_open(out, o->output, o->force, &v->s->diags);
    if (status != SAG_OK || !o->script)
        return status;
    status = sag_out_open(script, o->script, o->force, &v->s->diags);
    if (status != SAG_OK)
        sag_out_close(*out, status, &v->s->diags);
    return status;
}

static enum sag_status write_picture(struct surveying *v, struct sag_out *script)
{
    const struct options *o = v->s->options;
    const struct sag_survey_plot_job job = {.table = &v->table,
                                            .place = v->node >= 0 ? place_name(v) : "",
                                            .path = o->script,
                                            .picture = o->render ? o->render : "png"};
    sag_plot_survey(&job, sag_out_stream(script));
    enum sag_status status = sag_out_close(script, SAG_OK, &v->s->diags);
    return status == SAG_OK && o->render ? draw_or_complain(o->script, o->render, &v->s->diags) : status;
}

static void note_dropped(struct surveying *v)
{
    unsigned long long all = events(v);
    if (v->s->options->dips && all > v->survey.event_count)
        sag_complain(&v->s->diags, SAG_NOTE, &(struct sag_place){v->s->options->words[0], 0, 0},
                     "%llu dips, swells and interruptions; the %zu deepest are kept", all, v->survey.event_count);
}

enum exit_status cmd_survey(const struct options *options)
{
    struct session s;
    struct surveying v = {.s = &s};
    struct sag_out *out = NULL, *script = NULL;
    enum sag_status status = session_open(&s, options, options->motors);
    if (status == SAG_OK)
        status = find_place(&v);
    if (status == SAG_OK)
        status = choose_motors(&v);
    if (status == SAG_OK)
        status = survey(&v);
    if (status == SAG_OK) {
        count_results(&v);
        note_dropped(&v);
        status = open_files(&v, &out, &script);
    }
    if (status == SAG_OK) {
        status = sag_out_close(out, write_all(&v, sag_out_stream(out)), &s.diags);
        if (script && status == SAG_OK)
            status = write_picture(&v, script);
        else if (script)
            sag_out_close(script, status, &s.diags);
    }
    sag_survey_result_free(&v.result);
    sag_survey_plates_free(&v.plates);
    sag_survey_free(&v.survey);
    free(v.wanted);
    return session_close(&s, status);
}
