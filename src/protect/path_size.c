/* Feeders, the service and transformers of a whole path: what hangs below each is handed up from the ends. */
#include <math.h>
#include <stdlib.h>

#include "protect/below.h"

static uint8_t duty_of(const struct sag_size_job *job, size_t motor)
{
    return job->list->plates[motor].choice[SAG_DUTY];
}

bool is_on_set(const struct sag_supply *supply, int32_t node)
{
    if (!supply || node < 0)
        return false;
    while (supply->nodes[node].parent >= 0)
        node = supply->nodes[node].parent;
    return supply->nodes[node].choice[SAG_NODE_KIND] == SAG_NODE_GENERATOR;
}

static double load_amps(const struct sag_tables *tables, const struct sag_node *node)
{
    double watts = node->given[SAG_NODE_LOAD_WATTS], pf = node->given[SAG_NODE_LOAD_PF];
    if (isnan(watts))
        return 0;
    if (isnan(pf))
        pf = sag_ask_network_default(tables, "load_power_factor").value;
    return watts / (pf * sqrt(3.0) * node->volts_nominal);
}

/* The first board at usable volts, where the main stands. */
static bool is_service(const struct sag_supply *supply, const struct sag_node *node)
{
    bool first = node->parent < 0 || supply->nodes[node->parent].volts_nominal > HIGH_VOLTS;
    return first && node->volts_nominal <= HIGH_VOLTS;
}

struct tree {
    struct below *below; /* all that hangs below a node */
    struct below *ahead; /* of a service: what is tapped ahead of its main */
    struct below *main;  /* of a service: the rest */
};

static void add_motors(const struct sag_size_job *job, const struct sag_plant_size *size, struct tree *tree)
{
    for (size_t i = 0; i < size->motor_count; i++) {
        int32_t node = job->list->feeders[job->list->plates[i].feeder].node;
        uint8_t duty = duty_of(job, i);
        bool pump = duty == SAG_DUTY_FIRE_PUMP || duty == SAG_DUTY_JOCKEY_PUMP;
        below_add_motor(&tree->below[node], &size->motors[i], duty);
        below_add_motor(pump ? &tree->ahead[node] : &tree->main[node], &size->motors[i], duty);
    }
}

/* Children stand behind their parents, so from the last to the first each is complete when it is handed up. */
static void hand_up(const struct sag_size_job *job, struct tree *tree)
{
    const struct sag_supply *supply = job->supply;
    for (size_t i = supply->count; i-- > 0;) {
        const struct sag_node *node = &supply->nodes[i];
        double own = load_amps(job->tables, node);
        tree->below[i].load_amps += own;
        tree->main[i].load_amps += own;
        if (node->parent < 0)
            continue;
        struct below *child = &tree->below[i];
        tree->below[node->parent].children++;
        double ratio = node->volts_nominal / supply->nodes[node->parent].volts_nominal;
        below_add(&tree->below[node->parent], child, ratio);
        below_add(below_is_pump_room(child) ? &tree->ahead[node->parent] : &tree->main[node->parent], child, ratio);
    }
}

/* A pump room on the service board is tapped ahead of the main (695.3(A)): the main neither carries nor feels it. A
   service that is nothing but a pump room is its own. */
static void size_node(const struct sag_size_job *job, const struct tree *tree, size_t i, struct sag_feeder_size *f)
{
    const struct sag_node *node = &job->supply->nodes[i];
    bool on_set = is_on_set(job->supply, (int32_t)i); /* which has no service ahead of whose main one could tap */
    bool split = is_service(job->supply, node) && !on_set && tree->ahead[i].fire_pumps &&
                 (tree->main[i].motors || tree->main[i].load_amps > 0);
    f->id = node->id;
    f->node = (int32_t)i;
    f->feeder = UINT32_MAX;
    f->service = is_service(job->supply, node) && node->choice[SAG_NODE_KIND] != SAG_NODE_CABLE;
    f->on_set = on_set;
    f->behind_transformer = node->parent >= 0 && node->choice[SAG_NODE_KIND] == SAG_NODE_CABLE &&
                            job->supply->nodes[node->parent].choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER &&
                            job->supply->nodes[node->parent].given[SAG_NODE_PRIMARY_VOLTS] <= HIGH_VOLTS;
    f->ahead = split ? tree->ahead[i].motors : 0;
    if (split)
        f->clauses |= CLAUSE_BIT(SAG_CLAUSE_FIRE_AHEAD);
    size_feeder(job, node, split ? &tree->main[i] : &tree->below[i], f);
    if (!f->service && node->choice[SAG_NODE_KIND] != SAG_NODE_CABLE)
        f->sized = false; /* a transformer inside the path has its own rows */
}

