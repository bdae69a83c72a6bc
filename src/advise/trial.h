/* A changed plant, run again. */
#ifndef ADVISE_TRIAL_H
#define ADVISE_TRIAL_H

#include "sagband/advise.h"

struct trial {
    const struct sag_start_plan *plan; /* the one that failed */
    const struct sag_supply *supply;   /* NULL with typed volts */
    const struct sag_start_result *failed;
    struct sag_grid grids[SAG_CORNER_COUNT]; /* copies to change; trial_reset() makes them the plan's again */
    struct sag_start_plan changed;           /* on the copies */
    struct sag_plant narrow;                 /* the plant, with only the case that fails hardest */
    size_t *later;                           /* motors of a sequence that close after the failed one */
    size_t later_count;
    struct sag_start_result *results;
    struct sag_advice_list *out;
    bool no_memory;                      /* for one of the runs: what did not pass might have */
    size_t slot;                         /* of the failed motor in the plan */
    const struct sag_start_result *last; /* of the failed motor in the last run; NULL before the first */
};

enum sag_status trial_open(const struct sag_start_plan *plan, const struct sag_supply *supply,
                           const struct sag_start_result *failed, struct sag_advice_list *out, struct trial *trial);
void trial_close(struct trial *trial);
void trial_reset(struct trial *trial);

/* A cheap look, since most changes do not help: the case that failed hardest, as likely. Of a sequence only this start,
   with the later ones off. */
bool trial_looks_hopeful(struct trial *trial);
/* Does the start pass with the plant as it is now? A look first, then as likely in all cases, then at all corners. */
bool trial_passes(struct trial *trial);
/* Keep the change that just passed. */
enum sag_status trial_keep(struct trial *trial, const char *kind, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Changes of the copies. */
void set_tap(struct trial *trial, int32_t node, double tap);
void scale_impedance(struct trial *trial, int32_t node, double factor);
double tap_of(const struct sag_supply *supply, int32_t node);

/* A kind of change: its tries from the cheapest on. Keeps at most one. */
struct change {
    const char *kind;
    enum sag_status (*attempt)(struct trial *trial, const char *kind);
};
const struct change *change_at(size_t index);

#endif
