/* The C library's own conversions obey the locale of the process, so none is used on data. What is printed is an
   integer count of the last decimal, so text, CSV and JSON cannot differ by a rounding. */
#include "base/number.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const double power_of_ten[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t digits_from(const char *text, size_t length, size_t at)
{
    size_t n = 0;
    while (at + n < length && is_digit(text[at + n]))
        n++;
    return n;
}

/* Bytes of the grouping mark at `at`: comma, point, apostrophe, space, no-break spaces; 0 when there is none. */
static size_t grouping_mark(const char *text, size_t length, size_t at)
{
    static const char *const marks[] = {",", ".", "'", " ", "\xC2\xA0", "\xE2\x80\xAF"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        size_t n = strlen(marks[i]);
        if (at + n <= length && memcmp(text + at, marks[i], n) == 0)
            return n;
    }
    return 0;
}

/* "1,200", "1.234.567", "1 200,5": one to three digits, groups of exactly three behind one and the same mark, and maybe
   a fraction behind another. `out`, when not NULL, gets the number without grouping and with `mark` as decimal mark. */
static bool is_grouped(const char *text, size_t length, char mark, char *out)
{
    size_t at = length && (text[0] == '-' || text[0] == '+'), used = 0, groups = 0;
    size_t n = digits_from(text, length, at), first = at + n;
    size_t wide = grouping_mark(text, length, first);
    if (n < 1 || n > 3 || wide == 0 || (n == 1 && text[at] == '0') || length >= SAG_NUMBER_ROOM)
        return false;
    char plain[SAG_NUMBER_ROOM];
    memcpy(plain, text, first);
    used = first;
    for (at = first; at + wide <= length && memcmp(text + at, text + first, wide) == 0; at += wide + 3, groups++) {
        if (digits_from(text, length, at + wide) < 3)
            return false;
        memcpy(plain + used, text + at + wide, 3);
        used += 3;
    }
    if (at < length && (text[at] == '.' || text[at] == ',') && at + 1 + digits_from(text, length, at + 1) == length) {
        plain[used++] = mark;
        memcpy(plain + used, text + at + 1, length - at - 1);
        used += length - at - 1;
        at = length;
    }
    plain[used] = '\0';
    if (at != length || groups == 0)
        return false;
    if (out)
        memcpy(out, plain, used + 1);
    return true;
}

bool sag_number_ungroup(const char *text, size_t length, char mark, char out[SAG_NUMBER_ROOM])
{
    return is_grouped(text, length, mark, out);
}

/* Powers of ten that a long double holds exactly, so that most numbers need no powl(). */
static const long double exact_power[] = {1e0L,  1e1L,  1e2L,  1e3L,  1e4L,  1e5L,  1e6L,  1e7L,  1e8L,  1e9L,
                                          1e10L, 1e11L, 1e12L, 1e13L, 1e14L, 1e15L, 1e16L, 1e17L, 1e18L, 1e19L,
                                          1e20L, 1e21L, 1e22L, 1e23L, 1e24L, 1e25L, 1e26L, 1e27L};

/* Decimal digits to a double: exact up to 2^64, the rest only moves the exponent. */
static double scaled(uint64_t mantissa, int exponent)
{
    const int most = sizeof exact_power / sizeof *exact_power - 1;
    long double value = (long double)mantissa;
    if (exponent <= 0 && exponent >= -most)
        return (double)(value / exact_power[-exponent]);
    return (double)(exponent < 0 ? value / powl(10.0L, (long double)-exponent)
                                 : value * powl(10.0L, (long double)exponent));
}

struct digits {
    uint64_t mantissa;
    int exponent;
    bool any;
};

static void take_digits(struct digits *d, const char *text, size_t n, bool fraction)
{
    for (size_t i = 0; i < n; i++) {
        d->any = true;
        if (d->mantissa > (UINT64_MAX - 9) / 10) {
            d->exponent += !fraction;
            continue;
        }
        d->mantissa = d->mantissa * 10 + (uint64_t)(text[i] - '0');
        d->exponent -= fraction;
    }
}

static size_t take_exponent(struct digits *d, const char *text, size_t length, size_t at)
{
    if (at >= length || (text[at] != 'e' && text[at] != 'E'))
        return at;
    size_t digit = at + 1;
    bool negative = digit < length && text[digit] == '-';
    digit += digit < length && (text[digit] == '-' || text[digit] == '+');
    size_t n = digits_from(text, length, digit);
    if (n == 0)
        return at;
    int exponent = 0;
    for (size_t i = 0; i < n && exponent < 10000; i++)
        exponent = exponent * 10 + (text[digit + i] - '0');
    d->exponent += negative ? -exponent : exponent;
    return digit + n;
}

