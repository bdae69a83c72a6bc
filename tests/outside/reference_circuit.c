#include "outside/reference_circuit.h"

#include <math.h>

double reference_leakage(double h, double amps)
{
    double x = fmin(1, 2 / amps);
    double d = 2 / acos(-1.0) * (asin(x) + x * sqrt(1 - x * x));
    return 1 - h * (1 - d);
}

double reference_magnetising(double c, double flux)
{
    return 1 - c + c * pow(flux, 7);
}

static double complex rotor(const struct reference *m, double slip, double k)
{
    return 1 / (m->r21 / slip + I * k * m->x21) + 1 / (m->r22 / slip + I * k * m->x22);
}

struct reference_point reference_solve(const struct reference *m, double volts, double c, double slip)
{
    struct reference_point p = {.amps = 1, .gap_volts = volts};
    const double part = 0.8; /* of the way to the new value: slow and safe */
    double amps = 1, flux = volts / m->en;
    for (int i = 0; i < 500; i++) {
        double k = reference_leakage(m->h, amps);
        double complex y = rotor(m, slip, k);
        double complex yg = 1 / m->rc - I * reference_magnetising(c, flux) / m->xm + y;
        p.gap_volts = volts / (1 + (m->r1 + I * k * m->x1) * yg);
        p.amps = p.gap_volts * yg;
        p.gap_power = cabs(p.gap_volts) * cabs(p.gap_volts) * creal(y);
        double change = fabs(cabs(p.amps) - amps) + fabs(cabs(p.gap_volts) / m->en - flux);
        amps += part * (cabs(p.amps) - amps);
        flux += part * (cabs(p.gap_volts) / m->en - flux);
        if (change < 1e-13)
            break;
    }
    double speed = (1 - slip) / (1 - m->sn);
    p.shaft_torque = p.gap_power - m->fw / (1 - m->sn) * speed * speed;
    return p;
}

double reference_running_slip(const struct reference *m, double volts, double c)
{
    double low = 1e-6, high = m->s_bd, load = m->pn / (1 - m->sn);
    if (reference_solve(m, volts, c, high).shaft_torque < load)
        return NAN;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (reference_solve(m, volts, c, middle).shaft_torque < load)
            low = middle;
        else
            high = middle;
    }
    return low;
}
