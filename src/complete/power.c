/* Efficiency, power factor, full-load amps: three facts tied by one equation. */
#include <math.h>
#include <string.h>

#include "complete/parts.h"

static const struct sag_rule rule_efficiency_old = {"eta",
                                                    "average of standard motors of the time, 4 points less to 1.5 more",
                                                    "see the table", "standard_efficiency_pre1992"};
static const struct sag_rule rule_efficiency_1997 = {"eta",
                                                     "federal level in force from 1997, 4 points less to 1.5 more",
                                                     "10 CFR 431.25", "us_10cfr431_25_efficiency_1997"};
static const struct sag_rule rule_efficiency_2016 = {"eta",
                                                     "federal level in force from 2010, 4 points less to 1.5 more",
                                                     "10 CFR 431.25", "us_10cfr431_25_efficiency_2016"};
static const struct sag_rule rule_efficiency_iec = {"eta", "class IE1 level, 4 points less to 1.5 more",
                                                    "IEC 60034-30-1", "iec_60034_30_1_efficiency_50hz"};

static void complete_efficiency(struct completing *c)
{
    const double points_less = 0.04, points_more = 0.015;
    /* the levels and averages are those of three-phase motors; a small single-phase one lies far below them */
    if (set_given(c, SAG_EFFICIENCY) || fact_value(c, SAG_PHASES) == 1)
        return;
    struct sag_efficiency_query query = {
        .hp = rated_hp(c),
        .year = given(c, SAG_YEAR),
        .poles = (int)fact_value(c, SAG_POLES),
        .open = c->plate->choice[SAG_ENCLOSURE] == SAG_ENCLOSURE_OPEN,
        .iec = c->motor->iec,
    };
    struct sag_answer level = sag_ask_efficiency(c->tables, &query);
    static const struct sag_rule *const rules[] = {&rule_efficiency_old, &rule_efficiency_1997, &rule_efficiency_2016,
                                                   &rule_efficiency_iec, NULL};
    const struct sag_rule *rule = rules[0];
    for (size_t i = 0; level.table && rules[i]; i++)
        if (strcmp(rules[i]->table, level.table->name) == 0)
            rule = rules[i];
    level.low = level.value - points_less;
    level.high = fmin(level.value + points_more, 0.985);
    set_fact(c, SAG_EFFICIENCY, from_answer(&level, SAG_TABLE), rule);
}

enum {
    POWER,
    VOLTS,
    EFF,
    OTHER, /* amps or power factor, whichever is known */
    FACTOR,
    INPUTS
};

/* P = k V I eta pf, k = sqrt(3) or 1; solved for the one that is not among the inputs. */
static double solve_power(const double in[])
{
    return in[POWER] / (in[FACTOR] * in[VOLTS] * in[EFF] * in[OTHER]);
}

static struct sag_qty from_power(const struct completing *c, enum sag_fact other)
{
    const struct sag_qty in[INPUTS] = {
        [POWER] = c->motor->fact[SAG_RATED_POWER],
        [VOLTS] = c->motor->fact[SAG_RATED_VOLTS],
        [EFF] = c->motor->fact[SAG_EFFICIENCY],
        [OTHER] = c->motor->fact[other],
        [FACTOR] = sag_exact(sag_phase_factor(c->motor), SAG_COMPUTED),
    };
    return sag_at_bounds(solve_power, in, INPUTS);
}

static const struct sag_rule rule_pf_from_amps_3 = {"pf", "P / (sqrt3 * V_r * I_plate * eta)", "three-phase power",
                                                    NULL};
static const struct sag_rule rule_pf_from_amps_1 = {"pf", "P / (V_r * I_plate * eta)", "single-phase power", NULL};
static const struct sag_rule rule_pf_typical = {"pf", "typical for its hp and poles, 0.04 either way",
                                                "common practice, no source", "typical_full_load_data_60hz"};

static bool complete_pf_from_amps(struct completing *c)
{
    const double least = 0.5, most = 0.96; /* outside this the plate's amps and horsepower contradict each other */
    struct sag_qty pf = from_power(c, SAG_RATED_AMPS);
    if (!sag_known(&pf) || pf.value < least || pf.value > most)
        return false;
    set_fact(c, SAG_POWER_FACTOR, pf, fact_value(c, SAG_PHASES) == 3 ? &rule_pf_from_amps_3 : &rule_pf_from_amps_1);
    return true;
}

