/* A plant from two texts, with its grids at all corners, and its starts judged. */
#ifndef TESTS_START_HELP_H
#define TESTS_START_HELP_H

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "read_help.h"

#define START_SUPPLY                                                                                                   \
    "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,x_over_r,primary_volts,secondary_volts,tap_pct,"       \
    "length_ft,conductor\n"
#define START_MOTORS                                                                                                   \
    "tag,feeder,rated_volts,rated_hp,rpm,poles,efficiency_pct,power_factor,design,locked_amps,locked_torque_pct,"      \
    "breakdown_torque_pct,load,load_pct,load_inertia_kgm2,rotor_inertia_kgm2,stall_time_s,starts_per_hour,starting,"   \
    "start_setting,transfer_s,duty,start_order,start_delay_s,branch_length_ft,branch_conductor\n"

struct start_plant {
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_fit_store store;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_plant plant;
    size_t *order;
    struct sag_start_result *results;
};

static inline void start_plant_open(struct start_plant *p, const char *supply, const char *motors)
{
    struct sag_diags diags = {0};
    char text[4000];
    *p = (struct start_plant){0};
    snprintf(text, sizeof text, START_SUPPLY "%s", supply);
    struct sag_input supply_input = text_input("s.csv", text), motor_input = text_input("m.csv", motors);
    sag_read_supply(&supply_input, shared_tables(), &p->supply, &diags);
    sag_read_motors(&motor_input, shared_tables(), &p->supply, &p->list, &diags);
    check_diags("plant", &diags, "");
    assert_int_equal(sag_find_boards(shared_tables(), &p->supply, NULL, &p->list, &p->boards), SAG_OK);
    struct sag_grid_job job = {shared_tables(), &p->supply, p->boards, &p->list, &p->store, SAG_CORNER_LIKELY};
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        job.corner = (enum sag_corner)k;
        assert_int_equal(sag_grid_build(&job, &p->grids[k]), SAG_OK);
    }
    p->plant = (struct sag_plant){.tables = shared_tables(),
                                  .list = &p->list,
                                  .boards = p->boards,
                                  .cases = {true, true, true, false},
                                  .store = &p->store};
    p->order = calloc(p->list.count, sizeof *p->order);
    p->results = calloc(p->list.count, sizeof *p->results);
    assert_true(p->order && p->results);
    for (size_t i = 0; i < p->list.count; i++)
        p->order[i] = i;
}

static inline struct sag_start_plan start_plant_plan(const struct start_plant *p, enum sag_start_order order)
{
    return (struct sag_start_plan){
        .plant = &p->plant, .grids = p->grids, .order = order, .motors = p->order, .count = p->list.count};
}

static inline void start_plant_judge(struct start_plant *p, enum sag_start_order order)
{
    struct sag_start_plan plan = start_plant_plan(p, order);
    assert_int_equal(sag_judge_starts(&plan, p->results), SAG_OK);
}

static inline void start_plant_free(struct start_plant *p)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&p->grids[k]);
    sag_fit_store_free(&p->store);
    free(p->order);
    free(p->results);
    free(p->boards);
    sag_motor_list_free(&p->list);
    sag_supply_free(&p->supply);
}

/* NULL when that check is ok, or does not apply. */
static inline const struct sag_finding *start_finding(const struct start_plant *p, size_t motor, const char *check,
                                                      enum sag_case which)
{
    const struct sag_start_result *r = &p->results[motor];
    for (size_t i = 0; i < r->finding_count; i++)
        if (r->findings[i].which == which && strcmp(r->findings[i].check->name, check) == 0)
            return &r->findings[i];
    return NULL;
}

static inline size_t motor_named(const struct sag_motor_list *list, const char *tag)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->plates[i].tag, tag) == 0)
            return i;
    fail_msg("no motor %s", tag);
    return 0;
}

#endif
