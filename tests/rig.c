#include "rig.h"

#include <math.h>

#define ROOT3 1.7320508075688772

static void relink(struct rig *rig)
{
    rig->grid.nodes = rig->nodes;
    rig->grid.motors = rig->motors;
    rig->list = (struct sag_motor_list){.plates = rig->plates, .count = rig->grid.motor_count};
    rig->job.tables = shared_tables();
    rig->job.grid = &rig->grid;
    rig->job.list = &rig->list;
    rig->job.closings = rig->closings;
}

static void put_node(struct rig *rig, int32_t parent, double r, double x)
{
    struct sag_grid_node *node = &rig->nodes[rig->grid.node_count++];
    assert_true(rig->grid.node_count <= RIG_NODES);
    *node = (struct sag_grid_node){
        .id = "board",
        .parent = parent,
        .r = r,
        .x = x,
        .ratio = 1,
        .neutral_share = 1 / ROOT3,
        .rated_va = NAN,
        .rating_amps = NAN,
        .measured = NAN,
        .kind = parent < 0 ? SAG_NODE_UTILITY : SAG_NODE_CABLE,
        .load_kind = SAG_LOAD_KIND_POWER,
    };
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        node->emf[i] = NAN;
}

void rig_start(struct rig *rig, double volts, double r, double x)
{
    *rig = (struct rig){.job.which = SAG_CASE_NOMINAL};
    put_node(rig, -1, r, x);
    rig->nodes[0].volts_nominal = volts;
    for (int i = 0; i < SAG_CASE_COUNT; i++)
        rig->nodes[0].emf[i] = volts;
    relink(rig);
}

int32_t rig_board(struct rig *rig, int32_t parent, double r, double x)
{
    put_node(rig, parent, r, x);
    rig->nodes[rig->grid.node_count - 1].volts_nominal = rig->nodes[0].volts_nominal;
    return (int32_t)rig->grid.node_count - 1;
}

static double network_default(const char *quantity)
{
    return sag_ask_network_default(shared_tables(), quantity).value;
}

void rig_generator(struct rig *rig, double va, double recovery_time)
{
    struct sag_grid_node *g = &rig->nodes[0];
    double base = g->volts_nominal * g->volts_nominal / va;
    g->kind = SAG_NODE_GENERATOR;
    g->rated_va = va;
    g->x = network_default("generator_transient") * base;
    g->r = g->x / network_default("generator_x_over_r");
    g->synchronous_x = network_default("generator_synchronous") * base;
    g->ceiling =
        network_default("generator_sustained_share") * network_default("generator_synchronous") * g->volts_nominal;
    g->field_time = network_default("generator_short_circuit_time") * g->synchronous_x / g->x;
    g->recovery_time = recovery_time;
}

size_t rig_motor(struct rig *rig, int32_t node, const char *plate)
{
    struct sag_motor_list list = {0};
    struct sag_motor motor;
    struct sag_targets targets;
    struct sag_machine machine = {.way = SAG_FIT_NONE};
    size_t at = rig->grid.motor_count++;
    assert_true(at < RIG_MOTORS);
    complete_typed(plate, rig->nodes[0].volts_nominal, &list, &motor);
    if (sag_targets_of(&motor, &targets))
        sag_fit_machine(&targets, &machine);
    rig->motors[at] = (struct sag_grid_motor){.node = node, .hz_share = 1};
    sag_grid_set_motor(shared_tables(), &motor, &machine, SAG_CORNER_LIKELY, &rig->motors[at]);
    rig->plates[at] = list.plates[0];
    rig->plates[at].tag = rig->plates[at].note = rig->plates[at].conductor = "";
    sag_motor_list_free(&list);
    relink(rig);
    return at;
}

size_t rig_circuit_motor(struct rig *rig, int32_t node, const struct rig_circuit *circuit)
{
    size_t at = rig->grid.motor_count++;
    assert_true(at < RIG_MOTORS);
    double watts = ROOT3 * circuit->volts * circuit->amps;
    rig->motors[at] = (struct sag_grid_motor){
        .machine = circuit->machine,
        .base = {circuit->amps, circuit->volts / (ROOT3 * circuit->amps), watts / circuit->sync, watts},
        .volts_rated = circuit->volts,
        .hz = 60,
        .hz_share = 1,
        .sync_rad_s = circuit->sync,
        .inertia = circuit->inertia,
        .terminal_share = 1,
        .node = node,
        .has_circuit = true,
    };
    rig->plates[at] = (struct sag_plate){.tag = "", .note = "", .conductor = ""};
    for (size_t i = 0; i < SAG_GIVEN_COUNT; i++)
        rig->plates[at].given[i] = NAN;
    relink(rig);
    return at;
}

