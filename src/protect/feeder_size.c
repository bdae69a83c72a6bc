/* Feeders and the service: what hangs below each piece of path, handed up from the ends, and the sizes it asks for. */
#include <math.h>
#include <stdlib.h>

#include "protect/parts.h"

/* All that hangs below a board, in amps at its volts. */
struct below {
    size_t children;            /* rows right below it */
    size_t motors, sized, high; /* all; those that the code's tables size; those over 1000 V */
    double all_amps;            /* code amps of all motors */
    double largest_amps;
    size_t largest;
    double load_amps;
    /* by kind of the device above: the largest branch device, and that motor with its amps */
    double branch_device[SAG_DEVICE_KINDS], branch_amps[SAG_DEVICE_KINDS];
    size_t branch_motor[SAG_DEVICE_KINDS];
    double fire_locked, fire_locked_amps; /* of the fire pump that locks with most: locked, code amps */
    double jockey_locked, jockey_amps, fire_amps;
    size_t fire_pumps, pump_room; /* fire pumps; with jockey pumps */
};

static struct below nothing(void)
{
    struct below b = {.largest = SIZE_MAX};
    for (int k = 0; k < SAG_DEVICE_KINDS; k++)
        b.branch_motor[k] = SIZE_MAX;
    return b;
}

/* Of equal branch devices the motor with most amps is the one that leaves the sum. */
static void take_branch(struct below *to, int kind, double device, double amps, size_t motor)
{
    double *most = &to->branch_device[kind], *its = &to->branch_amps[kind];
    if (device < *most || (device == *most && amps <= *its) || motor == SIZE_MAX)
        return;
    *most = device;
    *its = amps;
    to->branch_motor[kind] = motor;
}

static void take_largest(struct below *to, double amps, size_t motor)
{
    if (amps <= to->largest_amps)
        return;
    to->largest_amps = amps;
    to->largest = motor;
}

static void take_locked(struct below *to, double locked, double amps)
{
    if (locked <= to->fire_locked)
        return;
    to->fire_locked = locked;
    to->fire_locked_amps = amps;
}

/* What hangs below a child, at the parent's volts: amps times `ratio`. */
static void add_below(struct below *to, const struct below *from, double ratio)
{
    to->motors += from->motors;
    to->sized += from->sized;
    to->high += from->high;
    to->all_amps += ratio * from->all_amps;
    to->load_amps += ratio * from->load_amps;
    to->jockey_locked += ratio * from->jockey_locked;
    to->jockey_amps += ratio * from->jockey_amps;
    to->fire_amps += ratio * from->fire_amps;
    to->fire_pumps += from->fire_pumps;
    to->pump_room += from->pump_room;
    take_largest(to, ratio * from->largest_amps, from->largest);
    take_locked(to, ratio * from->fire_locked, ratio * from->fire_locked_amps);
    for (int k = 0; k < SAG_DEVICE_KINDS; k++)
        take_branch(to, k, ratio * from->branch_device[k], ratio * from->branch_amps[k], from->branch_motor[k]);
}

/* Branch devices count as the kind of the feeder's, and by the table's own percentage with its step up. */
static void add_motor(const struct sag_motor_size *m, uint8_t duty, struct below *to)
{
    double amps = m->code_amps.value;
    if (m->sizing == SAG_SIZED_NOT)
        return;
    to->motors++;
    to->all_amps += amps;
    take_largest(to, amps, m->index);
    to->sized += m->sizing == SAG_SIZED;
    to->high += m->sizing == SAG_SIZED_HIGH_VOLTS;
    for (int k = SAG_DEVICE_DUAL_ELEMENT_FUSE; k < SAG_DEVICE_KINDS; k++)
        if (m->feeder_branch[k] > 0)
            take_branch(to, k, m->feeder_branch[k], amps, m->index);
    if (duty == SAG_DUTY_FIRE_PUMP) {
        to->fire_pumps++;
        to->pump_room++;
        to->fire_amps += amps;
        take_locked(to, m->locked_amps.value, amps);
    } else if (duty == SAG_DUTY_JOCKEY_PUMP) {
        to->pump_room++;
        to->jockey_amps += amps;
        to->jockey_locked += m->locked_amps.value;
    }
}

