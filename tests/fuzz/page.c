/* The report's page of a small plant, written into memory and looked at. */
#include <stdlib.h>
#include <string.h>

#include "fuzz/printing.h"
#include "fuzz/promises.h"
#include "fuzz/whole.h"

struct page {
    const struct whole_job *job;
    struct sag_report_notes notes;
    struct sag_protect_table schedule;
    struct sag_protect_job circuits;
    bool left_out[WHOLE_MOTORS]; /* all: their starts are looked at elsewhere */
    bool shown[WHOLE_NODES];
    struct sag_result results[WHOLE_MOTORS]; /* of one feeder */
    struct sag_start_result starts[WHOLE_MOTORS];
    struct sag_branch_result branches[WHOLE_MOTORS];
    size_t motors[WHOLE_MOTORS], count;
};

static void take_feeder(struct page *p, const struct sag_start_result *starts, uint32_t feeder)
{
    const struct sag_motor_list *list = p->job->plant->list;
    p->count = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (list->plates[i].feeder != feeder)
            continue;
        p->motors[p->count] = i;
        p->results[p->count] = p->job->results[i];
        p->starts[p->count++] = starts[i];
    }
    must(sag_judge_branches(&p->circuits, p->motors, p->count, p->branches) == SAG_OK, "memory", "page");
    for (size_t i = 0; i < p->count; i++) {
        must(sag_note_check(&p->notes, &p->results[i]) == SAG_OK, "memory", "page");
        must(sag_note_start(&p->notes, &p->starts[i]) == SAG_OK, "memory", "page");
        must(sag_note_branch(&p->notes, &p->branches[i]) == SAG_OK, "memory", "page");
    }
}

static size_t circuit_of(const struct page *p, uint32_t feeder)
{
    const struct sag_plant_size *size = &p->job->circuits->size;
    for (size_t i = 0; i < size->feeder_count; i++)
        if (size->feeders[i].feeder == feeder)
            return i;
    return SIZE_MAX;
}

static void write_feeders(struct page *p, const struct sag_start_result *starts, FILE *sections)
{
    for (uint32_t f = 0; f < p->job->plant->list->feeder_count; f++) {
        take_feeder(p, starts, f);
        const struct sag_report_feeder feeder = {.plant = p->job->plant,
                                                 .supply = p->job->supply,
                                                 .feeder = f,
                                                 .results = p->results,
                                                 .count = p->count,
                                                 .starts = p->starts,
                                                 .start_count = p->count,
                                                 .branches = p->branches,
                                                 .schedule = &p->schedule,
                                                 .circuit = circuit_of(p, f)};
        must(sag_write_report_feeder(sections, &feeder) == SAG_OK, "every feeder has a section", "page");
    }
}

/* What stands in a tag is no tag of the page. */
static void check_page(const struct words *words)
{
    static const char *const never[] = {"<script", "<img", "<iframe", "<object", "<a href=\"javascript", "<!--"};
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        must(!strstr(words->text, never[i]), "nothing of the lists runs in the page", never[i]);
    must(strstr(words->text, "</html>") != NULL, "a page has an end", "page");
}

static void write_page(struct page *p, const struct sag_board_result *boards, FILE *sections)
{
    const struct whole_job *job = p->job;
    const struct sag_advice_list none = {0};
    const struct sag_report_job page = {.plant = job->plant,
                                        .supply = job->supply,
                                        .reports = job->reports,
                                        .board_results = boards,
                                        .grid = job->grids,
                                        .schedule = &p->schedule,
                                        .circuit_shown = p->shown,
                                        .clauses = (UINT64_C(1) << SAG_CLAUSE_COUNT) - 1,
                                        .notes = &p->notes,
                                        .advice = &none,
                                        .basis = "",
                                        .version = "",
                                        .date = "",
                                        .call = "",
                                        .starts_run = job->plant->list->count,
                                        .starts_all = job->plant->list->count,
                                        .feeders = sections};
    struct words words;
    begin_words(&words);
    must(sag_write_report(words.stream, &page) == SAG_OK, "every plant has a page", "page");
    fflush(words.stream);
    check_page(&words);
    end_words(&words, job->says_nan, "page");
}

void run_page(const struct whole_job *job, const struct sag_start_result *starts, const struct sag_board_result *boards)
{
    struct page *p = calloc(1, sizeof *p);
    FILE *sections = tmpfile();
    must(p && sections && sag_notes_init(&p->notes, job->plant->list->count) == SAG_OK, "memory", "page");
    p->job = job;
    memset(p->left_out, true, sizeof p->left_out);
    memset(p->shown, true, sizeof p->shown);
    p->schedule = (struct sag_protect_table){.list = job->plant->list,
                                             .boards = job->plant->boards,
                                             .supply = job->supply,
                                             .size = &job->circuits->size,
                                             .reports = job->reports,
                                             .feeders = job->circuits->feeders,
                                             .transformers = job->circuits->transformers};
    p->circuits = (struct sag_protect_job){.plant = job->plant,
                                           .supply = job->supply,
                                           .size = &job->circuits->size,
                                           .grids = job->grids,
                                           .reports = job->reports,
                                           .left_out = p->left_out};
    write_feeders(p, starts, sections);
    write_page(p, boards, sections);
    fclose(sections);
    sag_notes_free(&p->notes);
    free(p);
}
