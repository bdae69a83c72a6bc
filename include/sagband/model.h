/* The motor as an equivalent circuit: two rotor cages, a core-loss branch, a magnetising branch and leakage that
   saturate. Everything is per unit on the plate's own base: rated phase volts, rated line amps (from P, eta, pf),
   torque in synchronous watts. Multiply ohms by V / (sqrt3 I), torque by sqrt3 V I / (4 pi f / p). */
#ifndef SAGBAND_MODEL_H
#define SAGBAND_MODEL_H

#include "sagband/complete.h"
#include "sagband/quantity.h"
#include "sagband/status.h"

/* How a circuit was found, best first. X(ENUM, words) */
#define SAG_FIT_WAYS(X)                                                                                                \
    X(CLOSE, "meets every target within 1 %")                                                                          \
    X(NEAR, "nearest of three starts, within 10 %")                                                                    \
    X(CONTRADICTED, "the targets contradict each other; nearest circuit kept")                                         \
    X(SINGLE_CAGE, "one cage from the rated point; starting torque is not met")                                        \
    X(NONE, "no circuit")

enum sag_fit_way {
#define SAG_FIT_ENUM(name, words) SAG_FIT_##name,
    SAG_FIT_WAYS(SAG_FIT_ENUM)
#undef SAG_FIT_ENUM
};
/* How a circuit was found, in words. Never NULL. */
const char *sag_fit_words(enum sag_fit_way way);

/* What a circuit has to reproduce; shares of rated unless said otherwise. */
struct sag_targets {
    double efficiency, power_factor, slip;
    double locked_amps;                     /* times computed full-load amps */
    double locked_torque, breakdown_torque; /* times rated torque; NAN when not known */
    int poles;
};

struct sag_machine {
    double stator_r, stator_x, core_r, magnet_x;
    double inner_r, inner_x;       /* the working cage */
    double outer_r, outer_x;       /* the starting cage: more resistance, less leakage */
    double leakage_share;          /* share of the leakage that saturates away at many times rated amps */
    double friction;               /* friction and windage power at rated speed */
    double gap_volts;              /* across the magnetising branch at the rated point */
    double power, slip;            /* rated shaft power and slip (the slip may differ from the plate: see slip_moved) */
    double slip_breakdown;         /* at rated volts */
    double trim_amps, trim_torque; /* at standstill; 1 up to breakdown slip */
    double saddle; /* share of torque that is missing half way to standstill; 0 from a fit, set for a run-up */
    double miss_amps, miss_locked_torque, miss_breakdown; /* share off target before the trims */
    double resistance_ratio, reactance_ratio;             /* how far the data allow a circuit; see sag_suspect() */
    bool slip_moved;                                      /* the plate's rounded speed contradicts its efficiency */
    enum sag_fit_way way;
};

/* Targets of a completed motor; false when it has none to offer (single-phase, or numbers missing). */
bool sag_targets_of(const struct sag_motor *motor, struct sag_targets *targets);

/* Fit the circuit. Always returns one; machine->way says how far to trust it. */
void sag_fit_machine(const struct sag_targets *targets, struct sag_machine *machine);

/* The datum that most likely contradicts the others, in words; NULL when the fit is close. */
const char *sag_suspect(const struct sag_machine *machine);

/* What is at the terminals, per unit of the plate; main_flux: the saturation constant (0 .. 0.3). */
struct sag_feed {
    double volts, hz, main_flux;
};

/* The state of the circuit at one slip. */
struct sag_point {
    double amps, power_factor;
    double power_in, gap_power;   /* input power, air-gap power */
    double torque;                /* at the shaft, friction taken off */
    double winding_loss;          /* stator and rotor copper, stray load loss among them */
    double power_out, efficiency; /* efficiency NAN when nothing comes out */
    double speed;                 /* per unit of rated synchronous speed */
};
/* Solve the circuit at a slip above 0 (2 - s for the negative sequence). Trims apply above breakdown slip. */
void sag_circuit_at(const struct sag_machine *machine, const struct sag_feed *feed, double slip,
                    struct sag_point *point);

/* Where a solution starts from and what it leaves for the next one near by. Start from {.amps = 1}. */
struct sag_guess {
    double amps, flux, volts;
};
/* What a network and a shaft see of the machine: admittance (amps over volts, susceptance below 0) and torque. */
struct sag_response {
    double conductance, susceptance, torque;
};
/* The same solution as sag_circuit_at() for a caller who asks again and again near by, with the saddle in the torque.
 */
