/* Invented logs of line volts, the same in every run: `volt_log week` is motordata/cawdry-flats/survey.csv (make
   survey-log writes it), `volt_log ROWS` one of that many rows, ten a second, for measuring time. */
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    MINUTE = 60,
    HOUR = 3600,
    DAY = 86400,
    DAYS = 7
};

/* A number from -1 to 1 that looks like chance and is not (a linear congruence by Knuth). */
static double wobble(uint64_t *state)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return (double)(*state >> 11) / 4503599627370496.0 - 1;
}

/* What happens between two minutes: rows that a recorder adds when volts change quickly. */
struct moment {
    double time; /* s from the begin */
    double ab, bc, ca, seconds;
};

#define AT(day, hour, minute, second) ((day)*DAY + (hour)*HOUR + (minute)*MINUTE + (second))

static const struct moment moments[] = {
    {AT(0, 6, 14, 22), 428.3, 425.9, 430.6, 7.5},    /* LP-1 and LP-2 together by hand */
    {AT(1, 6, 12, 41), 424.8, 421.7, 426.9, 8},      /* the same */
    {AT(3, 15, 42, 17.2), 331.4, 470.8, 338.5, 0.3}, /* the utility clears a fault of one phase */
    {AT(4, 6, 13, 5), 429.1, 426.4, 431.5, 6.5},     /* pumps again */
    {AT(5, 4, 10, 12), 0, 0, 0, 42},                 /* the utility's line opens and closes again */
    {AT(5, 4, 10, 54), 409.6, 406.2, 411.8, 5.5},    /* everything starts at once */
};

/* Low by day, when the town works; high at night. */
static double swing(int second)
{
    const double pi = 3.14159265358979323846;
    int day = second / DAY;
    double hour = second % DAY / (double)HOUR, weekend = (second - AT(4, 18, 0, 0)) / (12.0 * HOUR);
    double deep = 4.2 - 2.6 * fmin(1, fmax(0, weekend));
    double volts = -deep * cos(2 * pi * (hour - 3) / 24 + pi);
    if (day == 6 && hour >= 2.2 && hour < 3.1) /* the utility's capacitors are left on */
        volts += 8.6;
    return volts;
}

static void put_row(double second, double ab, double bc, double ca)
{
    int whole = (int)floor(second + 1e-9), part = (int)lround(10 * (second - whole));
    printf("2026-03-%02d %02d:%02d:%02d", 2 + whole / DAY, whole % DAY / HOUR, whole % HOUR / MINUTE, whole % MINUTE);
    if (part)
        printf(".%d", part);
    printf(",%.1f,%.1f,%.1f\n", ab, bc, ca);
}

static void put_week(void)
{
    uint64_t state = 1958;
    size_t next = 0;
    double slow = 0;
    fputs("# Volts at board LIFT of Cawdry Flats, an invented week: a row a minute, and rows of their own when volts "
          "change\n"
          "# quickly. Nobody measured this; make survey-log writes it.\n"
          "time,ab,bc,ca\n",
          stdout);
    for (int second = 0; second < DAYS * DAY; second += MINUTE) {
        slow += 0.12 * (wobble(&state) * 2 - slow);
        double volts = 496.9 + swing(second) + slow + 0.4 * wobble(&state), ab = volts + 0.3 + 0.3 * wobble(&state),
               bc = volts - 2.6 + 0.3 * wobble(&state), ca = volts + 2.3 + 0.3 * wobble(&state);
        bool away = second >= AT(2, 10, 0, 0) && second < AT(2, 10, 25, 0); /* its memory was read out */
        if (!away)
            put_row(second, ab, bc, ca);
        for (; next < sizeof moments / sizeof *moments && moments[next].time < second + MINUTE; next++) {
            const struct moment *m = &moments[next];
            put_row(m->time, m->ab, m->bc, m->ca);
            bool goes_on = next + 1 < sizeof moments / sizeof *moments && m[1].time <= m->time + m->seconds;
            if (!goes_on)
                put_row(m->time + m->seconds, ab, bc, ca);
        }
    }
}

static void put_rows(long rows)
{
    uint64_t state = 1;
    puts("time,ab,bc,ca");
    for (long i = 0; i < rows; i++) {
        long second = i / 10;
        double volts = 480 + 6 * wobble(&state);
        printf("2026-03-%02ldT%02ld:%02ld:%02ld.%ld,%.1f,%.1f,%.1f\n", 1 + second / DAY, second % DAY / HOUR,
               second % HOUR / MINUTE, second % MINUTE, i % 10, volts + wobble(&state), volts + wobble(&state),
               volts + wobble(&state));
    }
}

int main(int argc, char **argv)
{
    if (argc != 2)
        return 2;
    if (strcmp(argv[1], "week") == 0)
        put_week();
    else
        put_rows(strtol(argv[1], NULL, 10));
    return fflush(stdout) || ferror(stdout);
}
