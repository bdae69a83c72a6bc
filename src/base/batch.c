#include "base/batch.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

enum {
    MAX_THREADS = 32,
    CHUNK = 16, /* indices taken at a time at most: enough not to fight over the counter, */
    TURNS = 8   /* but few enough that each thread takes some turns, so that none ends long before the others */
};

struct batch {
    sag_batch_fn *work;
    void *context;
    size_t count, chunk;
    atomic_size_t next;
};

static void *drain(void *argument)
{
    struct batch *batch = argument;
    for (;;) {
        size_t start = atomic_fetch_add(&batch->next, batch->chunk);
        if (start >= batch->count)
            return NULL;
        size_t end = start + batch->chunk < batch->count ? start + batch->chunk : batch->count;
        for (size_t i = start; i < end; i++)
            batch->work(batch->context, i);
    }
}

static size_t thread_count(void)
{
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    size_t threads = processors > 1 ? (size_t)processors : 1;
    return threads < MAX_THREADS ? threads : MAX_THREADS;
}

static size_t chunk_of(size_t count, size_t threads)
{
    size_t chunk = count / (threads * TURNS);
    return chunk < 1 ? 1 : chunk > CHUNK ? CHUNK : chunk;
}

void sag_batch_run(sag_batch_fn *work, void *context, size_t count)
{
    size_t wanted = thread_count(), made = 0;
    struct batch batch = {.work = work, .context = context, .count = count, .chunk = chunk_of(count, wanted)};
    pthread_t threads[MAX_THREADS];
    while (made + 1 < wanted && made + 1 < count && pthread_create(&threads[made], NULL, drain, &batch) == 0)
        made++;
    drain(&batch);
    for (size_t i = 0; i < made; i++)
        pthread_join(threads[i], NULL);
}
