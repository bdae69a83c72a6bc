/* Sizes and the judging of circuits, with what must hold of them for any plant. */
#ifndef FUZZ_CIRCUITS_H
#define FUZZ_CIRCUITS_H

#include "fuzz/chain.h"

enum {
    CIRCUIT_STARTS = 2 /* whole runs at three corners in up to four cases each: too slow for a list */
};

struct circuits_job {
    const struct sag_plant *plant;
    const struct sag_supply *supply; /* NULL: volts are typed */
    const struct sag_grid *grids;
    const struct sag_board_report *reports; /* NULL: volts are typed */
    bool starts;                            /* run some and judge their branches */
    bool says_nan;                          /* the input has such a word */
    const struct chain_options *options;
    struct sag_curve curve; /* of a maker; count 0: none */
};
struct circuits {
    struct sag_plant_size size;
    struct sag_branch_result *branches; /* of the first motors */
    size_t branch_count;
    struct sag_circuit_result *feeders, *transformers; /* transformers NULL: volts are typed */
};
/* Size, judge and print. Free with circuits_free(). */
void run_circuits(const struct circuits_job *job, struct circuits *out);
void circuits_free(struct circuits *circuits);

#endif
