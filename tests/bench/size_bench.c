/* size_bench SUPPLY MOTORS: the sizes of a whole plant, best of five; prints motors, feeders, seconds, processor
   seconds, and how many motors got a wire and a device. */
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "sagband/sagband.h"

enum {
    REPEATS = 5
};

struct plant {
    struct sag_tables *tables;
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_board *boards;
    struct sag_diags diags;
};

static double clock_of(clockid_t which)
{
    struct timespec t;
    clock_gettime(which, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool open_plant(struct plant *p, const char *supply, const char *motors)
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

static size_t count_sized(const struct sag_plant_size *size)
{
    size_t sized = 0;
    for (size_t i = 0; i < size->motor_count; i++) {
        const struct sag_motor_size *m = &size->motors[i];
        sized += m->wire.size && m->device[m->kind].amps.value > 0;
    }
    return sized;
}

static bool measure(const struct plant *p)
{
    const struct sag_size_job job = {.tables = p->tables, .supply = &p->supply, .boards = p->boards, .list = &p->list};
    double best = INFINITY, busy = INFINITY;
    size_t sized = 0;
    for (int i = 0; i < REPEATS; i++) {
        struct sag_plant_size size;
        double start = clock_of(CLOCK_MONOTONIC), cpu = clock_of(CLOCK_PROCESS_CPUTIME_ID);
        if (sag_size_plant(&job, &size) != SAG_OK)
            return false;
        best = fmin(best, clock_of(CLOCK_MONOTONIC) - start);
        busy = fmin(busy, clock_of(CLOCK_PROCESS_CPUTIME_ID) - cpu);
        sized = count_sized(&size);
        sag_plant_size_free(&size);
    }
    printf("%zu %zu %.4f %.4f %zu\n", p->list.count, p->supply.count, best, busy, sized);
    return true;
}

int main(int argc, char **argv)
{
    struct plant p = {0};
    gsl_set_error_handler_off();
    bool well = argc == 3 && open_plant(&p, argv[1], argv[2]) && measure(&p);
    free(p.boards);
    sag_motor_list_free(&p.list);
    sag_supply_free(&p.supply);
    sag_tables_free(p.tables);
    sag_diags_free(&p.diags);
    return well ? 0 : 1;
}
