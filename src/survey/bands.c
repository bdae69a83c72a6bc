/* Time in bands, spells outside them, and the hours of the log's clock. */
#include <math.h>
#include <stdlib.h>

#include "survey/parts.h"

#define AN_HOUR     3600.0
#define HOUR_ENOUGH 1800.0 /* s; an hour recorded for less is no hour to compare; a choice */
#define HAIR        1e-9   /* as in the checks: 484 V on a 440 V plate is 110 % and not more */

bool hours_init(struct hour_state *h, struct sag_survey *out)
{
    size_t n = out->band_count ? out->band_count : 1;
    *h = (struct hour_state){.clock = NAN};
    h->inside = calloc(n, sizeof *h->inside);
    h->spell = calloc(n, sizeof *h->spell);
    out->highest = out->lowest = (struct sag_hour){NAN, NAN, NAN};
    for (size_t i = 0; i < out->band_count; i++) {
        struct sag_survey_band *b = &out->bands[i];
        *b = (struct sag_survey_band){.low = b->low, .high = b->high};
        b->headroom_lowest = INFINITY;
        b->headroom_highest = -INFINITY;
        b->worst = (struct sag_hour){NAN, NAN, NAN};
    }
    return h->inside && h->spell;
}

void hours_free(struct hour_state *h)
{
    free(h->inside);
    free(h->spell);
    *h = (struct hour_state){0};
}

/* How far a mean is out of a band, negative inside. */
static double distance_out(const struct sag_survey_band *b, double mean)
{
    return fmax(b->low - mean, mean - b->high);
}

static void end_hour(struct hour_state *h, struct sag_survey *out)
{
    struct sag_hour hour = {h->clock, NAN, h->sum / h->seconds};
    if (!isnan(h->clock) && h->seconds >= HOUR_ENOUGH) {
        if (isnan(out->highest.clock) || hour.mean > out->highest.mean)
            out->highest = hour;
        if (isnan(out->lowest.clock) || hour.mean < out->lowest.mean)
            out->lowest = hour;
        for (size_t i = 0; i < out->band_count; i++) {
            struct sag_survey_band *b = &out->bands[i];
            hour.inside = fmin(1, h->inside[i] / h->seconds);
            if (isnan(b->worst.clock) || hour.inside < b->worst.inside ||
                (hour.inside == b->worst.inside && distance_out(b, hour.mean) > distance_out(b, b->worst.mean)))
                b->worst = hour;
        }
    }
    for (size_t i = 0; i < out->band_count; i++)
        h->inside[i] = 0;
    h->seconds = h->sum = 0;
}

static void end_spell(struct hour_state *h, struct sag_survey_band *b, size_t i)
{
    b->longest = fmax(b->longest, h->spell[i]);
    if (h->spell[i] > SAG_SPELL_LEAST)
        b->sustained += h->spell[i];
    h->spell[i] = 0;
}

static bool is_inside(const struct sag_survey_band *b, double volts)
{
    return volts >= b->low * (1 - HAIR) && volts <= b->high * (1 + HAIR);
}

static void count_band(struct hour_state *h, const struct stand *s, struct sag_survey_band *b, size_t i)
{
    double v = s->average, room = fmin(v - b->low, b->high - v);
    if (room < b->headroom_lowest)
        b->headroom_lowest = room;
    if (room > b->headroom_highest)
        b->headroom_highest = room;
    if (is_inside(b, v)) {
        b->inside += s->seconds;
        end_spell(h, b, i);
        return;
    }
    *(v < b->low ? &b->below : &b->above) += s->seconds;
    h->spell[i] += s->seconds;
    if (s->before_gap)
        end_spell(h, b, i);
}

static void count_hour(struct hour_state *h, const struct sag_survey *out, double volts, double seconds)
{
    h->seconds += seconds;
    h->sum += volts * seconds;
    for (size_t i = 0; i < out->band_count; i++)
        h->inside[i] += is_inside(&out->bands[i], volts) ? seconds : 0;
}

/* A row that stands beyond the end of its hour is shared out among the hours, by the log's clock. */
static void count_hours(struct hour_state *h, const struct stand *s, struct sag_survey *out)
{
    double clock = s->sample->clock, left = s->seconds;
    do {
        if (!(clock >= h->clock && clock < h->clock + AN_HOUR)) {
            end_hour(h, out);
            h->clock = AN_HOUR * floor(clock / AN_HOUR);
        }
        double seconds = fmin(left, h->clock + AN_HOUR - clock);
        count_hour(h, out, s->average, seconds);
        left -= seconds;
        clock = h->clock + AN_HOUR;
    } while (left > 0);
}

void count_bands(struct hour_state *h, const struct stand *s, struct sag_survey *out)
{
    for (size_t i = 0; i < out->band_count; i++)
        count_band(h, s, &out->bands[i], i);
    count_hours(h, s, out);
}

/* Seconds to shares. */
void end_bands(struct hour_state *h, struct sag_survey *out)
{
    end_hour(h, out);
    for (size_t i = 0; i < out->band_count; i++) {
        struct sag_survey_band *b = &out->bands[i];
        end_spell(h, b, i);
        double all = b->inside + b->below + b->above;
        b->inside /= all;
        b->below /= all;
        b->above /= all;
        b->sustained = fmin(b->sustained / all, 1);
    }
}
