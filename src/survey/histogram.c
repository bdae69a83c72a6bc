/* Percentiles by time in constant memory. A bin is found from the bits of the number: its exponent and the first 13
   bits behind it, so there is no scale to be chosen and a log of 480 V and one of 13.8 kV are counted alike. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "survey/parts.h"

enum {
    FRACTION_BITS = 13,
    LEAST_POWER = -14, /* of two: shares down to 0.006 %, and what is lower */
    MOST_POWER = 20,   /* 1 048 576 V */
    BINS = (MOST_POWER - LEAST_POWER) << FRACTION_BITS
};

/* Bits of 2^LEAST_POWER at the scale of bins. */
static const uint64_t first_bin = (uint64_t)(1023 + LEAST_POWER) << FRACTION_BITS;

static size_t bin_of(double value)
{
    uint64_t bits;
    if (!(value > 0))
        return 0;
    memcpy(&bits, &value, sizeof bits);
    bits >>= 52 - FRACTION_BITS;
    return bits < first_bin ? 0 : bits - first_bin < BINS ? (size_t)(bits - first_bin) : BINS - 1;
}

static double bin_begin(size_t bin)
{
    uint64_t bits = (first_bin + bin) << (52 - FRACTION_BITS);
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

bool histogram_init(struct histogram *h)
{
    *h = (struct histogram){.lowest = INFINITY, .highest = -INFINITY};
    h->seconds = calloc(BINS, sizeof *h->seconds);
    return h->seconds;
}

void histogram_free(struct histogram *h)
{
    free(h->seconds);
    *h = (struct histogram){0};
}

void histogram_add(struct histogram *h, double value, double seconds)
{
    h->seconds[bin_of(value)] += seconds;
    h->total += seconds;
    h->sum += value * seconds;
    h->lowest = value < h->lowest ? value : h->lowest;
    h->highest = value > h->highest ? value : h->highest;
}

/* The value that is not exceeded for a share of the time: within its bin, time is taken as spread evenly. */
static double percentile(const struct histogram *h, double share)
{
    double wanted = share * h->total, before = 0;
    size_t last = 0;
    for (size_t bin = 0; bin < BINS; bin++) {
        if (!(h->seconds[bin] > 0))
            continue;
        last = bin;
        if (before + h->seconds[bin] >= wanted)
            break;
        before += h->seconds[bin];
    }
    double low = bin_begin(last), high = bin_begin(last + 1);
    double part = fmin(1, fmax(0, (wanted - before) / h->seconds[last]));
    return fmin(h->highest, fmax(h->lowest, low + part * (high - low)));
}

void histogram_read(const struct histogram *h, struct sag_over_time *out)
{
    *out = (struct sag_over_time){NAN, NAN, NAN, NAN, NAN, NAN, NAN, h->total};
    if (!(h->total > 0))
        return;
    out->mean = fmin(h->highest, fmax(h->lowest, h->sum / h->total));
    out->lowest = h->lowest;
    out->highest = h->highest;
    out->p01 = percentile(h, 0.01);
    out->p50 = percentile(h, 0.50);
    out->p95 = percentile(h, 0.95);
    out->p99 = percentile(h, 0.99);
}
