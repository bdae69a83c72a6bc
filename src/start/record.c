/* What is kept while a run goes on, and what is told at its end. */
#include <math.h>
#include <stdlib.h>

#include "base/grow.h"
#include "start/sim.h"

/* Volts that meet when a starter closes again on a turning motor, of its rated: the line's, and its own field, faded
   over the gap and out of step, against them. Half a phase (30 degrees) is added against it: from the wye to the delta
   the windings' volts turn by as much. */
static double meeting_volts(const struct sim *s, size_t i, double line)
{
    const struct sag_grid_motor *g = &s->grid.motors[s->job->closings[i].motor];
    const struct item *item = &s->items[i];
    const struct sag_machine *m = &g->machine;
    double gap = s->time - item->stage_from, electrical = 2 * acos(-1.0) * g->hz;
    double fade = exp(-gap * electrical * m->inner_r / (m->magnet_x + m->inner_x));
    double slip = s->net.motors[s->job->closings[i].motor].slip;
    double behind = electrical * g->hz_share * gap * slip + acos(-1.0) / 6;
    double field = item->gap_volts * fade * (1 - slip);
    return fmax(cabs(line - field * CMPLX(cos(behind), -sin(behind))), 0.05);
}

/* Amps that they drive through the standing rotor's impedance and the path's. */
static double changeover_amps(const struct sim *s, size_t i, double complex path)
{
    const struct sag_grid_motor *g = &s->grid.motors[s->job->closings[i].motor];
    double volts = meeting_volts(s, i, cabs(s->net.volts[g->node]) / g->volts_rated);
    const struct sag_feed feed = {volts, g->hz_share, 0};
    struct sag_guess guess = {.amps = 6 * volts};
    struct sag_response r;
    sag_circuit_from(&g->machine, &feed, 1, &guess, &r);
    double complex motor = g->base.ohms / CMPLX(r.conductance, r.susceptance);
    double complex whole = motor + CMPLX(g->branch_r, g->branch_x) + path;
    return volts * g->volts_rated / ROOT3 / cabs(whole);
}

static enum sag_status keep_changeover(struct sim *s, size_t i)
{
    size_t motor = s->job->closings[i].motor;
    struct sag_started *r = &s->run->started[i];
    double complex *seen = calloc(s->grid.node_count, sizeof *seen);
    if (!seen || !net_impedance_seen(&s->net, seen)) {
        free(seen);
        return SAG_NO_MEMORY;
    }
    double amps = changeover_amps(s, i, seen[s->grid.motors[motor].node]);
    free(seen);
    r->amps_transfer = fmax(isnan(r->amps_transfer) ? 0 : r->amps_transfer, amps);
    return SAG_OK;
}

void sim_open_window(struct sim *s)
{
    struct sag_run *run = s->run;
    size_t n = s->grid.node_count, m = s->grid.motor_count;
    s->window = s->window == run->windows ? 0 : s->window + 1;
    for (size_t i = 0; i < n; i++) {
        run->node_before[s->window * n + i] = run->node_lowest[s->window * n + i] = cabs(s->net.volts[i]);
        run->node_closing[s->window * n + i] = NAN;
    }
    for (size_t i = 0; i < m; i++) {
        const struct net_motor *motor = &s->net.motors[i];
        double volts = motor->how == NET_OFF ? NAN : motor->volts_line * s->grid.motors[i].terminal_share;
        run->motor_before[s->window * m + i] = run->motor_lowest[s->window * m + i] = volts;
    }
}

enum sag_status sim_enter_stage(struct sim *s, size_t i, int stage)
{
    struct item *item = &s->items[i];
    size_t motor = s->job->closings[i].motor;
    const struct sag_grid_motor *g = &s->grid.motors[motor];
    struct net_motor *m = &s->net.motors[motor];
    bool was_open = item->stage >= 0 && item->stages.of[item->stage].open;
    if (item->stage < 0) {
        item->closed_at = s->time;
        s->run->started[i].window = s->window;
        s->run->started[i].volts_before = cabs(s->net.volts[g->node]) * g->terminal_share;
        s->run->started[i].board_before = cabs(s->net.volts[g->node]);
    }
    item->stage = stage;
    if (item->mover < 0) { /* no speed to integrate: a drive ramps it up, another simply runs from now on */
        net_run_motor(&s->net, motor, item->share);
        if (stage + 1 < item->stages.count) {
            m->how = NET_CURRENT;
            m->amps = item->starter.setting * g->base.amps;
            m->power_factor = sag_ask_starter_default(s->job->tables, "drive_power_factor").value;
        }
        return SAG_OK;
    }
    const struct stage *now = &item->stages.of[stage];
    if (now->open)
        item->gap_volts = m->volts_motor / g->volts_rated; /* about the field's, which leakage lowers */
    enum sag_status status = was_open ? keep_changeover(s, i) : SAG_OK;
    item->stage_from = s->time;
    double slip = m->how == NET_OFF && stage == 0 ? 1 : m->slip;
    *m = (struct net_motor){.how = now->open ? NET_OFF : NET_CIRCUIT,
                            .slip = slip,
                            .front = now->front,
                            .guess = {.amps = stage == 0 ? 6 : 1}};
    return status;
}

