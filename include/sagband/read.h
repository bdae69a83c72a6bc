/* MOTORS.csv and SUPPLY.csv to plates and nodes: validated, in SI, nothing filled in. All faults of a file are found in
   one run; when there is one, the list is not to be used. */
#ifndef SAGBAND_READ_H
#define SAGBAND_READ_H

#include <stdbool.h>
#include <stdint.h>

#include "sagband/diag.h"
#include "sagband/facts.h"
#include "sagband/input.h"
#include "sagband/tables.h"

struct sag_arena;

enum {
    SAG_VOLTS_OPTIONS = 3 /* "208-230/460" */
};

/* A row of MOTORS.csv as read. All plates stay in memory for the whole run. */
struct sag_plate {
    const char *tag, *note, *conductor;      /* conductor of its branch, as written; "" when blank */
    double given[SAG_GIVEN_COUNT];           /* SI, NAN where blank; rated volts are in volts_options */
    double volts_options[SAG_VOLTS_OPTIONS]; /* as on the plate, 0 where there are fewer */
    uint32_t line, feeder;                   /* feeder: index in the list's feeders */
    uint8_t choice[SAG_CHOICE_COUNT];
    char code_letter; /* 0 when blank */
};

struct sag_feeder {
    const char *id;
    int32_t node; /* index in the supply's nodes, -1 without a supply file */
};

struct sag_motor_list {
    const char *file;
    struct sag_plate *plates; /* in the order of the file */
    size_t count;
    struct sag_feeder *feeders; /* in the order of first use */
    size_t feeder_count;
    struct sag_arena *arena;
    uint32_t volts_column; /* cell of rated_volts in the file, for messages */
};

/* clang-format off: one row a line */

/* Numbers of a supply row, SI. X(ENUM) */
#define SAG_NODE_FACTS(X)                                                                                              \
    X(NOMINAL_VOLTS)                                                                                                   \
    X(LOW_VOLTS)                                                                                                       \
    X(HIGH_VOLTS)                                                                                                      \
    X(HZ)                                                                                                              \
    X(MEASURED_AB)                                                                                                     \
    X(MEASURED_BC)                                                                                                     \
    X(MEASURED_CA)                                                                                                     \
    X(FAULT_VA)                                                                                                        \
    X(FAULT_AMPS)                                                                                                      \
    X(X_OVER_R)                                                                                                        \
    X(RATED_VA)                                                                                                        \
    X(IMPEDANCE)                                                                                                       \
    X(TRANSIENT)                                                                                                       \
    X(RECOVERY_TIME)                                                                                                   \
    X(PRIMARY_VOLTS)                                                                                                   \
    X(SECONDARY_VOLTS)                                                                                                 \
    X(TAP)                                                                                                             \
    X(LENGTH)                                                                                                          \
    X(SETS) X(OHMS_R) X(OHMS_X) X(LOAD_WATTS) X(LOAD_PF) X(RATING_AMPS) X(DEVICE_AMPS) X(AMBIENT) X(CONDUCTORS)
#define SAG_NODE_KINDS(X)                                                                                              \
    X(SAG_NODE_UTILITY, "utility")                                                                                     \
    X(SAG_NODE_GENERATOR, "generator")                                                                                 \
    X(SAG_NODE_TRANSFORMER, "transformer")                                                                             \
    X(SAG_NODE_CABLE, "cable")
#define SAG_SYSTEMS(X)                                                                                                 \
    X(SAG_SYSTEM_WYE, "wye")                                                                                           \
    X(SAG_SYSTEM_DELTA, "delta")                                                                                       \
    X(SAG_SYSTEM_UNGROUNDED, "ungrounded")
#define SAG_BANKS(X)                                                                                                   \
    X(SAG_BANK_CLOSED, "closed")                                                                                       \
    X(SAG_BANK_OPEN, "open")
#define SAG_LOAD_KINDS(X)                                                                                              \
    X(SAG_LOAD_KIND_POWER, "power")                                                                                    \
    X(SAG_LOAD_KIND_CURRENT, "current")                                                                                \
    X(SAG_LOAD_KIND_IMPEDANCE, "impedance")
/* X(ENUM, column, list of its words) */
#define SAG_NODE_CHOICES(X)                                                                                            \
    X(KIND, "kind", SAG_NODE_KINDS)                                                                                    \
    X(SYSTEM, "system", SAG_SYSTEMS)                                                                                   \
    X(BANK, "bank", SAG_BANKS)                                                                                         \
    X(LOAD_KIND, "load_kind", SAG_LOAD_KINDS)                                                                          \
    X(MATERIAL, "material", SAG_MATERIALS)                                                                             \
    X(RACEWAY, "raceway", SAG_RACEWAYS)                                                                                \
    X(DEVICE, "device", SAG_DEVICES)

/* clang-format on */

#define SAG_VALUE(name, word) name,
enum sag_node_kind {
    SAG_NODE_KIND_BLANK,
    SAG_NODE_KINDS(SAG_VALUE)
};
enum sag_system {
    SAG_SYSTEM_BLANK,
    SAG_SYSTEMS(SAG_VALUE)
};
enum sag_bank {
    SAG_BANK_BLANK,
    SAG_BANKS(SAG_VALUE)
};
enum sag_load_kind {
    SAG_LOAD_KIND_BLANK,
    SAG_LOAD_KINDS(SAG_VALUE)
};
#undef SAG_VALUE

