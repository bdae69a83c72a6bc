/* One row a column says everything the reader, its messages and the templates need. */
#ifndef READ_COLUMNS_H
#define READ_COLUMNS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/csv.h"
#include "sagband/diag.h"

enum column_kind {
    COLUMN_NUMBER,  /* a plain number */
    COLUMN_PERCENT, /* 93 for 0.93; a value up to 1 is taken for a slip of the pen */
    COLUMN_SHARE,   /* 0.85; a value over 1 is taken for a percent */
    COLUMN_WHOLE,   /* a whole number */
    COLUMN_CHOICE,  /* one of some words */
    COLUMN_TEXT,    /* anything; `target` tells the file kind's reader what to do with it */
};

struct column {
    const char *name;
    enum column_kind kind;
    int target;       /* index in given[] or choice[], or the reader's own number for text */
    double scale;     /* column's unit to SI */
    double low, high; /* range in the column's unit */
    const char *unit, *group, *help, *example;
};

typedef const char *column_word_fn(int choice, unsigned value);
typedef enum sag_status column_text_fn(void *reader, const struct column *column, const struct sag_cell *cell,
                                       const struct sag_place *at);

/* What a file kind gives to the row taker. */
struct column_set {
    const struct column *columns;
    int count;
    column_word_fn *word; /* words of a choice */
    column_text_fn *text;
};

enum {
    MAX_FILE_COLUMNS = 512
};

/* Which column each cell of the file belongs to; -1 for one that is ignored. */
struct column_map {
    int column[MAX_FILE_COLUMNS];
    size_t count;
};

/* Match a header row. Unknown columns are noted once with the nearest known name; doubled ones are errors. */
enum sag_status map_header(const struct column_set *set, const struct sag_row *row, const char *file,
                           struct column_map *map, struct sag_diags *diags);
bool has_column(const struct column_set *set, const struct column_map *map, const char *name);

/* The file's cell that holds the column, 0 when the file lacks it (for messages: counts from 1). */
uint32_t cell_of(const struct column_set *set, const struct column_map *map, const char *name);

struct record {
    double *given;
    uint8_t *choice;
    void *reader; /* handed to set->text */
};

/* Take one row into `record`. Returns SAG_BAD_INPUT when a cell was refused; all cells are looked at. */
enum sag_status take_row(const struct column_set *set, const struct column_map *map, const struct sag_row *row,
                         const char *file, const struct record *record, struct sag_diags *diags);

/* The same but for the case of ASCII letters. */
bool same_word(const char *left, const char *right);

/* The candidate nearest in spelling, NULL when none is near. `next(context, i)` is NULL past the last. */
typedef const char *candidate_fn(const void *context, size_t index);
const char *nearest_word(const char *word, candidate_fn *next, const void *context);

#endif
