#include "base/batch.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

enum {
    MAX_THREADS = 32,
    CHUNK = 16 /* indices taken at a time: few enough to balance, many enough not to fight over the counter */
};

struct batch {
    sag_batch_fn *work;
    void *context;
    size_t count;
    atomic_size_t next;
};

static void *drain(void *argument)
{
    struct batch *batch = argument;
    for (;;) {
        size_t start = atomic_fetch_add(&batch->next, CHUNK);
        if (start >= batch->count)
            return NULL;
        size_t end = start + CHUNK < batch->count ? start + CHUNK : batch->count;
        for (size_t i = start; i < end; i++)
            batch->work(batch->context, i);
    }
}

static size_t thread_count(size_t count)
{
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    size_t useful = (count + CHUNK - 1) / CHUNK;
    size_t threads = processors > 1 ? (size_t)processors : 1;
    threads = threads < MAX_THREADS ? threads : MAX_THREADS;
    return threads < useful ? threads : useful;
}

void sag_batch_run(sag_batch_fn *work, void *context, size_t count)
{
    struct batch batch = {.work = work, .context = context, .count = count};
    pthread_t threads[MAX_THREADS];
    size_t wanted = thread_count(count);
    size_t made = 0;
    while (made + 1 < wanted && pthread_create(&threads[made], NULL, drain, &batch) == 0)
        made++;
    drain(&batch);
    for (size_t i = 0; i < made; i++)
        pthread_join(threads[i], NULL);
}