static enum sag_status add_sample(struct item *item, const struct sample *sample)
{
    if (!sag_grow(&item->samples, item->count + 1, &item->room, sizeof *item->samples))
        return SAG_NO_MEMORY;
    item->samples[item->count++] = *sample;
    return SAG_OK;
}

static enum sag_status add_trace(struct sag_run *run, const struct sag_trace_row *row)
{
    if (!sag_grow(&run->trace, run->trace_count + 1, &run->trace_room, sizeof *run->trace))
        return SAG_NO_MEMORY;
    run->trace[run->trace_count++] = *row;
    return SAG_OK;
}

static double low(double a, double b)
{
    return isnan(a) || b < a ? b : a;
}

static double winding_share(const struct item *item)
{
    return item->stage >= 0 && item->stages.count ? item->stages.of[item->stage].winding_share : 1;
}

/* Speed and torques at this instant; a drive holds torque at what the load takes. */
struct shaft {
    double speed, torque, load;
};

static struct shaft shaft_of(const struct sim *s, size_t i)
{
    const struct item *item = &s->items[i];
    const struct sag_grid_motor *g = &s->grid.motors[s->job->closings[i].motor];
    const struct net_motor *m = &s->net.motors[s->job->closings[i].motor];
    struct shaft shaft = {0};
    if (item->mover >= 0)
        shaft.speed = s->state[item->mover];
    else
        shaft.speed = g->hz_share * (1 - g->machine.slip) *
                      fmin(1, (s->time - item->closed_at) / fmax(item->starter.ramp_time, 1e-3));
    shaft.load = sag_load_torque(&g->machine, &g->load, item->share, shaft.speed);
    shaft.torque = item->mover < 0 ? shaft.load : m->how == NET_CIRCUIT ? m->torque : 0;
    return shaft;
}

static void record_extremes(struct sim *s, size_t i)
{
    struct sag_started *r = &s->run->started[i];
    const struct sag_grid_motor *g = &s->grid.motors[r->motor];
    const struct net_motor *m = &s->net.motors[r->motor];
    bool on = m->how != NET_OFF;
    double board = cabs(s->net.volts[g->node]), line = (on ? m->volts_line : board) * g->terminal_share;
    if (isnan(r->volts_closing)) {
        r->volts_closing = line;
        r->board_closing = board;
        r->amps_closing = on ? m->line_amps : 0;
        r->power_factor_closing = on ? creal(m->y_in) / cabs(m->y_in) : NAN;
    }
    if (s->window != r->window) /* a later start's dip is told with that start */
        return;
    r->volts_lowest = low(r->volts_lowest, line);
    if (on)
        r->terminals_lowest = low(r->terminals_lowest, m->volts_motor / winding_share(&s->items[i]));
    r->board_lowest = low(r->board_lowest, board);
    r->amps_peak = fmax(isnan(r->amps_peak) ? 0 : r->amps_peak, on ? m->line_amps : 0);
}

/* What the motor has to spare. While it is the ramp that holds volts down it has nothing yet, and that is meant; held
   down by the limit on amps it has no more to come. */
static double surplus_of(const struct sim *s, size_t i, const struct shaft *shaft)
{
    const struct item *item = &s->items[i];
    size_t motor = s->job->closings[i].motor;
    const struct sag_machine *m = &s->grid.motors[motor].machine;
    const struct net_motor *now = &s->net.motors[motor];
    if (item->mover < 0 || now->how != NET_CIRCUIT)
        return NAN;
    bool controls = item->stages.of[item->stage].controls;
    bool ramping = controls && now->front.volts_share < 1 && now->control >= now->front.volts_share;
    return ramping ? NAN : (shaft->torque - shaft->load) / (m->power / (1 - m->slip));
}

