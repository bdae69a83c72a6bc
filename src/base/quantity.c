#include "sagband/quantity.h"

#include <assert.h>
#include <stddef.h>

const char *sag_origin_words(enum sag_origin origin)
{
    static const char *const words[] = {
#define WORDS(name, text) text,
        SAG_ORIGINS(WORDS)
#undef WORDS
    };
    _Static_assert(sizeof words / sizeof *words == SAG_ORIGIN_COUNT, "ORDER ORIGIN");
    return words[origin];
}

struct sag_qty sag_unknown(void)
{
    return (struct sag_qty){.value = NAN, .low = NAN, .high = NAN, .origin = SAG_ASSUMED};
}

struct sag_qty sag_exact(double value, enum sag_origin origin)
{
    return sag_between(value, value, value, origin);
}

struct sag_qty sag_between(double value, double low, double high, enum sag_origin origin)
{
    return (struct sag_qty){.value = value, .low = low, .high = high, .origin = (uint8_t)origin};
}

struct sag_qty sag_scaled(struct sag_qty q, double factor)
{
    q.value *= factor;
    q.low *= factor;
    q.high *= factor;
    return q;
}

static void widen(struct sag_qty *q, double at_corner)
{
    if (isnan(at_corner))
        return;
    q->low = fmin(q->low, at_corner);
    q->high = fmax(q->high, at_corner);
}

struct sag_qty sag_at_bounds(sag_formula_fn *f, const struct sag_qty in[], int n)
{
    assert(n > 0 && n <= SAG_BOUNDS_INPUTS);
    double at[SAG_BOUNDS_INPUTS];
    enum sag_origin worst = SAG_COMPUTED;
    bool from_memory = false;
    for (int i = 0; i < n; i++) {
        if (!sag_known(&in[i]))
            return sag_unknown();
        at[i] = in[i].value;
        worst = in[i].origin > worst ? in[i].origin : worst;
        from_memory = from_memory || in[i].from_memory;
    }
    struct sag_qty result = sag_exact(f(at), worst);
    result.from_memory = from_memory;
    for (unsigned corner = 0; corner < 1U << n; corner++) {
        for (int i = 0; i < n; i++)
            at[i] = corner >> i & 1U ? in[i].high : in[i].low;
        widen(&result, f(at));
    }
    return result;
}
