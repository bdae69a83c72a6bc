/* What stands in for blank cells of a supply file: which cells they are. */
#include <math.h>

#include "network/parts.h"

static bool blank(const struct sag_node *n, enum sag_node_fact fact)
{
    return isnan(n->given[fact]);
}

static bool has_ohms(const struct sag_node *n)
{
    return !blank(n, SAG_NODE_OHMS_R) || !blank(n, SAG_NODE_OHMS_X);
}

static bool has_fault_level(const struct sag_node *n)
{
    return !blank(n, SAG_NODE_FAULT_VA) || !blank(n, SAG_NODE_FAULT_AMPS);
}

static bool is_kind(const struct sag_node *n, enum sag_node_kind kind)
{
    return n->choice[SAG_NODE_KIND] == kind;
}

/* Without a fault level the utility holds its volts whatever is drawn, and has no X over R. */
static bool no_fault_level(const struct sag_node *n)
{
    return is_kind(n, SAG_NODE_UTILITY) && !has_fault_level(n);
}

static bool no_x_over_r(const struct sag_node *n)
{
    return blank(n, SAG_NODE_X_OVER_R) && !is_kind(n, SAG_NODE_CABLE) && !no_fault_level(n);
}

static bool no_transient(const struct sag_node *n)
{
    return is_kind(n, SAG_NODE_GENERATOR) && blank(n, SAG_NODE_TRANSIENT);
}

static bool no_material(const struct sag_node *n)
{
    return is_kind(n, SAG_NODE_CABLE) && !has_ohms(n) && n->choice[SAG_NODE_MATERIAL] == SAG_MATERIAL_BLANK;
}

static bool no_raceway(const struct sag_node *n)
{
    return is_kind(n, SAG_NODE_CABLE) && !has_ohms(n) && n->choice[SAG_NODE_RACEWAY] == SAG_RACEWAY_BLANK;
}

static bool no_load_factor(const struct sag_node *n)
{
    return n->given[SAG_NODE_LOAD_WATTS] > 0 && blank(n, SAG_NODE_LOAD_PF);
}

static bool no_load_kind(const struct sag_node *n)
{
    return n->given[SAG_NODE_LOAD_WATTS] > 0 && n->choice[SAG_NODE_LOAD_KIND] == SAG_LOAD_KIND_BLANK;
}

static const struct {
    const char *column;
    bool (*is_assumed)(const struct sag_node *node);
} rows[] = {
    {"fault_mva", no_fault_level}, {"x_over_r", no_x_over_r}, {"transient_pct", no_transient},
    {"material", no_material},     {"raceway", no_raceway},   {"load_pf", no_load_factor},
    {"load_kind", no_load_kind},
};

const char *sag_assumed_in_path(const struct sag_node *node, size_t index)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].is_assumed(node) && index-- == 0)
            return rows[i].column;
    return NULL;
}
