#include "base/clock.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"

enum {
    MINUTE = 60,
    HOUR = 3600,
    DAY = 86400
};

/* Days from 1970-01-01 of a date of the Gregorian calendar: years begin in March, so that the leap day comes last. */
static int64_t days_of(int64_t year, int month, int day)
{
    year -= month <= 2;
    int64_t era = (year >= 0 ? year : year - 399) / 400, of_era = year - 400 * era;
    int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static void date_of(int64_t days, int64_t *year, int *month, int *day)
{
    days += 719468;
    int64_t era = (days >= 0 ? days : days - 146096) / 146097, of_era = days - era * 146097;
    int64_t y = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
    int64_t of_year = of_era - (365 * y + y / 4 - y / 100), m = (5 * of_year + 2) / 153;
    *day = (int)(of_year - (153 * m + 2) / 5 + 1);
    *month = (int)(m + (m < 10 ? 3 : -9));
    *year = y + 400 * era + (*month <= 2);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A number of exactly `digits` at `at`; -1 when there is none. */
static int fixed(const char *text, size_t length, size_t at, size_t digits)
{
    int n = 0;
    if (at + digits > length)
        return -1;
    for (size_t i = at; i < at + digits; i++) {
        if (!is_digit(text[i]))
            return -1;
        n = 10 * n + (text[i] - '0');
    }
    return n;
}

static int month_length(int year, int month)
{
    static const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return lengths[month - 1] + (month == 2 && leap);
}

/* ":SS" and a fraction behind HH:MM. Returns where it ends, 0 when it is none. */
static size_t take_seconds(const char *text, size_t length, size_t at, double *seconds)
{
    int whole = fixed(text, length, at + 1, 2);
    *seconds = 0;
    if (at == length || text[at] != ':')
        return at;
    if (whole < 0)
        return 0;
    *seconds = whole;
    at += 3;
    if (at == length || (text[at] != '.' && text[at] != ','))
        return at;
    double part = 0, scale = 1;
    size_t begin = ++at;
    for (; at < length && is_digit(text[at]); at++) {
        part = scale < 1e9 ? 10 * part + (text[at] - '0') : part;
        scale = scale < 1e9 ? 10 * scale : scale;
    }
    *seconds += part / scale;
    return at > begin ? at : 0;
}

/* "Z", "+01", "+0130", "-05:00", or nothing. */
static bool take_zone(const char *text, size_t length, size_t at, struct sag_clock *out)
{
    at += at < length && text[at] == ' ';
    if (at == length)
        return true;
    out->kind = SAG_CLOCK_ZONED;
    if (at + 1 == length && (text[at] == 'Z' || text[at] == 'z'))
        return true;
    int hours = fixed(text, length, at + 1, 2);
    size_t minutes_at = at + 3 + (at + 3 < length && text[at + 3] == ':');
    int minutes = minutes_at == length ? 0 : fixed(text, length, minutes_at, 2);
    bool whole = minutes_at == length ? at + 3 == length : minutes_at + 2 == length;
    if ((text[at] != '+' && text[at] != '-') || hours < 0 || hours > 15 || minutes < 0 || minutes > 59 || !whole)
        return false;
    out->offset = (text[at] == '-' ? -1 : 1) * (HOUR * hours + MINUTE * minutes);
    return true;
}

/* "3/11/2026", "11.03.26": what a spreadsheet makes of a date. */
static bool is_local_date(const char *text, size_t length)
{
    size_t marks = 0, at = 0;
    for (; at < length && (is_digit(text[at]) || text[at] == '/' || text[at] == '.' || text[at] == '-'); at++)
        marks += !is_digit(text[at]);
    return marks == 2 && at >= 6;
}

static enum sag_clock_fault read_date(const char *text, size_t length, struct sag_clock *out)
{
    int year = fixed(text, length, 0, 4), month = fixed(text, length, 5, 2), day = fixed(text, length, 8, 2);
    if (year < 0 || month < 0 || day < 0 || text[4] != '-' || text[7] != '-')
        return is_local_date(text, length) ? SAG_CLOCK_ORDER : SAG_CLOCK_NOT_ONE;
    if (length == 10)
        return SAG_CLOCK_NO_HOUR;
    int hour = fixed(text, length, 11, 2), minute = fixed(text, length, 14, 2);
    if (hour < 0 || minute < 0 || (text[10] != 'T' && text[10] != ' ' && text[10] != 't') || text[13] != ':')
        return SAG_CLOCK_NOT_ONE;
    double seconds;
    size_t at = take_seconds(text, length, 16, &seconds);
    *out = (struct sag_clock){.kind = SAG_CLOCK_DATED};
    if (at == 0 || !take_zone(text, length, at, out))
        return SAG_CLOCK_NOT_ONE;
    if (month < 1 || month > 12 || day < 1 || day > month_length(year, month) || minute > 59 || seconds >= 61 ||
        hour > 24 || (hour == 24 && (minute > 0 || seconds > 0)))
        return SAG_CLOCK_NO_DAY;
    const int of_day = hour * HOUR + minute * MINUTE;
    out->seconds = (double)(days_of(year, month, day) * DAY + of_day) + seconds;
    return SAG_CLOCK_OK;
}

enum sag_clock_fault sag_clock_read(const char *text, size_t length, char mark, struct sag_clock *out)
{
    enum sag_clock_fault fault = read_date(text, length, out);
    double seconds = 0;
    const double most = 1e12; /* beyond it seconds lose their fractions */
    if (fault == SAG_CLOCK_OK || fault == SAG_CLOCK_NO_DAY || fault == SAG_CLOCK_NO_HOUR)
        return fault;
    if (sag_number_read(text, length, mark, &seconds) != SAG_NUMBER_OK || fabs(seconds) > most)
        return fault;
    *out = (struct sag_clock){.seconds = seconds, .kind = SAG_CLOCK_SECONDS};
    return SAG_CLOCK_OK;
}

/* ":60", which belongs to the next minute. */
static bool is_leap(const char *text, size_t length)
{
    return length > 17 && text[17] == '6';
}

enum sag_clock_fault sag_clock_read_next(const char *text, size_t length, char mark, struct sag_clock_minute *minute,
                                         struct sag_clock *out)
{
    const size_t known = sizeof minute->text;
    if (length >= known && minute->text[0] && memcmp(text, minute->text, known) == 0) {
        double seconds;
        size_t at = take_seconds(text, length, known, &seconds);
        if (at == length && seconds < 60) { /* no zone, no leap second */
            *out = minute->clock;
            out->seconds += seconds;
            return SAG_CLOCK_OK;
        }
    }
    enum sag_clock_fault fault = sag_clock_read(text, length, mark, out);
    minute->text[0] = '\0';
    if (fault == SAG_CLOCK_OK && out->kind == SAG_CLOCK_DATED && length >= known && memcmp(text + 11, "24", 2) != 0 &&
        !is_leap(text, length)) {
        memcpy(minute->text, text, known);
        minute->clock = *out;
        minute->clock.seconds = MINUTE * floor(out->seconds / MINUTE);
    }
    return fault;
}

char *sag_clock_print(char out[SAG_CLOCK_ROOM], double seconds, bool dated)
{
    const double first = -62135596800, last = 253402300799; /* years 1 to 9999 */
    char number[SAG_NUMBER_ROOM];
    int month, day;
    int64_t year;
    out[0] = '\0';
    if (isnan(seconds))
        return out;
    if (!dated) {
        sag_number_print(number, seconds, 3);
        for (size_t n = strlen(number); n > 1 && (number[n - 1] == '0' || number[n - 1] == '.'); n--) {
            bool mark = number[n - 1] == '.';
            number[n - 1] = '\0';
            if (mark)
                break;
        }
        snprintf(out, SAG_CLOCK_ROOM, "%s", number);
        return out;
    }
    double thousandths = floor(seconds * 1000 + 0.5);
    double whole = floor(thousandths / 1000);
    if (whole < first || whole > last)
        return out;
    int parts = (int)(thousandths - 1000 * whole);
    int64_t days = (int64_t)floor(whole / DAY);
    int of_day = (int)(whole - (double)days * DAY);
    date_of(days, &year, &month, &day);
    int used = snprintf(out, SAG_CLOCK_ROOM, "%04d-%02d-%02d %02d:%02d:%02d", (int)year, month, day, of_day / HOUR,
                        of_day / MINUTE % 60, of_day % MINUTE);
    if (parts)
        snprintf(out + used, (size_t)(SAG_CLOCK_ROOM - used), ".%03d", parts);
    return out;
}
