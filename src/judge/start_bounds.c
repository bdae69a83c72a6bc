/* Which plate fact to read next when a start's verdict hangs on what is assumed: the motor's start by itself with each
   assumed fact at both its bounds. */
#include <math.h>
#include <stdlib.h>

#include "judge/parts.h"

/* The subject's motor as the network sees it with one fact held. */
static void hold_fact(const struct sag_subject *s, enum sag_fact fact, double value, struct sag_motor *motor,
                      struct sag_machine *machine, struct sag_grid_motor *out)
{
    struct sag_connection connection = connection_of(s->board);
    struct sag_targets targets;
    sag_complete_motor_with(s->plant->tables, s->motor->plate, &connection, fact, value, motor);
    *machine = (struct sag_machine){.way = SAG_FIT_NONE};
    if (sag_targets_of(motor, &targets))
        sag_fit_machine(&targets, machine);
    *out = s->grid->motors[motor->plate - s->plant->list->plates];
    sag_grid_set_motor(s->plant->tables, motor, machine, SAG_CORNER_LIKELY, out);
}

static void run_with(const struct sag_subject *s, enum sag_fact fact, double value, struct sag_start_case *out)
{
    struct sag_motor motor;
    struct sag_machine machine;
    struct sag_grid_motor instead;
    struct sag_run run;
    hold_fact(s, fact, value, &motor, &machine, &instead);
    const struct sag_closing closing = {(size_t)(s->motor->plate - s->plant->list->plates), 0};
    const struct sag_start_plan plan = {.plant = s->plant, .grids = s->grid};
    const struct sag_start_job job = {.tables = s->plant->tables,
                                      .grid = s->grid,
                                      .list = s->plant->list,
                                      .closings = &closing,
                                      .count = 1,
                                      .which = s->which,
                                      .instead = &instead};
    enum sag_status status = sag_run_up(&job, &run);
    s->start_reruns->no_memory = s->start_reruns->no_memory || status == SAG_NO_MEMORY;
    if (status == SAG_OK)
        condense_start(&plan, &run, 1, 0, out);
    else
        *out = (struct sag_start_case){.present = true, .collapses = true};
    sag_run_free(&run);
}

static const struct sag_start_case *rerun_at(const struct sag_subject *s, enum sag_fact fact, int bound)
{
    struct sag_start_case **slot = &s->start_reruns->of[s->which][fact][bound];
    if (!*slot) {
        *slot = calloc(1, sizeof **slot);
        const struct sag_qty *q = &s->motor->fact[fact];
        s->start_reruns->no_memory = s->start_reruns->no_memory || !*slot;
        if (*slot)
            run_with(s, fact, bound ? q->high : q->low, *slot);
    }
    return *slot;
}

static double distance_at(const struct sag_subject *s, const struct sag_check *check, enum sag_fact fact, int bound)
{
    struct sag_measure m;
    struct sag_subject again = *s;
    again.in_start = rerun_at(s, fact, bound);
    return again.in_start && check->measure(&again, &m) ? m.value.value : NAN;
}

const char *decisive_start_column(const struct sag_subject *s, const struct sag_check *check)
{
    double most = 0;
    const char *column = "";
    if (s->which == SAG_CASE_COUNT) /* no run tells more */
        return check->measure == measure_start_inertia ? sag_motor_column_of(SAG_LOAD_INERTIA) : "";
    uint64_t assumed = sag_assumed_in_start(s->motor);
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        enum sag_fact fact = (enum sag_fact)i;
        const struct sag_qty *q = &s->motor->fact[i];
        if (!(assumed >> i & 1) || !(q->low < q->high) || !sag_motor_column_of(fact))
            continue;
        double low = distance_at(s, check, fact, 0), high = distance_at(s, check, fact, 1);
        /* a run without the value is one that hangs: nothing moves a verdict more */
        double span = isnan(low) != isnan(high) ? INFINITY : fabs(high - low);
        if (span > most) {
            most = span;
            column = sag_motor_column_of(fact);
        }
    }
    return column;
}

void start_reruns_free(struct start_reruns *reruns)
{
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        for (int i = 0; i < SAG_FACT_COUNT; i++)
            for (int k = 0; k < 2; k++)
                free(reruns->of[c][i][k]);
}
