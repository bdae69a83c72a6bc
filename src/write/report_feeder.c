/* The section of a feeder: its motors against their bands, their starts, their circuits, each with its pictures. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"
#include "write/html.h"
#include "write/report_parts.h"

/* What a picture shows, by the middle of its file's name. */
static const struct picture {
    const char *kind, *caption, *alt;
} pictures[] = {
    {"band", "Volts at each motor: the pale field is what its plate allows, the bar what the supply gives.",
     "a bar for each motor from the lowest to the highest terminal volts, over the band of its plate; the table of "
     "volts has the numbers"},
    {"effect", "What these volts do to each motor, as a change from the volts of its plate.",
     "changes of amps, torque, slip and heat in each case; the table of volts has the numbers"},
    {"curve", "Torque and amps over speed at the volts of the cases.",
     "torque and line amps of each motor from standstill to full speed at the volts of the cases"},
    {"profile", "Volts along the path from the source to this board.",
     "volts at each board on the way, a line for each case, in percent of nominal"},
    {"sag", "Volts while each motor starts.", "volts at the board and at the motor over time for each start"},
    {"torque", "Torque of each motor against its load during the start.",
     "motor torque and load torque over speed during each start"},
    {"timecurrent", "Time and amps: the start against relay, device and the time the motor stands a locked rotor.",
     "amps of the start over time with the curves of relay and device, on logarithmic axes"},
    {"sizes", "Sizes that the code asks for against those that are there.",
     "for each circuit the range that the code allows for device and overload, and what is installed"},
};

/* Does the path end in -KIND.svg or -KIND-PAGE.svg? */
static bool is_of_kind(const char *path, const char *kind)
{
    const char *name = strrchr(path, '/');
    name = name ? name + 1 : path;
    const char *end = strrchr(name, '.');
    if (!end)
        return false;
    const char *at = end;
    while (at > name && at[-1] >= '0' && at[-1] <= '9')
        at--;
    at = at > name && at < end && at[-1] == '-' ? at - 1 : end;
    size_t n = strlen(kind);
    return (size_t)(at - name) > n && at[-(ptrdiff_t)n - 1] == '-' && strncmp(at - n, kind, n) == 0;
}

static enum sag_status put_figure(FILE *f, const struct sag_report_feeder *r, const struct picture *p, size_t place)
{
    char name[40], alt[400];
    struct sag_shown shown;
    const char *id = r->plant->list->feeders[r->feeder].id;
    snprintf(name, sizeof name, "f%u-%zu", r->feeder, place);
    snprintf(alt, sizeof alt, "Feeder %s: %s", sag_shown(&shown, id, strlen(id)), p->alt);
    fputs("<figure>", f);
    enum sag_status status = put_picture(f, r->pictures[place], name, alt);
    put_sentence(f, "<figcaption>%s</figcaption></figure>\n", &p->caption);
    return status;
}

static enum sag_status put_figures(FILE *f, const struct sag_report_feeder *r, const char *kind)
{
    enum sag_status status = SAG_OK;
    for (size_t k = 0; k < sizeof pictures / sizeof *pictures; k++)
        for (size_t i = 0; i < r->picture_count && status == SAG_OK; i++)
            if (strcmp(pictures[k].kind, kind) == 0 && is_of_kind(r->pictures[i], kind))
                status = put_figure(f, r, &pictures[k], i);
    return status;
}

static enum sag_status put_motors(FILE *f, const struct sag_report_feeder *r)
{
    struct sag_sheet sheet = {.stream = f, .view = &sag_check_view};
    enum sag_status status = SAG_OK;
    sag_as_html.begin(&sheet, "Volts, and what they do");
    for (size_t i = 0; i < r->count; i++)
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++) {
            struct sag_row_text text;
            struct sag_value values[SAG_MOST_COLUMNS];
            if (!r->results[i].of[c].present)
                continue;
            sag_check_row(r->plant->list, &r->results[i], (enum sag_case)c, &text, values);
            status = sag_as_html.row(&sheet, values);
        }
    sag_as_html.end(&sheet);
    return status;
}

static enum sag_status put_starts(FILE *f, const struct sag_report_feeder *r)
{
    struct sag_sheet sheet = {.stream = f, .view = &sag_start_view};
    enum sag_status status = SAG_OK;
    if (r->start_count == 0) {
        fputs("<p>No start of this feeder was run: only the hardest starts of the plant were.</p>\n", f);
        return SAG_OK;
    }
    fputs("<div class=\"starts\">", f);
    sag_as_html.begin(&sheet, "Each start by itself while the rest runs");
    for (size_t i = 0; i < r->start_count; i++)
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++) {
            struct sag_row_text text;
            struct sag_value values[SAG_MOST_COLUMNS];
            if (!r->starts[i].of[c].present)
                continue;
            sag_start_row(r->plant, &r->starts[i], (enum sag_case)c, &text, values);
            status = sag_as_html.row(&sheet, values);
        }
    sag_as_html.end(&sheet);
    fputs("</div>", f);
    return status;
}

static enum sag_status put_circuits(FILE *f, const struct sag_report_feeder *r)
{
    struct sag_sheet sheet = {.stream = f, .view = &sag_protect_view};
    struct sag_protect_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    struct sag_title title;
    enum sag_status status = SAG_OK;
    fputs("<div class=\"schedule\">", f);
    bool titled = r->circuit != SIZE_MAX;
    sag_as_html.begin(&sheet, titled ? sag_circuit_title(r->schedule, r->circuit, &title) : "Circuits");
    for (size_t i = 0; i < r->count && status == SAG_OK; i++) {
        sag_branch_row(r->schedule, &r->branches[i], &text, values);
        status = sag_as_html.row(&sheet, values);
    }
    if (status == SAG_OK && titled && r->schedule->size->feeders[r->circuit].sized) {
        sag_feeder_row(r->schedule, r->circuit, &text, values);
        status = sag_as_html.row(&sheet, values);
    }
    sag_as_html.end(&sheet);
    fputs("</div><p class=\"soft\">Letters of the foot: <a href=\"#feet\">clauses</a>.</p>\n", f);
    return status;
}

static void begin_part(FILE *f, const char *heading)
{
    put_sentence(f, "<h3>%s</h3>\n", &heading);
}

enum sag_status sag_write_report_feeder(FILE *f, const struct sag_report_feeder *r)
{
    static const struct {
        const char *heading;
        enum sag_status (*rows)(FILE *, const struct sag_report_feeder *);
        const char *kinds[4];
    } parts[] = {{"Volts", put_motors, {"band", "profile", "effect", "curve"}},
                 {"Starts", put_starts, {"sag", "torque", NULL, NULL}},
                 {"Wires and protection", put_circuits, {"sizes", "timecurrent", NULL, NULL}}};
    struct sag_title title;
    char id[24];
    snprintf(id, sizeof id, "feeder-%u", r->feeder);
    fprintf(f, "<section class=\"feeder\" id=\"%s\"><h2>", id);
    put_html(f, sag_feeder_title(r->plant, r->supply, r->feeder, &title));
    fputs("</h2>\n", f);
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < sizeof parts / sizeof *parts && status == SAG_OK; i++) {
        begin_part(f, parts[i].heading);
        status = put_figures(f, r, parts[i].kinds[0]);
        status = status == SAG_OK ? parts[i].rows(f, r) : status;
        for (size_t k = 1; k < 4 && parts[i].kinds[k] && status == SAG_OK; k++)
            status = put_figures(f, r, parts[i].kinds[k]);
    }
    end_section(f);
    return status;
}
