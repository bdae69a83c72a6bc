/* The time-current picture in two halves: what a panel shows of one motor, and the page that shows it. */
#ifndef WRITE_PLOT_TIMECURRENT_H
#define WRITE_PLOT_TIMECURRENT_H

#include "write/plot_starts.h"

/* Seconds at the foot and at the top of a panel. */
#define TC_FLOOR 0.005
#define TC_TOP   20000.0

/* Motors whose starts and whose protection are the same. */
struct tc_panel {
    const struct start_group *group;
    const struct sag_result *first;
    const struct sag_motor_size *size;
    struct sag_relay relay;
    bool has_relay;
    struct sag_let_start let;     /* in the main case */
    struct sag_let_start let_low; /* as likely in the low case, when that was run */
    char tags[200];
    double from, to; /* amps of the axis */
};

/* The panels of all groups; at most one a result of the job. Returns how many. */
size_t find_panels(const struct starts *starts, struct tc_panel *panels);

/* Data blocks, `number` behind their names, all begin with amps: $run, $low: s. $limit: s. $relay: fastest, likely,
   slowest s. $holds, $opens: s by the standard. $usual: fastest, slowest s. $trip: the same of a magnetic part.
   $first: s. */
void write_panel_data(const struct starts *starts, const struct tc_panel *panel, size_t number, FILE *f);

#endif