static enum sag_number_fault fault_at(const char *text, size_t length, size_t at, char mark)
{
    char other = mark == '.' ? ',' : '.';
    if (is_grouped(text, length, mark, NULL))
        return SAG_NUMBER_THOUSANDS;
    return text[at] == other ? SAG_NUMBER_MARK : SAG_NUMBER_UNIT;
}

/* One group of three behind a point could be a fraction as well; behind the file's own mark it is one. */
static bool is_doubtful(const char *text, size_t length, char mark)
{
    return mark == ',' && memchr(text, '.', length) && is_grouped(text, length, mark, NULL);
}

/* Digits, the mark, digits, and nothing else: what nearly every cell holds. false: read it the long way. */
static bool read_plain(const char *text, size_t length, char mark, double *out)
{
    const size_t most = 18; /* digits that a mantissa holds without a look at its size */
    uint64_t mantissa = 0;
    size_t behind = 0, at = 0;
    bool marked = false;
    if (length == 0 || length > most || !is_digit(text[length - 1]))
        return false;
    for (; at < length; at++) {
        if (is_digit(text[at])) {
            mantissa = mantissa * 10 + (uint64_t)(text[at] - '0');
            behind += marked;
        } else if (text[at] == mark && !marked)
            marked = true;
        else
            return false;
    }
    *out = scaled(mantissa, -(int)behind);
    return true;
}

enum sag_number_fault sag_number_read(const char *text, size_t length, char mark, double *out)
{
    struct digits d = {0};
    if (read_plain(text, length, mark, out))
        return SAG_NUMBER_OK;
    bool negative = length && text[0] == '-';
    size_t at = length && (text[0] == '-' || text[0] == '+');
    if (is_doubtful(text, length, mark))
        return SAG_NUMBER_THOUSANDS;
    size_t n = digits_from(text, length, at);
    take_digits(&d, text + at, n, false);
    at += n;
    if (at < length && (text[at] == mark || text[at] == '.')) {
        n = digits_from(text, length, at + 1);
        take_digits(&d, text + at + 1, n, true);
        at += n + 1;
    }
    if (!d.any)
        return SAG_NUMBER_NOT_ONE;
    at = take_exponent(&d, text, length, at);
    if (at < length)
        return fault_at(text, length, at, mark);
    double value = scaled(d.mantissa, d.exponent);
    if (!isfinite(value))
        return SAG_NUMBER_OUT_OF_RANGE;
    *out = negative ? -value : value;
    return SAG_NUMBER_OK;
}

double sag_number_round(double value, int decimals)
{
    if (!isfinite(value))
        return NAN;
    double scale = power_of_ten[decimals];
    double limit = 1e15;
    if (fabs(value) >= limit)
        return value < 0 ? -limit : limit;
    double rounded = round(value * scale) / scale;
    return rounded == 0 ? 0 : rounded; /* no "-0" */
}

static char *put_unsigned(char *end, uint64_t n, int width)
{
    for (int i = 0; i < width || n > 0; i++, n /= 10)
        *--end = (char)('0' + n % 10);
    return end;
}

char *sag_number_print(char out[SAG_NUMBER_ROOM], double value, int decimals)
{
    double rounded = sag_number_round(value, decimals);
    if (isnan(rounded)) {
        out[0] = '\0';
        return out;
    }
    uint64_t whole = (uint64_t)fabs(rounded);
    uint64_t part = (uint64_t)llround((fabs(rounded) - (double)whole) * power_of_ten[decimals]);
    if (part >= (uint64_t)power_of_ten[decimals]) {
        whole++;
        part = 0;
    }
    char *at = out + SAG_NUMBER_ROOM - 1;
    *at = '\0';
    if (decimals > 0) {
        at = put_unsigned(at, part, decimals);
        *--at = '.';
    }
    at = put_unsigned(at, whole, 1);
    if (rounded < 0)
        *--at = '-';
    memmove(out, at, (size_t)(out + SAG_NUMBER_ROOM - at));
    return out;
}

char *sag_number_figures(char out[SAG_NUMBER_ROOM], double value, int digits)
{
    if (!isfinite(value) || value == 0) {
        return sag_number_print(out, value == 0 ? 0 : NAN, 0);
    }
    int magnitude = (int)floor(log10(fabs(value)));
    int decimals = digits - 1 - magnitude;
    decimals = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
    sag_number_print(out, value, decimals);
    if (decimals > 0) {
        size_t end = strlen(out);
        while (out[end - 1] == '0')
            end--;
        end -= out[end - 1] == '.';
        out[end] = '\0';
    }
    return out;
}
