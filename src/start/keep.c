/* Runs of motors by themselves that several stages look at: made once, kept with their traces. */
#include <stdlib.h>
#include <string.h>

#include "sagband/start.h"

enum kept_state {
    NOT_MADE,
    MADE,
    UNSOLVED,
    NO_ROOM
};

enum sag_status sag_kept_init(struct sag_kept_runs *kept, const size_t *motors, size_t count)
{
    size_t runs = (count ? count : 1) * SAG_CASE_COUNT * SAG_CORNER_COUNT;
    *kept = (struct sag_kept_runs){.motors = motors, .count = count};
    kept->runs = calloc(runs, sizeof *kept->runs);
    kept->state = calloc(runs, sizeof *kept->state);
    return kept->runs && kept->state ? SAG_OK : SAG_NO_MEMORY;
}

void sag_kept_free(struct sag_kept_runs *kept)
{
    for (size_t i = 0; kept->runs && i < kept->count * SAG_CASE_COUNT * SAG_CORNER_COUNT; i++)
        sag_run_free(&kept->runs[i]);
    free(kept->runs);
    free(kept->state);
    *kept = (struct sag_kept_runs){0};
}

static int by_index(const void *left, const void *right)
{
    const size_t *a = left, *b = right;
    return (*a > *b) - (*a < *b);
}

/* Where the runs of a motor in a case begin; SIZE_MAX: it is none of those. */
static size_t slot_of(const struct sag_kept_runs *kept, size_t motor, enum sag_case which)
{
    const size_t *found =
        kept && kept->count ? bsearch(&motor, kept->motors, kept->count, sizeof motor, by_index) : NULL;
    return found ? ((size_t)(found - kept->motors) * SAG_CASE_COUNT + which) * SAG_CORNER_COUNT : SIZE_MAX;
}

const struct sag_run *sag_find_kept(const struct sag_kept_runs *kept, size_t motor, enum sag_case which)
{
    size_t slot = slot_of(kept, motor, which);
    return slot == SIZE_MAX ? NULL : &kept->runs[slot];
}

enum sag_status sag_keep_run(struct sag_kept_runs *kept, const struct sag_start_job *job, enum sag_corner corner)
{
    static const enum sag_status answers[] = {[MADE] = SAG_OK, [UNSOLVED] = SAG_NO_SOLUTION, [NO_ROOM] = SAG_NO_MEMORY};
    size_t slot = slot_of(kept, job->closings[0].motor, job->which) + corner;
    if (kept->state[slot] == NOT_MADE) {
        struct sag_start_job traced = *job;
        traced.keep_trace = true;
        enum sag_status status = sag_run_up(&traced, &kept->runs[slot]);
        kept->state[slot] = status == SAG_OK ? MADE : status == SAG_NO_MEMORY ? NO_ROOM : UNSOLVED;
    }
    return answers[kept->state[slot]];
}
