/* A run from what runs before to what is left at the end. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "start/sim.h"

static bool is_started(const struct sag_start_job *job, size_t motor)
{
    for (size_t i = 0; i < job->count; i++)
        if (job->closings[i].motor == motor)
            return true;
    return false;
}

static bool is_shed(const struct sag_start_job *job, size_t motor)
{
    for (size_t i = 0; i < job->shed_count; i++)
        if (job->shed[i] == motor)
            return true;
    return false;
}

/* Has it a speed that can be integrated? */
static bool turns(const struct sag_grid_motor *g)
{
    return g->has_circuit && g->inertia > 0;
}

/* Is its torque at standstill known? A wound rotor's depends on what is connected to its rings. */
static bool starts(const struct sag_grid_motor *g)
{
    return turns(g) && g->machine.way != SAG_FIT_SINGLE_CAGE;
}

static bool runs_before(const struct sim *s, size_t motor)
{
    return !s->job->from_rest && s->job->which != SAG_CASE_HIGH && sag_runs_normally(&s->grid.motors[motor]) &&
           !is_started(s->job, motor) && !is_shed(s->job, motor);
}

static enum sag_status take_grid(struct sim *s)
{
    const struct sag_start_job *job = s->job;
    s->grid = *job->grid;
    if (!job->instead)
        return SAG_OK;
    s->own_motors = malloc(s->grid.motor_count * sizeof *s->own_motors);
    if (!s->own_motors)
        return SAG_NO_MEMORY;
    memcpy(s->own_motors, job->grid->motors, s->grid.motor_count * sizeof *s->own_motors);
    s->own_motors[job->closings[0].motor] = *job->instead;
    s->grid.motors = s->own_motors;
    return SAG_OK;
}

static size_t count_windows(const struct sag_start_job *job)
{
    size_t count = 1;
    for (size_t i = 1; i < job->count; i++)
        count += job->closings[i].at > job->closings[i - 1].at;
    return count;
}

static enum sag_status allocate(struct sim *s)
{
    struct sag_run *run = s->run;
    size_t m = s->grid.motor_count, n = s->grid.node_count, room = m + n;
    run->started = calloc(s->job->count ? s->job->count : 1, sizeof *run->started);
    run->count = s->job->count;
    run->windows = count_windows(s->job);
    run->node_before = calloc(run->windows * n, sizeof *run->node_before);
    run->node_closing = calloc(run->windows * n, sizeof *run->node_closing);
    run->node_lowest = calloc(run->windows * n, sizeof *run->node_lowest);
    run->motor_before = calloc(run->windows * m, sizeof *run->motor_before);
    run->motor_lowest = calloc(run->windows * m, sizeof *run->motor_lowest);
    run->dragged = calloc(m, sizeof *run->dragged);
    s->movers = calloc(m, sizeof *s->movers);
    s->exciters = calloc(n, sizeof *s->exciters);
    s->items = calloc(s->job->count ? s->job->count : 1, sizeof *s->items);
    s->service = calloc(s->job->count ? s->job->count : 1, sizeof *s->service);
    s->share = calloc(m, sizeof *s->share);
    double **arrays[] = {&s->state, &s->slope, &s->stiff, &s->next, &s->slope_next, &s->stage_one};
    bool whole = run->started && run->node_before && run->node_closing && run->node_lowest && run->motor_before &&
                 run->motor_lowest && run->dragged && s->movers && s->exciters && s->items && s->service && s->share;
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++)
        whole = (*arrays[i] = calloc(room, sizeof **arrays[i])) && whole;
    return whole ? net_init(&s->grid, &s->net) : SAG_NO_MEMORY;
}

void sim_close(struct sim *s)
{
    for (size_t i = 0; s->items && i < s->job->count; i++)
        free(s->items[i].samples);
    free(s->movers);
    free(s->exciters);
    free(s->items);
    free(s->service);
    free(s->share);
    free(s->state);
    free(s->slope);
    free(s->stiff);
    free(s->next);
    free(s->slope_next);
    free(s->stage_one);
    free(s->own_motors);
    net_free(&s->net);
}

/* The plant before the first contactor closes. */
static enum sag_status settle_before(struct sim *s)
{
    net_set_case(&s->net, s->job->which);
    for (size_t i = 0; i < s->grid.motor_count; i++) {
        s->share[i] = net_share_of(&s->grid.motors[i], s->job->which);
        if (runs_before(s, i))
            net_run_motor(&s->net, i, s->share[i]);
    }
    if (!net_settle(&s->net, s->share))
        return SAG_NO_SOLUTION;
    for (size_t i = 0; i < s->grid.node_count; i++)
        s->net.pin[i] = NAN; /* what a measurement moved stays, the volts are free again */
    return SAG_OK;
}

static void put_exciters(struct sim *s)
{
    for (size_t i = 0; i < s->grid.node_count; i++) {
        const struct sag_grid_node *g = &s->grid.nodes[i];
        if (g->kind != SAG_NODE_GENERATOR)
            continue;
        double complex z = CMPLX(g->r, g->x);
        double emf = cabs(s->net.volts[i] * (1 + z * s->net.below[i]));
        s->net.z[i] = z;
        s->exciters[s->exciter_count] = (struct exciter){i, cabs(s->net.volts[i])};
        s->state[s->mover_count + s->exciter_count++] = emf;
    }
}

