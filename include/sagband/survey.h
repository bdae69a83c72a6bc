/* Measured volts over time: a recorder's log against bands, in one pass and constant memory. Each row stands until the
   next one; what was not recorded is counted and never filled in. */
#ifndef SAGBAND_SURVEY_H
#define SAGBAND_SURVEY_H

#include "sagband/judge.h"
#include "sagband/read.h"

enum {
    SAG_SURVEY_EVENTS = 100,   /* kept of each log: the deepest; all are counted */
    SAG_SURVEY_BUCKETS = 1536, /* of the picture */
    SAG_SURVEY_PAIRS = 3
};

/* Times in one value: a line voltage, the average of the three, the unbalance. NAN where nothing was recorded. */
struct sag_over_time {
    double mean, lowest, highest;
    double p01, p50, p95, p99; /* the value is at or below it for that share of the time */
    double seconds;            /* that it rests on */
};

/* ORDER EVENT */
#define SAG_EVENTS(X)                                                                                                  \
    X(DIP, "dip")                                                                                                      \
    X(SWELL, "swell")                                                                                                  \
    X(INTERRUPTION, "interruption")

enum sag_event_kind {
#define SAG_EVENT_ENUM(name, word) SAG_EVENT_##name,
    SAG_EVENTS(SAG_EVENT_ENUM) SAG_EVENT_KINDS
#undef SAG_EVENT_ENUM
};
/* The word of the kind column. Never NULL. */
const char *sag_event_word(enum sag_event_kind kind);

/* Shares of the reference. Dips and swells: IEC 61000-4-30 5.4, where the user sets them, 90 and 110 % with a
   hysteresis of 2 % being usual; interruptions: 5.5, 5 % as in EN 50160 (all from memory). */
#define SAG_DIP_BELOW          0.90
#define SAG_SWELL_ABOVE        1.10
#define SAG_INTERRUPTION_BELOW 0.05
#define SAG_EVENT_HYSTERESIS   0.02

/* A dip begins when any of the three is below its threshold and ends when all are at or above it plus the hysteresis.
   It is an interruption when all three were below that threshold. */
struct sag_volt_event {
    double clock, seconds;          /* begin by the log's clock; length */
    double extreme;                 /* V: residual volts, the lowest of any pair; of a swell the highest */
    double interrupted;             /* s that all three were below the threshold of an interruption */
    uint8_t kind;                   /* enum sag_event_kind */
    uint8_t pairs;                  /* those beyond the threshold: bit 0 ab, 1 bc, 2 ca */
    bool begins_before, ends_after; /* its begin or its end was not recorded: the length is a least one */
};

/* An hour of the log's clock. */
struct sag_hour {
    double clock;  /* its begin; NAN: no hour was recorded for half of it or more */
    double inside; /* share of what was recorded of it */
    double mean;   /* V */
};

/* Line volts at the log between which something may be, and how they were met by the average of the three. */
struct sag_survey_band {
    double low, high;
    double inside, below, above;              /* shares of the time that was recorded */
    double sustained;                         /* the share outside in spells of more than a minute */
    double longest;                           /* s, the longest spell outside */
    double headroom_lowest, headroom_highest; /* V left to the nearer edge, negative outside */
    struct sag_hour worst;                    /* least time inside; of equals the mean farthest out */
};

/* A stretch of the log for its picture; no volts where seconds is 0. */
struct sag_bucket {
    double time;            /* begin, s since the log's */
    double seconds, sum;    /* recorded; average of the three times seconds */
    double lowest, highest; /* of any pair */
};

/* ORDER REFERENCE */
enum sag_reference_from {
    SAG_REFERENCE_GIVEN,
    SAG_REFERENCE_SYSTEM, /* the usual system volts nearest to the median of the first hour */
    SAG_REFERENCE_MEDIAN, /* that median: no system volts are near */
};

