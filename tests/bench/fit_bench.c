/* fit_bench MOTORS.csv: time of one fit over the targets of a list, apart for fits that are done after the first start,
   for those that climb the ladder, and for those whose torques are not known. Prints "path fits mean-us median-us
   slowest-us" a line. */
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "model/parts.h"
#include "sagband/sagband.h"

enum path {
    QUICK,
    LADDER,
    ONE_CAGE,
    PATHS
};

struct timings {
    const char *name;
    double *microseconds;
    size_t count;
};

static double now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e6 * (double)t.tv_sec + 1e-3 * (double)t.tv_nsec;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return a < b ? -1 : a > b;
}

static void print_timings(struct timings *t)
{
    double sum = 0;
    qsort(t->microseconds, t->count, sizeof *t->microseconds, by_size);
    for (size_t i = 0; i < t->count; i++)
        sum += t->microseconds[i];
    if (t->count)
        printf("%s %zu %.1f %.1f %.1f\n", t->name, t->count, sum / (double)t->count, t->microseconds[t->count / 2],
               t->microseconds[t->count - 1]);
    else
        printf("%s 0 0 0 0\n", t->name);
}

/* Asked outside the clock: whether the first start alone comes close enough. */
static enum path path_of(const struct sag_targets *targets)
{
    const double close = 0.01; /* as the ladder has it */
    if (isnan(targets->locked_torque) || isnan(targets->breakdown_torque))
        return ONE_CAGE;
    struct rated_point rated = rated_point_of(targets);
    struct sag_machine trial;
    first_guess(&rated, 0, &trial);
    return fit_from(&rated, &trial) <= close ? QUICK : LADDER;
}

static void time_fit(const struct sag_targets *targets, struct timings timings[PATHS])
{
    struct sag_machine machine;
    struct timings *t = &timings[path_of(targets)];
    double start = now_us();
    sag_fit_machine(targets, &machine);
    t->microseconds[t->count++] = now_us() - start;
}

static bool time_all(const struct sag_tables *tables, const struct sag_motor_list *list)
{
    struct timings timings[PATHS] = {
        [QUICK] = {.name = "quick"}, [LADDER] = {.name = "ladder"}, [ONE_CAGE] = {.name = "one_cage"}};
    bool made = true;
    for (int p = 0; p < PATHS; p++) {
        timings[p].microseconds = calloc(list->count, sizeof(double));
        made = made && timings[p].microseconds;
    }
    for (size_t i = 0; i < list->count && made; i++) {
        struct sag_motor motor;
        struct sag_targets targets;
        sag_complete_motor(tables, &list->plates[i], &(struct sag_connection){480, 60, 0.57735}, &motor);
        if (sag_targets_of(&motor, &targets))
            time_fit(&targets, timings);
    }
    for (int p = 0; p < PATHS; p++) {
        if (made)
            print_timings(&timings[p]);
        free(timings[p].microseconds);
    }
    return made;
}

int main(int argc, char **argv)
{
    struct sag_tables *tables = NULL;
    struct sag_motor_list list = {0};
    struct sag_diags diags = {0};
    struct sag_input input = {.name = argc == 2 ? argv[1] : "", .file = argc == 2 ? fopen(argv[1], "rb") : NULL};
    gsl_set_error_handler_off();
    bool well = input.file && sag_tables_open(&tables, &diags) == SAG_OK &&
                sag_read_motors(&input, tables, NULL, &list, &diags) == SAG_OK && time_all(tables, &list);
    if (!well)
        fprintf(stderr, "fit_bench: %s\n", diags.count ? diags.items[0].text : "usage: fit_bench MOTORS.csv");
    sag_motor_list_free(&list);
    sag_tables_free(tables);
    sag_diags_free(&diags);
    if (input.file)
        fclose(input.file);
    return well ? 0 : 2;
}
