/* The chain for a batch of motors: complete, fit, effects, checks. */
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "judge/parts.h"

struct batch {
    const struct sag_plant *plant;
    const size_t *indexes;
    struct sag_motor *motors;
    struct sag_machine *machines;
    struct sag_result *results;
    atomic_bool no_memory; /* for one of them, on whatever thread */
};

static void complete_one(void *context, size_t i)
{
    struct batch *b = context;
    const struct sag_plate *plate = &b->plant->list->plates[b->indexes[i]];
    struct sag_connection connection = connection_of(board_of(b->plant, plate));
    sag_complete_motor(b->plant->tables, plate, &connection, &b->motors[i]);
}

static struct worst check_motor(const struct sag_subject *subject, struct sag_result *r)
{
    const struct check_job job = {.subject = subject,
                                  .to = checks_begin(CHECKS_START),
                                  .about = {.motor = r->index},
                                  .decisive = decisive_column};
    const struct finding_list out = {r->findings, &r->finding_count, SAG_MOST_FINDINGS};
    return run_checks(&job, &out);
}

static void judge_case(struct sag_result *r, const struct sag_plant *plant, enum sag_case which, struct reruns *reruns)
{
    const struct sag_board *board = board_of(plant, r->motor.plate);
    struct sag_motor_case *c = &r->of[which];
    c->present = plant->cases[which] && sag_known(&board->of[which].volts);
    if (!c->present)
        return;
    c->supply_volts = volts_at_board(plant, r->motor.plate, which);
    find_terminals(plant, &r->motor, which, &c->terminals);
    struct sag_supply_point point = {c->terminals.volts.value, c->terminals.hz, c->terminals.unbalance,
                                     c->terminals.negative_share};
    sag_find_effects(&r->motor, &r->machine, &point, &c->effects);
    struct sag_subject subject = {.plant = plant,
                                  .motor = &r->motor,
                                  .machine = &r->machine,
                                  .board = board,
                                  .in_case = c,
                                  .which = which,
                                  .reruns = reruns};
    struct worst worst = check_motor(&subject, r);
    c->verdict = worst.all;
    c->band_verdict = worst.band;
    r->worst = worse(r->worst, c->verdict);
}

static void judge_one(void *context, size_t i)
{
    struct batch *b = context;
    struct sag_result *r = &b->results[i];
    memset(r, 0, sizeof *r);
    r->index = b->indexes[i];
    r->motor = b->motors[i];
    r->machine = b->machines[i];
    struct reruns reruns = {0};
    struct sag_subject plate = {.plant = b->plant,
                                .motor = &r->motor,
                                .machine = &r->machine,
                                .board = board_of(b->plant, r->motor.plate),
                                .which = SAG_CASE_COUNT,
                                .reruns = &reruns};
    enum sag_verdict of_plate = check_motor(&plate, r).all;
    r->worst = of_plate;
    for (int which = 0; which < SAG_CASE_COUNT; which++) {
        judge_case(r, b->plant, (enum sag_case)which, &reruns);
        r->of[which].verdict = worse(r->of[which].verdict, of_plate);
        r->judged = r->judged || r->of[which].present;
    }
    if (reruns.no_memory)
        atomic_store(&b->no_memory, true);
    reruns_free(&reruns);
    if (!r->judged) /* no volts are known here in the cases asked for */
        r->worst = worse(r->worst, SAG_VERDICT_UNKNOWN);
}

enum sag_status sag_judge_motors(const struct sag_plant *plant, const size_t *indexes, size_t count,
                                 struct sag_result *results)
{
    struct batch b = {.plant = plant, .indexes = indexes, .results = results};
    b.motors = calloc(count ? count : 1, sizeof *b.motors);
    b.machines = calloc(count ? count : 1, sizeof *b.machines);
    enum sag_status status = b.motors && b.machines ? SAG_OK : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        sag_batch_run(complete_one, &b, count);
        status = sag_fit_all(plant->store, b.motors, count, b.machines);
    }
    if (status == SAG_OK)
        sag_batch_run(judge_one, &b, count);
    if (atomic_load(&b.no_memory))
        status = SAG_NO_MEMORY;
    free(b.motors);
    free(b.machines);
    return status;
}
