/* The only door to libcsv: a stream of bytes to rows of cells, each with its line. Finds what spreadsheets leave
   behind (byte order mark, CRLF, semicolons) and refuses what is not a text table with a message that says what to
   do about it. */
#ifndef BASE_CSV_H
#define BASE_CSV_H

#include <stdint.h>

#include "sagband/diag.h"
#include "sagband/input.h"

struct sag_cell {
    const char *text; /* NUL-terminated, without spaces around it */
    size_t length;
};

struct sag_row {
    const struct sag_cell *cells;
    size_t count;
    uint32_t line; /* where its first cell began */
    char mark;     /* the file's decimal mark: '.' or, with semicolons, ',' */
};

/* `row` is called for each row that holds anything, the header first; `comment` (or NULL) for each `#` line before
   the header, without the '#'. A status other than SAG_OK ends the reading and is returned. Cells are valid during
   the call only. */
struct sag_csv_events {
    enum sag_status (*row)(void *context, const struct sag_row *row);
    enum sag_status (*comment)(void *context, const char *text, size_t length);
    void *context;
};

enum {
    SAG_CELL_LIMIT = 1024 * 1024 /* bytes; a longer cell is a missing quote, not a note */
};

enum sag_status sag_csv_read(const struct sag_input *input, const struct sag_csv_events *events,
                             struct sag_diags *diags);

#endif
