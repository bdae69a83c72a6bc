/* The worked examples of circuit_examples.csv, one after the other. */
#ifndef OUTSIDE_EXAMPLE_H
#define OUTSIDE_EXAMPLE_H

#include "outside/published.h"

struct example {
    const struct published *file;
    const char *name, *model;
    size_t first, count; /* rows of the file */
};

/* An input, or `otherwise` where the example has none. */
double example_input(const struct example *e, const char *name, double otherwise);

/* The program's answer to an output of the example, in the unit that the file prints; NAN when there is none. */
typedef double example_answer(const struct example *e, const char *name);

/* Ask every output of every example of `model`; an answer further away than the row's tol_pct, or none, fails.
   Returns how many were compared. */
int check_examples(const char *model, example_answer *answer);

/* Calls `visit` for each example of `model`; returns how many there are. */
int visit_examples(const char *model, void (*visit)(const struct example *e));

/* One cage and no saturation, in ohms: volts are phase volts, amps amps, torque air-gap watts of one phase. A missing
   magnetising reactance or core resistance is a very large one. */
struct sag_machine machine_in_ohms(double r1, double x1, double r2, double x2, double xm, double rc);
struct sag_machine machine_of_example(const struct example *e);
double phase_volts(const struct example *e);
double synchronous_speed(const struct example *e); /* rad/s */

/* Seconds of an unloaded run from rest to slip `end`, with the program's torque at each slip: t = integral of
   J ws / T ds. */
double run_up_seconds(const struct sag_machine *machine, double volts, double sync, double inertia, double end);

#endif
