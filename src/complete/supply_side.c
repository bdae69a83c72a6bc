/* Volts, frequency, phases, speed: what the plate says about the supply it was made for. */
#include <math.h>

#include "complete/parts.h"

#define DEFAULT_POLES 4.0 /* the commonest; common practice, no source */

static const struct sag_rule rule_dual_plate = {"V_r", "the plate voltage nearest the supply",
                                                "common practice, no source", NULL};
static const struct sag_rule rule_default_hz = {"f_r", "60 Hz unless the plate says otherwise",
                                                "stated default of the hz column", NULL};
static const struct sag_rule rule_doubtful_hz = {
    "f_r", "that of the supply, since this voltage is usual at 50 Hz too: read the plate", "IEC 60038 (from memory)",
    NULL};
static const struct sag_rule rule_default_phases = {"m", "3 unless the plate says otherwise",
                                                    "stated default of the phases column", NULL};

/* The plate voltage and the connection that lie nearest each other, as a ratio. */
static double nearest_volts(const struct completing *c, struct sag_motor *motor)
{
    const double shares[] = {1, c->connection.neutral_share};
    int ways = fact_value(c, SAG_PHASES) == 1 && c->connection.neutral_share > 0 ? 2 : 1;
    double best = NAN, least = INFINITY;
    for (int i = 0; i < SAG_VOLTS_OPTIONS && c->plate->volts_options[i] > 0; i++)
        for (int way = 0; way < ways; way++) {
            double volts = c->plate->volts_options[i];
            double apart = fabs(log(c->connection.volts_ll * shares[way] / volts));
            const double same = 1e-9; /* a 115/230 V motor on 240 V is wired for the higher volts */
            if (apart < least - same || (apart < least + same && volts > best)) {
                least = apart;
                best = volts;
                motor->line_to_neutral = way > 0;
                motor->terminal_share = shares[way];
            }
        }
    return best;
}

static bool is_usual_at_50hz(double volts)
{
    static const double usual[] = {380, 400, 415, 660, 690};
    for (size_t i = 0; i < sizeof usual / sizeof *usual; i++)
        if (volts == usual[i])
            return true;
    return false;
}

static const struct sag_rule rule_hz_from_speed = {"f_r", "the one of 50 and 60 Hz at which n_r is a motor's slip",
                                                   "common practice, no source", NULL};

/* Poles that a speed points to at a frequency: those of the nearest synchronous speed not below it. */
static double poles_at(double hz, double rpm)
{
    return 2 * floor(60 * hz / rpm);
}

static bool is_a_slip(const struct completing *c, double hz, double rpm)
{
    const double most = 0.08; /* of any ordinary motor at full load; common practice */
    double poles = isnan(given(c, SAG_POLES)) ? poles_at(hz, rpm) : given(c, SAG_POLES);
    double slip = 1 - rpm * poles / (120 * hz);
    return slip > 0 && slip <= most;
}

/* A plate of 1460 rev/min is one of 50 Hz whatever its volts; NAN when the speed leaves it open. */
static double hz_told_by_speed(const struct completing *c)
{
    double rpm = given(c, SAG_RPM);
    if (isnan(rpm))
        return NAN;
    bool at_50 = is_a_slip(c, 50, rpm), at_60 = is_a_slip(c, SAG_DEFAULT_HZ, rpm);
    return at_50 == at_60 ? NAN : at_50 ? 50 : SAG_DEFAULT_HZ;
}

