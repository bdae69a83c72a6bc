/* What volts arrive at each feeder's board in each supply case. */
#ifndef SAGBAND_NETWORK_H
#define SAGBAND_NETWORK_H

#include "sagband/quantity.h"
#include "sagband/read.h"
#include "sagband/tables.h"

/* ORDER CASE */
#define SAG_CASES(X)                                                                                                   \
    X(NOMINAL, "nominal")                                                                                              \
    X(LOW, "low")                                                                                                      \
    X(HIGH, "high")                                                                                                    \
    X(MEASURED, "measured")

enum sag_case {
#define SAG_CASE_ENUM(name, word) SAG_CASE_##name,
    SAG_CASES(SAG_CASE_ENUM) SAG_CASE_COUNT
#undef SAG_CASE_ENUM
};
/* The word of the case column. Never NULL. */
const char *sag_case_word(enum sag_case which);

/* Volts typed instead of a supply file: one nominal voltage, or three measured line voltages. */
struct sag_typed_volts {
    double line[3];
    int count; /* 0, 1 or 3 */
    double hz; /* 0: not typed */
};

/* One board in one case; `volts` unknown when the case does not exist there. */
struct sag_board_case {
    struct sag_qty volts;  /* line to line; in the measured case the average, bounds the lowest and highest pair */
    double line[3];        /* the three line voltages of the measured case, else 0 */
    double unbalance;      /* NEMA MG 1 14.36.2, a share; 0 unless measured */
    double negative_share; /* negative over positive sequence; 0 unless measured */
};

struct sag_board {
    const char *id;
    struct sag_board_case of[SAG_CASE_COUNT];
    double volts_nominal, hz;
    double neutral_share; /* volts from a line to the neutral over line volts; 0 where there is no neutral */
    int32_t measured_at;  /* node whose measured volts the measured case rests on, -1 */
};

/* Boards of all feeders of a list, in their order (the caller frees with free()). From the supply file when there is
   one, else from the typed volts. Ranges: given, else ANSI C84.1 Range A (60 Hz: service limits at a source,
   utilization limits for typed volts) or IEC 60038 (50 Hz). Conductors and transformers take no volts yet: ratios and
   taps only. */
enum sag_status sag_find_boards(const struct sag_tables *tables, const struct sag_supply *supply,
                                const struct sag_typed_volts *typed, const struct sag_motor_list *list,
                                struct sag_board **boards);

/* No-load volts out over volts in: a transformer's ratio with its tap, 1 for everything else. */
double sag_step_ratio(const struct sag_node *node);

/* 100 x largest deviation from the average over the average, as a share. NEMA MG 1 14.36.2. */
double sag_unbalance(const double line[3]);
/* Negative over positive sequence from the three magnitudes. IEC 61000-4-30 5.7 (from memory). */
double sag_negative_share(const double line[3]);

#endif
