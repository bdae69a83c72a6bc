/* Points in time as recorders write them: ISO 8601 or seconds, the same in every locale and time zone. */
#ifndef BASE_CLOCK_H
#define BASE_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum sag_clock_kind {
    SAG_CLOCK_SECONDS, /* a plain number */
    SAG_CLOCK_DATED,   /* date and time of day, of no known zone */
    SAG_CLOCK_ZONED,   /* the same with Z or an offset */
};

struct sag_clock {
    double seconds; /* what the clock shows: since 1970-01-01 00:00, or as typed */
    double offset;  /* s that the clock is ahead of universal time; 0 unless zoned */
    uint8_t kind;   /* enum sag_clock_kind */
};

enum sag_clock_fault {
    SAG_CLOCK_OK,
    SAG_CLOCK_NOT_ONE, /* no time */
    SAG_CLOCK_NO_DAY,  /* a month, day, hour or minute that does not exist */
    SAG_CLOCK_ORDER,   /* day and month in an order of their own: "03/11/2026 10:00" */
    SAG_CLOCK_NO_HOUR, /* a date without a time of day */
};

enum {
    SAG_CLOCK_ROOM = 48
};

/* Read all of text[0..length): "2026-03-02T14:05:00.25+01:00", a blank for the T, seconds and what follows left off as
   one likes, or seconds as a number with `mark` as decimal mark. 24:00 and :60 are taken as the next day and minute. */
enum sag_clock_fault sag_clock_read(const char *text, size_t length, char mark, struct sag_clock *out);

/* The minute that was read last: rows follow each other by seconds, so most of a date is that of the row before. */
struct sag_clock_minute {
    char text[16]; /* "2026-03-02T14:05"; begins with 0: none */
    struct sag_clock clock;
};
/* The same as sag_clock_read(), sooner. Start from {0}. */
enum sag_clock_fault sag_clock_read_next(const char *text, size_t length, char mark, struct sag_clock_minute *minute,
                                         struct sag_clock *out);

/* "2026-03-02 14:05:00", with milliseconds where there are any; `dated` false: the seconds, "86400.5". Returns out; ""
   for NAN and for what no date has. */
char *sag_clock_print(char out[SAG_CLOCK_ROOM], double seconds, bool dated);

#endif
