/* Questions about motors: torques, efficiency, running data, inertia, heat. */
#include <math.h>
#include <string.h>

#include "sagband/facts.h"
#include "tables/parts.h"

#define SHARE_PER_PERCENT 0.01
#define RPM_60HZ_TWO_POLE 7200.0 /* 120 f at 60 Hz, rev/min times poles */
#define KW_PER_HP         (SAG_WATTS_PER_HP / 1000)

/* The tables end at 8 poles; slower motors take that row. */
static int most_listed(int poles)
{
    return poles > 8 ? 8 : poles;
}

struct sag_answer sag_ask_code_letter(const struct sag_tables *tables, char letter)
{
    enum {
        LETTER,
        LOW,
        BELOW
    };
    const struct used_table *used = sag_used_table(tables, USE_CODE_LETTERS);
    const double open_end = 1.25; /* letter V has no upper end; a span like that of its neighbours is taken */
    for (size_t row = 0; row < used->table->rows; row++) {
        const char *cell = sag_table_text(used, row, LETTER);
        if (cell[0] != letter || cell[1] != '\0')
            continue;
        struct sag_answer answer = sag_answer_row(used, row, LOW, 1);
        answer.high = sag_table_number(used, row, BELOW);
        answer.high = isnan(answer.high) ? open_end * answer.low : answer.high;
        answer.low = answer.low > 0 ? answer.low : answer.high / open_end; /* and letter A has no lower one */
        answer.value = 0.5 * (answer.low + answer.high);
        return answer;
    }
    return sag_no_answer();
}

/* Standards list few hp rows a speed; between two rows the straight line, beyond the ends the end row. */
static struct sag_torques torques_us(const struct used_table *used, const struct row_filter *filters, int filter_count,
                                     double hp)
{
    enum {
        HP,
        SPEED,
        LOCKED,
        BREAKDOWN
    };
    struct bracket b = sag_bracket(used, HP, hp, filters, filter_count);
    struct sag_torques torques = {sag_answer_between(used, &b, LOCKED, SHARE_PER_PERCENT),
                                  sag_answer_between(used, &b, BREAKDOWN, SHARE_PER_PERCENT)};
    return torques;
}

/* The row whose range above..up_to holds `at`; beyond the table's ends the end row, and *beyond says so. Ratings come
   here through hp and back, so an upper limit is met within a hair. */
static size_t row_of_range(const struct used_table *used, double at, int poles, int poles_column, bool *beyond)
{
    enum {
        ABOVE,
        UP_TO
    };
    const double hair = 1e-9;
    size_t best = used->table->rows;
    *beyond = false;
    for (size_t row = 0; row < used->table->rows; row++) {
        if (poles_column >= 0 && sag_table_number(used, row, poles_column) != poles)
            continue;
        bool first = best == used->table->rows;
        best = row;
        *beyond = first ? at <= sag_table_number(used, row, ABOVE) : false;
        if (at <= sag_table_number(used, row, UP_TO) * (1 + hair))
            return best;
    }
    *beyond = true;
    return best;
}

static struct sag_torques torques_iec(const struct sag_tables *tables, double kw, int poles)
{
    enum {
        ABOVE,
        UP_TO,
        POLES,
        LOCKED,
        BREAKDOWN
    };
    const struct used_table *used = sag_used_table(tables, USE_TORQUE_N);
    bool beyond = false;
    size_t row = row_of_range(used, kw, most_listed(poles), POLES, &beyond);
    if (row == used->table->rows)
        return (struct sag_torques){sag_no_answer(), sag_no_answer()};
    struct sag_torques torques = {sag_answer_row(used, row, LOCKED, 1), sag_answer_row(used, row, BREAKDOWN, 1)};
    torques.locked.beyond = torques.breakdown.beyond = beyond;
    return torques;
}

