/* The supply path is one or more trees, each below its source. */
#ifndef READ_TREE_H
#define READ_TREE_H

#include "sagband/read.h"

/* Where messages point: cells of the header, counting from 1. */
struct tree_columns {
    uint32_t fed_from, primary_volts, measured_ab;
};

/* Resolve each node's parent from `fed_from` (by file order, NULL at a source), put parents before children, and
   carry nominal volts, frequency and system down. Loops, orphans and voltages that do not meet are errors. */
enum sag_status plant_tree(struct sag_supply *supply, const char *const *fed_from, const struct tree_columns *where,
                           struct sag_diags *diags);

#endif
