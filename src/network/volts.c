/* The four cases: what runs in each, and what it leaves at boards and motors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "base/number.h"
#include "network/parts.h"

static const struct sag_rule rule_under_load = {"V", "volts without current less the drops of the path",
                                                "network solution", "ch9_t9_ac_impedance"};
static const struct sag_rule rule_calibrated = {"V", "measured volts, carried down the path below by its drops",
                                                "NEMA MG 1 14.36.2", "ch9_t9_ac_impedance"};

static const struct sag_rule rule_carried = {"V", "mean by time of a log, carried down the path below by its drops",
                                             "recorder's log", "ch9_t9_ac_impedance"};

struct solving {
    const struct sag_volts_job *job;
    enum sag_case which;
    struct net net;
    double *share;
    struct sag_board *boards;
    struct sag_motor_volts *volts;
    struct sag_board_report *reports;
    struct sag_diags *diags;
};

static enum sag_status init(const struct sag_volts_job *job, struct solving *s)
{
    size_t m = job->grid->motor_count ? job->grid->motor_count : 1;
    s->share = calloc(m, sizeof *s->share);
    enum sag_status status = net_init(job->grid, &s->net);
    return s->share ? status : SAG_NO_MEMORY;
}

static void release(struct solving *s)
{
    free(s->share);
    net_free(&s->net);
}

static void put_normal_running(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    net_set_case(&s->net, s->which);
    for (size_t i = 0; i < grid->motor_count; i++) {
        s->share[i] = net_share_of(&grid->motors[i], s->which);
        if (sag_runs_normally(&grid->motors[i]) && s->which != SAG_CASE_HIGH)
            net_run_motor(&s->net, i, s->share[i]);
    }
}

/* The piece of the path with the least kVA: a likely slip. -1 when none has any. */
static int32_t smallest_on_path(const struct sag_grid *grid, int32_t at)
{
    int32_t smallest = -1;
    for (; at >= 0; at = grid->nodes[at].parent)
        if (!isnan(grid->nodes[at].rated_va) &&
            (smallest < 0 || grid->nodes[at].rated_va < grid->nodes[smallest].rated_va))
            smallest = at;
    return smallest;
}

static enum sag_status collapse(struct solving *s)
{
    const struct sag_grid_node *node = &s->job->grid->nodes[s->net.weakest < 0 ? 0 : s->net.weakest];
    double kilowatts = node->load_watts / 1000;
    for (size_t i = 0; i < s->job->grid->motor_count; i++)
        if (s->job->grid->motors[i].node == s->net.weakest && s->net.motors[i].how == NET_POWER)
            kilowatts += s->job->grid->motors[i].watts / 1000;
    double share = net_bearable_share(&s->net, s->share);
    int32_t small = smallest_on_path(s->job->grid, s->net.weakest);
    char kw[SAG_NUMBER_ROOM], percent[SAG_NUMBER_ROOM], kva[SAG_NUMBER_ROOM], hint[120] = "";
    struct sag_shown shown, name;
    struct sag_place at = {s->job->supply ? s->job->supply->file : NULL, node->line, 0};
    if (small >= 0)
        snprintf(hint, sizeof hint, "; is %s right with %s kVA?",
                 sag_shown(&name, s->job->grid->nodes[small].id, strlen(s->job->grid->nodes[small].id)),
                 sag_number_figures(kva, s->job->grid->nodes[small].rated_va / 1000, 4));
    sag_complain(s->diags, SAG_ERROR, &at,
                 "volts at %s collapse in the %s case: its path cannot bring the %s kW of other load there; "
                 "about %s %% of the plant's constant load is the most%s",
                 sag_shown(&shown, node->id, strlen(node->id)), sag_case_word(s->which),
                 sag_number_figures(kw, kilowatts, 3), sag_number_figures(percent, 100 * share, 3), hint);
    return SAG_BAD_INPUT;
}

static void keep_motor(struct solving *s, size_t i)
{
    if (!s->volts)
        return;
    const struct sag_grid_motor *g = &s->job->grid->motors[i];
    const struct net_motor *m = &s->net.motors[i];
    s->volts[i].at_board[s->which] = cabs(s->net.volts[g->node]);
    s->volts[i].at_motor[s->which] = m->how == NET_POWER ? m->volts_line * g->terminal_share : m->volts_motor;
    s->volts[i].amps[s->which] = m->line_amps;
    s->volts[i].power_factor[s->which] = creal(m->y_in) / cabs(m->y_in);
}

static void put_board_case(const struct solving *s, size_t feeder, const struct net *net)
{
    struct sag_board *board = &s->boards[feeder];
    struct sag_board_case *c = &board->of[s->which];
    int32_t node = s->job->list->feeders[feeder].node;
    if (!sag_known(&c->volts) || node < 0)
        return;
    double volts = cabs(net->volts[node]), share = volts / c->volts.value;
    enum sag_origin origin = (enum sag_origin)c->volts.origin;
    if (s->which == SAG_CASE_MEASURED) {
        c->volts = sag_scaled(c->volts, share);
        for (int k = 0; k < 3; k++)
            c->line[k] *= share;
        c->volts.rule = board->measured_at == node ? c->volts.rule : c->over_time ? &rule_carried : &rule_calibrated;
        return;
    }
    c->volts = sag_exact(volts, origin > SAG_COMPUTED ? origin : SAG_COMPUTED);
    c->volts.rule = &rule_under_load;
}

