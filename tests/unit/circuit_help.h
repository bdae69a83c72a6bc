/* A plant from two texts whose circuits are sized and judged. */
#ifndef TESTS_CIRCUIT_HELP_H
#define TESTS_CIRCUIT_HELP_H

#include "network_help.h"

struct circuit_plant {
    struct grid_plant plant;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_plant judged;
    struct sag_plant_size size;
    struct sag_branch_result *branches;
    struct sag_circuit_result *feeders, *transformers;
    struct sag_protect_job job;
};

/* Sized, with grids at all corners; device: the kind where none is installed. Judge with circuit_plant_judge(). */
static inline void circuit_plant_open(struct circuit_plant *c, const char *supply, const char *motors,
                                      enum sag_device device)
{
    *c = (struct circuit_plant){0};
    grid_plant_solved(&c->plant, supply, motors);
    struct grid_plant *p = &c->plant;
    struct sag_grid_job grid = {shared_tables(), &p->supply, p->boards, &p->list, &p->store, SAG_CORNER_LIKELY};
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        grid.corner = (enum sag_corner)k;
        assert_int_equal(sag_grid_build(&grid, &c->grids[k]), SAG_OK);
    }
    const struct sag_size_job size = {
        .tables = shared_tables(), .supply = &p->supply, .boards = p->boards, .list = &p->list, .device = device};
    assert_int_equal(sag_size_plant(&size, &c->size), SAG_OK);
    c->judged = (struct sag_plant){.tables = shared_tables(),
                                   .list = &p->list,
                                   .boards = p->boards,
                                   .volts = p->volts,
                                   .cases = {true, true, true, true},
                                   .store = &p->store};
    c->branches = calloc(p->list.count, sizeof *c->branches);
    c->feeders = calloc(p->supply.count, sizeof *c->feeders);
    c->transformers = calloc(p->supply.count, sizeof *c->transformers);
    assert_true(c->branches && c->feeders && c->transformers);
    c->job = (struct sag_protect_job){
        .plant = &c->judged, .supply = &p->supply, .size = &c->size, .grids = c->grids, .reports = p->reports};
}

static inline void circuit_plant_judge(struct circuit_plant *c)
{
    size_t order[16];
    size_t count = c->plant.list.count;
    assert_true(count <= COUNT(order));
    for (size_t i = 0; i < count; i++)
        order[i] = i;
    assert_int_equal(sag_judge_branches(&c->job, order, count, c->branches), SAG_OK);
    sag_judge_circuits(&c->job, c->feeders, c->transformers);
}

static inline void circuit_plant_free(struct circuit_plant *c)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&c->grids[k]);
    sag_plant_size_free(&c->size);
    free(c->branches);
    free(c->feeders);
    free(c->transformers);
    grid_plant_free(&c->plant);
}

/* The worst finding of that check; NULL when it is ok or does not apply. */
static inline const struct sag_finding *worst_finding(const struct sag_finding *items, size_t count, const char *check)
{
    const struct sag_finding *worst = NULL;
    for (size_t i = 0; i < count; i++)
        if (strcmp(items[i].check->name, check) == 0 && (!worst || items[i].verdict > worst->verdict))
            worst = &items[i];
    return worst;
}

static inline const char *found_word(const struct sag_finding *f)
{
    return sag_verdict_word(f ? (enum sag_verdict)f->verdict : SAG_VERDICT_OK);
}

#endif
