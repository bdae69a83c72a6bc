/* What the checks share: what they look at, and how they say what they saw. */
#ifndef JUDGE_PARTS_H
#define JUDGE_PARTS_H

#include "sagband/judge.h"

/* Runs of one motor with an assumed fact at one of its bounds: made when a verdict hangs on them, see bounds.c. */
struct reruns {
    struct rerun *of[SAG_FACT_COUNT][2];
    bool no_memory; /* for one of them */
};
void reruns_free(struct reruns *reruns);

struct sag_subject {
    const struct sag_plant *plant;
    const struct sag_motor *motor;
    const struct sag_machine *machine;
    const struct sag_board *board;
    const struct sag_motor_case *in_case; /* NULL when the plate alone is judged */
    enum sag_case which;                  /* SAG_CASE_COUNT when the plate alone is judged */
    struct reruns *reruns;
    const struct sag_start_case *in_start; /* NULL unless a start is judged */
    const struct sag_grid *grid;           /* of a start, as likely */
    struct start_reruns *start_reruns;
    const struct sag_grid_node *node; /* NULL unless a board is judged */
    const struct sag_board_report *report;
    /* of protection; NULL unless that is judged */
    const struct sag_motor_size *size;
    const struct sag_branch_result *branch;
    const struct sag_relay *relay;
    const struct sag_feeder_size *feeder;
    const struct sag_transformer_size *transformer;
};

static inline enum sag_verdict worse(enum sag_verdict a, enum sag_verdict b)
{
    return a > b ? a : b;
}

/* Findings as they come: into an array of the caller's, with room for `most`. */
struct finding_list {
    struct sag_finding *items;
    size_t *count, most;
};

/* Run the checks [from, to) of the list that apply to `subject`; those not ok are added to `out`, marked as `about`
   says (motor, board). decisive: names the column to read next. */
struct check_job {
    const struct sag_subject *subject;
    size_t from, to;
    struct sag_finding about;
    const char *(*decisive)(const struct sag_subject *subject, const struct sag_check *check);
};
struct worst {
    enum sag_verdict all, band; /* of all that were run, and of those that count for the band */
    size_t applied;             /* how many had something to look at */
};
struct worst run_checks(const struct check_job *job, const struct finding_list *out);

/* The lists of checks, one behind the other. ORDER CHECK_LIST */
enum check_list {
    CHECKS_RUNNING, /* of a plate or a case */
    CHECKS_START,
    CHECKS_BOARD,
    CHECKS_BRANCH,
    CHECKS_FEEDER,
    CHECKS_TRANSFORMER,
    CHECKS_SURVEY, /* of a log; they have no measure function, survey/judge_survey.c finds their values */
    CHECK_LISTS
};
/* ORDER SURVEY_CHECK */
enum survey_check {
    OUTSIDE_LONG,
    OUTSIDE_SHORT,
    UNBALANCE_TIME,
    DIPS,
    SWELLS,
    INTERRUPTIONS,
    RECORDED,
    SURVEY_CHECKS
};
/* The place where a list begins, which is where the one before it ends. */
size_t checks_begin(enum check_list list);
/* The place of the check with that measure. */
size_t check_place(bool (*measure)(const struct sag_subject *subject, struct sag_measure *out));

enum side {
    AT_MOST,
    AT_LEAST,
};

/* A value against a limit. `watch` lies on the ok side of the limit: beyond it the margin is short. */
struct sag_measure {
    struct sag_qty value;
    double limit, watch;
    enum side side;
    bool advisory; /* beyond the limit is worth watching, not a failure */
    const char *source;
};

enum sag_verdict verdict_of(const struct sag_measure *measure);

