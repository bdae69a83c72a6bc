/* Nominal, low, high and measured volts at each board. */
#include <math.h>
#include <stdlib.h>

#include "network/parts.h"

static const struct sag_rule rule_typed = {"V", "as typed", "command line", NULL};
static const struct sag_rule rule_given = {"V", "as given for the source", "supply file", NULL};
static const struct sag_rule rule_range_a = {"V", "limit of Range A for the nominal volts", "ANSI C84.1 Table 1",
                                             "ansi_c84_1_limits"};
static const struct sag_rule rule_range_scaled = {"V", "limit of Range A for another nominal voltage, scaled",
                                                  "ANSI C84.1 Table 1, scaled", "ansi_c84_1_limits"};
static const struct sag_rule rule_range_iec = {"V", "supply range, 10 % either way", "IEC 60038",
                                               "voltage_frequency_tolerance"};
static const struct sag_rule rule_measured = {"V", "average of the three measured line volts", "NEMA MG 1 14.36.2",
                                              NULL};

const char *sag_case_word(enum sag_case which)
{
    static const char *const words[] = {
#define WORD(name, word) word,
        SAG_CASES(WORD)
#undef WORD
    };
    _Static_assert(sizeof words / sizeof *words == SAG_CASE_COUNT, "ORDER CASE");
    return words[which];
}

struct range {
    struct sag_qty low, high;
};

static struct sag_qty of_table(double volts, const struct sag_rule *rule, bool from_memory)
{
    struct sag_qty q = sag_exact(volts, SAG_TABLE);
    q.rule = rule;
    q.from_memory = from_memory;
    return q;
}

static struct range default_range(const struct sag_tables *tables, double nominal, double hz, bool at_service)
{
    if (hz < 55) { /* between the two frequencies that public supplies have */
        struct sag_limits iec = sag_ask_limits(tables, "IEC 60038 (low voltage supply)", "supply terminals 400/690 V");
        return (struct range){of_table(nominal * iec.volts_low, &rule_range_iec, iec.from_memory),
                              of_table(nominal * iec.volts_high, &rule_range_iec, iec.from_memory)};
    }
    struct sag_answer ansi = sag_ask_supply_range(tables, nominal, at_service);
    const struct sag_rule *rule = ansi.beyond ? &rule_range_scaled : &rule_range_a;
    return (struct range){of_table(ansi.low, rule, ansi.from_memory), of_table(ansi.high, rule, ansi.from_memory)};
}

static struct sag_board blank_board(const char *id)
{
    struct sag_board board = {.id = id, .measured_at = -1};
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        board.of[i].volts = sag_unknown();
    return board;
}

static struct sag_board_case measured_case(const double line[3], double ratio)
{
    struct sag_board_case m = {.line = {line[0] * ratio, line[1] * ratio, line[2] * ratio}};
    double average = (m.line[0] + m.line[1] + m.line[2]) / 3;
    double low = fmin(m.line[0], fmin(m.line[1], m.line[2]));
    double high = fmax(m.line[0], fmax(m.line[1], m.line[2]));
    m.volts = sag_between(average, low, high, SAG_MEASURED);
    m.volts.rule = &rule_measured;
    m.unbalance = sag_unbalance(m.line);
    m.negative_share = sag_negative_share(m.line);
    return m;
}

static const struct sag_rule rule_log = {"V", "mean by time of a log, 1st to 99th percentile", "recorder's log", NULL};

/* The range that the average of the three keeps to for all but 2 % of the time takes the place of the pairs. */
static void put_log_range(double low, double high, double ratio, struct sag_board_case *m)
{
    m->volts.low = fmin(m->volts.value, low * ratio);
    m->volts.high = fmax(m->volts.value, high * ratio);
    m->volts.rule = &rule_log;
    m->over_time = true;
}

static void put_typed(const struct sag_tables *tables, const struct sag_typed_volts *typed, struct sag_board *board)
{
    board->hz = typed->hz > 0 ? typed->hz : SAG_DEFAULT_HZ;
    if (typed->count == 3) {
        board->of[SAG_CASE_MEASURED] = measured_case(typed->line, 1);
        board->volts_nominal = board->of[SAG_CASE_MEASURED].volts.value;
        board->neutral_share = sag_neutral_share(SAG_SYSTEM_WYE, board->volts_nominal);
        return;
    }
    board->volts_nominal = typed->line[0];
    board->neutral_share = sag_neutral_share(SAG_SYSTEM_WYE, board->volts_nominal);
    struct range range = default_range(tables, typed->line[0], board->hz, false);
    struct sag_qty nominal = sag_exact(typed->line[0], SAG_NAMEPLATE);
    nominal.rule = &rule_typed;
    board->of[SAG_CASE_NOMINAL].volts = nominal;
    board->of[SAG_CASE_LOW].volts = range.low;
    board->of[SAG_CASE_HIGH].volts = range.high;
}

