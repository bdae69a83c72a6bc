/* The sheet of a feeder: how its volts come about, and what hangs on it. */
#include <math.h>

#include "base/arena.h"
#include "base/number.h"
#include "write/sheet.h"

static void add_node(struct sag_lines *lines, const struct sag_node *node, const double volts[SAG_CASE_COUNT])
{
    static const char *const kinds[] = {"",
#define WORD(name, word) word,
                                        SAG_NODE_KINDS(WORD)
#undef WORD
    };
    const double *g = node->given;
    bool transformer = node->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER;
    double tap = isnan(g[SAG_NODE_TAP]) ? 0 : g[SAG_NODE_TAP];
    const struct symbol extra[] = {
        {"V_2", g[SAG_NODE_SECONDARY_VOLTS], 6}, {"V_1", g[SAG_NODE_PRIMARY_VOLTS], 6}, {"tap", 100 * tap, 3}};
    struct symbols symbols = {NULL, extra, 3};
    struct sag_qty value =
        sag_between(volts[SAG_CASE_NOMINAL], volts[SAG_CASE_LOW], volts[SAG_CASE_HIGH], SAG_COMPUTED);
    add_line(lines, &symbols,
             (struct sag_line){.section = "Volts along the path: nominal (low to high), drops taken as zero",
                               .symbol = node->id,
                               .words = kinds[node->choice[SAG_NODE_KIND]],
                               .formula = transformer ? "volts in * V_2 / V_1 * (1 + tap / 100)" : "",
                               .value = value,
                               .unit = "V",
                               .source = transformer ? "transformer plate" : "",
                               .figures = 6});
}

/* The feeder's own board has the volts; going up, each transformer's ratio is taken out again. */
static void add_path(struct sag_lines *lines, const struct sag_supply *supply, const struct sag_board *board,
                     int32_t node)
{
    size_t depth = 0;
    for (int32_t i = node; i >= 0; i = supply->nodes[i].parent)
        depth++;
    struct {
        int32_t node;
        double ratio; /* of the board's volts to this node's */
    } *path = sag_arena_bytes(lines->arena, depth * sizeof *path);
    double ratio = 1;
    size_t filled = 0;
    lines->failed = lines->failed || !path;
    for (int32_t i = node; i >= 0 && path; i = supply->nodes[i].parent) {
        path[filled].node = i;
        path[filled++].ratio = ratio;
        ratio *= sag_step_ratio(&supply->nodes[i]);
    }
    while (filled > 0) {
        double volts[SAG_CASE_COUNT];
        filled--;
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            volts[c] = board->of[c].volts.value / path[filled].ratio;
        add_node(lines, &supply->nodes[path[filled].node], volts);
    }
}

static void add_board(struct sag_lines *lines, const struct sag_board *board, const struct sag_supply *supply,
                      int32_t node)
{
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (sag_known(&board->of[c].volts)) {
            const char *path = supply ? path_numbers(lines, supply, node, &board->of[c].volts) : "";
            add_line(lines, &(struct symbols){0},
                     (struct sag_line){.section = "Volts at the board",
                                       .symbol = sag_case_word((enum sag_case)c),
                                       .words = "line to line",
                                       .formula = *path ? "ratios and taps" : NULL,
                                       .numbers = *path ? path : NULL,
                                       .value = board->of[c].volts,
                                       .origin = board_origin(supply, (enum sag_case)c, &board->of[c].volts),
                                       .unit = "V",
                                       .figures = 5});
        }
}

struct totals {
    double watts, computed, table;
    size_t without_table;
};

static void add_totals(struct sag_lines *lines, const struct totals *t, size_t count)
{
    const struct {
        const char *words, *unit, *source;
        double value;
    } rows[] = {
        {"motors", "", "motor list", (double)count},
        {"rated shaft power together", "hp", "nameplates", t->watts / SAG_WATTS_PER_HP},
        {"full-load amps together, plates' arithmetic", "A", "sum without regard to phase angle", t->computed},
        {"full-load amps together, code tables", "A", "NFPA 70-2023 430.6(A)(1)", t->table},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        add_line(
            lines, &(struct symbols){0},
            (struct sag_line){.section = "Connected",
                              .words = rows[i].words,
                              .value = sag_exact(rows[i].value, SAG_COMPUTED),
                              .unit = rows[i].unit,
                              .source = rows[i].source,
                              .note = i == 3 && t->without_table ? "some motors are in no column of the tables" : "",
                              .figures = 5});
}

static void add_motor(struct sag_lines *lines, const struct sag_result *r)
{
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        if (!r->of[c].present)
            continue;
        char low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM];
        const struct sag_terminals *t = &r->of[c].terminals;
        sag_number_print(low, t->band_low, 1);
        sag_number_print(high, t->band_high, 1);
        add_line(lines, &(struct symbols){0},
                 (struct sag_line){.section = "Volts of each motor against its plate",
                                   .symbol = r->motor.plate->tag,
                                   .words = sheet_text(lines, "%s case: %s", sag_case_word((enum sag_case)c),
                                                       sag_verdict_word(r->of[c].verdict)),
                                   .formula = "",
                                   .value = sag_exact(100 * t->volts_share, SAG_COMPUTED),
                                   .unit = "%",
                                   .source = t->band_source,
                                   .note = sheet_text(lines, "band %s to %s V", low, high),
                                   .figures = 4});
    }
}

enum sag_status sag_explain_feeder(const struct sag_plant *plant, const struct sag_supply *supply, uint32_t feeder,
                                   const struct sag_result *results, size_t count, struct sag_lines *lines)
{
    struct totals totals = {0};
    *lines = (struct sag_lines){.arena = sag_arena_new()};
    if (!lines->arena)
        return SAG_NO_MEMORY;
    if (supply)
        add_path(lines, supply, &plant->boards[feeder], plant->list->feeders[feeder].node);
    add_board(lines, &plant->boards[feeder], supply, plant->list->feeders[feeder].node);
    for (size_t i = 0; i < count; i++) {
        const struct sag_qty *fact = results[i].motor.fact;
        totals.watts += fact[SAG_RATED_POWER].value;
        totals.computed += fact[SAG_COMPUTED_AMPS].value;
        totals.table += sag_known(&fact[SAG_TABLE_AMPS]) ? fact[SAG_TABLE_AMPS].value : 0;
        totals.without_table += !sag_known(&fact[SAG_TABLE_AMPS]);
    }
    add_totals(lines, &totals, count);
    for (size_t i = 0; i < count; i++)
        add_motor(lines, &results[i]);
    return lines->failed ? SAG_NO_MEMORY : SAG_OK;
}
