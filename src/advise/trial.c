#include "advise/trial.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"

static enum sag_status copy_grid(const struct sag_grid *from, struct sag_grid *to)
{
    *to = *from;
    to->nodes = malloc(from->node_count * sizeof *to->nodes);
    to->motors = malloc((from->motor_count ? from->motor_count : 1) * sizeof *to->motors);
    return to->nodes && to->motors ? SAG_OK : SAG_NO_MEMORY;
}

void trial_reset(struct trial *t)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        const struct sag_grid *from = &t->plan->grids[k];
        memcpy(t->grids[k].nodes, from->nodes, from->node_count * sizeof *from->nodes);
        memcpy(t->grids[k].motors, from->motors, from->motor_count * sizeof *from->motors);
    }
    t->changed = *t->plan;
    t->changed.kept = NULL; /* those are of the plant as it is */
    t->changed.grids = t->grids;
    if (t->plan->order == SAG_START_ALONE) {
        t->changed.motors = &t->failed->index;
        t->changed.count = 1;
    }
}

enum sag_status trial_open(const struct sag_start_plan *plan, const struct sag_supply *supply,
                           const struct sag_start_result *failed, struct sag_advice_list *out, struct trial *t)
{
    *t = (struct trial){.plan = plan, .supply = supply, .failed = failed, .out = out};
    enum sag_status status = SAG_OK;
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        if (copy_grid(&plan->grids[k], &t->grids[k]) != SAG_OK)
            status = SAG_NO_MEMORY;
    t->results = calloc(plan->count ? plan->count : 1, sizeof *t->results);
    if (!t->results || status != SAG_OK)
        return SAG_NO_MEMORY;
    trial_reset(t);
    for (size_t i = 0; i < t->changed.count; i++)
        if (t->changed.motors[i] == failed->index)
            t->slot = i;
    return SAG_OK;
}

void trial_close(struct trial *t)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_grid_free(&t->grids[k]);
    free(t->results);
    free(t->later);
}

/* What no change of supply, starter or load cures is not asked of one. */
static bool can_be_cured(const struct sag_finding *f)
{
    return strcmp(f->check->name, "start_inertia") != 0;
}

bool sag_has_heavy_load(const struct sag_start_result *r)
{
    for (size_t i = 0; i < r->finding_count; i++)
        if (r->findings[i].verdict == SAG_VERDICT_FAIL && !can_be_cured(&r->findings[i]))
            return true;
    return false;
}

bool sag_is_curable(const struct sag_start_result *r)
{
    for (size_t i = 0; i < r->finding_count; i++)
        if (r->findings[i].verdict == SAG_VERDICT_FAIL && can_be_cured(&r->findings[i]))
            return true;
    return false;
}

static bool run(struct trial *t, const struct sag_start_plan *plan, size_t slot)
{
    t->out->tried++;
    t->last = &t->results[slot];
    enum sag_status status = sag_judge_starts(plan, t->results);
    t->no_memory = t->no_memory || status == SAG_NO_MEMORY;
    return status == SAG_OK && !sag_is_curable(&t->results[slot]);
}

bool trial_looks_hopeful(struct trial *t)
{
    struct sag_start_plan quick = t->changed;
    size_t shed[SAG_MOST_LOOKED_AT];
    size_t count = 0;
    quick.plant = &t->narrow;
    quick.likely_only = true;
    if (quick.order == SAG_START_ALONE)
        return run(t, &quick, t->slot);
    if (quick.moves_first || quick.shed_count + t->later_count > SAG_MOST_LOOKED_AT)
        return true;
    for (size_t i = 0; i < quick.shed_count; i++)
        shed[count++] = quick.shed[i];
    for (size_t i = 0; i < t->later_count; i++)
        shed[count++] = t->later[i];
    quick.order = SAG_START_ALONE;
    quick.motors = &t->failed->index;
    quick.count = 1;
    quick.shed = shed;
    quick.shed_count = count;
    return run(t, &quick, 0);
}

bool trial_passes(struct trial *t)
{
    if (!trial_looks_hopeful(t))
        return false;
    t->changed.likely_only = true;
    bool passes = run(t, &t->changed, t->slot);
    t->changed.likely_only = false;
    return passes && run(t, &t->changed, t->slot);
}

static enum sag_case failing_case(const struct sag_start_result *r)
{
    double lowest = INFINITY;
    enum sag_case which = SAG_CASE_NOMINAL;
    for (size_t i = 0; i < r->finding_count; i++) {
        const struct sag_finding *f = &r->findings[i];
        if (f->verdict != SAG_VERDICT_FAIL || !can_be_cured(f) || f->which >= SAG_CASE_COUNT) /* of no case */
            continue;
        double volts = r->of[f->which].volts_lowest.value;
        bool collapses = r->of[f->which].collapses;
        if (collapses || volts < lowest) {
            lowest = collapses ? 0 : volts;
            which = (enum sag_case)f->which;
        }
    }
    return which;
}

