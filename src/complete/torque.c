/* Locked rotor and breakdown: the code letter, the design letter, or what is typical. */
#include <math.h>

#include "complete/parts.h"

static char design_in_use(const struct completing *c)
{
    uint8_t design = c->plate->choice[SAG_DESIGN];
    if (!is_three_phase_cage(c))
        return 0;
    return design != SAG_DESIGN_BLANK ? sag_choice_word(SAG_DESIGN, design)[0] : c->motor->iec ? 'N' : 'B';
}

static enum sag_origin design_origin(const struct completing *c)
{
    return c->plate->choice[SAG_DESIGN] == SAG_DESIGN_BLANK ? SAG_ASSUMED : SAG_TABLE;
}

static double per_kva_3(const double in[])
{
    return in[0] * in[1] / SAG_WATTS_PER_HP * 1000 / (sqrt(3.0) * in[2]);
}

static double per_kva_1(const double in[])
{
    return in[0] * in[1] / SAG_WATTS_PER_HP * 1000 / in[2];
}

/* I_lr = (kVA/hp) hp 1000 / (sqrt(3) V) */
static const struct sag_rule rule_kva = {"k_lr", "range of the code letter, its middle", "NEMA MG 1 10.37.2",
                                         "nema_code_letters"};
static const struct sag_rule rule_locked_letter_3 = {"I_lr", "k_lr * (P / 746) * 1000 / (sqrt3 * V_r)",
                                                     "NEMA MG 1 10.37.2", "nema_code_letters"};
static const struct sag_rule rule_locked_letter_1 = {"I_lr", "k_lr * (P / 746) * 1000 / V_r", "NEMA MG 1 10.37.2",
                                                     "nema_code_letters"};

static void locked_from_letter(struct completing *c)
{
    bool three = fact_value(c, SAG_PHASES) == 3;
    struct sag_qty in[3] = {c->motor->fact[SAG_LOCKED_KVA], c->motor->fact[SAG_RATED_POWER],
                            c->motor->fact[SAG_RATED_VOLTS]};
    set_fact(c, SAG_LOCKED_AMPS, sag_at_bounds(three ? per_kva_3 : per_kva_1, in, 3),
             three ? &rule_locked_letter_3 : &rule_locked_letter_1);
}

static const struct sag_rule rule_locked_design = {
    "I_lr", "a share of the largest that the design allows, table default_torque_margin", "NEMA MG 1 12.35",
    "nema_locked_rotor_current_bcd"};
static const struct sag_rule rule_locked_iec = {
    "I_lr", "a share of the largest kVA/kW of the design, table default_torque_margin", "IEC 60034-12",
    "iec_60034_12_design_n_kva"};
static const struct sag_rule rule_locked_typical = {"I_lr", "6 times full-load amps (5 to 8)",
                                                    "common practice, no source", NULL};

static void scale_answer(struct sag_answer *answer, const struct sag_answer *margin)
{
    double base = answer->value;
    answer->low = base * margin->low;
    answer->high = base * margin->high;
    answer->value = base * margin->value;
    answer->from_memory = answer->from_memory || margin->from_memory;
}

static void locked_from_design(struct completing *c, char design)
{
    struct sag_answer margin = sag_ask_margin(c->tables, "locked_amps_of_table_maximum");
    double volts = fact_value(c, SAG_RATED_VOLTS), watts = fact_value(c, SAG_RATED_POWER);
    bool iec = design == 'N' || design == 'H';
    struct sag_answer most = iec ? sag_ask_iec_locked_kva(c->tables, watts / 1000)
                                 : sag_ask_design_locked_amps(c->tables, rated_hp(c), volts);
    if (iec)
        most.value *= watts / (sqrt(3.0) * volts);
    scale_answer(&most, &margin);
    set_fact(c, SAG_LOCKED_AMPS, from_answer(&most, design_origin(c)), iec ? &rule_locked_iec : &rule_locked_design);
}

static void locked_typical(struct completing *c)
{
    const double typical = 6, low = 5, high = 8; /* times full load; common practice */
    struct sag_qty amps = c->motor->fact[SAG_COMPUTED_AMPS];
    set_fact(c, SAG_LOCKED_AMPS, sag_between(typical * amps.value, low * amps.value, high * amps.value, SAG_ASSUMED),
             &rule_locked_typical);
}

