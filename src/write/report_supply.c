/* The supply as the report shows it: boards in each case, faults, the service and the transformers, changes that help.
 */
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"
#include "write/html.h"
#include "write/report_parts.h"

static enum sag_status put_boards(FILE *f, const struct sag_report_job *job, enum sag_case which)
{
    const struct sag_board_table table = {job->supply, job->reports, job->board_results};
    struct sag_sheet sheet = {.stream = f, .view = &sag_supply_view};
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < job->supply->count && status == SAG_OK; i++) {
        struct sag_row_text text;
        struct sag_value values[SAG_MOST_COLUMNS];
        if (!job->board_results[i].present[which])
            continue;
        if (!sheet.started)
            sag_as_html.begin(&sheet, sag_case_title(which));
        sag_supply_row(&table, i, which, &text, values);
        status = sag_as_html.row(&sheet, values);
    }
    sag_as_html.end(&sheet);
    return status;
}

static enum sag_status put_faults(FILE *f, const struct sag_report_job *job)
{
    const struct sag_board_table table = {job->supply, job->reports, job->board_results};
    struct sag_sheet sheet = {.stream = f, .view = &sag_fault_view};
    enum sag_status status = SAG_OK;
    sag_as_html.begin(&sheet, sag_fault_title());
    for (size_t i = 0; i < job->supply->count && status == SAG_OK; i++) {
        struct sag_row_text text;
        struct sag_value values[SAG_MOST_COLUMNS];
        sag_supply_row(&table, i, SAG_CASE_NOMINAL, &text, values);
        status = sag_as_html.row(&sheet, values);
    }
    sag_as_html.end(&sheet);
    return status;
}

static enum sag_status put_transformer(struct sag_sheet *sheet, const struct sag_report_job *job, size_t i)
{
    struct sag_title title;
    enum sag_status status = SAG_OK;
    sag_as_html.begin(sheet, sag_transformer_title(job->schedule, i, &title));
    for (int w = 0; w < SAG_WINDINGS && status == SAG_OK; w++) {
        struct sag_protect_text text;
        struct sag_value values[SAG_MOST_COLUMNS];
        sag_transformer_row(job->schedule, i, (enum sag_winding)w, &text, values);
        status = sag_as_html.row(sheet, values);
    }
    return status;
}

/* What carries no motor of its own: transformers, the service, boards between. Feeders stand with their motors. */
static enum sag_status put_path_schedule(FILE *f, const struct sag_report_job *job)
{
    const struct sag_plant_size *size = job->schedule->size;
    struct sag_sheet sheet = {.stream = f, .view = &sag_protect_view};
    enum sag_status status = SAG_OK;
    fputs("<div class=\"schedule\">", f);
    for (size_t i = 0; i < size->feeder_count && status == SAG_OK; i++) {
        if (size->transformers && size->transformers[i].present && job->circuit_shown[i])
            status = put_transformer(&sheet, job, i);
        if (status != SAG_OK || !job->circuit_shown[i] || !size->feeders[i].sized ||
            size->feeders[i].feeder != UINT32_MAX)
            continue;
        struct sag_title title;
        struct sag_protect_text text;
        struct sag_value values[SAG_MOST_COLUMNS];
        sag_as_html.begin(&sheet, sag_circuit_title(job->schedule, i, &title));
        sag_feeder_row(job->schedule, i, &text, values);
        status = sag_as_html.row(&sheet, values);
    }
    sag_as_html.end(&sheet);
    fputs("</div>", f);
    return status;
}

static void put_basis(FILE *f, const char *basis)
{
    fputs("<p>", f);
    for (const char *end; *basis; basis = *end ? end + 1 : end) {
        char line[400];
        end = basis + strcspn(basis, "\n");
        snprintf(line, sizeof line, "%.*s", (int)(end - basis), basis);
        put_html(f, line);
        /* a sentence that goes on does so on the same line */
        fputs(end > basis && (end[-1] == '.' || strncmp(basis, "Supply:", 7) == 0) ? "<br>\n" : "\n", f);
    }
    fputs("</p>\n", f);
}

enum sag_status put_supply(FILE *f, const struct sag_report_job *job)
{
    enum sag_status status = SAG_OK;
    begin_section(f, 2, "supply", "The supply");
    put_basis(f, job->basis);
    if (job->supply) {
        fputs("<p>Spares and fire pumps do not run; what fire pumps add "
              "is in the findings. Amps and power go into the board from above; own is what its transformer or "
              "generator may carry, used is by amps, loss is lost in the piece that feeds it.</p>\n",
              f);
        for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++)
            status = put_boards(f, job, (enum sag_case)c);
        status = status == SAG_OK ? put_faults(f, job) : status;
        status = status == SAG_OK ? put_path_schedule(f, job) : status;
    }
    end_section(f);
    return status;
}

static enum sag_status put_taps(FILE *f, const struct sag_report_job *job)
{
    char *text = NULL;
    size_t size = 0;
    FILE *room = open_memstream(&text, &size);
    if (!room)
        return SAG_NO_MEMORY;
    sag_print_tap_advice(room, job->plant, job->grid, job->taps);
    bool whole = fclose(room) == 0;
    if (whole && size) {
        fputs("<pre>", f);
        put_html_block(f, text);
        fputs("</pre>\n", f);
    }
    free(text);
    return whole ? SAG_OK : SAG_NO_MEMORY;
}

static bool has_advice(const struct sag_advice_list *list, size_t motor)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].motor == motor)
            return true;
    return false;
}

/* Failing starts that no line above is about. */
static void put_without_advice(FILE *f, const struct sag_report_job *job)
{
    enum {
        MOST_TAGS = 40
    };
    struct tag_row heavy = {f, job->plant->list, MOST_TAGS, 0}, others = heavy;
    for (size_t i = 0; i < job->plant->list->count; i++)
        if (job->notes->motors[i].heavy) {
            fputs(heavy.count ? "" : "<p>Load inertia above the standard's is a matter for the motor's maker: ", f);
            put_tag_of(&heavy, i);
        }
    end_tags(&heavy);
    fputs(heavy.count ? ".</p>\n" : "", f);
    for (size_t i = 0; i < job->plant->list->count; i++)
        if (job->notes->motors[i].curable && !has_advice(job->advice, i)) {
            fputs(others.count ? "" : "<p>No single change that was tried helps, or none was tried: ", f);
            put_tag_of(&others, i);
        }
    end_tags(&others);
    fputs(others.count ? ".</p>\n" : "", f);
}

enum sag_status put_changes(FILE *f, const struct sag_report_job *job)
{
    struct sag_sheet sheet = {.stream = f, .view = &sag_advice_view};
    begin_section(f, 2, "changes", "Changes that were tried");
    enum sag_status status = job->taps ? put_taps(f, job) : SAG_OK;
    for (size_t i = 0; i < job->advice->count && status == SAG_OK; i++) {
        struct sag_value values[SAG_MOST_COLUMNS];
        if (!sheet.started)
            sag_as_html.begin(
                &sheet,
                "What takes the fail away, each line run, in order of cost; unknown: a plate fact still decides");
        sag_advice_row(job->plant, &job->advice->items[i], values);
        status = sag_as_html.row(&sheet, values);
    }
    sag_as_html.end(&sheet);
    put_without_advice(f, job);
    fputs(job->advice->count ? "<p class=\"soft\">Whether breakers and fuses let it through, ratings of gear, and the "
                               "utility's consent are not part of it.</p>\n"
                             : "<p>No start fails in something that a single change was found to cure.</p>\n",
          f);
    end_section(f);
    return status;
}
