#include "read/path_rules.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"

struct path_row path_row_of(const struct row_check *check, const char *fed_from)
{
    return (struct path_row){.fed_from = fed_from,
                             .line = check->cells->line,
                             .length = used_column(check, "length_ft", "length_m"),
                             .fault = used_column(check, "fault_mva", "fault_ka")};
}

static int by_line(const void *left, const void *right)
{
    const struct path_row *a = left, *b = right;
    return (a->line > b->line) - (a->line < b->line);
}

/* Nodes are no longer in the order of the file. */
static const struct path_row *row_of(const struct path_check *c, const struct sag_node *node)
{
    struct path_row key = {.line = node->line};
    return bsearch(&key, c->rows, c->supply->count, sizeof *c->rows, by_line);
}

__attribute__((format(printf, 4, 5))) static enum sag_status
complain(const struct path_check *c, const struct sag_node *node, const char *column, const char *format, ...)
{
    struct sag_place at = {c->supply->file, node->line, cell_of(c->set, c->map, column)};
    char text[sizeof(struct sag_diag)];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    return sag_complain(c->diags, SAG_ERROR, &at, "%s: %s", column, text);
}

static enum sag_status check_measured(const struct path_check *c, const struct sag_node *node)
{
    static const char *const columns[] = {"measured_ab", "measured_bc", "measured_ca"};
    const double to_neutral = 0.06;       /* share around 1/sqrt(3) of nominal volts in which no line voltage lies */
    const double least = 0.5, most = 1.3; /* beyond what a live board shows; common practice, no source */
    const double *g = node->given;
    const double line[] = {g[SAG_NODE_MEASURED_AB], g[SAG_NODE_MEASURED_BC], g[SAG_NODE_MEASURED_CA]};
    double average = (line[0] + line[1] + line[2]) / 3;
    struct sag_shown shown;
    if (fabs(average / node->volts_nominal * sqrt(3.0) - 1) < to_neutral)
        return complain(c, node, "measured_ab", "these look like volts to the neutral; give line to line, at \"%s\"",
                        sag_shown(&shown, node->id, strlen(node->id)));
    if (!sag_lines_close(line)) /* blank, or already refused */
        return SAG_OK;
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < 3; i++) {
        char volts[SAG_NUMBER_ROOM], nominal[SAG_NUMBER_ROOM], low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM];
        double measured = line[i];
        if (!(measured < least * node->volts_nominal || measured > most * node->volts_nominal))
            continue;
        status = complain(c, node, columns[i],
                          "%s V on a board of %s V; is it a slip? From %s to %s V are taken, line to line",
                          sag_number_figures(volts, measured, 6), sag_number_figures(nominal, node->volts_nominal, 6),
                          sag_number_figures(low, least * node->volts_nominal, 6),
                          sag_number_figures(high, most * node->volts_nominal, 6));
    }
    return status;
}

/* A primary plate against the board it hangs on. */
static enum sag_status check_primary(const struct path_check *c, const struct sag_node *node)
{
    const double apart = 0.25; /* further is a slip in a row; common practice, no source */
    char volts[SAG_NUMBER_ROOM];
    if (node->parent < 0 || node->choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER)
        return SAG_OK;
    double board = c->supply->nodes[node->parent].volts_nominal;
    if (!(fabs(node->given[SAG_NODE_PRIMARY_VOLTS] / board - 1) > apart))
        return SAG_OK;
    return complain(c, node, "primary_volts",
                    "more than 25 %% from the board it is fed from, which has volts of \"%s\"",
                    sag_number_figures(volts, board, 6));
}

