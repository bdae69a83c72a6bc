/* What a start does: speeds of all turning motors as states, the network solved at each instant, from the closing of
   the first contactor until nothing moves any more. */
#ifndef SAGBAND_START_H
#define SAGBAND_START_H

#include "sagband/network.h"

/* How a motor is started, with what stood in for blank cells. */
struct sag_starter {
    enum sag_starting method;
    double setting;        /* tap, volts share or times rated amps; NAN where the method has none */
    double transfer_time;  /* s after closing; NAN: at a speed */
    double transfer_speed; /* share of synchronous speed; NAN: at a time */
    double ramp_time;      /* s; NAN where the method has none */
    bool assumed;          /* the list gives too little, typical settings stand in */
};
struct sag_starter sag_starter_of(const struct sag_tables *tables, const struct sag_plate *plate);

/* A contactor that closes. */
struct sag_closing {
    size_t motor; /* index in the list */
    double at;    /* s */
};

/* One run: closings in rising order of time. */
struct sag_start_job {
    const struct sag_tables *tables;
    const struct sag_grid *grid;
    const struct sag_motor_list *list;
    const struct sag_closing *closings;
    size_t count;
    enum sag_case which;
    bool from_rest; /* nothing turns before: after an outage; else all that normally runs and is not started does */
    bool keep_trace;
    const size_t *shed; /* motors that are switched off before, indices in the list */
    size_t shed_count;
    /* a stand-in for the first motor that is started, or NULL: what if its plate said otherwise */
    const struct sag_grid_motor *instead;
    const struct sag_starter *starter; /* of the motor `restarted`, instead of its plate's; or NULL */
    size_t restarted;
};

/* One started motor. Volts are line to line. */
struct sag_started {
    size_t motor, window;
    double closes_at;
    double volts_before;  /* at the line side of its starter, the instant before closing */
    double volts_closing; /* the instant after: the static answer */
    double volts_lowest;
    double terminals_lowest; /* between the motor's own terminals, behind the starter, while it is connected */
    double board_before, board_closing, board_lowest;
    double amps_closing, power_factor_closing; /* in the line, the instant after */
    double amps_peak;                          /* in the line, symmetrical rms, without transfer transients */
    double amps_transfer;                      /* largest transient when a starter changes over; NAN: none */
    double time_to_speed;                      /* s from closing; NAN: it does not get there */
    double speed_end;                          /* share of synchronous speed at its plate's frequency */
    double heat_used;     /* integral of (I/I_locked)^2 dt until it is up to speed, s at locked-rotor amps; NAN */
    double energy;        /* J drawn until it is up to speed; NAN */
    double least_surplus; /* least of motor torque over load torque below breakdown speed, share of rated torque */
    double least_at;      /* share of synchronous speed where that is */
    bool computed;        /* false: no circuit or no inertia, so nothing but volts_before is known */
    bool runs_up;
    bool driven;
};

/* One sample of a started motor. Where its starter changes over there are two of one time, before and after. */
struct sag_trace_row {
    double time;
    size_t motor;
    double line_volts; /* at the line side of its starter, behind its branch cable */
    double motor_volts, board_volts, service_volts, amps, speed, motor_torque_nm, load_torque_nm;
};

struct sag_run {
    struct sag_started *started; /* one a closing */
    size_t count;
    /* a window runs from one closing to the next; closings at one time share it. Its arrays follow one another:
       node i of window w is at w * node_count + i */
    size_t windows;
    double *node_before, *node_closing, *node_lowest;
    double *motor_before, *motor_lowest; /* of each motor that is on, at its terminals; NAN for others */
    bool *dragged;                       /* it ran before, and ends standing or crawling */
    struct sag_trace_row *trace;
    size_t trace_count, trace_room;
    double end_time;
    bool settled; /* false: time ran out, something still moves */
    size_t steps;
};

/* Run it. SAG_NO_SOLUTION: the network does not settle, before or during the start. */
enum sag_status sag_run_up(const struct sag_start_job *job, struct sag_run *out);
/* Give its memory back and leave {0}. */
void sag_run_free(struct sag_run *run);

/* Runs of motors by themselves, all else as the list says, that several stages look at: a motor, a case, a corner. */
struct sag_kept_runs {
    struct sag_run *runs;
    uint8_t *state;
    const size_t *motors; /* indices in the list, rising; the caller's */
    size_t count;
};
enum sag_status sag_kept_init(struct sag_kept_runs *kept, const size_t *motors, size_t count);
/* Give its memory back and leave {0}. */
void sag_kept_free(struct sag_kept_runs *kept);
/* The runs of a motor in a case, one a corner (ORDER CORNER), whether made or not. NULL: it is none of those kept, or
   `kept` is NULL. */
const struct sag_run *sag_find_kept(const struct sag_kept_runs *kept, size_t motor, enum sag_case which);
/* Make the run of the job's one closing, with its trace, if it is not there; comes back with what the run did. Not for
   two threads with the same motor and case at a time. */
enum sag_status sag_keep_run(struct sag_kept_runs *kept, const struct sag_start_job *job, enum sag_corner corner);

/* Among motors that were on when the window began, the one whose volts fall lowest in it, share of its rated volts; the
   list's count when there is none. Motors that were below 85 % already are looked at only when all are. */
size_t sag_worst_other(const struct sag_grid *grid, const struct sag_run *run, size_t window, double *volts_share);

/* The node that stands for the service of a board: the uppermost transformer on its path, else its source. */
int32_t sag_service_node(const struct sag_grid *grid, int32_t below);

#endif
