#include "fuzz/chain.h"

void fuzz_motors(const uint8_t *bytes, size_t size)
{
    run_chain(&(struct chain_input){.motors = bytes ? bytes : (const uint8_t *)"", .motors_size = size});
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_motors(bytes, size);
    return 0;
}
#endif
