/* Published and measured numbers under tests/outside/data, as the outside checks read them. */
#ifndef OUTSIDE_PUBLISHED_H
#define OUTSIDE_PUBLISHED_H

#include "support.h"

struct published {
    size_t rows, columns; /* of the numbers, without the header */
    char **cells;         /* the header's row first */
};

/* The file of that name; read once, kept for the whole run. Fails the running test when it cannot be read. */
const struct published *published_file(const char *name);

/* A cell by the name of its column; a column that is not there fails the test. */
const char *published_text(const struct published *file, size_t row, const char *column);
/* The same as a number, NAN where the cell is empty or a word. */
double published_number(const struct published *file, size_t row, const char *column);

#endif
