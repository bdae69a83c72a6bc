/* A plant from two texts: read, put on boards, fitted, made a network, solved. */
#ifndef TESTS_NETWORK_HELP_H
#define TESTS_NETWORK_HELP_H

#include <math.h>
#include <stdlib.h>

#include "network/net.h"
#include "read_help.h"

struct grid_plant {
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_fit_store store;
    struct sag_grid grid;
    struct sag_motor_volts *volts;    /* of grid_plant_solve() */
    struct sag_board_report *reports; /* the same */
};

static inline void grid_plant_open(struct grid_plant *p, const char *supply, const char *motors)
{
    struct sag_diags diags = {0};
    *p = (struct grid_plant){0};
    struct sag_input supply_input = text_input("s.csv", supply), motor_input = text_input("m.csv", motors);
    sag_read_supply(&supply_input, shared_tables(), &p->supply, &diags);
    sag_read_motors(&motor_input, shared_tables(), &p->supply, &p->list, &diags);
    check_diags("plant", &diags, "");
    assert_int_equal(sag_find_boards(shared_tables(), &p->supply, NULL, &p->list, &p->boards), SAG_OK);
    const struct sag_grid_job job = {shared_tables(), &p->supply, p->boards, &p->list, &p->store, SAG_CORNER_LIKELY};
    assert_int_equal(sag_grid_build(&job, &p->grid), SAG_OK);
}

/* All four cases, with boards, motors and reports. */
static inline enum sag_status grid_plant_solve(struct grid_plant *p, struct sag_diags *diags)
{
    const struct sag_volts_job job = {&p->grid, &p->supply, &p->list, {true, true, true, true}};
    p->volts = calloc(p->grid.motor_count, sizeof *p->volts);
    p->reports = calloc(p->grid.node_count, sizeof *p->reports);
    return sag_find_volts(&job, p->boards, p->volts, p->reports, diags);
}

static inline void grid_plant_solved(struct grid_plant *p, const char *supply, const char *motors)
{
    struct sag_diags diags = {0};
    grid_plant_open(p, supply, motors);
    enum sag_status status = grid_plant_solve(p, &diags);
    check_diags("solution", &diags, "");
    assert_int_equal(status, SAG_OK);
}

static inline void grid_plant_free(struct grid_plant *p)
{
    free(p->volts);
    free(p->reports);
    sag_grid_free(&p->grid);
    sag_fit_store_free(&p->store);
    free(p->boards);
    sag_motor_list_free(&p->list);
    sag_supply_free(&p->supply);
}

static inline size_t node_at(const struct grid_plant *p, const char *id)
{
    int32_t at = sag_find_node(&p->supply, id);
    if (at < 0)
        fail_msg("no row %s", id);
    return (size_t)at;
}

static inline size_t motor_at(const struct grid_plant *p, const char *tag)
{
    for (size_t i = 0; i < p->list.count; i++)
        if (strcmp(p->list.plates[i].tag, tag) == 0)
            return i;
    fail_msg("no motor %s", tag);
    return 0;
}

static inline const struct sag_board_flow *flow_at(const struct grid_plant *p, const char *id, enum sag_case which)
{
    return &p->reports[node_at(p, id)].of[which];
}

/* All normal motors running at their own load, other load on, settled; free the net. */
static inline void settle_nominal(const struct grid_plant *p, struct net *net)
{
    assert_int_equal(net_init(&p->grid, net), SAG_OK);
    net_set_case(net, SAG_CASE_NOMINAL);
    for (size_t i = 0; i < p->grid.motor_count; i++)
        if (sag_runs_normally(&p->grid.motors[i]))
            net_run_motor(net, i, p->grid.motors[i].share);
    assert_true(net_settle(net, NULL));
}

#endif
