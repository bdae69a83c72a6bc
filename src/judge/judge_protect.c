/* Checks of circuits: what is installed against what the code asks, and whether it lets the motor start. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0
#define NEC     SAG_CODE_EDITION " "

static double given_of(const struct sag_subject *s, enum sag_fact fact)
{
    return s->branch->motor.plate->given[fact];
}

static bool is_fire_pump(const struct sag_subject *s)
{
    return s->branch->motor.plate->choice[SAG_DUTY] == SAG_DUTY_FIRE_PUMP;
}

/* Amps against a limit; false where either is not known. */
static bool compare(struct sag_measure *m, double amps, enum side side, double limit, const char *source)
{
    if (isnan(amps) || isnan(limit))
        return false;
    *m = (struct sag_measure){
        .value = sag_exact(amps, SAG_NAMEPLATE), .limit = limit, .watch = limit, .side = side, .source = source};
    return true;
}

bool measure_wire_amps(const struct sag_subject *s, struct sag_measure *m)
{
    return s->branch && compare(m, s->size->installed.amps, AT_LEAST, s->size->conductor_min.value,
                                is_fire_pump(s) ? NEC "695.6(B), 430.22" : NEC "430.22, 310.16, 110.14(C)");
}

/* Between the table's answer and the exception's lies what needs a reason. */
bool measure_device_most(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->branch)
        return false;
    const struct sag_device_size *d = &s->size->device[s->size->kind];
    if (!compare(m, given_of(s, SAG_DEVICE_AMPS), AT_MOST, d->most.value,
                 s->size->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER ? NEC "430.52(C)(3)"
                                                                   : NEC
                     "430.52(C)(1); more than the table's only where that does not let it start"))
        return false;
    m->watch = fmin(d->amps.value, m->limit);
    return true;
}

bool measure_device_carry(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->branch || s->size->kind == SAG_DEVICE_INSTANTANEOUS_BREAKER)
        return false;
    double least = s->size->locked_for_ever ? s->size->locked_amps.value : s->size->disconnect.value;
    return s->size->sizing == SAG_SIZED &&
           compare(m, given_of(s, SAG_DEVICE_AMPS), AT_LEAST, least,
                   s->size->locked_for_ever ? NEC "695.4(B)(2)(a): ahead of the controller, locked-rotor amps for ever"
                                            : NEC "430.110(A): 115 % of code amps");
}

bool measure_overload_most(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->branch || !compare(m, given_of(s, SAG_OVERLOAD_AMPS), AT_MOST, s->size->overload_most.value,
                               NEC "430.32(C); more than (A)(1) only where that does not let it start"))
        return false;
    m->watch = s->size->overload.value;
    return true;
}

bool measure_overload_carry(const struct sag_subject *s, struct sag_measure *m)
{
    return s->branch && !is_fire_pump(s) &&
           compare(m, given_of(s, SAG_OVERLOAD_AMPS), AT_LEAST, s->branch->running_amps,
                   "it must carry the load, own network solution");
}

bool measure_overload_fire(const struct sag_subject *s, struct sag_measure *m)
{
    return s->branch && is_fire_pump(s) && compare(m, given_of(s, SAG_OVERLOAD_AMPS), AT_MOST, 0, NEC "695.6(C)");
}

/* What the relay takes at locked-rotor amps; the least of these trip it last. */
static struct sag_qty locked_time(const struct sag_subject *s, double preload)
{
    const struct sag_tables *tables = s->plant->tables;
    const struct sag_qty *locked = &s->branch->motor.fact[SAG_LOCKED_AMPS];
    struct sag_qty time = sag_relay_time(tables, s->relay, locked->value, preload);
    if (locked->low < locked->high) {
        time.low = sag_relay_time(tables, s->relay, locked->high, preload).low;
        time.high = sag_relay_time(tables, s->relay, locked->low, preload).high;
    }
    return time;
}

/* Hot against hot: the relay has carried rated amps, as the motor's locked-rotor time supposes. */
bool measure_relay_guards(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_qty *fact = s->branch ? s->branch->motor.fact : NULL;
    if (!s->branch || isnan(s->relay->trip_amps) || is_fire_pump(s))
        return false;
    if (s->relay->class_assumed && !s->relay->curve.count) /* a relay that nobody described guards as it is chosen */
        return false;
    double preload = fmin(s->size->plate_amps.value / s->relay->trip_amps, 1);
    struct sag_qty time = locked_time(s, isnan(preload) ? 0 : preload);
    if (!sag_known(&time) || !sag_known(&fact[SAG_STALL_TIME]))
        return false;
    *m = (struct sag_measure){.value = time,
                              .limit = fact[SAG_STALL_TIME].value,
                              .watch = fact[SAG_STALL_TIME].value,
                              .side = AT_MOST,
                              .source = s->relay->curve.count
                                            ? "the maker's curve given; locked-rotor time of the motor"
                                            : "IEC 60947-4-1 trip class; locked-rotor time of the motor"};
    return true;
}

static bool measure_passage(const struct sag_subject *s, enum sag_passage_part part, const char *source,
                            struct sag_measure *m)
{
    if (!s->branch || s->branch->worst[part].let == SAG_LET_NONE)
        return false;
    *m = (struct sag_measure){.value = sag_scaled(s->branch->worst[part].used, PERCENT),
                              .limit = PERCENT,
                              .watch = PERCENT,
                              .side = AT_MOST,
                              .source = source};
    return true;
}

