/* The circuit that reproduces a plate. Six unknowns (stator leakage, two cages, the share of leakage that saturates)
   against four targets, so a weak anchor to the starting values makes the answer unique. Damped least squares; the
   slip of breakdown is followed from step to step, and because torque is flat there, the derivative of the greatest
   torque is that of the torque at a fixed slip. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#include "model/parts.h"

enum {
    UNKNOWNS = 6,
    TARGETS = 5,
    RESIDUALS = TARGETS + UNKNOWNS,
    MOST_STEPS = 40
};

#define MOST_SATURATION   0.5  /* more would make reduced-voltage amps fall implausibly fast; common practice */
#define LEAST_SUSCEPTANCE 0.08 /* below it the motor would have no magnetising current to speak of */

struct fit {
    const struct rated_point *rated;
    struct sag_machine trial;
    double u[UNKNOWNS], anchor[UNKNOWNS];
    double weight;                            /* of the anchor */
    double peak_slip, peak_amps, locked_amps; /* where the last step left them */
};

/* u <-> elements: logarithms keep signs and order (outer cage above in resistance, below in leakage). */
static void to_unknowns(const struct sag_machine *m, double u[UNKNOWNS])
{
    double share = m->leakage_share / MOST_SATURATION;
    u[0] = log(m->stator_x);
    u[1] = log(m->inner_r);
    u[2] = log(m->inner_x - m->outer_x);
    u[3] = log(m->outer_r - m->inner_r);
    u[4] = log(m->outer_x);
    u[5] = log(share / (1 - share));
}

static double bounded_exp(double u)
{
    return exp(u < -16 ? -16 : u > 6 ? 6 : u);
}

static void to_elements(const double u[UNKNOWNS], struct sag_machine *m)
{
    m->stator_x = bounded_exp(u[0]);
    m->inner_r = bounded_exp(u[1]);
    m->outer_x = bounded_exp(u[4]);
    m->inner_x = m->outer_x + bounded_exp(u[2]);
    m->outer_r = m->inner_r + bounded_exp(u[3]);
    m->leakage_share = MOST_SATURATION / (1 + 1 / bounded_exp(u[5]));
}

static const struct sag_feed at_rated = {.volts = 1, .hz = 1, .main_flux = 0};

/* Residuals at f->u with breakdown taken at slip `peak`. */
static void residuals(struct fit *f, double peak, double r[RESIDUALS])
{
    const struct rated_point *rated = f->rated;
    double susceptance = 0, locked = f->locked_amps, amps = f->peak_amps;
    to_elements(f->u, &f->trial);
    r[0] = 3 * (close_rated_point(rated, &f->trial, &susceptance) - 1);
    double locked_torque = gap_torque(&f->trial, &at_rated, 1, &locked);
    r[1] = log(locked / rated->locked_amps);
    r[2] = log(locked_torque / rated->locked_torque);
    r[3] = log(shaft_torque(&f->trial, &at_rated, peak, &amps) / rated->breakdown_torque);
    r[4] = 5 * fmax(0, LEAST_SUSCEPTANCE - susceptance);
    for (int i = 0; i < UNKNOWNS; i++)
        r[TARGETS + i] = f->weight * (f->u[i] - f->anchor[i]);
    f->locked_amps = locked;
    f->peak_amps = amps;
}

static double follow_peak(struct fit *f)
{
    double susceptance = 0;
    to_elements(f->u, &f->trial);
    close_rated_point(f->rated, &f->trial, &susceptance);
    f->peak_slip = track_peak(&f->trial, &at_rated, f->peak_slip);
    return f->peak_slip;
}

static double sum_of_squares(const double r[RESIDUALS])
{
    double sum = 0;
    for (int i = 0; i < RESIDUALS; i++)
        sum += r[i] * r[i];
    return sum;
}

static void jacobian(struct fit *f, const double r[RESIDUALS], double j[RESIDUALS][UNKNOWNS])
{
    const double step = 1e-5;
    double moved[RESIDUALS];
    for (int k = 0; k < UNKNOWNS; k++) {
        double kept = f->u[k];
        f->u[k] = kept + step;
        residuals(f, f->peak_slip, moved);
        f->u[k] = kept;
        for (int i = 0; i < RESIDUALS; i++)
            j[i][k] = (moved[i] - r[i]) / step;
    }
}

/* Step of the damped normal equations; false when they have none. */
static bool damped_step(const double j[RESIDUALS][UNKNOWNS], const double r[RESIDUALS], double damping,
                        double step[UNKNOWNS])
{
    double a[UNKNOWNS * UNKNOWNS], b[UNKNOWNS];
    for (int m = 0; m < UNKNOWNS; m++) {
        b[m] = 0;
        for (int i = 0; i < RESIDUALS; i++)
            b[m] -= j[i][m] * r[i];
        for (int n = 0; n < UNKNOWNS; n++) {
            a[m * UNKNOWNS + n] = 0;
            for (int i = 0; i < RESIDUALS; i++)
                a[m * UNKNOWNS + n] += j[i][m] * j[i][n];
        }
        a[m * UNKNOWNS + m] *= 1 + damping;
    }
    gsl_matrix_view matrix = gsl_matrix_view_array(a, UNKNOWNS, UNKNOWNS);
    gsl_vector_view right = gsl_vector_view_array(b, UNKNOWNS);
    gsl_vector_view left = gsl_vector_view_array(step, UNKNOWNS);
    return gsl_linalg_cholesky_decomp1(&matrix.matrix) == GSL_SUCCESS &&
           gsl_linalg_cholesky_solve(&matrix.matrix, &right.vector, &left.vector) == GSL_SUCCESS;
}

