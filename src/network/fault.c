/* Three-phase bolted faults. Impedance is handed down from the sources; what turning motors add comes from the same
   tree with every normally running motor in it, standing still behind nominal volts. IEEE 141 counts motors so in the
   first cycle (from memory). */
#include <math.h>
#include <stdlib.h>

#include "network/parts.h"

static double complex standstill_admittance(const struct sag_grid_motor *g)
{
    const struct sag_feed rated = {1, g->hz_share, 0};
    struct sag_guess guess = {6, 0};
    struct sag_response r;
    if (!g->has_circuit)
        return 0;
    sag_circuit_from(&g->machine, &rated, 1, &guess, &r);
    double complex y = CMPLX(r.conductance, r.susceptance) / g->base.ohms;
    return y / (1 + CMPLX(g->branch_r, g->branch_x) * y);
}

static double complex series(const struct sag_grid_node *node)
{
    return CMPLX(node->r, node->x);
}

static double complex parallel(double complex z, double complex y)
{
    return z / (1 + z * y);
}

/* behind[i]: impedance at node i of all that is not below it; total[i]: with what is below as well. */
static void hand_down(const struct sag_grid *grid, const double complex *below, double complex *behind,
                      double complex *total)
{
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        double n2 = node->ratio * node->ratio;
        double complex above = 0;
        if (node->parent >= 0) {
            /* the parent's other branches stay, this one is taken off */
            double complex mine = n2 * below[i] / (1 + series(node) * below[i]);
            above = n2 * parallel(behind[node->parent], below[node->parent] - mine);
        }
        behind[i] = above + series(node);
        total[i] = parallel(behind[i], below[i]);
    }
}

enum sag_status find_faults(const struct sag_grid *grid, struct sag_board_report *reports)
{
    size_t n = grid->node_count;
    double complex *below = calloc(n, sizeof *below), *behind = calloc(n, sizeof *behind);
    double complex *alone = calloc(n, sizeof *alone), *total = calloc(n, sizeof *total);
    enum sag_status status = below && behind && alone && total ? SAG_OK : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        hand_down(grid, below, behind, alone);
        for (size_t i = 0; i < grid->motor_count; i++)
            if (sag_runs_normally(&grid->motors[i]))
                below[grid->motors[i].node] += standstill_admittance(&grid->motors[i]);
        for (size_t i = n; i-- > 0;) {
            const struct sag_grid_node *node = &grid->nodes[i];
            if (node->parent >= 0)
                below[node->parent] += node->ratio * node->ratio * below[i] / (1 + series(node) * below[i]);
        }
        hand_down(grid, below, behind, total);
    }
    for (size_t i = 0; i < n && status == SAG_OK; i++) {
        double volts = grid->nodes[i].volts_nominal / sqrt(3.0);
        reports[i].fault_amps = volts / cabs(alone[i]);
        reports[i].motor_fault_amps = cabs(volts / total[i]) - reports[i].fault_amps;
    }
    free(below);
    free(behind);
    free(alone);
    free(total);
    return status;
}
