/* Points in time: text to seconds and back. */
#include <math.h>
#include <string.h>

#include "base/clock.h"
#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

struct clock_row {
    const char *text;
    double seconds, offset;
    int kind;
};

/* Seconds by GNU date: date -u -d TEXT +%s. */
static void taken(void **state)
{
    (void)state;
    static const struct clock_row rows[] = {
        {"1970-01-01 00:00:00", 0, 0, SAG_CLOCK_DATED},
        {"2026-03-02 14:05:00", 1772460300, 0, SAG_CLOCK_DATED},
        {"2026-03-02T14:05:00", 1772460300, 0, SAG_CLOCK_DATED},
        {"2026-03-02 14:05", 1772460300, 0, SAG_CLOCK_DATED},
        {"2026-03-02 14:05:00.25", 1772460300.25, 0, SAG_CLOCK_DATED},
        {"2026-03-02 14:05:00,25", 1772460300.25, 0, SAG_CLOCK_DATED},
        {"2026-03-02T14:05:00Z", 1772460300, 0, SAG_CLOCK_ZONED},
        {"2026-03-02T14:05:00+01:00", 1772460300, 3600, SAG_CLOCK_ZONED},
        {"2026-03-02T14:05:00-0530", 1772460300, -19800, SAG_CLOCK_ZONED},
        {"2026-03-02T14:05+02", 1772460300, 7200, SAG_CLOCK_ZONED},
        {"2024-02-29 12:00:00", 1709208000, 0, SAG_CLOCK_DATED},
        {"2000-02-29 12:00:00", 951825600, 0, SAG_CLOCK_DATED},
        {"1969-12-31 23:59:59", -1, 0, SAG_CLOCK_DATED},
        {"2026-12-31 24:00:00", 1798761600, 0, SAG_CLOCK_DATED},
        {"2016-12-31 23:59:60", 1483228800, 0, SAG_CLOCK_DATED},
        {"0", 0, 0, SAG_CLOCK_SECONDS},
        {"86400.5", 86400.5, 0, SAG_CLOCK_SECONDS},
        {"-3.25", -3.25, 0, SAG_CLOCK_SECONDS},
        {"1e3", 1000, 0, SAG_CLOCK_SECONDS},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_clock clock = {0};
        int fault = (int)sag_clock_read(rows[i].text, strlen(rows[i].text), '.', &clock);
        check_near(rows[i].text, fault, SAG_CLOCK_OK, 0);
        check_near(rows[i].text, clock.seconds, rows[i].seconds, 1e-6);
        check_near(rows[i].text, clock.offset, rows[i].offset, 0);
        check_near(rows[i].text, clock.kind, rows[i].kind, 0);
    }
}

static void refused(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum sag_clock_fault fault;
    } rows[] = {
        {"", SAG_CLOCK_NOT_ONE},
        {"noon", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:00.", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:00 PM", SAG_CLOCK_NOT_ONE},
        {"2026-03-02x14:05:00", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:00+1", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:00+01:60", SAG_CLOCK_NOT_ONE},
        {"2026-03-02 14:05:00+01:00x", SAG_CLOCK_NOT_ONE},
        {"2026-03-02", SAG_CLOCK_NO_HOUR},
        {"2026-13-02 14:05:00", SAG_CLOCK_NO_DAY},
        {"2025-02-29 14:05:00", SAG_CLOCK_NO_DAY},
        {"1900-02-29 14:05:00", SAG_CLOCK_NO_DAY},
        {"2026-03-00 14:05:00", SAG_CLOCK_NO_DAY},
        {"2026-03-02 25:05:00", SAG_CLOCK_NO_DAY},
        {"2026-03-02 24:00:01", SAG_CLOCK_NO_DAY},
        {"2026-03-02 14:60:00", SAG_CLOCK_NO_DAY},
        {"3/2/2026 14:05", SAG_CLOCK_ORDER},
        {"02.03.2026 14:05:00", SAG_CLOCK_ORDER},
        {"2-3-26 14:05", SAG_CLOCK_ORDER},
        {"1e13", SAG_CLOCK_NOT_ONE},
        {"nan", SAG_CLOCK_NOT_ONE},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_clock clock;
        check_near(rows[i].text, (double)sag_clock_read(rows[i].text, strlen(rows[i].text), '.', &clock),
                   (double)rows[i].fault, 0);
    }
}

static void printed(void **state)
{
    (void)state;
    static const struct {
        double seconds;
        bool dated;
        const char *text;
    } rows[] = {
        {0, true, "1970-01-01 00:00:00"},
        {1772460300.25, true, "2026-03-02 14:05:00.250"},
        {1772460299.9996, true, "2026-03-02 14:05:00"},
        {-1, true, "1969-12-31 23:59:59"},
        {951825600, true, "2000-02-29 12:00:00"},
        {1e15, true, ""},
        {NAN, true, ""},
        {NAN, false, ""},
        {86400.5, false, "86400.5"},
        {100, false, "100"},
        {0, false, "0"},
        {-0.25, false, "-0.25"},
    };
    char out[SAG_CLOCK_ROOM];
    for (size_t i = 0; i < COUNT(rows); i++)
        check_text(rows[i].text, sag_clock_print(out, rows[i].seconds, rows[i].dated), rows[i].text);
}

/* Rows as they follow each other in a log, and what must not be taken for the same minute. */
static void the_next_one(void **state)
{
    (void)state;
    static const char *const rows[] = {"2026-03-02 14:05:00",
                                       "2026-03-02 14:05:01.5",
                                       "2026-03-02 14:05:59,25",
                                       "2026-03-02 14:05:60",
                                       "2026-03-02 14:05:07",
                                       "2026-03-02 14:05",
                                       "2026-03-02 14:05:00Z",
                                       "2026-03-02 14:05:30+01",
                                       "2026-03-02 14:05:30",
                                       "2026-03-02 14:05:",
                                       "2026-03-02 14:05:7",
                                       "2026-03-02 14:05:08",
                                       "2026-03-02 14:05:61",
                                       "2026-03-02 24:00:00",
                                       "2026-03-02 24:00:01",
                                       "2026-03-02 14:06:00.75",
                                       "2026-03-02 14:06:00x",
                                       "2026-03-02 14:06:09",
                                       "86400",
                                       "2026-03-02 14:06:10"};
    struct sag_clock_minute minute = {.text = ""};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_clock got = {0}, wanted = {0};
        enum sag_clock_fault fault = sag_clock_read(rows[i], strlen(rows[i]), '.', &wanted);
        check_near(rows[i], sag_clock_read_next(rows[i], strlen(rows[i]), '.', &minute, &got), fault, 0);
        if (fault != SAG_CLOCK_OK)
            continue;
        check_near(rows[i], got.seconds, wanted.seconds, 0);
        check_near(rows[i], got.offset, wanted.offset, 0);
        check_near(rows[i], got.kind, wanted.kind, 0);
    }
}

/* Every day of 800 years there and back, which is every kind of year twice. */
static void days_come_back(void **state)
{
    (void)state;
    char out[SAG_CLOCK_ROOM];
    for (int day = -146097; day <= 146097; day++) {
        struct sag_clock clock;
        sag_clock_print(out, 86400.0 * day + 43200, true);
        assert_int_equal(sag_clock_read(out, strlen(out), '.', &clock), SAG_CLOCK_OK);
        check_near(out, clock.seconds, 86400.0 * day + 43200, 0);
    }
}

TEST_LIST(clock, cmocka_unit_test(taken), cmocka_unit_test(refused), cmocka_unit_test(printed),
          cmocka_unit_test(the_next_one), cmocka_unit_test(days_come_back))
