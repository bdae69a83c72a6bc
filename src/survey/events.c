/* Dips, swells and interruptions of three voltages, IEC 61000-4-30 5.4 and 5.5 (from memory). Its voltages are those
   of half cycles; a log has what its recorder kept of them, so a dip between two rows is not seen and a length is as
   fine as the step. */
#include <math.h>
#include <string.h>

#include "survey/parts.h"

const char *sag_event_word(enum sag_event_kind kind)
{
    static const char *const words[] = {
#define WORD(name, word) word,
        SAG_EVENTS(WORD)
#undef WORD
    };
    _Static_assert(sizeof words / sizeof *words == SAG_EVENT_KINDS, "ORDER EVENT");
    return words[kind];
}

/* How far from the reference an event went, as a share of it. */
static double severity(const struct sag_volt_event *e, double reference)
{
    return fabs(e->extreme / reference - 1);
}

/* Keep it if it is among the deepest; of equals those that came first. */
static void keep(const struct sag_volt_event *e, double reference, struct sag_survey *out)
{
    size_t mildest = 0;
    out->counts[e->kind]++;
    out->seconds[e->kind] += e->seconds;
    double *extreme = &out->extreme[e->kind];
    *extreme = e->kind == SAG_EVENT_SWELL ? fmax(*extreme, e->extreme) : fmin(*extreme, e->extreme);
    if (out->event_count < SAG_SURVEY_EVENTS) {
        out->events[out->event_count++] = *e;
        return;
    }
    for (size_t i = 1; i < SAG_SURVEY_EVENTS; i++)
        if (severity(&out->events[i], reference) <= severity(&out->events[mildest], reference))
            mildest = i;
    if (severity(e, reference) <= severity(&out->events[mildest], reference))
        return;
    memmove(&out->events[mildest], &out->events[mildest + 1],
            (SAG_SURVEY_EVENTS - mildest - 1) * sizeof out->events[0]);
    out->events[SAG_SURVEY_EVENTS - 1] = *e;
}

static struct sag_volt_event begin_event(const struct stand *s, enum sag_event_kind kind)
{
    return (struct sag_volt_event){
        .clock = s->sample->clock, .kind = (uint8_t)kind, .extreme = s->sample->line[0], .begins_before = s->after_gap};
}

static void watch_dip(struct watcher *w, const struct stand *s, double least, double most, struct sag_survey *out)
{
    const double *line = s->sample->line;
    double below = SAG_DIP_BELOW * w->reference, over = below + SAG_EVENT_HYSTERESIS * w->reference;
    double gone = SAG_INTERRUPTION_BELOW * w->reference, back = gone + SAG_EVENT_HYSTERESIS * w->reference;
    if (w->in_dip && least >= over) {
        w->in_dip = w->interrupted = false;
        keep(&w->dip, w->reference, out);
    }
    if (!w->in_dip && least < below) {
        w->in_dip = true;
        w->dip = begin_event(s, SAG_EVENT_DIP);
    }
    if (!w->in_dip)
        return;
    w->dip.extreme = fmin(w->dip.extreme, least);
    w->dip.seconds += s->seconds;
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        w->dip.pairs |= (uint8_t)((line[i] < below) << i);
    w->interrupted = w->interrupted ? most < back : most < gone;
    if (w->interrupted) {
        w->dip.kind = SAG_EVENT_INTERRUPTION;
        w->dip.interrupted += s->seconds;
    }
}

static void watch_swell(struct watcher *w, const struct stand *s, double most, struct sag_survey *out)
{
    const double *line = s->sample->line;
    double above = SAG_SWELL_ABOVE * w->reference, under = above - SAG_EVENT_HYSTERESIS * w->reference;
    if (w->in_swell && most <= under) {
        w->in_swell = false;
        keep(&w->swell, w->reference, out);
    }
    if (!w->in_swell && most > above) {
        w->in_swell = true;
        w->swell = begin_event(s, SAG_EVENT_SWELL);
    }
    if (!w->in_swell)
        return;
    w->swell.extreme = fmax(w->swell.extreme, most);
    w->swell.seconds += s->seconds;
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        w->swell.pairs |= (uint8_t)((line[i] > above) << i);
}

/* What runs when the log ends or was not recorded has an end that nobody saw. */
void end_events(struct watcher *w, struct sag_survey *out)
{
    w->dip.ends_after = w->swell.ends_after = true;
    if (w->in_dip)
        keep(&w->dip, w->reference, out);
    if (w->in_swell)
        keep(&w->swell, w->reference, out);
    w->in_dip = w->in_swell = w->interrupted = false;
}

bool watch_events(struct watcher *w, const struct stand *s, struct sag_survey *out)
{
    const double *line = s->sample->line;
    double least = lowest_of(line), most = highest_of(line);
    watch_dip(w, s, least, most, out);
    watch_swell(w, s, most, out);
    bool running = w->in_dip || w->in_swell;
    if (s->before_gap && running)
        end_events(w, out);
    return running;
}
