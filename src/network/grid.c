/* From rows to a network: impedances of the path from tables and plates, motors as circuits on their branch cables. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "network/parts.h"

#define DRY_UP_TO    1000.0 /* V: transformers with a primary up to here are taken as dry; common practice, no source */
#define HZ_OF_TABLES 60.0

static double or_default(double given, double otherwise)
{
    return isnan(given) ? otherwise : given;
}

static void put_cable(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out)
{
    const double *g = node->given;
    enum sag_material material = (enum sag_material)node->choice[SAG_NODE_MATERIAL];
    enum sag_raceway raceway = (enum sag_raceway)node->choice[SAG_NODE_RACEWAY];
    double sets = or_default(g[SAG_NODE_SETS], 1);
    struct sag_cable cable = sag_ask_cable(tables, node->conductor, material, raceway);
    double length = or_default(g[SAG_NODE_LENGTH], 0);
    if (length == 0) /* a link: bars side by side, whatever their size */
        cable = (struct sag_cable){0};
    bool ohms = !isnan(g[SAG_NODE_OHMS_R]) || !isnan(g[SAG_NODE_OHMS_X]);
    out->r = ohms ? or_default(g[SAG_NODE_OHMS_R], 0) : cable.ohms_r * length / sets;
    out->x = ohms ? or_default(g[SAG_NODE_OHMS_X], 0) : cable.ohms_x * length / sets * node->hz / HZ_OF_TABLES;
}

/* An open bank has two units of the three: two thirds of their kVA are not usable either, and to balanced current it
   shows twice the impedance of the closed bank. */
static void put_transformer(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out)
{
    const double *g = node->given;
    bool open = node->choice[SAG_NODE_BANK] == SAG_BANK_OPEN;
    bool dry = g[SAG_NODE_PRIMARY_VOLTS] <= DRY_UP_TO;
    double volts = g[SAG_NODE_SECONDARY_VOLTS];
    double z = g[SAG_NODE_IMPEDANCE] * volts * volts / g[SAG_NODE_RATED_VA] * (open ? 2 : 1);
    double ratio =
        or_default(g[SAG_NODE_X_OVER_R], sag_ask_transformer_x_over_r(tables, g[SAG_NODE_RATED_VA] / 1000, dry).value);
    out->r = z / sqrt(1 + ratio * ratio);
    out->x = out->r * ratio;
    out->rated_va = g[SAG_NODE_RATED_VA] / (open ? sqrt(3.0) : 1);
}

static void put_utility(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out)
{
    const double *g = node->given;
    double volts = g[SAG_NODE_NOMINAL_VOLTS];
    double fault_va = or_default(g[SAG_NODE_FAULT_VA], sqrt(3.0) * volts * g[SAG_NODE_FAULT_AMPS]);
    if (isnan(fault_va)) /* nothing known of it: as strong as can be */
        return;
    double ratio = or_default(g[SAG_NODE_X_OVER_R], sag_ask_network_default(tables, "utility_x_over_r").value);
    out->r = volts * volts / fault_va / sqrt(1 + ratio * ratio);
    out->x = out->r * ratio;
}

static void put_generator(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out)
{
    const double *g = node->given;
    double volts = g[SAG_NODE_NOMINAL_VOLTS];
    double base = volts * volts / g[SAG_NODE_RATED_VA];
    double transient = or_default(g[SAG_NODE_TRANSIENT], sag_ask_network_default(tables, "generator_transient").value);
    double synchronous = sag_ask_network_default(tables, "generator_synchronous").value;
    double ratio = or_default(g[SAG_NODE_X_OVER_R], sag_ask_network_default(tables, "generator_x_over_r").value);
    out->x = transient * base;
    out->r = out->x / ratio;
    out->rated_va = g[SAG_NODE_RATED_VA];
    /* as much below the transient reactance as is usual */
    out->fault_share = sag_ask_network_default(tables, "generator_subtransient").value /
                       sag_ask_network_default(tables, "generator_transient").value;
    out->synchronous_x = fmax(synchronous, transient) * base;
    out->ceiling = sag_ask_network_default(tables, "generator_sustained_share").value * synchronous * volts;
    out->field_time =
        sag_ask_network_default(tables, "generator_short_circuit_time").value * out->synchronous_x / out->x;
    out->recovery_time =
        or_default(g[SAG_NODE_RECOVERY_TIME], sag_ask_network_default(tables, "generator_recovery_time").value);
}

