/* A conductor's size as people write it. */
#ifndef READ_CONDUCTOR_H
#define READ_CONDUCTOR_H

#include "read/row_check.h"

/* Is it a size of the conductor tables (12, 4/0, 250) or a metric one (95mm2)? If not, complain and say what would be
   right. `column` names the cell in the message. */
enum sag_status check_conductor(const struct sag_tables *tables, const char *column, const struct sag_cell *cell,
                                const struct sag_place *at, struct sag_diags *diags);

/* A size that passed, with the row's material: not every size comes in aluminum. */
struct conductor_cells {
    const char *column, *size;
    uint8_t material; /* enum sag_material */
};
enum sag_status check_material(const struct row_check *check, const struct conductor_cells *cells);

#endif
