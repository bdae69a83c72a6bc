/* The fit once more: closed-form loss split and rated point, six unknowns in logarithms, eleven residuals, a library's
   trust region. Split, starting values and limits are common practice, no source. */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <string.h>

#include "outside/reference_circuit.h"

enum {
    UNKNOWNS = 6,
    RESIDUALS = 11
};

struct problem {
    double pag, cos_phi, sin_phi, core;
    double locked_amps, locked_torque, breakdown_torque;
    double weight, anchor[UNKNOWNS];
    struct reference m;
};

static void split_losses(const struct reference_targets *t, struct problem *p)
{
    static const double less[] = {1, 0.8, 0.6, 0.4};
    double loss = t->power_factor * (1 - t->efficiency);
    double kf = t->poles == 2 ? 0.12 : t->poles == 4 ? 0.07 : t->poles == 6 ? 0.05 : 0.04;
    struct reference *m = &p->m;
    m->pn = t->efficiency * t->power_factor;
    m->sn = t->slip;
    for (int i = 0; i < 4; i++) {
        p->core = 0.20 * loss * less[i];
        m->fw = kf * loss * less[i];
        m->r1 = t->power_factor - p->core - (m->pn + m->fw) / (1 - m->sn);
        if (m->r1 >= 0.20 * loss)
            break;
    }
    if (m->r1 < 0.20 * loss) {
        m->r1 = 0.20 * loss;
        m->sn = 1 - (m->pn + m->fw) / (t->power_factor - p->core - m->r1);
    }
    if (m->r1 > 0.65 * loss) {
        p->core += m->r1 - 0.65 * loss;
        m->r1 = 0.65 * loss;
    }
    p->pag = (m->pn + m->fw) / (1 - m->sn);
    p->cos_phi = t->power_factor;
    p->sin_phi = sin(acos(t->power_factor));
    double rated_torque = m->pn / (1 - m->sn);
    p->locked_amps = t->locked_amps;
    p->locked_torque = t->locked_torque * rated_torque;
    p->breakdown_torque = t->breakdown_torque * rated_torque;
}

/* Rated amps, power factor and core loss hold for any trial; returns air-gap power over what it should be. */
static double close_rated(const struct problem *p, struct reference *m, double *bm)
{
    double complex amps = p->cos_phi - I * p->sin_phi;
    double complex e = 1 - amps * (m->r1 + I * m->x1);
    double square = creal(e * conj(e));
    double complex y2 = 1 / (m->r21 / m->sn + I * m->x21) + 1 / (m->r22 / m->sn + I * m->x22);
    *bm = (p->sin_phi - m->x1) / square + cimag(y2);
    m->rc = square / p->core;
    m->xm = 1 / fmax(*bm, 0.02);
    m->en = sqrt(square);
    return square * creal(y2) / p->pag;
}

static double torque_at(const struct reference *m, double log_slip)
{
    return reference_solve(m, 1, 0, exp(log_slip)).shaft_torque;
}

/* First maximum on 41 points, three times 13 finer ones, then a parabola. */
static void find_breakdown(struct reference *m)
{
    double low = log(m->sn), step = -low / 40, best = 0;
    double last = torque_at(m, low);
    for (int i = 1; i <= 40; i++) {
        double torque = torque_at(m, low + i * step);
        if (torque < last) {
            best = low + (i - 1) * step;
            break;
        }
        last = torque;
    }
    for (int round = 0; round < 3; round++) {
        double left = best - step, top = -INFINITY, at = best;
        step /= 6;
        for (int i = 0; i <= 12; i++) {
            double x = fmin(left + i * step, 0), torque = torque_at(m, x);
            if (torque > top) {
                top = torque;
                at = x;
            }
        }
        best = at;
    }
    double a = torque_at(m, best - step), b = torque_at(m, best), c = torque_at(m, best + step);
    double offset = best < 0 && a - 2 * b + c < 0 ? 0.5 * (a - c) / (a - 2 * b + c) : 0;
    m->s_bd = exp(best + offset * step);
    m->t_bd = b - 0.25 * (a - c) * offset;
}

static double limited(double u)
{
    return exp(fmax(-16, fmin(6, u)));
}

static void put(const gsl_vector *u, struct reference *m)
{
    m->x1 = limited(gsl_vector_get(u, 0));
    m->r21 = limited(gsl_vector_get(u, 1));
    m->x22 = limited(gsl_vector_get(u, 4));
    m->x21 = m->x22 + limited(gsl_vector_get(u, 2));
    m->r22 = m->r21 + limited(gsl_vector_get(u, 3));
    m->h = 0.5 / (1 + exp(-gsl_vector_get(u, 5)));
}

static void take(const struct reference *m, gsl_vector *u)
{
    gsl_vector_set(u, 0, log(m->x1));
    gsl_vector_set(u, 1, log(m->r21));
    gsl_vector_set(u, 2, log(m->x21 - m->x22));
    gsl_vector_set(u, 3, log(m->r22 - m->r21));
    gsl_vector_set(u, 4, log(m->x22));
    gsl_vector_set(u, 5, -log(0.5 / m->h - 1));
}

