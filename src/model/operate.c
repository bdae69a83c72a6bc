/* Where motor and load meet: the root of their difference between no slip and breakdown. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

#include "model/parts.h"

struct meeting {
    const struct sag_machine *machine;
    const struct sag_feed *feed;
    const struct sag_load_shape *shape;
    double share;
    double amps;
};

static double surplus(double log_slip, void *context)
{
    struct meeting *m = context;
    double slip = exp(log_slip);
    double load = sag_load_torque(m->machine, m->shape, m->share, m->feed->hz * (1 - slip));
    return shaft_torque(m->machine, m->feed, slip, &m->amps) - load;
}

static bool find_root(struct meeting *m, double low, double high, double *root)
{
    enum {
        MOST_STEPS = 60
    };
    const double close = 1e-10;
    gsl_function f = {.function = surplus, .params = m};
    double room[32]; /* Brent's state takes eight; memory that runs out must not look like a motor that hangs */
    gsl_root_fsolver own = {.type = gsl_root_fsolver_brent, .state = room}, *solver = &own;
    bool found = own.type->size <= sizeof room && gsl_root_fsolver_set(solver, &f, low, high) == GSL_SUCCESS;
    int state = GSL_CONTINUE;
    for (int i = 0; found && state == GSL_CONTINUE && i < MOST_STEPS; i++) {
        found = gsl_root_fsolver_iterate(solver) == GSL_SUCCESS;
        low = gsl_root_fsolver_x_lower(solver);
        high = gsl_root_fsolver_x_upper(solver);
        state = gsl_root_test_interval(low, high, close, 0);
    }
    if (found)
        *root = gsl_root_fsolver_root(solver);
    return found;
}

bool operate_below(const struct sag_machine *machine, const struct sag_feed *feed, const struct load_on *load,
                   double peak_slip, double *slip)
{
    const double least_slip = 1e-7;
    struct meeting m = {machine, feed, load->shape, load->share, 1};
    double low = log(least_slip), high = log(peak_slip), root = NAN;
    if (!(surplus(high, &m) > 0))
        return false;
    if (surplus(low, &m) >= 0)
        root = low; /* nothing to carry, not even friction */
    else if (!find_root(&m, low, high, &root))
        return false;
    *slip = exp(root);
    return true;
}

bool sag_operate(const struct sag_machine *machine, const struct sag_feed *feed, const struct sag_load_shape *shape,
                 double share, double *slip, struct sag_point *point)
{
    const struct load_on load = {shape, share};
    if (!operate_below(machine, feed, &load, sag_find_breakdown(machine, feed).slip, slip))
        return false;
    sag_circuit_at(machine, feed, *slip, point);
    return true;
}
