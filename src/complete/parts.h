/* What the rules of this folder share. Each takes the facts in the order of complete.c and fills its own. */
#ifndef COMPLETE_PARTS_H
#define COMPLETE_PARTS_H

#include "sagband/complete.h"

struct completing {
    const struct sag_tables *tables;
    const struct sag_plate *plate;
    struct sag_connection connection;
    struct sag_motor *motor;
    enum sag_fact held; /* SAG_FACT_COUNT when none is */
    double held_value;
};

/* The plate's number, or the value a fact is held at; NAN when neither. */
double given(const struct completing *c, enum sag_fact fact);
static inline double fact_value(const struct completing *c, enum sag_fact fact)
{
    return c->motor->fact[fact].value;
}

/* Set a fact. One that is not from the plate and has room between its bounds is noted as assumed. */
void set_fact(struct completing *c, enum sag_fact fact, struct sag_qty qty, const struct sag_rule *rule);
/* Set a fact from the plate; false when the plate is silent. */
bool set_given(struct completing *c, enum sag_fact fact);
/* A table's answer as a quantity: value, and bounds as given by its own low and high. */
struct sag_qty from_answer(const struct sag_answer *answer, enum sag_origin origin);

double rated_hp(const struct completing *c);
bool is_three_phase_cage(const struct completing *c);

void complete_volts(struct completing *c);
void complete_speed(struct completing *c);
void complete_power(struct completing *c);
void complete_locked_rotor(struct completing *c);
void complete_torques(struct completing *c);
void complete_heat(struct completing *c);
void complete_load(struct completing *c);

#endif