void complete_volts(struct completing *c)
{
    if (!set_given(c, SAG_PHASES))
        set_fact(c, SAG_PHASES, sag_exact(3, SAG_ASSUMED), &rule_default_phases);
    double volts = nearest_volts(c, c->motor);
    bool dual = c->plate->volts_options[1] > 0;
    set_fact(c, SAG_RATED_VOLTS, sag_exact(volts, SAG_NAMEPLATE), dual ? &rule_dual_plate : NULL);
    if (set_given(c, SAG_HZ))
        return;
    double told = hz_told_by_speed(c);
    if (!isnan(told))
        set_fact(c, SAG_HZ, sag_exact(told, SAG_COMPUTED), &rule_hz_from_speed);
    else if (is_usual_at_50hz(volts))
        set_fact(c, SAG_HZ, sag_between(c->connection.hz == 50 ? 50 : SAG_DEFAULT_HZ, 50, SAG_DEFAULT_HZ, SAG_ASSUMED),
                 &rule_doubtful_hz);
    else
        set_fact(c, SAG_HZ, sag_exact(SAG_DEFAULT_HZ, SAG_ASSUMED), &rule_default_hz);
}

static const struct sag_rule rule_poles_from_speed = {
    "p", "those of the nearest synchronous speed that is not below the plate's",
    "NEMA MG 1 1.19, synchronous speed (from memory)", NULL};
static const struct sag_rule rule_poles_default = {"p", "4 when neither poles nor rev/min are known",
                                                   "common practice, no source", NULL};

static void complete_poles(struct completing *c)
{
    double hz = fact_value(c, SAG_HZ), rpm = given(c, SAG_RPM);
    if (set_given(c, SAG_POLES))
        return;
    /* a plate that prints synchronous speed itself means the poles of that speed; its slip is then refused */
    double poles = isnan(rpm) ? 0 : poles_at(hz, rpm);
    if (poles >= 2)
        set_fact(c, SAG_POLES, sag_exact(poles, SAG_COMPUTED), &rule_poles_from_speed);
    else
        set_fact(c, SAG_POLES, sag_exact(DEFAULT_POLES, SAG_ASSUMED), &rule_poles_default);
}

/* n_s = 120 f / p */
static const struct sag_rule rule_sync = {"n_s", "120 * f_r / p", "NEMA MG 1 1.19 (from memory)", NULL};

/* s_r = 1 - n_r / n_s */
static const struct sag_rule rule_slip = {"s_r", "1 - n_r / n_s", "definition of slip", NULL};
static const struct sag_rule rule_slip_typical = {"s_r", "typical for its hp and poles, 0.7 to 1.4 of it",
                                                  "common practice, no source", "typical_full_load_data_60hz"};

static const struct sag_rule rule_speed = {"n_r", "n_s * (1 - s_r)", "definition of slip", NULL};

static void complete_slip(struct completing *c)
{
    const double low = 0.7, high = 1.4; /* spread of typical slip; common practice */
    double sync = fact_value(c, SAG_SYNC_RPM), rpm = given(c, SAG_RPM);
    c->motor->speed_refused = rpm >= sync;
    if (set_given(c, SAG_SLIP))
        return;
    if (rpm < sync) {
        set_fact(c, SAG_SLIP, sag_exact(1 - rpm / sync, SAG_COMPUTED), &rule_slip);
        return;
    }
    struct sag_answer typical = sag_ask_typical_running(c->tables, rated_hp(c), (int)fact_value(c, SAG_POLES)).slip;
    typical.low = low * typical.value;
    typical.high = high * typical.value;
    set_fact(c, SAG_SLIP, from_answer(&typical, SAG_ASSUMED), &rule_slip_typical);
}

void complete_speed(struct completing *c)
{
    complete_poles(c);
    double poles = fact_value(c, SAG_POLES);
    set_fact(c, SAG_SYNC_RPM, sag_exact(120 * fact_value(c, SAG_HZ) / poles, SAG_COMPUTED), &rule_sync);
    complete_slip(c);
    struct sag_qty *rpm = &c->motor->fact[SAG_RPM];
    const struct sag_qty *slip = &c->motor->fact[SAG_SLIP];
    double sync = fact_value(c, SAG_SYNC_RPM);
    if (!sag_known(rpm) || c->motor->speed_refused) {
        *rpm = sag_between(sync * (1 - slip->value), sync * (1 - slip->high), sync * (1 - slip->low),
                           (enum sag_origin)slip->origin);
        rpm->rule = &rule_speed;
    }
}