double sag_step_ratio(const struct sag_node *node)
{
    const double *given = node->given;
    if (node->choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER)
        return 1;
    double tap = isnan(given[SAG_NODE_TAP]) ? 0 : given[SAG_NODE_TAP];
    return given[SAG_NODE_SECONDARY_VOLTS] / given[SAG_NODE_PRIMARY_VOLTS] * (1 + tap);
}

static struct sag_qty given_volts(double volts)
{
    struct sag_qty q = sag_exact(volts, SAG_NAMEPLATE);
    q.rule = &rule_given;
    return q;
}

static struct range source_range(const struct sag_tables *tables, const struct sag_node *source)
{
    const double *g = source->given;
    struct range range = default_range(tables, g[SAG_NODE_NOMINAL_VOLTS], source->hz, true);
    if (!isnan(g[SAG_NODE_LOW_VOLTS]))
        range.low = given_volts(g[SAG_NODE_LOW_VOLTS]);
    if (!isnan(g[SAG_NODE_HIGH_VOLTS]))
        range.high = given_volts(g[SAG_NODE_HIGH_VOLTS]);
    return range;
}

void sag_source_range(const struct sag_tables *tables, const struct sag_node *source, struct sag_qty *low,
                      struct sag_qty *high)
{
    struct range range = source_range(tables, source);
    *low = range.low;
    *high = range.high;
}

void source_volts(const struct sag_tables *tables, const struct sag_node *node, double volts[SAG_CASE_COUNT])
{
    struct range range = source_range(tables, node);
    volts[SAG_CASE_NOMINAL] = volts[SAG_CASE_MEASURED] = node->given[SAG_NODE_NOMINAL_VOLTS];
    volts[SAG_CASE_LOW] = range.low.value;
    volts[SAG_CASE_HIGH] = range.high.value;
}

static void put_path(const struct sag_tables *tables, const struct sag_supply *supply, int32_t at,
                     struct sag_board *board)
{
    const struct sag_node *here = &supply->nodes[at];
    double ratio = 1;
    board->volts_nominal = here->volts_nominal;
    board->hz = here->hz;
    board->neutral_share = sag_neutral_share((enum sag_system)here->system, here->volts_nominal);
    for (int32_t i = at; i >= 0; i = supply->nodes[i].parent) {
        const struct sag_node *node = &supply->nodes[i];
        const double *g = node->given;
        if (!isnan(g[SAG_NODE_MEASURED_AB]) && board->measured_at < 0) {
            const double line[3] = {g[SAG_NODE_MEASURED_AB], g[SAG_NODE_MEASURED_BC], g[SAG_NODE_MEASURED_CA]};
            board->of[SAG_CASE_MEASURED] = measured_case(line, ratio);
            if (node->span_high > 0)
                put_log_range(node->span_low, node->span_high, ratio, &board->of[SAG_CASE_MEASURED]);
            board->measured_at = i;
        }
        if (node->parent < 0) {
            struct range range = source_range(tables, node);
            board->of[SAG_CASE_NOMINAL].volts = sag_scaled(given_volts(g[SAG_NODE_NOMINAL_VOLTS]), ratio);
            board->of[SAG_CASE_LOW].volts = sag_scaled(range.low, ratio);
            board->of[SAG_CASE_HIGH].volts = sag_scaled(range.high, ratio);
        }
        ratio *= sag_step_ratio(node);
    }
}

enum sag_status sag_find_boards(const struct sag_tables *tables, const struct sag_supply *supply,
                                const struct sag_typed_volts *typed, const struct sag_motor_list *list,
                                struct sag_board **boards)
{
    *boards = calloc(list->feeder_count ? list->feeder_count : 1, sizeof **boards);
    if (!*boards)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < list->feeder_count; i++) {
        struct sag_board *board = &(*boards)[i];
        *board = blank_board(list->feeders[i].id);
        if (supply)
            put_path(tables, supply, list->feeders[i].node, board);
        else
            put_typed(tables, typed, board);
    }
    return SAG_OK;
}

void sag_put_log(const struct sag_volts_span *log, struct sag_board *boards, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        boards[i].of[SAG_CASE_MEASURED] = measured_case(log->line, 1);
        put_log_range(log->low, log->high, 1, &boards[i].of[SAG_CASE_MEASURED]);
    }
}
