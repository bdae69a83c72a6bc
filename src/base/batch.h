/* The same work on many independent items, over threads; results land by index, so their order never depends on how
   many threads there were. */
#ifndef BASE_BATCH_H
#define BASE_BATCH_H

#include <stddef.h>

typedef void sag_batch_fn(void *context, size_t index);

/* Calls work(context, 0..count-1), each index once. Falls back to the calling thread when no thread can be made. */
void sag_batch_run(sag_batch_fn *work, void *context, size_t count);

#endif
