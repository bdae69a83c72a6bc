#include "read/tree.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "read/columns.h"
#include "read/tags.h"

static const char *node_id(const void *context, size_t index)
{
    const struct sag_supply *supply = context;
    return index < supply->count ? supply->nodes[index].id : NULL;
}

static enum sag_status refuse_orphan(const struct sag_supply *supply, const struct path_row *row, uint32_t column,
                                     struct sag_diags *diags)
{
    struct sag_place at = {supply->file, row->line, column};
    struct sag_shown shown, other;
    /* the search is worth its time only for messages that will be shown */
    const char *near = diags->errors < SAG_DIAGS_KEPT ? nearest_word(row->fed_from, node_id, supply) : NULL;
    sag_shown(&shown, row->fed_from, strlen(row->fed_from));
    if (near)
        return sag_complain(diags, SAG_ERROR, &at, "fed_from: no row has the id \"%s\"; did you mean \"%s\"?",
                            shown.text, sag_shown(&other, near, strlen(near)));
    return sag_complain(diags, SAG_ERROR, &at, "fed_from: no row has the id \"%s\"; write the id of the row above it",
                        shown.text);
}

static enum sag_status refuse_loop(const struct sag_supply *supply, const struct sag_node *node, uint32_t column,
                                   struct sag_diags *diags)
{
    struct sag_place at = {supply->file, node->line, column};
    struct sag_shown shown;
    sag_shown(&shown, node->id, strlen(node->id));
    if (&supply->nodes[node->parent] == node)
        return sag_complain(diags, SAG_ERROR, &at,
                            "fed_from: \"%s\" is fed from itself; write the id of the row above it", shown.text);
    return sag_complain(diags, SAG_ERROR, &at,
                        "fed_from: the path runs in a loop through \"%s\"; one of its rows must hang on another",
                        shown.text);
}

/* An index of ids whose "line" is the node's number plus one, so that ten thousand boards resolve in one pass. */
static enum sag_status resolve_parents(struct sag_supply *supply, const struct path_row *rows, uint32_t column,
                                       struct sag_diags *diags)
{
    struct tag_index ids = {0};
    enum sag_status status = SAG_OK;
    uint32_t first = 0;
    for (size_t i = 0; i < supply->count && status == SAG_OK; i++)
        status = tag_index_add(&ids, supply->nodes[i].id, (uint32_t)i + 1, &first);
    for (size_t i = 0; i < supply->count && status != SAG_NO_MEMORY; i++) {
        uint32_t found = rows[i].fed_from ? tag_index_find(&ids, rows[i].fed_from) : 0;
        supply->nodes[i].parent = (int32_t)found - 1;
        if (rows[i].fed_from && !found)
            status = refuse_orphan(supply, &rows[i], column, diags);
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
        if (depth > 0 && at >= 0 && state[at] == ON_PATH) {
            status = refuse_loop(supply, &supply->nodes[at], column, diags);
            supply->nodes[path[depth - 1]].parent = -1;
        }
        while (depth > 0) {
            int32_t node = path[--depth];
            int32_t parent = supply->nodes[node].parent;
            state[node] = PLACED;
            new_index[node] = (int32_t)placed;
            sorted[placed] = supply->nodes[node];
            sorted[placed].parent = parent >= 0 ? new_index[parent] : -1;
            placed++;
        }
    }
    if (status != SAG_NO_MEMORY)
        memcpy(supply->nodes, sorted, n * sizeof *sorted);
    free(sorted);
    free(new_index);
    free(path);
    free(state);
    return status;
}

/* What a node takes from its parent. A transformer's secondary is a system of its own. */
static void carry_down(struct sag_supply *supply)
{
    for (size_t i = 0; i < supply->count; i++) {
        struct sag_node *node = &supply->nodes[i];
        const struct sag_node *parent = node->parent >= 0 ? &supply->nodes[node->parent] : NULL;
        const double *given = node->given;
        bool transformer = node->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER;
        node->volts_nominal = transformer ? given[SAG_NODE_SECONDARY_VOLTS]
                              : !parent   ? given[SAG_NODE_NOMINAL_VOLTS]
                                          : parent->volts_nominal;
        node->hz = parent ? parent->hz : isnan(given[SAG_NODE_HZ]) ? SAG_DEFAULT_HZ : given[SAG_NODE_HZ];
        node->system = node->choice[SAG_NODE_SYSTEM];
        if (node->system == SAG_SYSTEM_BLANK)
            node->system = parent && !transformer ? parent->system : SAG_SYSTEM_WYE;
    }
}

enum sag_status plant_tree(struct sag_supply *supply, const struct path_row *rows, uint32_t column,
                           struct sag_diags *diags)
{
    enum sag_status status = resolve_parents(supply, rows, column, diags);
    if (status != SAG_NO_MEMORY) {
        enum sag_status sorted = sort_nodes(supply, column, diags);
        status = sorted != SAG_OK ? sorted : status;
    }
    if (status != SAG_NO_MEMORY)
        carry_down(supply);
    return status;
}
