/* Checks of a plate against itself. A contradiction is a finding, never a silent choice. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0

bool measure_plate_amps(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *plate = &s->motor->fact[SAG_RATED_AMPS];
    const struct sag_qty *computed = &s->motor->fact[SAG_COMPUTED_AMPS];
    bool own_arithmetic = sag_known(&s->motor->fact[SAG_EFFICIENCY]) && sag_known(&s->motor->fact[SAG_POWER_FACTOR]);
    if (s->in_case || !sag_known(plate) || !sag_known(computed) || !own_arithmetic)
        return false;
    *m = (struct sag_measure){
        .value = sag_exact(PERCENT * fabs(plate->value / computed->value - 1), (enum sag_origin)computed->origin),
        .limit = 12, /* rounding of hp, volts and amps on a plate stays well below; common practice */
        .watch = 12,
        .side = AT_MOST,
        .advisory = true,
        .source = "three-phase power; 12 %, common practice"};
    return true;
}

bool measure_plate_speed(const struct sag_subject *s, struct sag_measure *m)
{
    if (s->in_case || !s->motor->speed_refused)
        return false;
    double sync = s->motor->fact[SAG_SYNC_RPM].value;
    *m = (struct sag_measure){.value = sag_exact(s->motor->plate->given[SAG_RPM], SAG_NAMEPLATE),
                              .limit = sync,
                              .watch = sync * (1 - 1e-6),
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "an induction motor runs below synchronous speed"};
    return true;
}

bool measure_plate_slip(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *slip = &s->motor->fact[SAG_SLIP];
    bool high_slip = s->motor->design == 'D' || s->motor->plate->choice[SAG_ROTOR] == SAG_ROTOR_WOUND;
    if (s->in_case || isnan(s->motor->plate->given[SAG_RPM]) || s->motor->speed_refused)
        return false;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * slip->value, SAG_COMPUTED),
                              .limit = high_slip ? 15 : 8, /* common practice */
                              .watch = high_slip ? 15 : 8,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "common practice, no source"};
    return true;
}

bool measure_plate_efficiency(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *efficiency = &s->motor->fact[SAG_EFFICIENCY];
    if (s->in_case || !sag_known(efficiency))
        return false;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * efficiency->value, (enum sag_origin)efficiency->origin),
                              .limit = 99,
                              .watch = 99,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "common practice, no source"};
    return true;
}

bool measure_plate_losses(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *efficiency = &s->motor->fact[SAG_EFFICIENCY];
    const struct sag_qty *power_factor = &s->motor->fact[SAG_POWER_FACTOR];
    if (s->in_case || !sag_known(efficiency) || !sag_known(power_factor))
        return false;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * efficiency->value * power_factor->value, SAG_COMPUTED),
                              .limit = 30,
                              .watch = 30,
                              .side = AT_LEAST,
                              .advisory = true,
                              .source = "common practice, no source"};
    return true;
}

/* kVA per hp outside the letter's range, in the letter's unit; 0 inside. */
bool measure_plate_code_letter(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *letter = &s->motor->fact[SAG_LOCKED_KVA];
    const struct sag_qty *locked = &s->motor->fact[SAG_LOCKED_AMPS];
    const double rounding = 0.05; /* kVA/hp; locked amps are printed in whole amps */
    if (s->in_case || !sag_known(letter) || locked->origin != SAG_NAMEPLATE)
        return false;
    double hp = s->motor->fact[SAG_RATED_POWER].value / SAG_WATTS_PER_HP;
    double kva = sag_phase_factor(s->motor) * s->motor->fact[SAG_RATED_VOLTS].value * locked->value / 1000 / hp;
    double off = fmax(0, fmax(letter->low - kva, kva - letter->high));
    *m = (struct sag_measure){.value = sag_exact(off, SAG_COMPUTED),
                              .limit = rounding,
                              .watch = rounding,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "NEMA MG 1 10.37.2"};
    return true;
}

/* How far a fitted value lies outside what is known of it; a guess missed inside its own bounds contradicts nothing. */
static double outside_bounds(const struct sag_qty *known, double miss)
{
    double fitted = known->value * (1 + miss);
    return fmax(0, fmax(fitted / known->high - 1, 1 - fitted / known->low));
}

bool measure_circuit(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_machine *machine = s->machine;
    if (s->in_case || machine->way > SAG_FIT_CONTRADICTED)
        return false;
    double worst = fmax(outside_bounds(&s->motor->fact[SAG_BREAKDOWN_TORQUE], machine->miss_breakdown),
                        fmax(outside_bounds(&s->motor->fact[SAG_LOCKED_AMPS], machine->miss_amps),
                             outside_bounds(&s->motor->fact[SAG_LOCKED_TORQUE], machine->miss_locked_torque)));
    *m = (struct sag_measure){.value = sag_exact(PERCENT * worst, SAG_COMPUTED),
                              .limit = 10, /* beyond it the data contradict each other */
                              .watch = 10,
                              .side = AT_MOST,
                              .advisory = true,
                              .source = "own fit; 10 %, common practice"};
    return true;
}
