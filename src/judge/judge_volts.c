/* Checks of volts and frequency at the terminals. */
#include <math.h>

#include "judge/parts.h"

#define PERCENT 100.0

/* Terminal volts in percent of the plate. A doubtful frequency moves the band; moving the value the other way keeps one
   limit to compare with. Of a log it is the percentile on the side of the edge that is looked at: volts that are beyond
   it for more than 1 % of the time are volts that the motor has to live with, whatever their mean. */
static struct sag_qty volts_percent(const struct sag_subject *s, bool upper)
{
    const struct sag_terminals *t = &s->in_case->terminals;
    const struct sag_qty *hz = &s->motor->fact[SAG_HZ];
    double percent = PERCENT * t->volts_share;
    if (t->over_time)
        percent *= (upper ? t->volts.high : t->volts.low) / t->volts.value;
    struct sag_qty value = sag_exact(percent, (enum sag_origin)t->volts.origin);
    value.from_memory = t->volts.from_memory;
    if (hz->low < hz->high) {
        value.low = percent * hz->low / hz->value;
        value.high = percent * hz->high / hz->value;
    }
    return value;
}

static double percent_of_plate(const struct sag_subject *s, double volts)
{
    return PERCENT * volts / s->motor->fact[SAG_RATED_VOLTS].value;
}

static bool in_a_case(const struct sag_subject *s)
{
    return s->in_case && sag_known(&s->in_case->terminals.volts);
}

bool measure_band_high(const struct sag_subject *s, struct sag_measure *m)
{
    if (!in_a_case(s))
        return false;
    const struct sag_terminals *t = &s->in_case->terminals;
    *m = (struct sag_measure){.value = volts_percent(s, true),
                              .limit = percent_of_plate(s, t->band_high),
                              .watch = percent_of_plate(s, t->watch_high),
                              .side = AT_MOST,
                              .source = t->band_source};
    return true;
}

bool measure_band_low(const struct sag_subject *s, struct sag_measure *m)
{
    if (!in_a_case(s))
        return false;
    const struct sag_terminals *t = &s->in_case->terminals;
    *m = (struct sag_measure){.value = volts_percent(s, false),
                              .limit = percent_of_plate(s, t->band_low),
                              .watch = percent_of_plate(s, t->watch_low),
                              .side = AT_LEAST,
                              .source = t->band_source};
    return true;
}

bool measure_lowest_pair(const struct sag_subject *s, struct sag_measure *m)
{
    if (!in_a_case(s) || s->which != SAG_CASE_MEASURED)
        return false;
    const struct sag_terminals *t = &s->in_case->terminals;
    double lowest = percent_of_plate(s, t->lowest_pair);
    *m = (struct sag_measure){.value = sag_exact(lowest, SAG_MEASURED),
                              .limit = percent_of_plate(s, t->band_low),
                              .watch = percent_of_plate(s, t->band_low),
                              .side = AT_LEAST,
                              .advisory = true,
                              .source = "common practice, no source"};
    return true;
}

bool measure_flux(const struct sag_subject *s, struct sag_measure *m)
{
    const double limit = 110; /* the voltage band's edge at rated frequency, NEMA MG 1 12.44.1 */
    const struct sag_qty *hz = &s->motor->fact[SAG_HZ];
    if (!in_a_case(s))
        return false;
    const struct sag_terminals *t = &s->in_case->terminals;
    double flux = PERCENT * t->flux_share * (t->over_time ? t->volts.high / t->volts.value : 1);
    struct sag_qty value =
        sag_between(flux, fmin(flux, flux * hz->low / hz->value), fmax(flux, flux * hz->high / hz->value),
                    (enum sag_origin)s->in_case->terminals.volts.origin);
    *m = (struct sag_measure){.value = value,
                              .limit = limit,
                              .watch = limit,
                              .side = AT_MOST,
                              .source = s->motor->iec ? "IEC 60034-1 7.3 zone B, as volts to hertz (from memory)"
                                                      : "NEMA MG 1 12.44.1, as volts to hertz"};
    return true;
}

bool measure_frequency(const struct sag_subject *s, struct sag_measure *m)
{
    if (!in_a_case(s))
        return false;
    bool iec = s->motor->iec;
    struct sag_limits limits = iec ? sag_ask_limits(s->plant->tables, "IEC 60034-1 7.3 zone B", "short and rare")
                                   : sag_ask_limits(s->plant->tables, "NEMA MG 1 12.44.1", "frequency only");
    double share = s->in_case->terminals.hz / s->motor->fact[SAG_HZ].value;
    double limit = PERCENT * (share >= 1 ? limits.hz_high - 1 : 1 - limits.hz_low);
    const struct sag_qty *hz = &s->motor->fact[SAG_HZ];
    double off = PERCENT * fabs(share - 1);
    double off_low = PERCENT * fabs(share * hz->value / hz->low - 1);
    double off_high = PERCENT * fabs(share * hz->value / hz->high - 1);
    struct sag_qty value = sag_between(off, fmin(off_low, off_high), fmax(off_low, off_high), SAG_COMPUTED);
    *m = (struct sag_measure){.value = value,
                              .limit = limit,
                              .watch = limit,
                              .side = AT_MOST,
                              .advisory = true, /* beyond it the band goes by flux, and speed and load power move */
                              .source = iec ? "IEC 60034-1 7.3 zone B (from memory)" : "NEMA MG 1 12.44.1"};
    return true;
}

bool measure_unbalance(const struct sag_subject *s, struct sag_measure *m)
{
    if (!in_a_case(s) || isnan(s->in_case->terminals.derate))
        return false;
    *m = (struct sag_measure){.value = sag_exact(PERCENT * s->in_case->terminals.unbalance, SAG_MEASURED),
                              .limit = PERCENT * SAG_UNBALANCE_MOST,
                              .watch = PERCENT * SAG_UNBALANCE_DERATES,
                              .side = AT_MOST,
                              .source = "NEMA MG 1 14.36"};
    return true;
}

bool measure_derated_load(const struct sag_subject *s, struct sag_measure *m)
{
    const double no_operation = 0.01;
    if (!in_a_case(s) || !(s->in_case->terminals.derate > no_operation))
        return false;
    double used = s->motor->fact[SAG_LOAD_SHARE].value / s->in_case->terminals.derate;
    *m =
        (struct sag_measure){.value = sag_exact(PERCENT * used, (enum sag_origin)s->motor->fact[SAG_LOAD_SHARE].origin),
                             .limit = 100,
                             .watch = 100,
                             .side = AT_MOST,
                             .advisory = true,
                             .source = "NEMA MG 1 14.36, figure 14-1"};
    return true;
}
