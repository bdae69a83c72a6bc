/* Bytes through all stages, chained as `check`, `start` and `protect` do, with what must hold whatever the bytes are. A
   broken promise ends the process with a message, for the fuzzer and for the corpus test alike. */
#ifndef FUZZ_CHAIN_H
#define FUZZ_CHAIN_H

#include <stddef.h>
#include <stdint.h>

#include "sagband/tables.h"

/* What is NULL is not given: without a supply 480 V are typed, without a plate the motors are a file. */
struct chain_input {
    const void *supply, *motors;
    size_t supply_size, motors_size;
    const char *plate;
};
void run_chain(const struct chain_input *input);

/* The built-in tables, opened once. */
const struct sag_tables *chain_tables(void);

/* One a harness: the bytes are a motor list, a supply path, the text of --plate, or a maker's curve. */
void fuzz_motors(const uint8_t *bytes, size_t size);
void fuzz_supply(const uint8_t *bytes, size_t size);
void fuzz_plate(const uint8_t *bytes, size_t size);
void fuzz_curve(const uint8_t *bytes, size_t size);

#endif
