/* The sag picture in two halves: what the runs say over time, and the page that shows it. */
#ifndef WRITE_PLOT_SAG_H
#define WRITE_PLOT_SAG_H

#include "write/plot_starts.h"

enum {
    MOST_EVENTS = 4 /* closings and changeovers of one start that are marked */
};

/* A start as it is drawn: volts in percent. */
struct sag_drawing {
    const struct start_group *group;
    double motor_scale, board_scale, service_scale; /* percent a volt */
    double sync_rpm;
    double from, until;         /* s */
    double least, most;         /* of all volts drawn */
    double most_amps, most_rpm; /* of the likely run and of the hard one */
    double dip;                 /* of the board, share of its volts before; INFINITY when volts collapse */
    double events[MOST_EVENTS];
    int event_count;
    int32_t service;
    bool board_is_service, own_motor_volts;
};

/* What to draw of a start, from its likely run; with the others when they are there. */
void sag_drawing_of(const struct starts *starts, const struct start_group *group, struct sag_drawing *out);
/* $startN: time, volts before the starter, at the motor, at board, at service, amps, rev/min. $spanN: time, then least
   and most of volts before the starter, amps, rev/min. */
void write_sag_data(const struct sag_drawing *d, size_t number, FILE *f);

#endif
