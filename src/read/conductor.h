/* A conductor's size as people write it. */
#ifndef READ_CONDUCTOR_H
#define READ_CONDUCTOR_H

#include "base/csv.h"
#include "sagband/tables.h"

/* Is it a size of the conductor tables (12, 4/0, 250) or a metric one (95mm2)? If not, complain and say what would be
   right. `column` names the cell in the message. */
enum sag_status check_conductor(const struct sag_tables *tables, const char *column, const struct sag_cell *cell,
                                const struct sag_place *at, struct sag_diags *diags);

#endif
