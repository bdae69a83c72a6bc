/* Building calculation sheets: lines whose formula is shown with its numbers put in. */
#ifndef WRITE_SHEET_H
#define WRITE_SHEET_H

#include "sagband/write.h"

/* A symbol that a formula may use, beside the facts of the motor. */
struct symbol {
    const char *name;
    double value;
    int figures;
};

struct symbols {
    const struct sag_motor *motor; /* NULL: no facts */
    const struct symbol *extra;
    size_t count;
};

/* Add a line with its own rule: symbol, formula and source come from value.rule where the line leaves them NULL. */
void add_line(struct sag_lines *lines, const struct symbols *symbols, struct sag_line line);

/* Line volts of a node without current, and how they come about from the source's: "14490 * 480 / 13800 * (1 + 2.5 /
   100)"; `numbers` is "" where nothing changes them. */
struct no_load {
    double volts;
    const char *numbers;
};
struct no_load no_load_volts(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t node,
                             enum sag_case which);

/* Volts at `from` for one at the source above it, by ratios and taps. */
double ratio_from_source(const struct sag_supply *supply, int32_t node);

/* Sections of the path down to a node: its ohms, and what a case loses in it. */
void add_path_ohms(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t board);
void add_path_drops(struct sag_lines *lines, const struct sag_sheet_job *job, int32_t board, enum sag_case which);
/* The same of a motor's branch cable; nothing when it has none. */
void add_branch_ohms(struct sag_lines *lines, const struct sag_sheet_job *job, const struct sag_plate *plate);
void add_branch_drop(struct sag_lines *lines, const struct sag_sheet_job *job, const struct sag_plate *plate,
                     enum sag_case which);

/* Sections of a motor's start, one a case. */
void add_start(struct sag_lines *lines, const struct sag_sheet_job *job);

/* Sections of a motor's branch circuit, and of a feeder with the transformers on its way; nothing without sizes. */
void add_branch(struct sag_lines *lines, const struct sag_sheet_job *job);
void add_feeder(struct sag_lines *lines, const struct sag_sheet_job *job, uint32_t feeder);
/* What the checks found. */
void add_findings(struct sag_lines *lines, const struct sag_finding *findings, size_t count);

/* A number to that many figures in the sheet's memory. */
const char *sheet_number(struct sag_lines *lines, double value, int figures);
/* printf into the sheet's memory; "" when there is none left. */
const char *sheet_text(struct sag_lines *lines, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
