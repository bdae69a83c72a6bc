/* Whether relay, device and instantaneous trip let a start pass: each moment of the run-up uses up a share of the time
   that a curve allows at the amps of that moment, and at a whole the device opens. */
#include <math.h>

#include "protect/parts.h"

double sag_curve_time(const struct sag_curve *curve, double multiple)
{
    const struct sag_curve_point *p = curve->points;
    size_t n = curve->count;
    if (isnan(multiple))
        return NAN;
    if (n == 0 || multiple < p[0].multiple)
        return INFINITY;
    for (size_t i = 1; i < n; i++)
        if (multiple < p[i].multiple) {
            double weight = log(multiple / p[i - 1].multiple) / log(p[i].multiple / p[i - 1].multiple);
            return exp(log(p[i - 1].seconds) + weight * log(p[i].seconds / p[i - 1].seconds));
        }
    return p[n - 1].seconds;
}

/* What is read off at one current: the share of the way to opening that a second uses up. */
struct rates {
    double slow, likely, fast; /* by usual curves, by the class, or by the maker's own */
    double hold, open;         /* by the standard: at most, at least */
};

struct let_start {
    const struct sag_let_job *job;
    struct sag_let_start *out;
    struct sag_relay relay;
};

typedef void rate_fn(const struct let_start *l, double amps, struct rates *out);

static void relay_rates(const struct let_start *l, double amps, struct rates *out)
{
    struct sag_qty time = sag_relay_time(l->job->tables, &l->relay, amps, 0);
    *out = (struct rates){1 / time.high, 1 / time.value, 1 / time.low, 1 / time.low, 1 / time.high};
}

static void device_rates(const struct let_start *l, double amps, struct rates *out)
{
    const struct sag_let_start *r = l->out;
    double multiple = amps / r->device_amps;
    if (l->job->device_curve.count) {
        double rate = 1 / sag_curve_time(&l->job->device_curve, multiple);
        *out = (struct rates){rate, rate, rate, rate, rate};
        return;
    }
    enum sag_device kind = (enum sag_device)r->kind;
    struct sag_opening_times fixed = sag_ask_standard_times(l->job->tables, kind, r->device_amps, multiple);
    struct sag_opening_times usual = sag_ask_usual_times(l->job->tables, kind, multiple);
    double likely = isinf(usual.least) ? INFINITY : sqrt(usual.least * usual.most);
    *out = (struct rates){1 / usual.most, 1 / likely, 1 / usual.least, 1 / fixed.least, 1 / fixed.most};
}

/* The rates summed over a run until it is up to speed. */
static struct rates used_by(const struct let_start *l, const struct sag_run *run, rate_fn *rates_at)
{
    struct rates sum = {0}, before = {0}, now;
    double last = 0;
    bool any = false;
    for (size_t i = 0; i < run->trace_count && (!any || last < run->started[0].time_to_speed); i++) {
        const struct sag_trace_row *row = &run->trace[i];
        if (row->motor != run->started[0].motor || row->time < 0)
            continue;
        rates_at(l, row->amps, &now);
        double half = any ? (row->time - last) / 2 : 0;
        if (half > 0) { /* a rate without end needs a moment to act in */
            sum.slow += half * (before.slow + now.slow);
            sum.likely += half * (before.likely + now.likely);
            sum.fast += half * (before.fast + now.fast);
            sum.hold += half * (before.hold + now.hold);
            sum.open += half * (before.open + now.open);
        }
        before = now;
        last = row->time;
        any = true;
    }
    return sum;
}

static enum sag_let let_of(const struct rates *hardest, const struct rates *easiest, bool own_curve)
{
    if (hardest->hold < 1)
        return SAG_LET_YES;
    if (easiest->open >= 1 || easiest->slow >= 1)
        return SAG_LET_NO;
    return hardest->fast < 1 ? SAG_LET_LIKELY : own_curve ? SAG_LET_UNSURE : SAG_LET_MAKER;
}

/* A run that hangs is no start to let pass: that it ends in a trip is what the relay is for. */
static bool is_start(const struct sag_run *run)
{
    return run->count > 0 && run->started[0].computed && run->started[0].runs_up && run->trace_count > 0;
}

/* The likely run gives the value, all runs together its bounds. What the standard fixes narrows the usual curves. */
static struct sag_passage passage(const struct let_start *l, rate_fn *rates_at)
{
    struct rates hardest = {0}, easiest = {INFINITY, INFINITY, INFINITY, INFINITY, INFINITY}, likely = {0};
    for (int k = 0; k < l->job->run_count; k++) {
        if (!is_start(&l->job->runs[k]))
            continue;
        struct rates used = used_by(l, &l->job->runs[k], rates_at);
        likely = k == 0 ? used : likely;
        hardest.fast = fmax(hardest.fast, used.fast);
        hardest.hold = fmax(hardest.hold, used.hold);
        easiest.slow = fmin(easiest.slow, used.slow);
        easiest.open = fmin(easiest.open, used.open);
    }
    bool own_curve = (rates_at == relay_rates ? l->job->relay_curve : l->job->device_curve).count > 0;
    struct sag_passage p = {.let = let_of(&hardest, &easiest, own_curve)};
    double high = fmin(hardest.fast, hardest.hold); /* where a usual curve says more, the standard is right */
    double low = fmin(fmax(easiest.slow, easiest.open), high);
    p.used = sag_between(fmin(fmax(likely.likely, low), high), low, high, SAG_COMPUTED);
    return p;
}

