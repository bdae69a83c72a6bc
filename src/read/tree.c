#include "read/tree.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "read/columns.h"
#include "read/tags.h"

static const char *node_id(const void *context, size_t index)
{
    const struct sag_supply *supply = context;
    return index < supply->count ? supply->nodes[index].id : NULL;
}

static enum sag_status complain(const struct sag_supply *supply, size_t node, uint32_t column, struct sag_diags *diags,
                                const char *what, const char *which)
{
    struct sag_place at = {supply->file, supply->nodes[node].line, column};
    struct sag_shown shown;
    return sag_complain(diags, SAG_ERROR, &at, "%s \"%s\"", what, sag_shown(&shown, which, strlen(which)));
}

/* An index of ids whose "line" is the node's number plus one, so that ten thousand boards resolve in one pass. */
static enum sag_status resolve_parents(struct sag_supply *supply, const char *const *fed_from, uint32_t column,
                                       struct sag_diags *diags)
{
    struct tag_index ids = {0};
    enum sag_status status = SAG_OK;
    uint32_t first = 0;
    for (size_t i = 0; i < supply->count && status == SAG_OK; i++)
        status = tag_index_add(&ids, supply->nodes[i].id, (uint32_t)i + 1, &first);
    for (size_t i = 0; i < supply->count && status != SAG_NO_MEMORY; i++) {
        if (!fed_from[i])
            continue;
        enum sag_status added = tag_index_add(&ids, fed_from[i], (uint32_t)supply->count + 1, &first);
        if (added != SAG_OK)
            status = added;
        else if (first == 0 || first > supply->count) {
            /* the search is worth its time only for messages that will be shown */
            const char *near = diags->errors < SAG_DIAGS_KEPT ? nearest_word(fed_from[i], node_id, supply) : NULL;
            status = near ? complain(supply, i, column, diags, "fed_from: no row has that id; did you mean", near)
                          : complain(supply, i, column, diags, "fed_from: no row has the id", fed_from[i]);
        } else
            supply->nodes[i].parent = (int32_t)first - 1;
    }
    tag_index_free(&ids);
    return status;
}

/* Depth-first from each node to its source: order[] gets parents before children, a node met again on the way up is a
   loop. */
static enum sag_status sort_nodes(struct sag_supply *supply, uint32_t column, struct sag_diags *diags)
{
    enum {
        NEW,
        ON_PATH,
        PLACED
    };
    size_t n = supply->count, placed = 0;
    enum sag_status status = SAG_OK;
    struct sag_node *sorted = malloc(n * sizeof *sorted);
    int32_t *new_index = calloc(n, sizeof *new_index);
    int32_t *path = malloc(n * sizeof *path);
    unsigned char *state = calloc(n, 1);
    if (!sorted || !new_index || !path || !state)
        status = SAG_NO_MEMORY;
    for (size_t start = 0; start < n && status != SAG_NO_MEMORY; start++) {
        size_t depth = 0;
        int32_t at = (int32_t)start;
        while (at >= 0 && state[at] == NEW) {
            state[at] = ON_PATH;
            path[depth++] = at;
            at = supply->nodes[at].parent;
        }
        if (at >= 0 && state[at] == ON_PATH)
            status = complain(supply, (size_t)at, column, diags, "fed_from: the path runs in a loop through",
                              supply->nodes[at].id);
        while (depth > 0) {
            int32_t node = path[--depth];
            int32_t parent = supply->nodes[node].parent;
            state[node] = PLACED;
            new_index[node] = (int32_t)placed;
            sorted[placed] = supply->nodes[node];
            sorted[placed].parent = parent >= 0 && status == SAG_OK ? new_index[parent] : -1;
            placed++;
        }
    }
    if (status == SAG_OK)
        memcpy(supply->nodes, sorted, n * sizeof *sorted);
    free(sorted);
    free(new_index);
    free(path);
    free(state);
    return status;
}

/* What a node takes from its parent. A transformer's secondary is a system of its own. */
static enum sag_status carry_down(struct sag_supply *supply, const struct tree_columns *where, struct sag_diags *diags)
{
    const double to_neutral = 0.06; /* share around 1/sqrt(3) of nominal volts in which no line voltage lies */
    const double apart = 0.25;      /* primary plate against the board it hangs on: further is a slip in a row */
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < supply->count; i++) {
        struct sag_node *node = &supply->nodes[i];
        const struct sag_node *parent = node->parent >= 0 ? &supply->nodes[node->parent] : NULL;
        const double *given = node->given;
        bool transformer = node->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER;
        node->volts_nominal = !parent       ? given[SAG_NODE_NOMINAL_VOLTS]
                              : transformer ? given[SAG_NODE_SECONDARY_VOLTS]
                                            : parent->volts_nominal;
        node->hz = parent ? parent->hz : isnan(given[SAG_NODE_HZ]) ? SAG_DEFAULT_HZ : given[SAG_NODE_HZ];
        node->system = node->choice[SAG_NODE_SYSTEM];
        if (node->system == SAG_SYSTEM_BLANK)
            node->system = parent && !transformer ? parent->system : SAG_SYSTEM_WYE;
        double measured = (given[SAG_NODE_MEASURED_AB] + given[SAG_NODE_MEASURED_BC] + given[SAG_NODE_MEASURED_CA]) / 3;
        if (fabs(measured / node->volts_nominal * sqrt(3.0) - 1) < to_neutral)
            status = complain(supply, i, where->measured_ab, diags,
                              "measured_ab: these look like volts to the neutral; give line to line, at", node->id);
        if (parent && transformer && fabs(given[SAG_NODE_PRIMARY_VOLTS] / parent->volts_nominal - 1) > apart) {
            char volts[SAG_NUMBER_ROOM];
            status = complain(supply, i, where->primary_volts, diags,
                              "primary_volts: more than 25 % from the board it is fed from, which has volts of",
                              sag_number_figures(volts, parent->volts_nominal, 6));
        }
    }
    return status;
}

enum sag_status plant_tree(struct sag_supply *supply, const char *const *fed_from, const struct tree_columns *where,
                           struct sag_diags *diags)
{
    enum sag_status status = resolve_parents(supply, fed_from, where->fed_from, diags);
    if (status != SAG_NO_MEMORY) {
        enum sag_status sorted = sort_nodes(supply, where->fed_from, diags);
        status = sorted != SAG_OK ? sorted : status;
    }
    if (status == SAG_OK)
        status = carry_down(supply, where, diags);
    return status;
}
