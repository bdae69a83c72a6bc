/* Diagnostics: collected by every stage that reads, sorted, capped and printed once, by the program. */
#ifndef SAGBAND_DIAG_H
#define SAGBAND_DIAG_H

#include <stddef.h>
#include <stdint.h>

#include "sagband/status.h"

enum sag_severity {
    SAG_NOTE,
    SAG_WARNING,
    SAG_ERROR,
};

/* Where in the input: line and column count from 1; the column is that of the cell (B in a spreadsheet is 2).
   0 means "the whole file" or "the whole row". */
struct sag_place {
    const char *file;
    uint32_t line, column;
};

struct sag_diag {
    struct sag_place at;
    enum sag_severity severity;
    uint32_t order; /* as it was found, so that equal places keep their order */
    char text[236];
};

/* Open so that a caller can look; filled by sag_complain() only. Start from {0}, end with sag_diags_free(). */
struct sag_diags {
    struct sag_diag *items;
    size_t count, room;
    size_t errors, warnings; /* all that were found, kept or not */
};

enum {
    SAG_DIAGS_KEPT = 50 /* of each severity: enough to mend a file in one go, few enough to read */
};

/* Add one diagnostic, printf style. Returns SAG_BAD_INPUT for an error, else SAG_OK, so that a reader can say
   `return sag_complain(...)`. Text that comes from the input is passed through sag_shown() by the caller. */
enum sag_status sag_complain(struct sag_diags *diags, enum sag_severity severity, const struct sag_place *at,
                             const char *format, ...) __attribute__((format(printf, 4, 5)));

/* Sort by file, line, column. */
void sag_diags_sort(struct sag_diags *diags);

/* Give its memory back and leave {0}. */
void sag_diags_free(struct sag_diags *diags);

struct sag_shown {
    char text[52];
};
/* A copy of user text that is safe to show on a terminal: control bytes become '?', long text ends in "...".
   Returns `shown`. */
const char *sag_shown(struct sag_shown *shown, const char *text, size_t length);

#endif
