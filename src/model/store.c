/* Plates repeat: a plant buys ten of the same motor. Circuits are kept by what they had to reproduce. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/batch.h"
#include "model/parts.h"

struct sag_fit_slot {
    struct sag_targets targets;
    struct sag_machine machine;
    bool used;
};

enum {
    MOST_KEPT = 65536 /* beyond that a list is not a plant's, and memory matters more than repeats */
};

/* One distinct set of targets in a batch, and whether it still has to be fitted. */
struct job {
    struct sag_targets targets;
    struct sag_machine machine;
    bool known;
};

static uint64_t mix(uint64_t h, double value)
{
    uint64_t bits = 0;
    value = isnan(value) ? 0 : value; /* one pattern for all NANs */
    memcpy(&bits, &value, sizeof bits);
    h = (h ^ bits) * 0x9E3779B97F4A7C15U;
    return h ^ h >> 29;
}

static uint64_t hash(const struct sag_targets *t)
{
    uint64_t h = mix(mix(mix((uint64_t)t->poles, t->efficiency), t->power_factor), t->slip);
    return mix(mix(mix(h, t->locked_amps), t->locked_torque), t->breakdown_torque);
}

static bool same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static bool same_targets(const struct sag_targets *a, const struct sag_targets *b)
{
    return a->poles == b->poles && same(a->efficiency, b->efficiency) && same(a->power_factor, b->power_factor) &&
           same(a->slip, b->slip) && same(a->locked_amps, b->locked_amps) && same(a->locked_torque, b->locked_torque) &&
           same(a->breakdown_torque, b->breakdown_torque);
}

static struct sag_fit_slot *find(struct sag_fit_slot *slots, size_t room, const struct sag_targets *targets)
{
    size_t at = (size_t)hash(targets) & (room - 1);
    while (slots[at].used && !same_targets(&slots[at].targets, targets))
        at = (at + 1) & (room - 1);
    return &slots[at];
}

static bool grow(struct sag_fit_store *store)
{
    size_t room = store->room ? 2 * store->room : 64;
    struct sag_fit_slot *slots = calloc(room, sizeof *slots);
    if (!slots)
        return false;
    for (size_t i = 0; i < store->room; i++)
        if (store->slots[i].used)
            *find(slots, room, &store->slots[i].targets) = store->slots[i];
    free(store->slots);
    store->slots = slots;
    store->room = room;
    return true;
}

void sag_fit_store_free(struct sag_fit_store *store)
{
    free(store->slots);
    *store = (struct sag_fit_store){0};
}

static void remember(struct sag_fit_store *store, const struct job *job)
{
    if (store->count >= MOST_KEPT || (2 * (store->count + 1) > store->room && !grow(store)))
        return; /* a circuit that is not kept is only fitted again */
    struct sag_fit_slot *slot = find(store->slots, store->room, &job->targets);
    if (slot->used)
        return;
    *slot = (struct sag_fit_slot){job->targets, job->machine, true};
    store->count++;
}

static void fit_one(void *context, size_t index)
{
    struct job *job = &((struct job *)context)[index];
    if (!job->known)
        sag_fit_machine(&job->targets, &job->machine);
}

/* Distinct targets of the motors become jobs; job_of[i] is the job of motor i, count where it has none. */
static size_t collect(struct sag_fit_store *store, const struct sag_motor *motors, size_t count, struct job *jobs,
                      uint32_t *job_of)
{
    size_t made = 0;
    size_t room = 4;
    while (room < 2 * count)
        room *= 2;
    uint32_t *seen = calloc(room, sizeof *seen); /* job number plus one */
    for (size_t i = 0; i < count; i++) {
        struct sag_targets t;
        job_of[i] = (uint32_t)count;
        if (!sag_targets_of(&motors[i], &t))
            continue;
        size_t at = (size_t)hash(&t) & (room - 1);
        while (seen && seen[at] && !same_targets(&jobs[seen[at] - 1].targets, &t))
            at = (at + 1) & (room - 1);
        if (seen && seen[at]) {
            job_of[i] = seen[at] - 1;
            continue;
        }
        struct sag_fit_slot *slot = store->room ? find(store->slots, store->room, &t) : NULL;
        jobs[made] = (struct job){.targets = t, .known = slot && slot->used};
        if (jobs[made].known)
            jobs[made].machine = slot->machine;
        job_of[i] = (uint32_t)made++;
        if (seen)
            seen[at] = (uint32_t)made;
    }
    free(seen);
    return made;
}

enum sag_status sag_fit_all(struct sag_fit_store *store, const struct sag_motor *motors, size_t count,
                            struct sag_machine *machines)
{
    struct job *jobs = calloc(count ? count : 1, sizeof *jobs);
    uint32_t *job_of = calloc(count ? count : 1, sizeof *job_of);
    enum sag_status status = jobs && job_of ? SAG_OK : SAG_NO_MEMORY;
    if (status == SAG_OK) {
        size_t made = collect(store, motors, count, jobs, job_of);
        sag_batch_run(fit_one, jobs, made);
        for (size_t i = 0; i < made; i++)
            if (!jobs[i].known)
                remember(store, &jobs[i]);
        for (size_t i = 0; i < count; i++)
            machines[i] = job_of[i] < count ? jobs[job_of[i]].machine : (struct sag_machine){.way = SAG_FIT_NONE};
    }
    free(jobs);
    free(job_of);
    return status;
}
