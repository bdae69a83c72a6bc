/* The part of the fit that has a closed form: how the rated losses divide, and what the magnetising and core branches
   must be for the rated point to hold, whatever the leakages and cages of a trial are. */
#include <math.h>

#include "model/parts.h"

/* Division of the rated losses; common practice, no source. A measured 18.5 kW machine has core 21 %, friction 9 %,
   stator 40 %, rotor 25 %, stray 5 % (open data, see tests/outside). */
#define CORE_SHARE         0.20
#define LEAST_STATOR_SHARE 0.20
#define MOST_STATOR_SHARE  0.65

static double friction_share(int poles)
{
    return poles <= 2 ? 0.12 : poles <= 4 ? 0.07 : poles <= 6 ? 0.05 : 0.04;
}

/* What is left for the stator's resistance (rated current is 1) once core, friction and rotor have their share. */
static double stator_left(const struct rated_point *r)
{
    return r->cos_phi - r->core - (r->power + r->friction) / (1 - r->slip);
}

/* A rounded rpm can contradict the efficiency: give the stator less core and friction to share with, then move slip. */
static void guard_losses(struct rated_point *r, double loss)
{
    static const double less[] = {1, 0.8, 0.6, 0.4};
    double core = r->core, friction = r->friction;
    for (size_t i = 0; i < sizeof less / sizeof *less; i++) {
        r->core = core * less[i];
        r->friction = friction * less[i];
        r->stator_r = stator_left(r);
        if (r->stator_r >= LEAST_STATOR_SHARE * loss)
            break;
    }
    if (r->stator_r < LEAST_STATOR_SHARE * loss) {
        r->stator_r = LEAST_STATOR_SHARE * loss;
        r->slip = 1 - (r->power + r->friction) / (r->cos_phi - r->core - r->stator_r);
        r->slip_moved = true;
    }
    if (r->stator_r > MOST_STATOR_SHARE * loss) {
        r->core += r->stator_r - MOST_STATOR_SHARE * loss;
        r->stator_r = MOST_STATOR_SHARE * loss;
    }
}

struct locked_hints locked_hints_of(const struct rated_point *r)
{
    const double stator_drop = 1.10, least = 0.35; /* rough shares that only have to start a fit well */
    double z = 1 / r->locked_amps;
    struct locked_hints h = {.r = stator_drop * r->locked_torque / (r->locked_amps * r->locked_amps)};
    double series = r->stator_r + h.r;
    h.x = fmax(z > series ? sqrt(z * z - series * series) : 0, least * z);
    return h;
}

/* Running leakage is never less than what saturation leaves of it at standstill, and torque cannot exceed what that
   allows; a stated breakdown torque beyond is capped. */
static void cap_breakdown(struct rated_point *r)
{
    const double below = 0.95;
    struct locked_hints h = locked_hints_of(r);
    double most = GAP_SHARE / (2 * (r->stator_r + sqrt(r->stator_r * r->stator_r + h.x * h.x)));
    bool capped = r->breakdown_torque > most;
    if (capped)
        r->breakdown_torque = below * most;
}

struct rated_point rated_point_of(const struct sag_targets *t)
{
    struct rated_point r = {
        .power = t->efficiency * t->power_factor,
        .slip = t->slip,
        .cos_phi = t->power_factor,
        .sin_phi = sqrt(1 - t->power_factor * t->power_factor),
        .locked_amps = t->locked_amps,
    };
    double loss = t->power_factor * (1 - t->efficiency);
    r.core = CORE_SHARE * loss;
    r.friction = friction_share(t->poles) * loss;
    guard_losses(&r, loss);
    r.gap_power = (r.power + r.friction) / (1 - r.slip);
    r.torque = r.power / (1 - r.slip);
    r.locked_torque = t->locked_torque * r.torque;
    r.breakdown_torque = r.breakdown_asked = t->breakdown_torque * r.torque;
    cap_breakdown(&r);
    return r;
}

double close_rated_point(const struct rated_point *r, struct sag_machine *trial, double *susceptance)
{
    const double least = 0.02; /* a negative one would mean a capacitor */
    double complex current = r->cos_phi - r->sin_phi * I;
    double complex gap = 1 - current * (r->stator_r + trial->stator_x * I);
    double square = creal(gap) * creal(gap) + cimag(gap) * cimag(gap);
    double complex rotor = rotor_admittance(trial, r->slip, 1);
    *susceptance = (r->sin_phi - trial->stator_x) / square + cimag(rotor);
    trial->core_r = square / r->core;
    trial->magnet_x = 1 / fmax(*susceptance, least);
    trial->gap_volts = sqrt(square);
    return square * creal(rotor) / r->gap_power;
}