/* Only one case is looked at first, and of a sequence what closes later is known. */
static enum sag_status narrow(struct trial *t)
{
    struct sag_closing *closings = calloc(t->plan->count ? t->plan->count : 1, sizeof *closings);
    t->later = calloc(t->plan->count ? t->plan->count : 1, sizeof *t->later);
    t->narrow = *t->plan->plant;
    memset(t->narrow.cases, 0, sizeof t->narrow.cases);
    t->narrow.cases[failing_case(t->failed)] = true;
    if (!closings || !t->later) {
        free(closings);
        return SAG_NO_MEMORY;
    }
    size_t count = t->plan->order == SAG_START_SEQUENCE ? sag_plan_closings(t->plan, closings) : 0;
    double own = INFINITY;
    for (size_t i = 0; i < count; i++)
        own = closings[i].motor == t->failed->index ? closings[i].at : own;
    for (size_t i = 0; i < count; i++)
        if (closings[i].at > own)
            t->later[t->later_count++] = closings[i].motor;
    free(closings);
    return SAG_OK;
}

/* The worst verdict, what cannot be cured left out: that is said apart. */
static enum sag_verdict worst_curable(const struct sag_start_result *r)
{
    enum sag_verdict worst = SAG_VERDICT_OK;
    for (size_t i = 0; i < r->finding_count; i++)
        if (can_be_cured(&r->findings[i]) && r->findings[i].verdict > worst)
            worst = (enum sag_verdict)r->findings[i].verdict;
    return worst;
}

static enum sag_case hardest(const struct sag_start_result *r)
{
    enum sag_case which = SAG_CASE_NOMINAL;
    double lowest = INFINITY;
    for (int c = 0; c < SAG_CASE_COUNT; c++)
        if (r->of[c].present && r->of[c].volts_lowest.value < lowest) {
            lowest = r->of[c].volts_lowest.value;
            which = (enum sag_case)c;
        }
    return which;
}

enum sag_status trial_keep(struct trial *t, const char *kind, const char *format, ...)
{
    struct sag_advice_list *list = t->out;
    if (!sag_grow(&list->items, list->count + 1, &list->room, sizeof *list->items))
        return SAG_NO_MEMORY;
    const struct sag_start_result *r = &t->results[t->slot];
    struct sag_advice *a = &list->items[list->count++];
    *a = (struct sag_advice){.motor = r->index, .kind = kind, .which = hardest(r), .verdict = worst_curable(r)};
    a->start = r->of[a->which];
    a->volts_share = a->start.terminals_lowest.value / r->motor.fact[SAG_RATED_VOLTS].value;
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(a->change, sizeof a->change, format, arguments);
    va_end(arguments);
    return SAG_OK;
}

double tap_of(const struct sag_supply *supply, int32_t node)
{
    double tap = supply->nodes[node].given[SAG_NODE_TAP];
    return isnan(tap) ? 0 : tap;
}

void set_tap(struct trial *t, int32_t node, double tap)
{
    double factor = (1 + tap) / (1 + tap_of(t->supply, node));
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        t->grids[k].nodes[node].ratio = t->plan->grids[k].nodes[node].ratio * factor;
}

void scale_impedance(struct trial *t, int32_t node, double factor)
{
    for (int k = 0; k < SAG_CORNER_COUNT; k++) {
        t->grids[k].nodes[node].r = t->plan->grids[k].nodes[node].r * factor;
        t->grids[k].nodes[node].x = t->plan->grids[k].nodes[node].x * factor;
    }
}

void sag_advice_free(struct sag_advice_list *list)
{
    free(list->items);
    *list = (struct sag_advice_list){0};
}

enum sag_status sag_advice_join(struct sag_advice_list *list, const struct sag_advice_list *more)
{
    if (!sag_grow(&list->items, list->count + more->count, &list->room, sizeof *list->items))
        return SAG_NO_MEMORY;
    if (more->count)
        memcpy(list->items + list->count, more->items, more->count * sizeof *more->items);
    list->count += more->count;
    list->tried += more->tried;
    return SAG_OK;
}

enum sag_status sag_advise_start(const struct sag_start_plan *plan, const struct sag_supply *supply,
                                 const struct sag_start_result *result, struct sag_advice_list *out)
{
    struct trial t;
    size_t before = out->count;
    if (!result->judged || !sag_is_curable(result))
        return SAG_OK;
    enum sag_status status = trial_open(plan, supply, result, out, &t);
    if (status == SAG_OK)
        status = narrow(&t);
    for (size_t i = 0; change_at(i) && status == SAG_OK && out->count - before < SAG_ADVICE_ENOUGH; i++) {
        trial_reset(&t);
        status = change_at(i)->attempt(&t, change_at(i)->kind);
        status = t.no_memory ? SAG_NO_MEMORY : status;
    }
    trial_close(&t);
    return status;
}
