/* Surveys of small logs whose answers are worked out by hand. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "read_help.h"

/* Bands to survey against; the reference is what the log made of it. */
struct asked {
    double low[2], high[2];
    size_t count;
};

static enum sag_status find_bands(void *context, double reference, struct sag_survey_band **bands, size_t *count)
{
    const struct asked *a = context;
    (void)reference;
    *count = a->count;
    *bands = calloc(a->count + 1, sizeof **bands);
    for (size_t i = 0; *bands && i < a->count; i++) {
        (*bands)[i].low = a->low[i];
        (*bands)[i].high = a->high[i];
    }
    return *bands ? SAG_OK : SAG_NO_MEMORY;
}

static struct sag_survey *survey(const char *text, double reference, struct asked *asked)
{
    struct sag_survey *out = calloc(1, sizeof *out);
    struct sag_input input = text_input("l.csv", text);
    struct sag_diags diags = {0};
    const struct sag_survey_job job = {shared_tables(), reference, 60, asked ? find_bands : NULL, asked};
    assert_non_null(out);
    enum sag_status status = sag_survey_log(&input, &job, out, &diags);
    check_diags("survey", &diags, "");
    assert_int_equal(status, SAG_OK);
    return out;
}

static void end(struct sag_survey *s)
{
    sag_survey_free(s);
    free(s);
}

/* 480 for 10 s, 490 for 20 s, 470 for 10 s (the last row stands for the usual step). */
static void means_and_percentiles(void **state)
{
    (void)state;
    struct sag_survey *s = survey("time,ab,bc,ca\n"
                                  "0,480,480,480\n10,490,490,490\n20,490,490,490\n30,470,470,470\n",
                                  480, NULL);
    check_near("step", s->step, 10, 0);
    check_near("span", s->span, 40, 0);
    check_near("recorded", s->recorded, 40, 0);
    check_near("mean", s->average.mean, (480 + 490 + 490 + 470) / 4.0, 1e-9);
    check_near("lowest", s->average.lowest, 470, 0);
    check_near("highest", s->pair[2].highest, 490, 0);
    /* a bin is 0.03 V there */
    check_near("half of the time at or below", s->average.p50, 480, 0.04);
    check_near("1 %", s->average.p01, 470, 0.04);
    check_near("99 %", s->average.p99, 490, 0.04);
    end(s);
}

/* Pairs 470, 480, 496: average 482, greatest deviation 14, so 2.905 %; and 482, 482, 482 for as long. */
static void unbalance(void **state)
{
    (void)state;
    struct sag_survey *s = survey("time,ab,bc,ca\n0,470,480,496\n60,482,482,482\n", 480, NULL);
    check_near("mean", s->unbalance.mean, 14.0 / 482 / 2, 1e-12);
    check_near("most", s->unbalance.highest, 14.0 / 482, 1e-12);
    check_near("share above 1 %", s->unbalance_over[0], 0.5, 1e-12);
    check_near("share above 5 %", s->unbalance_over[1], 0, 0);
    end(s);
}

/* In the band of 460 V (414 to 506 V) at 500 and 506, above at 507; of 440 V (396 to 484) always above. */
static void bands(void **state)
{
    (void)state;
    struct asked asked = {{414, 396}, {506, 484}, 2};
    struct sag_survey *s = survey("time,ab,bc,ca\n"
                                  "0,500,500,500\n100,507,507,507\n150,506,506,506\n250,400,400,400\n300,508,508,508\n"
                                  "400,500,500,500\n500,500,500,500\n",
                                  480, &asked);
    const struct sag_survey_band *b = &s->bands[0];
    double all = 600; /* s; the usual step, the middle of 50 50 100 100 100 100, is 100 */
    check_near("recorded", s->recorded, all, 0);
    check_near("inside", b->inside, (100 + 100 + 100 + 100) / all, 1e-12);
    check_near("above", b->above, (50 + 100) / all, 1e-12);
    check_near("below", b->below, 50 / all, 1e-12);
    /* 50 s is a moment; 50 s below and 100 s above are one spell of 150 s outside */
    check_near("lasting", b->sustained, 150 / all, 1e-12);
    check_near("longest", b->longest, 150, 0);
    check_near("least room", b->headroom_lowest, 400 - 414, 0);
    check_near("most room", b->headroom_highest, 506 - 500, 0);
    check_near("440 V: inside", s->bands[1].inside, 50 / all, 1e-12);
    check_near("440 V: lasting", s->bands[1].sustained, 550 / all, 1e-12);
    check_near("440 V: longest", s->bands[1].longest, 300, 0);
    end(s);
}

