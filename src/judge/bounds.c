/* Which plate fact to read next: each assumed fact is set to both its bounds as if the plate said so, everything is
   worked out again, and the one that moves the result most is named. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "judge/parts.h"

/* A motor with one fact held, through the whole chain. */
struct rerun {
    struct sag_motor motor;
    struct sag_machine machine;
    struct sag_motor_case in_case;
};

static void run_with(const struct sag_subject *s, enum sag_fact fact, double value, struct rerun *r)
{
    struct sag_connection connection = connection_of(s->board);
    struct sag_targets targets;
    memset(r, 0, sizeof *r);
    sag_complete_motor_with(s->plant->tables, s->motor->plate, &connection, fact, value, &r->motor);
    r->machine.way = SAG_FIT_NONE;
    if (sag_targets_of(&r->motor, &targets))
        sag_fit_machine(&targets, &r->machine);
    if (s->which == SAG_CASE_COUNT)
        return;
    r->in_case.supply_volts = s->board->of[s->which].volts;
    find_terminals(s->plant->tables, &r->motor, s->board, s->which, &r->in_case.terminals);
    const struct sag_terminals *t = &r->in_case.terminals;
    struct sag_supply_point point = {t->volts.value, t->hz, t->unbalance, t->negative_share};
    sag_find_effects(&r->motor, &r->machine, &point, &r->in_case.effects);
}

static bool is_assumed(const struct sag_motor *motor, enum sag_fact fact)
{
    return (motor->assumed & sag_check_facts()) >> fact & 1;
}

/* Distance from the limit with the fact held; the limit may move with the fact (another frequency, another band). */
static double distance_with(const struct sag_subject *s, const struct sag_check *check, enum sag_fact fact,
                            double value)
{
    struct rerun r;
    struct sag_measure m;
    run_with(s, fact, value, &r);
    struct sag_subject again = *s;
    again.motor = &r.motor;
    again.machine = &r.machine;
    again.in_case = s->in_case ? &r.in_case : NULL;
    return check->measure(&again, &m) ? m.value.value / m.limit : NAN;
}

const char *decisive_column(const struct sag_subject *s, const struct sag_check *check)
{
    double most = 0;
    const char *column = "";
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        enum sag_fact fact = (enum sag_fact)i;
        const struct sag_qty *q = &s->motor->fact[i];
        if (!is_assumed(s->motor, fact) || !sag_motor_column_of(fact))
            continue;
        double span = fabs(distance_with(s, check, fact, q->high) - distance_with(s, check, fact, q->low));
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

size_t sag_find_sensitivity(const struct sag_plant *plant, const struct sag_result *result, enum sag_case which,
                            struct sag_sensitivity *out, size_t room)
{
    const struct sag_motor *motor = &result->motor;
    struct sag_subject s = {plant, motor, &result->machine, &plant->boards[motor->plate->feeder], &result->of[which],
                            which};
    size_t count = 0;
    for (int i = 0; i < SAG_FACT_COUNT && count < room; i++) {
        struct rerun low, high;
        if (!is_assumed(motor, (enum sag_fact)i) || result->machine.way == SAG_FIT_NONE)
            continue;
        run_with(&s, (enum sag_fact)i, motor->fact[i].low, &low);
        run_with(&s, (enum sag_fact)i, motor->fact[i].high, &high);
        const struct sag_effect *at_low = low.in_case.effects.of, *at_high = high.in_case.effects.of;
        out[count++] = (struct sag_sensitivity){
            .fact = (enum sag_fact)i,
            .low = motor->fact[i].low,
            .high = motor->fact[i].high,
            .amps_low = at_low[SAG_EFFECT_RUNNING_AMPS].at_case.value,
            .amps_high = at_high[SAG_EFFECT_RUNNING_AMPS].at_case.value,
            .torque_low = at_low[SAG_EFFECT_STARTING_TORQUE].at_case.value,
            .torque_high = at_high[SAG_EFFECT_STARTING_TORQUE].at_case.value,
        };
    }
    qsort(out, count, sizeof *out, by_span);
    return count;
}