static bool is_pump_room(const struct below *b)
{
    return b->fire_pumps > 0 && b->pump_room == b->motors;
}

static uint8_t duty_of(const struct sag_size_job *job, size_t motor)
{
    return job->list->plates[motor].choice[SAG_DUTY];
}

/* --- one feeder -------------------------------------------------------------------------------------------------- */

uint8_t path_device_kind(const struct sag_size_job *job, uint8_t installed)
{
    uint8_t kind = installed != SAG_DEVICE_BLANK ? installed : (uint8_t)job->device;
    bool none = kind == SAG_DEVICE_BLANK || kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    return none ? SAG_DEVICE_INVERSE_TIME_BREAKER : kind;
}

/* A transformer's device stands on its primary, and is not the main behind it. */
static bool has_own_device(const struct sag_node *node)
{
    return node && node->choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER;
}

static struct sag_wiring wiring_of(const struct sag_size_job *job, const struct sag_node *node)
{
    struct sag_wiring wiring = {
        .ambient_c = NAN, .conductors = NAN, .insulation_c = job->insulation_c, .terminal_c = job->terminal_c};
    if (!node)
        return wiring;
    wiring.material = (enum sag_material)node->choice[SAG_NODE_MATERIAL];
    wiring.ambient_c = node->given[SAG_NODE_AMBIENT];
    wiring.conductors = node->given[SAG_NODE_CONDUCTORS];
    if (!isnan(node->given[SAG_NODE_SETS]))
        wiring.sets = (int)node->given[SAG_NODE_SETS];
    return wiring;
}

static void rest_on(struct sag_feeder_size *f, enum sag_clause clause)
{
    f->clauses |= CLAUSE_BIT(clause);
}

static void put_conductor_min(const struct below *b, struct sag_feeder_size *f)
{
    f->largest = b->largest;
    f->largest_amps = b->largest_amps;
    f->others_amps = b->all_amps - b->largest_amps;
    f->load_amps = b->load_amps;
    f->fire_amps = b->fire_amps + b->jockey_amps;
    /* exactly none in a room of nothing but pumps: sums of binary numbers leave a hair */
    f->accessory_amps = (is_pump_room(b) ? 0 : b->all_amps - f->fire_amps) + b->load_amps;
    double amps = CONTINUOUS_SHARE * (f->largest_amps + f->load_amps) + f->others_amps;
    double fire = f->fire ? CONTINUOUS_SHARE * f->fire_amps + f->accessory_amps : 0;
    /* beside a larger motor than the pump, or load of which nobody says that it is the pump's own, the ordinary rule
       asks for more */
    f->by_fire = f->fire && fire >= amps;
    enum sag_clause clause = f->by_fire ? SAG_CLAUSE_FIRE_CONDUCTOR : SAG_CLAUSE_FEEDER_CONDUCTOR;
    f->conductor_min = clause_amps(clause, fmax(amps, fire));
    rest_on(f, clause);
}

/* The largest fire pump locked, jockey pumps locked, the rest at code amps; the next size up. */
static void put_fire_device(const struct sag_tables *tables, const struct below *b, struct sag_feeder_size *f)
{
    f->locked_amps =
        b->fire_locked + b->jockey_locked + (b->all_amps - b->fire_locked_amps - b->jockey_amps) + b->load_amps;
    f->device_computed = clause_amps(SAG_CLAUSE_FIRE_DEVICE, f->locked_amps);
    f->device = clause_amps(SAG_CLAUSE_FIRE_DEVICE,
                            sag_ask_rating_up(tables, f->locked_amps, is_fuse((enum sag_device)f->kind)));
    f->carry_min = f->device_computed;
    rest_on(f, SAG_CLAUSE_FIRE_DEVICE);
    rest_on(f, SAG_CLAUSE_FIRE_NO_OVERLOAD);
}

