/* One solution of the tree. A motor at a slip is an admittance that bends a little with its volts, so admittances are
   gathered from the leaves up, volts handed down from the sources, and both repeated until nothing moves: exact for
   constant impedances at the first pass, and for all the rest a matter of a few. */
#include "network/net.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "network/parts.h"

struct net_front net_direct(void)
{
    return (struct net_front){.volts_share = 1, .amps_share = 1, .torque_share = 1, .power_share = 1};
}

enum sag_status net_init(const struct sag_grid *grid, struct net *net)
{
    size_t n = grid->node_count, m = grid->motor_count ? grid->motor_count : 1;
    *net = (struct net){.grid = grid, .load_scale = 1, .weakest = -1};
    net->motors = calloc(m, sizeof *net->motors);
    net->volts = calloc(n, sizeof *net->volts);
    net->below = calloc(n, sizeof *net->below);
    net->z = calloc(n, sizeof *net->z);
    net->emf = calloc(n, sizeof *net->emf);
    net->ratio = calloc(n, sizeof *net->ratio);
    net->load_share = calloc(n, sizeof *net->load_share);
    net->pin = calloc(n, sizeof *net->pin);
    bool whole =
        net->motors && net->volts && net->below && net->z && net->emf && net->ratio && net->load_share && net->pin;
    return whole ? SAG_OK : SAG_NO_MEMORY;
}

void net_free(struct net *net)
{
    free(net->motors);
    free(net->volts);
    free(net->below);
    free(net->z);
    free(net->emf);
    free(net->ratio);
    free(net->load_share);
    free(net->pin);
    *net = (struct net){0};
}

void net_copy(struct net *to, const struct net *from)
{
    size_t n = from->grid->node_count;
    memcpy(to->motors, from->motors, from->grid->motor_count * sizeof *to->motors);
    memcpy(to->volts, from->volts, n * sizeof *to->volts);
    memcpy(to->below, from->below, n * sizeof *to->below);
    memcpy(to->z, from->z, n * sizeof *to->z);
    memcpy(to->emf, from->emf, n * sizeof *to->emf);
    memcpy(to->ratio, from->ratio, n * sizeof *to->ratio);
    memcpy(to->load_share, from->load_share, n * sizeof *to->load_share);
    memcpy(to->pin, from->pin, n * sizeof *to->pin);
    to->load_scale = from->load_scale;
    to->failed = from->failed;
    to->weakest = from->weakest;
}

void net_set_case(struct net *net, enum sag_case which)
{
    const struct sag_grid *grid = net->grid;
    for (size_t i = 0; i < grid->motor_count; i++)
        net->motors[i] = (struct net_motor){.how = NET_OFF};
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        bool source = node->parent < 0;
        net->z[i] = node->kind == SAG_NODE_GENERATOR ? 0 : CMPLX(node->r, node->x);
        net->ratio[i] = node->ratio;
        net->emf[i] = source ? node->emf[which] : NAN;
        net->volts[i] = source ? net->emf[i] : net->volts[node->parent] * node->ratio;
        net->load_share[i] = which == SAG_CASE_HIGH ? 0 : 1;
        net->pin[i] = which == SAG_CASE_MEASURED ? node->measured : NAN;
    }
    net->failed = false;
}

double net_share_of(const struct sag_grid_motor *motor, enum sag_case which)
{
    return which == SAG_CASE_LOW ? fmax(motor->full_share, motor->share) : motor->share;
}

void net_run_motor(struct net *net, size_t motor, double share)
{
    const struct sag_grid_motor *g = &net->grid->motors[motor];
    struct net_motor *m = &net->motors[motor];
    *m = (struct net_motor){.how = g->has_circuit ? NET_CIRCUIT : NET_POWER,
                            .slip = fmax(g->machine.slip * share, 0.1 * g->machine.slip),
                            .front = net_direct(),
                            .guess = {.amps = 1}};
    m->front.power_share = g->share > 0 ? share / g->share : 0;
}

/* Admittance that draws the line amps of electronic volts control: the motor sees `c` of the line's volts, amps are
   the same on both sides, and so is power, so the firing costs power factor. */
static double complex controlled(double complex y_motor, double c)
{
    double watts = c * c * creal(y_motor);
    double amps = c * magnitude(y_motor);
    return CMPLX(watts, -sqrt(fmax(amps * amps - watts * watts, 0)));
}

static void circuit_response(const struct sag_grid_motor *g, double volts_line, struct net_motor *m)
{
    const struct net_front *f = &m->front;
    const double least_slip = 1e-6;
    double complex series = CMPLX(f->series_r, f->series_x);
    double share =
        f->most_amps > 0 ? fmin(m->control > 0 ? m->control : f->volts_share, f->volts_share) : f->volts_share;
    double complex lead = 1 + times(series, m->y_motor);
    double volts = share * volts_line / magnitude(lead);
    struct sag_feed feed = {fmax(volts / g->volts_rated, 1e-6), g->hz_share, g->main_flux};
    struct sag_response r;
    double slip = m->slip > least_slip ? m->slip : least_slip;
    sag_circuit_from(&g->machine, &feed, slip, &m->guess, &r);
    m->y_motor = CMPLX(r.conductance, r.susceptance) / g->base.ohms;
    lead = 1 + times(series, m->y_motor);
    m->volts_motor = share * volts_line / magnitude(lead);
    m->motor_amps = magnitude(m->y_motor) * m->volts_motor / ROOT3;
    m->torque = r.torque * f->torque_share;
    if (f->most_amps > 0) {
        double at_full = m->motor_amps / share; /* nearly proportional to volts; repeated, it settles */
        m->control = fmin(f->volts_share, f->most_amps / at_full);
        m->y_in = controlled(m->y_motor, share);
    } else
        m->y_in = share * f->amps_share * over(m->y_motor, lead);
    m->line_amps = magnitude(m->y_in) * volts_line / ROOT3;
}

