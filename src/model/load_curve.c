#include <math.h>

#include "model/parts.h"

double sag_load_torque(const struct sag_machine *m, const struct sag_load_shape *shape, double share, double speed)
{
    const double breakaway_gone = 0.1; /* of rated speed, where standstill friction has gone; common practice */
    double n = speed / (1 - m->slip);
    double running = shape->exponent == 0 ? 1 : pow(fmax(n, 0), shape->exponent);
    double torque = shape->t0 + (1 - shape->t0) * running;
    if (n < breakaway_gone && shape->breakaway > torque)
        torque += (shape->breakaway - torque) * (1 - fmax(n, 0) / breakaway_gone);
    return share * m->power / (1 - m->slip) * torque;
}
