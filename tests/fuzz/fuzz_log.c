#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "fuzz/chain.h"
#include "fuzz/promises.h"

/* Bands of 440, 460 and 400 V plates, one that is never met, one of a hair. */
static enum sag_status find_bands(void *context, double reference, struct sag_survey_band **bands, size_t *count)
{
    static const double edges[][2] = {{396, 484}, {414, 506}, {360, 440}, {1e5, 2e5}, {480, 480.0000001}};
    (void)context;
    must(reference > 0 || isnan(reference) || reference == 0, "a reference is no less than zero", "log");
    *count = sizeof edges / sizeof *edges;
    *bands = calloc(*count, sizeof **bands);
    for (size_t i = 0; *bands && i < *count; i++) {
        (*bands)[i].low = edges[i][0];
        (*bands)[i].high = edges[i][1];
    }
    return *bands ? SAG_OK : SAG_NO_MEMORY;
}

static void check_share(double share, const char *where)
{
    must(share >= 0 && share <= 1 + 1e-9, "a share lies from 0 to 1", where);
}

static void check_over_time(const struct sag_over_time *o, const char *where)
{
    must(o->lowest >= 0 && isfinite(o->highest), "volts are numbers", where);
    must(o->lowest <= o->mean && o->mean <= o->highest, "a mean lies between", where);
    must(o->lowest <= o->p01 && o->p01 <= o->p50 && o->p50 <= o->p95 && o->p95 <= o->p99 && o->p99 <= o->highest,
         "percentiles rise", where);
}

static void check_band(const struct sag_survey *s, const struct sag_survey_band *b)
{
    check_share(b->inside, "inside");
    check_share(b->below, "below");
    check_share(b->above, "above");
    check_share(b->sustained, "sustained");
    must(fabs(b->inside + b->below + b->above - 1) < 1e-9, "shares sum to one", "band");
    must(b->sustained <= b->below + b->above + 1e-9, "what lasts is outside", "band");
    must(b->longest >= 0 && b->longest <= s->recorded * (1 + 1e-9), "a spell lies in the log", "band");
    must(b->headroom_lowest <= b->headroom_highest, "the least room is no more than the most", "band");
    if (!isnan(b->worst.clock))
        check_share(b->worst.inside, "worst hour");
}

/* The clock of a log may go back by an hour, so an event is held against its ends only where it does not. */
static void check_event(const struct sag_survey *s, const struct sag_volt_event *e)
{
    bool swell = e->kind == SAG_EVENT_SWELL;
    must(e->seconds >= 0 && e->seconds <= s->recorded * (1 + 1e-9) + 1e-9, "an event lies in the log", "event");
    must(swell ? e->extreme > SAG_SWELL_ABOVE * s->reference : e->extreme < SAG_DIP_BELOW * s->reference,
         "an event is beyond its threshold", "event");
    must(e->pairs > 0 && e->pairs < 8, "an event has a pair", "event");
    must(e->interrupted <= e->seconds, "an interruption is part of its dip", "event");
    must(s->log.clock_backs > 0 || (e->clock >= s->log.begin - 86400 && e->clock <= s->log.end + 86400),
         "an event begins in the log", "event");
}

static void check_buckets(const struct sag_survey *s)
{
    double seconds = 0;
    must(s->bucket_count <= SAG_SURVEY_BUCKETS, "no more stretches than there is room for", "bucket");
    for (size_t i = 0; i < s->bucket_count; i++) {
        const struct sag_bucket *b = &s->buckets[i];
        must(i == 0 || b->time > b[-1].time, "stretches follow on each other", "bucket");
        must(!(b->seconds > 0) || (b->lowest <= b->highest && isfinite(b->sum)), "a stretch has volts", "bucket");
        seconds += b->seconds;
    }
    must(fabs(seconds - s->recorded) <= 1e-6 * (1 + s->recorded), "stretches are all that was recorded", "bucket");
}

