/* The changes that are tried, in order of cost. To add one: its function here, a row in the list at the end, a test. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "advise/trial.h"
#include "base/number.h"

#define PERCENT 100.0

static size_t motor_of(const struct trial *t)
{
    return t->failed->index;
}

static const struct sag_grid_motor *likely_motor(const struct trial *t)
{
    return &t->plan->grids[SAG_CORNER_LIKELY].motors[motor_of(t)];
}

/* A name as it may be shown. */
static const char *shown(struct sag_shown *room, const char *text)
{
    return sag_shown(room, text, strlen(text));
}

/* --- the driven machine unloaded
 * -------------------------------------------------------------------------------------- */

static void set_load(struct trial *t, double share)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        struct sag_grid_motor *m = &t->grids[k].motors[motor_of(t)];
        m->share = fmin(m->share, share);
        m->full_share = fmin(1, share); /* in the low case too: a valve or damper is closed before the start */
    }
}

/* What its load is at the most in the cases that are judged. */
static double most_load(const struct trial *t)
{
    const struct sag_grid_motor *m = likely_motor(t);
    return t->plan->plant->cases[SAG_CASE_LOW] ? fmax(m->share, m->full_share) : m->share;
}

static enum sag_status unload(struct trial *t, const char *kind)
{
    static const double shares[] = {0.75, 0.5, 0.35, 0.25, 0.15};
    char percent[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        if (shares[i] >= most_load(t))
            continue;
        trial_reset(t);
        set_load(t, shares[i]);
        if (trial_passes(t))
            return trial_keep(t, kind,
                              "start with its load at no more than %s %% of rated (unloaded, valve or damper closed)",
                              sag_number_print(percent, PERCENT * shares[i], 0));
    }
    return SAG_OK;
}

/* --- motors switched off before
 * --------------------------------------------------------------------------------------- */

struct candidate {
    size_t motor;
    double amps;
};

static int by_amps(const void *left, const void *right)
{
    const struct candidate *a = left;
    const struct candidate *b = right;
    return a->amps > b->amps ? -1 : a->amps < b->amps ? 1 : a->motor < b->motor ? -1 : a->motor > b->motor;
}

/* Of a sequence those with an order start; the rest runs. */
static bool is_started(const struct trial *t, size_t motor)
{
    const struct sag_start_plan *plan = t->plan;
    if (plan->order == SAG_START_ALONE)
        return motor == motor_of(t);
    for (size_t i = 0; i < plan->count; i++)
        if (plan->motors[i] == motor)
            return !isnan(plan->plant->list->plates[motor].given[SAG_START_ORDER]);
    return false;
}

/* Running motors, those with most amps first; a pump that keeps fire mains up is never switched off. */
static size_t collect(const struct trial *t, struct candidate *out)
{
    const struct sag_grid *grid = &t->plan->grids[SAG_CORNER_LIKELY];
    size_t count = 0;
    for (size_t i = 0; i < grid->motor_count; i++) {
        const struct sag_grid_motor *m = &grid->motors[i];
        double amps = m->base.amps * m->share * m->volts_rated / 1000;
        if (!is_started(t, i) && sag_runs_normally(m) && m->duty != SAG_DUTY_JOCKEY_PUMP && amps > 0)
            out[count++] = (struct candidate){i, amps};
    }
    qsort(out, count, sizeof *out, by_amps);
    return count;
}

static void put_names(const struct trial *t, const size_t *motors, size_t count, char *out, size_t room)
{
    size_t used = 0;
    struct sag_shown name;
    for (size_t i = 0; i < count && used < room; i++)
        used += (size_t)snprintf(out + used, room - used, "%s%s", i ? ", " : "",
                                 shown(&name, t->plan->plant->list->plates[motors[i]].tag));
}

/* Those early ones that later ones made needless are switched on again. */
static size_t drop_needless(struct trial *t, size_t *motors, size_t count)
{
    for (size_t i = 0; i + 1 < count;) {
        size_t kept = motors[i];
        memmove(motors + i, motors + i + 1, (count - i - 1) * sizeof *motors);
        t->changed.shed_count = count - 1;
        if (trial_looks_hopeful(t)) {
            count--;
            continue;
        }
        memmove(motors + i + 1, motors + i, (count - i - 1) * sizeof *motors);
        motors[i++] = kept;
    }
    t->changed.shed_count = count;
    return count;
}

/* The motor that the last run hurt most, if it may be switched off; candidates are in `from`. */
static bool next_sufferer(const struct trial *t, const struct candidate *from, size_t count, const size_t *motors,
                          size_t used, size_t *out)
{
    const struct sag_start_result *r = t->last ? t->last : t->failed;
    double least = INFINITY;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        for (size_t i = 0; i < count && r->of[c].present; i++)
            if (from[i].motor == r->of[c].other && r->of[c].other_share.value < least) {
                least = r->of[c].other_share.value;
                *out = from[i].motor;
            }
    for (size_t i = 0; i < used; i++)
        least = motors[i] == *out ? INFINITY : least;
    return isfinite(least);
}

