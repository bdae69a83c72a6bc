/* Circuits judged: each motor started by itself for the let-start check, then the checks of its branch; feeders and
   transformers by their own. */
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "judge/parts.h"

struct judging {
    const struct sag_protect_job *job;
    const size_t *motors;
    struct sag_branch_result *results;
    atomic_bool no_memory;         /* for a run, on whatever thread */
    struct sag_start_result *fire; /* starts of fire pumps, one a motor of the job; judged false for the others */
};

/* --- let-start --------------------------------------------------------------------------------------------------- */

/* A start as likely, and at the bounds of what is assumed. Returns how many corners ran: one that ends in a collapse is
   no start to let pass, and neither is any behind it. runs NULL: those that are kept. */
static int run_corners(struct judging *j, size_t motor, enum sag_case which, struct sag_run runs[])
{
    const struct sag_protect_job *job = j->job;
    const struct sag_closing closing = {motor, 0};
    struct sag_start_job start = {.tables = job->plant->tables,
                                  .list = job->plant->list,
                                  .closings = &closing,
                                  .count = 1,
                                  .which = which,
                                  .keep_trace = true};
    int done = 0;
    enum sag_status status = SAG_OK;
    while (done < SAG_CORNER_COUNT && status == SAG_OK) {
        start.grid = &job->grids[done];
        status = runs ? sag_run_up(&start, &runs[done]) : sag_keep_run(job->kept, &start, (enum sag_corner)done);
        done += status == SAG_OK;
    }
    if (status == SAG_NO_MEMORY)
        atomic_store(&j->no_memory, true);
    return done;
}

static bool case_exists(const struct sag_plant *plant, size_t motor, enum sag_case which)
{
    const struct sag_board *board = board_of(plant, &plant->list->plates[motor]);
    return plant->cases[which] && sag_known(&board->of[which].volts);
}

static void let_one(void *context, size_t index)
{
    struct judging *j = context;
    struct sag_branch_result *r = &j->results[index / SAG_CASE_COUNT];
    enum sag_case which = (enum sag_case)(index % SAG_CASE_COUNT);
    struct sag_run runs[SAG_CORNER_COUNT];
    memset(runs, 0, sizeof runs);
    if (!case_exists(j->job->plant, r->index, which) || (j->job->left_out && j->job->left_out[r->index]))
        return;
    const struct sag_run *kept = sag_find_kept(j->job->kept, r->index, which);
    const struct sag_let_job let = {.tables = j->job->plant->tables,
                                    .size = &j->job->size->motors[r->index],
                                    .motor = &r->motor,
                                    .runs = kept ? kept : runs,
                                    .run_count = run_corners(j, r->index, which, kept ? NULL : runs),
                                    .device_curve = j->job->device_curve,
                                    .relay_curve = j->job->relay_curve};
    sag_find_let_start(&let, &r->let[which]);
    for (int k = 0; k < SAG_CORNER_COUNT; k++)
        sag_run_free(&runs[k]);
}

static const struct sag_passage *part_of(const struct sag_let_start *let, enum sag_passage_part part)
{
    switch (part) {
    case SAG_PASSES_RELAY:
        return &let->relay;
    case SAG_PASSES_DEVICE:
        return &let->device;
    default:
        return &let->instant;
    }
}

/* Each part in the case that is worst for it: long starts for relays, large currents for peaks. */
static void find_worst(struct sag_branch_result *r)
{
    for (int part = 0; part < SAG_PASSAGE_PARTS; part++) {
        r->worst_case[part] = SAG_CASE_COUNT;
        r->worst[part] = (struct sag_passage){sag_unknown(), SAG_LET_NONE};
        for (int c = 0; c < SAG_CASE_COUNT; c++) {
            const struct sag_passage *p = part_of(&r->let[c], (enum sag_passage_part)part);
            bool worse_one = p->let > r->worst[part].let ||
                             (p->let == r->worst[part].let && p->used.high > r->worst[part].used.high);
            if (!r->let[c].computed || !worse_one)
                continue;
            r->worst[part] = *p;
            r->worst_case[part] = (enum sag_case)c;
        }
        if (r->worst[part].let > r->all)
            r->all = r->worst[part].let;
    }
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        r->computed = r->computed || r->let[c].computed;
        r->hangs = r->hangs || r->let[c].hangs;
    }
}

/* --- branches ---------------------------------------------------------------------------------------------------- */

