/* Steady state: the network solved together with the slips of all turning motors, a Newton step each between two
   solutions of the tree. */
#include <math.h>
#include <stdlib.h>

#include "network/net.h"

#define CLOSE 1e-10 /* share of nominal volts */

static double load_share(const struct net *net, const double *share, size_t i)
{
    return share ? share[i] : net->grid->motors[i].share;
}

/* Torque left over at a slip, at the node's volts of the moment. */
static double surplus(const struct net *net, size_t i, struct net_motor *m, double share)
{
    const struct sag_grid_motor *g = &net->grid->motors[i];
    net_motor_response(net, i, m, net->volts[g->node]);
    return m->torque - sag_load_torque(&g->machine, &g->load, share, g->hz_share * (1 - m->slip));
}

/* Is there a slip at all at these volts? When there is, start from it. */
static bool find_slip(const struct sag_grid_motor *g, struct net_motor *m, double share)
{
    struct sag_feed feed = {m->volts_motor / g->volts_rated, g->hz_share, g->main_flux};
    struct sag_point point;
    double slip = m->slip;
    bool found = feed.volts > 0.05 && sag_operate(&g->machine, &feed, &g->load, share, &slip, &point);
    m->slip = found ? slip : 1;
    return found;
}

/* One Newton step in the logarithm of slip. Returns how far it went, or -1 when the motor cannot carry its load. */
static double step_slip(const struct net *net, size_t i, double share)
{
    const double apart = 1e-5, longest = 0.7;
    struct net_motor *m = &net->motors[i];
    struct net_motor trial = *m;
    double here = surplus(net, i, &trial, share);
    trial.slip = m->slip * (1 + apart);
    double there = surplus(net, i, &trial, share);
    double slope = (there - here) / apart;
    double step = -here / slope;
    if (!(slope > 0) || fabs(step) > longest) {
        double before = m->slip;
        return find_slip(&net->grid->motors[i], m, share) ? fabs(log(m->slip / before)) : -1;
    }
    m->slip *= exp(step);
    return fabs(step);
}

bool net_settle(struct net *net, const double *share)
{
    enum {
        MOST_ROUNDS = 100
    };
    const double still = 1e-9;
    size_t count = net->grid->motor_count;
    double moved = 1;
    for (int round = 0; round < MOST_ROUNDS; round++) {
        if (!net_solve(net, fmax(CLOSE, 1e-3 * moved)))
            return false;
        moved = 0;
        for (size_t i = 0; i < count; i++) {
            struct net_motor *m = &net->motors[i];
            if (m->how != NET_CIRCUIT || m->slip >= 1)
                continue;
            double step = step_slip(net, i, load_share(net, share, i));
            moved = fmax(moved, step < 0 ? 1 : step);
        }
        if (moved <= still)
            return net_solve(net, CLOSE);
    }
    return false;
}

double net_bearable_share(struct net *net, const double *share)
{
    enum {
        HALVINGS = 12
    };
    double low = 0, high = net->load_scale;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        for (size_t n = 0; n < net->grid->node_count; n++) {
            int32_t parent = net->grid->nodes[n].parent;
            net->volts[n] = parent < 0 ? net->emf[n] : net->volts[parent] * net->ratio[n];
        }
        net->load_scale = middle;
        if (net_settle(net, share))
            low = middle;
        else
            high = middle;
    }
    return low;
}
