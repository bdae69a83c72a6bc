/* Changes that were tried and work: each piece of advice has a run of the changed plant behind it. */
#ifndef SAGBAND_ADVISE_H
#define SAGBAND_ADVISE_H

#include "sagband/judge.h"

/* One change that makes a failing start pass in every case that is judged. */
struct sag_advice {
    size_t motor;
    const char *kind;            /* what is changed: "load", "tap", ...; see changes.c */
    char change[240];            /* in words, complete */
    enum sag_case which;         /* the case with the lowest volts at the motor */
    struct sag_start_case start; /* the changed start in that case */
    double volts_share;          /* lowest at the motor in that case, of its rated volts */
    enum sag_verdict verdict;    /* the worst of all cases; what no change cures is left out */
};

struct sag_advice_list {
    struct sag_advice *items;
    size_t count, room;
    size_t tried; /* runs of a changed plant */
};
/* Give its memory back and leave {0}. */
void sag_advice_free(struct sag_advice_list *list);

/* Add copies of what is in `more`. */
enum sag_status sag_advice_join(struct sag_advice_list *list, const struct sag_advice_list *more);

enum {
    SAG_MOST_LOOKED_AT = 256, /* motors of a sequence up to which a change is looked at cheaply first */
    SAG_ADVICE_ENOUGH = 3     /* kinds of change that work, in order of cost; more are not looked for */
};

/* Try changes in order of cost: the driven load off, motors shed, another order, taps, the starter's setting, another
   starter, larger conductors, a boost at the motor, a larger transformer. Adds those that work; none is added for a
   start that does not fail, and none for a load inertia above the standard's, which no change of the supply cures. */
enum sag_status sag_advise_start(const struct sag_start_plan *plan, const struct sag_supply *supply,
                                 const struct sag_start_result *result, struct sag_advice_list *out);

/* Does it fail in something that a change of supply, starter or load can cure? */
bool sag_is_curable(const struct sag_start_result *result);

/* Does its load inertia exceed the standard's? No change of the supply cures that. */
bool sag_has_heavy_load(const struct sag_start_result *result);

/* A transformer's tap, share: +0.025 raises its secondary by 2.5 %. */
struct sag_tap {
    int32_t node;
    double now, best;
};
/* The tap positions that keep most motors in band in the nominal, low and high cases. */
struct sag_tap_advice {
    struct sag_tap *taps;
    size_t tap_count;
    double moves;  /* how far the best taps are from those of now, in sum */
    size_t motors; /* that were looked at */
    size_t in_band_now, in_band_best;
    struct sag_tap single; /* the best that one tap can do alone; node -1: nothing better than now */
    size_t in_band_single;
    size_t *lost; /* indices of motors out of band at the best positions */
    size_t lost_count;
};
/* Taps of -5, -2.5, 0, +2.5 and +5 % are tried: up to three transformers in every combination, more of them one after
   the other from the source down, as long as it helps. Of equal counts the taps that move least win; those that
   would bring a fire pump below what NFPA 70 695.7 asks, or further below, are left out. */
enum sag_status sag_advise_taps(const struct sag_plant *plant, const struct sag_grid *grid,
                                const struct sag_supply *supply, struct sag_tap_advice *out);
/* Give its memory back and leave {0}. */
void sag_tap_advice_free(struct sag_tap_advice *advice);

#endif
