/* Results to rows, rows to bytes, bytes to files that appear whole or not at all. Only here does anything know a
   format. */
#ifndef SAGBAND_WRITE_H
#define SAGBAND_WRITE_H

#include <stdio.h>

#include "sagband/advise.h"
#include "sagband/diag.h"
#include "sagband/judge.h"
#include "sagband/survey.h"

/* --- files ------------------------------------------------------------------------------------------------------ */

struct sag_out;

/* Open `path` for writing (NULL or "-": standard output). The file is written beside its target under a temporary name.
   Without `force` an existing target is refused, now and again when it is put in place. */
enum sag_status sag_out_open(struct sag_out **opened, const char *path, bool force, struct sag_diags *diags);
/* Where to write to; belongs to `out`. */
FILE *sag_out_stream(struct sag_out *out);
/* `written` is how the writing ended. SAG_OK: check, flush, put in place. SAG_IO: say why, leave no trace. Anything
 * else: leave no trace. Comes back with `written` or SAG_IO; `out` is gone. Call it right after the write that failed:
 * errno still holds the reason then. */
enum sag_status sag_out_close(struct sag_out *out, enum sag_status written, struct sag_diags *diags);
/* true when both are there and are one regular file, however they are spelt. */
bool sag_same_file(const char *left, const char *right);
/* Make a folder if it is not there. */
enum sag_status sag_out_folder(const char *path, struct sag_diags *diags);

/* --- tables ----------------------------------------------------------------------------------------------------- */

enum sag_cell_kind {
    SAG_CELL_NUMBER,
    SAG_CELL_TEXT,
    SAG_CELL_VERDICT, /* text that a terminal may colour */
    SAG_CELL_RAW,     /* a cell of a table as it stands there: a number where it reads as one, else text */
};

struct sag_column {
    const char *name;        /* in CSV and JSON; NULL: not there */
    const char *head, *unit; /* in text; head NULL: not shown there */
    int width, decimals;
    enum sag_cell_kind kind;
};

struct sag_value {
    double number;    /* NAN: blank */
    const char *text; /* "": blank; of a number that is blank: what people see in its place */
};

struct sag_view {
    const struct sag_column *columns;
    size_t count;
};

enum {
    SAG_MOST_COLUMNS = 48
};

struct sag_sheet {
    FILE *stream;
    const struct sag_view *view;
    bool colour;
    bool started; /* the writer's own */
};

/* A format. `title` heads a group of rows where the format has room for it. */
struct sag_writer {
    const char *name;
    void (*begin)(struct sag_sheet *sheet, const char *title);
    enum sag_status (*row)(struct sag_sheet *sheet, const struct sag_value *values);
    void (*end)(struct sag_sheet *sheet);
};
/* NULL when there is none of that name; index runs over all, NULL past the last. */
const struct sag_writer *sag_writer_find(const char *name);
/* By place, NULL past the last. */
const struct sag_writer *sag_writer_at(size_t index);

/* --- views ------------------------------------------------------------------------------------------------------ */

/* sag_fault_view: values of the supply view, other columns of it in text */
extern const struct sag_view sag_check_view, sag_supply_view, sag_fault_view, sag_start_view, sag_trace_view,
    sag_finding_view, sag_tables_view, sag_explain_view, sag_advice_view, sag_protect_view;

/* The tables of a survey: values of one view, other columns of it in text. */
extern const struct sag_view sag_survey_view, sag_survey_volts_view, sag_survey_unbalance_view, sag_dip_view;

/* Buffers that a row's text cells point into. */
struct sag_row_text {
    char assumed[200];
};
/* `values` has room for the view's columns. */
void sag_check_row(const struct sag_motor_list *list, const struct sag_result *result, enum sag_case which,
                   struct sag_row_text *text, struct sag_value *values);
/* What a row of boards is made of; all three run over the nodes. */
struct sag_board_table {
    const struct sag_supply *supply;
    const struct sag_board_report *reports;
    const struct sag_board_result *results;
};
/* Values of sag_supply_view, of a board in a case it has volts in. */
void sag_supply_row(const struct sag_board_table *table, size_t board, enum sag_case which, struct sag_row_text *text,
                    struct sag_value *values);
