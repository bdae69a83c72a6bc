/* One solution of the circuit at a slip. Leakage falls with current (the teeth saturate) and the magnetising current
   rises faster than the gap flux, so amps and gap volts are found together by repeated substitution, each sped up by a
   secant. */
#include <math.h>

#include "model/parts.h"
#include "sagband/model.h"

#define SATURATION_ONSET 2.0 /* times rated amps at which leakage begins to saturate; common practice, no source */

/* Describing function of a reactance that is clipped at the onset: 1 up to it, falling towards 0. */
static double clipped_share(double amps)
{
    if (amps <= SATURATION_ONSET)
        return 1;
    double x = SATURATION_ONSET / amps;
    return 2 / acos(-1.0) * (asin(x) + x * sqrt(1 - x * x));
}

double leakage_factor(double share, double amps)
{
    return 1 - share * (1 - clipped_share(amps));
}

double complex rotor_admittance(const struct sag_machine *m, double slip, double reactance_factor)
{
    double complex inner = inverse(m->inner_r / slip, reactance_factor * m->inner_x);
    double complex outer = inverse(m->outer_r / slip, reactance_factor * m->outer_x);
    return CMPLX(creal(inner) + creal(outer), cimag(inner) + cimag(outer));
}

/* What does not change while amps and flux are looked for. */
struct fixed {
    const struct sag_machine *machine;
    const struct sag_feed *feed;
    double core, magnetising; /* admittances; core loss goes with flux squared and frequency to the 1.5 */
    double inner_r, outer_r;  /* over slip */
};

static struct fixed fixed_at(const struct sag_machine *m, const struct sag_feed *feed, double slip)
{
    return (struct fixed){
        .machine = m,
        .feed = feed,
        .core = 1 / (m->core_r * sqrt(feed->hz)),
        .magnetising = 1 / (m->magnet_x * feed->hz),
        .inner_r = m->inner_r / slip,
        .outer_r = m->outer_r / slip,
    };
}

/* How much more the magnetising branch takes at gap flux `flux` (per unit of rated). */
static double main_saturation(double constant, double flux)
{
    const double steepest = 1.6; /* the law is not meant beyond; it only has to stay finite there */
    double f = flux < steepest ? flux : steepest;
    double f3 = f * f * f;
    return 1 - constant + constant * f3 * f3 * f;
}

struct pass {
    double complex amps, gap_volts, rotor;
};

static struct pass pass_with(const struct fixed *c, double amps, double flux)
{
    const struct sag_machine *m = c->machine;
    double constant = c->feed->main_flux;
    double k = c->feed->hz * leakage_factor(m->leakage_share, amps);
    double complex inner = inverse(c->inner_r, k * m->inner_x);
    double complex outer = inverse(c->outer_r, k * m->outer_x);
    struct pass p = {.rotor = CMPLX(creal(inner) + creal(outer), cimag(inner) + cimag(outer))};
    double magnetising = c->magnetising * (constant == 0 ? 1 : main_saturation(constant, flux));
    double complex gap = CMPLX(c->core + creal(p.rotor), cimag(p.rotor) - magnetising);
    double complex drop = times(CMPLX(m->stator_r, k * m->stator_x), gap);
    double complex share = inverse(1 + creal(drop), cimag(drop));
    p.gap_volts = CMPLX(c->feed->volts * creal(share), c->feed->volts * cimag(share));
    p.amps = times(p.gap_volts, gap);
    return p;
}

/* A number that is to come out as it was put in: where it was, and by how much it missed there. */
struct search {
    double at, missed;
};

/* How far to go from `at`, which misses by `miss`: by the secant, or by the miss itself where there is none. */
static double step_of(struct search *last, double at, double miss)
{
    double slope = (miss - last->missed) / (at - last->at);
    *last = (struct search){at, miss};
    return isfinite(slope) && slope < -0.2 && slope > -5 ? -miss / slope : miss;
}

/* Solve from the guess and leave the answer there, so that a neighbouring point starts close. */
static struct pass solve(const struct sag_machine *m, const struct sag_feed *feed, double slip, double close,
                         struct sag_guess *start)
{
    enum {
        MOST_PASSES = 60
    };
    const struct fixed fixed = fixed_at(m, feed, slip);
    const double scale = start->volts > 0 ? feed->volts / start->volts : 1; /* both go nearly with the volts */
    double amps = scale * start->amps, flux = start->flux > 0 ? scale * start->flux : feed->volts / feed->hz;
    struct search for_amps = {NAN, NAN}, for_flux = {NAN, NAN};
    struct pass p = {0};
    for (int i = 0; i < MOST_PASSES; i++) {
        p = pass_with(&fixed, amps, flux);
        double found = magnitude(p.amps), miss = found - amps;
        double flux_miss = feed->main_flux == 0 ? 0 : magnitude(p.gap_volts) / (feed->hz * m->gap_volts) - flux;
        if (fabs(miss) <= close * found && fabs(flux_miss) <= close) {
            flux += flux_miss;
            break;
        }
        amps += step_of(&for_amps, amps, miss);
        flux += flux_miss == 0 ? 0 : step_of(&for_flux, flux, flux_miss);
    }
    *start = (struct sag_guess){amps, flux, feed->volts};
    return p;
}

