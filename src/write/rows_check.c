/* The table of `check`: a motor in a case a row. */
#include <math.h>
#include <string.h>

#include "sagband/write.h"
#include "write/formats.h"

/* clang-format off: one row a column; X(ENUM, name, head in text or NULL, unit in text, width, decimals, kind) */
#define CHECK_COLUMNS(X)                                                                                               \
    X(TAG, "tag", "motor", "", 12, 0, TEXT)                                                                            \
    X(FEEDER, "feeder", NULL, "", 0, 0, TEXT)                                                                          \
    X(CASE, "case", "case", "", 8, 0, TEXT)                                                                            \
    X(SUPPLY_VOLTS, "supply_volts", NULL, "", 0, 1, NUMBER)                                                            \
    X(TERMINAL_VOLTS, "terminal_volts", "volts", "V", 7, 1, NUMBER)                                                    \
    X(VOLTS_PCT, "volts_pct", "share", "% plate", 7, 1, NUMBER)                                                        \
    X(BAND_LOW, "band_low_volts", NULL, "", 0, 1, NUMBER)                                                              \
    X(BAND_HIGH, "band_high_volts", NULL, "", 0, 1, NUMBER)                                                            \
    X(HEADROOM, "headroom_volts", "to edge", "V", 7, 1, NUMBER)                                                        \
    X(BAND_VERDICT, "band_verdict", NULL, "", 0, 0, TEXT)                                                              \
    X(FULL_LOAD_AMPS, "full_load_amps", "rated", "A", 7, 2, NUMBER)                                                    \
    X(FULL_LOAD_ORIGIN, "full_load_origin", NULL, "", 0, 0, TEXT)                                                      \
    X(CODE_TABLE_AMPS, "code_table_amps", NULL, "", 0, 2, NUMBER)                                                      \
    X(LOCKED_LOW, "locked_amps_low", NULL, "", 0, 1, NUMBER)                                                           \
    X(LOCKED, "locked_amps", NULL, "", 0, 1, NUMBER)                                                                   \
    X(LOCKED_HIGH, "locked_amps_high", NULL, "", 0, 1, NUMBER)                                                         \
    X(RUNNING_AMPS, "running_amps", "running", "A", 7, 2, NUMBER)                                                      \
    X(RUNNING_CHANGE, "running_amps_change_pct", "amps", "% chg", 6, 1, NUMBER)                                        \
    X(STARTING_AMPS, "starting_amps_change_pct", NULL, "", 0, 1, NUMBER)                                               \
    X(STARTING_TORQUE, "starting_torque_change_pct", "start T", "% chg", 7, 1, NUMBER)                                 \
    X(BREAKDOWN, "breakdown_torque_change_pct", NULL, "", 0, 1, NUMBER)                                                \
    X(SLIP, "slip_change_pct", "slip", "% chg", 6, 1, NUMBER)                                                          \
    X(SPEED, "speed_rpm", NULL, "", 0, 1, NUMBER)                                                                      \
    X(EFFICIENCY, "efficiency_change_pts", NULL, "", 0, 2, NUMBER)                                                     \
    X(POWER_FACTOR, "power_factor_change_pts", NULL, "", 0, 1, NUMBER)                                                 \
    X(RISE, "rise_change_c", "rise", "K chg", 5, 1, NUMBER)                                                            \
    X(UNBALANCE, "unbalance_pct", NULL, "", 0, 2, NUMBER)                                                              \
    X(DERATE, "derate", NULL, "", 0, 3, NUMBER)                                                                        \
    X(FLUX, "flux_pct", NULL, "", 0, 1, NUMBER)                                                                        \
    X(VERDICT, "verdict", "verdict", "", 7, 0, VERDICT)                                                                \
    X(ASSUMED, "assumed", NULL, "", 0, 0, TEXT)
/* clang-format on */

enum {
#define COLUMN(name, ...) AT_##name,
    CHECK_COLUMNS(COLUMN)
#undef COLUMN
};

static const struct sag_column columns[] = {
#define COLUMN(name, column, head, unit, width, decimals, kind) {column, head, unit, width, decimals, SAG_CELL_##kind},
    CHECK_COLUMNS(COLUMN)
#undef COLUMN
};

const struct sag_view sag_check_view = {columns, sizeof columns / sizeof *columns};

