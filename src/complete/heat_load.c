/* What the motor may bear and what it carries: rise, stall time, saturation, load, inertia. */
#include <math.h>

#include "complete/parts.h"

#define SECONDS_HOT_STALL 12.0 /* s; NEMA MG 1 12.49, motors up to 500 hp and 1000 V (from memory) */

static const struct sag_rule rule_service_factor = {"SF", "1.0 unless the plate says otherwise",
                                                    "NEMA MG 1 1.42 (from memory)", NULL};
static const struct sag_rule rule_rise_limit = {"dT_lim",
                                                "limit of the insulation class by resistance, 40 degC ambient",
                                                "NEMA MG 1 12.43", "insulation_temperature_limits"};
static const struct sag_rule rule_rise_typical = {"dT_r", "typical for the insulation class",
                                                  "common practice, no source", "rise_typical"};
static const struct sag_rule rule_rise_any = {"dT_r", "80 K (60 to 105) when the plate names no insulation class",
                                              "common practice, no source", NULL};
static const struct sag_rule rule_stall = {"t_stall", "12 s, the least a hot motor must stand",
                                           "NEMA MG 1 12.49 (from memory)", NULL};
static const struct sag_rule rule_main_flux = {"c_sat", "constant of the saturation column's word", "see the table",
                                               "saturation_constants"};

static void complete_rise(struct completing *c)
{
    const char *class = sag_choice_word(SAG_INSULATION, c->plate->choice[SAG_INSULATION]);
    struct sag_answer limit = sag_ask_rise_limit(c->tables, class, fact_value(c, SAG_SERVICE_FACTOR));
    struct sag_answer typical = sag_ask_typical_rise(c->tables, class);
    if (!isnan(limit.value))
        set_fact(c, SAG_RISE_LIMIT, from_answer(&limit, SAG_TABLE), &rule_rise_limit);
    if (set_given(c, SAG_RISE))
        return;
    if (isnan(typical.value))
        set_fact(c, SAG_RISE, sag_between(80, 60, 105, SAG_ASSUMED), &rule_rise_any);
    else
        set_fact(c, SAG_RISE, from_answer(&typical, SAG_ASSUMED), &rule_rise_typical);
}

void complete_heat(struct completing *c)
{
    if (!set_given(c, SAG_SERVICE_FACTOR))
        set_fact(c, SAG_SERVICE_FACTOR, sag_exact(1, SAG_ASSUMED), &rule_service_factor);
    complete_rise(c);
    if (!set_given(c, SAG_STALL_TIME))
        set_fact(c, SAG_STALL_TIME, sag_exact(SECONDS_HOT_STALL, SAG_TABLE), &rule_stall);
    uint8_t word = c->plate->choice[SAG_SATURATION];
    bool said = word != SAG_SATURATION_BLANK;
    struct sag_answer constant =
        sag_ask_saturation(c->tables, said ? sag_choice_word(SAG_SATURATION, word) : "typical");
    if (said)
        constant.low = constant.high = constant.value;
    if (!set_given(c, SAG_MAIN_FLUX))
        set_fact(c, SAG_MAIN_FLUX, from_answer(&constant, said ? SAG_TABLE : SAG_ASSUMED), &rule_main_flux);
}

static const struct sag_rule rule_load_full = {"k_load", "1.00 unless load_pct or load_hp says otherwise",
                                               "stated default of the load_pct column", NULL};
static const struct sag_rule rule_load_none = {"k_load", "0 for the load none", "meaning of the load column", NULL};
static const struct sag_rule rule_load_share = {"k_load", "P_load / P", "definition", NULL};
static const struct sag_rule rule_rotor_inertia = {"J_rot", "typical for its hp and poles, 0.6 to 1.6 of it",
                                                   "common practice, no source", "rotor_inertia_default"};
static const struct sag_rule rule_load_inertia = {"J_load", "a multiple of J_rot by the kind of load, half to twice",
                                                  "common practice, no source", "load_defaults"};

static void complete_inertia(struct completing *c)
{
    struct sag_answer rotor = sag_ask_rotor_inertia(c->tables, rated_hp(c), (int)fact_value(c, SAG_POLES));
    if (!set_given(c, SAG_ROTOR_INERTIA))
        set_fact(c, SAG_ROTOR_INERTIA, from_answer(&rotor, SAG_ASSUMED), &rule_rotor_inertia);
    if (set_given(c, SAG_LOAD_INERTIA))
        return;
    double j = fact_value(c, SAG_ROTOR_INERTIA);
    const struct sag_answer *multiple = &c->motor->load.inertia_multiple;
    struct sag_qty load = sag_between(j * multiple->value, j * multiple->low, j * multiple->high, SAG_ASSUMED);
    set_fact(c, SAG_LOAD_INERTIA, load, &rule_load_inertia);
}

/* Fire and jockey pumps drive pumps whether the list says so or not. */
static uint8_t load_kind(const struct sag_plate *plate)
{
    uint8_t duty = plate->choice[SAG_DUTY];
    bool pumps = duty == SAG_DUTY_FIRE_PUMP || duty == SAG_DUTY_JOCKEY_PUMP;
    return plate->choice[SAG_LOAD] == SAG_LOAD_BLANK && pumps ? SAG_LOAD_PUMP : plate->choice[SAG_LOAD];
}

void complete_load(struct completing *c)
{
    uint8_t kind = load_kind(c->plate);
    double watts = given(c, SAG_LOAD_POWER);
    c->motor->load =
        sag_ask_load_shape(c->tables, kind == SAG_LOAD_BLANK ? "constant" : sag_choice_word(SAG_LOAD, kind));
    if (!set_given(c, SAG_LOAD_SHARE)) {
        if (!isnan(watts))
            set_fact(c, SAG_LOAD_SHARE, sag_exact(watts / fact_value(c, SAG_RATED_POWER), SAG_COMPUTED),
                     &rule_load_share);
        else
            set_fact(c, SAG_LOAD_SHARE, sag_exact(kind == SAG_LOAD_NONE ? 0 : 1, SAG_ASSUMED),
                     kind == SAG_LOAD_NONE ? &rule_load_none : &rule_load_full);
    }
    complete_inertia(c);
}
