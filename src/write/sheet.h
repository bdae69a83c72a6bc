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

/* What the sheet says of where a board's volts are from; NULL: their own origin, such as measured or table. */
const char *board_origin(const struct sag_supply *supply, enum sag_case which, const struct sag_qty *volts);

/* How a board's volts come about, as numbers: "14490 * 480 / 13800 * (1 + 2.5 / 100)"; "" where nothing changes them.
   `volts` are the board's, from the source or, measured, from the nearest row above that has a measurement. */
const char *path_numbers(struct sag_lines *lines, const struct sag_supply *supply, int32_t node,
                         const struct sag_qty *volts);

/* printf into the sheet's memory; "" when there is none left. */
const char *sheet_text(struct sag_lines *lines, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
