/* What the files of this folder share: the parts of a survey that runs. */
#ifndef SURVEY_PARTS_H
#define SURVEY_PARTS_H

#include "sagband/survey.h"

/* Time by value, in bins that are a fixed share of the value: 1/8192 of the power of two below it, so 0.03 V from 256
   to 512 V. What is below the first bin is in it. */
struct histogram {
    double *seconds; /* one a bin */
    double total, sum, lowest, highest;
};
bool histogram_init(struct histogram *h);
void histogram_free(struct histogram *h);
void histogram_add(struct histogram *h, double value, double seconds);
void histogram_read(const struct histogram *h, struct sag_over_time *out);

/* A row and how long it stood. */
struct stand {
    const struct sag_volt_sample *sample;
    double average;
    double seconds;
    bool after_gap, before_gap; /* the log begins, ends or was not recorded there */
};

/* As fmin() and fmax() of three numbers, without a call. */
static inline double lowest_of(const double line[SAG_SURVEY_PAIRS])
{
    double two = line[0] < line[1] ? line[0] : line[1];
    return two < line[2] ? two : line[2];
}
static inline double highest_of(const double line[SAG_SURVEY_PAIRS])
{
    double two = line[0] > line[1] ? line[0] : line[1];
    return two > line[2] ? two : line[2];
}

/* Dips and swells as they come. */
struct watcher {
    double reference;
    struct sag_volt_event dip, swell; /* the one that runs */
    bool in_dip, in_swell, interrupted;
};
/* true while an event runs. */
bool watch_events(struct watcher *w, const struct stand *s, struct sag_survey *out);
void end_events(struct watcher *w, struct sag_survey *out);

/* Hours and spells. */
struct hour_state {
    double clock, seconds, sum; /* of the hour that runs; clock NAN: none */
    double *inside, *spell;     /* s, one a band: inside in the hour; outside at a stretch */
};
bool hours_init(struct hour_state *h, struct sag_survey *out);
void hours_free(struct hour_state *h);
void count_bands(struct hour_state *h, const struct stand *s, struct sag_survey *out);
void end_bands(struct hour_state *h, struct sag_survey *out);

/* Buckets that double their width when they are used up. */
struct tracer {
    double width; /* s; 0: not begun */
};
void trace_stand(struct tracer *t, const struct stand *s, double usual_step, struct sag_survey *out);

#endif