struct sag_torques sag_ask_design_torques(const struct sag_tables *tables, char design, double hp, int poles)
{
    enum {
        SPEED = 1,
        DESIGN = 4
    };
    if (design == 'N' || design == 'H')
        return torques_iec(tables, hp * KW_PER_HP, poles);
    /* whole rev/min, as the tables print them: 514 for 14 poles */
    double speed = floor(RPM_60HZ_TWO_POLE / poles);
    const char letter[2] = {design, '\0'};
    const struct row_filter filters[] = {{.column = SPEED, .number = speed}, {.column = DESIGN, .text = letter}};
    if (design == 'C' || design == 'D')
        return torques_us(sag_used_table(tables, USE_TORQUE_CD), filters, 2, hp);
    return torques_us(sag_used_table(tables, USE_TORQUE_AB), filters, 1, hp);
}

struct sag_answer sag_ask_iec_locked_kva(const struct sag_tables *tables, double kw)
{
    enum {
        KVA_PER_KW = 2
    };
    const struct used_table *used = sag_used_table(tables, USE_IEC_LOCKED_KVA);
    bool beyond = false;
    struct sag_answer answer = sag_answer_row(used, row_of_range(used, kw, 0, -1, &beyond), KVA_PER_KW, 1);
    answer.beyond = beyond;
    return answer;
}

static struct sag_answer efficiency_us(const struct used_table *used, const struct sag_efficiency_query *q)
{
    enum {
        HP,
        POLES,
        ENCLOSURE,
        PERCENT
    };
    const struct row_filter filters[] = {{.column = POLES, .number = q->poles},
                                         {.column = ENCLOSURE, .text = q->open ? "open" : "enclosed"}};
    struct bracket b = sag_bracket(used, HP, q->hp, filters, 2);
    return sag_answer_between(used, &b, PERCENT, SHARE_PER_PERCENT);
}

static struct sag_answer efficiency_iec(const struct sag_tables *tables, const struct sag_efficiency_query *q)
{
    enum {
        KW,
        POLES,
        CLASS,
        PERCENT
    };
    const struct row_filter filters[] = {{.column = POLES, .number = q->poles > 6 ? 6 : q->poles},
                                         {.column = CLASS, .text = "IE1"}};
    const struct used_table *used = sag_used_table(tables, USE_EFFICIENCY_IEC);
    struct bracket b = sag_bracket(used, KW, q->hp * KW_PER_HP, filters, 2);
    return sag_answer_between(used, &b, PERCENT, SHARE_PER_PERCENT);
}

struct sag_answer sag_ask_efficiency(const struct sag_tables *tables, const struct sag_efficiency_query *query)
{
    /* Energy Policy Act of 1992, in force from October 1997; the level of the second table bound 1 to 200 hp from
       December 2010 (Energy Independence and Security Act of 2007), the rest from 2016 (years from memory) */
    enum {
        FIRST_LEVEL = 1998,
        SECOND_LEVEL = 2011
    };
    enum {
        OLD_HP,
        OLD_PERCENT
    };
    struct sag_efficiency_query q = *query;
    if (q.iec)
        return efficiency_iec(tables, &q);
    if (q.year < FIRST_LEVEL) {
        const struct used_table *old = sag_used_table(tables, USE_EFFICIENCY_OLD);
        struct bracket b = sag_bracket(old, OLD_HP, q.hp, NULL, 0);
        return sag_answer_between(old, &b, OLD_PERCENT, SHARE_PER_PERCENT);
    }
    enum table_use level = q.year >= SECOND_LEVEL ? USE_EFFICIENCY_2016 : USE_EFFICIENCY_1997;
    q.poles = q.poles > 6 && level == USE_EFFICIENCY_1997 ? 6 : most_listed(q.poles);
    return efficiency_us(sag_used_table(tables, level), &q);
}

struct sag_running sag_ask_typical_running(const struct sag_tables *tables, double hp, int poles)
{
    enum {
        HP,
        POLES,
        POWER_FACTOR,
        SLIP
    };
    const struct used_table *used = sag_used_table(tables, USE_TYPICAL_RUNNING);
    const struct row_filter filters[] = {{.column = POLES, .number = most_listed(poles)}};
    struct bracket b = sag_bracket(used, HP, hp, filters, 1);
    return (struct sag_running){sag_answer_between(used, &b, POWER_FACTOR, 1),
                                sag_answer_between(used, &b, SLIP, SHARE_PER_PERCENT)};
}

