/* What volts and frequency do to a motor that carries its load, against rated volts and the same load. Three runs, at
   the saturation constant and its two bounds: saturation is what decides whether more volts mean fewer or more amps,
   and the rated point, which every circuit meets exactly, fixes the rest. */
#include <math.h>
#include <string.h>

#include "model/parts.h"

#define LEAST_FLUX 0.1 /* of rated: below it nothing turns, */
#define MOST_FLUX  1.3 /* and above it no saturation law here has been compared with a measurement */

enum {
    TYPICAL,
    LOW,
    HIGH,
    RUNS
};

struct run {
    double value[SAG_EFFECT_COUNT]; /* in the effect's unit; NAN where it does not run */
    double rise_by_winding;         /* K; the other estimate of the rise */
    double load_share;
};

const struct sag_effect_words *sag_effect_words(enum sag_effect_kind kind)
{
    static const struct sag_effect_words words[] = {
#define WORDS(name, symbol, text, unit, change) {symbol, text, unit, change},
        SAG_EFFECTS(WORDS)
#undef WORDS
    };
    return &words[kind];
}

struct sag_base sag_base_of(const struct sag_motor *motor)
{
    const struct sag_qty *fact = motor->fact;
    double volts = fact[SAG_RATED_VOLTS].value, amps = fact[SAG_COMPUTED_AMPS].value;
    double k = sag_phase_factor(motor);
    double va = k * volts * amps;
    double sync = 2 * acos(-1.0) * fact[SAG_SYNC_RPM].value / 60;
    return (struct sag_base){.amps = amps, .ohms = volts / (k * amps), .torque_nm = va / sync, .watts = va};
}

/* A winding is warmed by its own losses and, through the frame, by all of them. All losses give what the classical
   table of voltage effects gives; the winding's own alone are the other bound. Unbalance adds twice its percent
   squared, in percent (NEMA MG 1 14.36, MG 10). */
static double rise_of(const struct sag_motor *motor, double loss_over_rated, double unbalance)
{
    double percent = 100 * unbalance;
    return motor->fact[SAG_RISE].value * loss_over_rated * (1 + 2 * percent * percent / 100);
}

static void put_running(const struct sag_motor *motor, const struct sag_machine *m, const struct sag_base *base,
                        double slip, const struct sag_point *p, double unbalance, struct run *run)
{
    run->value[SAG_EFFECT_RUNNING_AMPS] = p->amps * base->amps;
    run->value[SAG_EFFECT_SLIP] = slip;
    run->value[SAG_EFFECT_SPEED] = p->speed * motor->fact[SAG_SYNC_RPM].value;
    run->value[SAG_EFFECT_EFFICIENCY] = 100 * p->efficiency;
    run->value[SAG_EFFECT_POWER_FACTOR] = p->power_factor;
    run->value[SAG_EFFECT_LOSSES] = (p->power_in - fmax(p->power_out, 0)) * base->watts;
    struct sag_point rated;
    sag_circuit_at(m, &(struct sag_feed){1, 1, 0}, m->slip, &rated);
    double all = (p->power_in - fmax(p->power_out, 0)) / (rated.power_in - rated.power_out);
    run->value[SAG_EFFECT_RISE] = rise_of(motor, all, unbalance);
    run->rise_by_winding = rise_of(motor, p->winding_loss / rated.winding_loss, unbalance);
}

static void make_run(const struct sag_motor *motor, const struct sag_machine *m, const struct sag_feed *feed,
                     double unbalance, struct run *run)
{
    struct sag_base base = sag_base_of(motor);
    struct sag_point point;
    double share = motor->fact[SAG_LOAD_SHARE].value, slip = NAN;
    for (int i = 0; i < SAG_EFFECT_COUNT; i++)
        run->value[i] = NAN;
    run->rise_by_winding = NAN;
    struct sag_peak peak = sag_find_breakdown(m, feed);
    run->load_share = sag_load_torque(m, &motor->load, share, feed->hz * (1 - peak.slip)) / peak.torque;
    run->value[SAG_EFFECT_BREAKDOWN_TORQUE] = peak.torque * base.torque_nm;
    const struct load_on load = {&motor->load, share};
    if (operate_below(m, feed, &load, peak.slip, &slip)) {
        sag_circuit_at(m, feed, slip, &point);
        put_running(motor, m, &base, slip, &point, unbalance, run);
    }
    sag_circuit_at(m, feed, 1, &point);
    run->value[SAG_EFFECT_STARTING_AMPS] = point.amps * base.amps;
    if (m->way != SAG_FIT_SINGLE_CAGE)
        run->value[SAG_EFFECT_STARTING_TORQUE] = point.torque * base.torque_nm;
}

static double change_of(enum sag_effect_kind kind, double before, double after)
{
    switch (kind) {
    case SAG_EFFECT_EFFICIENCY:
    case SAG_EFFECT_RISE:
        return after - before;
    case SAG_EFFECT_POWER_FACTOR:
        return 100 * (after - before);
    default:
        return 100 * (after / before - 1);
    }
}

static struct sag_qty spread(const double at[RUNS], enum sag_origin origin)
{
    if (isnan(at[TYPICAL]))
        return sag_unknown();
    double low = at[TYPICAL], high = at[TYPICAL];
    for (int i = LOW; i < RUNS; i++) {
        low = fmin(low, at[i]);
        high = fmax(high, at[i]);
    }
    return sag_between(at[TYPICAL], low, high, origin);
}

