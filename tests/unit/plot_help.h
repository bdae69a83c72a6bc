/* A plant's pictures drawn into the folder of a test, and what stands in their scripts. */
#ifndef TESTS_PLOT_HELP_H
#define TESTS_PLOT_HELP_H

#include "network_help.h"

static inline void run_alone(const struct grid_plant *p, const char *tag, struct sag_run *run)
{
    const struct sag_closing closing = {motor_at(p, tag), 0};
    const struct sag_start_job job = {.tables = shared_tables(),
                                      .grid = &p->grid,
                                      .list = &p->list,
                                      .closings = &closing,
                                      .count = 1,
                                      .which = SAG_CASE_NOMINAL,
                                      .keep_trace = true};
    assert_int_equal(sag_run_up(&job, run), SAG_OK);
}

struct drawn {
    struct grid_plant plant;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_plant_size size;
    struct sag_result *results;
    struct sag_plant judged;
    struct sag_file_list files;
};

/* All motors as if on the first feeder. */
static inline void draw(void **state, const char *supply, const char *motors, struct drawn *d)
{
    grid_plant_solved(&d->plant, supply, motors);
    struct grid_plant *p = &d->plant;
    struct sag_diags diags = {0};
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        const struct sag_grid_job job = {shared_tables(), &p->supply, p->boards,
                                         &p->list,        &p->store,  (enum sag_corner)k};
        assert_int_equal(sag_grid_build(&job, &d->grids[k]), SAG_OK);
    }
    const struct sag_size_job size = {
        .tables = shared_tables(), .supply = &p->supply, .boards = p->boards, .list = &p->list};
    assert_int_equal(sag_size_plant(&size, &d->size), SAG_OK);
    d->judged = (struct sag_plant){.tables = shared_tables(),
                                   .list = &p->list,
                                   .boards = p->boards,
                                   .volts = p->volts,
                                   .cases = {true, true, true, true},
                                   .store = &p->store};
    size_t *all = calloc(p->list.count, sizeof *all);
    for (size_t i = 0; i < p->list.count; i++)
        all[i] = i;
    d->results = calloc(p->list.count, sizeof *d->results);
    assert_int_equal(sag_judge_motors(&d->judged, all, p->list.count, d->results), SAG_OK);
    free(all);
    const struct sag_plot_job job = {.plant = &d->judged,
                                     .results = d->results,
                                     .count = p->list.count,
                                     .supply = &p->supply,
                                     .reports = p->reports,
                                     .grids = d->grids,
                                     .size = &d->size,
                                     .folder = *state,
                                     .picture = "png"};
    assert_int_equal(sag_plot_feeder(&job, &d->files, &diags), SAG_OK);
    check_diags("plots", &diags, "");
}

static inline void drawn_free(struct drawn *d)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&d->grids[k]);
    sag_plant_size_free(&d->size);
    free(d->results);
    sag_file_list_free(&d->files);
    grid_plant_free(&d->plant);
}

static inline char *script(void **state, const char *kind)
{
    char path[200];
    snprintf(path, sizeof path, "%s/MAIN-%s.gp", (char *)*state, kind);
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("%s: not there", path);
    const size_t room = 200000;
    char *text = calloc(room, 1);
    text[fread(text, 1, room - 1, file)] = '\0';
    fclose(file);
    return text;
}

static inline void check_says(const char *text, const char *wanted)
{
    if (!strstr(text, wanted))
        fail_msg("no %s", wanted);
}

/* Value of a row and column, both from 1, of a data block; NAN past its end. */
static inline double cell(const char *text, const char *block, int row, int column)
{
    char begin[64], *end = NULL;
    double value = NAN;
    snprintf(begin, sizeof begin, "$%s << EOD\n", block);
    const char *at = strstr(text, begin);
    if (!at)
        fail_msg("no block %s", block);
    at += strlen(begin);
    for (int r = 1; r < row && strncmp(at, "EOD", 3) != 0; r++)
        at = strchr(at, '\n') + 1;
    if (strncmp(at, "EOD", 3) == 0)
        return NAN;
    end = (char *)at;
    for (int c = 0; c < column; c++)
        value = strtod(end, &end);
    return value;
}

/* The least of a column of a data block. */
static inline double least_in(const char *text, const char *block, int column)
{
    const char *at = strstr(text, block);
    double least = INFINITY;
    assert_non_null(at);
    for (at = strchr(at, '\n') + 1; strncmp(at, "EOD", 3) != 0; at = strchr(at, '\n') + 1) {
        char *end = (char *)at;
        double value = NAN;
        for (int c = 0; c < column; c++)
            value = strtod(end, &end);
        least = fmin(least, value);
    }
    return least;
}

#endif
