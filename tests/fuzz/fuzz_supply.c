#include "fuzz/chain.h"

/* Three-phase, single-phase, and a 50 Hz plate: each meets the board in its own way. */
static const char motors[] = "tag,rated_volts,rated_hp,phases,hz,rpm,efficiency_pct,power_factor,design,code_letter\n"
                             "P-1,208-230/460,40,3,60,1775,94.1,0.86,B,G\n"
                             "BENCH,115/230,0.5,1,60,1725,62,0.65,,\n"
                             "SORT,400,5,3,50,1455,88.6,0.81,N,\n";

void fuzz_supply(const uint8_t *bytes, size_t size)
{
    run_chain(&(struct chain_input){.supply = bytes ? bytes : (const uint8_t *)"",
                                    .supply_size = size,
                                    .motors = motors,
                                    .motors_size = sizeof motors - 1});
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_supply(bytes, size);
    return 0;
}
#endif
