/* Strings of what was read: many small allocations, one free. */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stddef.h>

struct sag_arena;

/* NULL when out of memory. */
struct sag_arena *sag_arena_new(void);
void sag_arena_free(struct sag_arena *arena);

/* A NUL-terminated copy that lives as long as the arena; NULL when out of memory. */
const char *sag_arena_text(struct sag_arena *arena, const char *text, size_t length);

/* `size` zeroed bytes, aligned for any type. */
void *sag_arena_bytes(struct sag_arena *arena, size_t size);

#endif