/* Two hours of rows a half hour: the second is the worse one. A third of one row is not compared. */
static void hours(void **state)
{
    (void)state;
    struct asked asked = {{414}, {506}, 1};
    struct sag_survey *s = survey("time,ab,bc,ca\n"
                                  "2026-03-02 10:00:00,500,500,500\n2026-03-02 10:30:00,502,502,502\n"
                                  "2026-03-02 11:00:00,508,508,508\n2026-03-02 11:30:00,500,500,500\n"
                                  "2026-03-02 12:00:00,530,530,530\n2026-03-02 12:01:00,,,\n",
                                  480, &asked);
    const double ten = 1772445600; /* 2026-03-02 10:00:00 */
    check_near("worst", s->bands[0].worst.clock, ten + 3600, 0);
    check_near("inside", s->bands[0].worst.inside, 0.5, 1e-12);
    check_near("its mean", s->bands[0].worst.mean, 504, 1e-9);
    check_near("highest", s->highest.clock, ten + 3600, 0);
    check_near("lowest", s->lowest.clock, ten, 0);
    check_near("its mean", s->lowest.mean, 501, 1e-9);
    check_near("a blank row was not recorded", s->recorded, 4 * 1800 + 60, 0);
    end(s);
}

/* A row of 10:40 that stands until 11:20 is for half of that time in the hour from 11; an hour's row of 10:30 ends at
   11:30. */
static void hours_share_a_row(void **state)
{
    (void)state;
    struct asked asked = {{414}, {506}, 1};
    struct sag_survey *s = survey("time,ab,bc,ca\n"
                                  "2026-03-02 10:00:00,500,500,500\n2026-03-02 10:40:00,508,508,508\n"
                                  "2026-03-02 11:20:00,502,502,502\n2026-03-02 12:00:00,503,503,503\n",
                                  480, &asked);
    const double ten = 1772445600; /* 2026-03-02 10:00:00 */
    check_near("both are as bad, the mean of the second is farther out", s->bands[0].worst.clock, ten + 3600, 0);
    check_near("inside", s->bands[0].worst.inside, 40 / 60.0, 1e-12);
    check_near("its mean", s->bands[0].worst.mean, (20 * 508 + 40 * 502) / 60.0, 1e-9);
    check_near("lowest", s->lowest.clock, ten, 0);
    check_near("its mean", s->lowest.mean, (40 * 500 + 20 * 508) / 60.0, 1e-9);
    end(s);
    s = survey("time,ab,bc,ca\n2026-03-02 10:30:00,510,510,510\n2026-03-02 11:30:00,500,500,500\n", 480, &asked);
    check_near("an hour's row", s->bands[0].worst.clock, ten, 0);
    check_near("of which half is in the next", s->bands[0].worst.inside, 0, 0);
    check_near("highest", s->highest.mean, 510, 1e-9);
    check_near("lowest, half of it seen", s->lowest.mean, 500, 1e-9);
    check_near("begins", s->lowest.clock, ten + 7200, 0);
    end(s);
}

/* What stands for more than three usual steps was not recorded; the row before stands for one. */
static void gaps(void **state)
{
    (void)state;
    struct sag_survey *s = survey("time,ab,bc,ca\n"
                                  "0,480,480,480\n1,480,480,480\n4,480,480,480\n5,480,480,480\n6,480,480,480\n"
                                  "9.5,480,480,480\n10.5,,,\n11.5,480,480,480\n",
                                  480, NULL);
    check_near("step", s->step, 1, 0);
    check_near("gaps", (double)s->gaps, 1, 0); /* three steps are bridged, three and a half are not */
    check_near("longest", s->gap_longest, 2.5, 0);
    check_near("since", s->gap_clock, 6, 0);
    check_near("span", s->span, 12.5, 0);
    check_near("recorded", s->recorded, 12.5 - 2.5 - 1, 1e-12);
    end(s);
}

/* Three usual steps are no gap, also between times that a binary fraction does not hold exactly. */
static void steps_of_fractions(void **state)
{
    (void)state;
    static const char *const logs[] = {
        "0.2,480,480,480\n0.3,480,480,480\n0.6,480,480,480\n0.7,480,480,480\n",
        "0.1,480,480,480\n3.1,480,480,480\n4.1,480,480,480\n7.1,480,480,480\n8.1,480,480,480\n",
        "1772409600.0,480,480,480\n1772409600.1,480,480,480\n1772409600.4,480,480,480\n1772409600.5,480,480,480\n",
        ("2026-03-02 00:00:00,480,480,480\n2026-03-02 00:00:00.1,480,480,480\n"
         "2026-03-02 00:00:00.4,480,480,480\n2026-03-02 00:00:00.5,480,480,480\n"),
    };
    for (size_t i = 0; i < COUNT(logs); i++) {
        char text[300];
        snprintf(text, sizeof text, "time,ab,bc,ca\n%s", logs[i]);
        struct sag_survey *s = survey(text, 480, NULL);
        check_near(logs[i], (double)s->gaps, 0, 0);
        check_near(logs[i], s->recorded, s->span, 1e-9);
        end(s);
    }
}

