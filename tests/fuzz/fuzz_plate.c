#include <stdlib.h>
#include <string.h>

#include "fuzz/chain.h"

void fuzz_plate(const uint8_t *bytes, size_t size)
{
    char *text = calloc(size + 1, 1); /* of its own size, so that a read beyond its end shows */
    if (!text)
        return;
    if (size)
        memcpy(text, bytes, size);
    run_chain(&(struct chain_input){.plate = text});
    free(text);
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_plate(bytes, size);
    return 0;
}
#endif