void complete_locked_rotor(struct completing *c)
{
    char design = design_in_use(c);
    c->motor->design = design;
    if (!set_given(c, SAG_LOCKED_KVA) && c->plate->code_letter) {
        struct sag_answer range = sag_ask_code_letter(c->tables, c->plate->code_letter);
        set_fact(c, SAG_LOCKED_KVA, from_answer(&range, SAG_TABLE), &rule_kva);
    }
    if (set_given(c, SAG_LOCKED_AMPS)) {
        c->motor->assumed &= ~((uint64_t)1 << SAG_LOCKED_KVA);
        return;
    }
    if (sag_known(&c->motor->fact[SAG_LOCKED_KVA]))
        locked_from_letter(c);
    else if (design && design != 'A') /* design A has no limit */
        locked_from_design(c, design);
    else
        locked_typical(c);
}

#define OF_TABLE_MINIMUM "a multiple of the least that the design allows, table default_torque_margin"
static const struct sag_rule rule_locked_torque = {"t_lr", OF_TABLE_MINIMUM, "NEMA MG 1 12.38",
                                                   "nema_torque_design_ab"};
static const struct sag_rule rule_locked_torque_cd = {"t_lr", OF_TABLE_MINIMUM, "NEMA MG 1 12.38",
                                                      "nema_torque_design_c_d"};
static const struct sag_rule rule_locked_torque_iec = {"t_lr", OF_TABLE_MINIMUM, "IEC 60034-12",
                                                       "iec_60034_12_design_n_torque"};
static const struct sag_rule rule_breakdown = {"t_bd", OF_TABLE_MINIMUM, "NEMA MG 1 12.39", "nema_torque_design_ab"};
static const struct sag_rule rule_breakdown_cd = {"t_bd", OF_TABLE_MINIMUM, "NEMA MG 1 12.39",
                                                  "nema_torque_design_c_d"};
static const struct sag_rule rule_breakdown_iec = {"t_bd", OF_TABLE_MINIMUM, "IEC 60034-12",
                                                   "iec_60034_12_design_n_torque"};
static const struct sag_rule rule_breakdown_d = {
    "t_bd", "t_lr, since a design D motor has its greatest torque near standstill", "common practice, no source", NULL};

/* ORDER TORQUE RULES: A and B, C and D, N and H */
static int family(char design)
{
    return design == 'C' || design == 'D' ? 1 : design == 'N' || design == 'H' ? 2 : 0;
}

static void complete_breakdown(struct completing *c, const struct sag_answer *least)
{
    static const struct sag_rule *const rules[] = {&rule_breakdown, &rule_breakdown_cd, &rule_breakdown_iec};
    struct sag_answer margin = sag_ask_margin(c->tables, "breakdown_torque_of_table_minimum");
    struct sag_answer answer = *least;
    if (set_given(c, SAG_BREAKDOWN_TORQUE))
        return;
    if (isnan(least->value)) { /* the tables give none for design D */
        struct sag_qty locked = c->motor->fact[SAG_LOCKED_TORQUE];
        locked.origin = SAG_ASSUMED;
        set_fact(c, SAG_BREAKDOWN_TORQUE, locked, &rule_breakdown_d);
        return;
    }
    scale_answer(&answer, &margin);
    set_fact(c, SAG_BREAKDOWN_TORQUE, from_answer(&answer, design_origin(c)), rules[family(c->motor->design)]);
}

void complete_torques(struct completing *c)
{
    static const struct sag_rule *const rules[] = {&rule_locked_torque, &rule_locked_torque_cd,
                                                   &rule_locked_torque_iec};
    struct sag_motor *m = c->motor;
    if (!m->design) { /* wound rotor or single-phase: no standard torque to fall back on */
        set_given(c, SAG_LOCKED_TORQUE);
        set_given(c, SAG_BREAKDOWN_TORQUE);
        return;
    }
    struct sag_torques least = sag_ask_design_torques(c->tables, m->design, rated_hp(c), (int)fact_value(c, SAG_POLES));
    struct sag_answer margin = sag_ask_margin(c->tables, "locked_torque_of_table_minimum");
    struct sag_answer locked = least.locked;
    scale_answer(&locked, &margin);
    if (!set_given(c, SAG_LOCKED_TORQUE))
        set_fact(c, SAG_LOCKED_TORQUE, from_answer(&locked, design_origin(c)), rules[family(m->design)]);
    complete_breakdown(c, &least.breakdown);
}
