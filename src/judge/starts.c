/* Starts, run and judged: each motor by itself, a sequence, or all together. */
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "judge/parts.h"

struct judging {
    const struct sag_start_plan *plan;
    struct sag_start_result *results;
    const struct sag_closing *closings; /* of a plan that is one run; NULL: each alone */
    size_t closing_count;
    size_t *slot_of; /* of each closing: its place in the results */
    atomic_bool no_memory;
};

static bool case_exists(const struct judging *j, size_t motor, enum sag_case which)
{
    const struct sag_plant *plant = j->plan->plant;
    const struct sag_board *board = board_of(plant, &plant->list->plates[motor]);
    return plant->cases[which] && sag_known(&board->of[which].volts);
}

/* The same closings at every corner. */
static int corner_count(const struct judging *j)
{
    return j->plan->likely_only ? 1 : SAG_CORNER_COUNT;
}

/* runs NULL: those that are kept. */
static enum sag_status run_corners(const struct judging *j, struct sag_start_job job, struct sag_run runs[])
{
    enum sag_status status = SAG_OK;
    for (int k = 0; k < corner_count(j) && status == SAG_OK; k++) {
        job.grid = &j->plan->grids[k];
        status = runs ? sag_run_up(&job, &runs[k]) : sag_keep_run(j->plan->kept, &job, (enum sag_corner)k);
    }
    return status;
}

static struct sag_start_job job_of(const struct judging *j, enum sag_case which)
{
    return (struct sag_start_job){.tables = j->plan->plant->tables,
                                  .list = j->plan->plant->list,
                                  .which = which,
                                  .shed = j->plan->shed,
                                  .shed_count = j->plan->shed_count,
                                  .starter = j->plan->starter,
                                  .restarted = j->plan->restarted};
}

/* A network that does not settle is an answer; memory that runs out is none. */
static void put_case(struct judging *j, const struct sag_run runs[], enum sag_status status, size_t closing,
                     struct sag_start_case *out)
{
    if (status == SAG_OK)
        condense_start(j->plan, runs, corner_count(j), closing, out);
    else if (status == SAG_NO_MEMORY)
        atomic_store(&j->no_memory, true);
    else
        *out = (struct sag_start_case){.present = true, .collapses = true, .run_share = NAN};
}

static void run_alone(void *context, size_t index)
{
    struct judging *j = context;
    size_t i = index / SAG_CASE_COUNT;
    enum sag_case which = (enum sag_case)(index % SAG_CASE_COUNT);
    const struct sag_closing closing = {j->plan->motors[i], 0};
    struct sag_run runs[SAG_CORNER_COUNT] = {0};
    if (!case_exists(j, closing.motor, which))
        return;
    struct sag_start_job job = job_of(j, which);
    job.closings = &closing;
    job.count = 1;
    const struct sag_run *kept = sag_find_kept(j->plan->kept, closing.motor, which);
    enum sag_status status = run_corners(j, job, kept ? NULL : runs);
    put_case(j, kept ? kept : runs, status, 0, &j->results[i].of[which]);
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_run_free(&runs[k]);
}

/* In the high case of one run light load means that nothing runs but what is started. */
static void run_plan(void *context, size_t index)
{
    struct judging *j = context;
    enum sag_case which = (enum sag_case)index;
    struct sag_run runs[SAG_CORNER_COUNT] = {0};
    bool any = false;
    for (size_t k = 0; k < j->closing_count; k++)
        any = any || case_exists(j, j->closings[k].motor, which);
    if (!any)
        return;
    struct sag_start_job job = job_of(j, which);
    job.closings = j->closings;
    job.count = j->closing_count;
    job.from_rest = sag_plan_from_rest(j->plan);
    enum sag_status status = run_corners(j, job, runs);
    for (size_t k = 0; k < j->closing_count; k++)
        if (case_exists(j, j->closings[k].motor, which))
            put_case(j, runs, status, k, &j->results[j->slot_of[k]].of[which]);
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_run_free(&runs[k]);
}

