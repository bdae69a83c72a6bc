#include "read/tags.h"

#include <stdlib.h>
#include <string.h>

/* FNV-1a: tags are short, and nobody gains from making them collide but slow reading of their own file. */
static size_t hash(const char *text)
{
    uint64_t h = 14695981039346656037U;
    for (; *text; text++)
        h = (h ^ (unsigned char)*text) * 1099511628211U;
    return (size_t)(h ^ h >> 32);
}

static struct tag_slot *find(struct tag_slot *slots, size_t room, const char *tag)
{
    size_t at = hash(tag) & (room - 1);
    while (slots[at].tag && strcmp(slots[at].tag, tag) != 0)
        at = (at + 1) & (room - 1);
    return &slots[at];
}

static enum sag_status grow(struct tag_index *index)
{
    size_t room = index->room ? 2 * index->room : 64;
    struct tag_slot *slots = calloc(room, sizeof *slots);
    if (!slots)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < index->room; i++)
        if (index->slots[i].tag)
            *find(slots, room, index->slots[i].tag) = index->slots[i];
    free(index->slots);
    index->slots = slots;
    index->room = room;
    return SAG_OK;
}

enum sag_status tag_index_add(struct tag_index *index, const char *tag, uint32_t line, uint32_t *first_line)
{
    if (2 * (index->count + 1) > index->room && grow(index) != SAG_OK)
        return SAG_NO_MEMORY;
    struct tag_slot *slot = find(index->slots, index->room, tag);
    *first_line = slot->tag ? slot->line : 0;
    if (!slot->tag) {
        *slot = (struct tag_slot){tag, line};
        index->count++;
    }
    return SAG_OK;
}

uint32_t tag_index_find(const struct tag_index *index, const char *tag)
{
    return index->room ? find(index->slots, index->room, tag)->line : 0;
}

void tag_index_free(struct tag_index *index)
{
    free(index->slots);
    *index = (struct tag_index){0};
}
