/* The right-hand side: the network at the speeds of the moment, then each shaft by itself.

       J dw/dt = T_motor(V, s) - T_load(w)

   A generator is a voltage behind its transient reactance. Its regulator brings the terminals back as fast as the given
   recovery time tells (95 % of a dip within it), but no faster than field and ceiling allow:

       T'd0 dE'/dt <= E_ceiling - E' - (X_d - X'_d) I_d */
#include <math.h>

#include "start/sim.h"

/* Torque over load at a state's speed, with the motor's response as the network left it. */
static double surplus(const struct sim *s, const struct mover *mover, const struct net_motor *m, double speed)
{
    const struct sag_grid_motor *g = &s->grid.motors[mover->motor];
    double torque = m->how == NET_CIRCUIT ? m->torque : 0;
    return torque - sag_load_torque(&g->machine, &g->load, mover->share, speed);
}

static double slip_at(const struct sim *s, const struct mover *mover, double speed)
{
    return 1 - speed / s->grid.motors[mover->motor].hz_share;
}

static void mover_slope(struct sim *s, const struct mover *mover, double speed, double *slope, double *stiff)
{
    const double apart = 1e-4; /* of slip: far enough to see over the solver's last digits */
    struct net_motor *m = &s->net.motors[mover->motor];
    bool waiting = mover->item >= 0 && s->items[mover->item].stage < 0;
    double over = waiting ? 0 : surplus(s, mover, m, speed);
    bool stuck = waiting || (speed <= 0 && over <= 0); /* friction holds it, it does not turn backwards */
    *slope = stuck ? 0 : mover->per_torque * over;
    if (!stiff)
        return;
    *stiff = 0;
    if (stuck)
        return;
    struct net_motor trial = *m;
    double step = -apart * fmax(m->slip, 0.01);
    trial.slip = m->slip + step;
    if (m->how == NET_CIRCUIT)
        net_motor_response(&s->net, mover->motor, &trial, s->net.volts[s->grid.motors[mover->motor].node]);
    double moved = -step * s->grid.motors[mover->motor].hz_share;
    double there = surplus(s, mover, &trial, speed + moved);
    *stiff = fmin(mover->per_torque * (there - over) / moved, 0); /* a growing speed needs no damping */
}

static void exciter_slope(const struct sim *s, const struct exciter *e, double emf, double *slope, double *stiff)
{
    const double within = 3; /* time constants to 95 % */
    const struct sag_grid_node *g = &s->grid.nodes[e->node];
    double complex volts = s->net.volts[e->node];
    double complex amps = volts * s->net.below[e->node]; /* times root 3 */
    double direct = -cimag(amps);     /* emf lies on the real axis: amps a quarter turn behind it weaken the field */
    double reach = emf / cabs(volts); /* the terminals move by less than the voltage behind the reactance does */
    double wanted = (e->volts_set - cabs(volts)) * reach * within / fmax(g->recovery_time, 1e-3);
    double most = (g->ceiling - emf - (g->synchronous_x - g->x) * direct) / g->field_time;
    double least = (-emf - (g->synchronous_x - g->x) * direct) / g->field_time;
    *slope = fmax(fmin(wanted, most), least);
    if (stiff)
        *stiff = -within / fmax(g->recovery_time, 1e-3);
}

bool sim_slopes(struct sim *s, double time, const double *state, double *slope, double *stiff)
{
    for (size_t i = 0; i < s->mover_count; i++) {
        const struct mover *mover = &s->movers[i];
        struct net_motor *m = &s->net.motors[mover->motor];
        m->slip = slip_at(s, mover, state[i]);
        if (mover->item >= 0 && s->items[mover->item].stage >= 0) {
            const struct item *item = &s->items[mover->item];
            const struct stage *stage = &item->stages.of[item->stage];
            if (stage->controls)
                m->front.volts_share = ramp_share(stage, time - item->closed_at);
        }
    }
    for (size_t i = 0; i < s->exciter_count; i++)
        s->net.emf[s->exciters[i].node] = state[s->mover_count + i];
    if (!net_solve(&s->net, s->close))
        return false;
    for (size_t i = 0; i < s->mover_count; i++)
        mover_slope(s, &s->movers[i], state[i], &slope[i], stiff ? &stiff[i] : NULL);
    for (size_t i = 0; i < s->exciter_count; i++) {
        size_t at = s->mover_count + i;
        exciter_slope(s, &s->exciters[i], state[at], &slope[at], stiff ? &stiff[at] : NULL);
    }
    return true;
}

/* Two stages, second order whatever the diagonal is that stands in for the true derivative (a W-method), and damping
   without bound: running motors answer within a hundredth of the time that a start takes. "A second-order
   Rosenbrock method applied to photochemical dispersion problems", SIAM Journal on Scientific Computing 20, 1999 (from
   memory; its order is a test). */
double sim_step(struct sim *s, double h)
{
    const double gamma = 1 - 0.70710678118654752;
    double worst = 0;
    for (size_t i = 0; i < s->size; i++) {
        s->stage_one[i] = s->slope[i] / (1 - gamma * h * s->stiff[i]);
        s->next[i] = s->state[i] + h * s->stage_one[i];
    }
    if (!sim_slopes(s, s->time + h, s->next, s->slope_next, NULL))
        return NAN;
    for (size_t i = 0; i < s->size; i++) {
        double two = (s->slope_next[i] - 2 * s->stage_one[i]) / (1 - gamma * h * s->stiff[i]);
        double scale = i < s->mover_count ? 1 : 1 / s->state[i]; /* volts count as shares */
        s->next[i] = s->state[i] + h * (1.5 * s->stage_one[i] + 0.5 * two);
        if (i < s->mover_count)
            s->next[i] = fmax(s->next[i], 0);
        worst = fmax(worst, fabs(0.5 * h * (s->stage_one[i] + two)) * scale);
    }
    return worst;
}
