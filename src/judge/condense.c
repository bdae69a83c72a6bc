/* A start's runs at the corners of what is assumed, as values with bounds. */
#include <math.h>

#include "judge/parts.h"

struct reading {
    double at[SAG_CORNER_COUNT];
    int count;
};

static void widen(struct sag_qty *q, double value)
{
    q->low = fmin(q->low, value);
    q->high = fmax(q->high, value);
}

/* Unknown when the likely run gives no value; a corner that gives none opens the bound on the side of `missing`. */
static struct sag_qty spread(const struct reading *r, double missing)
{
    if (isnan(r->at[SAG_CORNER_LIKELY]))
        return sag_unknown();
    struct sag_qty q = sag_exact(r->at[SAG_CORNER_LIKELY], r->count > 1 ? SAG_ASSUMED : SAG_COMPUTED);
    for (int i = 1; i < r->count; i++) {
        double value = isnan(r->at[i]) ? missing : r->at[i];
        if (!isnan(value))
            widen(&q, value);
    }
    return q;
}

#define READ(field)                                                                                                    \
    static struct sag_qty read_##field(const struct sag_run *runs, int count, size_t i, double missing)                \
    {                                                                                                                  \
        struct reading r = {.count = count};                                                                           \
        for (int k = 0; k < count; k++)                                                                                \
            r.at[k] = runs[k].started[i].field;                                                                        \
        return spread(&r, missing);                                                                                    \
    }
READ(volts_lowest)
READ(terminals_lowest)
READ(board_lowest)
READ(amps_peak)
READ(amps_transfer)
READ(time_to_speed)
READ(heat_used)
READ(least_surplus)
READ(speed_end)
#undef READ

static void put_other(const struct sag_start_plan *plan, const struct sag_run *runs, int count, size_t window,
                      struct sag_start_case *out)
{
    const struct sag_grid *grid = &plan->grids[SAG_CORNER_LIKELY];
    double share = NAN;
    struct reading r = {.count = count};
    out->other_share = sag_unknown();
    out->other = sag_worst_other(grid, &runs[SAG_CORNER_LIKELY], window, &share);
    if (out->other == grid->motor_count)
        return;
    size_t at = window * grid->motor_count + out->other;
    double rated = grid->motors[out->other].volts_rated;
    for (int k = 0; k < count; k++)
        r.at[k] = runs[k].motor_lowest[at] / rated;
    out->other_share = spread(&r, NAN);
    out->other_before = runs[SAG_CORNER_LIKELY].motor_before[at] / rated;
}

static void put_dragged(const struct sag_grid *grid, const struct sag_run *run, struct sag_start_case *out)
{
    out->dragged = grid->motor_count;
    for (size_t i = grid->motor_count; i-- > 0;)
        if (run->dragged[i]) {
            out->dragged = i;
            out->dragged_count++;
        }
}

/* Boards that feed motors or other load have coils and lamps on them; a source's own terminals do not. */
static void put_boards(const struct sag_grid *grid, const struct sag_run *runs, int count, size_t window,
                       struct sag_start_case *out)
{
    const int32_t service = sag_service_node(grid, grid->motors[out->likely.motor].node);
    const size_t from = window * grid->node_count;
    double lowest = INFINITY, deepest = -1;
    out->coil_node = out->lamp_node = -1;
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        bool medium_volts = node->volts_nominal > 1000;
        double share = runs->node_lowest[from + i] / node->volts_nominal;
        double dip = 1 - runs->node_lowest[from + i] / runs->node_before[from + i];
        if (!medium_volts && share < lowest) {
            lowest = share;
            out->coil_node = (int32_t)i;
        }
        if ((node->load_watts > 0 || (int32_t)i == service) && dip > deepest) {
            deepest = dip;
            out->lamp_node = (int32_t)i;
        }
    }
    struct reading coil = {.count = count}, lamp = {.count = count};
    for (int k = 0; k < count && out->coil_node >= 0; k++)
        coil.at[k] = runs[k].node_lowest[from + (size_t)out->coil_node] / grid->nodes[out->coil_node].volts_nominal;
    for (int k = 0; k < count && out->lamp_node >= 0; k++)
        lamp.at[k] =
            1 - runs[k].node_lowest[from + (size_t)out->lamp_node] / runs[k].node_before[from + (size_t)out->lamp_node];
    out->coil_share = out->coil_node < 0 ? sag_unknown() : spread(&coil, NAN);
    out->lamp_dip = out->lamp_node < 0 ? sag_unknown() : spread(&lamp, NAN);
}

void condense_start(const struct sag_start_plan *plan, const struct sag_run *runs, int count, size_t i,
                    struct sag_start_case *out)
{
    const struct sag_grid *grid = &plan->grids[SAG_CORNER_LIKELY];
    *out = (struct sag_start_case){.present = true, .likely = runs[SAG_CORNER_LIKELY].started[i], .run_share = NAN};
    out->volts_lowest = read_volts_lowest(runs, count, i, NAN);
    out->terminals_lowest = read_terminals_lowest(runs, count, i, NAN);
    out->board_lowest = read_board_lowest(runs, count, i, NAN);
    out->amps_peak = read_amps_peak(runs, count, i, NAN);
    out->amps_transfer = read_amps_transfer(runs, count, i, NAN);
    out->time_to_speed = read_time_to_speed(runs, count, i, INFINITY);
    out->heat_used = read_heat_used(runs, count, i, INFINITY);
    out->least_surplus = read_least_surplus(runs, count, i, NAN);
    out->speed_end = read_speed_end(runs, count, i, NAN);
    for (int k = 0; k < count; k++)
        out->some_run_up = out->some_run_up || runs[k].started[i].runs_up;
    put_other(plan, runs, count, out->likely.window, out);
    put_dragged(grid, &runs[SAG_CORNER_LIKELY], out);
    put_boards(grid, runs, count, out->likely.window, out);
}
