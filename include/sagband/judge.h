/* Results against limits: verdicts with bounds, and the one plate fact to read next where they do not suffice. */
#ifndef SAGBAND_JUDGE_H
#define SAGBAND_JUDGE_H

#include "sagband/complete.h"
#include "sagband/model.h"
#include "sagband/network.h"
#include "sagband/protect.h"
#include "sagband/start.h"
#include "sagband/tables.h"

/* In rising order of what a reader must attend to. ORDER VERDICT */
#define SAG_VERDICTS(X)                                                                                                \
    X(OK, "ok")                                                                                                        \
    X(WATCH, "watch")                                                                                                  \
    X(UNKNOWN, "unknown")                                                                                              \
    X(FAIL, "fail")

enum sag_verdict {
#define SAG_VERDICT_ENUM(name, word) SAG_VERDICT_##name,
    SAG_VERDICTS(SAG_VERDICT_ENUM) SAG_VERDICT_COUNT
#undef SAG_VERDICT_ENUM
};
/* The word that columns and people see. Never NULL. */
const char *sag_verdict_word(enum sag_verdict verdict);

/* A motor at its terminals in one case. Volts are those between the motor's own terminals. */
struct sag_terminals {
    struct sag_qty volts;
    double lowest_pair; /* volts; that of `volts` unless measured */
    bool over_time;     /* `volts` is the mean of a log, its bounds are percentiles by time */
    double hz, unbalance, negative_share;
    double volts_share;           /* of rated */
    double band_low, band_high;   /* volts between which the plate lets the motor run at this frequency */
    double watch_low, watch_high; /* volts between which there is margin to spare */
    double flux_share;            /* (V / V_r) / (f / f_r) */
    double derate;                /* share of rated power usable at this unbalance; NAN unless measured */
    bool by_flux;                 /* plate and supply differ in frequency by more than 5 % */
    const char *band_source;
};

struct sag_subject;
struct sag_measure;

/* What one check saw. Values and limits are in `unit` of the check. */
struct sag_finding {
    size_t motor;      /* index in the list; of a board: of its row */
    const char *board; /* id of the board it is about; NULL: about a motor */
    const struct sag_check *check;
    struct sag_qty value;
    double limit, watch; /* beyond `watch`, on the good side of the limit, the margin is short */
    const char *source;  /* of the limit */
    const char *missing; /* column to fill in when the verdict is unknown or rests on it; "" else */
    uint8_t which;       /* enum sag_case; SAG_CASE_COUNT when it is about the plate alone */
    uint8_t verdict;
    bool repeats; /* says what another finding of the same motor says: flux at the plate's own frequency */
};

/* A row of the list of checks; see checks.c for how one is added. */
struct sag_check {
    const char *name; /* in a findings table */
    const char *unit;
    const char *meaning; /* a short sentence for people */
    bool (*measure)(const struct sag_subject *subject, struct sag_measure *out);
    bool band; /* counts for the band verdict */
};
/* How many checks there are: of plates and cases, of starts, of boards, of circuits. */
size_t sag_check_count(void);
/* The check at a place of the list, NULL past its end. */
const struct sag_check *sag_check_at(size_t index);
/* Its place in the list. */
size_t sag_check_place(const struct sag_check *check);

/* A motor in one case, judged. */
struct sag_motor_case {
    struct sag_terminals terminals;
    struct sag_effects effects;
    struct sag_qty supply_volts;   /* at its board */
    enum sag_verdict band_verdict; /* of the band alone */
    enum sag_verdict verdict;      /* the worst of all checks, those of the plate included */
    bool present;
};

enum {
    SAG_MOST_FINDINGS = 72 /* more than all checks in all cases; checks.c asserts it */
};

struct sag_result {
    size_t index; /* of the motor in its list */
    struct sag_motor motor;
    struct sag_machine machine;
    struct sag_motor_case of[SAG_CASE_COUNT];
    struct sag_finding findings[SAG_MOST_FINDINGS]; /* those that are not ok */
    size_t finding_count;
    enum sag_verdict worst;
    bool judged; /* volts were known in at least one of the cases */
};

/* What a judgement needs, for a whole list; store keeps circuits between batches. */
struct sag_plant {
    const struct sag_tables *tables;
    const struct sag_motor_list *list;
    const struct sag_board *boards;      /* one a feeder */
    const struct sag_motor_volts *volts; /* one a motor, from the network; NULL: each has its board's */
    bool cases[SAG_CASE_COUNT];          /* which to judge */
    struct sag_fit_store *store;
};

/* Complete, fit and judge motors `indexes[0..count)` of the plant's list over threads. results[i] belongs to
   indexes[i], whatever the number of threads. The plant's store grows, so one plant serves one call at a time. */