/* The first peak with its offset over that of a steady sine: kappa of IEC 60909-0, 4.3.1.1 (from memory). */
static double offset_of(double power_factor)
{
    double r_over_x = power_factor / sqrt(fmax(1 - power_factor * power_factor, 1e-9));
    return 1.02 + 0.98 * exp(-3 * r_over_x);
}

/* Amps of the first half cycle as a trip that feels peaks sees them; a starter that changes over may bring more, as a
   transient or for good. */
static double first_amps(const struct sag_started *s, double *offset)
{
    *offset = offset_of(s->power_factor_closing);
    return fmax(fmax(*offset * s->amps_closing, s->amps_peak), isnan(s->amps_transfer) ? 0 : s->amps_transfer);
}

/* Multiple from which a maker's curve opens within a cycle; INFINITY: it does not go down so far. */
static double first_cycle_multiple(const struct sag_curve *curve)
{
    const double cycle = 1.0 / 60; /* s; what opens within it has felt the first half cycle */
    for (size_t i = 0; i < curve->count; i++) {
        const struct sag_curve_point *p = &curve->points[i];
        if (p->seconds > cycle)
            continue;
        if (i == 0)
            return p->multiple;
        double weight = log(cycle / p[-1].seconds) / log(p->seconds / p[-1].seconds);
        return p[-1].multiple * pow(p->multiple / p[-1].multiple, weight);
    }
    return INFINITY;
}

/* Instantaneous breakers act at their setting, thermal-magnetic ones where their curve says so, else where makers
   usually put it; fuses have no such trip. */
static void check_instant(struct let_start *l)
{
    struct sag_let_start *r = l->out;
    bool setting = r->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    if (!setting && r->kind != SAG_DEVICE_INVERSE_TIME_BREAKER)
        return;
    struct sag_answer acts =
        sag_ask_protection_default(l->job->tables, setting ? "instantaneous_setting" : "breaker_magnetic");
    double own = setting ? INFINITY : first_cycle_multiple(&l->job->device_curve);
    bool told = setting || isfinite(own);
    if (isfinite(own))
        acts.value = acts.low = acts.high = own;
    double least = INFINITY, most = 0, likely = 0;
    for (int k = 0; k < l->job->run_count; k++) {
        if (!is_start(&l->job->runs[k]))
            continue;
        double offset, amps = first_amps(&l->job->runs[k].started[0], &offset);
        least = fmin(least, amps);
        likely = k == 0 ? amps : likely;
        if (amps > most) {
            most = amps;
            r->offset = offset;
        }
    }
    r->first_amps = most;
    r->instant.used = sag_between(likely / (acts.value * r->device_amps), least / (acts.high * r->device_amps),
                                  most / (acts.low * r->device_amps), SAG_COMPUTED);
    const struct sag_qty *u = &r->instant.used;
    r->instant.let = u->high <= 1       ? (told ? SAG_LET_YES : SAG_LET_LIKELY)
                     : u->low > 1       ? SAG_LET_NO
                     : told && !setting ? SAG_LET_UNSURE
                                        : SAG_LET_MAKER;
}

/* Installed, else chosen. */
static void find_device(struct let_start *l)
{
    const struct sag_let_job *job = l->job;
    const struct sag_plate *plate = job->motor->plate;
    struct sag_let_start *r = l->out;
    r->kind = job->size->kind;
    r->device_installed = !isnan(plate->given[SAG_DEVICE_AMPS]);
    r->device_amps = r->device_installed ? plate->given[SAG_DEVICE_AMPS] : job->size->device[r->kind].amps.value;
    r->relay_installed = !isnan(plate->given[SAG_OVERLOAD_AMPS]);
}

static enum sag_let worse_let(enum sag_let a, enum sag_let b)
{
    return a > b ? a : b;
}

void sag_find_let_start(const struct sag_let_job *job, struct sag_let_start *out)
{
    struct let_start l = {.job = job, .out = out};
    const struct sag_passage none = {sag_unknown(), SAG_LET_NONE};
    *out = (struct sag_let_start){.relay = none, .device = none, .instant = none, .let = none.let, .first_amps = NAN};
    out->offset = NAN;
    l.relay = sag_relay_of(job->tables, job->size, job->motor, job->relay_curve);
    find_device(&l);
    out->hangs = job->run_count > 0 && job->runs[0].count > 0 && job->runs[0].started[0].computed &&
                 !job->runs[0].started[0].runs_up;
    out->computed = job->run_count > 0 && is_start(&job->runs[0]);
    if (!out->computed)
        return;
    if (!isnan(l.relay.trip_amps))
        out->relay = passage(&l, relay_rates);
    if (!isnan(out->device_amps)) {
        if (out->kind != SAG_DEVICE_INSTANTANEOUS_BREAKER)
            out->device = passage(&l, device_rates);
        check_instant(&l);
    }
    out->let = worse_let(out->relay.let, worse_let(out->device.let, out->instant.let));
}

const char *sag_let_word(enum sag_let let)
{
    static const char *const words[] = {
#define WORD(name, word) word,
        SAG_LETS(WORD)
#undef WORD
    };
    _Static_assert(sizeof words / sizeof *words == SAG_LET_COUNT, "ORDER LET");
    return words[let];
}