double sag_fire_pump_running(const struct sag_plant *plant, const struct sag_grid *grid, enum sag_case which,
                             size_t motor)
{
    const struct sag_grid_motor *g = &grid->motors[motor];
    double plate = plant->list->plates[motor].given[SAG_RATED_AMPS];
    double amps = SAG_FIRE_PUMP_RUN_AMPS * (isnan(plate) ? g->base.amps : plate);
    return sag_volts_at_amps(grid, which, motor, amps) / g->volts_rated;
}

static void put_fire_pump(struct judging *j, struct sag_start_result *r, enum sag_case which)
{
    if (r->motor.plate->choice[SAG_DUTY] != SAG_DUTY_FIRE_PUMP)
        return;
    r->of[which].run_share = sag_fire_pump_running(j->plan->plant, &j->plan->grids[SAG_CORNER_LIKELY], which, r->index);
    if (isinf(r->of[which].run_share))
        atomic_store(&j->no_memory, true);
}

static enum sag_verdict check_start(const struct judging *j, struct sag_start_result *r, const struct sag_start_case *c,
                                    enum sag_case which, struct start_reruns *reruns)
{
    const struct sag_plant *plant = j->plan->plant;
    const struct sag_subject subject = {.plant = plant,
                                        .motor = &r->motor,
                                        .board = board_of(plant, r->motor.plate),
                                        .which = which,
                                        .in_start = c,
                                        .grid = &j->plan->grids[SAG_CORNER_LIKELY],
                                        .start_reruns = reruns};
    const struct check_job job = {.subject = &subject,
                                  .from = checks_begin(CHECKS_START),
                                  .to = checks_begin(CHECKS_BOARD),
                                  .about = {.motor = r->index},
                                  .decisive = decisive_start_column};
    const struct finding_list out = {r->findings, &r->finding_count, SAG_MOST_START_FINDINGS};
    return run_checks(&job, &out).all;
}

static void judge_cases(struct judging *j, struct sag_start_result *r, struct start_reruns *reruns)
{
    const struct sag_start_case *any = NULL;
    for (int c = 0; c < SAG_CASE_COUNT && !any; c++)
        any = r->of[c].present ? &r->of[c] : NULL;
    if (!any)
        return;
    enum sag_verdict of_none = check_start(j, r, any, SAG_CASE_COUNT, reruns); /* what does not ask for the case */
    for (int k = 0; k < SAG_CASE_COUNT; k++) {
        struct sag_start_case *c = &r->of[k];
        if (!c->present)
            continue;
        put_fire_pump(j, r, (enum sag_case)k);
        c->verdict = c->collapses || c->likely.computed ? of_none : worse(of_none, SAG_VERDICT_UNKNOWN);
        c->verdict = worse(c->verdict, check_start(j, r, c, (enum sag_case)k, reruns));
        r->worst = worse(r->worst, c->verdict);
    }
    r->judged = true;
}

static void complete_and_judge(void *context, size_t i)
{
    struct judging *j = context;
    const struct sag_plant *plant = j->plan->plant;
    struct sag_start_result *r = &j->results[i];
    struct start_reruns reruns = {0};
    r->index = j->plan->motors[i];
    const struct sag_plate *plate = &plant->list->plates[r->index];
    struct sag_connection connection = connection_of(board_of(plant, plate));
    sag_complete_motor(plant->tables, plate, &connection, &r->motor);
    r->starter = sag_starter_of(plant->tables, plate);
    r->nominal_volts = board_of(plant, plate)->volts_nominal;
    judge_cases(j, r, &reruns);
    if (reruns.no_memory)
        atomic_store(&j->no_memory, true);
    start_reruns_free(&reruns);
}

static double order_of(const struct sag_start_plan *plan, size_t motor)
{
    return plan->plant->list->plates[motor].given[SAG_START_ORDER];
}

