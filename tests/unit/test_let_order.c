/* What must hold of the let-start check for any start: more of it is never better, more device never worse. */
#include "let_help.h"

struct order_case {
    const char *kind;
    double rating;
    const char *trip_class;
    double amps, seconds;
};

static void find(const struct order_case *c, struct sag_let_start *out)
{
    struct made m;
    char plate[160];
    snprintf(plate, sizeof plate, "device=%s,device_amps=%g,overload_amps=115,trip_class=%s", c->kind, c->rating,
             c->trip_class);
    made_one(&m, plate, c->amps, c->seconds);
    *out = m.out;
    made_free(&m);
}

static bool not_less(double a, double b)
{
    return a >= b - 1e-12 * fabs(b) || isnan(a) || isnan(b);
}

/* `more` is at least as hard to pass as `less`, in word and share. */
static bool is_harder(const struct sag_passage *more, const struct sag_passage *less)
{
    return more->let >= less->let && not_less(more->used.low, less->used.low) &&
           not_less(more->used.value, less->used.value) && not_less(more->used.high, less->used.high);
}

static void check_harder(const char *name, const struct order_case *more, const struct order_case *less)
{
    struct sag_let_start a, b;
    find(more, &a);
    find(less, &b);
    if (is_harder(&a.relay, &b.relay) && is_harder(&a.device, &b.device) && is_harder(&a.instant, &b.instant) &&
        a.let >= b.let)
        return;
    fail_msg("%s: %s %g A, %g A for %g s: %s, used %g; against %g A for %g s, %g A: %s, used %g", name, more->kind,
             more->rating, more->amps, more->seconds, sag_let_word(a.device.let), a.device.used.value, less->amps,
             less->seconds, less->rating, sag_let_word(b.device.let), b.device.used.value);
}

static const char *const kinds[] = {"dual_element_fuse", "nontime_fuse", "inverse_time_breaker",
                                    "instantaneous_breaker"};
static const double ratings[] = {30, 60, 100, 150, 200, 400, 600};
static const double multiples[] = {0.9, 1, 1.2, 1.35, 1.6, 2, 2.7, 4, 5, 5.5, 8, 10, 13};
static const double seconds[] = {0.05, 0.5, 3, 9, 11, 30, 130, 500, 4000};
static const char *const classes[] = {"5", "10", "20", "30"};

static void longer_is_no_easier(void **state)
{
    (void)state;
    for (size_t k = 0; k < COUNT(kinds); k++)
        for (size_t m = 0; m < COUNT(multiples); m++)
            for (size_t s = 0; s + 1 < COUNT(seconds); s++) {
                const struct order_case less = {kinds[k], 100, "10", 100 * multiples[m], seconds[s]};
                struct order_case more = less;
                more.seconds = seconds[s + 1];
                check_harder("longer", &more, &less);
            }
}

static void more_amps_are_no_easier(void **state)
{
    (void)state;
    for (size_t k = 0; k < COUNT(kinds); k++)
        for (size_t m = 0; m + 1 < COUNT(multiples); m++)
            for (size_t s = 0; s < COUNT(seconds); s++) {
                const struct order_case less = {kinds[k], 100, "20", 100 * multiples[m], seconds[s]};
                struct order_case more = less;
                more.amps = 100 * multiples[m + 1];
                check_harder("more amps", &more, &less);
            }
}

/* Up to 600 A, beyond which a fuse has no standard that holds it and no exact answer either. */
static void smaller_devices_are_no_easier(void **state)
{
    (void)state;
    for (size_t k = 0; k < COUNT(kinds); k++)
        for (size_t r = 0; r + 1 < COUNT(ratings); r++)
            for (size_t m = 0; m < COUNT(multiples); m++)
                for (size_t s = 0; s < COUNT(seconds); s++) {
                    const struct order_case less = {kinds[k], ratings[r + 1], "20", ratings[r] * multiples[m],
                                                    seconds[s]};
                    struct order_case more = less;
                    more.rating = ratings[r];
                    check_harder("smaller device", &more, &less);
                }
}

static void lower_classes_are_no_easier(void **state)
{
    (void)state;
    for (size_t c = 0; c + 1 < COUNT(classes); c++)
        for (size_t m = 0; m < COUNT(multiples); m++)
            for (size_t s = 0; s < COUNT(seconds); s++) {
                const struct order_case less = {kinds[0], 600, classes[c + 1], 115 * multiples[m], seconds[s]};
                struct order_case more = less;
                more.trip_class = classes[c];
                check_harder("lower class", &more, &less);
            }
}

TEST_LIST(let_order, cmocka_unit_test(longer_is_no_easier), cmocka_unit_test(more_amps_are_no_easier),
          cmocka_unit_test(smaller_devices_are_no_easier), cmocka_unit_test(lower_classes_are_no_easier))