static void put_mover(struct sim *s, size_t motor, int32_t item)
{
    const struct sag_grid_motor *g = &s->grid.motors[motor];
    double speed = item < 0 ? g->hz_share * (1 - s->net.motors[motor].slip) : 0;
    s->state[s->mover_count] = speed;
    s->movers[s->mover_count++] =
        (struct mover){motor, item, g->base.torque_nm / (g->inertia * g->sync_rad_s), s->share[motor]};
}

static void put_movers(struct sim *s)
{
    for (size_t i = 0; i < s->grid.motor_count; i++)
        if (s->net.motors[i].how == NET_CIRCUIT && turns(&s->grid.motors[i]))
            put_mover(s, i, -1);
    for (size_t i = 0; i < s->job->count; i++)
        if (starts(&s->grid.motors[s->job->closings[i].motor])) {
            s->items[i].mover = (int32_t)s->mover_count;
            put_mover(s, s->job->closings[i].motor, (int32_t)i);
        } else
            s->items[i].mover = -1;
}

int32_t sag_service_node(const struct sag_grid *grid, int32_t below)
{
    int32_t transformer = -1, source = below;
    for (int32_t at = below; at >= 0; at = grid->nodes[at].parent) {
        if (grid->nodes[at].kind == SAG_NODE_TRANSFORMER)
            transformer = at;
        source = at;
    }
    return transformer >= 0 ? transformer : source;
}

static void put_items(struct sim *s)
{
    for (size_t i = 0; i < s->job->count; i++) {
        struct item *item = &s->items[i];
        size_t motor = s->job->closings[i].motor;
        const struct sag_grid_motor *g = &s->grid.motors[motor];
        struct sag_started *r = &s->run->started[i];
        item->stage = -1;
        item->starter = motor == s->job->restarted && s->job->starter
                            ? *s->job->starter
                            : sag_starter_of(s->job->tables, &s->job->list->plates[motor]);
        item->share = s->share[motor];
        s->service[i] = sag_service_node(&s->grid, g->node);
        *r = (struct sag_started){.motor = motor,
                                  .closes_at = s->job->closings[i].at,
                                  .amps_transfer = NAN,
                                  .volts_before = NAN,
                                  .volts_closing = NAN,
                                  .volts_lowest = NAN,
                                  .terminals_lowest = NAN,
                                  .board_before = NAN,
                                  .board_closing = NAN,
                                  .board_lowest = NAN,
                                  .amps_closing = NAN,
                                  .power_factor_closing = NAN,
                                  .amps_peak = NAN,
                                  .time_to_speed = NAN,
                                  .speed_end = NAN,
                                  .heat_used = NAN,
                                  .energy = NAN,
                                  .least_surplus = NAN,
                                  .least_at = NAN,
                                  .computed = starts(g) || g->driven,
                                  .driven = g->driven};
        if (g->driven)
            stages_of(s->job->tables, &item->starter, g, &item->stages);
        else if (starts(g)) {
            const struct sag_feed rated = {1, g->hz_share, 0};
            struct sag_guess guess = {.amps = 6};
            struct sag_response standing;
            sag_circuit_from(&g->machine, &rated, 1, &guess, &standing);
            item->locked_amps = hypot(standing.conductance, standing.susceptance);
            stages_of(s->job->tables, &item->starter, g, &item->stages);
        }
    }
}

static enum sag_status prepare(struct sim *s)
{
    enum sag_status status = settle_before(s);
    if (status != SAG_OK)
        return status;
    put_movers(s);
    put_exciters(s);
    s->window = s->run->windows;
    s->close = 1e-6; /* a hundredth of what a step may be off */
    s->size = s->mover_count + s->exciter_count;
    put_items(s);
    s->time = s->job->count ? s->job->closings[0].at : 0;
    return SAG_OK;
}

enum sag_status sim_open(struct sim *s)
{
    *s->run = (struct sag_run){0};
    enum sag_status status = take_grid(s);
    if (status == SAG_OK)
        status = allocate(s);
    if (status == SAG_OK)
        status = prepare(s);
    return status;
}

enum sag_status sag_run_up(const struct sag_start_job *job, struct sag_run *out)
{
    struct sim s = {.job = job, .run = out};
    enum sag_status status = sim_open(&s);
    if (status == SAG_OK)
        status = sim_integrate(&s);
    if (status == SAG_OK)
        sim_finish(&s);
    sim_close(&s);
    return status;
}

void sag_run_free(struct sag_run *run)
{
    free(run->started);
    free(run->node_before);
    free(run->node_closing);
    free(run->node_lowest);
    free(run->motor_before);
    free(run->motor_lowest);
    free(run->dragged);
    free(run->trace);
    *run = (struct sag_run){0};
}

size_t sag_worst_other(const struct sag_grid *grid, const struct sag_run *run, size_t window, double *volts_share)
{
    const double sound = 0.85; /* below it a motor has its own finding, whatever starts; common practice */
    size_t from = window * grid->motor_count, worst = grid->motor_count;
    *volts_share = INFINITY;
    for (int pass = 0; pass < 2 && worst == grid->motor_count; pass++)
        for (size_t i = 0; i < grid->motor_count; i++) {
            double before = run->motor_before[from + i] / grid->motors[i].volts_rated;
            double share = run->motor_lowest[from + i] / grid->motors[i].volts_rated;
            if (!isnan(before) && (pass == 1 || before >= sound) && share < *volts_share) {
                *volts_share = share;
                worst = i;
            }
        }
    return worst;
}