static double delay_of(const struct sag_start_plan *plan, size_t motor)
{
    double delay = plan->plant->list->plates[motor].given[SAG_START_DELAY];
    return isnan(delay) ? 0 : delay;
}

/* The place in the sequence: as listed, but for one that is tried first. */
static double place_of(const struct sag_start_plan *plan, size_t slot)
{
    bool first = plan->moves_first && plan->motors[slot] == plan->first;
    return first ? -INFINITY : order_of(plan, plan->motors[slot]);
}

/* A simple insertion: equal orders keep the list's order. */
static size_t sorted_by_order(const struct sag_start_plan *plan, size_t *slots)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->count; i++) {
        double order = place_of(plan, i);
        if (isnan(order))
            continue;
        size_t at = count++;
        for (; at > 0 && place_of(plan, slots[at - 1]) > order; at--)
            slots[at] = slots[at - 1];
        slots[at] = i;
    }
    return count;
}

static size_t put_closings(const struct sag_start_plan *plan, struct sag_closing *closings, size_t *slots)
{
    size_t count = 0;
    double at = 0, last = NAN;
    if (plan->order == SAG_START_SEQUENCE) {
        count = sorted_by_order(plan, slots);
        for (size_t i = 0; i < count; i++) {
            size_t motor = plan->motors[slots[i]];
            double delay = delay_of(plan, motor), order = order_of(plan, motor);
            if (i == 1 && plan->moves_first) /* whoever was first waits as long as the one that took its place did */
                delay = fmax(delay, delay_of(plan, plan->first));
            if (i > 0 && order != last) /* the first closes at once, equal orders close together */
                at += delay;
            last = order;
            closings[i] = (struct sag_closing){motor, at};
        }
        return count;
    }
    for (size_t i = 0; i < plan->count; i++) {
        uint8_t duty = plan->plant->list->plates[plan->motors[i]].choice[SAG_DUTY];
        if (duty == SAG_DUTY_SPARE || (duty == SAG_DUTY_FIRE_PUMP && plan->count > 1))
            continue; /* power that comes back does not start these */
        slots[count] = i;
        closings[count++] = (struct sag_closing){plan->motors[i], 0};
    }
    return count;
}

bool sag_plan_from_rest(const struct sag_start_plan *plan)
{
    return plan->order == SAG_START_TOGETHER && plan->count == plan->plant->list->count;
}

size_t sag_plan_closings(const struct sag_start_plan *plan, struct sag_closing *closings)
{
    size_t *slots = calloc(plan->count ? plan->count : 1, sizeof *slots);
    size_t count = slots ? put_closings(plan, closings, slots) : 0;
    free(slots);
    return count;
}

static enum sag_status run_together(struct judging *j)
{
    size_t room = j->plan->count ? j->plan->count : 1;
    struct sag_closing *closings = calloc(room, sizeof *closings);
    j->slot_of = calloc(room, sizeof *j->slot_of);
    enum sag_status status = closings && j->slot_of ? SAG_OK : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        j->closings = closings;
        j->closing_count = put_closings(j->plan, closings, j->slot_of);
        for (size_t c = 0; c < SAG_CASE_COUNT && j->closing_count; c++)
            run_plan(j, c);
    }
    free(closings);
    free(j->slot_of);
    return status;
}

enum sag_status sag_judge_starts(const struct sag_start_plan *plan, struct sag_start_result *results)
{
    struct judging j = {.plan = plan, .results = results};
    enum sag_status status = SAG_OK;
    memset(results, 0, plan->count * sizeof *results);
    if (plan->order == SAG_START_ALONE)
        sag_batch_run(run_alone, &j, plan->count * SAG_CASE_COUNT);
    else
        status = run_together(&j);
    if (status == SAG_OK && !atomic_load(&j.no_memory))
        sag_batch_run(complete_and_judge, &j, plan->count);
    return atomic_load(&j.no_memory) ? SAG_NO_MEMORY : status;
}