enum sag_status sag_judge_motors(const struct sag_plant *plant, const size_t *indexes, size_t count,
                                 struct sag_result *results);

/* --- starts ------------------------------------------------------------------------------------------------------ */

/* Fire pumps, NFPA 70-2023 695.7: least volts at the controller while it starts, share of the board's; least volts at
   the motor, share of its plate's, at that many times its full-load amps. */
#define SAG_FIRE_PUMP_START    0.85
#define SAG_FIRE_PUMP_RUN      0.95
#define SAG_FIRE_PUMP_RUN_AMPS 1.15

/* One motor's start in one case. Bounds come from the same run with all that is assumed of the motors at the bounds
   that make it harder and easier. Volts are line to line. */
struct sag_start_case {
    bool present;
    bool collapses;   /* the network does not settle, before or during the start */
    bool some_run_up; /* as likely or at one of the bounds it gets to speed */
    struct sag_started likely;
    struct sag_qty volts_lowest;     /* at the line side of its starter, behind its branch cable */
    struct sag_qty terminals_lowest; /* between its own terminals, behind the starter */
    struct sag_qty board_lowest;
    struct sag_qty amps_peak, amps_transfer;
    struct sag_qty time_to_speed; /* s; high is INFINITY when it hangs at the hard bounds, unknown when it hangs */
    struct sag_qty heat_used;     /* s at locked-rotor amps */
    struct sag_qty least_surplus; /* share of rated torque */
    struct sag_qty speed_end;     /* share of synchronous speed */
    size_t other;                 /* the other motor whose volts fall lowest; the list's count: none */
    struct sag_qty other_share;   /* of its rated volts */
    double other_before;
    size_t dragged, dragged_count; /* the first of those that the start drags into stall */
    struct sag_qty coil_share;     /* lowest volts at any board, share of nominal */
    int32_t coil_node;
    struct sag_qty lamp_dip; /* deepest dip at a board with other load, share of its volts before; else service */
    int32_t lamp_node;
    double run_share; /* fire pump: volts over rated at 115 % of its full-load amps; NAN else */
    enum sag_verdict verdict;
};

enum {
    SAG_MOST_START_FINDINGS = 56 /* more than all checks of a start in all cases; checks.c asserts it */
};

struct sag_start_result {
    size_t index; /* of the motor in its list */
    struct sag_motor motor;
    struct sag_starter starter;
    double nominal_volts; /* of its board */
    struct sag_start_case of[SAG_CASE_COUNT];
    struct sag_finding findings[SAG_MOST_START_FINDINGS];
    size_t finding_count;
    enum sag_verdict worst;
    bool judged;
};

enum sag_start_order {
    SAG_START_ALONE,    /* each motor by itself, the rest running */
    SAG_START_SEQUENCE, /* by start_order and start_delay_s; those without an order run before */
    SAG_START_TOGETHER, /* all at once after an outage */
};

struct sag_start_plan {
    const struct sag_plant *plant;
    const struct sag_grid *grids; /* one a corner; ORDER CORNER */
    enum sag_start_order order;
    const size_t *motors; /* indices in the list */
    size_t count;
    /* what is tried instead of what the list says; zero: nothing */
    const size_t *shed; /* motors switched off before */
    size_t shed_count;
    const struct sag_starter *starter; /* of the motor `restarted` */
    size_t restarted;
    bool moves_first; /* a sequence begins with the motor `first` */
    size_t first;
    bool likely_only;           /* no corners, no bounds */
    struct sag_kept_runs *kept; /* of plans ALONE with nothing tried: where runs are kept; or NULL */
};
/* Run and judge. results[i] belongs to motors[i]; in a sequence motors without an order are left unjudged. */
enum sag_status sag_judge_starts(const struct sag_start_plan *plan, struct sag_start_result *results);

/* The closings of a plan that is not ALONE, in rising order of time; returns how many. `closings` has room for all its
   motors. */
size_t sag_plan_closings(const struct sag_start_plan *plan, struct sag_closing *closings);

/* Does nothing turn before? So when a plan of all motors together is an outage that ends. */
bool sag_plan_from_rest(const struct sag_start_plan *plan);

/* --- boards ------------------------------------------------------------------------------------------------------ */

enum {
    SAG_MOST_BOARD_FINDINGS = 16 /* more than all checks of a board in all cases; checks.c asserts it */
};

/* A row of the supply and the board at its load end, judged. */
struct sag_board_result {
    bool present[SAG_CASE_COUNT];
    enum sag_verdict verdict[SAG_CASE_COUNT]; /* the worst of all checks, the case's and those of no case */
    struct sag_finding findings[SAG_MOST_BOARD_FINDINGS];
    size_t finding_count;
    enum sag_verdict worst;
};
/* Judge every node of the grid in the plant's cases: results[i] and reports[i] belong to node i. */
void sag_judge_boards(const struct sag_plant *plant, const struct sag_grid *grid,
                      const struct sag_board_report *reports, struct sag_board_result *results);

