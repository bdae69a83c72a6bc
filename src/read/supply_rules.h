/* What a supply row must say, by itself. */
#ifndef READ_SUPPLY_RULES_H
#define READ_SUPPLY_RULES_H

#include "read/row_check.h"
#include "sagband/read.h"

/* `fed_from` is NULL where blank. */
enum sag_status check_supply_row(const struct row_check *check, const struct sag_node *row, const char *fed_from);

#endif
