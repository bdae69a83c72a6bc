/* size_bench SUPPLY MOTORS: the sizes of a whole plant, best of five; prints motors, feeders, seconds, processor
   seconds, and how many motors got a wire and a device. */
#include <gsl/gsl_errno.h>

#include "bench/bench_plant.h"

enum {
    REPEATS = 5
};

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
    double best = INFINITY, least = INFINITY;
    size_t sized = 0;
    for (int i = 0; i < REPEATS; i++) {
        struct sag_plant_size size;
        double start = now(), cpu = busy();
        if (sag_size_plant(&job, &size) != SAG_OK)
            return false;
        best = fmin(best, now() - start);
        least = fmin(least, busy() - cpu);
        sized = count_sized(&size);
        sag_plant_size_free(&size);
    }
    printf("%zu %zu %.4f %.4f %zu\n", p->list.count, p->supply.count, best, least, sized);
    return true;
}

int main(int argc, char **argv)
{
    struct plant p = {0};
    gsl_set_error_handler_off();
    bool well = argc == 3 && open_plant(&p, argv[1], argv[2]) && measure(&p);
    close_plant(&p);
    return well ? 0 : 1;
}