static enum sag_origin worst_origin(const struct sag_motor *motor)
{
    static const enum sag_fact used[] = {SAG_EFFICIENCY,    SAG_POWER_FACTOR,     SAG_SLIP,       SAG_LOCKED_AMPS,
                                         SAG_LOCKED_TORQUE, SAG_BREAKDOWN_TORQUE, SAG_LOAD_SHARE, SAG_MAIN_FLUX};
    enum sag_origin worst = SAG_COMPUTED;
    for (size_t i = 0; i < sizeof used / sizeof *used; i++) {
        const struct sag_qty *q = &motor->fact[used[i]];
        if (sag_known(q) && q->origin > worst)
            worst = q->origin;
    }
    return worst;
}

static void widen(struct sag_qty *q, double value)
{
    q->low = fmin(q->low, value);
    q->high = fmax(q->high, value);
}

/* The rise carries the winding's own estimate and the bounds of the plate's rise as well as those of the losses. */
static void widen_rise(const struct sag_qty *plate, const struct run rated[RUNS], const struct run now[RUNS],
                       struct sag_effect *rise)
{
    if (!sag_known(&rise->at_case))
        return;
    for (int i = 0; i < RUNS; i++) {
        widen(&rise->at_rated, rated[i].rise_by_winding);
        widen(&rise->at_case, now[i].rise_by_winding);
        widen(&rise->change, now[i].rise_by_winding - rated[i].rise_by_winding);
    }
    struct sag_qty *both[] = {&rise->at_rated, &rise->at_case};
    for (int i = 0; i < 2; i++) {
        both[i]->low *= plate->low / plate->value;
        both[i]->high *= plate->high / plate->value;
    }
}

/* To the negative sequence the rotor turns backwards: the circuit at slip 2 - s, on the negative-sequence volts. */
static struct sag_qty negative_amps(const struct sag_motor *motor, const struct sag_machine *machine,
                                    const struct sag_supply_point *supply, double slip)
{
    struct sag_point point;
    if (!(supply->negative_share > 0) || isnan(slip))
        return sag_unknown();
    struct sag_feed feed = {supply->negative_share * supply->volts / motor->fact[SAG_RATED_VOLTS].value,
                            supply->hz / motor->fact[SAG_HZ].value, 0};
    sag_circuit_at(machine, &feed, 2 - slip, &point);
    return sag_exact(point.amps / machine->trim_amps * sag_base_of(motor).amps, worst_origin(motor));
}

void sag_find_effects(const struct sag_motor *motor, const struct sag_machine *machine,
                      const struct sag_supply_point *supply, struct sag_effects *effects)
{
    memset(effects, 0, sizeof *effects);
    effects->load_torque = sag_unknown();
    effects->negative_amps = sag_unknown();
    for (int i = 0; i < SAG_EFFECT_COUNT; i++)
        effects->of[i] = (struct sag_effect){sag_unknown(), sag_unknown(), sag_unknown()};
    double flux = supply->volts / motor->fact[SAG_RATED_VOLTS].value * motor->fact[SAG_HZ].value / supply->hz;
    if (machine->way == SAG_FIT_NONE || !(flux >= LEAST_FLUX && flux <= MOST_FLUX))
        return;
    const struct sag_qty *c = &motor->fact[SAG_MAIN_FLUX];
    const double constants[RUNS] = {c->value, c->low, c->high};
    struct run rated[RUNS], now[RUNS];
    for (int i = 0; i < RUNS; i++) {
        if (i > 0 && constants[i] == constants[i - 1]) {
            rated[i] = rated[i - 1];
            now[i] = now[i - 1];
            continue;
        }
        struct sag_feed at_rated = {1, 1, constants[i]};
        struct sag_feed at_case = {supply->volts / motor->fact[SAG_RATED_VOLTS].value,
                                   supply->hz / motor->fact[SAG_HZ].value, constants[i]};
        make_run(motor, machine, &at_rated, 0, &rated[i]);
        make_run(motor, machine, &at_case, supply->unbalance, &now[i]);
    }
    enum sag_origin origin = worst_origin(motor);
    for (int k = 0; k < SAG_EFFECT_COUNT; k++) {
        double before[RUNS], after[RUNS], change[RUNS];
        for (int i = 0; i < RUNS; i++) {
            before[i] = rated[i].value[k];
            after[i] = now[i].value[k];
            change[i] = change_of((enum sag_effect_kind)k, before[i], after[i]);
        }
        effects->of[k].at_rated = spread(before, origin);
        effects->of[k].at_case = spread(after, origin);
        effects->of[k].change = spread(change, origin);
    }
    widen_rise(&motor->fact[SAG_RISE], rated, now, &effects->of[SAG_EFFECT_RISE]);
    const double load[RUNS] = {now[0].load_share, now[1].load_share, now[2].load_share};
    effects->load_torque = spread(load, origin);
    effects->negative_amps = negative_amps(motor, machine, supply, now[TYPICAL].value[SAG_EFFECT_SLIP]);
    effects->stalls = isnan(now[TYPICAL].value[SAG_EFFECT_SLIP]);
}