/* A device that its own cable would starve: a length in another unit, a size or a rating with a digit too many. */
static enum sag_status check_drop(const struct path_check *c, const struct sag_node *node)
{
    const double most = 0.5; /* share of nominal volts; nothing is built so */
    const double *g = node->given;
    char amps[SAG_NUMBER_ROOM], drop[SAG_NUMBER_ROOM], volts[SAG_NUMBER_ROOM], best[SAG_NUMBER_ROOM];
    bool ohms = !isnan(g[SAG_NODE_OHMS_R]) || !isnan(g[SAG_NODE_OHMS_X]);
    double sets = isnan(g[SAG_NODE_SETS]) ? 1 : g[SAG_NODE_SETS];
    struct sag_cable cable =
        sag_ask_cable(c->tables, node->conductor, (enum sag_material)node->choice[SAG_NODE_MATERIAL],
                      (enum sag_raceway)node->choice[SAG_NODE_RACEWAY]);
    double r = ohms ? g[SAG_NODE_OHMS_R] : cable.ohms_r * g[SAG_NODE_LENGTH] / sets;
    double share = sqrt(3.0) * r * g[SAG_NODE_DEVICE_AMPS] / node->volts_nominal;
    if (node->choice[SAG_NODE_KIND] != SAG_NODE_CABLE || !(share > most))
        return SAG_OK;
    sag_number_figures(amps, g[SAG_NODE_DEVICE_AMPS], 5);
    sag_number_figures(drop, 100 * share, 3);
    sag_number_figures(volts, node->volts_nominal, 6);
    if (ohms)
        return complain(c, node, "ohms_r",
                        "the device's %s A would drop %s %% of %s V; is it ohms a phase? At most %s are taken here",
                        amps, drop, volts, sag_number_figures(best, r * most / share, 3));
    const char *column = row_of(c, node)->length;
    bool feet = strcmp(column, "length_ft") == 0;
    double length = g[SAG_NODE_LENGTH] * most / share / (feet ? SAG_METRES_PER_FOOT : 1);
    return complain(
        c, node, column,
        "the device's %s A would drop %s %% of %s V; are length, size, sets and amps right? At most %s %s are "
        "taken here",
        amps, drop, volts, sag_number_figures(best, length, 3), feet ? "ft" : "m");
}

/* The largest transformer below each source, as index of a node; -1. NULL: no memory. */
static int32_t *largest_below(const struct sag_supply *supply)
{
    int32_t *source = calloc(supply->count, sizeof *source);
    int32_t *largest = calloc(supply->count, sizeof *largest);
    for (size_t i = 0; source && largest && i < supply->count; i++) { /* parents stand before children */
        const struct sag_node *node = &supply->nodes[i];
        source[i] = node->parent < 0 ? (int32_t)i : source[node->parent];
        largest[i] = -1;
        int32_t *of_source = &largest[source[i]];
        double most = *of_source < 0 ? 0 : supply->nodes[*of_source].given[SAG_NODE_RATED_VA];
        if (node->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER && node->given[SAG_NODE_RATED_VA] > most)
            *of_source = (int32_t)i;
    }
    if (!source) {
        free(largest);
        largest = NULL;
    }
    free(source);
    return largest;
}

/* MVA typed as kVA, or the other way round: a utility is far stronger than any transformer on it. */
static enum sag_status check_strength(const struct path_check *c, const struct sag_node *source,
                                      const struct sag_node *transformer)
{
    const double least = 1.5; /* times the transformer's kVA: below it the transformer could not even be loaded */
    const double *g = source->given;
    char level[SAG_NUMBER_ROOM], kva[SAG_NUMBER_ROOM], enough[SAG_NUMBER_ROOM];
    struct sag_shown shown;
    bool amps = isnan(g[SAG_NODE_FAULT_VA]);
    double va = amps ? sqrt(3.0) * source->volts_nominal * g[SAG_NODE_FAULT_AMPS] : g[SAG_NODE_FAULT_VA];
    double rated = transformer->given[SAG_NODE_RATED_VA];
    if (source->choice[SAG_NODE_KIND] != SAG_NODE_UTILITY || !(va < least * rated))
        return SAG_OK;
    return complain(c, source, amps ? "fault_ka" : row_of(c, source)->fault,
                    "%s MVA is too weak for the %s kVA of \"%s\" on line %u; was a unit mixed up? At least %s MVA are "
                    "wanted",
                    sag_number_figures(level, va / 1e6, 4), sag_number_figures(kva, rated / 1000, 6),
                    sag_shown(&shown, transformer->id, strlen(transformer->id)), transformer->line,
                    sag_number_figures(enough, least * rated / 1e6, 4));
}

static enum sag_status check_sources(const struct path_check *c)
{
    enum sag_status status = SAG_OK;
    const struct sag_supply *supply = c->supply;
    int32_t *largest = largest_below(supply);
    if (!largest)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < supply->count; i++)
        if (largest[i] >= 0) {
            enum sag_status one = check_strength(c, &supply->nodes[i], &supply->nodes[largest[i]]);
            status = one != SAG_OK ? one : status;
        }
    free(largest);
    return status;
}

enum sag_status check_path_rules(const struct path_check *check)
{
    static enum sag_status (*const rules[])(const struct path_check *,
                                            const struct sag_node *) = {check_measured, check_primary, check_drop};
    enum sag_status status = check_sources(check);
    for (size_t i = 0; i < check->supply->count && status != SAG_NO_MEMORY; i++)
        for (size_t rule = 0; rule < sizeof rules / sizeof *rules; rule++) {
            enum sag_status one = rules[rule](check, &check->supply->nodes[i]);
            status = one != SAG_OK ? one : status;
        }
    return status;
}
