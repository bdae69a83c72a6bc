/* One pass over a log. A row is counted when the next one tells how long it stood. The first hour is held back, at most
   HELD rows of it, until the usual step and, where nobody gave them, the reference volts can be told from it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "survey/parts.h"

enum {
    HELD = 4096
};

#define HOUR_HELD   3600.0
#define STEP_HAIR   1e-6 /* s; no finer than this is the difference of two times since 1970 in a double */
#define NEAR_SYSTEM 0.15 /* of system volts: farther than that a log is of no usual system; a choice */

struct surveyor {
    const struct sag_survey_job *job;
    struct sag_survey *out;
    struct sag_volt_sample *held;
    size_t held_count, held_room;
    bool settled;

    struct sag_volt_sample last; /* not counted yet */
    bool has_last, after_gap;
    struct histogram pair[SAG_SURVEY_PAIRS], average, unbalance;
    double over[2]; /* s of unbalance above 1 % and above 5 % */
    struct watcher watcher;
    struct hour_state hours;
    struct tracer tracer;
};

/* --- counting ---------------------------------------------------------------------------------------------------- */

static void count_unbalance(struct surveyor *s, const struct stand *stand)
{
    static const double limits[] = {SAG_UNBALANCE_DERATES, SAG_UNBALANCE_MOST};
    if (!(stand->average > 0))
        return;
    double unbalance = sag_unbalance(stand->sample->line);
    histogram_add(&s->unbalance, unbalance, stand->seconds);
    for (int i = 0; i < 2; i++)
        s->over[i] += unbalance > limits[i] ? stand->seconds : 0;
}

static void count_stand(struct surveyor *s, const struct stand *stand)
{
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        histogram_add(&s->pair[i], stand->sample->line[i], stand->seconds);
    histogram_add(&s->average, stand->average, stand->seconds);
    count_bands(&s->hours, stand, s->out);
    trace_stand(&s->tracer, stand, s->out->step, s->out);
    if (!watch_events(&s->watcher, stand, s->out))
        count_unbalance(s, stand);
}

static void note_gap(struct surveyor *s, double seconds)
{
    s->out->gaps++;
    if (seconds > s->out->gap_longest) {
        s->out->gap_longest = seconds;
        s->out->gap_clock = s->last.clock;
    }
}

/* The row before, which stood for `step` seconds or, where nothing was recorded behind it, for a usual step. */
static void count_last(struct surveyor *s, double step, bool ends)
{
    const double *line = s->last.line;
    bool gap = step > SAG_GAP_STEPS * s->out->step + STEP_HAIR;
    struct stand stand = {.sample = &s->last,
                          .average = (line[0] + line[1] + line[2]) / 3,
                          .seconds = gap ? s->out->step : step,
                          .after_gap = s->after_gap,
                          .before_gap = gap || ends};
    if (gap)
        note_gap(s, step - s->out->step);
    s->after_gap = gap;
    if (isnan(stand.average)) {
        s->after_gap = true; /* what comes next was not seen to begin */
        return;
    }
    s->out->recorded += stand.seconds;
    count_stand(s, &stand);
}

/* An event cannot go on over a row without volts. */
static void count_sample(struct surveyor *s, const struct sag_volt_sample *sample)
{
    if (s->has_last)
        count_last(s, sample->time - s->last.time, isnan(sample->line[0]));
    s->last = *sample;
    s->has_last = true;
}

/* --- the first hour ---------------------------------------------------------------------------------------------- */