/* 430.62(B): wires that are larger than need be let the device grow with them. */
static void put_device_most(const struct sag_tables *tables, struct sag_feeder_size *f)
{
    bool fuse = is_fuse((enum sag_device)f->kind);
    f->device_most = f->device;
    if (isnan(f->installed.amps) || f->installed.amps < f->conductor_min.value)
        return;
    double by_wire = f->installed.amps <= STEP_UP_TO
                         ? fmin(sag_ask_rating_up(tables, f->installed.amps, fuse), STEP_UP_TO)
                         : sag_ask_rating_down(tables, f->installed.amps, fuse);
    if (!(by_wire > f->device.value))
        return;
    f->device_most = clause_amps(SAG_CLAUSE_FEEDER_FUTURE, by_wire);
    rest_on(f, SAG_CLAUSE_FEEDER_FUTURE);
}

/* The step down can end below all amps together. Then 430.62(B) helps: wires for the next size, and with them its
   device. */
static void put_device_that_carries(const struct sag_tables *tables, struct sag_feeder_size *f)
{
    if (!(f->device.value < f->carry_min.value))
        return;
    double up = sag_ask_rating_up(tables, f->carry_min.value, is_fuse((enum sag_device)f->kind));
    f->device = clause_amps(SAG_CLAUSE_FEEDER_FUTURE, up);
    f->wires_for_device = true;
    rest_on(f, SAG_CLAUSE_FEEDER_FUTURE);
}

static void put_device(const struct sag_tables *tables, const struct below *b, struct sag_feeder_size *f)
{
    bool fuse = is_fuse((enum sag_device)f->kind);
    double load = CONTINUOUS_SHARE * b->load_amps;
    enum sag_clause clause = f->fire ? SAG_CLAUSE_FIRE_ON_SET : SAG_CLAUSE_FEEDER_DEVICE;
    f->device_motor = b->branch_motor[f->kind];
    f->branch_device = b->branch_device[f->kind];
    f->device_others_amps = b->all_amps - b->branch_amps[f->kind];
    f->device_computed = clause_amps(SAG_CLAUSE_FEEDER_DEVICE, f->branch_device + f->device_others_amps + load);
    /* other load alone is protected as any feeder, with the step up of 240.4(B) */
    double size =
        b->motors ? sag_ask_rating_down(tables, f->device_computed.value, fuse) : sag_ask_rating_up(tables, load, fuse);
    f->device = clause_amps(SAG_CLAUSE_FEEDER_DEVICE, size);
    f->carry_min = clause_amps(SAG_CLAUSE_FEEDER_DEVICE, b->all_amps + load);
    rest_on(f, SAG_CLAUSE_FEEDER_DEVICE);
    if (f->fire)
        rest_on(f, clause);
    put_device_that_carries(tables, f);
    put_device_most(tables, f);
}

/* A set's leads go by its own amps and are guarded by its own device: 445.12, 445.13. */
static void put_generator(const struct sag_node *node, struct sag_feeder_size *f)
{
    if (node->choice[SAG_NODE_KIND] != SAG_NODE_GENERATOR || isnan(node->given[SAG_NODE_RATED_VA]))
        return;
    f->code_sum = f->carry_min.value;
    f->set_amps = node->given[SAG_NODE_RATED_VA] / (sqrt(3.0) * node->volts_nominal);
    f->conductor_min = clause_amps(SAG_CLAUSE_GENERATOR, GENERATOR_SHARE * f->set_amps);
    f->conductor_min.from_memory = true;
    f->device_computed = f->device = f->device_most = sag_unknown();
    f->kind = SAG_DEVICE_BLANK;
    f->clauses = CLAUSE_BIT(SAG_CLAUSE_GENERATOR);
}

/* Articles 430 and 695 let a motor's device stand above its wires; other load alone has 240.4(C). */
static double wire_carries(const struct below *b, const struct sag_feeder_size *f)
{
    bool full = f->wires_for_device || (b->motors == 0 && f->device.value > STEP_UP_TO);
    return full ? fmax(f->conductor_min.value, f->device.value) : f->conductor_min.value;
}

static bool any_sized(const struct below *b)
{
    return b->sized > 0 || (b->motors == 0 && b->load_amps > 0);
}

/* Ahead of the first device there is a bonding jumper (250.102), not an equipment ground. */
static void put_ground(const struct sag_tables *tables, struct sag_feeder_size *f)
{
    if (f->service)
        return;
    f->ground = ground_for(tables, f->device.value, &f->wire);
    rest_on(f, SAG_CLAUSE_GROUND);
}

