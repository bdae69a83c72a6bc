/* Tap positions: which keep most motors in band over the supply's whole range. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "advise/trial.h"

static const double positions[] = {-0.05, -0.025, 0, 0.025, 0.05};

enum {
    POSITIONS = sizeof positions / sizeof *positions,
    MOST_TOGETHER = 3 /* transformers whose positions are tried in every combination: 125 */
};

struct search {
    const struct sag_plant *plant;
    const struct sag_supply *supply;
    struct sag_grid grid; /* with nodes of its own */
    const struct sag_grid *as_is;
    struct sag_motor_volts *volts;
    struct sag_band *bands;
    double fire_start,
        fire_run; /* least of the fire pumps' volts now, share of board and plate; see spares_fire_pumps() */
    bool no_memory;
};

static bool in_band(const struct search *s, size_t motor)
{
    const double hair = 1e-9;
    for (int c = 0; c < SAG_CASE_MEASURED; c++) {
        double volts = s->volts[motor].at_motor[c];
        if (volts < s->bands[motor].low * (1 - hair) || volts > s->bands[motor].high * (1 + hair))
            return false;
    }
    return true;
}

/* Motors in band with the taps as they stand in the grid; what was measured belongs to the taps of that day. */
static enum sag_status count_in_band(struct search *s, size_t *count)
{
    struct sag_diags quiet = {0};
    const struct sag_volts_job job = {
        .grid = &s->grid, .supply = s->supply, .list = s->plant->list, .cases = {true, true, true, false}};
    enum sag_status status = sag_find_volts(&job, NULL, s->volts, NULL, &quiet);
    sag_diags_free(&quiet);
    *count = 0;
    if (status == SAG_BAD_INPUT) /* volts collapse there: nobody is in band */
        return SAG_OK;
    for (size_t i = 0; i < s->grid.motor_count && status == SAG_OK; i++)
        *count += in_band(s, i);
    return status;
}

static void move_tap(struct search *s, int32_t node, double tap)
{
    s->grid.nodes[node].ratio = s->as_is->nodes[node].ratio * (1 + tap) / (1 + tap_of(s->supply, node));
}

/* Lowest volts at a fire pump's controller while it starts, share of the board's; 0 when the network collapses. */
static enum sag_status fire_pump_start(const struct search *s, size_t motor, enum sag_case which, double *share)
{
    const struct sag_closing closing = {motor, 0};
    const struct sag_start_job job = {.tables = s->plant->tables,
                                      .grid = &s->grid,
                                      .list = s->plant->list,
                                      .closings = &closing,
                                      .count = 1,
                                      .which = which};
    struct sag_run run;
    enum sag_status status = sag_run_up(&job, &run);
    double volts = status == SAG_OK ? run.started[0].board_lowest : 0;
    sag_run_free(&run);
    *share = volts / s->grid.nodes[s->grid.motors[motor].node].volts_nominal;
    return status == SAG_NO_MEMORY ? status : SAG_OK;
}

/* Least of all fire pumps in all cases: while one starts, and with its code amps. */
static enum sag_status fire_pump_volts(const struct search *s, double *start, double *run)
{
    enum sag_status status = SAG_OK;
    *start = *run = INFINITY;
    for (size_t i = 0; i < s->grid.motor_count; i++)
        for (int c = 0; c < SAG_CASE_MEASURED && s->grid.motors[i].duty == SAG_DUTY_FIRE_PUMP; c++) {
            double share = NAN;
            status = fire_pump_start(s, i, (enum sag_case)c, &share);
            if (status != SAG_OK)
                return status;
            *start = fmin(*start, share);
            share = sag_fire_pump_running(s->plant, &s->grid, (enum sag_case)c, i);
            if (isinf(share))
                return SAG_NO_MEMORY;
            *run = fmin(*run, share);
        }
    return status;
}

/* A tap that brings motors into band at the cost of a fire pump's code limits is none. NFPA 70-2023 695.7. */
static bool spares_fire_pumps(struct search *s)
{
    double start, run;
    enum sag_status status = fire_pump_volts(s, &start, &run);
    s->no_memory = s->no_memory || status == SAG_NO_MEMORY;
    if (status != SAG_OK)
        return false;
    bool start_well = start >= SAG_FIRE_PUMP_START || start >= s->fire_start;
    bool run_well = run >= SAG_FIRE_PUMP_RUN || run >= s->fire_run;
    return start_well && run_well;
}

/* How far the taps stand from where they are now: of equal counts the least work wins. */
static double moves(const struct sag_tap_advice *a, const double *set)
{
    double sum = 0;
    for (size_t i = 0; i < a->tap_count; i++)
        sum += fabs(set[i] - a->taps[i].now);
    return sum;
}

/* The one tap that is moved; the count when none is or more are. */
static size_t only_moved(const struct sag_tap_advice *a, const double *set)
{
    size_t moved = 0, at = a->tap_count;
    for (size_t i = 0; i < a->tap_count; i++)
        if (set[i] != a->taps[i].now) {
            moved++;
            at = i;
        }
    return moved == 1 ? at : a->tap_count;
}

/* The same with no more than one tap moved, which is less to do and less to go wrong. */
static bool is_better_single(const struct sag_tap_advice *a, const double *set, size_t count)
{
    size_t at = only_moved(a, set);
    if (at == a->tap_count)
        return false;
    bool nearer = a->single.node >= 0 && fabs(set[at] - a->taps[at].now) < fabs(a->single.best - a->single.now);
    return count > a->in_band_single || (count == a->in_band_single && nearer);
}

static void note_single(struct sag_tap_advice *a, const double *set, size_t count)
{
    size_t at = only_moved(a, set);
    a->in_band_single = count;
    a->single = (struct sag_tap){a->taps[at].node, a->taps[at].now, set[at]};
}