/* What the rows of a survey are made of. */
struct sag_survey_table {
    const struct sag_motor_list *list;
    const struct sag_survey *survey;
    const struct sag_survey_plates *plates;
    const struct sag_survey_result *result;
};
struct sag_survey_text {
    char name[64], hour[48], tags[400];
};
/* Values of sag_survey_view: of a plate; of one of the three pairs (0 to 2) or their average (3), the unbalance (4). */
void sag_survey_plate_row(const struct sag_survey_table *table, size_t plate, struct sag_survey_text *text,
                          struct sag_value *values);
void sag_survey_volts_row(const struct sag_survey_table *table, int which, struct sag_survey_text *text,
                          struct sag_value *values);
/* Values of sag_dip_view, of an event that was kept. */
void sag_dip_row(const struct sag_survey *survey, size_t event, struct sag_survey_text *text, struct sag_value *values);
/* Values of sag_start_view, of a motor in a case it was started in. */
void sag_start_row(const struct sag_plant *plant, const struct sag_start_result *result, enum sag_case which,
                   struct sag_row_text *text, struct sag_value *values);
/* What the schedule of `protect` is made of. */
struct sag_protect_table {
    const struct sag_motor_list *list;
    const struct sag_board *boards;  /* one a feeder of the list */
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_plant_size *size;
    const struct sag_board_report *reports;        /* one a node; NULL: volts are typed */
    const struct sag_circuit_result *feeders;      /* one a row of size->feeders */
    const struct sag_circuit_result *transformers; /* the same; NULL: volts are typed */
};
struct sag_protect_text {
    char wire[40], old_wire[40], ground[40], clauses[600], feet[SAG_CLAUSE_COUNT + 1];
};
/* Values of sag_protect_view: of a motor, a feeder, a winding. */
void sag_branch_row(const struct sag_protect_table *table, const struct sag_branch_result *result,
                    struct sag_protect_text *text, struct sag_value *values);
void sag_feeder_row(const struct sag_protect_table *table, size_t index, struct sag_protect_text *text,
                    struct sag_value *values);
void sag_transformer_row(const struct sag_protect_table *table, size_t index, enum sag_winding winding,
                         struct sag_protect_text *text, struct sag_value *values);
/* Heads of groups of rows; all return title->text, with user text made safe to show. */
struct sag_title {
    char text[300];
};
/* "Feeder LIFT, 492.0 V nominal, 479.7 V low, ..."; supply: NULL where volts are typed. */
const char *sag_feeder_title(const struct sag_plant *plant, const struct sag_supply *supply, uint32_t feeder,
                             struct sag_title *title);
const char *sag_start_title(const struct sag_plant *plant, uint32_t feeder, struct sag_title *title);
/* Of a row of table->size->feeders, and of its transformer. */
const char *sag_circuit_title(const struct sag_protect_table *table, size_t index, struct sag_title *title);
const char *sag_transformer_title(const struct sag_protect_table *table, size_t index, struct sag_title *title);
/* What a table of boards shows in a case; what that of faults shows. */
const char *sag_case_title(enum sag_case which);
const char *sag_fault_title(void);
/* The letter that stands for a clause in the foot of a row. */
char sag_clause_letter(enum sag_clause clause);
/* The clauses of a schedule, each with its letter. */
void sag_print_feet(FILE *stream, uint64_t clauses);
/* "1/0 cu", "2 x 250 al"; "" without a size. Returns `out`. */
const char *sag_wire_words(const struct sag_wire *wire, char *out, size_t room);
/* Values of sag_advice_view. */
void sag_advice_row(const struct sag_plant *plant, const struct sag_advice *advice, struct sag_value *values);
/* Tap positions for people; nothing when all motors are in band already. */
void sag_print_tap_advice(FILE *stream, const struct sag_plant *plant, const struct sag_grid *grid,
                          const struct sag_tap_advice *advice);
/* Values of sag_trace_view. */
void sag_trace_values(const struct sag_motor_list *list, const struct sag_grid *grid, const struct sag_trace_row *row,
                      struct sag_value *values);
/* Values of sag_finding_view. */
void sag_finding_row(const struct sag_motor_list *list, const struct sag_finding *finding, struct sag_value *values);
/* Values of sag_tables_view. */
void sag_tables_row(const struct sag_table *table, struct sag_value *values);

/* Findings for people: the worst first, one entry for all motors that share it. */
enum sag_status sag_print_findings(FILE *stream, bool colour, const struct sag_motor_list *list,
                                   const struct sag_finding *findings, size_t count);
