/* --measured: a recorder's log makes the measured case. Its means by time stand in the place of three measured volts;
   what 98 % of its time lies between is their range. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/number.h"
#include "cli/session.h"
#include "write/escape.h"

struct measured_log {
    const char *path;
    int32_t node; /* -1: typed volts */
    struct sag_log_facts facts;
    struct sag_volts_span span;
    double recorded_share;
};

int32_t session_log_board(const struct session *s)
{
    return s->list.feeder_count ? s->list.feeders[0].node : -1;
}

/* "BOARD=LOG.csv" where a row of the supply has that id, else the whole is the file. */
static const char *split_option(const struct session *s, int32_t *node)
{
    const char *text = s->options->measured;
    for (size_t i = 0; s->has_supply && i < s->supply.count; i++) {
        size_t n = strlen(s->supply.nodes[i].id);
        if (strncmp(text, s->supply.nodes[i].id, n) == 0 && text[n] == '=') {
            *node = (int32_t)i;
            return text + n + 1;
        }
    }
    *node = s->has_supply ? session_log_board(s) : -1;
    return text;
}

/* For those who read no text: what the measured case is of, and who chose its board. */
static void note_log(struct session *s, const struct measured_log *m)
{
    char begin[SAG_CLOCK_ROOM], end[SAG_CLOCK_ROOM], share[SAG_NUMBER_ROOM], part[SAG_NUMBER_ROOM + 40] = "",
                                                                                                    where[160] = "";
    struct sag_shown shown;
    if (m->node >= 0) {
        const char *id = s->supply.nodes[m->node].id;
        snprintf(where, sizeof where, " at %s%s", sag_shown(&shown, id, strlen(id)),
                 m->path == s->options->measured ? ", the first board with motors (BOARD=FILE names another)" : "");
    }
    if (m->recorded_share < SAG_SURVEY_RECORDED)
        snprintf(part, sizeof part, ", %s %% of it recorded", sag_number_print(share, 100 * m->recorded_share, 1));
    sag_complain(&s->diags, SAG_NOTE, &(struct sag_place){m->path, 0, 0}, "measured case%s: %s to %s%s%s", where,
                 sag_clock_print(begin, m->facts.begin, m->facts.dated),
                 sag_clock_print(end, m->facts.end, m->facts.dated), m->facts.dated ? "" : " s", part);
}

/* A log that is of another voltage than its board was taken elsewhere. */
static enum sag_status check_volts(struct session *s, const struct measured_log *m)
{
    const double *line = m->span.line;
    const struct sag_node *node = m->node < 0 ? NULL : &s->supply.nodes[m->node];
    double volts = (line[0] + line[1] + line[2]) / 3, board = node ? node->volts_nominal : s->typed.line[0];
    char a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM];
    const struct sag_place at = {m->path, 0, 0};
    if ((node || s->typed.count) && fabs(volts / board - 1) > SAG_VOLTS_APART)
        return sag_complain(&s->diags, SAG_ERROR, &at, "its mean of %s V cannot be that of a board of %s V",
                            sag_number_print(a, volts, 1), sag_number_figures(b, board, 5));
    if (!sag_lines_close(line))
        return sag_complain(&s->diags, SAG_ERROR, &at,
                            "cannot be line voltages: the largest mean is not less than the other two together");
    return SAG_OK;
}

static void put_span(struct session *s, const struct measured_log *m)
{
    if (m->node < 0) {
        if (s->typed.count == 0) {
            s->typed.count = 3;
            memcpy(s->typed.line, m->span.line, sizeof s->typed.line);
        }
        return;
    }
    struct sag_node *node = &s->supply.nodes[m->node];
    for (int i = 0; i < 3; i++)
        node->given[SAG_NODE_MEASURED_AB + i] = m->span.line[i];
    node->span_low = m->span.low;
    node->span_high = m->span.high;
}

static enum sag_status survey(struct session *s, struct measured_log *m)
{
    struct sag_input input;
    struct sag_survey *out = calloc(1, sizeof *out);
    double typed = s->typed.count ? s->typed.line[0] : NAN;
    const struct sag_survey_job job = {.tables = s->tables,
                                       .reference = m->node >= 0 ? s->supply.nodes[m->node].volts_nominal : typed,
                                       .hz = SAG_DEFAULT_HZ};
    if (!out)
        return SAG_NO_MEMORY;
    enum sag_status status = session_open_file(s, m->path, &input);
    if (status == SAG_OK)
        status = sag_survey_log(&input, &job, out, &s->diags);
    session_close_file(&input);
    m->facts = out->log;
    m->span = sag_survey_span(out);
    m->recorded_share = out->recorded / out->span;
    sag_survey_free(out);
    free(out);
    return status;
}

enum sag_status session_read_measured(struct session *s)
{
    if (!s->options->measured)
        return SAG_OK;
    struct measured_log *m = s->measured = calloc(1, sizeof *m);
    if (!m)
        return SAG_NO_MEMORY;
    m->path = split_option(s, &m->node);
    if (s->has_supply && m->node < 0) /* the supply or the list was refused */
        return SAG_OK;
    const char *mark = strchr(m->path, '=');
    if (m->path == s->options->measured && mark && access(m->path, F_OK) != 0 && access(mark + 1, F_OK) == 0) {
        struct sag_shown shown;
        return sag_complain(&s->diags, SAG_ERROR, &(struct sag_place){0},
                            "--measured: the supply file has no board \"%s\"",
                            sag_shown(&shown, m->path, (size_t)(mark - m->path)));
    }
    if (s->options->output && sag_same_file(s->options->output, m->path))
        return session_usage(s, "--output names an input; it would be overwritten");
    enum sag_status status = survey(s, m);
    if (status == SAG_OK)
        status = check_volts(s, m);
    if (status == SAG_OK)
        put_span(s, m);
    if (status == SAG_OK)
        note_log(s, m);
    return status;
}

void session_put_log(struct session *s)
{
    if (s->measured && s->measured->node < 0)
        sag_put_log(&s->measured->span, s->boards, s->list.feeder_count);
}

void print_measured_basis(const struct session *s, FILE *stream)
{
    const struct measured_log *m = s->measured;
    char begin[SAG_CLOCK_ROOM], end[SAG_CLOCK_ROOM], a[SAG_NUMBER_ROOM], b[SAG_NUMBER_ROOM], c[SAG_NUMBER_ROOM];
    if (!m)
        return;
    fputs("Measured: ", stream);
    put_plain(stream, m->path);
    if (m->node >= 0) {
        fputs(" at ", stream);
        put_plain(stream, s->supply.nodes[m->node].id);
    }
    const double *line = m->span.line;
    fprintf(stream,
            ", %s to %s%s.\nIts mean of %s V by time is the measured case; %s to %s V, where it was for 98 %% of the "
            "time,\n"
            "is what bands are held against.\n",
            sag_clock_print(begin, m->facts.begin, m->facts.dated), sag_clock_print(end, m->facts.end, m->facts.dated),
            m->facts.dated ? "" : " s", sag_number_print(a, (line[0] + line[1] + line[2]) / 3, 1),
            sag_number_print(b, m->span.low, 1), sag_number_print(c, m->span.high, 1));
}

const char *session_measured_path(const struct session *s)
{
    return s->measured ? s->measured->path : NULL;
}

void free_measured(struct session *s)
{
    free(s->measured);
    s->measured = NULL;
}
