/* What the rows of a supply path say of each other, once they stand in a tree. */
#ifndef READ_PATH_RULES_H
#define READ_PATH_RULES_H

#include "read/row_check.h"
#include "read/tree.h"

struct path_row path_row_of(const struct row_check *check, const char *fed_from);

struct path_check {
    const struct sag_supply *supply;
    const struct column_set *set;
    const struct column_map *map;
    const struct path_row *rows; /* as many as nodes, in file order */
    const struct sag_tables *tables;
    struct sag_diags *diags;
};

/* Voltages that meet, measured volts near nominal, cables that carry, sources that can feed what hangs on them. */
enum sag_status check_path_rules(const struct path_check *check);

#endif