/* The one with most amps that is still on. */
static bool next_largest(const struct candidate *from, size_t count, const size_t *motors, size_t used, size_t *out)
{
    for (size_t i = 0; i < count; i++) {
        bool off = false;
        for (size_t k = 0; k < used; k++)
            off = off || motors[k] == from[i].motor;
        if (!off) {
            *out = from[i].motor;
            return true;
        }
    }
    return false;
}

/* In turn whoever suffers most and whoever draws most; then those that turn out needless are left on. */
static enum sag_status shed_some(struct trial *t, const char *kind, const struct candidate *from, size_t count,
                                 size_t *motors)
{
    enum {
        MOST_SHED = 8 /* a plan that switches off more is no plan */
    };
    char names[160];
    size_t enough[MOST_SHED];
    t->changed.shed = motors;
    for (size_t used = 0; used < MOST_SHED && used < count; used++) {
        bool found = used % 2 == 0 && next_sufferer(t, from, count, motors, used, &motors[used]);
        if (!found && !next_largest(from, count, motors, used, &motors[used]))
            return SAG_OK;
        t->changed.shed_count = used + 1;
        if (!trial_passes(t))
            continue;
        memcpy(enough, motors, (used + 1) * sizeof *motors);
        if (drop_needless(t, motors, used + 1) <= used && !trial_passes(t)) {
            memcpy(motors, enough, (used + 1) * sizeof *motors); /* needless only at a glance */
            t->changed.shed_count = used + 1;
        }
        if (!trial_passes(t))
            return SAG_OK;
        put_names(t, motors, t->changed.shed_count, names, sizeof names);
        return trial_keep(t, kind, "switch off before: %s", names);
    }
    return SAG_OK;
}

static enum sag_status shed(struct trial *t, const char *kind)
{
    size_t room = t->plan->grids->motor_count;
    struct candidate *candidates = calloc(room, sizeof *candidates);
    size_t *motors = calloc(room, sizeof *motors);
    enum sag_status status = candidates && motors ? SAG_OK : SAG_NO_MEMORY;
    t->last = NULL;
    if (status == SAG_OK)
        status = shed_some(t, kind, candidates, collect(t, candidates), motors);
    free(candidates);
    free(motors);
    return status;
}

/* --- another order --------------------------------------------------------------------------------------------------
 */

static enum sag_status go_first(struct trial *t, const char *kind)
{
    if (t->plan->order != SAG_START_SEQUENCE)
        return SAG_OK;
    t->changed.moves_first = true;
    t->changed.first = motor_of(t);
    return trial_passes(t) ? trial_keep(t, kind, "start it first in the sequence") : SAG_OK;
}

/* --- taps
 * ------------------------------------------------------------------------------------------------------------- */

static enum sag_status raise_tap(struct trial *t, const char *kind)
{
    const double step = 0.025, most = 0.05;
    char after[SAG_NUMBER_ROOM], before[SAG_NUMBER_ROOM];
    struct sag_shown name;
    for (int32_t at = likely_motor(t)->node; t->supply && at >= 0; at = t->supply->nodes[at].parent) {
        double now = t->supply->nodes[at].choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER ? tap_of(t->supply, at) : most;
        for (int up = 1; now + up * step <= most + 1e-9; up++) {
            double tap = now + up * step;
            trial_reset(t);
            set_tap(t, at, tap);
            if (trial_passes(t))
                return trial_keep(t, kind, "tap of %s to %s %% (now %s %%); check every motor's band at it first",
                                  shown(&name, t->supply->nodes[at].id), sag_number_print(after, PERCENT * tap, 1),
                                  sag_number_print(before, PERCENT * now, 1));
        }
    }
    return SAG_OK;
}

/* --- starters
 * --------------------------------------------------------------------------------------------------------- */

static bool try_starter(struct trial *t, enum sag_starting method, double setting, struct sag_starter *starter)
{
    struct sag_plate plate = t->plan->plant->list->plates[motor_of(t)];
    bool other = plate.choice[SAG_STARTING] != method;
    plate.choice[SAG_STARTING] = (uint8_t)method;
    plate.given[SAG_START_SETTING] = setting;
    if (other)
        plate.given[SAG_TRANSFER_TIME] = plate.given[SAG_RAMP_TIME] = NAN;
    *starter = sag_starter_of(t->plan->plant->tables, &plate);
    trial_reset(t);
    for (int k = 0; k < SAG_CORNER_COUNT && method == SAG_STARTING_DRIVE; k++) {
        t->grids[k].motors[motor_of(t)].driven = true;
        t->grids[k].motors[motor_of(t)].has_circuit = false;
    }
    t->changed.starter = starter;
    t->changed.restarted = motor_of(t);
    return trial_passes(t);
}