static void put_volts(const struct sag_motor_case *c, struct sag_value *v)
{
    const struct sag_terminals *t = &c->terminals;
    v[AT_SUPPLY_VOLTS].number = c->supply_volts.value;
    v[AT_TERMINAL_VOLTS].number = t->volts.value;
    v[AT_VOLTS_PCT].number = 100 * t->volts_share;
    v[AT_BAND_LOW].number = t->band_low;
    v[AT_BAND_HIGH].number = t->band_high;
    v[AT_HEADROOM].number = fmin(t->volts.value - t->band_low, t->band_high - t->volts.value);
    v[AT_BAND_VERDICT].text = sag_verdict_word(c->band_verdict);
    v[AT_UNBALANCE].number = isnan(t->derate) ? NAN : 100 * t->unbalance;
    v[AT_DERATE].number = t->derate;
    v[AT_FLUX].number = 100 * t->flux_share;
}

static void put_amps(const struct sag_motor *motor, struct sag_value *v)
{
    const struct sag_qty *fact = motor->fact;
    bool plate = sag_known(&fact[SAG_RATED_AMPS]);
    const struct sag_qty *full = &fact[plate ? SAG_RATED_AMPS : SAG_COMPUTED_AMPS];
    v[AT_FULL_LOAD_AMPS].number = full->value;
    v[AT_FULL_LOAD_ORIGIN].text = sag_origin_words((enum sag_origin)full->origin);
    v[AT_CODE_TABLE_AMPS].number = fact[SAG_TABLE_AMPS].value;
    v[AT_LOCKED_LOW].number = fact[SAG_LOCKED_AMPS].low;
    v[AT_LOCKED].number = fact[SAG_LOCKED_AMPS].value;
    v[AT_LOCKED_HIGH].number = fact[SAG_LOCKED_AMPS].high;
}

static void put_effects(const struct sag_effect *of, struct sag_value *v)
{
    v[AT_RUNNING_AMPS].number = of[SAG_EFFECT_RUNNING_AMPS].at_case.value;
    v[AT_RUNNING_CHANGE].number = of[SAG_EFFECT_RUNNING_AMPS].change.value;
    v[AT_STARTING_AMPS].number = of[SAG_EFFECT_STARTING_AMPS].change.value;
    v[AT_STARTING_TORQUE].number = of[SAG_EFFECT_STARTING_TORQUE].change.value;
    v[AT_BREAKDOWN].number = of[SAG_EFFECT_BREAKDOWN_TORQUE].change.value;
    v[AT_SLIP].number = of[SAG_EFFECT_SLIP].change.value;
    v[AT_SPEED].number = of[SAG_EFFECT_SPEED].at_case.value;
    v[AT_EFFICIENCY].number = of[SAG_EFFECT_EFFICIENCY].change.value;
    v[AT_POWER_FACTOR].number = of[SAG_EFFECT_POWER_FACTOR].change.value;
    v[AT_RISE].number = of[SAG_EFFECT_RISE].change.value;
}

/* What people see where running amps are blank. */
static const char *instead(const struct sag_result *result, const struct sag_motor_case *c)
{
    if (c->effects.stalls && result->machine.way != SAG_FIT_NONE)
        return "stalls";
    return sag_known(&c->effects.of[SAG_EFFECT_RUNNING_AMPS].at_case) ? "" : "no calc";
}

void sag_check_row(const struct sag_motor_list *list, const struct sag_result *result, enum sag_case which,
                   struct sag_row_text *text, struct sag_value *v)
{
    const struct sag_motor_case *c = &result->of[which];
    for (size_t i = 0; i < sag_check_view.count; i++)
        v[i] = (struct sag_value){NAN, ""};
    v[AT_TAG].text = result->motor.plate->tag;
    v[AT_FEEDER].text = list->feeders[result->motor.plate->feeder].id;
    v[AT_CASE].text = sag_case_word(which);
    v[AT_VERDICT].text = sag_verdict_word(c->verdict);
    v[AT_ASSUMED].text = put_fact_columns(sag_assumed_inputs(&result->motor), text->assumed, sizeof text->assumed);
    put_volts(c, v);
    put_amps(&result->motor, v);
    put_effects(c->effects.of, v);
    v[AT_RUNNING_AMPS].text = instead(result, c);
}
