/* Questions about amps: the code's motor tables, locked-rotor limits, overload settings. */
#include <math.h>
#include <string.h>

#include "sagband/facts.h"
#include "tables/parts.h"

/* The code prints one column for a range of system volts: NFPA 70, head notes of tables 430.248, 430.250, 430.251. */
struct volts_column {
    double low, high;
    int three_phase, single_phase; /* place of the table's column; 0: it has none */
};

struct sized_motor {
    int phases;
    double volts, hp;
};

/* The row of that hp or the next larger, in the column whose range holds `volts`. */
static struct sag_answer ask_by_hp(const struct used_table *used, const struct volts_column columns[], size_t count,
                                   const struct sized_motor *motor)
{
    enum {
        HP
    };
    const double same_size = 1e-3; /* "1/3 hp" against 0.3333 */
    int column = 0;
    for (size_t i = 0; i < count; i++)
        if (motor->volts >= columns[i].low && motor->volts <= columns[i].high)
            column = motor->phases == 3 ? columns[i].three_phase : columns[i].single_phase;
    struct bracket b = sag_bracket(used, HP, motor->hp * (1 - same_size), NULL, 0);
    bool past_end = b.found && sag_table_number(used, b.above, HP) < motor->hp * (1 - same_size);
    if (column == 0 || past_end)
        return sag_no_answer();
    struct sag_answer answer = sag_answer_row(used, b.above, column, 1);
    answer.beyond = sag_table_number(used, b.above, HP) > motor->hp * (1 + same_size);
    return answer;
}

struct sag_answer sag_ask_code_amps(const struct sag_tables *tables, int phases, double volts, double hp)
{
    static const struct volts_column columns[] = {{105, 125, 1, 1},  {195, 203, 2, 2}, {204, 212, 3, 3},
                                                  {218, 245, 4, 4},  {436, 484, 5, 0}, {545, 605, 6, 0},
                                                  {2200, 2400, 7, 0}};
    return ask_by_hp(sag_used_table(tables, phases == 3 ? USE_THREE_PHASE_AMPS : USE_SINGLE_PHASE_AMPS), columns,
                     sizeof columns / sizeof *columns, &(struct sized_motor){phases, volts, hp});
}

struct sag_answer sag_ask_code_locked_amps(const struct sag_tables *tables, int phases, double volts, double hp)
{
    static const struct volts_column columns[] = {{105, 125, 1, 1}, {195, 203, 2, 2}, {204, 212, 3, 2},
                                                  {218, 245, 4, 3}, {436, 484, 5, 0}, {545, 605, 6, 0}};
    return ask_by_hp(sag_used_table(tables, phases == 3 ? USE_THREE_PHASE_LOCKED : USE_SINGLE_PHASE_LOCKED), columns,
                     sizeof columns / sizeof *columns, &(struct sized_motor){phases, volts, hp});
}

struct sag_answer sag_ask_design_locked_amps(const struct sag_tables *tables, double hp, double volts)
{
    enum {
        HP,
        AMPS_230V
    };
    const struct used_table *used = sag_used_table(tables, USE_LOCKED_AMPS_BCD);
    struct bracket b = sag_bracket(used, HP, hp, NULL, 0);
    struct sag_answer answer = sag_answer_between(used, &b, AMPS_230V, 230.0 / volts);
    if (b.beyond && b.found) { /* past the ends the end row's amps a horsepower */
        double scale = hp / sag_table_number(used, b.below, HP);
        answer.value *= scale;
        answer.low = answer.high = answer.value;
    }
    return answer;
}

struct sag_answer sag_ask_overload(const struct sag_tables *tables, double service_factor, double rise_c)
{
    enum {
        CONDITION,
        BASE,
        RAISED
    };
    const struct used_table *used = sag_used_table(tables, USE_OVERLOAD);
    const char *condition = service_factor >= SAG_MARGIN_SERVICE_FACTOR ? "service_factor_ge_1.15"
                            : rise_c <= 40                              ? "temperature_rise_le_40c"
                                                                        : "all_other_motors";
    for (size_t row = 0; row < used->table->rows; row++) {
        if (strcmp(sag_table_text(used, row, CONDITION), condition) != 0)
            continue;
        struct sag_answer answer = sag_answer_row(used, row, BASE, 0.01);
        answer.high = 0.01 * sag_table_number(used, row, RAISED);
        return answer;
    }
    return sag_no_answer();
}