void put_node(const struct sag_tables *tables, const struct sag_node *node, struct sag_grid_node *out)
{
    const double *g = node->given;
    *out = (struct sag_grid_node){
        .id = node->id,
        .parent = node->parent,
        .ratio = sag_step_ratio(node),
        .volts_nominal = node->volts_nominal,
        .neutral_share = sag_neutral_share((enum sag_system)node->system, node->volts_nominal),
        .rated_va = NAN,
        .fault_share = 1,
        .rating_amps = g[SAG_NODE_RATING_AMPS],
        .measured = (g[SAG_NODE_MEASURED_AB] + g[SAG_NODE_MEASURED_BC] + g[SAG_NODE_MEASURED_CA]) / 3,
        .kind = node->choice[SAG_NODE_KIND],
        .load_kind = node->choice[SAG_NODE_LOAD_KIND],
        .line = node->line,
    };
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        out->emf[i] = NAN;
    if (node->parent < 0)
        source_volts(tables, node, out->emf);
    if (out->load_kind == SAG_LOAD_KIND_BLANK)
        out->load_kind = SAG_LOAD_KIND_POWER;
    out->load_watts = or_default(g[SAG_NODE_LOAD_WATTS], 0);
    double factor = or_default(g[SAG_NODE_LOAD_PF], sag_ask_network_default(tables, "load_power_factor").value);
    out->load_vars = out->load_watts * sqrt(1 - factor * factor) / factor;
    switch (out->kind) {
    case SAG_NODE_CABLE:
        put_cable(tables, node, out);
        break;
    case SAG_NODE_TRANSFORMER:
        put_transformer(tables, node, out);
        break;
    case SAG_NODE_GENERATOR:
        put_generator(tables, node, out);
        break;
    default:
        put_utility(tables, node, out);
    }
}

static void put_typed_node(const struct sag_board *board, struct sag_grid_node *out)
{
    *out = (struct sag_grid_node){.id = board->id,
                                  .parent = -1,
                                  .ratio = 1,
                                  .volts_nominal = board->volts_nominal,
                                  .neutral_share = board->neutral_share,
                                  .rated_va = NAN,
                                  .fault_share = 1,
                                  .rating_amps = NAN,
                                  .measured = NAN,
                                  .kind = SAG_NODE_UTILITY,
                                  .load_kind = SAG_LOAD_KIND_POWER};
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        out->emf[i] = board->of[i].volts.value;
}

static void put_branch(const struct sag_tables *tables, const struct sag_motor *motor, double hz,
                       struct sag_grid_motor *out)
{
    double length = motor->plate->given[SAG_BRANCH_LENGTH];
    if (isnan(length) || !*motor->plate->conductor)
        return;
    struct sag_cable cable =
        sag_ask_cable(tables, motor->plate->conductor, (enum sag_material)motor->plate->choice[SAG_MATERIAL],
                      (enum sag_raceway)motor->plate->choice[SAG_RACEWAY]);
    if (!cable.found)
        return;
    /* two wires carry a single-phase motor's amps; as a three-phase load of the same power it has fewer */
    double wires = motor->fact[SAG_PHASES].value == 1 ? 2 / (motor->terminal_share * motor->terminal_share) : 1;
    out->branch_r = wires * cable.ohms_r * length;
    out->branch_x = wires * cable.ohms_x * length * hz / HZ_OF_TABLES;
}

/* Watts and vars at the line of one that has no circuit, or that a drive stands before. */
static void put_power(const struct sag_tables *tables, const struct sag_motor *motor, struct sag_grid_motor *out)
{
    const struct sag_qty *fact = motor->fact;
    double efficiency = or_default(fact[SAG_EFFICIENCY].value, 0.75); /* a small machine; common practice, no source */
    double factor = or_default(fact[SAG_POWER_FACTOR].value, 0.75);
    out->watts = out->share * fact[SAG_RATED_POWER].value / efficiency;
    if (out->driven) {
        out->watts /= sag_ask_starter_default(tables, "drive_efficiency").value;
        factor = sag_ask_starter_default(tables, "drive_power_factor").value;
    }
    out->vars = out->watts * sqrt(1 - factor * factor) / factor;
}

static double at_corner(const struct sag_answer *answer, enum sag_corner corner)
{
    return corner == SAG_CORNER_HARD ? answer->high : corner == SAG_CORNER_EASY ? answer->low : answer->value;
}

/* What its load asks at standstill is a typical figure, and so is full load where the list does not say. */
static void put_load(const struct sag_tables *tables, const struct sag_motor *motor, enum sag_corner corner,
                     struct sag_grid_motor *out)
{
    struct sag_answer breakaway = sag_ask_starter_default(tables, "breakaway_share");
    struct sag_answer blank = sag_ask_starter_default(tables, "load_share_when_blank");
    const struct sag_qty *share = &motor->fact[SAG_LOAD_SHARE];
    out->load = motor->load;
    out->load.breakaway *= at_corner(&breakaway, corner);
    out->share = share->value * (share->origin == SAG_ASSUMED ? at_corner(&blank, corner) : 1);
}

