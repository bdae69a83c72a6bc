/* start_bench one SUPPLY MOTORS TAG: one start beside all that runs, in the nominal case; prints best and median
   milliseconds, steps and seconds simulated.
   start_bench each SUPPLY MOTORS CASES: every motor alone in the first CASES cases that exist, over all threads; prints
   motors, runs, runs that did not settle, seconds, processor seconds.
   start_bench peer FILE: the plant that FILE (for run_up.py) describes, as "one". */
#include <gsl/gsl_errno.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "bench/bench_plant.h"
#include "outside/plant_json.h"

enum {
    REPEATS = 41
};

static bool build_grid(struct plant *p)
{
    const struct sag_grid_job job = {
        .tables = p->tables, .supply = &p->supply, .boards = p->boards, .list = &p->list, .store = &p->store};
    return sag_grid_build(&job, &p->grid) == SAG_OK;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return a < b ? -1 : a > b;
}

static bool time_one(const struct sag_start_job *job)
{
    double ms[REPEATS], end = 0;
    size_t steps = 0;
    for (int i = 0; i < REPEATS; i++) {
        struct sag_run run;
        double since = now();
        enum sag_status status = sag_run_up(job, &run);
        ms[i] = 1e3 * (now() - since);
        steps = run.steps;
        end = run.end_time;
        sag_run_free(&run);
        if (status != SAG_OK)
            return false;
    }
    qsort(ms, REPEATS, sizeof *ms, by_size);
    printf("%.4f %.4f %zu %.3f\n", ms[0], ms[REPEATS / 2], steps, end);
    return true;
}

static bool one(struct plant *p, const char *tag)
{
    for (size_t i = 0; i < p->list.count; i++)
        if (strcmp(p->list.plates[i].tag, tag) == 0)
            return time_one(&(struct sag_start_job){.tables = p->tables,
                                                    .grid = &p->grid,
                                                    .list = &p->list,
                                                    .closings = &(struct sag_closing){i, 0},
                                                    .count = 1,
                                                    .which = SAG_CASE_NOMINAL});
    return false;
}

struct all {
    const struct plant *plant;
    size_t cases;
    atomic_size_t runs, unsettled;
};

static void run_index(void *context, size_t index)
{
    struct all *all = context;
    const struct plant *p = all->plant;
    const struct sag_closing closing = {index / all->cases, 0};
    enum sag_case which = (enum sag_case)(index % all->cases);
    const struct sag_board *board = &p->boards[p->list.plates[closing.motor].feeder];
    struct sag_run run;
    if (!sag_known(&board->of[which].volts))
        return;
    struct sag_start_job job = {
        .tables = p->tables, .grid = &p->grid, .list = &p->list, .closings = &closing, .count = 1, .which = which};
    if (sag_run_up(&job, &run) != SAG_OK || !run.settled)
        atomic_fetch_add(&all->unsettled, 1);
    atomic_fetch_add(&all->runs, 1);
    sag_run_free(&run);
}

static bool each(const struct plant *p, size_t cases)
{
    struct all all = {.plant = p, .cases = cases};
    double since = now(), worked = busy();
    sag_batch_run(run_index, &all, p->list.count * cases);
    double took = now() - since;
    printf("%zu %zu %zu %.4f %.4f\n", p->list.count, (size_t)all.runs, (size_t)all.unsettled, took, busy() - worked);
    return true;
}

static bool peer(const char *path)
{
    struct rig rig;
    FILE *to = fopen(path, "w");
    rig_weak_plant(&rig);
    rig.job.keep_trace = false;
    rig_close(&rig, RIG_STARTS, 0);
    if (!to)
        return false;
    write_plant_json(&rig, 20, 1e-4, to);
    return fclose(to) == 0 && time_one(&rig.job);
}

int main(int argc, char **argv)
{
    struct plant plant = {0};
    bool well = false;
    gsl_set_error_handler_off();
    if (argc == 3 && strcmp(argv[1], "peer") == 0)
        return peer(argv[2]) ? 0 : 2;
    if (argc == 5 && open_plant(&plant, argv[2], argv[3]) && build_grid(&plant)) {
        if (strcmp(argv[1], "one") == 0)
            well = one(&plant, argv[4]);
        else if (strcmp(argv[1], "each") == 0)
            well = each(&plant, strtoul(argv[4], NULL, 10));
    }
    if (!well)
        fprintf(stderr, "start_bench: %s\n",
                plant.diags.count ? plant.diags.items[0].text : "one|each SUPPLY MOTORS TAG|CASES, or peer FILE");
    close_plant(&plant);
    return well ? 0 : 2;
}
