/* A plate to a motor: every fact with its origin, bounds and rule, from the plate where it says so, else worked out,
   else from a table, else a typical value. */
#ifndef SAGBAND_COMPLETE_H
#define SAGBAND_COMPLETE_H

#include "sagband/quantity.h"
#include "sagband/read.h"
#include "sagband/tables.h"

/* What a motor is connected to, by ratings: decides which voltage of a dual plate is meant. */
struct sag_connection {
    double volts_ll;      /* nominal line volts */
    double hz;            /* of the supply */
    double neutral_share; /* volts from a line to the neutral over line volts: 1/sqrt(3) in a wye, 1/2 in a 240 V system
                             with a centre tap, 0 where there is no neutral */
};

struct sag_motor {
    const struct sag_plate *plate;
    struct sag_qty fact[SAG_FACT_COUNT];
    uint64_t assumed;           /* a bit a fact: not on the plate, so it has bounds */
    struct sag_load_shape load; /* of its load column; constant torque when blank */
    bool line_to_neutral;       /* single-phase, on a line and the neutral */
    double terminal_share;      /* its terminals' volts over line volts */
    bool speed_refused;         /* the plate's rev/min are not below synchronous speed; typical slip taken */
    bool iec;                   /* judged by IEC limits: design N or H, or a 50 Hz plate */
    char design;                /* design letter in use; 0 when a wound rotor or single-phase has none */
};

/* Complete one plate. Cannot fail: what cannot be had is unknown (NAN). */
void sag_complete_motor(const struct sag_tables *tables, const struct sag_plate *plate,
                        const struct sag_connection *connection, struct sag_motor *out);

/* The same with one fact held at a value as if the plate gave it: how a result depends on that fact. */
void sag_complete_motor_with(const struct sag_tables *tables, const struct sag_plate *plate,
                             const struct sag_connection *connection, enum sag_fact fact, double value,
                             struct sag_motor *out);

/* sqrt(3) for three phases, 1 for one: volts times amps to volt-amperes. */
double sag_phase_factor(const struct sag_motor *motor);

#endif
