/* Checks of a start. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0

static struct sag_qty percent_of(struct sag_qty q, double whole)
{
    return sag_scaled(q, PERCENT / whole);
}

/* Was there a start to look at? */
static bool started(const struct sag_subject *s)
{
    return s->in_start && s->which != SAG_CASE_COUNT && !s->in_start->collapses && s->in_start->likely.computed;
}

static double limit_of(const struct sag_subject *s, const char *criterion)
{
    return PERCENT * sag_ask_start_limit(s->plant->tables, criterion).value;
}

bool measure_start_computed(const struct sag_subject *s, struct sag_measure *m)
{
    if (s->which != SAG_CASE_COUNT || !s->in_start || s->in_start->collapses || s->in_start->likely.computed)
        return false;
    *m = (struct sag_measure){.value = sag_between(0, 0, 1, SAG_ASSUMED),
                              .limit = 1,
                              .watch = 1,
                              .side = AT_LEAST,
                              .source = "own circuit; a wound rotor starts as its resistors let it"};
    return true;
}

bool measure_start_collapse(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->in_start || s->which == SAG_CASE_COUNT)
        return false;
    *m = (struct sag_measure){.value = sag_exact(s->in_start->collapses ? 1 : 0, SAG_COMPUTED),
                              .limit = 0,
                              .watch = 0,
                              .side = AT_MOST,
                              .source = "own network solution"};
    return true;
}

bool measure_start_speed(const struct sag_subject *s, struct sag_measure *m)
{
    const double near = 0.9; /* a hanging motor stays far below its full-load speed */
    if (!started(s))
        return false;
    const struct sag_start_case *c = s->in_start;
    double full = s->board->hz / s->motor->fact[SAG_HZ].value * (1 - s->motor->fact[SAG_SLIP].value);
    struct sag_qty speed = percent_of(c->speed_end, full);
    double limit = PERCENT * near;
    if (!c->likely.runs_up && !c->some_run_up)
        limit = PERCENT; /* it may hang in a wye, not far below */
    else if (!c->likely.runs_up && speed.value >= limit)
        limit = fmin(PERCENT, speed.high); /* met at the bound at which it gets up */
    *m = (struct sag_measure){.value = speed,
                              .limit = limit,
                              .watch = limit,
                              .side = AT_LEAST,
                              .source = "motor torque must exceed load torque up to full speed"};
    return true;
}

bool measure_start_torque(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s) || !s->in_start->likely.runs_up || !sag_known(&s->in_start->least_surplus))
        return false; /* one that hangs has its own check */
    *m = (struct sag_measure){.value = sag_scaled(s->in_start->least_surplus, PERCENT),
                              .limit = 0,
                              .watch = 10, /* of rated torque to spare; common practice */
                              .side = AT_LEAST,
                              .source = "torque must exceed load; 10 % to spare, common practice"};
    return true;
}

/* Less than the usual limit does when the motor has torque to spare there, even at the hard bounds. */
bool measure_start_volts(const struct sag_subject *s, struct sag_measure *m)
{
    const double to_spare = 0.10;
    if (!started(s))
        return false;
    double limit = limit_of(s, "starting motor, least volts");
    *m = (struct sag_measure){.value = percent_of(s->in_start->volts_lowest, s->motor->fact[SAG_RATED_VOLTS].value),
                              .limit = limit,
                              .watch = limit,
                              .side = AT_LEAST,
                              .advisory = s->in_start->least_surplus.low >= to_spare,
                              .source = s->in_start->least_surplus.low >= to_spare
                                            ? "IEEE 399, motor starting (from memory); torque is to spare"
                                            : "IEEE 399, motor starting (from memory)"};
    return true;
}

/* A motor that was low before, and that this start takes next to nothing from, is not this start's. */
bool measure_start_others(const struct sag_subject *s, struct sag_measure *m)
{
    const double counts = 0.01;
    const struct sag_start_case *c = s->in_start;
    if (!started(s) || !sag_known(&c->other_share) || c->other_before - c->other_share.value < counts)
        return false;
    *m = (struct sag_measure){.value = sag_scaled(c->other_share, PERCENT),
                              .limit = limit_of(s, "lowest board volts, plant specification"),
                              .watch = limit_of(s, "motor terminal voltage while accelerating, plant specification"),
                              .side = AT_LEAST,
                              .source = "common practice, table starting_voltage_criteria"};
    return true;
}

