/* A row under its rules: which cell a message points to, and its wording. */
#ifndef READ_ROW_CHECK_H
#define READ_ROW_CHECK_H

#include "read/columns.h"
#include "sagband/tables.h"

struct row_check {
    const struct column_set *set;
    const struct column_map *map;
    const struct sag_row *cells;
    const char *file;
    const struct sag_tables *tables;
    struct sag_diags *diags;
};

/* Is anything in that column's cell? */
bool is_filled(const struct row_check *check, const char *column);

/* Of two columns for one fact (length_ft and length_m) the one that this row uses, else the one that the file has,
   else the first. */
const char *used_column(const struct row_check *check, const char *first, const char *second);

/* "column: ..." at that column's cell. Text from the input goes through sag_shown(). */
enum sag_status say_of(const struct row_check *check, enum sag_severity severity, const char *column,
                       const char *format, ...) __attribute__((format(printf, 4, 5)));
enum sag_status refuse_cell(const struct row_check *check, const char *column, const char *what);

#endif