static double longest(const double step[UNKNOWNS])
{
    double most = 0;
    for (int i = 0; i < UNKNOWNS; i++)
        most = fmax(most, fabs(step[i]));
    return most;
}

/* Try steps with growing damping until one lowers the sum; false when none does. */
static bool descend(struct fit *f, const double j[RESIDUALS][UNKNOWNS], double r[RESIDUALS], double *damping,
                    double *moved)
{
    enum {
        MOST_TRIES = 12
    };
    const double longest_step = 1.5;
    double sum = sum_of_squares(r);
    double kept[UNKNOWNS], step[UNKNOWNS] = {0}, next[RESIDUALS];
    memcpy(kept, f->u, sizeof kept);
    for (int tries = 0; tries < MOST_TRIES; tries++) {
        bool solved = damped_step(j, r, *damping, step);
        *damping *= 5;
        if (!solved)
            continue;
        double shorten = fmin(1, longest_step / longest(step));
        for (int i = 0; i < UNKNOWNS; i++)
            f->u[i] = kept[i] + shorten * step[i];
        residuals(f, f->peak_slip, next); /* near enough to choose by; torque is flat around its top */
        if (isfinite(sum_of_squares(next)) && sum_of_squares(next) < sum) {
            residuals(f, follow_peak(f), r);
            *moved = shorten * longest(step);
            *damping = fmax(*damping / 7, 1e-9); /* a little less than it took */
            return true;
        }
        memcpy(f->u, kept, sizeof kept);
    }
    return false;
}

/* Down to the bottom: until steps are shorter than `still`, or twice in a row gain nothing that a plate could show.
   Data that contradict each other leave a valley in which one could crawl on for long. */
static void least_squares(struct fit *f, double still)
{
    const double worth = 1e-3;
    double r[RESIDUALS], j[RESIDUALS][UNKNOWNS];
    double damping = 1e-4, moved = 1;
    int idle = 0;
    residuals(f, follow_peak(f), r);
    for (int i = 0; i < MOST_STEPS && moved > still && idle < 2; i++) {
        double before = sum_of_squares(r);
        jacobian(f, r, j);
        if (!descend(f, (const double(*)[UNKNOWNS])j, r, &damping, &moved))
            break;
        idle = 1 - sum_of_squares(r) / before > worth ? 0 : idle + 1;
    }
}

/* Scale both cages by one factor until rated torque is exact: the last digits that the anchor takes away. */
static void polish(const struct rated_point *rated, struct sag_machine *m)
{
    double susceptance = 0, scale = 1, last_scale = 1.001;
    double inner = m->inner_r, outer = m->outer_r;
    m->inner_r = inner * last_scale;
    m->outer_r = outer * last_scale;
    double last_error = close_rated_point(rated, m, &susceptance) - 1;
    for (int i = 0; i < 12; i++) {
        m->inner_r = inner * scale;
        m->outer_r = outer * scale;
        double error = close_rated_point(rated, m, &susceptance) - 1;
        double slope = (error - last_error) / (scale - last_scale);
        if (fabs(error) < 1e-14 || slope == 0 || !isfinite(slope))
            break;
        last_scale = scale;
        last_error = error;
        scale -= error / slope;
    }
}

static void measure_misses(const struct rated_point *rated, struct sag_machine *m)
{
    double amps = 6;
    struct sag_peak peak = search_peak(m, &at_rated, m->slip);
    double torque = gap_torque(m, &at_rated, 1, &amps);
    m->slip_breakdown = peak.slip;
    m->miss_amps = amps / rated->locked_amps - 1;
    m->miss_locked_torque = torque / rated->locked_torque - 1;
    m->miss_breakdown = peak.torque / rated->breakdown_asked - 1;
}

double fit_from(const struct rated_point *rated, struct sag_machine *trial)
{
    /* first hold on to the start and come near, then let go of it and settle */
    static const struct {
        double weight, still;
    } stages[] = {{0.03, 1e-2}, {0.003, 1e-6}};
    struct fit f = {.rated = rated, .trial = *trial, .peak_amps = 4, .locked_amps = rated->locked_amps};
    double susceptance = 0;
    close_rated_point(rated, &f.trial, &susceptance);
    f.peak_slip = search_peak(&f.trial, &at_rated, rated->slip).slip;
    to_unknowns(trial, f.u);
    memcpy(f.anchor, f.u, sizeof f.anchor);
    for (size_t i = 0; i < sizeof stages / sizeof *stages; i++) {
        f.weight = stages[i].weight;
        least_squares(&f, stages[i].still);
    }
    to_elements(f.u, &f.trial);
    polish(rated, &f.trial);
    measure_misses(rated, &f.trial);
    *trial = f.trial;
    double worst = fmax(fabs(trial->miss_amps), fmax(fabs(trial->miss_locked_torque), fabs(trial->miss_breakdown)));
    return isfinite(worst) ? worst : INFINITY;
}
