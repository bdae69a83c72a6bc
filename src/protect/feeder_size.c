/* The wires and the device of one feeder. */
#include <math.h>

#include "protect/below.h"

uint8_t path_device_kind(const struct sag_size_job *job, uint8_t installed)
{
    uint8_t kind = installed != SAG_DEVICE_BLANK ? installed : (uint8_t)job->device;
    bool none = kind == SAG_DEVICE_BLANK || kind == SAG_DEVICE_INSTANTANEOUS_BREAKER;
    return none ? SAG_DEVICE_INVERSE_TIME_BREAKER : kind;
}

/* A transformer's device stands on its primary, and is not the main behind it. */
static const struct sag_node *device_row(const struct sag_node *node)
{
    bool own = node && node->choice[SAG_NODE_KIND] != SAG_NODE_TRANSFORMER;
    return own ? node : NULL;
}

static struct sag_wiring wiring_of(const struct sag_size_job *job, const struct sag_node *node)
{
    struct sag_wiring wiring = usual_wiring(job);
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
    f->accessory_amps = (below_is_pump_room(b) ? 0 : b->all_amps - f->fire_amps) + b->load_amps;
    double amps = CONTINUOUS_SHARE * (f->largest_amps + f->load_amps) + f->others_amps;
    double fire = f->fire ? CONTINUOUS_SHARE * f->fire_amps + f->accessory_amps : 0;
    /* beside a larger motor than the pump, or load of which nobody says that it is the pump's own, the ordinary rule
       asks for more */
    f->by_fire = f->fire && fire >= amps;
    enum sag_clause clause = f->by_fire  ? SAG_CLAUSE_FIRE_CONDUCTOR
                             : b->motors ? SAG_CLAUSE_FEEDER_CONDUCTOR
                                         : SAG_CLAUSE_FEEDER_LOAD;
    f->conductor_min = clause_amps(clause, fmax(amps, fire));
    rest_on(f, clause);
}

/* The largest fire pump locked, jockey pumps locked, the rest at code amps; the next size up. */
static void put_fire_device(const struct sag_tables *tables, const struct below *b, struct sag_feeder_size *f)
{
    f->fire_locked = b->fire_locked;
    f->jockey_locked = b->jockey_locked;
    f->locked_amps =
        b->fire_locked + b->jockey_locked + (b->all_amps - b->fire_locked_amps - b->jockey_amps) + b->load_amps;
    f->device_computed = clause_amps(SAG_CLAUSE_FIRE_DEVICE, f->locked_amps);
    f->device = clause_amps(SAG_CLAUSE_FIRE_DEVICE,
                            sag_ask_rating_up(tables, f->locked_amps, is_fuse((enum sag_device)f->kind)));
    f->carry_min = f->device_computed;
    rest_on(f, SAG_CLAUSE_FIRE_DEVICE);
    rest_on(f, SAG_CLAUSE_FIRE_NO_OVERLOAD);
}

/* The largest device that wires of those amps may have: 240.4(B) and (C); none above them behind a transformer. */
static double device_by_wire(const struct sag_tables *tables, const struct sag_feeder_size *f, double amps)
{
    bool fuse = is_fuse((enum sag_device)f->kind);
    if (amps > STEP_UP_TO || f->behind_transformer)
        return sag_ask_rating_down(tables, amps, fuse);
    return fmin(sag_ask_rating_up(tables, amps, fuse), STEP_UP_TO);
}

/* 430.62(B): wires that are larger than need be let the device grow with them. */
static void put_device_most(const struct sag_tables *tables, struct sag_feeder_size *f)
{
    f->device_most = f->device;
    if (isnan(f->installed.amps) || f->installed.amps < f->conductor_min.value)
        return;
    double by_wire = device_by_wire(tables, f, f->installed.amps);
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
    enum sag_clause clause = b->motors ? SAG_CLAUSE_FEEDER_DEVICE : SAG_CLAUSE_FEEDER_LOAD;
    f->device_motor = b->branch_motor[f->kind];
    f->branch_device = b->branch_device[f->kind];
    f->device_others_amps = b->all_amps - b->branch_amps[f->kind];
    f->device_computed = clause_amps(clause, f->branch_device + f->device_others_amps + load);
    /* other load alone is protected as any feeder, with the step up of 240.4(B) */
    double size =
        b->motors ? sag_ask_rating_down(tables, f->device_computed.value, fuse) : sag_ask_rating_up(tables, load, fuse);
    f->device = clause_amps(clause, size);
    f->carry_min = clause_amps(clause, b->all_amps + load);
    rest_on(f, clause);
    if (f->fire)
        rest_on(f, SAG_CLAUSE_FIRE_ON_SET);
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
    f->device_computed = f->device = f->device_most = f->carry_min = sag_unknown();
    f->kind = SAG_DEVICE_BLANK;
    f->clauses = CLAUSE_BIT(SAG_CLAUSE_GENERATOR);
}

/* Articles 430 and 695 let a motor's device stand above its wires. */
static double wire_carries(const struct below *b, const struct sag_feeder_size *f)
{
    /* 240.4(C) of other load alone; 240.21(C) behind a transformer */
    bool full = f->wires_for_device || f->behind_transformer || (b->motors == 0 && f->device.value > STEP_UP_TO);
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

void size_feeder(const struct sag_size_job *job, const struct sag_node *node, const struct below *b,
                 struct sag_feeder_size *f)
{
    const struct sag_node *row = device_row(node);
    f->kind = path_device_kind(job, row ? row->choice[SAG_NODE_DEVICE] : SAG_DEVICE_BLANK);
    f->device_installed = row ? row->given[SAG_NODE_DEVICE_AMPS] : NAN;
    f->fire = b->fire_pumps > 0;
    f->locked_for_ever = f->fire && !f->on_set;
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
    if (f->locked_for_ever)
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

void join_transformer(const struct sag_size_job *job, const struct sag_node *cable, struct sag_feeder_size *f,
                      struct sag_transformer_size *t)
{
    const struct sag_tables *tables = job->tables;
    const struct sag_wiring wiring = wiring_of(job, cable);
    double most = t->has_secondary ? t->most[SAG_PRIMARY].value : t->device[SAG_PRIMARY].value;
    double needs = fmax(f->conductor_min.value, t->conductor_min[SAG_PRIMARY].value);
    if (isnan(t->installed[SAG_PRIMARY]))
        t->installed[SAG_PRIMARY] = f->device_installed;
    f->conductor_min = clause_amps(SAG_CLAUSE_SECONDARY_WIRES, needs);
    f->device_computed = t->computed[SAG_PRIMARY];
    f->device = t->device[SAG_PRIMARY];
    f->wire = choose_protected_wire(tables, &wiring, needs, f->device.value);
    f->installed = sag_rate_wire(tables, &wiring, cable->conductor, needs);
    /* what the transformer allows, its wires may not */
    double wires = f->installed.amps >= needs ? f->installed.amps : f->wire.amps;
    f->device_most = clause_amps(SAG_CLAUSE_TRANSFORMER, fmin(most, device_by_wire(tables, f, wires)));
    f->carry_min = t->rated_amps[SAG_PRIMARY];
    f->ground = ground_for(tables, f->device.value, &f->wire);
    f->clauses =
        CLAUSE_BIT(SAG_CLAUSE_SECONDARY_WIRES) | CLAUSE_BIT(SAG_CLAUSE_TRANSFORMER) | CLAUSE_BIT(SAG_CLAUSE_GROUND);
}