struct dip_row {
    const char *name, *text;
    size_t count;
    struct sag_volt_event events[3];
};

/* Reference 100 V: dip below 90 until all are at 92, swell above 110 until all are at 108, interruption all below 5
   until one is at 7. A second a row. */
static void check_dips(const struct dip_row *row)
{
    char text[600];
    snprintf(text, sizeof text, "time,ab,bc,ca\n%s", row->text);
    struct sag_survey *s = survey(text, 100, NULL);
    check_near(row->name, (double)s->event_count, (double)row->count, 0);
    for (size_t i = 0; i < row->count; i++) {
        const struct sag_volt_event *got = &s->events[i], *wanted = &row->events[i];
        check_near(row->name, got->clock, wanted->clock, 0);
        check_near(row->name, got->seconds, wanted->seconds, 1e-12);
        check_near(row->name, got->extreme, wanted->extreme, 0);
        check_near(row->name, got->interrupted, wanted->interrupted, 1e-12);
        check_near(row->name, got->kind, wanted->kind, 0);
        check_near(row->name, got->pairs, wanted->pairs, 0);
        check_near(row->name, got->begins_before, wanted->begins_before, 0);
        check_near(row->name, got->ends_after, wanted->ends_after, 0);
    }
    end(s);
}

static void dips(void **state)
{
    (void)state;
    static const struct dip_row rows[] = {
        {"none", "0,100,100,100\n1,90,90,90\n2,110,110,110\n3,100,100,100\n", 0, {{.clock = 0}}},
        {"any begins, all end",
         "0,100,100,100\n1,89,100,100\n2,95,80,100\n3,95,91.9,100\n4,92,92,92\n5,100,100,100\n",
         1,
         {{1, 3, 80, 0, SAG_EVENT_DIP, 3, false, false}}},
        {"hysteresis",
         "0,100,100,100\n1,89.9,100,100\n2,91,100,100\n3,89.9,100,100\n4,92,100,100\n",
         1,
         {{1, 3, 89.9, 0, SAG_EVENT_DIP, 1, false, false}}},
        {"two dips",
         "0,100,100,100\n1,80,100,100\n2,100,100,100\n3,100,100,70\n4,100,100,100\n",
         2,
         {{1, 1, 80, 0, SAG_EVENT_DIP, 1, false, false}, {3, 1, 70, 0, SAG_EVENT_DIP, 4, false, false}}},
        {"swell",
         "0,100,100,100\n1,100,111,100\n2,100,109,100\n3,100,108,100\n4,100,110,100\n",
         1,
         {{1, 2, 111, 0, SAG_EVENT_SWELL, 2, false, false}}},
        {"interruption: all begin, one ends",
         "0,100,100,100\n1,4,4,80\n2,4,4,4\n3,4,6.9,4\n4,4,7,4\n5,93,93,93\n6,100,100,100\n",
         1,
         {{1, 4, 4, 2, SAG_EVENT_INTERRUPTION, 7, false, false}}},
        {"two pairs gone are a dip",
         "0,100,100,100\n1,0,0,100\n2,100,100,100\n",
         1,
         {{1, 1, 0, 0, SAG_EVENT_DIP, 3, false, false}}},
        {"a dip and a swell at once",
         "0,100,100,100\n1,80,120,100\n2,100,120,100\n3,100,100,100\n",
         2,
         {{1, 1, 80, 0, SAG_EVENT_DIP, 1, false, false}, {1, 2, 120, 0, SAG_EVENT_SWELL, 2, false, false}}},
        {"the log begins and ends in one",
         "0,80,100,100\n1,100,100,100\n2,100,70,100\n",
         2,
         {{0, 1, 80, 0, SAG_EVENT_DIP, 1, true, false}, {2, 1, 70, 0, SAG_EVENT_DIP, 2, false, true}}},
        {"not recorded on its way",
         "0,100,100,100\n1,80,100,100\n2,,,\n3,75,100,100\n4,100,100,100\n",
         2,
         {{1, 1, 80, 0, SAG_EVENT_DIP, 1, false, true}, {3, 1, 75, 0, SAG_EVENT_DIP, 1, true, false}}},
        {"a row that another of its time replaces",
         "0,100,100,100\n1,60,100,100\n1,100,100,100\n2,100,100,100\n",
         1,
         {{1, 0, 60, 0, SAG_EVENT_DIP, 1, false, false}}},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_dips(&rows[i]);
}

/* 300 dips, each 0.1 V deeper than the one before: all are counted, the last 100 kept, in the order of time. */
static void the_deepest_are_kept(void **state)
{
    (void)state;
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    fputs("time,ab,bc,ca\n", stream);
    for (int i = 0; i < 300; i++)
        fprintf(stream, "%d,%.1f,100,100\n%d,100,100,100\n", 2 * i, 89 - i / 10.0, 2 * i + 1);
    fclose(stream);
    struct sag_survey *s = survey(text, 100, NULL);
    check_near("counted", (double)s->counts[SAG_EVENT_DIP], 300, 0);
    check_near("their time", s->seconds[SAG_EVENT_DIP], 300, 1e-9);
    check_near("kept", (double)s->event_count, SAG_SURVEY_EVENTS, 0);
    for (size_t i = 0; i < s->event_count; i++)
        check_near("in order", s->events[i].clock, 2.0 * (200 + (double)i), 0);
    end(s);
    free(text);
}

static void references(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double volts, reference;
        int from;
    } rows[] = {
        {"496 V", 496, 480, SAG_REFERENCE_SYSTEM},       {"205 V", 205, 208, SAG_REFERENCE_SYSTEM},
        {"236 V", 236, 240, SAG_REFERENCE_SYSTEM},       {"590 V", 590, 600, SAG_REFERENCE_SYSTEM},
        {"13.9 kV", 13900, 13800, SAG_REFERENCE_SYSTEM}, {"1000 V", 1000, 1000, SAG_REFERENCE_MEDIAN},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[200];
        snprintf(text, sizeof text, "time,ab,bc,ca\n0,%g,%g,%g\n1,%g,%g,%g\n", rows[i].volts, rows[i].volts,
                 rows[i].volts, rows[i].volts, rows[i].volts, rows[i].volts);
        struct sag_survey *s = survey(text, NAN, NULL);
        check_near(rows[i].name, s->reference, rows[i].reference, 0);
        check_near(rows[i].name, s->reference_from, rows[i].from, 0);
        end(s);
    }
    check_near("400 V at 50 Hz", sag_ask_nearest_system(shared_tables(), 412, 50), 400, 0);
    check_near("690 V at 50 Hz", sag_ask_nearest_system(shared_tables(), 660, 50), 690, 0);
}