void rig_make_linear(struct sag_grid_motor *motor)
{
    motor->main_flux = motor->machine.leakage_share = motor->machine.saddle = 0;
    motor->machine.trim_amps = motor->machine.trim_torque = 1;
}

void rig_weak_plant(struct rig *rig)
{
    rig_start(rig, 480, 0.025, 0.1);
    int32_t board = rig_board(rig, 0, 0.02, 0.012);
    rig->nodes[board].load_watts = 20e3;
    rig->nodes[board].load_vars = 9e3;
    rig_motor(rig, 0,
              "rated_volts=460,rated_hp=40,rpm=1770,poles=4,efficiency_pct=93,power_factor=0.85,design=B,"
              "code_letter=G,load=compressor,load_pct=85");
    rig_motor(rig, board,
              "rated_volts=460,rated_hp=30,rpm=1175,poles=6,efficiency_pct=92.4,power_factor=0.83,design=B,"
              "code_letter=G,load=fan,load_pct=90");
    rig_motor(rig, board,
              "rated_volts=460,rated_hp=75,rpm=1775,poles=4,efficiency_pct=94.1,power_factor=0.86,design=B,"
              "code_letter=G,load=fan,load_pct=80,rotor_inertia_kgm2=0.9,load_inertia_kgm2=6");
    rig->motors[RIG_STARTS].branch_r = 0.02;
    rig->motors[RIG_STARTS].branch_x = 0.008;
    rig->job.keep_trace = true;
}

void rig_close(struct rig *rig, size_t motor, double at)
{
    assert_true(rig->job.count < RIG_MOTORS);
    rig->closings[rig->job.count++] = (struct sag_closing){motor, at};
}

void rig_run(struct rig *rig)
{
    sag_run_free(&rig->run);
    enum sag_status status = sag_run_up(&rig->job, &rig->run);
    if (status != SAG_OK)
        fail_msg("run: %s", sag_status_words(status));
}

const struct sag_started *rig_first(const struct rig *rig)
{
    assert_true(rig->run.count > 0);
    return &rig->run.started[0];
}

const struct sag_trace_row *rig_last(const struct rig *rig, size_t motor)
{
    for (size_t i = rig->run.trace_count; i-- > 0;)
        if (rig->run.trace[i].motor == motor)
            return &rig->run.trace[i];
    fail_msg("motor %zu: no trace", motor);
    return NULL;
}

void rig_free(struct rig *rig)
{
    sag_run_free(&rig->run);
}

/* Share of synchronous speed a second. */
static double gain(const struct rig *rig, const struct sag_trace_row *row)
{
    const struct sag_grid_motor *g = &rig->motors[row->motor];
    return (row->motor_torque_nm - row->load_torque_nm) / (g->inertia * g->sync_rad_s);
}

/* The cubic through two samples and their slopes, `part` of the way. */
static double between(const struct rig *rig, const struct sag_trace_row *a, const struct sag_trace_row *b, double part)
{
    double h = b->time - a->time, t = part, u = 1 - part;
    return u * u * (1 + 2 * t) * a->speed + t * t * (1 + 2 * u) * b->speed +
           h * t * u * (u * gain(rig, a) - t * gain(rig, b));
}

static double crossing(const struct rig *rig, const struct sag_trace_row *a, const struct sag_trace_row *b,
                       double speed)
{
    double low = 0, high = 1;
    while (high - low > 1e-9) {
        double middle = 0.5 * (low + high);
        if (between(rig, a, b, middle) < speed)
            low = middle;
        else
            high = middle;
    }
    return a->time + low * (b->time - a->time);
}

double rig_time_at(const struct rig *rig, size_t motor, double speed)
{
    const struct sag_trace_row *before = NULL;
    for (size_t i = 0; i < rig->run.trace_count; i++) {
        const struct sag_trace_row *row = &rig->run.trace[i];
        if (row->motor != motor)
            continue;
        if (row->speed >= speed && before)
            return crossing(rig, before, row, speed);
        before = row;
    }
    return NAN;
}
