/* Transformers: devices on both sides, and the wires that these protect. */
#include <math.h>

#include "protect/parts.h"

static void rest_on(struct sag_transformer_size *t, enum sag_clause clause)
{
    t->clauses |= CLAUSE_BIT(clause);
}

/* Devices of the rows below it, together: they are its secondary protection when every one of them has one. */
static void find_secondary_devices(const struct sag_size_job *job, size_t node, struct sag_transformer_size *t)
{
    double sum = 0;
    bool all = true, any = false;
    for (size_t i = node + 1; i < job->supply->count; i++) {
        const struct sag_node *child = &job->supply->nodes[i];
        if (child->parent != (int32_t)node)
            continue;
        any = true;
        all = all && !isnan(child->given[SAG_NODE_DEVICE_AMPS]);
        sum += child->given[SAG_NODE_DEVICE_AMPS];
        t->kind[SAG_SECONDARY] = path_device_kind(job, child->choice[SAG_NODE_DEVICE]);
    }
    t->has_secondary = any && all;
    t->installed[SAG_SECONDARY] = t->has_secondary ? sum : NAN;
}

static double standard(const struct sag_tables *tables, double amps, const struct sag_transformer_share *share,
                       bool fuse)
{
    return share->next_up ? sag_ask_rating_up(tables, amps, fuse) : sag_ask_rating_down(tables, amps, fuse);
}

static struct sag_qty device_of(const struct sag_tables *tables, const struct sag_qty *computed,
                                const struct sag_transformer_share *share, bool fuse)
{
    return clause_amps(SAG_CLAUSE_TRANSFORMER, standard(tables, computed->value, share, fuse));
}

/* Wires carry what their device lets through. On the primary the device may be the next size above them, up to 800 A
   (240.4(B) and (C)); on the secondary it may not. */
static void put_wire(const struct sag_size_job *job, enum sag_winding w, bool next_up, struct sag_transformer_size *t)
{
    const struct sag_wiring wiring = usual_wiring(job);
    bool above = w == SAG_PRIMARY && next_up && t->device[w].value <= STEP_UP_TO;
    double amps = above ? t->computed[w].value : t->device[w].value;
    t->conductor_min[w] = clause_amps(SAG_CLAUSE_SECONDARY_WIRES, amps);
    t->wire[w] = choose_protected_wire(job->tables, &wiring, amps, t->device[w].value);
}

static void put_winding(const struct sag_size_job *job, enum sag_winding w, struct sag_transformer_size *t)
{
    const struct sag_tables *tables = job->tables;
    bool second = w == SAG_SECONDARY, fuse = is_fuse((enum sag_device)t->kind[w]);
    double rated = t->rated_amps[w].value;
    struct sag_transformer_share share = sag_ask_transformer_share(tables, second, second, rated);
    t->share[w] = share.share;
    t->computed[w] = by_clause(SAG_CLAUSE_TRANSFORMER, t->rated_amps[w], share.share);
    t->device[w] = device_of(tables, &t->computed[w], &share, fuse);
    if (!second) {
        struct sag_transformer_share both = sag_ask_transformer_share(tables, true, false, rated);
        struct sag_qty most = by_clause(SAG_CLAUSE_TRANSFORMER, t->rated_amps[w], both.share);
        t->most_share[w] = both.share;
        t->most[w] = device_of(tables, &most, &both, fuse);
        if (t->most[w].value < t->device[w].value)
            t->most[w] = t->device[w];
    }
    put_wire(job, w, share.next_up, t);
}

/* Its wires go by the pumps, not by devices. */
static void put_fire_wire(const struct sag_size_job *job, enum sag_winding w, double amps,
                          struct sag_transformer_size *t)
{
    const struct sag_wiring wiring = usual_wiring(job);
    t->conductor_min[w] = clause_amps(SAG_CLAUSE_FIRE_CONDUCTOR, amps);
    t->wire[w] = sag_choose_wire(job->tables, &wiring, amps);
}

