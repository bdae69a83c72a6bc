/* Breakdown torque: the first maximum of torque over slip, looked for in the logarithm of slip. */
#include <math.h>

#include "model/parts.h"

struct curve {
    const struct sag_machine *machine;
    const struct sag_feed *feed;
    double amps; /* of the last point, where the next one starts */
};

static double torque_at(struct curve *c, double log_slip)
{
    return shaft_torque(c->machine, c->feed, exp(log_slip), &c->amps);
}

/* Top of the parabola through three evenly spaced points, as an offset in steps; 0 when they do not bend down. */
static double parabola_top(double left, double middle, double right)
{
    double bend = left - 2 * middle + right;
    return bend < 0 ? 0.5 * (left - right) / bend : 0;
}

/* A few parabolas, each on a third of the last one's step. Torque is flat at its top: with the last step below 1e-3 the
   slip is off by less than 1e-6. */
static struct sag_peak refine(struct curve *c, double at, double step)
{
    enum {
        ROUNDS = 5
    };
    const double shrink = 0.3;
    double top = at;
    for (int i = 0; i < ROUNDS; i++) {
        double left = torque_at(c, top - step);
        double middle = torque_at(c, top);
        double right = torque_at(c, fmin(top + step, 0));
        double offset = parabola_top(left, middle, right);
        offset = offset > 1 ? 1 : offset < -1 ? -1 : offset;
        top = fmin(top + offset * step, 0);
        step *= shrink;
    }
    return (struct sag_peak){exp(top), torque_at(c, top)};
}

struct sag_peak search_peak(const struct sag_machine *machine, const struct sag_feed *feed, double from)
{
    enum {
        POINTS = 29
    };
    struct curve c = {machine, feed, 1};
    double start = log(from), step = -start / (POINTS - 1);
    double last = torque_at(&c, start);
    for (int i = 1; i < POINTS; i++) {
        double torque = torque_at(&c, start + i * step);
        if (torque < last && i > 1)
            return refine(&c, start + (i - 1) * step, step);
        last = torque;
    }
    return (struct sag_peak){1, last};
}

double track_peak(const struct sag_machine *machine, const struct sag_feed *feed, double near)
{
    enum {
        MOST_ROUNDS = 8
    };
    const double step = 0.06, far = 0.9;
    struct curve c = {machine, feed, 4};
    double at = log(near);
    for (int i = 0; i < MOST_ROUNDS && fabs(at - log(near)) <= far; i++) {
        double left = torque_at(&c, at - step);
        double middle = torque_at(&c, at);
        double right = torque_at(&c, at + step);
        double offset = parabola_top(left, middle, right);
        if (left - 2 * middle + right >= 0 || at + offset * step >= 0)
            break;
        if (fabs(offset) < 0.5) /* then the parabola is good to 1e-4 in slip, and torque to 1e-8 */
            return exp(at + offset * step);
        at += fmin(fmax(offset, -3), 3) * step;
    }
    return search_peak(machine, feed, machine->slip).slip;
}

struct sag_peak sag_find_breakdown(const struct sag_machine *machine, const struct sag_feed *feed)
{
    /* a single cage, or a design whose greatest torque is at standstill, has no maximum to track */
    if (machine->slip_breakdown >= 0.9)
        return search_peak(machine, feed, machine->slip);
    double slip = track_peak(machine, feed, machine->slip_breakdown), amps = 4;
    return (struct sag_peak){slip, shaft_torque(machine, feed, slip, &amps)};
}
