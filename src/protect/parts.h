/* What the files of this folder share. */
#ifndef PROTECT_PARTS_H
#define PROTECT_PARTS_H

#include "sagband/protect.h"

#define CLAUSE_BIT(clause) ((uint64_t)1 << (clause))

/* Shares that the clauses fix. The formulas of SAG_CLAUSES say the same: ORDER CLAUSE */
#define CONTINUOUS_SHARE   1.25   /* of amps; NFPA 70-2023 430.22, 430.24, 695.6(B) */
#define WYE_DELTA_SHARE    0.72   /* of code amps in each lead; 430.22(C) */
#define PART_WINDING_SHARE 0.625  /* of code amps to each winding; 430.22(D) */
#define DISCONNECT_SHARE   1.15   /* of code amps; 430.110(A) */
#define GENERATOR_SHARE    1.15   /* of rated amps; 445.13(A) (from memory) */
#define STEP_UP_TO         800.0  /* A; up to here a device may be the next size above its wires; 240.4(B) and (C) */
#define HIGH_VOLTS         1000.0 /* V; the rules used here end there */
#define LOW_SPEED          1200.0 /* rev/min; 430.6(A)(1): below it nameplate amps count */

/* A quantity that a clause gives: the origin and bounds of `of`, scaled. */
struct sag_qty by_clause(enum sag_clause clause, struct sag_qty of, double share);
/* The same from a number without bounds. */
struct sag_qty clause_amps(enum sag_clause clause, double amps);

static inline bool is_fuse(enum sag_device device)
{
    return device == SAG_DEVICE_DUAL_ELEMENT_FUSE || device == SAG_DEVICE_NONTIME_FUSE;
}

/* The equipment ground behind a device: Table 250.122, not larger than the wire. NULL: no wire or past the table. */
const char *ground_for(const struct sag_tables *tables, double device_amps, const struct sag_wire *wire);

/* Kind of a feeder's or transformer's device: as installed, else as asked for; these have no instantaneous-trip
   breakers. */
uint8_t path_device_kind(const struct sag_size_job *job, uint8_t installed);

/* What is supposed of wires that the list does not describe. */
struct sag_wiring usual_wiring(const struct sag_size_job *job);
/* Wires of a circuit that is no motor's: 240.4(D) keeps the smallest of them below a device as well. */
struct sag_wire choose_protected_wire(const struct sag_tables *tables, const struct sag_wiring *wiring, double amps,
                                      double device_amps);

/* Size feeders and transformers from sized motors; `out` has its motors. */
enum sag_status size_feeders(const struct sag_size_job *job, struct sag_plant_size *out);
void size_transformer(const struct sag_size_job *job, const struct sag_feeder_size *below, size_t node,
                      struct sag_transformer_size *out);

/* Does a generator stand at the head of that board's path? */
bool is_on_set(const struct sag_supply *supply, int32_t node);

#endif
