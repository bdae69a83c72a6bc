/* What hangs below a board, handed up from the ends of the path. */
#ifndef PROTECT_BELOW_H
#define PROTECT_BELOW_H

#include "protect/parts.h"

/* All that hangs below a board, in amps at its volts. */
struct below {
    size_t children;            /* rows right below it */
    size_t motors, sized, high; /* all; those that the code's tables size; those over 1000 V */
    double all_amps;            /* code amps of all motors */
    double largest_amps;
    size_t largest;
    double load_amps;
    /* by kind of the device above: the largest branch device, and that motor with its amps */
    double branch_device[SAG_DEVICE_KINDS], branch_amps[SAG_DEVICE_KINDS];
    size_t branch_motor[SAG_DEVICE_KINDS];
    double fire_locked, fire_locked_amps; /* of the fire pump that locks with most: locked, code amps */
    double jockey_locked, jockey_amps, fire_amps;
    size_t fire_pumps, pump_room; /* fire pumps; with jockey pumps */
};

/* Nothing yet. */
struct below below_nothing(void);
/* A motor on the board itself. */
void below_add_motor(struct below *to, const struct sag_motor_size *m, uint8_t duty);
/* What hangs below a child, at the parent's volts: amps times `ratio`. */
void below_add(struct below *to, const struct below *from, double ratio);
/* Fire and jockey pumps, and no other motor. */
bool below_is_pump_room(const struct below *b);

/* The sizes of one piece of path with that below it. node NULL: volts are typed. */
void size_feeder(const struct sag_size_job *job, const struct sag_node *node, const struct below *b,
                 struct sag_feeder_size *f);
/* The same where it feeds nothing but a transformer, whose primary device it carries and may stand in for. */
void join_transformer(const struct sag_size_job *job, const struct sag_node *cable, struct sag_feeder_size *f,
                      struct sag_transformer_size *t);

#endif
