#include <string.h>

#include "fuzz/chain.h"

/* Letters choose, so that stored cases can be read; any byte does. */
static void take_options(const uint8_t bytes[4], struct chain_options *o)
{
    static const int insulations[] = {0, 60, 75, 90}, terminals[] = {0, 60, 75};
    const unsigned cases = bytes[0] & 15U, kind = bytes[2], flags = bytes[3];
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        o->cases[c] = cases == 0 || (cases >> c & 1U);
    o->order = (enum sag_start_order)(bytes[1] % 3);
    o->device = (enum sag_device)(kind % SAG_DEVICE_KINDS);
    o->insulation_c = insulations[kind / SAG_DEVICE_KINDS % 4];
    o->terminal_c = terminals[kind / SAG_DEVICE_KINDS / 4 % 3];
    o->for_device = flags & 1U;
    o->for_relay = flags & 2U;
    o->us = flags & 4U;
    o->advice = flags & 8U;
    o->pictures = flags & 16U;
    o->measured = flags & 32U;
    o->whole = true;
}

struct part {
    const uint8_t *at;
    size_t size;
};

/* Up to the next tilde; what is left begins behind it. */
static struct part take_part(struct part *left)
{
    const uint8_t *tilde = left->size ? memchr(left->at, '~', left->size) : NULL;
    struct part part = {left->at, tilde ? (size_t)(tilde - left->at) : left->size};
    size_t used = part.size + (tilde != NULL);
    *left = (struct part){left->at + used, left->size - used};
    return part;
}

static bool is_blank(struct part part)
{
    for (size_t i = 0; i < part.size; i++)
        if (part.at[i] != '\n' && part.at[i] != ' ')
            return false;
    return true;
}

void fuzz_chain(const uint8_t *bytes, size_t size)
{
    enum {
        OPTION_BYTES = 4
    };
    struct chain_options options = {0};
    if (size < OPTION_BYTES)
        return;
    take_options(bytes, &options);
    struct part left = {bytes + OPTION_BYTES, size - OPTION_BYTES};
    struct part supply = take_part(&left), motors = take_part(&left), curve = take_part(&left);
    struct chain_input input = {.motors = motors.size ? motors.at : (const uint8_t *)"", .motors_size = motors.size};
    input.options = &options;
    if (!is_blank(supply)) {
        input.supply = supply.at;
        input.supply_size = supply.size;
    }
    if (!is_blank(curve) && (options.for_device || options.for_relay)) {
        input.curve = curve.at;
        input.curve_size = curve.size;
    }
    run_chain(&input);
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_chain(bytes, size);
    return 0;
}
#endif
