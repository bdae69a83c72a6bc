/* A survey against limits: findings of motors by their plates, and of the log. */
#include <math.h>
#include <stdlib.h>

#include "judge/parts.h"
#include "sagband/survey.h"

#define PERCENT 100.0

struct judging {
    const struct sag_survey *survey;
    struct sag_survey_result *out;
    size_t room;
};

static struct sag_measure measured(double value, double limit, double watch, enum side side, const char *source)
{
    return (struct sag_measure){
        .value = sag_exact(value, SAG_MEASURED), .limit = limit, .watch = watch, .side = side, .source = source};
}

static enum sag_verdict add(struct judging *j, enum survey_check check, const struct sag_measure *m,
                            struct sag_finding about)
{
    enum sag_verdict verdict = verdict_of(m);
    if (verdict == SAG_VERDICT_OK || j->out->finding_count == j->room)
        return verdict;
    about.check = sag_check_at(checks_begin(CHECKS_SURVEY) + check);
    about.value = m->value;
    about.limit = m->limit;
    about.watch = m->watch;
    about.source = m->source;
    about.missing = "";
    about.which = SAG_CASE_COUNT;
    about.verdict = (uint8_t)verdict;
    j->out->findings[j->out->finding_count++] = about;
    return verdict;
}

/* Any moment outside is watched, for a share of the time it fails: only the latter is a voltage that the plate does not
   allow. */
static enum sag_verdict judge_band(struct judging *j, const struct sag_survey_plate *plate,
                                   const struct sag_survey_band *band, struct sag_finding about)
{
    struct sag_measure lasting =
        measured(PERCENT * band->sustained, PERCENT * SAG_SURVEY_OUTSIDE, 0, AT_MOST, plate->source);
    struct sag_measure moments = measured(PERCENT * fmax(0, 1 - band->inside - band->sustained), 0, 0, AT_MOST,
                                          "IEEE 1159, short variations (from memory)");
    moments.advisory = true;
    if (moments.value.value < 1e-9 * PERCENT) /* what sums of shares leave */
        moments.value = sag_exact(0, SAG_MEASURED);
    enum sag_verdict long_ones = add(j, OUTSIDE_LONG, &lasting, about);
    return worse(long_ones, add(j, OUTSIDE_SHORT, &moments, about));
}

static enum sag_verdict judge_events(struct judging *j, enum sag_event_kind kind, struct sag_finding about)
{
    static const enum survey_check checks[] = {DIPS, SWELLS, INTERRUPTIONS};
    static const char *const sources[] = {"IEC 61000-4-30 5.4 (from memory)", "IEC 61000-4-30 5.4 (from memory)",
                                          "IEC 61000-4-30 5.5 (from memory)"};
    static const double limits[] = {SAG_DIP_BELOW, SAG_SWELL_ABOVE, SAG_INTERRUPTION_BELOW};
    _Static_assert(sizeof checks / sizeof *checks == SAG_EVENT_KINDS, "ORDER EVENT");
    if (j->survey->counts[kind] == 0)
        return SAG_VERDICT_OK;
    double value = j->survey->extreme[kind] / j->survey->reference, limit = PERCENT * limits[kind];
    struct sag_measure m =
        measured(PERCENT * value, limit, limit, kind == SAG_EVENT_SWELL ? AT_MOST : AT_LEAST, sources[kind]);
    m.advisory = true;
    return add(j, checks[kind], &m, about);
}

static enum sag_verdict judge_log(struct judging *j, const char *place)
{
    const double enough = PERCENT * SAG_SURVEY_RECORDED;
    const struct sag_survey *s = j->survey;
    const struct sag_finding about = {.board = place};
    enum sag_verdict worst = SAG_VERDICT_OK;
    struct sag_measure unbalance = measured(PERCENT * s->unbalance.p99, PERCENT * SAG_UNBALANCE_MOST,
                                            PERCENT * SAG_UNBALANCE_DERATES, AT_MOST, "NEMA MG 1 14.36");
    struct sag_measure recorded =
        measured(PERCENT * s->recorded / s->span, enough, enough, AT_LEAST, "common practice, no source");
    recorded.advisory = true;
    if (!isnan(s->unbalance.p99))
        worst = worse(worst, add(j, UNBALANCE_TIME, &unbalance, about));
    for (int kind = 0; kind < SAG_EVENT_KINDS; kind++)
        worst = worse(worst, judge_events(j, (enum sag_event_kind)kind, about));
    return worse(worst, add(j, RECORDED, &recorded, about));
}

enum sag_status sag_judge_survey(const struct sag_survey *survey, const struct sag_survey_plates *plates,
                                 size_t motor_count, const char *place, struct sag_survey_result *out)
{
    struct judging j = {survey, out, 2 * motor_count + SURVEY_CHECKS};
    *out = (struct sag_survey_result){.findings = calloc(j.room, sizeof *out->findings),
                                      .of_plate = calloc(plates->count + 1, sizeof *out->of_plate)};
    if (!out->findings || !out->of_plate)
        return SAG_NO_MEMORY;
    for (size_t i = 0; i < motor_count; i++) {
        int32_t at = plates->of[i];
        if (at >= 0)
            out->of_plate[at] =
                judge_band(&j, &plates->items[at], &survey->bands[at], (struct sag_finding){.motor = i});
    }
    out->of_log = judge_log(&j, place);
    return SAG_OK;
}

void sag_survey_result_free(struct sag_survey_result *result)
{
    free(result->findings);
    free(result->of_plate);
    *result = (struct sag_survey_result){0};
}
