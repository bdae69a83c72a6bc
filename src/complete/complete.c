/* The order in which facts are completed; each rule may use those set before it. */
#include <math.h>
#include <string.h>

#include "complete/parts.h"

double given(const struct completing *c, enum sag_fact fact)
{
    if (c->held == fact)
        return c->held_value;
    return fact < SAG_GIVEN_COUNT ? c->plate->given[fact] : NAN;
}

void set_fact(struct completing *c, enum sag_fact fact, struct sag_qty qty, const struct sag_rule *rule)
{
    struct sag_qty *slot = &c->motor->fact[fact];
    *slot = qty;
    slot->rule = rule;
    if (qty.origin >= SAG_TABLE && qty.low < qty.high)
        c->motor->assumed |= (uint64_t)1 << fact;
}

bool set_given(struct completing *c, enum sag_fact fact)
{
    double value = given(c, fact);
    if (isnan(value))
        return false;
    set_fact(c, fact, sag_exact(value, SAG_NAMEPLATE), NULL);
    return true;
}

struct sag_qty from_answer(const struct sag_answer *answer, enum sag_origin origin)
{
    struct sag_qty qty = sag_between(answer->value, answer->low, answer->high, origin);
    qty.from_memory = answer->from_memory;
    return qty;
}

double rated_hp(const struct completing *c)
{
    return fact_value(c, SAG_RATED_POWER) / SAG_WATTS_PER_HP;
}

bool is_three_phase_cage(const struct completing *c)
{
    return fact_value(c, SAG_PHASES) == 3 && c->plate->choice[SAG_ROTOR] != SAG_ROTOR_WOUND;
}

double sag_phase_factor(const struct sag_motor *motor)
{
    return motor->fact[SAG_PHASES].value == 3 ? sqrt(3.0) : 1.0;
}

static void complete_all(struct completing *c)
{
    _Static_assert(SAG_FACT_COUNT <= 64, "assumed has a bit a fact");
    memset(c->motor, 0, sizeof *c->motor);
    c->motor->plate = c->plate;
    for (int i = 0; i < SAG_FACT_COUNT; i++) {
        c->motor->fact[i] = sag_unknown();
        if (i != SAG_RATED_VOLTS)
            set_given(c, (enum sag_fact)i);
    }
    complete_volts(c);
    complete_speed(c);
    complete_power(c);
    complete_locked_rotor(c);
    complete_torques(c);
    complete_heat(c);
    complete_load(c);
}

void sag_complete_motor_with(const struct sag_tables *tables, const struct sag_plate *plate,
                             const struct sag_connection *connection, enum sag_fact fact, double value,
                             struct sag_motor *out)
{
    struct completing c = {tables, plate, *connection, out, fact, value};
    complete_all(&c);
}

void sag_complete_motor(const struct sag_tables *tables, const struct sag_plate *plate,
                        const struct sag_connection *connection, struct sag_motor *out)
{
    sag_complete_motor_with(tables, plate, connection, SAG_FACT_COUNT, NAN, out);
}
