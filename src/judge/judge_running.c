/* Checks of a motor that runs: amps, heat, torque to spare. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0

/* Under unbalance the two sequences add up in one of the lines, at most to their sum. */
static struct sag_qty worst_line_amps(const struct sag_effects *effects)
{
    struct sag_qty amps = effects->of[SAG_EFFECT_RUNNING_AMPS].at_case;
    if (sag_known(&effects->negative_amps)) {
        amps.value += effects->negative_amps.value;
        amps.low += effects->negative_amps.low;
        amps.high += effects->negative_amps.high;
    }
    return amps;
}

bool measure_running_amps(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *fact = s->motor->fact;
    if (!s->in_case || !sag_known(&s->in_case->effects.of[SAG_EFFECT_RUNNING_AMPS].at_case))
        return false;
    if (s->motor->plate->choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP) /* it has no overload setting */
        return false;
    double service_factor = fact[SAG_SERVICE_FACTOR].value;
    double rise = fact[SAG_RISE].origin == SAG_NAMEPLATE ? fact[SAG_RISE].value : NAN;
    struct sag_answer ceiling = sag_ask_overload(s->plant->tables, service_factor, rise);
    struct sag_qty amps = worst_line_amps(&s->in_case->effects);
    const struct sag_qty *base = &fact[sag_known(&fact[SAG_RATED_AMPS]) ? SAG_RATED_AMPS : SAG_COMPUTED_AMPS];
    *m = (struct sag_measure){.value = sag_scaled(amps, PERCENT / base->value),
                              .limit = PERCENT * ceiling.value,
                              .watch = PERCENT * fmax(1, service_factor),
                              .side = AT_MOST,
                              .source = "NFPA 70-2023 430.32(A)(1)"};
    m->watch = fmin(m->watch, m->limit);
    return true;
}

bool measure_rise(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *limit = &s->motor->fact[SAG_RISE_LIMIT];
    if (!s->in_case || !sag_known(limit) || !sag_known(&s->in_case->effects.of[SAG_EFFECT_RISE].at_case))
        return false;
    *m = (struct sag_measure){.value = s->in_case->effects.of[SAG_EFFECT_RISE].at_case,
                              .limit = limit->value,
                              .watch = limit->value,
                              .side = AT_MOST,
                              .advisory = true, /* an estimate; inside the band a motor must bear it, MG 1 12.44 */
                              .source = "NEMA MG 1 12.43"};
    return true;
}

/* The plate's breakdown torque counts, not that of a circuit which could not meet it; its own bounds come on top of the
   saturation's. */
bool measure_pull_out(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *breakdown = &s->motor->fact[SAG_BREAKDOWN_TORQUE];
    if (!s->in_case || !sag_known(&s->in_case->effects.load_torque))
        return false;
    double met = isnan(s->machine->miss_breakdown) ? 1 : 1 + s->machine->miss_breakdown;
    struct sag_qty load = sag_scaled(s->in_case->effects.load_torque, PERCENT * met);
    if (sag_known(breakdown)) {
        load.high *= breakdown->value / breakdown->low;
        load.low *= breakdown->value / breakdown->high;
    }
    *m = (struct sag_measure){.value = load,
                              .limit = 100,
                              .watch = 90, /* 10 % of torque to spare, common practice */
                              .side = AT_MOST,
                              .source = "torque must exceed load; 10 % to spare, common practice"};
    return true;
}

/* Another frequency moves the speed, and with it what a pump or fan takes. */
bool measure_load_power(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->in_case || !s->in_case->terminals.by_flux || !sag_known(&s->in_case->effects.of[SAG_EFFECT_SPEED].at_case))
        return false;
    const struct sag_machine *machine = s->machine;
    double share = s->motor->fact[SAG_LOAD_SHARE].value;
    double speed = s->in_case->effects.of[SAG_EFFECT_SPEED].at_case.value / s->motor->fact[SAG_SYNC_RPM].value;
    double power = sag_load_torque(machine, &s->motor->load, share, speed) * speed / machine->power;
    double limit = PERCENT * fmax(1, s->motor->fact[SAG_SERVICE_FACTOR].value);
    *m = (struct sag_measure){.value = sag_exact(PERCENT * power, SAG_COMPUTED),
                              .limit = limit,
                              .watch = limit,
                              .side = AT_MOST,
                              .advisory = true, /* at more hertz a motor can give more power at the same torque */
                              .source = "load curve at the new speed, common practice"};
    return true;
}
