/* What to try, in order, until a circuit is good enough, and what to say when none is. */
#include <math.h>

#include "model/parts.h"

const char *sag_fit_words(enum sag_fit_way way)
{
    static const char *const words[] = {
#define WORDS(name, text) text,
        SAG_FIT_WAYS(WORDS)
#undef WORDS
    };
    return words[way];
}

bool sag_targets_of(const struct sag_motor *motor, struct sag_targets *t)
{
    const struct sag_qty *fact = motor->fact;
    if (fact[SAG_PHASES].value != 3)
        return false;
    *t = (struct sag_targets){
        .efficiency = fact[SAG_EFFICIENCY].value,
        .power_factor = fact[SAG_POWER_FACTOR].value,
        .slip = fact[SAG_SLIP].value,
        .locked_amps = fact[SAG_LOCKED_AMPS].value / fact[SAG_COMPUTED_AMPS].value,
        .locked_torque = fact[SAG_LOCKED_TORQUE].value,
        .breakdown_torque = fact[SAG_BREAKDOWN_TORQUE].value,
        .poles = (int)fact[SAG_POLES].value,
    };
    bool possible = t->efficiency < 0.999 && t->power_factor < 0.999 && t->slip < 0.5 && t->locked_amps > 1.2;
    return possible && t->efficiency > 0 && t->power_factor > 0 && t->slip > 0;
}

/* Leakage at breakdown that the breakdown torque points to; NAN when no leakage allows it. */
static double running_leakage(const struct rated_point *r)
{
    double a = GAP_SHARE / (2 * r->breakdown_torque) - r->stator_r;
    return a > r->stator_r ? sqrt(a * a - r->stator_r * r->stator_r) : NAN;
}

static double gap_square(const struct rated_point *r, double stator_x)
{
    double complex gap = 1 - (r->cos_phi - r->sin_phi * I) * (r->stator_r + stator_x * I);
    return creal(gap) * creal(gap) + cimag(gap) * cimag(gap);
}

void first_guess(const struct rated_point *rated, int start, struct sag_machine *trial)
{
    const struct rated_point *r = rated;
    struct sag_machine *m = trial;
    static const double scale[FIT_STARTS][4] = {{1, 1, 1, 1}, {0.7, 1.4, 1.4, 0.7}, {1, 2, 2, 2}};
    static const double share[FIT_STARTS] = {0.40, 0.49, 0.2};
    struct locked_hints h = locked_hints_of(r);
    double hinted = running_leakage(r), low = 1.15 * h.x, high = 2.5 * h.x;
    double running_x = isnan(hinted) ? low : fmin(fmax(hinted, low), high);
    *m = (struct sag_machine){.stator_r = r->stator_r, .friction = r->friction, .power = r->power, .slip = r->slip};
    m->trim_amps = m->trim_torque = 1;
    m->slip_moved = r->slip_moved;
    m->stator_x = 0.40 * running_x;
    double running_r = 1.03 * r->slip * gap_square(r, m->stator_x) / r->gap_power;
    m->resistance_ratio = h.r / running_r * 1.03;
    m->reactance_ratio = isnan(hinted) ? 0 : hinted / h.x;
    m->inner_r = 1.15 * running_r;
    m->outer_r = fmax(3 * m->inner_r, 2 * h.r);
    m->inner_x = 1.15 * (running_x - m->stator_x);
    m->outer_x = 0.5 * m->inner_x;
    m->stator_x *= scale[start][0];
    m->inner_x *= scale[start][1];
    m->outer_x = fmin(m->outer_x * scale[start][2], 0.9 * m->inner_x);
    m->outer_r = fmax(m->outer_r * scale[start][3], 1.05 * m->inner_r);
    m->leakage_share = share[start];
}

/* Torque of a single cage: the rated point, and leakage from locked-rotor amps. */
void fit_single_cage(const struct rated_point *rated, struct sag_machine *machine)
{
    const struct rated_point *r = rated;
    struct sag_machine *m = machine;
    double susceptance = 0;
    first_guess(r, 0, m);
    double x = isfinite(r->locked_amps)
                   ? sqrt(fmax(1 / (r->locked_amps * r->locked_amps) - 4 * r->stator_r * r->stator_r, 0.01))
                   : 0.2;
    m->leakage_share = 0;
    m->stator_x = x / 2;
    double running_r = r->slip * gap_square(r, m->stator_x) / r->gap_power;
    m->inner_r = m->outer_r = 2 * running_r; /* two equal cages in parallel are one */
    m->inner_x = m->outer_x = x;
    for (int i = 0; i < 30; i++) {
        double scale = close_rated_point(r, m, &susceptance);
        m->inner_r *= scale;
        m->outer_r *= scale;
    }
    m->slip_breakdown = search_peak(m, &(struct sag_feed){1, 1, 0}, m->slip).slip;
    m->way = SAG_FIT_SINGLE_CAGE;
    m->miss_amps = m->miss_locked_torque = m->miss_breakdown = NAN;
}

/* Amps and torque at standstill become exact at rated volts; only breakdown stays off, which a start needs least. */
static void set_trims(const struct rated_point *rated, struct sag_machine *m)
{
    double amps = rated->locked_amps;
    double torque = gap_torque(m, &(struct sag_feed){1, 1, 0}, 1, &amps);
    m->trim_amps = rated->locked_amps / amps;
    m->trim_torque = rated->locked_torque / torque;
}

static double climb(const struct rated_point *rated, struct sag_machine *best)
{
    const double close = 0.01;
    const double worth = 0.9; /* the last start is tried only when the one before helped that much */
    double least = INFINITY, before = INFINITY;
    for (int start = 0; start < FIT_STARTS && least > close; start++) {
        bool hopeless =
            start > 0 && best->resistance_ratio < 1.25; /* too little torque for the amps: no start mends it */
        if (hopeless || (start > 1 && least > worth * before))
            break;
        before = least;
        struct sag_machine trial;
        first_guess(rated, start, &trial);
        double worst = fit_from(rated, &trial);
        if (worst < least || start == 0) {
            least = worst;
            *best = trial;
        }
    }
    return least;
}

void sag_fit_machine(const struct sag_targets *targets, struct sag_machine *m)
{
    const double close = 0.01, near = 0.10;
    struct sag_targets t = *targets;
    bool torques = !isnan(t.locked_torque) && !isnan(t.breakdown_torque);
    if (!torques) { /* typical, so that the rated point's split has something to cap with; common practice */
        t.locked_torque = 1.5;
        t.breakdown_torque = 2.2;
    }
    struct rated_point rated = rated_point_of(&t);
    if (!torques) {
        fit_single_cage(&rated, m);
        return;
    }
    double worst = climb(&rated, m);
    if (!isfinite(worst)) {
        fit_single_cage(&rated, m);
        return;
    }
    m->way = worst <= close ? SAG_FIT_CLOSE : worst <= near ? SAG_FIT_NEAR : SAG_FIT_CONTRADICTED;
    set_trims(&rated, m);
}

const char *sag_suspect(const struct sag_machine *m)
{
    if (m->way == SAG_FIT_CLOSE || m->way >= SAG_FIT_SINGLE_CAGE)
        return NULL;
    if (m->resistance_ratio < 1.25)
        return "locked-rotor torque is low, or locked-rotor amps high, for the rated slip";
    if (m->reactance_ratio > 1.7)
        return "breakdown torque is low for the locked-rotor amps";
    if (m->reactance_ratio < 1)
        return "breakdown torque is more than the locked-rotor amps allow";
    return "locked-rotor amps, locked-rotor torque and breakdown torque do not belong to one motor";
}
