/* Starting methods as stages: what stands between line and motor, and when the next stage comes. */
#ifndef START_STARTER_H
#define START_STARTER_H

#include "network/net.h"
#include "sagband/start.h"

enum {
    MOST_STAGES = 3
};

struct stage {
    struct net_front front;
    double until_time;           /* s after closing; INFINITY: not by time */
    double until_speed;          /* share of synchronous speed of the supply; INFINITY: not by speed */
    double winding_share;        /* winding volts over terminal volts: 1/sqrt3 in a wye, else 1 */
    double ramp_from, ramp_time; /* of electronic volts control: the ceiling on its volts rises; 0: no ramp */
    bool open;                   /* nothing is connected */
    bool controls;               /* ends when the control lets all volts through */
};

struct stages {
    struct stage of[MOST_STAGES];
    int count;
};

void stages_of(const struct sag_tables *tables, const struct sag_starter *starter, const struct sag_grid_motor *motor,
               struct stages *out);

/* Share of line volts that a ramp allows at a time after closing. */
double ramp_share(const struct stage *stage, double since_closing);

#endif
