/* The demonstration plant's week of volts against a second writing of the survey with NumPy (survey_log.py), which has
   all rows in memory and sorts them. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support.h"

#define LOG       "motordata/cawdry-flats/survey.csv"
#define REFERENCE 480.0

enum {
    MOST_ANSWERS = 120
};

static const double edges[][2] = {{396, 484}, {414, 506}, {490, 500}};

struct answers {
    char name[MOST_ANSWERS][32];
    double value[MOST_ANSWERS];
    size_t count, asked;
};

static void ask_numpy(struct answers *a)
{
    char command[300];
    size_t used =
        (size_t)snprintf(command, sizeof command, "/usr/bin/python3 tests/outside/survey_log.py %g", REFERENCE);
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++)
        used += (size_t)snprintf(command + used, sizeof command - used, " %g %g", edges[i][0], edges[i][1]);
    snprintf(command + used, sizeof command - used, " <" LOG);
    FILE *from = popen(command, "r");
    assert_non_null(from);
    while (a->count < MOST_ANSWERS && fscanf(from, "%31s %lf", a->name[a->count], &a->value[a->count]) == 2)
        a->count++;
    if (pclose(from) != 0)
        fail_msg("%s: failed; `make setup` installs python3-scipy", command);
}

static void check(struct answers *a, const char *name, double got, double tolerance)
{
    for (size_t i = 0; i < a->count; i++)
        if (strcmp(a->name[i], name) == 0) {
            a->asked++;
            check_near(name, got, a->value[i], tolerance);
            return;
        }
    fail_msg("survey_log.py did not say %s", name);
}

static enum sag_status find_bands(void *context, double reference, struct sag_survey_band **bands, size_t *count)
{
    (void)context;
    (void)reference;
    *count = sizeof edges / sizeof *edges;
    *bands = calloc(*count, sizeof **bands);
    for (size_t i = 0; *bands && i < *count; i++) {
        (*bands)[i].low = edges[i][0];
        (*bands)[i].high = edges[i][1];
    }
    return *bands ? SAG_OK : SAG_NO_MEMORY;
}

/* Sums of ten thousand numbers agree to rounding. Percentiles: a bin is 2^-13 of the power of two below the value. */
static void check_over_time(struct answers *a, const char *what, const struct sag_over_time *o)
{
    const struct {
        const char *suffix;
        double got, tolerance;
    } rows[] = {{"mean", o->mean, 1e-8},     {"lowest", o->lowest, 0},     {"highest", o->highest, 0},
                {"1", o->p01, 256.0 / 8192}, {"50", o->p50, 256.0 / 8192}, {"95", o->p95, 256.0 / 8192},
                {"99", o->p99, 256.0 / 8192}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char name[40];
        snprintf(name, sizeof name, "%s_%s", what, rows[i].suffix);
        check(a, name, rows[i].got, rows[i].tolerance);
    }
}

static void check_band(struct answers *a, size_t i, const struct sag_survey_band *b)
{
    char name[40];
    snprintf(name, sizeof name, "band%zu_inside", i);
    check(a, name, b->inside, 1e-12);
    snprintf(name, sizeof name, "band%zu_above", i);
    check(a, name, b->above, 1e-12);
    snprintf(name, sizeof name, "band%zu_sustained", i);
    check(a, name, b->sustained, 1e-12);
    snprintf(name, sizeof name, "band%zu_longest", i);
    check(a, name, b->longest, 1e-6);
}

static void check_dip(struct answers *a, size_t i, const struct sag_volt_event *e, double begin)
{
    char name[40];
    snprintf(name, sizeof name, "dip%zu_start", i);
    check(a, name, e->clock - begin, 1e-6);
    snprintf(name, sizeof name, "dip%zu_seconds", i);
    check(a, name, e->seconds, 1e-6);
    snprintf(name, sizeof name, "dip%zu_residual", i);
    check(a, name, e->extreme, 0);
    snprintf(name, sizeof name, "dip%zu_gone", i);
    check(a, name, e->interrupted, 1e-6);
}

static void the_week_again(void **state)
{
    (void)state;
    static const char *const pairs[] = {"ab", "bc", "ca"};
    struct answers a = {.count = 0};
    struct sag_survey *s = calloc(1, sizeof *s);
    struct sag_diags diags = {0};
    struct sag_input input = {.name = LOG, .file = fopen(LOG, "rb")};
    const struct sag_survey_job job = {shared_tables(), REFERENCE, 60, find_bands, NULL};
    assert_non_null(s);
    assert_non_null(input.file);
    assert_int_equal(sag_survey_log(&input, &job, s, &diags), SAG_OK);
    fclose(input.file);
    ask_numpy(&a);
    check(&a, "recorded", s->recorded, 1e-6);
    check(&a, "gaps", (double)s->gaps, 0);
    for (int i = 0; i < SAG_SURVEY_PAIRS; i++)
        check_over_time(&a, pairs[i], &s->pair[i]);
    check_over_time(&a, "average", &s->average);
    for (size_t i = 0; i < s->band_count; i++)
        check_band(&a, i, &s->bands[i]);
    check(&a, "dips", (double)s->event_count, 0);
    for (size_t i = 0; i < s->event_count; i++)
        check_dip(&a, i, &s->events[i], s->log.begin);
    check(&a, "unbalance_mean", s->unbalance.mean, 1e-12);
    check(&a, "unbalance_highest", s->unbalance.highest, 1e-15);
    check(&a, "unbalance_95", s->unbalance.p95, 1.0 / 256 / 8192); /* 0.5 % lies above 2^-8 */
    check(&a, "unbalance_99", s->unbalance.p99, 1.0 / 256 / 8192);
    check(&a, "unbalance_over_1", s->unbalance_over[0], 1e-12);
    check_near("nothing is left unasked", (double)a.asked, (double)a.count, 0);
    sag_survey_free(s);
    free(s);
}

TEST_LIST(survey_outside, cmocka_unit_test(the_week_again))
