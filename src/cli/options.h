/* The command line. One row an option: parser, help and completion come from it. */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include <stdbool.h>

#include "sagband/sagband.h"

struct options {
    const struct command *command;
    const char *supply, *plate, *output, *feeder, *motor, *render;
    const char *format; /* "text" unless said otherwise */
    struct sag_typed_volts typed;
    bool cases[SAG_CASE_COUNT];
    bool us, strict, quiet, force, findings, help, version;
    bool sequence, together, trace, advice; /* of start */
    enum sag_device device;                 /* of protect: kind where none is installed; blank: not said */
    int insulation_c, terminal_c;           /* 0: not said */
    const char *device_curve, *relay_curve;
    size_t most_starts; /* of report; 0: not said */
    bool no_pictures;
    const char *title;
    int argument_count; /* as typed, for the record */
    char *const *arguments;
    const char *measured;             /* [BOARD=]LOG.csv */
    const char *motors, *at, *script; /* of survey: the list, the log's board, where the picture goes */
    bool dips;
    const char *words[3]; /* what is left: TAG, MOTORS.csv */
    int word_count;
};

/* The exit status, decided here and in main.c only. */
enum exit_status {
    EXIT_ALL_WELL = 0, /* every verdict ok, watch or unknown */
    EXIT_A_FAIL = 1,
    EXIT_REFUSED = 2, /* wrong usage or unusable input: nothing was written */
    EXIT_NOT_WRITTEN = 3,
};

struct command {
    const char *name, *words, *answers; /* words: what stands after the options */
    const char *counted;                /* what the closing line counts: "motor" */
    int most_words;
    bool of_boards;      /* --feeder names any board of the supply, and every motor counts */
    bool starts;         /* it runs starts, so that what they assume counts for --strict */
    bool of_log;         /* its word is a log, and it can do without motors and without volts */
    bool for_the_record; /* it sums up the files that it reads */
    enum exit_status (*run)(const struct options *options);
};
const struct command *command_at(size_t index);

/* false: usage was wrong, and standard error says how. */
bool parse_options(int argc, char **argv, struct options *out);
void print_help(FILE *stream, const struct command *command);
/* Words for shell completion: commands and long options, one a line. */
void print_completions(FILE *stream);

enum exit_status cmd_check(const struct options *options);
enum exit_status cmd_start(const struct options *options);
enum exit_status cmd_supply(const struct options *options);
enum exit_status cmd_protect(const struct options *options);
enum exit_status cmd_report(const struct options *options);
enum exit_status cmd_plot(const struct options *options);
enum exit_status cmd_explain(const struct options *options);
enum exit_status cmd_survey(const struct options *options);
enum exit_status cmd_tables(const struct options *options);
enum exit_status cmd_template(const struct options *options);

#endif
