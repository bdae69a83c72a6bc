/* Steps, and what happens between them: contactors close, starters change over, speeds are reached. */
#include <math.h>

#include "start/sim.h"

#define TOLERANCE  5e-4  /* share of synchronous speed, of the lower-order solution a step carries along */
#define FIRST_STEP 1e-3  /* s, after whatever happened */
#define LONGEST    300.0 /* s after the last event: what is not up to speed by then will not be */
#define SHORTEST   1e-9  /* s; where no step at all succeeds, the network has collapsed */
#define MOST_STEPS 5000  /* fifty times what a start takes: beyond it something chatters without end */
#define STILL      1e-4  /* share of synchronous speed a second: slower counts as settled */

static double supply_speed(const struct sim *s, size_t item)
{
    return s->grid.motors[s->job->closings[item].motor].hz_share;
}

/* The next instant at which something happens by itself; INFINITY when nothing will. */
static double next_event(const struct sim *s)
{
    double next = INFINITY;
    for (size_t i = 0; i < s->job->count; i++) {
        const struct item *item = &s->items[i];
        double at = s->job->closings[i].at;
        if (item->stage >= 0 && item->stage + 1 >= item->stages.count)
            at = INFINITY; /* it stays as it is */
        else if (item->stage >= 0) {
            const struct stage *stage = &item->stages.of[item->stage];
            at = (stage->open ? item->stage_from : item->closed_at) + stage->until_time;
            double ramp_end = item->closed_at + stage->ramp_time;
            if (stage->controls && ramp_end > s->time + 1e-9)
                at = fmin(at, ramp_end);
        }
        next = fmin(next, at);
    }
    return next;
}

/* Share of a step after which the first changeover speed is reached; above 1 when none is. */
static double crossing(const struct sim *s)
{
    double first = 2;
    for (size_t i = 0; i < s->job->count; i++) {
        const struct item *item = &s->items[i];
        int32_t at = item->mover;
        if (item->stage < 0 || at < 0)
            continue;
        double target = item->stages.of[item->stage].until_speed * supply_speed(s, i);
        if (s->state[at] < target && s->next[at] > target + 1e-5)
            first = fmin(first, (target - s->state[at]) / (s->next[at] - s->state[at]));
    }
    return first;
}

static bool stage_is_over(const struct sim *s, size_t i)
{
    const double hair = 1e-9, near = 2e-5;
    const struct item *item = &s->items[i];
    if (item->stage < 0)
        return s->time >= s->job->closings[i].at - hair;
    const struct stage *stage = &item->stages.of[item->stage];
    if (item->stage + 1 >= item->stages.count)
        return false;
    double from = stage->open ? item->stage_from : item->closed_at;
    if (s->time >= from + stage->until_time - hair)
        return true;
    int32_t at = item->mover;
    if (at >= 0 && s->state[at] >= stage->until_speed * supply_speed(s, i) - near)
        return true;
    const struct net_motor *m = &s->net.motors[s->job->closings[i].motor];
    return stage->controls && s->time >= item->closed_at + stage->ramp_time - hair && m->control >= 0.999;
}

/* Both sides of what is due now are kept: without the one before, a line through the samples would be a ramp, and so
   would be what is integrated over them. */
static enum sag_status record_before_events(struct sim *s)
{
    bool any = false;
    for (size_t i = 0; i < s->job->count; i++)
        any = any || stage_is_over(s, i);
    if (!any)
        return SAG_OK;
    return sim_slopes(s, s->time, s->state, s->slope, s->stiff) ? sim_record(s) : SAG_NO_SOLUTION;
}

/* Everything due now; true when anything was. */
static enum sag_status handle_events(struct sim *s, bool *handled)
{
    enum sag_status status = SAG_OK;
    bool any = false, closes = false;
    for (size_t i = 0; i < s->job->count; i++)
        closes = closes || (s->items[i].stage < 0 && stage_is_over(s, i));
    if (closes)
        sim_open_window(s);
    for (size_t i = 0; i < s->job->count; i++)
        if (stage_is_over(s, i)) {
            enum sag_status entered = sim_enter_stage(s, i, s->items[i].stage + 1);
            status = entered != SAG_OK ? entered : status;
            any = true;
        }
    *handled = any;
    return status;
}

/* Slow enough, or near enough to where its slope vanishes: steps wander about that by their tolerance. */
static bool settled(const struct sim *s)
{
    const double near = 2e-4;
    for (size_t i = 0; i < s->size; i++) {
        double scale = i < s->mover_count ? 1 : 1 / s->state[i];
        double slope = fabs(s->slope[i]) * scale;
        if (slope > STILL && slope > near * -s->stiff[i])
            return false;
    }
    return true;
}

/* One accepted step of at most h; shortened to land on a changeover speed. Returns its length, NAN on failure. */
static double advance(struct sim *s, double h, double *proposed)
{
    enum {
        MOST_TRIES = 40
    };
    for (int i = 0; i < MOST_TRIES && h > SHORTEST; i++) {
        double error = sim_step(s, h);
        double at = isnan(error) ? 2 : crossing(s);
        double factor = isnan(error) ? 0.1 : 0.9 / sqrt(fmax(error / TOLERANCE, 1e-6));
        if (isnan(error) || error > TOLERANCE)
            h *= fmin(fmax(factor, 0.1), 0.9);
        else if (at <= 1)
            h *= fmax(at, 1e-3);
        else {
            *proposed = h * fmin(fmax(factor, 0.2), 3);
            return h;
        }
    }
    return NAN;
}

static void take_next(struct sim *s, double h)
{
    double *swap = s->state;
    s->state = s->next;
    s->next = swap;
    s->time += h;
    s->run->steps++;
}

enum sag_status sim_integrate(struct sim *s)
{
    double h = FIRST_STEP, quiet_since = s->time;
    for (;;) {
        enum sag_status status = record_before_events(s);
        bool handled = false;
        if (status == SAG_OK)
            status = handle_events(s, &handled);
        if (status != SAG_OK)
            return status;
        if (handled) {
            h = FIRST_STEP;
            quiet_since = s->time;
        }
        if (!sim_slopes(s, s->time, s->state, s->slope, s->stiff))
            return SAG_NO_SOLUTION;
        status = sim_record(s);
        double event = next_event(s);
        if (status != SAG_OK)
            return status;
        s->run->settled = settled(s);
        bool gives_up = s->time > quiet_since + LONGEST || s->run->steps > MOST_STEPS * (s->job->count + 1);
        if ((s->run->settled && isinf(event)) || gives_up)
            break;
        double most = event - s->time, proposed = h;
        double taken = advance(s, fmin(fmax(h, 1e-6), most), &proposed);
        if (isnan(taken))
            return SAG_NO_SOLUTION;
        take_next(s, taken);
        h = taken < most ? proposed : fmax(h, proposed);
        if (event - s->time < 1e-9 && event > s->time) /* no rounding left before an event */
            s->time = event;
    }
    s->run->end_time = s->time;
    return SAG_OK;
}
