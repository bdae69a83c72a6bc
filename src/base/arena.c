#include "base/arena.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

struct block {
    struct block *next;
    size_t used, room;
    alignas(max_align_t) unsigned char bytes[];
};

struct sag_arena {
    struct block *first;
};

enum {
    BLOCK_SIZE = 64 * 1024
};

struct sag_arena *sag_arena_new(void)
{
    return calloc(1, sizeof(struct sag_arena));
}

void sag_arena_free(struct sag_arena *arena)
{
    if (!arena)
        return;
    for (struct block *block = arena->first; block;) {
        struct block *next = block->next;
        free(block);
        block = next;
    }
    free(arena);
}

static void *take(struct sag_arena *arena, size_t size, size_t align)
{
    struct block *block = arena->first;
    size_t start = block ? (block->used + align - 1) / align * align : 0;
    if (!block || start + size > block->room) {
        size_t room = size > BLOCK_SIZE ? size : BLOCK_SIZE;
        block = calloc(1, sizeof *block + room);
        if (!block)
            return NULL;
        block->room = room;
        block->next = arena->first;
        arena->first = block;
        start = 0;
    }
    block->used = start + size;
    return block->bytes + start;
}

const char *sag_arena_text(struct sag_arena *arena, const char *text, size_t length)
{
    char *copy = take(arena, length + 1, 1);
    if (!copy)
        return NULL;
    memcpy(copy, text, length);
    copy[length] = '\0';
    return copy;
}

void *sag_arena_bytes(struct sag_arena *arena, size_t size)
{
    return take(arena, size, alignof(max_align_t));
}
