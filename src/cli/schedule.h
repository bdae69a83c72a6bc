/* What `protect` and `report` share: every circuit of the path sized, its feeders and transformers judged. */
#ifndef CLI_SCHEDULE_H
#define CLI_SCHEDULE_H

#include "cli/session.h"

struct schedule {
    struct sag_plant_size size;
    struct sag_grid grids[SAG_CORNER_COUNT];
    struct sag_protect_job job;
    struct sag_circuit_result *feeders, *transformers;
    bool *shown;   /* of each feeder of the size */
    size_t *first; /* of each feeder of the list: where its motors begin in the session's order, and the end */
    struct sag_protect_table table;
};

/* Sorts the session's order by feeder. The caller frees it with schedule_free(), also after a failure. */
enum sag_status schedule_open(struct session *s, struct schedule *p);
void schedule_free(struct schedule *p);

/* Is that row of the size one of the schedule? Typed volts with one motor have no feeder to speak of. */
bool schedule_shows_feeder(const struct session *s, const struct schedule *p, size_t i);
bool schedule_shows_transformer(const struct schedule *p, size_t i);
/* Do motors of the session's order hang on it? */
bool schedule_has_motors(const struct schedule *p, size_t i);
/* All clauses that its numbers rest on, a bit a clause. */
uint64_t schedule_clauses(const struct session *s, const struct schedule *p);

#endif