#define CLOSE 1e-11 /* share of the amps, and of the flux, at which a solution counts as found */

static struct pass solve_from_amps(const struct sag_machine *m, const struct sag_feed *feed, double slip, double *amps)
{
    struct sag_guess guess = {.amps = *amps};
    struct pass p = solve(m, feed, slip, CLOSE, &guess);
    *amps = guess.amps;
    return p;
}

double friction_torque(const struct sag_machine *m, double speed)
{
    double rated = 1 - m->slip;
    return m->friction / rated * (speed / rated) * (speed / rated);
}

double gap_torque(const struct sag_machine *m, const struct sag_feed *feed, double slip, double *amps)
{
    struct pass p = solve_from_amps(m, feed, slip, amps);
    double gap = magnitude(p.gap_volts);
    return gap * gap * creal(p.rotor) / feed->hz;
}

double shaft_torque(const struct sag_machine *m, const struct sag_feed *feed, double slip, double *amps)
{
    return gap_torque(m, feed, slip, amps) - friction_torque(m, feed->hz * (1 - slip));
}

/* The trims grow in a straight line to standstill, from breakdown slip or, where torque is greatest near standstill,
   from half of synchronous speed. */
static double trim(double at_standstill, double breakdown, double slip)
{
    double start = fmin(breakdown, 0.5);
    if (slip <= start)
        return 1;
    double share = slip < 1 ? (slip - start) / (1 - start) : 1;
    return 1 + (at_standstill - 1) * share;
}

/* Between breakdown and standstill real motors dip below the circuit's curve: most half way, nothing at the ends. */
static double saddle(const struct sag_machine *m, double slip)
{
    double start = fmin(m->slip_breakdown, 0.5);
    if (m->saddle == 0 || slip <= start || slip >= 1)
        return 1;
    double x = (slip - start) / (1 - start), hollow = 4 * x * (1 - x);
    return 1 - m->saddle * hollow * hollow; /* squared: without a corner at either end */
}

void sag_circuit_from(const struct sag_machine *m, const struct sag_feed *feed, double slip, struct sag_guess *guess,
                      struct sag_response *out)
{
    const double near = 1e-9; /* a network around it is solved to less */
    struct pass p = solve(m, feed, slip, near, guess);
    double gap = magnitude(p.gap_volts);
    double share = trim(m->trim_amps, m->slip_breakdown, slip) / feed->volts;
    double gap_torque_now = gap * gap * creal(p.rotor) / feed->hz * trim(m->trim_torque, m->slip_breakdown, slip);
    *out = (struct sag_response){
        .conductance = creal(p.amps) * share,
        .susceptance = cimag(p.amps) * share,
        .torque = gap_torque_now * saddle(m, slip) - friction_torque(m, feed->hz * (1 - slip)),
    };
}

void sag_circuit_at(const struct sag_machine *m, const struct sag_feed *feed, double slip, struct sag_point *point)
{
    double guess = 1;
    struct pass p = solve_from_amps(m, feed, slip, &guess);
    double gap = magnitude(p.gap_volts);
    double amps = magnitude(p.amps);
    double trim_amps = trim(m->trim_amps, m->slip_breakdown, slip);
    double trim_torque = trim(m->trim_torque, m->slip_breakdown, slip);
    double gap_power = gap * gap * creal(p.rotor) * trim_torque;
    *point = (struct sag_point){
        .amps = amps * trim_amps,
        .power_in = feed->volts * creal(p.amps) * trim_amps,
        .gap_power = gap_power,
        .speed = feed->hz * (1 - slip),
        .power_factor = amps > 0 ? creal(p.amps) / amps : NAN,
    };
    point->torque = gap_power / feed->hz - friction_torque(m, point->speed);
    point->winding_loss = amps * amps * m->stator_r + slip * gap_power;
    point->power_out = point->torque * point->speed;
    point->efficiency = point->power_out > 0 ? point->power_out / point->power_in : NAN;
}