static void spread(struct sag_answer *answer, double low_factor, double high_factor)
{
    answer->low = low_factor * answer->value;
    answer->high = high_factor * answer->value;
}

struct sag_answer sag_ask_rotor_inertia(const struct sag_tables *tables, double hp, int poles)
{
    enum {
        HP,
        POLES,
        INERTIA,
        LOW,
        HIGH
    };
    const double exponent_beyond = 1.2; /* of hp past the table's ends; its own slope, common practice */
    const struct used_table *used = sag_used_table(tables, USE_ROTOR_INERTIA);
    const struct row_filter filters[] = {{.column = POLES, .number = most_listed(poles)}};
    struct bracket b = sag_bracket(used, HP, hp, filters, 1);
    if (!b.found)
        return sag_no_answer();
    struct sag_answer answer = sag_answer_row(used, b.below, INERTIA, 1);
    double hp_below = sag_table_number(used, b.below, HP), hp_above = sag_table_number(used, b.above, HP);
    double slope = exponent_beyond;
    if (hp_above > hp_below)
        slope = log(sag_table_number(used, b.above, INERTIA) / answer.value) / log(hp_above / hp_below);
    answer.value *= pow(hp / hp_below, slope);
    answer.beyond = b.beyond;
    spread(&answer, sag_table_number(used, b.below, LOW), sag_table_number(used, b.below, HIGH));
    return answer;
}

struct sag_load_shape sag_ask_load_shape(const struct sag_tables *tables, const char *load)
{
    enum {
        LOAD,
        BREAKAWAY,
        T0,
        EXPONENT,
        MULTIPLE,
        LOW,
        HIGH
    };
    const struct used_table *used = sag_used_table(tables, USE_LOAD_DEFAULTS);
    size_t row = sag_row_named(used, load);
    if (row == used->table->rows)
        return (struct sag_load_shape){.inertia_multiple = sag_no_answer()};
    struct sag_load_shape shape = {
        .breakaway = sag_table_number(used, row, BREAKAWAY),
        .t0 = sag_table_number(used, row, T0),
        .exponent = sag_table_number(used, row, EXPONENT),
        .inertia_multiple = sag_answer_row(used, row, MULTIPLE, 1),
        .found = true,
    };
    shape.inertia_multiple.low = sag_table_number(used, row, LOW);
    shape.inertia_multiple.high = sag_table_number(used, row, HIGH);
    return shape;
}

struct sag_answer sag_ask_rise_limit(const struct sag_tables *tables, const char *insulation, double service_factor)
{
    enum {
        CLASS,
        SF_100,
        SF_115
    };
    const struct used_table *used = sag_used_table(tables, USE_INSULATION_LIMITS);
    size_t row = sag_row_named(used, insulation);
    if (row == used->table->rows)
        return sag_no_answer();
    struct sag_answer with_margin = sag_answer_row(used, row, SF_115, 1);
    struct sag_answer plain = sag_answer_row(used, row, SF_100, 1);
    return service_factor >= SAG_MARGIN_SERVICE_FACTOR && !isnan(with_margin.value) ? with_margin : plain;
}

struct sag_answer sag_ask_typical_rise(const struct sag_tables *tables, const char *insulation)
{
    return sag_answer_named(sag_used_table(tables, USE_TYPICAL_RISE), insulation);
}

struct sag_answer sag_ask_margin(const struct sag_tables *tables, const char *quantity)
{
    return sag_answer_named(sag_used_table(tables, USE_MARGINS), quantity);
}

struct sag_answer sag_ask_saturation(const struct sag_tables *tables, const char *kind)
{
    enum {
        KIND,
        CONSTANT
    };
    const struct used_table *used = sag_used_table(tables, USE_SATURATION_CONSTANTS);
    size_t row = sag_row_named(used, kind);
    size_t low = sag_row_named(used, "low"), high = sag_row_named(used, "high");
    if (row == used->table->rows || low == used->table->rows || high == used->table->rows)
        return sag_no_answer();
    struct sag_answer answer = sag_answer_row(used, row, CONSTANT, 1);
    answer.low = sag_table_number(used, low, CONSTANT);
    answer.high = sag_table_number(used, high, CONSTANT);
    return answer;
}
