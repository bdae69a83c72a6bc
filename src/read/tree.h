/* The supply path is one or more trees, each below its source. */
#ifndef READ_TREE_H
#define READ_TREE_H

#include "sagband/read.h"

/* What is kept of a row beside its node, in file order, for messages and for the tree. */
struct path_row {
    const char *fed_from; /* NULL at a source */
    uint32_t line;
    const char *length, *fault; /* columns it uses: length_ft or length_m, fault_mva or fault_ka */
};

/* Resolve each node's parent, put parents before children, and carry nominal volts, frequency and system down. `column`
   is the cell of fed_from. Loops and orphans are errors, and are cut off, so that the rest can be looked at. */
enum sag_status plant_tree(struct sag_supply *supply, const struct path_row *rows, uint32_t column,
                           struct sag_diags *diags);

#endif
