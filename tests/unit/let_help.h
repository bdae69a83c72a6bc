/* Starts made up for the let-start check: constant amps for a time, then running amps. */
#ifndef TESTS_LET_HELP_H
#define TESTS_LET_HELP_H

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

enum {
    MADE_ROWS = 4
};

struct made_start {
    double amps, seconds;
};

/* One motor with its sizes, and a run a corner. */
struct made {
    struct sag_motor_list list;
    struct sag_motor motor;
    struct sag_motor_size size;
    struct sag_run runs[SAG_CORNER_COUNT];
    struct sag_started started[SAG_CORNER_COUNT];
    struct sag_trace_row trace[SAG_CORNER_COUNT][MADE_ROWS];
    struct sag_let_job job;
    struct sag_let_start out;
};

#define MADE_PLATE "rated_volts=460,rated_hp=50,rpm=1775,"

/* A motor of 50 hp with the columns of `more`; no run yet. */
static inline void made_open(struct made *m, const char *more)
{
    char plate[300];
    *m = (struct made){0};
    snprintf(plate, sizeof plate, "%s%s", MADE_PLATE, more);
    complete_typed(plate, 480, &m->list, &m->motor);
    const struct sag_size_job job = {.tables = shared_tables(), .list = &m->list};
    sag_size_motor(&job, &m->motor, false, &m->size);
    m->job = (struct sag_let_job){
        .tables = shared_tables(), .size = &m->size, .motor = &m->motor, .runs = m->runs, .run_count = 0};
}

/* Another corner. Its first half cycle has the trace's amps and no offset to speak of: 1.02 of them. */
static inline void made_run(struct made *m, double amps, double seconds)
{
    const double running = 50;
    int k = m->job.run_count++;
    const double times[MADE_ROWS] = {0, seconds, seconds, seconds + 1};
    for (int i = 0; i < MADE_ROWS; i++)
        m->trace[k][i] = (struct sag_trace_row){.time = times[i], .amps = i < 2 ? amps : running};
    m->started[k] = (struct sag_started){.amps_closing = amps,
                                         .power_factor_closing = 1,
                                         .amps_peak = amps,
                                         .amps_transfer = NAN,
                                         .time_to_speed = seconds,
                                         .computed = true,
                                         .runs_up = true};
    m->runs[k] =
        (struct sag_run){.started = &m->started[k], .count = 1, .trace = m->trace[k], .trace_count = MADE_ROWS};
}

static inline void made_find(struct made *m)
{
    sag_find_let_start(&m->job, &m->out);
}

/* A motor with `more` in its plate that starts with one such start in all corners. */
static inline void made_one(struct made *m, const char *more, double amps, double seconds)
{
    made_open(m, more);
    made_run(m, amps, seconds);
    made_find(m);
}

static inline void made_free(struct made *m)
{
    sag_motor_list_free(&m->list);
}

static inline void check_used(const char *name, const struct sag_passage *p, const double used[3])
{
    const double hair = 1e-4;
    check_near(name, p->used.low, used[0], hair * fmax(1, used[0]));
    check_near(name, p->used.value, used[1], hair * fmax(1, used[1]));
    check_near(name, p->used.high, used[2], hair * fmax(1, used[2]));
}

static inline void check_let(const char *name, enum sag_let got, enum sag_let wanted)
{
    check_text(name, sag_let_word(got), sag_let_word(wanted));
}

#endif
