/* A number that knows where it came from. Physics works on plain doubles; facts and results travel as sag_qty. */
#ifndef SAGBAND_QUANTITY_H
#define SAGBAND_QUANTITY_H

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

/* Best first: a result inherits the worst origin of what it was computed from. ORDER ORIGIN */
#define SAG_ORIGINS(X)                                                                                                 \
    X(NAMEPLATE, "nameplate")                                                                                          \
    X(MEASURED, "measured")                                                                                            \
    X(COMPUTED, "computed")                                                                                            \
    X(TABLE, "table")                                                                                                  \
    X(ASSUMED, "assumed")

enum sag_origin {
#define SAG_ORIGIN_ENUM(name, words) SAG_##name,
    SAG_ORIGINS(SAG_ORIGIN_ENUM)
#undef SAG_ORIGIN_ENUM
    SAG_ORIGIN_COUNT
};

/* How a number is got: the row that a calculation sheet prints. It stands directly above the function that does it.
   In `formula`, a word that is the symbol of a fact is shown with the fact's value put in. */
struct sag_rule {
    const char *symbol;  /* left side, "I_fl" */
    const char *formula; /* right side in symbols, or words when it is a look-up */
    const char *source;  /* document, edition, clause; or "common practice, no source" */
    const char *table;   /* name of the built-in table it was read from, or NULL */
};

/* value is NAN when not known; low <= value <= high otherwise. */
struct sag_qty {
    double value, low, high;
    const struct sag_rule *rule; /* NULL for a number taken as it was given */
    uint8_t origin;              /* enum sag_origin */
    bool from_memory;            /* rests on a table entry that nobody has checked against the document */
};

/* The word that a column shows. Never NULL. */
const char *sag_origin_words(enum sag_origin origin);

/* Is there a value at all? */
static inline bool sag_known(const struct sag_qty *q)
{
    return !isnan(q->value);
}

/* No value: NAN throughout. */
struct sag_qty sag_unknown(void);
/* A value whose bounds are itself. */
struct sag_qty sag_exact(double value, enum sag_origin origin);
/* A value with bounds around it. */
struct sag_qty sag_between(double value, double low, double high, enum sag_origin origin);

/* Value and bounds times a factor above zero. */
struct sag_qty sag_scaled(struct sag_qty q, double factor);

enum {
    SAG_BOUNDS_INPUTS = 6
};
typedef double sag_formula_fn(const double in[]);
/* f(in[0].value, ...) with bounds from the corners of the inputs' bounds (n <= 6), the worst origin and the
   from_memory mark of the inputs; unknown when an input is unknown. An f that returns NAN at a corner leaves that
   corner out. */
struct sag_qty sag_at_bounds(sag_formula_fn *f, const struct sag_qty in[], int n);

#endif