struct setting {
    enum sag_starting method;
    double setting;
    const char *words;
};

/* ORDER of cost within a method: least line amps first, since that is what a reduced-voltage starter is bought for. */
static const struct setting settings[] = {
    {SAG_STARTING_AUTOTRANSFORMER, 0.50, "an autotransformer starter at the 50 % tap"},
    {SAG_STARTING_AUTOTRANSFORMER, 0.65, "an autotransformer starter at the 65 % tap"},
    {SAG_STARTING_AUTOTRANSFORMER, 0.80, "an autotransformer starter at the 80 % tap"},
    {SAG_STARTING_SOFT, 2.5, "a soft starter at 250 % of rated amps"},
    {SAG_STARTING_SOFT, 3.0, "a soft starter at 300 % of rated amps"},
    {SAG_STARTING_SOFT, 3.5, "a soft starter at 350 % of rated amps"},
    {SAG_STARTING_SOFT, 4.0, "a soft starter at 400 % of rated amps"},
    {SAG_STARTING_SOFT, 4.5, "a soft starter at 450 % of rated amps"},
    {SAG_STARTING_SOFT, 5.0, "a soft starter at 500 % of rated amps"},
    {SAG_STARTING_REACTOR, 0.65, "a reactor starter at 65 %"},
    {SAG_STARTING_REACTOR, 0.80, "a reactor starter at 80 %"},
    {SAG_STARTING_DRIVE, NAN, "a frequency drive"},
};

enum sets {
    OWN_METHOD,
    OTHER_METHODS
};

static enum sag_status try_settings(struct trial *t, const char *kind, enum sets which)
{
    struct sag_starter starter;
    enum sag_starting own = t->failed->starter.method;
    for (size_t i = 0; i < sizeof settings / sizeof *settings && likely_motor(t)->has_circuit; i++) {
        bool mine = settings[i].method == own;
        if (mine != (which == OWN_METHOD) || (mine && settings[i].setting == t->failed->starter.setting))
            continue;
        if (try_starter(t, settings[i].method, settings[i].setting, &starter))
            return trial_keep(t, kind, "%s%s", mine ? "its" : "",
                              mine ? strchr(settings[i].words, ' ') : settings[i].words);
    }
    return SAG_OK;
}

/* A fire pump's controller is listed as a whole: no setting of it and no other starter is proposed. */
static bool is_fire_pump(const struct trial *t)
{
    return likely_motor(t)->duty == SAG_DUTY_FIRE_PUMP;
}

static enum sag_status own_setting(struct trial *t, const char *kind)
{
    if (is_fire_pump(t))
        return SAG_OK;
    return try_settings(t, kind, OWN_METHOD);
}

static enum sag_status other_starter(struct trial *t, const char *kind)
{
    struct sag_starter starter;
    enum sag_status status = SAG_OK;
    if (is_fire_pump(t))
        return SAG_OK;
    bool across = t->failed->starter.method <= SAG_STARTING_ACROSS;
    if (!across && likely_motor(t)->has_circuit && try_starter(t, SAG_STARTING_ACROSS, NAN, &starter))
        status = trial_keep(t, kind, "across the line instead of its starter");
    else
        status = try_settings(t, kind, OTHER_METHODS);
    return status;
}

/* --- conductors
 * ------------------------------------------------------------------------------------------------------- */

/* How much less impedance the larger size has. */
struct lessening {
    double r, x;
};

static bool find_lessening(const struct sag_tables *tables, const char *now, const char *larger, const uint8_t *choice,
                           struct lessening *out)
{
    enum sag_material material = (enum sag_material)choice[0];
    enum sag_raceway raceway = (enum sag_raceway)choice[1];
    struct sag_cable old = sag_ask_cable(tables, now, material, raceway);
    struct sag_cable new = sag_ask_cable(tables, larger, material, raceway);
    *out = (struct lessening){new.ohms_r / old.ohms_r, new.ohms_x / old.ohms_x};
    return old.found && new.found;
}

static bool larger_cable(struct trial *t, const struct sag_node *node, int32_t at, const char *size)
{
    const uint8_t choice[] = {node->choice[SAG_NODE_MATERIAL], node->choice[SAG_NODE_RACEWAY]};
    struct lessening less;
    if (!find_lessening(t->plan->plant->tables, node->conductor, size, choice, &less))
        return false;
    trial_reset(t);
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        t->grids[k].nodes[at].r *= less.r;
        t->grids[k].nodes[at].x *= less.x;
    }
    return trial_passes(t);
}