static enum sag_status trace_item(struct sim *s, size_t i, const struct shaft *shaft)
{
    size_t motor = s->job->closings[i].motor;
    const struct sag_grid_motor *g = &s->grid.motors[motor];
    const struct net_motor *m = &s->net.motors[motor];
    bool on = m->how != NET_OFF;
    double board = cabs(s->net.volts[g->node]);
    return add_trace(s->run, &(struct sag_trace_row){
                                 .time = s->time,
                                 .motor = motor,
                                 .line_volts = (on ? m->volts_line : board) * g->terminal_share,
                                 .motor_volts = on ? m->volts_motor / winding_share(&s->items[i]) : 0,
                                 .board_volts = board,
                                 .service_volts = cabs(s->net.volts[s->service[i]]),
                                 .amps = on ? m->line_amps : 0,
                                 .speed = shaft->speed,
                                 .motor_torque_nm = shaft->torque * g->base.torque_nm,
                                 .load_torque_nm = shaft->load * g->base.torque_nm,
                             });
}

static enum sag_status record_item(struct sim *s, size_t i)
{
    struct item *item = &s->items[i];
    size_t motor = s->job->closings[i].motor;
    const struct sag_grid_motor *g = &s->grid.motors[motor];
    const struct net_motor *m = &s->net.motors[motor];
    if (item->stage < 0 || !s->run->started[i].computed)
        return SAG_OK;
    bool on = m->how != NET_OFF;
    struct shaft shaft = shaft_of(s, i);
    record_extremes(s, i);
    double amps = on && item->locked_amps > 0 ? m->motor_amps / g->base.amps / item->locked_amps : 0;
    double watts = on ? m->volts_line * m->volts_line * creal(m->y_in) : 0;
    enum sag_status status = add_sample(
        item, &(struct sample){s->time, shaft.speed, amps * amps, watts, surplus_of(s, i, &shaft), item->stage});
    return status == SAG_OK && s->job->keep_trace ? trace_item(s, i, &shaft) : status;
}

enum sag_status sim_record(struct sim *s)
{
    struct sag_run *run = s->run;
    enum sag_status status = SAG_OK;
    double *nodes = run->node_lowest + s->window * s->grid.node_count;
    double *motors = run->motor_lowest + s->window * s->grid.motor_count;
    double *closing = run->node_closing + s->window * s->grid.node_count;
    for (size_t i = 0; i < s->grid.node_count && s->window < run->windows; i++) {
        double volts = cabs(s->net.volts[i]);
        nodes[i] = fmin(nodes[i], volts);
        closing[i] = isnan(closing[i]) ? volts : closing[i];
    }
    for (size_t i = 0; i < s->grid.motor_count && s->window < run->windows; i++) {
        const struct net_motor *m = &s->net.motors[i];
        if (m->how != NET_OFF)
            motors[i] = low(motors[i], m->volts_line * s->grid.motors[i].terminal_share);
    }
    for (size_t i = 0; i < s->job->count && status == SAG_OK; i++)
        status = record_item(s, i);
    return status;
}

/* Does it run where its torque meets its load, or does it hang below? */
static bool runs(const struct sim *s, const struct mover *mover, double speed)
{
    const struct sag_grid_motor *g = &s->grid.motors[mover->motor];
    const struct net_motor *m = &s->net.motors[mover->motor];
    struct sag_feed feed = {m->volts_motor / g->volts_rated, g->hz_share, g->main_flux};
    struct sag_point point;
    double slip = NAN;
    if (m->how != NET_CIRCUIT || !sag_operate(&g->machine, &feed, &g->load, mover->share, &slip, &point))
        return false;
    const double near = 0.02;
    return fabs(g->hz_share * (1 - slip) - speed) < near;
}

/* The instant from which speed stays within 1 % of its last value, among samples up to `until`; NAN when it is not
   there by then. */
static double time_within(const struct item *item, double final, double until)
{
    const double share = 0.01;
    size_t last = 0, end = 0;
    for (; end < item->count && item->samples[end].time <= until; end++)
        if (fabs(item->samples[end].speed - final) > share * final)
            last = end + 1;
    if (last == 0 || last >= end)
        return last == 0 ? item->samples[0].time : NAN;
    const struct sample *a = &item->samples[last - 1], *b = &item->samples[last];
    double edge = a->speed < final ? (1 - share) * final : (1 + share) * final;
    double part = fabs(b->speed - a->speed) > 0 ? (edge - a->speed) / (b->speed - a->speed) : 1;
    return a->time + fmin(fmax(part, 0), 1) * (b->time - a->time);
}

