/* The log in at most SAG_SURVEY_BUCKETS stretches, for its picture. Stretches are equally long; when they are used up,
   neighbours are put together and each becomes twice as long. A row belongs to the stretch that it begins in. */
#include <math.h>

#include "survey/parts.h"

#define LEAST_WIDTH 1e-3 /* s, of a log whose rows have all one time */

static void put_together(struct sag_bucket *into, const struct sag_bucket *from)
{
    if (!(from->seconds > 0))
        return;
    if (!(into->seconds > 0)) {
        double time = into->time;
        *into = *from;
        into->time = time;
        return;
    }
    into->seconds += from->seconds;
    into->sum += from->sum;
    into->lowest = fmin(into->lowest, from->lowest);
    into->highest = fmax(into->highest, from->highest);
}

static void halve(struct tracer *t, struct sag_survey *out)
{
    for (size_t i = 0; i < out->bucket_count; i++) {
        if (i % 2 == 0)
            out->buckets[i / 2] = out->buckets[i];
        else
            put_together(&out->buckets[i / 2], &out->buckets[i]);
    }
    out->bucket_count = (out->bucket_count + 1) / 2;
    t->width *= 2;
}

void trace_stand(struct tracer *t, const struct stand *s, double usual_step, struct sag_survey *out)
{
    const double *line = s->sample->line;
    if (!(t->width > 0))
        t->width = fmax(usual_step, LEAST_WIDTH);
    while (s->sample->time / t->width >= SAG_SURVEY_BUCKETS) {
        if (out->bucket_count == 0)
            t->width *= 2;
        else
            halve(t, out);
    }
    size_t place = (size_t)(s->sample->time / t->width);
    for (; out->bucket_count <= place; out->bucket_count++)
        out->buckets[out->bucket_count] = (struct sag_bucket){.time = (double)out->bucket_count * t->width};
    const struct sag_bucket one = {
        .seconds = s->seconds, .sum = s->average * s->seconds, .lowest = lowest_of(line), .highest = highest_of(line)};
    put_together(&out->buckets[place], &one);
}