/* Three hours of a row a second are more than the stretches: each becomes as long as it must. */
static void stretches(void **state)
{
    (void)state;
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    fputs("time,ab,bc,ca\n", stream);
    for (int i = 0; i < 10800; i++)
        fprintf(stream, "%d,%d,100,100\n", i, i == 5000 ? 50 : 100);
    fclose(stream);
    struct sag_survey *s = survey(text, 100, NULL);
    double recorded = 0, lowest = INFINITY;
    for (size_t i = 0; i < s->bucket_count; i++) {
        check_near("equally long", s->buckets[i].time, 8.0 * (double)i, 0); /* 10800 / 1536 is 7.03 */
        recorded += s->buckets[i].seconds;
        lowest = fmin(lowest, s->buckets[i].lowest);
    }
    check_near("how many", (double)s->bucket_count, 10800 / 8.0, 0);
    check_near("all of it", recorded, 10800, 1e-9);
    check_near("the dip is not lost", lowest, 50, 0);
    end(s);
    free(text);
}

static void refused(void **state)
{
    (void)state;
    static const struct {
        const char *text, *notes;
    } rows[] = {
        {"time,ab,bc,ca\n0,,1,2\n1,1,,\n", "0:0 E no row has all three volts ab, bc, ca\n"},
        {"time,ab,bc,ca\n5,1,1,2\n5,1,2,2\n",
         "0:0 E all rows have one time, so nothing is known of how long they stood\n"},
        {"time,ab,bc,ca\n0,0,0,0\n1800,0,0,0\n3601,0,0,0\n5400,480,480,480\n",
         "0:0 E no volts in its first hour that tell the system's; give --volts V\n"},
        {"time,ab,bc,ca\n0,0,0,0\n1,0,0,0\n", "0:0 E all volts are zero; was the recorder connected?\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_survey *s = calloc(1, sizeof *s);
        struct sag_input input = text_input("l.csv", rows[i].text);
        struct sag_diags diags = {0};
        const struct sag_survey_job job = {.tables = shared_tables(), .reference = NAN, .hz = 60};
        assert_non_null(s);
        assert_int_equal(sag_survey_log(&input, &job, s, &diags), SAG_BAD_INPUT);
        check_diags(rows[i].text, &diags, rows[i].notes);
        end(s);
    }
}

TEST_LIST(survey, cmocka_unit_test(means_and_percentiles), cmocka_unit_test(unbalance), cmocka_unit_test(bands),
          cmocka_unit_test(hours), cmocka_unit_test(hours_share_a_row), cmocka_unit_test(gaps),
          cmocka_unit_test(steps_of_fractions), cmocka_unit_test(dips), cmocka_unit_test(the_deepest_are_kept),
          cmocka_unit_test(references), cmocka_unit_test(stretches), cmocka_unit_test(refused))