/* Both integrals up to an instant, by trapezoids over the samples. */
static void integrate(const struct item *item, double until, double *heat, double *energy)
{
    *heat = *energy = 0;
    for (size_t i = 1; i < item->count && item->samples[i - 1].time < until; i++) {
        const struct sample *a = &item->samples[i - 1], *b = &item->samples[i];
        double span = b->time - a->time;
        double part = span > 0 ? fmin(1, (until - a->time) / span) : 0;
        double heat_end = a->heat + part * (b->heat - a->heat), watts_end = a->watts + part * (b->watts - a->watts);
        *heat += 0.5 * part * span * (a->heat + heat_end);
        *energy += 0.5 * part * span * (a->watts + watts_end);
    }
}

/* Samples of one stage, [from, to). One that ends below breakdown speed is looked at to its end: it hangs there, or is
   cut short. Else until the greatest surplus, which is near breakdown: what comes after is the way to running speed. */
static void least_of_stage(const struct item *item, size_t from, size_t to, double breakdown_speed,
                           struct sag_started *r)
{
    size_t end = to;
    double most = -INFINITY;
    bool runs = item->samples[to - 1].speed > breakdown_speed;
    for (size_t i = from; i < to && runs; i++)
        if (item->samples[i].surplus >= most) {
            most = item->samples[i].surplus;
            end = i + 1;
        }
    for (size_t i = from; i < end; i++)
        if (!isnan(item->samples[i].surplus) && !(item->samples[i].surplus >= r->least_surplus)) {
            r->least_surplus = item->samples[i].surplus;
            r->least_at = item->samples[i].speed;
        }
}

static void put_least_surplus(const struct sim *s, const struct item *item, double until, struct sag_started *r)
{
    const struct sag_grid_motor *g = &s->grid.motors[r->motor];
    double breakdown = g->hz_share * (1 - g->machine.slip_breakdown);
    size_t from = 0;
    for (size_t i = 1; i <= item->count; i++) {
        bool ends = i == item->count || item->samples[i].stage != item->samples[from].stage;
        size_t to = i;
        while (to > from && item->samples[to - 1].time >= until) /* up to speed: nothing is left to bring up */
            to--;
        if (ends && to > from)
            least_of_stage(item, from, to, breakdown, r);
        from = ends ? i : from;
    }
}

static double next_closing(const struct sim *s, size_t i)
{
    for (size_t k = i + 1; k < s->job->count; k++)
        if (s->job->closings[k].at > s->job->closings[i].at)
            return s->job->closings[k].at;
    return INFINITY;
}

static void finish_item(struct sim *s, const struct mover *mover, double speed)
{
    size_t i = (size_t)mover->item;
    struct sag_started *r = &s->run->started[i];
    const struct item *item = &s->items[i];
    r->speed_end = speed;
    /* one that settles before its starter changes over was not brought up */
    r->runs_up = item->stage + 1 == item->stages.count && runs(s, mover, speed);
    if (!r->runs_up || item->count == 0) {
        put_least_surplus(s, item, INFINITY, r);
        return;
    }
    double there = time_within(item, speed, next_closing(s, i)); /* a later start must not count as its own */
    if (isnan(there))
        there = time_within(item, speed, INFINITY);
    if (isnan(there)) {
        r->runs_up = false;
        return;
    }
    r->time_to_speed = there - r->closes_at;
    put_least_surplus(s, item, there, r);
    integrate(item, there, &r->heat_used, &r->energy);
}

static void finish_driven(struct sim *s, size_t i)
{
    struct sag_started *r = &s->run->started[i];
    const struct item *item = &s->items[i];
    if (!r->driven || item->count == 0)
        return;
    r->runs_up = true; /* it is what a drive is for */
    r->time_to_speed = item->starter.ramp_time;
    r->speed_end = item->samples[item->count - 1].speed;
    integrate(item, r->closes_at + r->time_to_speed, &r->heat_used, &r->energy);
    r->heat_used = NAN;
}

void sim_finish(struct sim *s)
{
    for (size_t i = 0; i < s->job->count; i++)
        if (s->items[i].mover < 0)
            finish_driven(s, i);
    for (size_t i = 0; i < s->mover_count; i++) {
        if (s->movers[i].item >= 0)
            finish_item(s, &s->movers[i], s->state[i]);
        else
            s->run->dragged[s->movers[i].motor] = !runs(s, &s->movers[i], s->state[i]);
    }
}