/* A transformer carries all that is below it, what is tapped ahead of a main as well. */
static void size_winding_pair(const struct sag_size_job *job, const struct tree *tree, size_t i,
                              struct sag_plant_size *out)
{
    struct sag_feeder_size whole = {.on_set = out->feeders[i].on_set};
    if (job->supply->nodes[i].choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER)
        size_feeder(job, &job->supply->nodes[i], &tree->below[i], &whole);
    size_transformer(job, &whole, i, &out->transformers[i]);
}

/* Behind the transformer of a pump room no device is permitted. */
static void forget_device(struct sag_feeder_size *f)
{
    f->kind = SAG_DEVICE_BLANK;
    f->device_computed = f->device = f->device_most = f->carry_min = sag_unknown();
    f->clauses |= CLAUSE_BIT(SAG_CLAUSE_FIRE_TRANSFORMER);
}

static void join_transformers(const struct sag_size_job *job, const struct tree *tree, struct sag_plant_size *out)
{
    for (size_t i = 0; i < job->supply->count; i++) {
        int32_t parent = job->supply->nodes[i].parent;
        struct sag_transformer_size *t = &out->transformers[i];
        if (parent < 0 || !t->sized || t->fire)
            continue;
        const struct sag_node *cable = &job->supply->nodes[parent];
        bool alone = tree->below[parent].children == 1 && out->feeders[parent].feeder == UINT32_MAX &&
                     isnan(cable->given[SAG_NODE_LOAD_WATTS]);
        if (alone && cable->choice[SAG_NODE_KIND] == SAG_NODE_CABLE && out->feeders[parent].sized)
            join_transformer(job, cable, &out->feeders[parent], t);
    }
}

static void size_nodes(const struct sag_size_job *job, const struct tree *tree, struct sag_plant_size *out)
{
    for (size_t i = 0; i < job->supply->count; i++) {
        int32_t parent = job->supply->nodes[i].parent;
        size_node(job, tree, i, &out->feeders[i]);
        if (parent >= 0 && out->transformers[parent].fire)
            forget_device(&out->feeders[i]);
        size_winding_pair(job, tree, i, out);
    }
    for (size_t f = 0; f < job->list->feeder_count; f++)
        out->feeders[job->list->feeders[f].node].feeder = (uint32_t)f;
    join_transformers(job, tree, out);
}

static enum sag_status size_path(const struct sag_size_job *job, struct sag_plant_size *out)
{
    size_t count = job->supply->count;
    struct below *room = calloc(3 * count, sizeof *room);
    if (!room)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < 3 * count; i++)
        room[i] = below_nothing();
    struct tree tree = {room, room + count, room + 2 * count};
    add_motors(job, out, &tree);
    hand_up(job, &tree);
    size_nodes(job, &tree, out);
    free(room);
    return SAG_OK;
}

/* Typed volts: each feeder of the list by itself. */
static enum sag_status size_typed(const struct sag_size_job *job, struct sag_plant_size *out)
{
    struct below *room = calloc(out->feeder_count ? out->feeder_count : 1, sizeof *room);
    if (!room)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < out->feeder_count; i++)
        room[i] = below_nothing();
    for (size_t i = 0; i < out->motor_count; i++)
        below_add_motor(&room[job->list->plates[i].feeder], &out->motors[i], duty_of(job, i));
    for (size_t i = 0; i < out->feeder_count; i++) {
        out->feeders[i] = (struct sag_feeder_size){.id = job->list->feeders[i].id, .node = -1, .feeder = (uint32_t)i};
        size_feeder(job, NULL, &room[i], &out->feeders[i]);
    }
    free(room);
    return SAG_OK;
}

enum sag_status size_feeders(const struct sag_size_job *job, struct sag_plant_size *out)
{
    return job->supply ? size_path(job, out) : size_typed(job, out);
}