static void power_response(const struct net *net, const struct sag_grid_motor *g, double volts, struct net_motor *m)
{
    if (m->how == NET_POWER) {
        double share = m->front.power_share * net->load_scale;
        m->y_in = CMPLX(g->watts * share, -g->vars * share) / (volts * volts);
    } else {
        double y = ROOT3 * m->amps / volts;
        m->y_in = CMPLX(y * m->power_factor, -y * sqrt(1 - m->power_factor * m->power_factor));
    }
    m->volts_motor = volts * g->terminal_share;
    m->line_amps = m->motor_amps = magnitude(m->y_in) * volts / ROOT3;
}

double net_motor_response(const struct net *net, size_t motor, struct net_motor *m, double complex node_volts)
{
    const struct sag_grid_motor *g = &net->grid->motors[motor];
    double complex branch = CMPLX(g->branch_r, g->branch_x);
    double complex before = m->y_node;
    double volts = magnitude(node_volts) / magnitude(1 + times(branch, m->y_in));
    if (m->how == NET_CIRCUIT)
        circuit_response(g, volts, m);
    else
        power_response(net, g, volts, m);
    double complex lead = 1 + times(branch, m->y_in);
    m->y_node = over(m->y_in, lead);
    m->volts_line = magnitude(node_volts) / magnitude(lead);
    double moved = magnitude(m->y_node - before);
    return moved > 0 ? moved / (magnitude(m->y_node) + magnitude(before)) : 0;
}

static double complex load_admittance(const struct net *net, size_t i)
{
    const struct sag_grid_node *node = &net->grid->nodes[i];
    double share = net->load_share[i];
    if (node->load_watts == 0 || share == 0)
        return 0;
    double volts = magnitude(net->volts[i]), nominal = node->volts_nominal;
    double complex at_nominal = CMPLX(node->load_watts, -node->load_vars) * share / (nominal * nominal);
    switch (node->load_kind) {
    case SAG_LOAD_KIND_IMPEDANCE:
        return at_nominal;
    case SAG_LOAD_KIND_CURRENT:
        return at_nominal * (net->load_scale * nominal / volts);
    default:
        return at_nominal * (net->load_scale * nominal * nominal / (volts * volts));
    }
}

/* Up: all that hangs below each node, seen from the node. Returns the largest share by which a motor still moved. */
static double gather(struct net *net)
{
    const struct sag_grid *grid = net->grid;
    double moved = 0;
    for (size_t i = 0; i < grid->node_count; i++)
        net->below[i] = load_admittance(net, i);
    for (size_t i = 0; i < grid->motor_count; i++) {
        struct net_motor *m = &net->motors[i];
        if (m->how == NET_OFF)
            continue;
        int32_t node = grid->motors[i].node;
        moved = fmax(moved, net_motor_response(net, i, m, net->volts[node]));
        net->below[node] += m->y_node;
    }
    for (size_t i = grid->node_count; i-- > 0;) {
        int32_t parent = grid->nodes[i].parent;
        if (parent >= 0)
            net->below[parent] +=
                net->ratio[i] * net->ratio[i] * over(net->below[i], 1 + times(net->z[i], net->below[i]));
    }
    return moved;
}

/* Down: volts of each node. Returns the largest change, share of nominal. */
static double hand_down(struct net *net)
{
    const struct sag_grid *grid = net->grid;
    double moved = 0, lowest = INFINITY;
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        double complex before = net->volts[i];
        double complex from = node->parent < 0 ? net->emf[i] : net->volts[node->parent] * net->ratio[i];
        net->volts[i] = over(from, 1 + times(net->z[i], net->below[i]));
        if (!isnan(net->pin[i])) {
            double off = net->pin[i] / magnitude(net->volts[i]);
            net->ratio[i] *= off;
            if (node->parent < 0)
                net->emf[i] *= off;
            net->volts[i] *= off;
        }
        double volts = magnitude(net->volts[i]) / node->volts_nominal;
        moved = fmax(moved, magnitude(net->volts[i] - before) / node->volts_nominal);
        if (volts < lowest) {
            lowest = volts;
            net->weakest = (int32_t)i;
        }
    }
    return lowest > 0.05 ? moved : INFINITY; /* a twentieth of nominal is no operation; NAN compares false too */
}

bool net_solve(struct net *net, double close)
{
    enum {
        MOST_PASSES = 1000 /* near collapse it creeps */
    };
    for (int i = 0; i < MOST_PASSES; i++) {
        double admittance = gather(net);
        double volts = hand_down(net);
        if (isinf(volts))
            break;
        if (volts <= close && admittance <= 10 * close)
            return true;
    }
    net->failed = true;
    return false;
}

double complex net_power(const struct net *net, size_t node)
{
    double v = magnitude(net->volts[node]);
    return v * v * conj(net->below[node]);
}
