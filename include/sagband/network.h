/* The supply path: what volts arrive at each board and at each motor in each supply case, and what they are worth. */
#ifndef SAGBAND_NETWORK_H
#define SAGBAND_NETWORK_H

#include "sagband/model.h"
#include "sagband/quantity.h"
#include "sagband/read.h"
#include "sagband/tables.h"

/* ORDER CASE */
#define SAG_CASES(X)                                                                                                   \
    X(NOMINAL, "nominal")                                                                                              \
    X(LOW, "low")                                                                                                      \
    X(HIGH, "high")                                                                                                    \
    X(MEASURED, "measured")

enum sag_case {
#define SAG_CASE_ENUM(name, word) SAG_CASE_##name,
    SAG_CASES(SAG_CASE_ENUM) SAG_CASE_COUNT
#undef SAG_CASE_ENUM
};
/* The word of the case column. Never NULL. */
const char *sag_case_word(enum sag_case which);

/* Volts typed instead of a supply file: one nominal voltage, or three measured line voltages. */
struct sag_typed_volts {
    double line[3];
    int count; /* 0, 1 or 3 */
    double hz; /* 0: not typed */
};

/* One board in one case; `volts` unknown when the case does not exist there. */
struct sag_board_case {
    struct sag_qty volts;  /* line to line; in the measured case the average, bounds the lowest and highest pair */
    double line[3];        /* the three line voltages of the measured case, else 0 */
    double unbalance;      /* NEMA MG 1 14.36.2, a share; 0 unless measured */
    double negative_share; /* negative over positive sequence; 0 unless measured */
    bool
        over_time; /* measured by a log: means by time, and the bounds are the 1st and 99th percentile of the average */
};

struct sag_board {
    const char *id;
    struct sag_board_case of[SAG_CASE_COUNT];
    double volts_nominal, hz;
    double neutral_share; /* volts from a line to the neutral over line volts; 0 where there is no neutral */
    int32_t measured_at;  /* node whose measured volts the measured case rests on, -1 */
};

/* Boards of all feeders of a list, in their order (the caller frees with free()). From the supply file when there is
   one, else from the typed volts. Ranges: given, else ANSI C84.1 Range A (60 Hz: service limits at a source,
   utilization limits for typed volts) or IEC 60038 (50 Hz). Volts are those without current, by ratios and taps;
   sag_find_volts() puts those under load in their place. */
enum sag_status sag_find_boards(const struct sag_tables *tables, const struct sag_supply *supply,
                                const struct sag_typed_volts *typed, const struct sag_motor_list *list,
                                struct sag_board **boards);

/* A log of volts makes the measured case of boards whose volts were typed; a supply file's rows have fields for it. */
void sag_put_log(const struct sag_volts_span *log, struct sag_board *boards, size_t count);

/* --- the plant as a network -------------------------------------------------------------------------------------- */

/* A row of the path: what stands between its board and the one it is fed from, and what else hangs on the board. Ohms
   are a phase, at the volts of the row's own load end. */
struct sag_grid_node {
    const char *id;
    int32_t parent;               /* -1: a source */
    double r, x;                  /* of a source: behind its terminals, 0 for one that holds them */
    double ratio;                 /* no-load volts here over volts of the parent's board; 1 for a source */
    double emf[SAG_CASE_COUNT];   /* of a source: line volts without current; NAN elsewhere */
    double volts_nominal;         /* line volts by ratings */
    double neutral_share;         /* volts from a line to the neutral over line volts */
    double load_watts, load_vars; /* other load at nominal volts */
    double rated_va;              /* of a transformer (an open bank's own capacity) or a generator; NAN else */
    double rating_amps;           /* short-circuit rating; NAN when not given */
    double measured;              /* average of the measured line volts; NAN */
    double ceiling, field_time, recovery_time; /* of a generator: see start.h */
    double fault_share;   /* of its impedance in the first cycle of a fault; 1 but for a generator */
    double synchronous_x; /* of a generator, ohms a phase */
    uint8_t kind;         /* enum sag_node_kind */
    uint8_t load_kind;    /* enum sag_load_kind, never blank */
    uint32_t line;
};

/* A motor as the network sees it, in ohms, watts and newton metres. */
struct sag_grid_motor {
    struct sag_machine machine;
    struct sag_load_shape load;
    struct sag_base base;
    double volts_rated, main_flux;
    double hz, hz_share; /* of the plate; the supply's over it */
    double share;        /* load, of rated power at rated speed */
    double full_share;   /* load in the case where every motor is fully loaded */

    double sync_rad_s; /* at the plate's frequency */
    double inertia;    /* rotor and load, kg m2; NAN when not known */
    double branch_r, branch_x;
    double watts, vars;    /* drawn from the line by one without a circuit, and by one that a drive feeds */
    double terminal_share; /* volts between its terminals over line volts */
    int32_t node;
    uint8_t duty;     /* enum sag_duty */
    bool has_circuit; /* else it is taken as constant power: single-phase, driven, or nothing known */
    bool driven;      /* behind a frequency drive */
};