void sag_grid_set_motor(const struct sag_tables *tables, const struct sag_motor *motor,
                        const struct sag_machine *machine, enum sag_corner corner, struct sag_grid_motor *out)
{
    const struct sag_qty *fact = motor->fact;
    struct sag_answer saddle = sag_ask_starter_default(tables, "torque_saddle");
    out->machine = *machine;
    out->machine.saddle = at_corner(&saddle, corner);
    put_load(tables, motor, corner, out);
    out->base = sag_base_of(motor);
    out->volts_rated = fact[SAG_RATED_VOLTS].value;
    out->hz = fact[SAG_HZ].value;
    out->main_flux = fact[SAG_MAIN_FLUX].value;
    out->full_share = motor->plate->choice[SAG_LOAD] == SAG_LOAD_NONE ? 0 : 1; /* nothing to load it with */
    out->sync_rad_s = 2 * acos(-1.0) * fact[SAG_SYNC_RPM].value / 60;
    out->inertia = fact[SAG_ROTOR_INERTIA].value + fact[SAG_LOAD_INERTIA].value;
    out->terminal_share = motor->terminal_share;
    out->duty = motor->plate->choice[SAG_DUTY];
    out->driven = motor->plate->choice[SAG_STARTING] == SAG_STARTING_DRIVE;
    out->has_circuit = machine->way != SAG_FIT_NONE && !out->driven;
    put_power(tables, motor, out);
}

bool sag_runs_normally(const struct sag_grid_motor *motor)
{
    return motor->duty != SAG_DUTY_SPARE && motor->duty != SAG_DUTY_FIRE_PUMP;
}

/* Facts of a motor to those of a corner: more amps and inertia and less torque are harder. */
static void lean(struct sag_motor *motor, enum sag_corner corner)
{
    static const struct {
        enum sag_fact fact;
        bool more_is_harder;
    } facts[] = {{SAG_LOCKED_AMPS, true},
                 {SAG_LOCKED_TORQUE, false},
                 {SAG_BREAKDOWN_TORQUE, false},
                 {SAG_ROTOR_INERTIA, true},
                 {SAG_LOAD_INERTIA, true}};
    for (size_t i = 0; i < sizeof facts / sizeof *facts && corner != SAG_CORNER_LIKELY; i++) {
        struct sag_qty *q = &motor->fact[facts[i].fact];
        bool high = facts[i].more_is_harder == (corner == SAG_CORNER_HARD);
        q->value = high ? q->high : q->low;
    }
}

enum {
    BATCH = 512 /* completed motors are large, so they exist a batch at a time */
};

struct building {
    const struct sag_grid_job *job;
    struct sag_motor *motors;
    struct sag_machine *machines;
    size_t start;
};

static void complete_one(void *context, size_t i)
{
    struct building *b = context;
    const struct sag_plate *plate = &b->job->list->plates[b->start + i];
    const struct sag_board *board = &b->job->boards[plate->feeder];
    struct sag_connection connection = {board->volts_nominal, board->hz, board->neutral_share};
    sag_complete_motor(b->job->tables, plate, &connection, &b->motors[i]);
    lean(&b->motors[i], b->job->corner);
}

static void put_motor(const struct building *b, size_t i, struct sag_grid_motor *out)
{
    const struct sag_motor *motor = &b->motors[i];
    int32_t node = b->job->list->feeders[motor->plate->feeder].node;
    double hz = b->job->boards[motor->plate->feeder].hz;
    out->node = node < 0 ? 0 : node;
    out->hz_share = hz / motor->fact[SAG_HZ].value;
    put_branch(b->job->tables, motor, hz, out);
    sag_grid_set_motor(b->job->tables, motor, &b->machines[i], b->job->corner, out);
}

static enum sag_status put_motors(struct building *b, struct sag_grid *out)
{
    size_t all = b->job->list->count;
    enum sag_status status = SAG_OK;
    for (b->start = 0; b->start < all && status == SAG_OK; b->start += BATCH) {
        size_t count = all - b->start < BATCH ? all - b->start : BATCH;
        sag_batch_run(complete_one, b, count);
        status = sag_fit_all(b->job->store, b->motors, count, b->machines);
        for (size_t i = 0; i < count && status == SAG_OK; i++)
            put_motor(b, i, &out->motors[b->start + i]);
    }
    return status;
}

enum sag_status sag_grid_build(const struct sag_grid_job *job, struct sag_grid *out)
{
    struct building b = {.job = job};
    size_t motors = job->list->count ? job->list->count : 1;
    *out = (struct sag_grid){.node_count = job->supply ? job->supply->count : 1, .motor_count = job->list->count};
    out->nodes = calloc(out->node_count, sizeof *out->nodes);
    out->motors = calloc(motors, sizeof *out->motors);
    b.motors = calloc(motors < BATCH ? motors : BATCH, sizeof *b.motors);
    b.machines = calloc(motors < BATCH ? motors : BATCH, sizeof *b.machines);
    enum sag_status status = out->nodes && out->motors && b.motors && b.machines ? SAG_OK : SAG_NO_MEMORY;
    for (size_t i = 0; i < out->node_count && status == SAG_OK; i++) {
        if (job->supply)
            put_node(job->tables, &job->supply->nodes[i], &out->nodes[i]);
        else
            put_typed_node(job->boards, &out->nodes[i]);
    }
    if (status == SAG_OK)
        status = put_motors(&b, out);
    free(b.motors);
    free(b.machines);
    return status;
}

void sag_grid_free(struct sag_grid *grid)
{
    free(grid->nodes);
    free(grid->motors);
    *grid = (struct sag_grid){0};
}