void sag_circuit_from(const struct sag_machine *machine, const struct sag_feed *feed, double slip,
                      struct sag_guess *guess, struct sag_response *out);

struct sag_peak {
    double slip, torque;
};
/* Greatest shaft torque between rated slip and standstill at that feed: the first maximum, or standstill. */
struct sag_peak sag_find_breakdown(const struct sag_machine *machine, const struct sag_feed *feed);

/* Load torque at a speed (per unit of rated synchronous speed), in the machine's unit of torque.
   share: of rated power at rated speed. */
double sag_load_torque(const struct sag_machine *machine, const struct sag_load_shape *shape, double share,
                       double speed);

/* Where motor torque meets load torque on the running side of breakdown; false when the load is more than the motor
   can carry at these volts. */
bool sag_operate(const struct sag_machine *machine, const struct sag_feed *feed, const struct sag_load_shape *shape,
                 double share, double *slip, struct sag_point *point);

/* What volts and frequency do to a motor under its load. ORDER EFFECT
   X(ENUM, symbol, words, unit, unit of the change) */
#define SAG_EFFECTS(X)                                                                                                 \
    X(RUNNING_AMPS, "I_run", "running amps", "A", "%")                                                                 \
    X(SLIP, "s", "slip", "", "%")                                                                                      \
    X(SPEED, "n", "speed", "rev/min", "%")                                                                             \
    X(EFFICIENCY, "eta", "efficiency", "%", "points")                                                                  \
    X(POWER_FACTOR, "pf", "power factor", "", "points")                                                                \
    X(LOSSES, "W", "losses", "W", "%")                                                                                 \
    X(RISE, "dT", "winding rise", "K", "K")                                                                            \
    X(STARTING_AMPS, "I_st", "starting amps", "A", "%")                                                                \
    X(STARTING_TORQUE, "T_st", "starting torque", "N m", "%")                                                          \
    X(BREAKDOWN_TORQUE, "T_bd", "breakdown torque", "N m", "%")

enum sag_effect_kind {
#define SAG_EFFECT_ENUM(name, symbol, words, unit, change) SAG_EFFECT_##name,
    SAG_EFFECTS(SAG_EFFECT_ENUM) SAG_EFFECT_COUNT
#undef SAG_EFFECT_ENUM
};

struct sag_effect {
    struct sag_qty at_rated; /* at rated volts and frequency, carrying the same load */
    struct sag_qty at_case;
    struct sag_qty change; /* in the change's unit */
};

struct sag_effects {
    struct sag_effect of[SAG_EFFECT_COUNT]; /* unknown where there is no circuit, or where the motor stalls */
    struct sag_qty negative_amps;           /* negative-sequence amps at slip 2 - s; unknown without unbalance */
    struct sag_qty load_torque;             /* load at breakdown speed over breakdown torque: above 1 it stalls */
    bool stalls;
};

struct sag_effect_words {
    const char *symbol, *words, *unit, *change_unit;
};
/* Symbol, words and units of an effect. */
const struct sag_effect_words *sag_effect_words(enum sag_effect_kind kind);

/* volts: at the motor's terminals (line to line, or to neutral if the motor is so connected); unbalance: NEMA
   definition, a share. Bounds come from the saturation constant's bounds, and for the rise from the rise's own. */
struct sag_supply_point {
    double volts, hz, unbalance;
    double negative_share; /* negative over positive sequence volts; 0 when balanced */
};
/* Effects of that point on the motor, against the same load at the plate's volts and hertz; unknown without a circuit
   and where flux is below 10 % or above 130 % of rated. */
void sag_find_effects(const struct sag_motor *motor, const struct sag_machine *machine,
                      const struct sag_supply_point *supply, struct sag_effects *effects);

/* A per-unit base in physical units. */
struct sag_base {
    double amps, ohms, torque_nm, watts;
};
/* Of a completed motor; NAN where its amps are not known. */
struct sag_base sag_base_of(const struct sag_motor *motor);

/* Circuits of plates that ask for the same targets are fitted once. Start from {0}. */
struct sag_fit_store {
    struct sag_fit_slot *slots;
    size_t count, room;
};
/* Give its memory back and leave {0}. */
void sag_fit_store_free(struct sag_fit_store *store);

/* Fit `count` motors over threads: machines[i] is the circuit of motors[i]. */
enum sag_status sag_fit_all(struct sag_fit_store *store, const struct sag_motor *motors, size_t count,
                            struct sag_machine *machines);

#endif
