/* A second, independent writing of the motor circuit and of its fit, from the formulas and not from the program: slow
   and plain. Per unit of rated volts and amps. Formulas: double cage circuit of the textbooks; saturation of leakage as
   the describing function of a clipped reactance, that of the main flux as a power law (both common practice). */
#ifndef OUTSIDE_REFERENCE_CIRCUIT_H
#define OUTSIDE_REFERENCE_CIRCUIT_H

#include <complex.h>
#include <stdbool.h>

struct reference {
    double r1, x1, rc, xm, r21, x21, r22, x22, h; /* h: share of leakage that can saturate */
    double en;                                    /* gap volts at the rated point */
    double fw, sn, pn;                            /* friction power, rated slip, rated shaft power */
    double s_bd, t_bd;                            /* breakdown at rated volts without main-flux saturation */
    double k_amps, k_torque;                      /* trims at standstill */
    double miss_amps, miss_torque, miss_breakdown;
    int steps[2]; /* of the two stages of the fit, first start */
    double sums[2];
};

struct reference_point {
    double complex amps, gap_volts;
    double gap_power, shaft_torque; /* torque without trims; amps and gap_power too */
};

/* k(i) = 1 - h (1 - D(min(1, 2/i))). */
double reference_leakage(double h, double amps);
/* Bm(e) / Bm = 1 - c + c e^7. */
double reference_magnetising(double c, double flux);

struct reference_point reference_solve(const struct reference *m, double volts, double c, double slip);

/* Slip at which the shaft gives the torque of rated load (constant over speed). */
double reference_running_slip(const struct reference *m, double volts, double c);

/* What a fit has to meet: ratios to rated. */
struct reference_targets {
    double efficiency, power_factor, slip, locked_amps, locked_torque, breakdown_torque;
    int poles;
};

/* Two-stage anchored least squares over six unknowns, three starts, by a library's trust region. Returns the worst
   relative miss of the three targets. */
double reference_fit(const struct reference_targets *t, struct reference *m);

#endif