static void put_board_flow(const struct solving *s, size_t node)
{
    const struct sag_grid_node *g = &s->job->grid->nodes[node];
    struct sag_board_flow *f = &s->reports[node].of[s->which];
    double complex power = net_power(&s->net, node);
    double volts = cabs(s->net.volts[node]);
    double amps = volts * cabs(s->net.below[node]) / sqrt(3.0);
    *f = (struct sag_board_flow){
        .volts_ll = volts,
        .volts_ln = g->neutral_share > 0 ? volts * g->neutral_share : NAN,
        .amps = amps,
        .amps_fire = NAN,
        .watts = creal(power),
        .vars = cimag(power),
        .va = cabs(power),
        .loss_watts = 3 * amps * amps * creal(s->net.z[node]),
        .computed_volts = volts,
        .measured_here = s->which == SAG_CASE_MEASURED && !isnan(g->measured),
    };
}

/* What the network says where somebody measured: the same loads, no pins. */
static enum sag_status compare_measured(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        s->net.pin[i] = NAN;
        s->net.ratio[i] = node->ratio;
        s->net.emf[i] = node->emf[SAG_CASE_MEASURED];
    }
    if (!net_settle(&s->net, s->share))
        return collapse(s);
    for (size_t i = 0; i < grid->node_count && s->reports; i++)
        s->reports[i].of[SAG_CASE_MEASURED].computed_volts = cabs(s->net.volts[i]);
    return SAG_OK;
}

/* One motor more on a network whose other currents are known: each node as one source behind one impedance, that of
   all else as it stands. Exact where nothing else runs; else what runs answers the small change as an impedance would.
 */
struct alone {
    const struct sag_grid *grid;
    const struct net *before;
    double complex *behind; /* impedance that a motor at the node sees, in the node's volts */
    struct sag_motor_volts *volts;
    enum sag_case which;
    bool extras_only; /* those that do not run with the others */
    bool failed;
};

static void run_alone(void *context, size_t i)
{
    struct alone *a = context;
    struct sag_grid_motor motor = a->grid->motors[i];
    if (a->extras_only && sag_runs_normally(&motor))
        return;
    size_t at = (size_t)motor.node;
    struct sag_grid_node node = a->grid->nodes[at];
    const struct sag_grid one = {&node, 1, &motor, 1};
    struct net_motor state = {0};
    double complex volts = 0, below = 0, z = a->behind[at];
    double emf = cabs(a->before->volts[at]), ratio = 1, load_share = 0, pin = NAN;
    struct net net = {&one, &state, &volts, &below, &z, &emf, &ratio, &load_share, &pin, 1, false, -1};
    node.parent = -1;
    motor.node = 0;
    volts = emf;
    double share = net_share_of(&motor, a->which);
    net_run_motor(&net, 0, share);
    if (!net_settle(&net, &share)) {
        a->failed = true;
        return;
    }
    a->volts[i].at_board[a->which] = cabs(volts);
    a->volts[i].at_motor[a->which] =
        state.how == NET_POWER ? state.volts_line * motor.terminal_share : state.volts_motor;
    a->volts[i].amps[a->which] = state.line_amps;
    a->volts[i].power_factor[a->which] = creal(state.y_in) / cabs(state.y_in);
}

/* What a supply has to bear on the day of a fire: amps at the boards with every fire pump on, at its full load. */
static enum sag_status add_fire_pumps(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    struct net with;
    bool any = false;
    for (size_t i = 0; i < grid->motor_count; i++)
        any = any || grid->motors[i].duty == SAG_DUTY_FIRE_PUMP;
    if (!any || !s->reports)
        return SAG_OK;
    enum sag_status status = net_init(grid, &with);
    if (status == SAG_OK) {
        net_copy(&with, &s->net);
        for (size_t i = 0; i < grid->motor_count; i++)
            if (grid->motors[i].duty == SAG_DUTY_FIRE_PUMP)
                net_run_motor(&with, i, fmax(s->share[i], 1));
        bool settles = net_settle(&with, s->share);
        for (size_t i = 0; i < grid->node_count; i++)
            s->reports[i].of[s->which].amps_fire =
                settles ? cabs(with.volts[i]) * cabs(with.below[i]) / sqrt(3.0) : INFINITY;
    }
    net_free(&with);
    return status;
}

static enum sag_status solve_alone(struct solving *s, bool extras_only)
{
    const struct sag_grid *grid = s->job->grid;
    struct alone a = {
        .grid = grid, .before = &s->net, .volts = s->volts, .which = s->which, .extras_only = extras_only};
    if (!s->volts)
        return SAG_OK;
    a.behind = calloc(grid->node_count, sizeof *a.behind);
    if (!a.behind || !net_impedance_seen(&s->net, a.behind)) {
        free(a.behind);
        return SAG_NO_MEMORY;
    }
    sag_batch_run(run_alone, &a, grid->motor_count);
    free(a.behind);
    return a.failed ? collapse(s) : SAG_OK;
}

