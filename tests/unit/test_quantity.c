#include <math.h>

#include "support.h"

static double quotient(const double in[])
{
    return in[0] / in[1];
}

static void bounds_are_the_corners(void **state)
{
    (void)state;
    struct sag_qty in[] = {sag_between(10, 8, 12, SAG_TABLE), sag_between(2, 1, 4, SAG_ASSUMED)};
    in[0].from_memory = true;
    struct sag_qty q = sag_at_bounds(quotient, in, 2);
    check_near("value", q.value, 5, 0);
    check_near("low", q.low, 2, 0);
    check_near("high", q.high, 12, 0);
    assert_int_equal(q.origin, SAG_ASSUMED); /* the worst of the inputs */
    assert_true(q.from_memory);
}

static void unknown_spreads(void **state)
{
    (void)state;
    struct sag_qty in[] = {sag_exact(10, SAG_NAMEPLATE), sag_unknown()};
    struct sag_qty q = sag_at_bounds(quotient, in, 2);
    assert_false(sag_known(&q));
}

TEST_LIST(quantity, cmocka_unit_test(bounds_are_the_corners), cmocka_unit_test(unknown_spreads))