bool measure_start_dragged(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s))
        return false;
    *m = (struct sag_measure){.value = sag_exact((double)s->in_start->dragged_count, SAG_COMPUTED),
                              .limit = 0,
                              .watch = 0,
                              .side = AT_MOST,
                              .source = "running motors must keep turning"};
    return true;
}

bool measure_start_coils(const struct sag_subject *s, struct sag_measure *m)
{
    const double close = 5; /* points; the spread of coils, common practice */
    if (!started(s))
        return false;
    double limit = limit_of(s, "contactor that must stay in, coils that let go early");
    *m = (struct sag_measure){.value = sag_scaled(s->in_start->coil_share, PERCENT),
                              .limit = limit,
                              .watch = limit + close,
                              .side = AT_LEAST,
                              .source = "IEEE 399, contactor hold-in (from memory)"};
    return true;
}

bool measure_start_flicker(const struct sag_subject *s, struct sag_measure *m)
{
    double starts = s->motor->plate->given[SAG_STARTS_PER_HOUR];
    if (!started(s) || s->in_start->lamp_node < 0)
        return false;
    struct sag_flicker border = sag_ask_flicker(s->plant->tables, isnan(starts) ? 1 : starts);
    *m = (struct sag_measure){.value = sag_scaled(s->in_start->lamp_dip, PERCENT),
                              .limit = PERCENT * border.irritating.value,
                              .watch = PERCENT * border.irritating.value,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = isnan(starts) ? "IEEE 141, figure 3-8, one start an hour (from memory)"
                                                      : "IEEE 141, figure 3-8 (from memory)"};
    return true;
}

bool measure_start_heat(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s) || !sag_known(&s->in_start->heat_used))
        return false;
    *m = (struct sag_measure){.value = percent_of(s->in_start->heat_used, s->motor->fact[SAG_STALL_TIME].value),
                              .limit = 100,
                              .watch = 80, /* common practice */
                              .side = AT_MOST,
                              .source = s->motor->fact[SAG_STALL_TIME].origin == SAG_NAMEPLATE
                                            ? "permitted locked-rotor time of the plate"
                                            : "NEMA MG 1 12.49 (from memory)"};
    return true;
}

/* The standard's table is for Design A and B at 60 Hz. It does not ask for the case. */
bool measure_start_inertia(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *fact = s->motor->fact;
    if (s->which != SAG_CASE_COUNT || !s->in_start || s->in_start->likely.driven ||
        (s->motor->design != 'A' && s->motor->design != 'B'))
        return false;
    struct sag_answer most = sag_ask_load_inertia_limit(
        s->plant->tables, fact[SAG_RATED_POWER].value / SAG_WATTS_PER_HP, fact[SAG_SYNC_RPM].value);
    if (isnan(most.value))
        return false;
    *m = (struct sag_measure){.value = percent_of(fact[SAG_LOAD_INERTIA], most.value),
                              .limit = 100,
                              .watch = 100,
                              .side = AT_MOST,
                              .source = "NEMA MG 1 12.54.1, table 12-7"};
    return true;
}

bool measure_start_transfer(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s) || !sag_known(&s->in_start->amps_transfer))
        return false;
    *m = (struct sag_measure){.value = percent_of(s->in_start->amps_transfer, s->motor->fact[SAG_LOCKED_AMPS].value),
                              .limit = 100,
                              .watch = 100,
                              .side = AT_MOST,
                              .advisory =
                                  true, /* it trips instantaneous devices; what they let through is another check */
                              .source = "open transition, own estimate"};
    return true;
}

bool measure_fire_start(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s) || s->motor->plate->choice[SAG_DUTY] != SAG_DUTY_FIRE_PUMP)
        return false;
    *m = (struct sag_measure){.value = percent_of(s->in_start->board_lowest, s->board->volts_nominal),
                              .limit = PERCENT * SAG_FIRE_PUMP_START,
                              .watch = PERCENT * SAG_FIRE_PUMP_START +
                                       2, /* two points are a meter's error and a hot cable; common practice */
                              .side = AT_LEAST,
                              .source = "NFPA 70-2023 695.7(A)"};
    return true;
}

bool measure_fire_run(const struct sag_subject *s, struct sag_measure *m)
{
    if (!started(s) || isnan(s->in_start->run_share))
        return false;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * s->in_start->run_share, SAG_COMPUTED),
                              .limit = PERCENT * SAG_FIRE_PUMP_RUN,
                              .watch = PERCENT * SAG_FIRE_PUMP_RUN + 1,
                              .side = AT_LEAST,
                              .source = "NFPA 70-2023 695.7(B)"};
    return true;
}