static bool larger_branch(struct trial *t, const struct sag_plate *plate, const char *size)
{
    const uint8_t choice[] = {plate->choice[SAG_MATERIAL], plate->choice[SAG_RACEWAY]};
    struct lessening less;
    if (!find_lessening(t->plan->plant->tables, plate->conductor, size, choice, &less))
        return false;
    trial_reset(t);
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        t->grids[k].motors[motor_of(t)].branch_r *= less.r;
        t->grids[k].motors[motor_of(t)].branch_x *= less.x;
    }
    return trial_passes(t);
}

enum {
    SIZES_UP = 4
};

static enum sag_status branch_conductor(struct trial *t, const char *kind)
{
    const struct sag_plate *plate = &t->plan->plant->list->plates[motor_of(t)];
    const char *size = plate->conductor;
    struct sag_shown name;
    for (int i = 0; i < SIZES_UP && *size && likely_motor(t)->branch_r > 0; i++) {
        size = sag_larger_conductor(t->plan->plant->tables, size);
        if (!size)
            break;
        if (larger_branch(t, plate, size))
            return trial_keep(t, kind, "its branch conductors %s instead of %s", size, shown(&name, plate->conductor));
    }
    return SAG_OK;
}

static enum sag_status conductors(struct trial *t, const char *kind)
{
    size_t before = t->out->count;
    enum sag_status status = branch_conductor(t, kind);
    struct sag_shown name, old;
    for (int32_t at = likely_motor(t)->node; t->supply && at >= 0 && t->out->count == before && status == SAG_OK;
         at = t->supply->nodes[at].parent) {
        const struct sag_node *node = &t->supply->nodes[at];
        const char *size = node->choice[SAG_NODE_KIND] == SAG_NODE_CABLE ? node->conductor : "";
        for (int i = 0; i < SIZES_UP && size && *size; i++) {
            size = sag_larger_conductor(t->plan->plant->tables, size);
            if (size && larger_cable(t, node, at, size))
                return trial_keep(t, kind, "conductors of %s %s instead of %s", shown(&name, node->id), size,
                                  shown(&old, node->conductor));
        }
    }
    return status;
}

/* --- a boost at the motor
 * --------------------------------------------------------------------------------------------- */

/* Through a transformer of ratio n the line sees a motor of rated volts / n that takes n times the amps. */
static void boost_motor(struct trial *t, double ratio)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        struct sag_grid_motor *m = &t->grids[k].motors[motor_of(t)];
        m->volts_rated /= ratio;
        m->base.ohms /= ratio * ratio;
        m->base.amps *= ratio;
    }
}

static enum sag_status boost(struct trial *t, const char *kind)
{
    /* two windings of 12, 16, 24 or 32 V on 240 V; common practice, no source */
    static const double ratios[] = {1.05, 1.0667, 1.10, 1.1333};
    char percent[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < sizeof ratios / sizeof *ratios && likely_motor(t)->has_circuit; i++) {
        trial_reset(t);
        boost_motor(t, ratios[i]);
        if (trial_passes(t))
            return trial_keep(t, kind, "a boost autotransformer of +%s %% at the motor; check its band with it first",
                              sag_number_print(percent, PERCENT * (ratios[i] - 1), 1));
    }
    return SAG_OK;
}

/* --- a larger transformer
 * --------------------------------------------------------------------------------------------- */

static enum sag_status larger_transformer(struct trial *t, const char *kind)
{
    enum {
        RATINGS_UP = 3
    };
    char kva[SAG_NUMBER_ROOM], now[SAG_NUMBER_ROOM];
    struct sag_shown name;
    for (int32_t at = likely_motor(t)->node; t->supply && at >= 0; at = t->supply->nodes[at].parent) {
        const struct sag_node *node = &t->supply->nodes[at];
        bool transformer = node->choice[SAG_NODE_KIND] == SAG_NODE_TRANSFORMER;
        double old = node->given[SAG_NODE_RATED_VA] / 1000, size = old;
        for (int i = 0; i < RATINGS_UP && transformer; i++) {
            size = sag_larger_transformer_kva(t->plan->plant->tables, size);
            if (isinf(size))
                break;
            trial_reset(t);
            scale_impedance(t, at, old / size);
            if (trial_passes(t))
                return trial_keep(t, kind, "%s with %s kVA instead of %s, at the same percent impedance",
                                  shown(&name, node->id), sag_number_figures(kva, size, 5),
                                  sag_number_figures(now, old, 5));
        }
    }
    return SAG_OK;
}

static const struct change changes[] = {
    {"load", unload},          {"shed", shed},           {"order", go_first},
    {"tap", raise_tap},        {"setting", own_setting}, {"starter", other_starter},
    {"conductor", conductors}, {"boost", boost},         {"transformer", larger_transformer},
};

const struct change *change_at(size_t index)
{
    return index < sizeof changes / sizeof *changes ? &changes[index] : NULL;
}