struct sag_survey {
    struct sag_log_facts log;
    double reference; /* V that shares are of */
    uint8_t reference_from;
    double step;                   /* s, the usual one: the median of the first hour's */
    double span, recorded;         /* s from the first row to the end of the last; of it recorded */
    uint64_t gaps;                 /* steps of more than SAG_GAP_STEPS usual ones */
    double gap_longest, gap_clock; /* s; when it began, NAN */
    struct sag_over_time pair[SAG_SURVEY_PAIRS], average;
    struct sag_over_time unbalance;  /* a share, NEMA MG 1 14.36.2; while no event runs */
    double unbalance_over[2];        /* share of that time above 1 % and above 5 % */
    struct sag_hour highest, lowest; /* hours by their mean; `inside` is not used */
    struct sag_survey_band *bands;   /* as they were asked for */
    size_t band_count;
    struct sag_volt_event events[SAG_SURVEY_EVENTS]; /* those kept, by time */
    size_t event_count;
    uint64_t counts[SAG_EVENT_KINDS]; /* all of them */
    double extreme[SAG_EVENT_KINDS];  /* V, of all of them; NAN: none */
    double seconds[SAG_EVENT_KINDS];  /* their lengths */
    struct sag_bucket buckets[SAG_SURVEY_BUCKETS];
    size_t bucket_count;
};

#define SAG_GAP_STEPS 3.0 /* usual steps: one or two rows lost are bridged, more are not recorded; a choice */
#define SAG_SPELL_LEAST                                                                                                \
    60.0 /* s; what is shorter is a dip or a swell, what is longer a voltage that is too low or too                    \
            high: IEEE 1159, short and long variations (from memory) */

struct sag_survey_job {
    const struct sag_tables *tables;
    double reference; /* V; NAN: from the log */
    double hz;
    /* Asked once, before anything is counted: the bands to hold the log against (low and high are read), by an array
       of malloc() that the survey takes over. NULL: none. */
    enum sag_status (*find_bands)(void *context, double reference, struct sag_survey_band **bands, size_t *count);
    void *context;
};
/* Read a log and survey it. `out` is freed with sag_survey_free(), also after a failure. */
enum sag_status sag_survey_log(const struct sag_input *input, const struct sag_survey_job *job, struct sag_survey *out,
                               struct sag_diags *diags);
/* Give its memory back and leave {0}. */
void sag_survey_free(struct sag_survey *survey);

/* What it says of a board. */
struct sag_volts_span sag_survey_span(const struct sag_survey *survey);

/* --- against the plates of a list -------------------------------------------------------------------------------- */

/* Plates that allow the same volts. */
struct sag_survey_plate {
    double rated_volts, hz; /* of the plate */
    double low, high;       /* line volts at the log between which they may run */
    const char *source;     /* of the band */
    size_t count;           /* motors */
    size_t first;           /* of the list */
};
struct sag_survey_plates {
    struct sag_survey_plate *items; /* lowest volts first */
    size_t count;
    int32_t *of; /* one a motor of the list: its place in items, -1 when it is not compared */
};
/* The plates of the motors that are `wanted` (one a motor of the list; NULL: all). The plant's boards give the log's
   volts; drops between the log and a motor are not counted. Freed with sag_survey_plates_free(), also after a failure.
 */
enum sag_status sag_find_survey_plates(const struct sag_plant *plant, const bool *wanted,
                                       struct sag_survey_plates *out);
void sag_survey_plates_free(struct sag_survey_plates *plates);

/* A plate fails when its band is left for more than this share of the time in spells of more than a minute. */
#define SAG_SURVEY_OUTSIDE 0.01 /* a choice, the share beyond the 1st and the 99th percentile; see docs/method.md */

/* A log that was recorded for less of its time is watched: what it does not show may have happened. */
#define SAG_SURVEY_RECORDED 0.9 /* a choice */

struct sag_survey_result {
    struct sag_finding *findings; /* those that are not ok: of motors, then of the log */
    size_t finding_count;
    enum sag_verdict of_log;    /* the worst of those of the log itself */
    enum sag_verdict *of_plate; /* one a plate: its band alone */
};
/* plates: those the survey's bands were made of, one a band. place: what findings call the log. */
enum sag_status sag_judge_survey(const struct sag_survey *survey, const struct sag_survey_plates *plates,
                                 size_t motor_count, const char *place, struct sag_survey_result *out);
void sag_survey_result_free(struct sag_survey_result *result);

#endif