bool measure_relay_passes(const struct sag_subject *s, struct sag_measure *m)
{
    return measure_passage(s, SAG_PASSES_RELAY,
                           s->branch && s->relay->curve.count ? "the maker's curve given" : "IEC 60947-4-1 trip class",
                           m);
}

bool measure_device_passes(const struct sag_subject *s, struct sag_measure *m)
{
    return measure_passage(s, SAG_PASSES_DEVICE,
                           s->branch && s->branch->own_device_curve
                               ? "the maker's curve given"
                               : "UL 489, UL 248 (from memory), between them usual curves, common practice",
                           m);
}

bool measure_peak_passes(const struct sag_subject *s, struct sag_measure *m)
{
    return measure_passage(s, SAG_PASSES_PEAK,
                           s->branch && s->branch->own_device_curve
                               ? "offset by IEC 60909-0 4.3.1.1 (from memory); the maker's curve given, else usual"
                               : "offset by IEC 60909-0 4.3.1.1 (from memory); UL 489 tolerance or usual magnetic trip",
                           m);
}

bool measure_feeder_wire(const struct sag_subject *s, struct sag_measure *m)
{
    /* the rule of the amps themselves, of a main, a generator or a transformer's cable too */
    return s->feeder && compare(m, s->feeder->installed.amps, AT_LEAST, s->feeder->conductor_min.value,
                                s->feeder->conductor_min.rule ? s->feeder->conductor_min.rule->source : "");
}

bool measure_feeder_device_most(const struct sag_subject *s, struct sag_measure *m)
{
    return s->feeder && compare(m, s->feeder->device_installed, AT_MOST, s->feeder->device_most.value,
                                s->feeder->fire ? NEC "695.4(B)(2)(b), 430.62" : NEC "430.62, 430.63");
}

/* The most that the network puts through it: every motor at full load or its own, in the worst case. */
static double most_amps(const struct sag_subject *s)
{
    double most = NAN;
    for (int c = 0; s->report && c < SAG_CASE_COUNT; c++)
        most = fmax(most, s->report->of[c].amps);
    return most;
}

/* For a pump room locked-rotor amps, for ever; on a set all of it together, though its pumps stand in the solution.
   Else it fails below what runs, and is watched below the code's sum. */
bool measure_feeder_device_carry(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_feeder_size *f = s->feeder;
    if (!f)
        return false;
    double runs = f->fire ? NAN : most_amps(s);
    double limit = isnan(runs) ? f->carry_min.value : fmin(runs, f->carry_min.value);
    if (!compare(m, f->device_installed, AT_LEAST, limit,
                 f->locked_for_ever ? NEC "695.4(B)(2)(a): locked-rotor amps for ever"
                 : f->fire          ? NEC "695.4(B)(2)(b): all of the pump room and other load"
                           : "what runs, own network solution; watched from all at code amps, " NEC "430.62, 430.63"))
        return false;
    m->watch = f->carry_min.value;
    return true;
}

bool measure_primary_device(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_transformer_size *t = s->transformer;
    if (!t || t->fire)
        return false;
    double most = t->has_secondary ? t->most[SAG_PRIMARY].value : t->device[SAG_PRIMARY].value;
    return compare(m, t->installed[SAG_PRIMARY], AT_MOST, most,
                   t->has_secondary ? NEC "450.3(B), with secondary protection" : NEC "450.3(B), primary only");
}

bool measure_primary_locked(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_transformer_size *t = s->transformer;
    return t && t->fire &&
           compare(m, t->installed[SAG_PRIMARY], AT_LEAST, t->computed[SAG_PRIMARY].value, NEC "695.5(B)");
}

bool measure_secondary_device(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_transformer_size *t = s->transformer;
    if (t && t->fire)
        return compare(m, t->installed[SAG_SECONDARY], AT_MOST, 0, NEC "695.5(B): none is permitted");
    return t && compare(m, t->installed[SAG_SECONDARY], AT_MOST, t->device[SAG_SECONDARY].value, NEC "450.3(B)");
}

/* A device at their far end protects wires behind a transformer only if it is no larger than what they carry. */
bool measure_secondary_wire(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->feeder || !s->feeder->behind_transformer ||
        !compare(m, s->feeder->installed.amps, AT_LEAST, s->feeder->device_installed,
                 NEC "240.21(C): no step up, where the device stands at the far end"))
        return false;
    m->advisory = true;
    return true;
}

/* A wye secondary is not protected by what stands before the transformer. */
bool measure_secondary_missing(const struct sag_subject *s, struct sag_measure *m)
{
    const struct sag_transformer_size *t = s->transformer;
    if (!t || t->fire || t->has_secondary || isnan(t->installed[SAG_PRIMARY]))
        return false;
    *m = (struct sag_measure){.value = sag_between(0, 0, 1, SAG_ASSUMED),
                              .limit = 1,
                              .watch = 1,
                              .side = AT_LEAST,
                              .source = NEC "240.4(F), 240.21(C)"};
    return true;
}

/* What the list adds up to against the set behind it. */
bool measure_set_amps(const struct sag_subject *s, struct sag_measure *m)
{
    if (!s->feeder || !compare(m, s->feeder->code_sum, AT_MOST, s->feeder->set_amps, "rated amps of the generator"))
        return false;
    m->value.origin = SAG_COMPUTED;
    m->advisory = true; /* `supply` tells what really runs */
    return true;
}

bool measure_fire_transformer(const struct sag_subject *s, struct sag_measure *m)
{
    const double kilo = 1000;
    const struct sag_transformer_size *t = s->transformer;
    return t && t->fire && compare(m, t->rated_va / kilo, AT_LEAST, t->fire_va / kilo, NEC "695.5(A)");
}
