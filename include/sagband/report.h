/* The report: one page that holds everything, for an owner or an inspector. Sections of feeders are written first, one
   by one, so that only one feeder is in memory; what is kept of them for the rest of the page are the notes. */
#ifndef SAGBAND_REPORT_H
#define SAGBAND_REPORT_H

#include "sagband/write.h"

/* The command that a finding belongs to. ORDER PART */
enum sag_report_part {
    SAG_PART_CHECK,
    SAG_PART_SUPPLY,
    SAG_PART_START,
    SAG_PART_PROTECT,
    SAG_REPORT_PARTS
};

/* What is kept of a motor. */
struct sag_motor_note {
    uint8_t verdict[SAG_REPORT_PARTS]; /* enum sag_verdict; SAG_VERDICT_COUNT: not judged */
    uint8_t band[SAG_CASE_COUNT];      /* the same of its band in a case */
    bool heavy;                        /* its load inertia is above the standard's */
    bool curable;                      /* its start fails in something that a change might cure */
    bool looked_at;                    /* it is one of those that the report was asked for */
};

/* A fact that plates leave open. */
struct sag_open_fact {
    size_t motors;  /* that leave it open */
    size_t largest; /* the one of them with most rated power */
    double watts;
};

struct sag_finding_list {
    struct sag_finding *items;
    size_t count, room;
};

/* A fire pump's volts against NFPA 70 695.7, the worst of the cases. */
struct sag_fire_note {
    size_t motor;
    double start_share, run_share;
};

struct sag_report_notes {
    struct sag_motor_note *motors; /* one a motor of the list */
    struct sag_finding_list findings[SAG_REPORT_PARTS];
    struct sag_open_fact open[SAG_FACT_COUNT];
    struct sag_fire_note *fire;
    size_t fire_count, fire_room;
    size_t hardest; /* the motor whose start takes most of the volts at its board; SIZE_MAX: none was run */
    enum sag_case hardest_case;
    struct sag_start_case hardest_start;
};
/* For a list of that many motors. */
enum sag_status sag_notes_init(struct sag_report_notes *n, size_t motors);
/* Give its memory back and leave {0}. */
void sag_notes_free(struct sag_report_notes *n);
/* Note one result; each motor once a part. */
enum sag_status sag_note_check(struct sag_report_notes *n, const struct sag_result *r);
enum sag_status sag_note_start(struct sag_report_notes *n, const struct sag_start_result *r);
enum sag_status sag_note_branch(struct sag_report_notes *n, const struct sag_branch_result *r);
enum sag_status sag_note_findings(struct sag_report_notes *n, enum sag_report_part part,
                                  const struct sag_finding *findings, size_t count);

/* What a feeder's section is made of. */
struct sag_report_feeder {
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL: volts are typed */
    uint32_t feeder;
    const struct sag_result *results; /* its motors */
    size_t count;
    const struct sag_start_result *starts; /* of those of them whose start was run */
    size_t start_count;
    const struct sag_branch_result *branches; /* one a motor */
    const struct sag_protect_table *schedule;
    size_t circuit;              /* its row in schedule->size->feeders; SIZE_MAX: none is shown */
    const char *const *pictures; /* paths of drawn pictures, FOLDER/FEEDER-KIND[-PAGE].svg */
    size_t picture_count;
};
enum sag_status sag_write_report_feeder(FILE *f, const struct sag_report_feeder *r);

/* A file that was read. */
struct sag_report_input {
    const char *role, *name, *sha256;
    size_t bytes;
};

struct sag_report_job {
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_board_report *reports;
    const struct sag_board_result *board_results;
    const struct sag_grid *grid;
    const struct sag_protect_table *schedule;
    const bool *circuit_shown; /* of each row of schedule->size->feeders */
    uint64_t clauses;          /* that the rows of the schedule rest on, a bit a clause */
    const struct sag_report_notes *notes;
    const struct sag_tap_advice *taps; /* NULL: not looked for */
    const struct sag_advice_list *advice;
    const struct sag_report_input *inputs;
    size_t input_count;
    const char *basis;   /* what the volts rest on, lines as `check` prints them */
    const char *version; /* of the program */
    const char *date;
    const char *title;      /* NULL: none was given */
    const char *call;       /* the words that the program was called with */
    const char *no_picture; /* why there are none; NULL: they are in it */
    int insulation_c;       /* of wires, where nothing else is said */
    enum sag_device device; /* that is sized where none is there */
    size_t starts_run, starts_all;
    FILE *feeders; /* their sections, from its beginning */
};
/* The page. SAG_IO also when the sections cannot be read back. */
enum sag_status sag_write_report(FILE *f, const struct sag_report_job *job);

#endif