/* Measure functions by subject: false when the check does not apply. */
bool measure_band_high(const struct sag_subject *s, struct sag_measure *m);
bool measure_band_low(const struct sag_subject *s, struct sag_measure *m);
bool measure_lowest_pair(const struct sag_subject *s, struct sag_measure *m);
bool measure_flux(const struct sag_subject *s, struct sag_measure *m);
bool measure_frequency(const struct sag_subject *s, struct sag_measure *m);
bool measure_unbalance(const struct sag_subject *s, struct sag_measure *m);
bool measure_derated_load(const struct sag_subject *s, struct sag_measure *m);
bool measure_running_amps(const struct sag_subject *s, struct sag_measure *m);
bool measure_rise(const struct sag_subject *s, struct sag_measure *m);
bool measure_load_power(const struct sag_subject *s, struct sag_measure *m);
bool measure_pull_out(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_amps(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_speed(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_slip(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_efficiency(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_losses(const struct sag_subject *s, struct sag_measure *m);
bool measure_plate_code_letter(const struct sag_subject *s, struct sag_measure *m);
bool measure_circuit(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_computed(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_collapse(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_speed(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_torque(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_volts(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_others(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_dragged(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_coils(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_flicker(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_heat(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_inertia(const struct sag_subject *s, struct sag_measure *m);
bool measure_start_transfer(const struct sag_subject *s, struct sag_measure *m);
bool measure_fire_start(const struct sag_subject *s, struct sag_measure *m);
bool measure_fire_run(const struct sag_subject *s, struct sag_measure *m);
bool measure_capacity(const struct sag_subject *s, struct sag_measure *m);
bool measure_capacity_fire(const struct sag_subject *s, struct sag_measure *m);
bool measure_fault_rating(const struct sag_subject *s, struct sag_measure *m);
bool measure_measured_gap(const struct sag_subject *s, struct sag_measure *m);

bool measure_wire_amps(const struct sag_subject *s, struct sag_measure *m);
bool measure_device_most(const struct sag_subject *s, struct sag_measure *m);
bool measure_device_carry(const struct sag_subject *s, struct sag_measure *m);
bool measure_overload_most(const struct sag_subject *s, struct sag_measure *m);
bool measure_overload_carry(const struct sag_subject *s, struct sag_measure *m);
bool measure_overload_fire(const struct sag_subject *s, struct sag_measure *m);
bool measure_relay_guards(const struct sag_subject *s, struct sag_measure *m);
bool measure_relay_passes(const struct sag_subject *s, struct sag_measure *m);
bool measure_device_passes(const struct sag_subject *s, struct sag_measure *m);
bool measure_peak_passes(const struct sag_subject *s, struct sag_measure *m);
bool measure_feeder_wire(const struct sag_subject *s, struct sag_measure *m);
bool measure_feeder_device_most(const struct sag_subject *s, struct sag_measure *m);
bool measure_feeder_device_carry(const struct sag_subject *s, struct sag_measure *m);
bool measure_primary_device(const struct sag_subject *s, struct sag_measure *m);
bool measure_primary_locked(const struct sag_subject *s, struct sag_measure *m);
bool measure_secondary_device(const struct sag_subject *s, struct sag_measure *m);
bool measure_fire_transformer(const struct sag_subject *s, struct sag_measure *m);
bool measure_secondary_wire(const struct sag_subject *s, struct sag_measure *m);
bool measure_secondary_missing(const struct sag_subject *s, struct sag_measure *m);
bool measure_set_amps(const struct sag_subject *s, struct sag_measure *m);

/* Fill a motor's terminals in a case: volts between its terminals, its band there, flux, derating. */
void find_terminals(const struct sag_plant *plant, const struct sag_motor *motor, enum sag_case which,
                    struct sag_terminals *out);

/* The motor's board, and its volts there in a case. */
const struct sag_board *board_of(const struct sag_plant *plant, const struct sag_plate *plate);
struct sag_qty volts_at_board(const struct sag_plant *plant, const struct sag_plate *plate, enum sag_case which);

struct sag_connection connection_of(const struct sag_board *board);

/* Runs of a start with an assumed fact at one of its bounds, see start_bounds.c. */
struct start_reruns {
    struct sag_start_case *of[SAG_CASE_COUNT][SAG_FACT_COUNT][2];
    bool no_memory; /* for one of them */
};
void start_reruns_free(struct start_reruns *reruns);
const char *decisive_start_column(const struct sag_subject *subject, const struct sag_check *check);

/* What a case's runs, one a corner that was run (from 1 to all), say of their i-th closing. */
void condense_start(const struct sag_start_plan *plan, const struct sag_run *runs, int count, size_t i,
                    struct sag_start_case *out);

/* The column whose fact moves `check` most between its bounds; "" when none does. */
const char *decisive_column(const struct sag_subject *subject, const struct sag_check *check);

#endif