static void complete_power_factor(struct completing *c)
{
    const double spread = 0.04; /* method's bounds on a typical power factor; common practice */
    if (set_given(c, SAG_POWER_FACTOR) || complete_pf_from_amps(c) || fact_value(c, SAG_PHASES) == 1)
        return;
    struct sag_answer typical =
        sag_ask_typical_running(c->tables, rated_hp(c), (int)fact_value(c, SAG_POLES)).power_factor;
    typical.low = typical.value - spread;
    typical.high = fmin(typical.value + spread, 0.97);
    set_fact(c, SAG_POWER_FACTOR, from_answer(&typical, SAG_ASSUMED), &rule_pf_typical);
}

static const struct sag_rule rule_amps_3 = {"I_fl", "P / (sqrt3 * V_r * eta * pf)", "three-phase power", NULL};
static const struct sag_rule rule_amps_1 = {"I_fl", "P / (V_r * eta * pf)", "single-phase power", NULL};
static const struct sag_rule rule_table_amps_3 = {"I_tab", "code table at the motor's hp and volts",
                                                  "NFPA 70-2023 430.6(A)(1), Table 430.250",
                                                  "t430_250_three_phase_flc"};
static const struct sag_rule rule_table_amps_1 = {"I_tab", "code table at the motor's hp and volts",
                                                  "NFPA 70-2023 430.6(A)(1), Table 430.248",
                                                  "t430_248_single_phase_flc"};
static const struct sag_rule rule_torque = {"T_r", "P / (2 * pi * n_r / 60)", "power of a turning shaft", NULL};

static const struct sag_rule rule_amps_of_plate = {"I_fl", "I_plate, since the plate lacks efficiency or power factor",
                                                   "read from the plate", NULL};
static const struct sag_rule rule_amps_of_table = {
    "I_fl", "I_tab, since the plate gives no amps, efficiency, power factor", "NFPA 70-2023 430.6(A)(1), Table 430.248",
    "t430_248_single_phase_flc"};

/* A single-phase plate without efficiency or power factor has no arithmetic; its own amps or the code's stand in. */
static void complete_single_phase_amps(struct completing *c)
{
    const struct sag_qty *plate = &c->motor->fact[SAG_RATED_AMPS];
    if (sag_known(plate))
        set_fact(c, SAG_COMPUTED_AMPS, *plate, &rule_amps_of_plate);
    else
        set_fact(c, SAG_COMPUTED_AMPS, c->motor->fact[SAG_TABLE_AMPS], &rule_amps_of_table);
}

static void complete_amps(struct completing *c)
{
    bool three = fact_value(c, SAG_PHASES) == 3;
    struct sag_qty amps = from_power(c, SAG_POWER_FACTOR);
    struct sag_answer table = sag_ask_code_amps(c->tables, three ? 3 : 1, fact_value(c, SAG_RATED_VOLTS), rated_hp(c));
    set_fact(c, SAG_TABLE_AMPS, from_answer(&table, SAG_TABLE), three ? &rule_table_amps_3 : &rule_table_amps_1);
    if (!sag_known(&amps)) {
        complete_single_phase_amps(c);
        return;
    }
    const struct sag_rule *pf_rule = c->motor->fact[SAG_POWER_FACTOR].rule;
    if (pf_rule == &rule_pf_from_amps_3 || pf_rule == &rule_pf_from_amps_1)
        amps.low = amps.high = amps.value; /* eta and pf move against each other: their product is the plate's */
    set_fact(c, SAG_COMPUTED_AMPS, amps, three ? &rule_amps_3 : &rule_amps_1);
}

void complete_power(struct completing *c)
{
    uint8_t design = c->plate->choice[SAG_DESIGN];
    c->motor->iec = design == SAG_DESIGN_N || design == SAG_DESIGN_H || fact_value(c, SAG_HZ) == 50;
    complete_efficiency(c);
    complete_power_factor(c);
    complete_amps(c);
    double watts = fact_value(c, SAG_RATED_POWER), rpm = fact_value(c, SAG_RPM);
    set_fact(c, SAG_RATED_TORQUE, sag_exact(watts / (2 * acos(-1.0) * rpm / 60), SAG_COMPUTED), &rule_torque);
}
