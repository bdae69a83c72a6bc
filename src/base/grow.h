#ifndef BASE_GROW_H
#define BASE_GROW_H

#include <stdbool.h>
#include <stddef.h>

/* Room for `wanted` items in an array that grows by doubling. items: the address of the array's pointer. false: out of
   memory, and the array is as it was. */
bool sag_grow(void *items, size_t wanted, size_t *room, size_t item_size);

#endif