struct sag_grid {
    struct sag_grid_node *nodes; /* parents before children */
    size_t node_count;
    struct sag_grid_motor *motors; /* in the order of the list */
    size_t motor_count;
};

/* What is assumed of the motors, all of it at once: as likely, or at the bounds that make a start easier or harder
   (inertia, locked-rotor amps, torques). */
enum sag_corner {
    SAG_CORNER_LIKELY,
    SAG_CORNER_EASY,
    SAG_CORNER_HARD,
    SAG_CORNER_COUNT
};

struct sag_grid_job {
    const struct sag_tables *tables;
    const struct sag_supply *supply; /* NULL: one node at the volts of the first board */
    const struct sag_board *boards;  /* one a feeder */
    const struct sag_motor_list *list;
    struct sag_fit_store *store;
    enum sag_corner corner;
};
/* Complete and fit every motor of the list, and put it on the path. Single-phase motors are spread over the three
   phases. */
enum sag_status sag_grid_build(const struct sag_grid_job *job, struct sag_grid *out);
/* Give its memory back and leave {0}. */
void sag_grid_free(struct sag_grid *grid);
/* Put a motor's circuit, base, load and inertia; node, branch and hz_share stay as they are. */
void sag_grid_set_motor(const struct sag_tables *tables, const struct sag_motor *motor,
                        const struct sag_machine *machine, enum sag_corner corner, struct sag_grid_motor *out);
/* Does it run when nothing is said of it? Spares and fire pumps do not. */
bool sag_runs_normally(const struct sag_grid_motor *motor);

/* A motor's volts in the cases; NAN where a case does not exist for it. */
struct sag_motor_volts {
    double at_board[SAG_CASE_COUNT];     /* line to line */
    double at_motor[SAG_CASE_COUNT];     /* between the motor's own terminals, behind its branch cable */
    double amps[SAG_CASE_COUNT];         /* in its line; of a single-phase motor a third of what three would draw */
    double power_factor[SAG_CASE_COUNT]; /* at the end of its branch cable */
};

/* One board in one case. Amps and powers are those that go into it from above, at its own volts. */
struct sag_board_flow {
    double volts_ll, volts_ln; /* to the neutral: NAN where there is none */
    double amps;
    double amps_fire; /* with the fire pumps running as well; NAN where there are none, and in the high case */
    double watts, vars, va;
    double loss_watts;     /* in the piece of path that feeds it */
    double computed_volts; /* measured case: what the network gives without the measurement; else volts_ll */
    bool measured_here;
};
struct sag_board_report {
    struct sag_board_flow of[SAG_CASE_COUNT]; /* volts NAN: no such case here */
    double rated_va;
    double fault_amps;       /* three-phase, bolted, from the sources, at the nominal source's volts without current */
    double motor_fault_amps; /* what turning motors add */
    double rating_amps;      /* NAN: not given */
};

/* Solve all cases. low: every motor at full load or more; nominal and measured: at its own load; high: only the motor
   in question runs, and other load is off. Spares and fire pumps run only for their own row. boards (one a feeder) get
   the volts under load; volts (one a motor) and reports (one a node) are the caller's and may be NULL. A path that
   cannot bring the power ends with SAG_BAD_INPUT and a diagnostic that names the board and what it can carry. */
struct sag_volts_job {
    const struct sag_grid *grid;
    const struct sag_supply *supply; /* NULL: typed volts, nothing is changed in the boards */
    const struct sag_motor_list *list;
    bool cases[SAG_CASE_COUNT];
};
enum sag_status sag_find_volts(const struct sag_volts_job *job, struct sag_board *boards, struct sag_motor_volts *volts,
                               struct sag_board_report *reports, struct sag_diags *diags);

/* Volts at a motor's terminals when it draws `amps` at its own power factor and the rest runs as in the case; NAN when
   the network does not settle, INFINITY when memory runs out. */
double sag_volts_at_amps(const struct sag_grid *grid, enum sag_case which, size_t motor, double amps);

/* Line volts at the ends of a source row's range, each with the rule that it comes from. */
void sag_source_range(const struct sag_tables *tables, const struct sag_node *source, struct sag_qty *low,
                      struct sag_qty *high);

/* Columns of a supply row that its impedance and load rest on and that are blank there, so that a usual value stands
   in: the index-th, NULL past the last. */
const char *sag_assumed_in_path(const struct sag_node *node, size_t index);

/* No-load volts out over volts in: a transformer's ratio with its tap, 1 for everything else. */
double sag_step_ratio(const struct sag_node *node);

/* Largest deviation from the average over the average, a share. NEMA MG 1 14.36.2. */
double sag_unbalance(const double line[3]);
#define SAG_UNBALANCE_DERATES 0.01 /* NEMA MG 1 14.36: derating begins above it */
#define SAG_UNBALANCE_MOST    0.05 /* the same: no operation above it */
/* Negative over positive sequence from the three magnitudes. IEC 61000-4-30 5.7 (from memory). */
double sag_negative_share(const double line[3]);

#endif
