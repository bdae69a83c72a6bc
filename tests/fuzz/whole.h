/* What only small plants go through, because whole runs take long: starts in the order that was chosen, the boards,
   sheets of motors, advice, pictures. */
#ifndef FUZZ_WHOLE_H
#define FUZZ_WHOLE_H

#include "fuzz/circuits.h"

enum {
    WHOLE_MOTORS = 5,
    WHOLE_NODES = 12
};

struct whole_job {
    const struct chain_options *options;
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_grid *grids;
    const struct sag_board_report *reports; /* NULL: volts are typed */
    const struct circuits *circuits;
    const struct sag_result *results; /* one a motor of the list */
    struct sag_curve curve;
    bool says_nan;
};
void run_whole(const struct whole_job *job);

/* Judge the starts of a plan, and look at them. */
void must_judge_starts(const struct sag_start_plan *plan, struct sag_start_result *results);

/* Write the report's page, and look at it. */
void run_page(const struct whole_job *job, const struct sag_start_result *starts,
              const struct sag_board_result *boards);

/* Write every feeder's scripts into a folder of their own, and look at each. */
void run_pictures(const struct whole_job *job);

#endif
