/* A whole plant: its motors over threads, then its feeders from the ends of the path up. */
#include <stdlib.h>

#include "base/batch.h"
#include "protect/parts.h"

struct batch {
    const struct sag_size_job *job;
    struct sag_plant_size *out;
};

static void size_one(void *context, size_t i)
{
    const struct batch *b = context;
    const struct sag_size_job *job = b->job;
    const struct sag_plate *plate = &job->list->plates[i];
    const struct sag_board *board = &job->boards[plate->feeder];
    const struct sag_connection connection = {board->volts_nominal, board->hz, board->neutral_share};
    struct sag_motor motor;
    sag_complete_motor(job->tables, plate, &connection, &motor);
    bool on_set = is_on_set(job->supply, job->list->feeders[plate->feeder].node);
    sag_size_motor(job, &motor, on_set, &b->out->motors[i]);
}

enum sag_status sag_size_plant(const struct sag_size_job *job, struct sag_plant_size *out)
{
    size_t feeders = job->supply ? job->supply->count : job->list->feeder_count;
    *out = (struct sag_plant_size){.motor_count = job->list->count, .feeder_count = feeders};
    out->motors = calloc(out->motor_count ? out->motor_count : 1, sizeof *out->motors);
    out->feeders = calloc(feeders ? feeders : 1, sizeof *out->feeders);
    if (job->supply)
        out->transformers = calloc(feeders ? feeders : 1, sizeof *out->transformers);
    if (!out->motors || !out->feeders || (job->supply && !out->transformers))
        return SAG_NO_MEMORY;
    struct batch batch = {job, out};
    sag_batch_run(size_one, &batch, out->motor_count);
    return size_feeders(job, out);
}

void sag_plant_size_free(struct sag_plant_size *size)
{
    free(size->motors);
    free(size->feeders);
    free(size->transformers);
    *size = (struct sag_plant_size){0};
}
