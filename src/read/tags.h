/* Which tags were seen, and on which line first. */
#ifndef READ_TAGS_H
#define READ_TAGS_H

#include <stddef.h>
#include <stdint.h>

#include "sagband/status.h"

struct tag_slot {
    const char *tag; /* not owned */
    uint32_t line;
};

/* Open addressing, never more than half full. Start from {0}. */
struct tag_index {
    struct tag_slot *slots;
    size_t count, room; /* room: a power of two */
};

/* Add a tag; *first_line is 0 when it is new, else the line that had it first. */
enum sag_status tag_index_add(struct tag_index *index, const char *tag, uint32_t line, uint32_t *first_line);
/* The line a tag was added with, 0 when it is not there. */
uint32_t tag_index_find(const struct tag_index *index, const char *tag);
void tag_index_free(struct tag_index *index);

#endif
