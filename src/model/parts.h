/* What the files of this folder share. */
#ifndef MODEL_PARTS_H
#define MODEL_PARTS_H

#include "base/phasor.h"
#include "sagband/model.h"

/* Share of the unsaturated leakage that is left at `amps`; share: how much can saturate away. */
double leakage_factor(double share, double amps);

/* The two cages in parallel. */
double complex rotor_admittance(const struct sag_machine *machine, double slip, double reactance_factor);

/* A load as the model sees it. */
struct load_on {
    const struct sag_load_shape *shape;
    double share; /* of rated power at rated speed */
};

double friction_torque(const struct sag_machine *machine, double speed);

/* Untrimmed torque at a slip; *amps is the guess and becomes the solution. */
double gap_torque(const struct sag_machine *machine, const struct sag_feed *feed, double slip, double *amps);
double shaft_torque(const struct sag_machine *machine, const struct sag_feed *feed, double slip, double *amps);

/* First maximum of untrimmed shaft torque above `from` (a slip), by a coarse search and then a fine one. */
struct sag_peak search_peak(const struct sag_machine *machine, const struct sag_feed *feed, double from);
/* Its slip when it is known to lie near `near`: a parabola or two. Falls back on the search when it does not. */
double track_peak(const struct sag_machine *machine, const struct sag_feed *feed, double near);

/* sag_operate() where breakdown slip is known already. */
bool operate_below(const struct sag_machine *machine, const struct sag_feed *feed, const struct load_on *load,
                   double peak_slip, double *slip);

/* Losses and rated point that any trial circuit shares: closed form from the targets. */
struct rated_point {
    double power, slip;      /* shaft */
    double sin_phi, cos_phi; /* of the rated current */
    double core, friction;   /* losses */
    double stator_r;
    double gap_power;
    double torque; /* rated, of the shaft */
    double locked_amps, locked_torque, breakdown_torque;
    double breakdown_asked; /* before it was capped at what the leakage allows */
    bool slip_moved;
};
struct rated_point rated_point_of(const struct sag_targets *targets);

#define GAP_SHARE 0.92 /* of terminal volts across the gap near breakdown; common practice, only to start from */

/* Rotor resistance and all leakage at standstill, as locked-rotor amps and torque point to them. */
struct locked_hints {
    double r, x;
};
struct locked_hints locked_hints_of(const struct rated_point *rated);

/* Set core_r, magnet_x, gap_volts of a trial from its other elements so that rated amps, power factor and core loss
   hold; returns air-gap power over what it should be. *susceptance is the magnetising one before it is limited. */
double close_rated_point(const struct rated_point *rated, struct sag_machine *trial, double *susceptance);

/* Starting values: the `start`-th of three (0..2). */
enum {
    FIT_STARTS = 3
};
void first_guess(const struct rated_point *rated, int start, struct sag_machine *trial);

/* Least squares from `trial`; leaves the elements there. Returns the worst relative miss of the three targets. */
double fit_from(const struct rated_point *rated, struct sag_machine *trial);

/* One cage from the rated point and locked-rotor amps alone. */
void fit_single_cage(const struct rated_point *rated, struct sag_machine *machine);

#endif