/* The transformer of a pump room: 125 % of its load in kVA, a primary device that carries locked-rotor amps. */
static void put_fire(const struct sag_size_job *job, const struct sag_feeder_size *below,
                     struct sag_transformer_size *t)
{
    double ratio = t->volts[SAG_SECONDARY] / t->volts[SAG_PRIMARY];
    bool fuse = is_fuse((enum sag_device)t->kind[SAG_PRIMARY]);
    t->fire = true;
    t->fire_va = sqrt(3.0) * t->volts[SAG_SECONDARY] * (CONTINUOUS_SHARE * below->fire_amps + below->accessory_amps);
    t->computed[SAG_PRIMARY] = clause_amps(SAG_CLAUSE_FIRE_TRANSFORMER, ratio * below->locked_amps);
    t->device[SAG_PRIMARY] =
        clause_amps(SAG_CLAUSE_FIRE_TRANSFORMER, sag_ask_rating_up(job->tables, t->computed[SAG_PRIMARY].value, fuse));
    t->share[SAG_PRIMARY] = t->share[SAG_SECONDARY] = t->most_share[SAG_PRIMARY] = NAN;
    t->most[SAG_PRIMARY] = t->computed[SAG_SECONDARY] = t->device[SAG_SECONDARY] = sag_unknown();
    put_fire_wire(job, SAG_PRIMARY, ratio * below->conductor_min.value, t);
    put_fire_wire(job, SAG_SECONDARY, below->conductor_min.value, t);
    rest_on(t, SAG_CLAUSE_FIRE_TRANSFORMER);
    rest_on(t, SAG_CLAUSE_FIRE_CONDUCTOR);
}

static const struct sag_rule rule_rated = {"I_rated", "kVA * 1000 / (sqrt3 * V)", "three-phase power", NULL};

static struct sag_qty rated_amps(double va, double volts)
{
    struct sag_qty amps = sag_exact(va / (sqrt(3.0) * volts), SAG_COMPUTED);
    amps.rule = &rule_rated;
    return amps;
}

static void forget_sizes(struct sag_transformer_size *t)
{
    const struct sag_qty none = sag_unknown();
    t->fire_va = NAN;
    for (int w = 0; w < SAG_WINDINGS; w++) {
        t->share[w] = t->most_share[w] = t->installed[w] = t->wire[w].amps = NAN;
        t->computed[w] = t->device[w] = t->most[w] = t->conductor_min[w] = t->rated_amps[w] = none;
    }
}

void size_transformer(const struct sag_size_job *job, const struct sag_feeder_size *below, size_t node,
                      struct sag_transformer_size *t)
{
    const struct sag_node *n = &job->supply->nodes[node];
    *t = (struct sag_transformer_size){.present = n->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER};
    forget_sizes(t);
    if (!t->present)
        return;
    t->rated_va = n->given[SAG_NODE_RATED_VA];
    t->volts[SAG_PRIMARY] = n->given[SAG_NODE_PRIMARY_VOLTS];
    t->volts[SAG_SECONDARY] = n->given[SAG_NODE_SECONDARY_VOLTS];
    t->kind[SAG_PRIMARY] = path_device_kind(job, n->choice[SAG_NODE_DEVICE]);
    t->installed[SAG_PRIMARY] = n->given[SAG_NODE_DEVICE_AMPS];
    for (int w = 0; w < SAG_WINDINGS; w++)
        t->rated_amps[w] = rated_amps(t->rated_va, t->volts[w]);
    t->sized = fmax(t->volts[SAG_PRIMARY], t->volts[SAG_SECONDARY]) <= HIGH_VOLTS;
    rest_on(t, t->sized ? SAG_CLAUSE_TRANSFORMER : SAG_CLAUSE_HIGH_VOLTS);
    if (!t->sized)
        return;
    find_secondary_devices(job, node, t);
    put_winding(job, SAG_PRIMARY, t);
    put_winding(job, SAG_SECONDARY, t);
    if (below->locked_for_ever && below->accessory_amps == 0)
        put_fire(job, below, t);
    else
        rest_on(t, SAG_CLAUSE_SECONDARY_WIRES);
}
