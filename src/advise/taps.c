/* Tap positions: which keep most motors in band over the supply's whole range. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "advise/trial.h"

static const double positions[] = {-0.05, -0.025, 0, 0.025, 0.05};

enum {
    POSITIONS = sizeof positions / sizeof *positions
};

struct search {
    const struct sag_plant *plant;
    const struct sag_supply *supply;
    struct sag_grid grid; /* with nodes of its own */
    const struct sag_grid *as_is;
    struct sag_motor_volts *volts;
    struct sag_band *bands;
    bool *saved; /* in band at some position that was tried */
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
        if (in_band(s, i)) {
            s->saved[i] = true;
            ++*count;
        }
    return status;
}

static void move_tap(struct search *s, int32_t node, double tap)
{
    s->grid.nodes[node].ratio = s->as_is->nodes[node].ratio * (1 + tap) / (1 + tap_of(s->supply, node));
}

/* Of equal positions the one nearest to what is set now. */
static enum sag_status best_position(struct search *s, struct sag_tap *tap, size_t *best)
{
    enum sag_status status = SAG_OK;
    for (int i = 0; i < POSITIONS && status == SAG_OK; i++) {
        size_t count = 0;
        move_tap(s, tap->node, positions[i]);
        status = count_in_band(s, &count);
        bool nearer = fabs(positions[i] - tap->now) < fabs(tap->best - tap->now);
        if (count > *best || (count == *best && nearer)) {
            *best = count;
            tap->best = positions[i];
        }
    }
    move_tap(s, tap->node, tap->best);
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
    s->saved = calloc(m, sizeof *s->saved);
    if (!s->grid.nodes || !s->volts || !s->bands || !s->saved)
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
    free(s->saved);
}

static enum sag_status put_lost(struct search *s, struct sag_tap_advice *out)
{
    out->lost = calloc(s->grid.motor_count ? s->grid.motor_count : 1, sizeof *out->lost);
    enum sag_status status = out->lost ? count_in_band(s, &out->in_band_best) : SAG_NO_MEMORY;
    for (size_t i = 0; i < s->grid.motor_count && status == SAG_OK; i++)
        if (!in_band(s, i)) {
            out->lost[out->lost_count++] = i;
            out->saveable += s->saved[i];
        }
    return status;
}

enum sag_status sag_advise_taps(const struct sag_plant *plant, const struct sag_grid *grid,
                                const struct sag_supply *supply, struct sag_tap_advice *out)
{
    struct search s = {.plant = plant, .supply = supply};
    *out = (struct sag_tap_advice){.motors = grid->motor_count};
    out->taps = calloc(grid->node_count, sizeof *out->taps);
    enum sag_status status = open_search(&s, grid);
    if (!out->taps)
        status = SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = count_in_band(&s, &out->in_band_now);
    size_t best = out->in_band_now;
    for (size_t i = 0; i < grid->node_count && status == SAG_OK; i++) {
        if (grid->nodes[i].kind != SAG_NODE_TRANSFORMER)
            continue;
        double now = tap_of(supply, (int32_t)i);
        struct sag_tap *tap = &out->taps[out->tap_count++];
        *tap = (struct sag_tap){(int32_t)i, now, now};
        status = best_position(&s, tap, &best);
    }
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