/* --- protection -------------------------------------------------------------------------------------------------- */

/* The parts of the let-start check. ORDER PASSAGE */
enum sag_passage_part {
    SAG_PASSES_RELAY,
    SAG_PASSES_DEVICE,
    SAG_PASSES_PEAK,
    SAG_PASSAGE_PARTS
};

enum {
    SAG_MOST_BRANCH_FINDINGS = 24,
    SAG_MOST_CIRCUIT_FINDINGS = 8 /* checks.c asserts both */
};

/* One motor's branch circuit, judged. */
struct sag_branch_result {
    size_t index; /* of the motor in its list */
    struct sag_motor motor;
    struct sag_relay relay;
    bool own_device_curve;                       /* the maker's curve of its device was given */
    bool computed, hangs;                        /* in at least one case: it starts; it does not */
    struct sag_let_start let[SAG_CASE_COUNT];    /* computed false where the case does not exist */
    struct sag_passage worst[SAG_PASSAGE_PARTS]; /* over the cases, each part in its own worst one */
    enum sag_case worst_case[SAG_PASSAGE_PARTS]; /* SAG_CASE_COUNT: there is none */
    enum sag_let all;
    double running_amps;                       /* the most of the cases; NAN: not known */
    double start_volts_share, run_volts_share; /* fire pump: least of the cases, of 695.7; NAN */
    struct sag_finding findings[SAG_MOST_BRANCH_FINDINGS];
    size_t finding_count;
    enum sag_verdict verdict;
    bool judged; /* there was something to judge */
};

/* One feeder or transformer, judged. */
struct sag_circuit_result {
    struct sag_finding findings[SAG_MOST_CIRCUIT_FINDINGS];
    size_t finding_count;
    enum sag_verdict verdict;
    bool judged; /* there was something to judge */
};

struct sag_protect_job {
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_plant_size *size;
    const struct sag_grid *grids;           /* one a corner; ORDER CORNER */
    const struct sag_board_report *reports; /* one a node; NULL: volts are typed */
    struct sag_curve device_curve, relay_curve;
    const bool *left_out;       /* motors of the list whose start is not run; NULL: none */
    struct sag_kept_runs *kept; /* of these grids and cases; or NULL */
};
/* Start each motor by itself and judge its branch circuit, over threads. results[i] belongs to motors[i]. */
enum sag_status sag_judge_branches(const struct sag_protect_job *job, const size_t *motors, size_t count,
                                   struct sag_branch_result *results);
/* Judge all feeders and transformers: one result a row of job->size. transformers: NULL where volts are typed. */
void sag_judge_circuits(const struct sag_protect_job *job, struct sag_circuit_result *feeders,
                        struct sag_circuit_result *transformers);

/* Facts of the motor that a start rests on and the list leaves open, a bit a fact. */
uint64_t sag_assumed_in_start(const struct sag_motor *motor);

/* Volts at a fire pump's motor with its code amps, share of its plate's; NAN when the network does not settle, INFINITY
   when memory runs out. */
double sag_fire_pump_running(const struct sag_plant *plant, const struct sag_grid *grid, enum sag_case which,
                             size_t motor);

/* Volts between which a motor's plate lets it run at its board's frequency. */
struct sag_band {
    double low, high;
};
struct sag_band sag_find_band(const struct sag_plant *plant, size_t motor);

/* How a result hangs on one assumed fact: running amps and volts-dependent values with it at both bounds. */
struct sag_sensitivity {
    enum sag_fact fact;
    double low, high;               /* of the fact */
    double amps_low, amps_high;     /* running amps in the case, with the fact at its low and at its high bound */
    double torque_low, torque_high; /* starting torque, N m */
};
struct sag_sensitivities {
    struct sag_sensitivity of[SAG_FACT_COUNT];
    size_t count;
};
/* Of each assumed fact that the circuit uses, the largest effect first. */
enum sag_status sag_find_sensitivity(const struct sag_plant *plant, const struct sag_result *result,
                                     enum sag_case which, struct sag_sensitivities *out);

/* Facts that `check` rests on. */
uint64_t sag_check_facts(void);
/* Those of them that the plate and the list leave open and that count for this motor, a bit a fact: what the `assumed`
   column names and --strict refuses. A code letter counts as giving locked-rotor amps; load and service factor count
   although their defaults have no bounds. */
uint64_t sag_assumed_inputs(const struct sag_motor *motor);

#endif