static void check_survey(const struct sag_survey *s)
{
    must(s->recorded > 0 && s->recorded <= s->span * (1 + 1e-9), "recorded is part of the span", "log");
    must(s->log.blank_rows <= s->log.rows && s->log.rows >= 2, "rows are counted", "log");
    must(s->reference > 0, "there is a reference", "log");
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        check_over_time(&s->pair[i], "pair");
    check_over_time(&s->average, "average");
    if (s->unbalance.seconds > 0) {
        check_over_time(&s->unbalance, "unbalance");
        must(s->unbalance.highest <= 2, "no unbalance is over 200 %", "unbalance");
        must(s->unbalance_over[1] <= s->unbalance_over[0], "over 5 % is over 1 %", "unbalance");
    }
    for (size_t i = 0; i < s->band_count; i++)
        check_band(s, &s->bands[i]);
    for (size_t i = 0; i < s->event_count; i++)
        check_event(s, &s->events[i]);
    check_buckets(s);
}

/* --- what is printed --------------------------------------------------------------------------------------------- */

static void print_rows(const struct sag_survey_table *t, const char *format)
{
    struct printed printed = {.format = format, .columns = sag_survey_view.count, .rows = SAG_SURVEY_PAIRS + 2};
    struct sag_survey_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    char *out = NULL;
    const struct sag_writer *writer = sag_writer_find(format);
    struct sag_sheet sheet = {.stream = open_memstream(&out, &printed.size), .view = &sag_survey_view};
    must(sheet.stream, "memory for what is printed", "log");
    writer->begin(&sheet, NULL);
    for (int which = 0; which < SAG_SURVEY_PAIRS + 2; which++) {
        sag_survey_volts_row(t, which, &text, values);
        writer->row(&sheet, values);
    }
    fclose(sheet.stream);
    printed.text = out;
    printed.columns = 0;
    for (size_t i = 0; i < sag_survey_view.count; i++)
        printed.columns += sag_survey_view.columns[i].name != NULL;
    must_be_readable(&printed);
    free(out);
}

static void print_dips(const struct sag_survey *s)
{
    struct printed printed = {.format = "csv", .columns = sag_dip_view.count, .rows = s->event_count};
    struct sag_survey_text text;
    struct sag_value values[SAG_MOST_COLUMNS];
    char *out = NULL;
    const struct sag_writer *writer = sag_writer_find("csv");
    struct sag_sheet sheet = {.stream = open_memstream(&out, &printed.size), .view = &sag_dip_view};
    must(sheet.stream, "memory for what is printed", "log");
    writer->begin(&sheet, NULL);
    for (size_t i = 0; i < s->event_count; i++) {
        sag_dip_row(s, i, &text, values);
        writer->row(&sheet, values);
    }
    fclose(sheet.stream);
    printed.text = out;
    must_be_readable(&printed);
    free(out);
}

static void print_all(const struct sag_survey *s)
{
    const struct sag_motor_list list = {0};
    const struct sag_survey_plates plates = {0};
    struct sag_survey_result result;
    char *out = NULL;
    size_t size = 0;
    must(sag_judge_survey(s, &plates, 0, "log", &result) == SAG_OK, "a survey is judged", "log");
    for (size_t i = 0; i < result.finding_count; i++)
        must_be_finding(&result.findings[i]);
    const struct sag_survey_table table = {&list, s, &plates, &result};
    print_rows(&table, "csv");
    print_rows(&table, "json");
    print_dips(s);
    FILE *stream = open_memstream(&out, &size);
    must(stream, "memory for the picture", "log");
    sag_plot_survey(&(struct sag_survey_plot_job){&table, "", "log.gp", "png"}, stream);
    fclose(stream);
    must_be_plain(out, size, "picture");
    free(out);
    sag_survey_result_free(&result);
}

void fuzz_log(const uint8_t *bytes, size_t size)
{
    const struct sag_input input = {.name = "log.csv", .bytes = bytes ? (const char *)bytes : "", .size = size};
    const double references[] = {480, NAN};
    for (int i = 0; i < 2; i++) {
        struct sag_survey *s = calloc(1, sizeof *s);
        struct sag_diags diags = {0};
        const struct sag_survey_job job = {chain_tables(), references[i], 60, find_bands, NULL};
        must(s, "memory for a survey", "log");
        enum sag_status status = sag_survey_log(&input, &job, s, &diags);
        sag_diags_sort(&diags);
        must_explain(status, &diags);
        if (status == SAG_OK) {
            check_survey(s);
            print_all(s);
        }
        sag_survey_free(s);
        free(s);
        sag_diags_free(&diags);
    }
}

#ifdef FUZZ_ENTRY
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    fuzz_log(bytes, size);
    return 0;
}
#endif
