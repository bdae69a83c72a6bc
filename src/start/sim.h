/* A run under way. */
#ifndef START_SIM_H
#define START_SIM_H

#include "start/starter.h"

/* A speed that is integrated: a turning motor's, or one that is being started. */
struct mover {
    size_t motor;
    int32_t item;      /* its closing, -1 when it ran before */
    double per_torque; /* speed gained a second by a unit of torque */
    double share;      /* of rated power its load takes */
};

struct exciter {
    size_t node;
    double volts_set;
};

/* A closing under way. */
struct item {
    struct sag_starter starter;
    struct stages stages;
    int32_t mover; /* -1: no speed to integrate */
    int stage;     /* -1 before closing */
    double closed_at, stage_from;
    double locked_amps; /* machine's unit, at rated volts */
    double gap_volts;   /* across the gap when the line opened, and slip then: what a changeover meets */
    double share;       /* of rated power its load takes */
    struct sample *samples;
    size_t count, room;
};

struct sample {
    double time, speed, heat, watts;
    double surplus; /* torque over load, share of rated; NAN while a ramp holds it down */
    int stage;
};

struct sim {
    const struct sag_start_job *job;
    struct sag_run *run;
    struct sag_grid grid; /* the job's, or a copy with the stand-in */
    struct sag_grid_motor *own_motors;
    struct net net;
    struct mover *movers;
    size_t mover_count;
    struct exciter *exciters;
    size_t exciter_count;
    struct item *items;
    double *share; /* of each motor in the case */
    /* speeds, then volts behind the generators' transient reactance */
    size_t size;
    double *state, *slope, *stiff, *next, *slope_next, *stage_one;
    double time;
    double close;     /* to which the network is solved, share of nominal volts */
    int32_t *service; /* of each item */
    size_t window;    /* the one that is open; run->windows before the first */
};

/* From a job and an empty run to the instant before the first closing: everything runs that runs before. Close it also
   after it failed. */
enum sag_status sim_open(struct sim *s);
void sim_close(struct sim *s);

/* Slopes of all states, and how each hangs on itself (`stiff`, may be NULL). false: the network does not settle. */
bool sim_slopes(struct sim *s, double time, const double *state, double *slope, double *stiff);

/* One step of length h from `state` to `next`; slope and stiff are those at the start. Returns the error estimate, NAN
   when the network does not settle. */
double sim_step(struct sim *s, double h);

/* Integrate until nothing moves or time runs out. */
enum sag_status sim_integrate(struct sim *s);

/* A contactor closes: what is on by now counts as being there before. */
void sim_open_window(struct sim *s);

/* Close, change over: the motor's connection is that of its stage from now on. */
enum sag_status sim_enter_stage(struct sim *s, size_t item, int stage);

/* Keep what the network shows at this instant. */
enum sag_status sim_record(struct sim *s);

/* What is known at the end. */
void sim_finish(struct sim *s);

#endif
