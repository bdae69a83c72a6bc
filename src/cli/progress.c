#include "cli/progress.h"

#include <time.h>
#include <unistd.h>

enum {
    BAR = 40
};

double seconds_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void show_progress(const struct session *s, double since, size_t done, size_t all)
{
    if (s->options->quiet || !isatty(fileno(stderr)) || seconds_now() - since < 1)
        return;
    int filled = (int)(BAR * done / all);
    fprintf(stderr, "\rstarts [%.*s%*s] %zu of %zu", filled, "########################################", BAR - filled,
            "", done, all);
    if (done == all)
        fprintf(stderr, "\r%*s\r", BAR + 40, "");
}