static void size_feeder(const struct sag_size_job *job, const struct sag_node *node, const struct below *b,
                        struct sag_feeder_size *f)
{
    f->kind = path_device_kind(job, has_own_device(node) ? node->choice[SAG_NODE_DEVICE] : SAG_DEVICE_BLANK);
    f->device_installed = has_own_device(node) ? node->given[SAG_NODE_DEVICE_AMPS] : NAN;
    f->fire = b->fire_pumps > 0;
    f->motors = b->motors;
    f->conductor_min = f->device_computed = f->device = f->device_most = f->carry_min = sag_unknown();
    f->wire.amps = f->installed.amps = NAN;
    f->largest = f->device_motor = SIZE_MAX;
    f->code_sum = f->set_amps = NAN;
    if (node && node->volts_nominal > HIGH_VOLTS)
        rest_on(f, SAG_CLAUSE_HIGH_VOLTS);
    else if (b->motors && !any_sized(b))
        rest_on(f, b->high ? SAG_CLAUSE_HIGH_VOLTS : SAG_CLAUSE_LOCAL_CODE);
    else
        f->sized = any_sized(b);
    if (!f->sized)
        return;
    put_conductor_min(b, f);
    struct sag_wiring wiring = wiring_of(job, node);
    if (node)
        f->installed = sag_rate_wire(job->tables, &wiring, node->conductor, f->conductor_min.value);
    if (f->fire && !f->on_set)
        put_fire_device(job->tables, b, f);
    else
        put_device(job->tables, b, f);
    if (node)
        put_generator(node, f);
    double carries = wire_carries(b, f);
    f->wire = b->motors ? sag_choose_wire(job->tables, &wiring, carries)
                        : choose_protected_wire(job->tables, &wiring, carries, f->device.value);
    put_ground(job->tables, f);
}

/* --- all of them ------------------------------------------------------------------------------------------------- */

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
        add_motor(&size->motors[i], duty, &tree->below[node]);
        add_motor(&size->motors[i], duty, pump ? &tree->ahead[node] : &tree->main[node]);
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
        add_below(&tree->below[node->parent], child, ratio);
        add_below(is_pump_room(child) ? &tree->ahead[node->parent] : &tree->main[node->parent], child, ratio);
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
        rest_on(f, SAG_CLAUSE_FIRE_AHEAD);
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
    rest_on(f, SAG_CLAUSE_FIRE_TRANSFORMER);
}

/* A cable that feeds nothing but a transformer carries that transformer's primary device, and may stand in for one. */
static void join_transformer(const struct sag_size_job *job, const struct sag_node *cable, struct sag_feeder_size *f,
                             struct sag_transformer_size *t)
{
    const struct sag_wiring wiring = wiring_of(job, cable);
    double most = t->has_secondary ? t->most[SAG_PRIMARY].value : t->device[SAG_PRIMARY].value;
    if (isnan(t->installed[SAG_PRIMARY]))
        t->installed[SAG_PRIMARY] = f->device_installed;
    f->conductor_min =
        clause_amps(SAG_CLAUSE_SECONDARY_WIRES, fmax(f->conductor_min.value, t->conductor_min[SAG_PRIMARY].value));
    f->device_computed = t->computed[SAG_PRIMARY];
    f->device = t->device[SAG_PRIMARY];
    f->device_most = clause_amps(SAG_CLAUSE_TRANSFORMER, most);
    f->wire = choose_protected_wire(job->tables, &wiring, f->conductor_min.value, f->device.value);
    f->ground = ground_for(job->tables, f->device.value, &f->wire);
    f->clauses =
        CLAUSE_BIT(SAG_CLAUSE_SECONDARY_WIRES) | CLAUSE_BIT(SAG_CLAUSE_TRANSFORMER) | CLAUSE_BIT(SAG_CLAUSE_GROUND);
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
        room[i] = nothing();
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
        room[i] = nothing();
    for (size_t i = 0; i < out->motor_count; i++)
        add_motor(&out->motors[i], duty_of(job, i), &room[job->list->plates[i].feeder]);
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