/* The usual cautions, with lines of a text's width; and printed under their head. */
const char *sag_caution_words(void);
void sag_print_cautions(FILE *stream);

/* A table of the built-in ones, as it is. */
enum sag_status sag_print_table(FILE *stream, const struct sag_table *table, const char *format);

/* --- calculation sheets ----------------------------------------------------------------------------------------- */

/* One line of a sheet. Texts live in the sheet. */
struct sag_line {
    const char *section;
    const char *symbol, *words, *formula, *numbers; /* numbers: the formula with values put in */
    struct sag_qty value;
    const char *unit, *origin, *source, *note;
    int figures;
};

struct sag_lines {
    struct sag_line *items;
    size_t count, room;
    bool failed; /* memory ran out, so lines are missing */
    struct sag_arena *arena;
};

struct sag_units {
    bool si; /* N m and kg m2 instead of lb ft and lb ft2 */
};

/* What a sheet is made from. */
struct sag_sheet_job {
    const struct sag_plant *plant;
    const struct sag_supply *supply;        /* NULL when volts were typed */
    const struct sag_grid *grid;            /* NULL: no path and no start */
    const struct sag_board_report *reports; /* one a node, with the motor of the sheet running; NULL: no path */
    const struct sag_start_result *start;   /* of the motor by itself; NULL: no start */
    const struct sag_run *runs;             /* the same as likely, one a case */
    const struct sag_plant_size *size;      /* NULL: nothing about protection */
    const struct sag_branch_result *branch; /* of the motor */
    const struct sag_circuit_result *feeders, *transformers; /* of a feeder's sheet, one a row of size; or NULL */
    struct sag_units units;
};
/* The sheet of one judged motor, all cases that were judged. */
enum sag_status sag_explain_motor(const struct sag_sheet_job *job, const struct sag_result *result,
                                  struct sag_lines *lines);
/* The sheet of the feeder of the results: the path that its volts come by, and what hangs on it. */
enum sag_status sag_explain_feeder(const struct sag_sheet_job *job, const struct sag_result *results, size_t count,
                                   struct sag_lines *lines);
/* Give its memory back and leave {0}. */
void sag_lines_free(struct sag_lines *lines);
/* Values of sag_explain_view. */
void sag_explain_row(const struct sag_line *line, struct sag_value *values);
/* The layout that is read and signed. */
void sag_print_lines(FILE *stream, const struct sag_lines *lines);

/* --- gnuplot ---------------------------------------------------------------------------------------------------- */

struct sag_plot_job {
    const struct sag_plant *plant;
    const struct sag_result *results; /* of one feeder */
    size_t count;
    uint32_t feeder;
    const struct sag_supply *supply;            /* NULL: volts are typed, and there is no path to draw */
    const struct sag_board_report *reports;     /* one a node of the supply; NULL with it */
    const struct sag_grid *grids;               /* one a corner (ORDER CORNER); NULL: no pictures of starts */
    struct sag_kept_runs *kept;                 /* runs of these grids; or NULL */
    const struct sag_plant_size *size;          /* NULL: no pictures of protection */
    struct sag_curve device_curve, relay_curve; /* makers' own; count 0: none */
    const char *folder, *picture;               /* picture: png, svg or pdf */
    int most_tall;                              /* pixels that a picture may be tall; 0: as usual */
    const char *inputs[5];                      /* files that were read, which not even force replaces; NULL: none */
    bool force;
    bool draws;     /* the pictures are drawn too, so that they must not be in the way either */
    bool only_look; /* write nothing: only see whether a file stands in the way */
};

/* The picture of a survey: a script as the others, its data inside. */
struct sag_survey_plot_job {
    const struct sag_survey_table *table;
    const char *place;          /* where it was measured; "" */
    const char *path, *picture; /* of the script, for its name; png, svg or pdf */
};
void sag_plot_survey(const struct sag_survey_plot_job *job, FILE *f);

/* What was written; file names live in the caller's list. */
struct sag_file_list {
    char **names;
    size_t count, room;
};
/* Give its memory back and leave {0}. */
void sag_file_list_free(struct sag_file_list *files);

/* Write FEEDER-band.gp, -curve, -effect, -profile, -sag, -torque, -timecurrent and -sizes for one feeder, those of them
   that there is something to draw in; adds their paths to `files`. */
enum sag_status sag_plot_feeder(const struct sag_plot_job *job, struct sag_file_list *files, struct sag_diags *diags);

#endif