/* What would settle it: the class of the relay, a curve, else what the start itself rests on. */
static const char *decisive_of_branch(const struct sag_subject *s, const struct sag_check *check)
{
    bool relay = check->measure == measure_relay_passes || check->measure == measure_relay_guards;
    if (relay && s->relay->class_assumed && !s->relay->curve.count)
        return "trip_class";
    if (relay && !s->relay->curve.count)
        return "relay_curve";
    if (check->measure == measure_device_passes && !s->branch->own_device_curve)
        return "device_curve";
    if (check->measure == measure_peak_passes && !s->branch->own_device_curve)
        return "the breaker's instantaneous trip";
    uint64_t assumed = sag_assumed_in_start(s->motor);
    for (int f = 0; f < SAG_FACT_COUNT; f++)
        if (assumed >> f & 1 && sag_motor_column_of((enum sag_fact)f))
            return sag_motor_column_of((enum sag_fact)f);
    return "";
}

static void check_branch(const struct sag_subject *subject, size_t from, size_t to, struct sag_branch_result *r)
{
    const struct check_job job = {
        .subject = subject, .from = from, .to = to, .about = {.motor = r->index}, .decisive = decisive_of_branch};
    const struct finding_list out = {r->findings, &r->finding_count, SAG_MOST_BRANCH_FINDINGS};
    struct worst worst = run_checks(&job, &out);
    r->verdict = worse(r->verdict, worst.all);
    r->judged = r->judged || worst.applied;
}

static void put_running_amps(const struct sag_protect_job *job, struct sag_branch_result *r)
{
    r->running_amps = NAN;
    if (!job->plant->volts)
        return;
    bool three = r->motor.fact[SAG_PHASES].value == 3; /* of a single-phase motor a third is kept there */
    for (int c = 0; c < SAG_CASE_COUNT && three; c++)
        if (case_exists(job->plant, r->index, (enum sag_case)c))
            r->running_amps = fmax(r->running_amps, job->plant->volts[r->index].amps[c]);
}

/* 695.7 is a matter of the network: its two checks are those of a start. */
static void take_fire_checks(const struct sag_start_result *start, struct sag_branch_result *r)
{
    for (size_t i = 0; i < start->finding_count && r->finding_count < SAG_MOST_BRANCH_FINDINGS; i++) {
        const struct sag_finding *f = &start->findings[i];
        if (f->check->measure != measure_fire_start && f->check->measure != measure_fire_run)
            continue;
        r->findings[r->finding_count++] = *f;
        r->verdict = worse(r->verdict, (enum sag_verdict)f->verdict);
    }
    double nominal = start->nominal_volts;
    for (int c = 0; c < SAG_CASE_COUNT; c++) {
        const struct sag_start_case *of = &start->of[c];
        if (!of->present || !of->likely.computed)
            continue;
        r->start_volts_share = fmin(r->start_volts_share, of->board_lowest.value / nominal);
        r->run_volts_share = fmin(r->run_volts_share, of->run_share);
        r->judged = true;
    }
}

static void judge_one(void *context, size_t i)
{
    const struct judging *j = context;
    const struct sag_plant *plant = j->job->plant;
    struct sag_branch_result *r = &j->results[i];
    const struct sag_motor_size *size = &j->job->size->motors[r->index];
    find_worst(r);
    put_running_amps(j->job, r);
    struct sag_subject s = {.plant = plant,
                            .motor = &r->motor,
                            .board = board_of(plant, r->motor.plate),
                            .which = SAG_CASE_COUNT,
                            .size = size,
                            .branch = r,
                            .relay = &r->relay};
    size_t plate = check_place(measure_plate_amps), let = check_place(measure_relay_passes);
    check_branch(&s, plate, plate + 1, r);
    r->judged = r->verdict != SAG_VERDICT_OK; /* a plate that agrees with itself says nothing of its circuit */
    check_branch(&s, checks_begin(CHECKS_BRANCH), let, r);
    for (int part = 0; part < SAG_PASSAGE_PARTS; part++) {
        s.which = r->worst_case[part];
        check_branch(&s, let + (size_t)part, let + (size_t)part + 1, r);
    }
    r->start_volts_share = r->run_volts_share = NAN;
    if (j->fire[i].judged)
        take_fire_checks(&j->fire[i], r);
    bool no_answer = size->sizing == SAG_SIZED_NOT || (size->sizing == SAG_SIZED && !size->wire.size);
    if (no_answer || (r->hangs && !r->computed)) {
        r->verdict = worse(r->verdict, SAG_VERDICT_UNKNOWN);
        r->judged = true;
    }
}

