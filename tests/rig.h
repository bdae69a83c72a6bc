/* A small plant put together by hand: sources, boards, motors, closings. Tests of the start stage run it. */
#ifndef TESTS_RIG_H
#define TESTS_RIG_H

#include "support.h"

enum {
    RIG_NODES = 6,
    RIG_MOTORS = 8
};

struct rig {
    struct sag_grid grid;
    struct sag_grid_node nodes[RIG_NODES];
    struct sag_grid_motor motors[RIG_MOTORS];
    struct sag_plate plates[RIG_MOTORS];
    struct sag_motor_list list;
    struct sag_closing closings[RIG_MOTORS];
    struct sag_start_job job;
    struct sag_run run;
};

/* A source of `volts` line to line behind r + jx ohms a phase, and nothing else yet. */
void rig_start(struct rig *rig, double volts, double r, double x);
/* Another board below `parent` behind a cable. Returns its node. */
int32_t rig_board(struct rig *rig, int32_t parent, double r, double x);
/* Put a generator of that many VA and recovery time in place of the source; machine data are the table's typical. */
void rig_generator(struct rig *rig, double va, double recovery_time);
/* A motor typed as for --plate; returns its index. */
size_t rig_motor(struct rig *rig, int32_t node, const char *plate);
/* A motor given by its circuit: volts line to line, amps of its base, synchronous speed in rad/s, inertia in kg m2. No
   load; starts across the line. */
struct rig_circuit {
    struct sag_machine machine;
    double volts, amps, sync, inertia;
};
size_t rig_circuit_motor(struct rig *rig, int32_t node, const struct rig_circuit *circuit);
/* One that answers with admittances alone: no saturation, no trims, no saddle. */
void rig_make_linear(struct sag_grid_motor *motor);

/* A plant on a weak supply of 2.2 MVA fault level: a cable, other load, a compressor and a fan that run, and a fan
   larger than both that is to be started. Keeps a trace. */
enum {
    RIG_RUNS_ONE,
    RIG_RUNS_TWO,
    RIG_STARTS
};
void rig_weak_plant(struct rig *rig);

void rig_close(struct rig *rig, size_t motor, double at);
/* Run; fails the test when the run does. What was run before is given back. */
void rig_run(struct rig *rig);
/* The first started motor of the run. */
const struct sag_started *rig_first(const struct rig *rig);
/* The last row of the trace of a motor; fails when there is none. */
const struct sag_trace_row *rig_last(const struct rig *rig, size_t motor);
void rig_free(struct rig *rig);

/* Time at which a motor of the trace first passes a speed (share of synchronous); between samples by a cubic whose
   slopes are those of the samples' own torques. NAN: it does not. */
double rig_time_at(const struct rig *rig, size_t motor, double speed);

#endif
