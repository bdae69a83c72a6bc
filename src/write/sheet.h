/* Building calculation sheets: lines whose formula is shown with its numbers put in. */
#ifndef WRITE_SHEET_H
#define WRITE_SHEET_H

#include "sagband/write.h"

/* A symbol that a formula may use, beside the facts of the motor. */
struct symbol {
    const char *name;
    double value;
    int figures;
};

struct symbols {
    const struct sag_motor *motor; /* NULL: no facts */
    const struct symbol *extra;
    size_t count;
};

/* Add a line with its own rule: symbol, formula and source come from value.rule where the line leaves them NULL. */
void add_line(struct sag_lines *lines, const struct symbols *symbols, struct sag_line line);

/* printf into the sheet's memory; "" when there is none left. */
const char *sheet_text(struct sag_lines *lines, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
