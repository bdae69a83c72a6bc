/* The sheet of a feeder: how its volts come about, and what hangs on it. */
#include <math.h>

#include "base/arena.h"
#include "base/number.h"
#include "write/sheet.h"

/* Computed volts are those without current less what the path loses; measured ones are what they are. */
static void add_board(struct sag_lines *lines, const struct sag_sheet_job *job, const struct sag_board *board,
                      int32_t node)
{
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        const struct sag_qty *volts = &board->of[c].volts;
        if (!sag_known(volts))
            continue;
        bool computed = job->supply && c != SAG_CASE_MEASURED;
        struct no_load start =
            computed ? no_load_volts(lines, job, node, (enum sag_case)c) : (struct no_load){volts->value, ""};
        const struct symbol extra[] = {{"V_0", start.volts, 7}, {"d_p", start.volts - volts->value, 5}};
        bool drops = computed && job->reports && c != SAG_CASE_HIGH;
        add_line(
            lines, &(struct symbols){NULL, extra, 2},
            (struct sag_line){.section = "Volts at the board",
                              .symbol = sag_case_word((enum sag_case)c),
                              .words = c == SAG_CASE_HIGH && computed ? "line to line, no motor runs" : "line to line",
                              .formula = drops            ? "V_0 - d_p"
                                         : *start.numbers ? "ratios and taps"
                                                          : NULL,
                              .numbers = drops || !*start.numbers ? NULL : start.numbers,
                              .value = *volts,
                              .origin = computed                         ? "computed"
                                        : volts->origin == SAG_NAMEPLATE ? "given"
                                                                         : NULL,
                              .unit = "V",
                              .note = drops ? "V_0: without current; d_p: lost in the path above" : "",
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

enum sag_status sag_explain_feeder(const struct sag_sheet_job *job, const struct sag_result *results, size_t count,
                                   struct sag_lines *lines)
{
    struct totals totals = {0};
    uint32_t feeder = results[0].motor.plate->feeder;
    int32_t node = job->plant->list->feeders[feeder].node;
    *lines = (struct sag_lines){.arena = sag_arena_new()};
    if (!lines->arena)
        return SAG_NO_MEMORY;
    add_path_ohms(lines, job, node);
    for (int c = SAG_CASE_NOMINAL; c <= SAG_CASE_LOW; c++)
        if (job->plant->cases[c])
            add_path_drops(lines, job, node, (enum sag_case)c);
    add_board(lines, job, &job->plant->boards[feeder], node);
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
    add_feeder(lines, job, feeder);
    return lines->failed ? SAG_NO_MEMORY : SAG_OK;
}