static int residuals(const gsl_vector *u, void *context, gsl_vector *r)
{
    struct problem *p = context;
    struct reference *m = &p->m;
    double bm = 0;
    put(u, m);
    gsl_vector_set(r, 0, 3 * (close_rated(p, m, &bm) - 1));
    struct reference_point start = reference_solve(m, 1, 0, 1);
    gsl_vector_set(r, 1, log(cabs(start.amps) / p->locked_amps));
    gsl_vector_set(r, 2, log(start.gap_power / p->locked_torque));
    find_breakdown(m);
    gsl_vector_set(r, 3, log(m->t_bd / p->breakdown_torque));
    gsl_vector_set(r, 4, 5 * fmax(0, 0.08 - bm));
    for (size_t i = 0; i < UNKNOWNS; i++)
        gsl_vector_set(r, 5 + i, p->weight * (gsl_vector_get(u, i) - p->anchor[i]));
    for (size_t i = 0; i < RESIDUALS; i++)
        if (!isfinite(gsl_vector_get(r, i)))
            return GSL_EDOM;
    return GSL_SUCCESS;
}

static void stage(struct problem *p, double weight, gsl_vector *u, int *steps, double *sum)
{
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    how.trs = gsl_multifit_nlinear_trs_lm;
    how.h_df = 1e-5;
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, RESIDUALS, UNKNOWNS);
    gsl_multifit_nlinear_fdf f = {.f = residuals, .n = RESIDUALS, .p = UNKNOWNS, .params = p};
    int info = 0;
    p->weight = weight;
    gsl_multifit_nlinear_init(u, &f, w);
    gsl_multifit_nlinear_driver(40, 1e-6, 0, 0, NULL, NULL, &info, w);
    gsl_vector_memcpy(u, gsl_multifit_nlinear_position(w));
    *steps = (int)gsl_multifit_nlinear_niter(w);
    *sum = pow(gsl_blas_dnrm2(gsl_multifit_nlinear_residual(w)), 2);
    gsl_multifit_nlinear_free(w);
}

/* Both cages by one factor until the rated torque is exact. */
static void polish(const struct problem *p, struct reference *m)
{
    double bm = 0, r21 = m->r21, r22 = m->r22, low = 0.5, high = 2;
    for (int i = 0; i < 80; i++) {
        double scale = 0.5 * (low + high);
        m->r21 = r21 * scale;
        m->r22 = r22 * scale;
        if (close_rated(p, m, &bm) > 1)
            low = scale;
        else
            high = scale;
    }
}

static void guess(const struct problem *p, int start, struct reference *m)
{
    static const double scales[3][4] = {{1, 1, 1, 1}, {0.7, 1.4, 1.4, 0.7}, {1, 2, 2, 2}};
    static const double shares[3] = {0.40, 0.4999, 0.20};
    double zlr = 1 / p->locked_amps, rlr = 1.10 * p->locked_torque * zlr * zlr;
    double square = zlr * zlr - (m->r1 + rlr) * (m->r1 + rlr);
    double xlr = fmax(square > 0 ? sqrt(square) : 0, 0.35 * zlr);
    double a = 0.92 / (2 * p->breakdown_torque) - m->r1;
    double xrun = a > m->r1 ? fmin(fmax(sqrt(a * a - m->r1 * m->r1), 1.15 * xlr), 2.5 * xlr) : 1.15 * xlr;
    double x1 = 0.40 * xrun;
    double en = cabs(1 - (p->cos_phi - I * p->sin_phi) * (m->r1 + I * x1));
    m->r21 = 1.15 * 1.03 * m->sn * en * en / p->pag;
    m->r22 = fmax(3 * m->r21, 2 * rlr) * scales[start][3];
    m->x21 = 1.15 * (xrun - x1) * scales[start][1];
    m->x22 = fmin(0.5 * 1.15 * (xrun - x1) * scales[start][2], 0.9 * m->x21);
    m->r22 = fmax(m->r22, 1.05 * m->r21);
    m->x1 = x1 * scales[start][0];
    m->h = shares[start];
}

static double fit_once(struct problem *p, int start)
{
    gsl_vector *u = gsl_vector_alloc(UNKNOWNS);
    struct reference *m = &p->m;
    guess(p, start, m);
    take(m, u);
    memcpy(p->anchor, gsl_vector_const_ptr(u, 0), sizeof p->anchor);
    stage(p, 0.03, u, &m->steps[0], &m->sums[0]);
    stage(p, 0.003, u, &m->steps[1], &m->sums[1]);
    put(u, m);
    gsl_vector_free(u);
    polish(p, m);
    find_breakdown(m);
    struct reference_point at = reference_solve(m, 1, 0, 1);
    m->miss_amps = cabs(at.amps) / p->locked_amps - 1;
    m->miss_torque = at.gap_power / p->locked_torque - 1;
    m->miss_breakdown = m->t_bd / p->breakdown_torque - 1;
    m->k_amps = p->locked_amps / cabs(at.amps);
    m->k_torque = p->locked_torque / at.gap_power;
    return fmax(fabs(m->miss_amps), fmax(fabs(m->miss_torque), fabs(m->miss_breakdown)));
}

double reference_fit(const struct reference_targets *t, struct reference *m)
{
    struct problem p = {.weight = 0};
    double least = INFINITY;
    split_losses(t, &p);
    for (int start = 0; start < 3 && !(least <= 0.01); start++) {
        double worst = fit_once(&p, start);
        if (worst < least || start == 0) {
            least = worst;
            *m = p.m;
        }
    }
    return least;
}
