/* What a row of the motor list must say, by itself and against the board it hangs on. */
#ifndef READ_MOTOR_RULES_H
#define READ_MOTOR_RULES_H

#include "read/row_check.h"
#include "sagband/read.h"

/* Needed cells, numbers that contradict each other. */
enum sag_status check_plate(const struct row_check *check, const struct sag_plate *plate);

/* Settings that the starting method has, and in its range; a place in the sequence. */
enum sag_status check_start(const struct row_check *check, const struct sag_plate *plate);

/* Its own cable: a length and a size, in a material the tables have. */
enum sag_status check_branch(const struct row_check *check, const struct sag_plate *plate);
/* The same of a whole list that lacks one of the columns: told once, not in each row. */
void check_branch_columns(const struct row_check *header);

/* Plate volts against those of the board; `at` is the cell of rated_volts. `supply` NULL: volts were typed. */
struct board_seen {
    const struct sag_supply *supply;
    int32_t node;
    double volts;
};
enum sag_status check_board(const struct board_seen *board, const struct sag_plate *plate, const struct sag_place *at,
                            struct sag_diags *diags);

#endif
