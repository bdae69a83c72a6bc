/* What the files of this folder share beside net.h. */
#ifndef NETWORK_PARTS_H
#define NETWORK_PARTS_H

#include "network/net.h"

/* Line volts of a source row in each case; NAN where the case does not exist. */
void source_volts(const struct sag_tables *tables, const struct sag_node *node, double volts[SAG_CASE_COUNT]);

/* Series impedance, ratio, other load and generator data of a supply row. */
void put_node(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out);

/* Bolted faults at every board: from sources, and with turning motors behind their standstill impedance. */
enum sag_status find_faults(const struct sag_grid *grid, struct sag_board_report *reports);

#endif