/* Count with taps set[]; keep them when they are better than the best so far. */
static enum sag_status try_taps(struct search *s, const double *set, size_t *best, struct sag_tap_advice *a)
{
    size_t count = 0;
    for (size_t i = 0; i < a->tap_count; i++)
        move_tap(s, a->taps[i].node, set[i]);
    enum sag_status status = count_in_band(s, &count);
    bool better = count > *best || (count == *best && moves(a, set) < a->moves - 1e-9);
    bool better_single = is_better_single(a, set, count);
    if ((better || better_single) && !spares_fire_pumps(s))
        return status;
    if (better_single)
        note_single(a, set, count);
    if (better) {
        *best = count;
        a->moves = moves(a, set);
        for (size_t i = 0; i < a->tap_count; i++)
            a->taps[i].best = set[i];
    }
    return status;
}

/* Every combination, counted like the figures of a number. */
static enum sag_status try_all(struct search *s, double *set, size_t *best, struct sag_tap_advice *a)
{
    int figure[MOST_TOGETHER] = {0};
    enum sag_status status = SAG_OK;
    for (size_t at = 0; at < a->tap_count && status == SAG_OK;) {
        for (size_t i = 0; i < a->tap_count; i++)
            set[i] = positions[figure[i]];
        status = try_taps(s, set, best, a);
        for (at = 0; at < a->tap_count && ++figure[at] == POSITIONS; at++)
            figure[at] = 0;
    }
    return status;
}

/* Too many to try together: one after the other from the source down, as long as it helps. */
static enum sag_status try_in_turn(struct search *s, double *set, size_t *best, struct sag_tap_advice *a)
{
    enum sag_status status = SAG_OK;
    for (size_t before = SIZE_MAX; before != *best && status == SAG_OK;) {
        before = *best;
        for (size_t i = 0; i < a->tap_count; i++) {
            for (int k = 0; k < POSITIONS && status == SAG_OK; k++) {
                set[i] = positions[k];
                status = try_taps(s, set, best, a);
            }
            set[i] = a->taps[i].best;
        }
    }
    return status;
}

static enum sag_status find_best(struct search *s, struct sag_tap_advice *a)
{
    double *set = calloc(a->tap_count ? a->tap_count : 1, sizeof *set);
    size_t best = a->in_band_now;
    a->in_band_single = a->in_band_now;
    a->moves = 0;
    enum sag_status status = set ? fire_pump_volts(s, &s->fire_start, &s->fire_run) : SAG_NO_MEMORY;
    for (size_t i = 0; i < a->tap_count && set; i++)
        set[i] = a->taps[i].now;
    if (status == SAG_OK && a->tap_count)
        status = a->tap_count <= MOST_TOGETHER ? try_all(s, set, &best, a) : try_in_turn(s, set, &best, a);
    for (size_t i = 0; i < a->tap_count; i++)
        move_tap(s, a->taps[i].node, a->taps[i].best);
    free(set);
    return status;
}

static enum sag_status open_search(struct search *s, const struct sag_grid *grid)
{
    size_t m = grid->motor_count ? grid->motor_count : 1;
    s->as_is = grid;
    s->grid = *grid;
    s->grid.nodes = malloc(grid->node_count * sizeof *grid->nodes);
    s->volts = calloc(m, sizeof *s->volts);
    s->bands = calloc(m, sizeof *s->bands);
    if (!s->grid.nodes || !s->volts || !s->bands)
        return SAG_NO_MEMORY;
    memcpy(s->grid.nodes, grid->nodes, grid->node_count * sizeof *grid->nodes);
    for (size_t i = 0; i < grid->motor_count; i++)
        s->bands[i] = sag_find_band(s->plant, i);
    return SAG_OK;
}

static void close_search(struct search *s)
{
    free(s->grid.nodes);
    free(s->volts);
    free(s->bands);
}

static enum sag_status put_lost(struct search *s, struct sag_tap_advice *out)
{
    out->lost = calloc(s->grid.motor_count ? s->grid.motor_count : 1, sizeof *out->lost);
    enum sag_status status = out->lost ? count_in_band(s, &out->in_band_best) : SAG_NO_MEMORY;
    for (size_t i = 0; i < s->grid.motor_count && status == SAG_OK; i++)
        if (!in_band(s, i))
            out->lost[out->lost_count++] = i;
    return status;
}

enum sag_status sag_advise_taps(const struct sag_plant *plant, const struct sag_grid *grid,
                                const struct sag_supply *supply, struct sag_tap_advice *out)
{
    struct search s = {.plant = plant, .supply = supply};
    *out = (struct sag_tap_advice){.motors = grid->motor_count, .single = {.node = -1}};
    out->taps = calloc(grid->node_count, sizeof *out->taps);
    enum sag_status status = open_search(&s, grid);
    if (!out->taps)
        status = SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = count_in_band(&s, &out->in_band_now);
    for (size_t i = 0; i < grid->node_count && status == SAG_OK; i++)
        if (grid->nodes[i].kind == SAG_NODE_TRANSFORMER) {
            double now = tap_of(supply, (int32_t)i);
            out->taps[out->tap_count++] = (struct sag_tap){(int32_t)i, now, now};
        }
    if (status == SAG_OK)
        status = find_best(&s, out);
    status = s.no_memory ? SAG_NO_MEMORY : status;
    if (status == SAG_OK)
        status = put_lost(&s, out);
    close_search(&s);
    return status;
}

void sag_tap_advice_free(struct sag_tap_advice *advice)
{
    free(advice->taps);
    free(advice->lost);
    *advice = (struct sag_tap_advice){0};
}