static void complete_one(void *context, size_t i)
{
    const struct judging *j = context;
    const struct sag_plant *plant = j->job->plant;
    struct sag_branch_result *r = &j->results[i];
    const struct sag_plate *plate = &plant->list->plates[j->motors[i]];
    struct sag_connection connection = connection_of(board_of(plant, plate));
    memset(r, 0, sizeof *r);
    r->index = j->motors[i];
    sag_complete_motor(plant->tables, plate, &connection, &r->motor);
    r->relay = sag_relay_of(plant->tables, &j->job->size->motors[r->index], &r->motor, j->job->relay_curve);
    r->own_device_curve = j->job->device_curve.count > 0;
}

/* Typed volts are held whatever happens, so there is no network to ask. */
static enum sag_status start_fire_pumps(const struct judging *j, size_t count)
{
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < count && j->job->supply && status == SAG_OK; i++) {
        size_t motor = j->motors[i];
        bool left_out = j->job->left_out && j->job->left_out[motor];
        if (left_out || j->job->plant->list->plates[motor].choice[SAG_DUTY] != SAG_DUTY_FIRE_PUMP)
            continue;
        const struct sag_start_plan plan = {.plant = j->job->plant,
                                            .grids = j->job->grids,
                                            .order = SAG_START_ALONE,
                                            .motors = &j->motors[i],
                                            .count = 1,
                                            .kept = j->job->kept};
        status = sag_judge_starts(&plan, &j->fire[i]);
    }
    return status;
}

enum sag_status sag_judge_branches(const struct sag_protect_job *job, const size_t *motors, size_t count,
                                   struct sag_branch_result *results)
{
    struct judging j = {.job = job, .motors = motors, .results = results};
    j.fire = calloc(count ? count : 1, sizeof *j.fire);
    if (!j.fire)
        return SAG_NO_MEMORY;
    sag_batch_run(complete_one, &j, count);
    sag_batch_run(let_one, &j, count * SAG_CASE_COUNT);
    enum sag_status status = atomic_load(&j.no_memory) ? SAG_NO_MEMORY : start_fire_pumps(&j, count);
    if (status == SAG_OK)
        sag_batch_run(judge_one, &j, count);
    free(j.fire);
    return status;
}

/* --- feeders, transformers --------------------------------------------------------------------------------------- */

static const char *decisive_of_circuit(const struct sag_subject *s, const struct sag_check *check)
{
    (void)s;
    return check->measure == measure_fault_rating        ? "fault_mva"
           : check->measure == measure_secondary_missing ? "device_amps"
                                                         : "";
}

static void check_circuit(const struct sag_subject *subject, size_t from, size_t to, const char *id,
                          struct sag_circuit_result *r)
{
    const struct check_job job = {
        .subject = subject, .from = from, .to = to, .about = {.board = id}, .decisive = decisive_of_circuit};
    const struct finding_list out = {r->findings, &r->finding_count, SAG_MOST_CIRCUIT_FINDINGS};
    struct worst worst = run_checks(&job, &out);
    r->verdict = worse(r->verdict, worst.all);
    r->judged = r->judged || worst.applied;
}

void sag_judge_circuits(const struct sag_protect_job *job, struct sag_circuit_result *feeders,
                        struct sag_circuit_result *transformers)
{
    size_t fault = check_place(measure_fault_rating);
    for (size_t i = 0; i < job->size->feeder_count; i++) {
        const struct sag_feeder_size *f = &job->size->feeders[i];
        struct sag_subject s = {.plant = job->plant, .which = SAG_CASE_COUNT, .feeder = f->sized ? f : NULL};
        feeders[i] = (struct sag_circuit_result){0};
        if (job->supply) {
            s.grid = job->grids;
            s.node = &job->grids->nodes[i];
            s.report = &job->reports[i];
            check_circuit(&s, fault, fault + 1, f->id, &feeders[i]);
        }
        check_circuit(&s, checks_begin(CHECKS_FEEDER), checks_begin(CHECKS_TRANSFORMER), f->id, &feeders[i]);
        if (f->sized && !f->wire.size) {
            feeders[i].verdict = worse(feeders[i].verdict, SAG_VERDICT_UNKNOWN);
            feeders[i].judged = true;
        }
        if (!transformers)
            continue;
        transformers[i] = (struct sag_circuit_result){0};
        s.feeder = NULL;
        s.transformer = job->size->transformers[i].sized ? &job->size->transformers[i] : NULL;
        check_circuit(&s, checks_begin(CHECKS_TRANSFORMER), checks_begin(CHECKS_SURVEY), f->id, &transformers[i]);
    }
}
