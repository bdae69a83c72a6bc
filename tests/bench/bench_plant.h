/* A plant from two files, and two clocks: what the programs that measure stages share. */
#ifndef BENCH_PLANT_H
#define BENCH_PLANT_H

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "sagband/sagband.h"

struct plant {
    struct sag_tables *tables;
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_fit_store store;
    struct sag_grid grid;
    struct sag_diags diags;
};

static inline double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Processor seconds so far, of all threads: what other work on the machine does not lengthen. */
static inline double busy(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* All but the grid. */
static inline bool open_plant(struct plant *p, const char *supply, const char *motors)
{
    struct sag_input s = {.name = supply, .file = fopen(supply, "rb")};
    struct sag_input m = {.name = motors, .file = fopen(motors, "rb")};
    bool well = s.file && m.file && sag_tables_open(&p->tables, &p->diags) == SAG_OK &&
                sag_read_supply(&s, p->tables, &p->supply, &p->diags) == SAG_OK &&
                sag_read_motors(&m, p->tables, &p->supply, &p->list, &p->diags) == SAG_OK &&
                sag_find_boards(p->tables, &p->supply, &(struct sag_typed_volts){0}, &p->list, &p->boards) == SAG_OK;
    if (s.file)
        fclose(s.file);
    if (m.file)
        fclose(m.file);
    return well;
}

static inline void close_plant(struct plant *p)
{
    sag_grid_free(&p->grid);
    sag_fit_store_free(&p->store);
    free(p->boards);
    sag_motor_list_free(&p->list);
    sag_supply_free(&p->supply);
    sag_tables_free(p->tables);
    sag_diags_free(&p->diags);
}

#endif
