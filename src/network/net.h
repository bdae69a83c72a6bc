/* The network at work: one solution of the tree for what hangs on it at an instant. Used by this folder, which looks
   for steady states, and by start, which turns the motors. Volts are line to line, complex numbers phasors of them. */
#ifndef NETWORK_NET_H
#define NETWORK_NET_H

#include "base/phasor.h"
#include "sagband/network.h"

/* How a motor is connected. */
enum net_connection {
    NET_OFF,
    NET_CIRCUIT, /* its circuit at a slip, behind a starter or not */
    NET_POWER,   /* constant watts and vars */
    NET_CURRENT, /* constant amps: a drive that speeds it up */
};

/* What a starter does between the line and the motor. net_direct() is none. */
struct net_front {
    double volts_share;        /* motor volts over line volts (a tap, 1/sqrt3 of a wye) */
    double amps_share;         /* line amps over motor amps */
    double torque_share;       /* of the torque that those volts would give */
    double series_r, series_x; /* ohms a phase in the motor's lead */
    double most_amps;          /* line amps that electronic volts control holds; 0: it does not control */
    double power_share;        /* NET_POWER, NET_CURRENT: of the motor's watts */
};

struct net_motor {
    uint8_t how; /* enum net_connection */
    double slip;
    double amps, power_factor; /* of NET_CURRENT */
    struct net_front front;
    /* what the last solution left */
    struct sag_guess guess;
    double complex y_motor, y_in, y_node; /* siemens a phase: at its terminals, at the starter, at the board */
    double volts_line, volts_motor;       /* at the starter's line side; between the motor's terminals */
    double line_amps, motor_amps;
    double torque;  /* machine's unit */
    double control; /* share of line volts that electronic control lets through, at most volts_share */
};

struct net {
    const struct sag_grid *grid;
    struct net_motor *motors;
    double complex *volts; /* of each node, line to line */
    double complex *below; /* admittance of all that hangs on the node, its branches among them */
    double complex *z;     /* of each node; a generator's changes */
    double *emf, *ratio;
    double *load_share; /* of the node's other load */
    double *pin;        /* volts that the node is held at by moving its ratio; NAN */
    double load_scale;  /* on watts of constant power and current, when looking for a collapse */
    bool failed;
    int32_t weakest; /* node of the lowest volts when it failed */
};

enum sag_status net_init(const struct sag_grid *grid, struct net *net);
void net_free(struct net *net);
/* Copy the state, not the memory. */
void net_copy(struct net *to, const struct net *from);

struct net_front net_direct(void);

/* Volts for given slips. false: it does not settle. `close`: share of nominal volts. */
bool net_solve(struct net *net, double close);
/* Admittance, volts, torque of one motor at the node's volts of the moment; true when its admittance still moved. */
double net_motor_response(const struct net *net, size_t motor, struct net_motor *m, double complex node_volts);

/* Slips as well: each turning motor where its torque meets its load times share[] (one a motor; NULL: its own). Motors
   that cannot carry it stand still. false: the network does not settle. */
bool net_settle(struct net *net, const double *share);

/* Prepare sources, other load and pins for a case; motors are all off. */
void net_set_case(struct net *net, enum sag_case which);
/* Connect a motor as it runs. */
void net_run_motor(struct net *net, size_t motor, double share);

/* Share of rated power a motor carries in that case when it is among those that run. */
double net_share_of(const struct sag_grid_motor *motor, enum sag_case which);

/* Complex power at a node from above, watts and vars. */
double complex net_power(const struct net *net, size_t node);

/* Impedance that something more at each node would see, all else standing as it is; ohms a phase, node_count of them.
   false: out of memory. */
bool net_impedance_seen(const struct net *net, double complex *seen);

/* Where the network does not settle: the share of the load that it still carries, by halving. Afterwards the net
   is of no more use. */
double net_bearable_share(struct net *net, const double *share);

#endif