static int by_value(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The middle one, of two the smaller; NAN of none. Sorts them. */
static double median(double *values, size_t count)
{
    if (!count)
        return NAN;
    qsort(values, count, sizeof *values, by_value);
    return values[(count - 1) / 2];
}

static double usual_step(const struct surveyor *s, double *room)
{
    size_t n = 0;
    for (size_t i = 1; i < s->held_count; i++) {
        double step = s->held[i].time - s->held[i - 1].time;
        if (step > 0)
            room[n++] = step;
    }
    return median(room, n);
}

static double median_volts(const struct surveyor *s, double *room)
{
    size_t n = 0;
    for (size_t i = 0; i < s->held_count; i++) {
        const double *line = s->held[i].line;
        double average = (line[0] + line[1] + line[2]) / 3;
        if (average > 0)
            room[n++] = average;
    }
    return median(room, n);
}

static void find_reference(struct surveyor *s, double *room)
{
    s->out->reference = s->job->reference;
    if (!isnan(s->out->reference))
        return;
    double volts = median_volts(s, room), system = sag_ask_nearest_system(s->job->tables, volts, s->job->hz);
    bool near = fabs(volts / system - 1) <= NEAR_SYSTEM;
    s->out->reference = near ? system : volts;
    s->out->reference_from = near ? SAG_REFERENCE_SYSTEM : SAG_REFERENCE_MEDIAN;
}

static enum sag_status find_bands(struct surveyor *s)
{
    enum sag_status status = SAG_OK;
    if (s->job->find_bands && !isnan(s->out->reference))
        status = s->job->find_bands(s->job->context, s->out->reference, &s->out->bands, &s->out->band_count);
    if (status == SAG_OK && !hours_init(&s->hours, s->out))
        status = SAG_NO_MEMORY;
    return status;
}

/* What is held tells the step and the reference; then it is counted, and all that follows as it comes. */
static enum sag_status settle(struct surveyor *s)
{
    double *room = calloc(s->held_count + 1, sizeof *room);
    if (!room)
        return SAG_NO_MEMORY;
    double step = usual_step(s, room);
    s->out->step = isnan(step) ? 0 : step;
    find_reference(s, room);
    free(room);
    s->settled = true;
    s->after_gap = true;
    s->watcher.reference = s->out->reference;
    enum sag_status status = find_bands(s);
    for (size_t i = 0; i < s->held_count && status == SAG_OK; i++)
        count_sample(s, &s->held[i]);
    free(s->held);
    s->held = NULL;
    return status;
}

static enum sag_status take_sample(void *context, const struct sag_volt_sample *sample)
{
    struct surveyor *s = context;
    if (s->settled) {
        count_sample(s, sample);
        return SAG_OK;
    }
    if (!sag_grow(&s->held, s->held_count + 1, &s->held_room, sizeof *s->held))
        return SAG_NO_MEMORY;
    s->held[s->held_count++] = *sample;
    return s->held_count == HELD || sample->time > HOUR_HELD ? settle(s) : SAG_OK;
}

/* --- the end ----------------------------------------------------------------------------------------------------- */

static int by_clock(const void *left, const void *right)
{
    const struct sag_volt_event *a = left, *b = right;
    if (a->clock != b->clock)
        return a->clock < b->clock ? -1 : 1;
    return (int)a->kind - (int)b->kind;
}

static void conclude(struct surveyor *s)
{
    struct sag_survey *out = s->out;
    if (s->has_last)
        count_last(s, out->step, true);
    out->span = s->last.time + out->step;
    end_events(&s->watcher, out);
    end_bands(&s->hours, out);
    qsort(out->events, out->event_count, sizeof out->events[0], by_clock);
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        histogram_read(&s->pair[i], &out->pair[i]);
    histogram_read(&s->average, &out->average);
    histogram_read(&s->unbalance, &out->unbalance);
    for (int i = 0; i < 2; i++)
        out->unbalance_over[i] = s->over[i] / s->unbalance.total;
}

/* Rows there are, but nothing that could be told from them. */
static enum sag_status check_recorded(const struct surveyor *s, const char *file, struct sag_diags *diags)
{
    const struct sag_place at = {file, 0, 0};
    if (s->out->log.rows == s->out->log.blank_rows)
        return sag_complain(diags, SAG_ERROR, &at, "no row has all three volts ab, bc, ca");
    if (!(s->out->recorded > 0))
        return sag_complain(diags, SAG_ERROR, &at,
                            "all rows have one time, so nothing is known of how long they stood");
    if (!(s->out->average.highest > 0))
        return sag_complain(diags, SAG_ERROR, &at, "all volts are zero; was the recorder connected?");
    if (!(s->out->reference > 0))
        return sag_complain(diags, SAG_ERROR, &at, "no volts in its first hour that tell the system's; give --volts V");
    return SAG_OK;
}

static bool init(struct surveyor *s)
{
    bool well = histogram_init(&s->average);
    well = histogram_init(&s->unbalance) && well;
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        well = histogram_init(&s->pair[i]) && well;
    return well;
}

static void release(struct surveyor *s)
{
    histogram_free(&s->average);
    histogram_free(&s->unbalance);
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        histogram_free(&s->pair[i]);
    hours_free(&s->hours);
    free(s->held);
}

enum sag_status sag_survey_log(const struct sag_input *input, const struct sag_survey_job *job, struct sag_survey *out,
                               struct sag_diags *diags)
{
    struct surveyor s = {.job = job, .out = out};
    *out = (struct sag_survey){.reference = NAN, .gap_clock = NAN, .extreme = {NAN, NAN, NAN}};
    _Static_assert(sizeof out->extreme / sizeof *out->extreme == 3, "ORDER EVENT");
    enum sag_status status = init(&s) ? SAG_OK : SAG_NO_MEMORY;
    if (status == SAG_OK)
        status = sag_read_volt_log(input, &(struct sag_log_events){take_sample, &s}, &out->log, diags);
    if (status == SAG_OK && !s.settled)
        status = settle(&s);
    if (status == SAG_OK) {
        conclude(&s);
        status = check_recorded(&s, input->name, diags);
    }
    release(&s);
    return status;
}

void sag_survey_free(struct sag_survey *survey)
{
    free(survey->bands);
    *survey = (struct sag_survey){0};
}

struct sag_volts_span sag_survey_span(const struct sag_survey *survey)
{
    return (struct sag_volts_span){
        {survey->pair[0].mean, survey->pair[1].mean, survey->pair[2].mean}, survey->average.p01, survey->average.p99};
}
