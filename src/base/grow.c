#include "base/grow.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

bool sag_grow(void *items, size_t wanted, size_t *room, size_t item_size)
{
    enum {
        FIRST_ROOM = 16
    };
    void *array = NULL;
    if (wanted <= *room)
        return true;
    size_t more = *room ? *room : FIRST_ROOM;
    while (more < wanted && more <= SIZE_MAX / 2)
        more *= 2;
    if (more < wanted || more > SIZE_MAX / item_size)
        return false;
    memcpy(&array, items, sizeof array); /* a pointer of another type may not be read through a void ** */
    void *moved = realloc(array, more * item_size);
    if (!moved)
        return false;
    memcpy(items, &moved, sizeof moved);
    *room = more;
    return true;
}