static void put_boards(struct solving *s)
{
    for (size_t i = 0; i < s->job->list->feeder_count && s->boards && s->job->supply; i++)
        put_board_case(s, i, &s->net);
    for (size_t i = 0; i < s->job->grid->node_count && s->reports; i++)
        put_board_flow(s, i);
}

static enum sag_status solve_light(struct solving *s)
{
    put_normal_running(s);
    if (!net_solve(&s->net, 1e-12))
        return collapse(s);
    put_boards(s);
    return solve_alone(s, false);
}

static enum sag_status solve_loaded(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    put_normal_running(s);
    if (!net_settle(&s->net, s->share))
        return collapse(s);
    for (size_t i = 0; i < grid->motor_count; i++)
        if (s->net.motors[i].how != NET_OFF)
            keep_motor(s, i);
    put_boards(s);
    enum sag_status status = solve_alone(s, true);
    if (status == SAG_OK)
        status = add_fire_pumps(s);
    return status == SAG_OK && s->which == SAG_CASE_MEASURED ? compare_measured(s) : status;
}

/* A case exists below a source whose volts are known in it; the measured one below a measurement. */
static void blank_results(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    for (size_t i = 0; i < grid->motor_count && s->volts; i++) {
        s->volts[i] = (struct sag_motor_volts){0};
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            s->volts[i].at_board[c] = s->volts[i].at_motor[c] = s->volts[i].amps[c] = s->volts[i].power_factor[c] = NAN;
    }
    for (size_t i = 0; i < grid->node_count && s->reports; i++) {
        s->reports[i].rated_va = grid->nodes[i].rated_va;
        s->reports[i].rating_amps = grid->nodes[i].rating_amps;
        for (int c = 0; c < SAG_CASE_COUNT; c++)
            s->reports[i].of[c].volts_ll = NAN;
    }
}

static bool below_measurement(const struct sag_grid *grid, int32_t node)
{
    while (node >= 0 && isnan(grid->nodes[node].measured))
        node = grid->nodes[node].parent;
    return node >= 0;
}

/* Volts that nothing measured stands behind are the nominal case's, so they are left out. */
static void drop_unmeasured(struct solving *s)
{
    const struct sag_grid *grid = s->job->grid;
    for (size_t i = 0; i < grid->motor_count && s->volts; i++)
        if (!below_measurement(grid, grid->motors[i].node))
            s->volts[i].at_board[SAG_CASE_MEASURED] = s->volts[i].at_motor[SAG_CASE_MEASURED] = NAN;
    for (size_t i = 0; i < grid->node_count && s->reports; i++)
        if (!below_measurement(grid, (int32_t)i))
            s->reports[i].of[SAG_CASE_MEASURED].volts_ll = NAN;
}

static bool has_case(const struct sag_volts_job *job, enum sag_case which)
{
    bool measured = !job->supply;
    for (size_t i = 0; i < job->grid->node_count && which == SAG_CASE_MEASURED; i++)
        measured = measured || !isnan(job->grid->nodes[i].measured);
    return job->cases[which] && !isnan(job->grid->nodes[0].emf[which]) && (which != SAG_CASE_MEASURED || measured);
}

enum sag_status sag_find_volts(const struct sag_volts_job *job, struct sag_board *boards, struct sag_motor_volts *volts,
                               struct sag_board_report *reports, struct sag_diags *diags)
{
    struct solving s = {.job = job, .boards = boards, .volts = volts, .reports = reports, .diags = diags};
    enum sag_status status = init(job, &s);
    blank_results(&s);
    for (int c = 0; c < SAG_CASE_COUNT && status == SAG_OK; c++) {
        s.which = (enum sag_case)c;
        if (has_case(job, s.which))
            status = s.which == SAG_CASE_HIGH ? solve_light(&s) : solve_loaded(&s);
    }
    if (job->supply)
        drop_unmeasured(&s);
    if (status == SAG_OK && reports)
        status = find_faults(job->grid, reports);
    release(&s);
    return status;
}

double sag_volts_at_amps(const struct sag_grid *grid, enum sag_case which, size_t motor, double amps)
{
    const struct sag_grid_motor *g = &grid->motors[motor];
    const struct sag_volts_job job = {.grid = grid};
    struct solving s = {.job = &job, .which = which};
    double volts = NAN;
    enum sag_status status = init(&job, &s);
    if (status == SAG_NO_MEMORY)
        volts = INFINITY;
    if (status == SAG_OK) {
        put_normal_running(&s);
        net_run_motor(&s.net, motor, s.share[motor]);
        s.net.motors[motor].how = NET_CURRENT;
        s.net.motors[motor].amps = amps;
        s.net.motors[motor].power_factor = cos(atan2(g->vars, g->watts));
        volts = net_settle(&s.net, s.share) ? s.net.motors[motor].volts_motor : NAN;
    }
    release(&s);
    return volts;
}
