/* Where a reader takes its bytes from. */
#ifndef SAGBAND_INPUT_H
#define SAGBAND_INPUT_H

#include <stddef.h>
#include <stdio.h>

/* One of the two: an open file, or bytes in memory (file == NULL). `name` is what messages call it. */
struct sag_input {
    const char *name;
    FILE *file;
    const void *bytes;
    size_t size;
    /* shown each piece of the file as it is read, so that it can be summed up; NULL: nobody asks */
    void (*seen)(void *context, const void *piece, size_t size);
    void *seen_context;
};

#endif
