/* Which plate fact to read next: each assumed fact is set to both its bounds as if the plate said so, everything is
   worked out again, and the one that moves the result most is named. */
#include <math.h>
#include <stdlib.h>

#include "judge/parts.h"

/* A motor with one fact held, through the whole chain; cases are worked out when they are asked for. */
struct rerun {
    struct sag_motor motor;
    struct sag_machine machine;
    struct sag_motor_case in_case[SAG_CASE_COUNT];
    bool made[SAG_CASE_COUNT];
};

static void fit_with(const struct sag_subject *s, enum sag_fact fact, double value, struct rerun *r)
{
    struct sag_connection connection = connection_of(s->board);
    struct sag_targets targets;
    sag_complete_motor_with(s->plant->tables, s->motor->plate, &connection, fact, value, &r->motor);
    r->machine.way = SAG_FIT_NONE;
    if (sag_targets_of(&r->motor, &targets))
        sag_fit_machine(&targets, &r->machine);
}

static const struct sag_motor_case *case_of(const struct sag_subject *s, struct rerun *r)
{
    if (s->which == SAG_CASE_COUNT)
        return NULL;
    struct sag_motor_case *c = &r->in_case[s->which];
    if (!r->made[s->which]) {
        r->made[s->which] = true;
        c->supply_volts = volts_at_board(s->plant, s->motor->plate, s->which);
        find_terminals(s->plant, &r->motor, s->which, &c->terminals);
        const struct sag_terminals *t = &c->terminals;
        struct sag_supply_point point = {t->volts.value, t->hz, t->unbalance, t->negative_share};
        sag_find_effects(&r->motor, &r->machine, &point, &c->effects);
    }
    return c;
}

/* The rerun with the fact at its low (0) or high (1) bound, made once for all cases and checks of the motor. NULL when
   out of memory. */
static struct rerun *rerun_at(const struct sag_subject *s, enum sag_fact fact, int bound)
{
    struct rerun **slot = &s->reruns->of[fact][bound];
    if (!*slot) {
        *slot = calloc(1, sizeof **slot);
        s->reruns->no_memory = s->reruns->no_memory || !*slot;
        const struct sag_qty *q = &s->motor->fact[fact];
        if (*slot)
            fit_with(s, fact, bound ? q->high : q->low, *slot);
    }
    return *slot;
}

void reruns_free(struct reruns *reruns)
{
    for (int i = 0; i < SAG_FACT_COUNT; i++)
        for (int k = 0; k < 2; k++)
            free(reruns->of[i][k]);
}

static bool is_assumed(const struct sag_motor *motor, enum sag_fact fact)
{
    return (motor->assumed & sag_check_facts()) >> fact & 1;
}

/* Distance from the limit with the fact held; the limit may move with the fact (another frequency, another band). */
static double distance_at(const struct sag_subject *s, const struct sag_check *check, enum sag_fact fact, int bound)
{
    struct rerun *r = rerun_at(s, fact, bound);
    struct sag_measure m;
    if (!r)
        return NAN;
    struct sag_subject again = *s;
    again.motor = &r->motor;
    again.machine = &r->machine;
    again.in_case = case_of(s, r);
    return check->measure(&again, &m) ? m.value.value / m.limit : NAN;
}

const char *decisive_column(const struct sag_subject *s, const struct sag_check *check)
{
    double most = 0;
    const char *column = "";
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        enum sag_fact fact = (enum sag_fact)i;
        if (!is_assumed(s->motor, fact) || !sag_motor_column_of(fact))
            continue;
        double span = fabs(distance_at(s, check, fact, 1) - distance_at(s, check, fact, 0));
        if (span > most) {
            most = span;
            column = sag_motor_column_of(fact);
        }
    }
    return column;
}

static int by_span(const void *left, const void *right)
{
    const struct sag_sensitivity *a = left;
    const struct sag_sensitivity *b = right;
    double x = fabs(a->amps_high - a->amps_low), y = fabs(b->amps_high - b->amps_low);
    return x > y ? -1 : x < y ? 1 : (int)a->fact - (int)b->fact;
}

static bool find_one(struct sag_subject *s, enum sag_fact fact, struct sag_sensitivity *out)
{
    struct rerun *low = rerun_at(s, fact, 0), *high = rerun_at(s, fact, 1);
    if (!low || !high)
        return false;
    const struct sag_motor_case *low_case = case_of(s, low), *high_case = case_of(s, high);
    if (!low_case || !high_case)
        return false;
    const struct sag_effect *at_low = low_case->effects.of, *at_high = high_case->effects.of;
    *out = (struct sag_sensitivity){
        .fact = fact,
        .low = s->motor->fact[fact].low,
        .high = s->motor->fact[fact].high,
        .amps_low = at_low[SAG_EFFECT_RUNNING_AMPS].at_case.value,
        .amps_high = at_high[SAG_EFFECT_RUNNING_AMPS].at_case.value,
        .torque_low = at_low[SAG_EFFECT_STARTING_TORQUE].at_case.value,
        .torque_high = at_high[SAG_EFFECT_STARTING_TORQUE].at_case.value,
    };
    return true;
}

enum sag_status sag_find_sensitivity(const struct sag_plant *plant, const struct sag_result *result,
                                     enum sag_case which, struct sag_sensitivities *out)
{
    const struct sag_motor *motor = &result->motor;
    struct reruns reruns = {0};
    struct sag_subject s = {.plant = plant,
                            .motor = motor,
                            .machine = &result->machine,
                            .board = board_of(plant, motor->plate),
                            .in_case = &result->of[which],
                            .which = which,
                            .reruns = &reruns};
    out->count = 0;
    for (int fact = 0; fact < SAG_FACT_COUNT && result->machine.way != SAG_FIT_NONE; fact++)
        if (is_assumed(motor, (enum sag_fact)fact))
            out->count += find_one(&s, (enum sag_fact)fact, &out->of[out->count]);
    reruns_free(&reruns);
    qsort(out->of, out->count, sizeof *out->of, by_span);
    return reruns.no_memory ? SAG_NO_MEMORY : SAG_OK;
}
