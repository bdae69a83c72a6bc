/* What every command that reads motors does first and last. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include <sha2.h>
#include <sys/stat.h>

#include "cli/options.h"

enum {
    SESSION_FILES = 6 /* motors, supply, two curves, a log to survey, a log of the measured case */
};

/* A regular file as it was when it was opened. */
struct file_face {
    const char *path;
    dev_t device;
    ino_t number;
    off_t size;
    struct timespec written;
};

/* An input, summed up while it was read. */
struct file_sum {
    const char *path, *name; /* "-" has the name of standard input */
    SHA2_CTX sum;
    size_t bytes;
};

struct session {
    const struct options *options;
    const char *motors; /* path of the list; NULL: a plate was typed */
    struct sag_tables *tables;
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_typed_volts typed;  /* of the options, with those of a log */
    struct measured_log *measured; /* of --measured; NULL: none */
    const char *counted;           /* what the closing line counts; NULL: as the command says */
    struct sag_board *boards;
    struct sag_grid grid;                   /* with a supply file, or when a command asks for it */
    struct sag_motor_volts *volts;          /* one a motor of the list; NULL without a supply file */
    struct sag_board_report *reports;       /* one a node of the supply; NULL without a supply file */
    struct sag_board_result *board_results; /* one a node, once session_judge_boards() ran */
    struct sag_fit_store store;
    struct sag_diags diags;
    struct sag_plant plant;
    struct sag_curve device_curve, relay_curve; /* of --device-curve and --relay-curve */
    struct sag_curve_point *points[2];          /* theirs */
    size_t *order; /* motors to look at: those that --motor and --feeder leave, in file order */
    size_t order_count;
    size_t counts[SAG_VERDICT_COUNT];      /* motors, of `supply` boards, by their worst verdict */
    size_t not_judged;                     /* of the unknown: no volts known for them */
    struct file_face faces[SESSION_FILES]; /* of the inputs that are regular files */
    size_t face_count;
    struct file_sum sums[SESSION_FILES]; /* of all inputs, in the order of their opening */
    size_t sum_count;
    bool has_supply;
    bool any_fail; /* something fails that is not counted */
};

/* Read, and find the boards. On failure the diagnostics say why; session_close() prints them in either case. */
enum sag_status session_open(struct session *session, const struct options *options, const char *motors);

/* Open a file that an option names; "-" is standard input. session_close_file() closes it, also after a failure. A
   regular file that is another one, or has changed, once all inputs are read is refused. */
enum sag_status session_open_file(struct session *session, const char *path, struct sag_input *input);
void session_close_file(struct sag_input *input);
/* Refuse files that are not what they were when they were opened. */
enum sag_status session_refuse_changed(struct session *session);

/* The plant as a network, if it is not there yet. */
enum sag_status session_build_grid(struct session *session);
/* The same at each corner of what is assumed; the caller frees them, also after a failure. */
enum sag_status session_build_corners(struct session *session, struct sag_grid grids[SAG_CORNER_COUNT]);

/* The sizes that the code asks for; the caller frees them, also after a failure. */
enum sag_status session_size(struct session *session, struct sag_plant_size *size);

/* Judge the boards of the supply; nothing without a supply file. */
enum sag_status session_judge_boards(struct session *session);

/* The log of --measured: surveyed, and its volts put where the measured case is made of. Nothing without the option. */
enum sag_status session_read_measured(struct session *session);
/* Where volts are typed: once the boards are there. */
void session_put_log(struct session *session);
/* What the measured case rests on, as a line of text; nothing without a log. */
void print_measured_basis(const struct session *session, FILE *stream);
/* The file of --measured; NULL. */
const char *session_measured_path(const struct session *session);
void free_measured(struct session *session);
/* The first board that motors hang on: where a log is taken as long as nobody says otherwise. -1: there is none. */
int32_t session_log_board(const struct session *session);

/* "Supply: FILE", and where the range of each source comes from. */
void print_supply_basis(const struct session *session, FILE *stream);
/* What the volts of `check` are, where they are from, and what is left out. */
void print_volts_basis(const struct session *session, FILE *stream);

/* Taps that keep most motors in band, where the whole plant is asked about and is of a size to try it on; else there
   are none in the advice. The caller frees it, also after a failure. */
enum sag_status session_find_taps(struct session *session, struct sag_tap_advice *advice);

/* Sort `order` by feeder, keeping the file's order within one. */
enum sag_status session_group_by_feeder(struct session *session);

/* Judge all motors of `order` in batches and hand them on in that order. Stops at a status that is not SAG_OK. */
typedef enum sag_status session_result_fn(struct session *session, const struct sag_result *result, void *context);
enum sag_status session_each(struct session *session, session_result_fn *take, void *context);

/* Write the findings of a result as rows of sag_finding_view. */
enum sag_status session_finding_rows(struct session *session, const struct sag_result *result,
                                     const struct sag_writer *writer, struct sag_sheet *sheet);

/* Count a motor's worst verdict for the closing line and the exit status. */
void session_count(struct session *session, const struct sag_result *result);

/* Print diagnostics and the closing line, free everything, and say how to exit. */
enum exit_status session_close(struct session *session, enum sag_status status);

/* Is that file one of those that are read? */
bool session_is_input(const struct session *session, const char *path);

/* Options that do not go together, or are missing; motors: path of the list, NULL when there is none. */
enum sag_status session_check_usage(struct session *s, const char *motors);
/* Wrong usage that only the command can see. */
enum sag_status session_usage(struct session *session, const char *what);

/* true when colour should be used on that stream. */
bool wants_colour(FILE *stream);

/* Print all diagnostics on standard error. */
void print_diags(struct sag_diags *diags, bool quiet);

#endif
