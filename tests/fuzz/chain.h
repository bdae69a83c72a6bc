/* Bytes through all stages, chained as `check`, `start` and `protect` do, with what must hold whatever the bytes are. A
   broken promise ends the process with a message, for the fuzzer and for the corpus test alike. */
#ifndef FUZZ_CHAIN_H
#define FUZZ_CHAIN_H

#include <stddef.h>
#include <stdint.h>

#include "sagband/sagband.h"

/* As on the command line. */
struct chain_options {
    bool cases[SAG_CASE_COUNT];
    enum sag_start_order order;
    enum sag_device device;
    int insulation_c, terminal_c;
    bool measured;              /* without a supply three volts are typed */
    bool for_device, for_relay; /* whose curve the input's is */
    bool us, advice, pictures;
    bool whole; /* small plants go through everything: starts as ordered, sheets of motors, pictures */
};

/* What is NULL is not given: without a supply 480 V are typed, without a plate the motors are a file, without options
   all cases are looked at and the first motors are started. */
struct chain_input {
    const void *supply, *motors, *curve;
    size_t supply_size, motors_size, curve_size;
    const char *plate;
    const struct chain_options *options;
};
void run_chain(const struct chain_input *input);

/* The built-in tables, opened once. */
const struct sag_tables *chain_tables(void);

/* One a harness: the bytes are a motor list, a supply path, the text of --plate, a maker's curve, or a log. */
void fuzz_motors(const uint8_t *bytes, size_t size);
void fuzz_supply(const uint8_t *bytes, size_t size);
void fuzz_plate(const uint8_t *bytes, size_t size);
void fuzz_curve(const uint8_t *bytes, size_t size);
/* Four bytes of options, then supply, motors and a curve with a tilde between. */
void fuzz_chain(const uint8_t *bytes, size_t size);
void fuzz_log(const uint8_t *bytes, size_t size);

#endif
