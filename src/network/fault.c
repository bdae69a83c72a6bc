/* Three-phase bolted faults. Impedance is handed down from the sources; what turning motors add comes from the same
   tree with every normally running motor in it, standing still behind nominal volts. IEEE 141 counts motors so in the
   first cycle (from memory). */
#include <math.h>
#include <stdlib.h>

#include "network/parts.h"

static double complex standstill_admittance(const struct sag_grid_motor *g)
{
    const struct sag_feed rated = {1, g->hz_share, 0};
    struct sag_guess guess = {.amps = 6};
    struct sag_response r;
    if (!g->has_circuit)
        return 0;
    sag_circuit_from(&g->machine, &rated, 1, &guess, &r);
    double complex y = CMPLX(r.conductance, r.susceptance) / g->base.ohms;
    return y / (1 + CMPLX(g->branch_r, g->branch_x) * y);
}

static double complex series(const struct sag_grid_node *node)
{
    return node->fault_share * CMPLX(node->r, node->x);
}

static double complex parallel(double complex z, double complex y)
{
    return z / (1 + z * y);
}

/* behind[i]: impedance at node i of all that is not below it; total[i]: with what is below as well. z and ratio: of
   each node. */
static void hand_down(const struct sag_grid *grid, const double complex *z, const double *ratio,
                      const double complex *below, double complex *behind, double complex *total)
{
    for (size_t i = 0; i < grid->node_count; i++) {
        int32_t parent = grid->nodes[i].parent;
        double n2 = ratio[i] * ratio[i];
        double complex above = 0;
        if (parent >= 0) {
            /* the parent's other branches stay, this one is taken off */
            double complex mine = n2 * below[i] / (1 + z[i] * below[i]);
            above = n2 * parallel(behind[parent], below[parent] - mine);
        }
        behind[i] = above + z[i];
        total[i] = parallel(behind[i], below[i]);
    }
}

bool net_impedance_seen(const struct net *net, double complex *seen)
{
    const struct sag_grid *grid = net->grid;
    double complex *behind = calloc(grid->node_count, sizeof *behind);
    if (behind)
        hand_down(grid, net->z, net->ratio, net->below, behind, seen);
    free(behind);
    return behind != NULL;
}

/* Volts before the fault, those without current: taps count, drops do not. */
static double volts_before(const struct sag_grid *grid, size_t i)
{
    double ratio = 1;
    int32_t at = (int32_t)i;
    for (; grid->nodes[at].parent >= 0; at = grid->nodes[at].parent)
        ratio *= grid->nodes[at].ratio;
    double emf = grid->nodes[at].emf[SAG_CASE_NOMINAL];
    return isnan(emf) ? grid->nodes[i].volts_nominal : emf * ratio;
}

/* A source without impedance feeds a fault without end; what motors add to that is nothing that could be told. */
static double fault_amps(double volts, double complex z)
{
    return cabs(z) > 0 ? volts / cabs(z) : INFINITY;
}

enum sag_status find_faults(const struct sag_grid *grid, struct sag_board_report *reports)
{
    size_t n = grid->node_count;
    double complex *below = calloc(n, sizeof *below), *behind = calloc(n, sizeof *behind);
    double complex *alone = calloc(n, sizeof *alone), *total = calloc(n, sizeof *total);
    double complex *z = calloc(n, sizeof *z);
    double *ratio = calloc(n, sizeof *ratio);
    enum sag_status status = below && behind && alone && total && z && ratio ? SAG_OK : SAG_NO_MEMORY;
    for (size_t i = 0; i < n && status == SAG_OK; i++) {
        z[i] = series(&grid->nodes[i]);
        ratio[i] = grid->nodes[i].ratio;
    }
    if (status == SAG_OK) {
        hand_down(grid, z, ratio, below, behind, alone);
        for (size_t i = 0; i < grid->motor_count; i++)
            if (sag_runs_normally(&grid->motors[i]))
                below[grid->motors[i].node] += standstill_admittance(&grid->motors[i]);
        for (size_t i = n; i-- > 0;) {
            const struct sag_grid_node *node = &grid->nodes[i];
            if (node->parent >= 0)
                below[node->parent] += node->ratio * node->ratio * below[i] / (1 + series(node) * below[i]);
        }
        hand_down(grid, z, ratio, below, behind, total);
    }
    for (size_t i = 0; i < n && status == SAG_OK; i++) {
        double volts = volts_before(grid, i) / sqrt(3.0);
        double with_motors = fault_amps(volts, total[i]);
        reports[i].fault_amps = fault_amps(volts, alone[i]);
        reports[i].motor_fault_amps = isinf(with_motors) ? NAN : with_motors - reports[i].fault_amps;
    }
    free(below);
    free(behind);
    free(alone);
    free(total);
    free(z);
    free(ratio);
    return status;
}