enum sag_node_fact {
#define SAG_NODE_FACT(name) SAG_NODE_##name,
    SAG_NODE_FACTS(SAG_NODE_FACT) SAG_NODE_FACT_COUNT
#undef SAG_NODE_FACT
};
enum sag_node_choice {
#define SAG_NODE_CHOICE(name, column, list) SAG_NODE_##name,
    SAG_NODE_CHOICES(SAG_NODE_CHOICE) SAG_NODE_CHOICE_COUNT
#undef SAG_NODE_CHOICE
};

/* A row of the supply and the board at its load end. Parents stand before children. */
struct sag_node {
    const char *id, *conductor;
    double given[SAG_NODE_FACT_COUNT]; /* SI, NAN where blank */
    uint32_t line;
    int32_t parent; /* -1 for a source */
    uint8_t choice[SAG_NODE_CHOICE_COUNT];
    uint8_t system;       /* enum sag_system in force here: its own or its parent's */
    double volts_nominal; /* line volts of its load end by ratings, no tap */
    double hz;
    double span_low, span_high; /* of its measured volts, where they are those of a log; 0: they are not */
};

struct sag_supply {
    const char *file;
    struct sag_node *nodes;
    size_t count;
    struct sag_arena *arena;
};

/* Read a motor list; `tables` knows the conductor sizes, `supply` (or NULL) is what its feeder column refers to. */
enum sag_status sag_read_motors(const struct sag_input *input, const struct sag_tables *tables,
                                const struct sag_supply *supply, struct sag_motor_list *out, struct sag_diags *diags);
/* One motor from "rated_volts=440,rated_hp=75,..."; its tag is "plate" unless given. */
enum sag_status sag_read_plate(const char *text, const struct sag_tables *tables, const struct sag_supply *supply,
                               struct sag_motor_list *out, struct sag_diags *diags);
/* Plates, and logs of volts, that lie further from their board's nominal volts belong to another system; a share. */
#define SAG_VOLTS_APART 0.25 /* common practice, no source */

/* Refuse plates that are further from volts typed in place of a supply file, as the reader does with one. A list
   that names several boards is let through: typed volts are those of one of them at most. */
enum sag_status sag_check_typed_volts(const struct sag_motor_list *list, double volts, struct sag_diags *diags);
/* Also after a reader failed. */
void sag_motor_list_free(struct sag_motor_list *list);

/* Read a supply path; `tables` knows the conductor sizes. */
enum sag_status sag_read_supply(const struct sag_input *input, const struct sag_tables *tables, struct sag_supply *out,
                                struct sag_diags *diags);
/* Also after a reader failed. */
void sag_supply_free(struct sag_supply *supply);

/* A point of a device's curve: it opens after `seconds` at `multiple` times its rating or setting. */
struct sag_curve_point {
    double seconds, multiple;
};
/* Read a curve (columns time_s, multiple; rows in any order). `points` stand in rising order of multiple, times not
   rising; at least two, NULL after a failure. The caller frees them with free(). */
enum sag_status sag_read_curve(const struct sag_input *input, struct sag_curve_point **points, size_t *count,
                               struct sag_diags *diags);

/* --- a recorder's log of measured volts --------------------------------------------------------------------------- */

/* A row of the log. */
struct sag_volt_sample {
    double time;    /* s since the log began; never falls */
    double clock;   /* what the log's clock shows: s since 1970-01-01 00:00, or as typed */
    double line[3]; /* V, ab bc ca; all NAN where the recorder left one of them blank */
};

/* What a log says of itself. */
struct sag_log_facts {
    bool dated;           /* its times are dates, not seconds */
    uint64_t rows;        /* that were taken */
    uint64_t blank_rows;  /* of them: without volts */
    uint64_t equal_times; /* of them: at the time of the row before */
    uint64_t clock_backs; /* times that the clock was set back by an hour */
    uint32_t back_line;   /* the first of them */
    double begin, end;    /* clock of the first and the last row */
};

struct sag_log_events {
    enum sag_status (*sample)(void *context, const struct sag_volt_sample *sample);
    void *context;
};
/* Read a log (columns time, ab, bc, ca) row by row in constant memory. time: ISO 8601 or seconds. Rows stand in the
   order of time; equal times are taken as they come, and a clock that goes back by one hour, as at the end of daylight
   saving time, is carried on. A status other than SAG_OK of the callback ends the reading. After the first error no
   samples are handed out. */
enum sag_status sag_read_volt_log(const struct sag_input *input, const struct sag_log_events *events,
                                  struct sag_log_facts *facts, struct sag_diags *diags);

/* What a log says of a board's volts: the mean by time of each pair, and the volts that the average of the three is
   below for 1 % of the time and above for 1 %. All 0: there is no log. */
struct sag_volts_span {
    double line[3], low, high;
};

/* Can these be three line voltages? The largest is less than the other two together. */
bool sag_lines_close(const double line[3]);

/* Volts to the neutral over line volts; 0 where there is no neutral. A system of about 240 V that has a neutral at all
   has it at the middle of one winding: 120 V legs (common practice, no source). */
double sag_neutral_share(enum sag_system system, double volts);

/* Index of the node with that id, -1 when there is none. */
int32_t sag_find_node(const struct sag_supply *supply, const char *id);

/* The column to fill in when `fact` is to be given by the plate; NULL for one that no column holds. */
const char *sag_motor_column_of(enum sag_fact fact);

/* The columns of a file kind, in the order a template prints them. */
struct sag_column_help {
    const char *name, *group, *help, *example;
};
size_t sag_motor_columns(size_t index, struct sag_column_help *help); /* returns how many there are */
size_t sag_supply_columns(size_t index, struct sag_column_help *help);

#endif
