/* What must hold between sizes whatever the numbers are: more amps never bring less, a feeder's device lies between its
   largest branch and the sum, the order of rows means nothing, heat never helps. */
#include "size_help.h"

enum {
    MOST_MOTORS = 6,
    PLANTS = 400
};

static const char *const horsepower[] = {"0.5", "0.75", "1",   "1.5", "2",   "3",   "5",   "7.5", "10",
                                         "15",  "20",   "25",  "30",  "40",  "50",  "60",  "75",  "100",
                                         "125", "150",  "200", "250", "300", "350", "400", "450", "500"};
static const struct {
    double plate, board;
    size_t count; /* sizes that its column holds */
} columns[] = {{115, 120, 5}, {200, 208, 21}, {208, 208, 21}, {230, 240, 21}, {460, 480, 27}, {575, 600, 27}};

/* Numbers that look random and are the same in every run. */
static unsigned dice(unsigned *state, unsigned sides)
{
    *state = *state * 1664525U + 1013904223U;
    return (*state >> 8) % sides;
}

/* --- a bigger motor ------------------------------------------------------------------------------------------------
 */

static double ground_area(const struct sag_motor_size *m)
{
    return m->ground ? sag_ask_conductor_area(shared_tables(), m->ground) : NAN;
}

/* Wires are compared by amps: at 100 A terminals change from 60 to 75 C (110.14(C)(1)), so that 1 AWG serves 99 A and
   2 AWG 101 A. Grounds may follow such a wire down one step, so they are compared on 75 C terminals. */
static void check_not_less(const char *name, const struct sag_motor_size *less, const struct sag_motor_size *more)
{
    bool ok = more->conductor_min.value > less->conductor_min.value && more->wire.amps >= less->wire.amps &&
              more->overload.value > less->overload.value && more->overload_most.value > less->overload_most.value &&
              more->disconnect.value > less->disconnect.value && ground_area(more) >= ground_area(less);
    for (int k = DUAL; k <= INSTANT; k++)
        ok = ok && more->device[k].amps.value >= less->device[k].amps.value;
    if (!ok)
        fail_msg("%s: %g A, wire of %g A, ground %s, after one of %g A, %g A, %s", name, more->code_amps.value,
                 more->wire.amps, more->ground, less->code_amps.value, less->wire.amps, less->ground);
}

static void bigger_motors(void **state)
{
    (void)state;
    for (size_t c = 0; c < COUNT(columns); c++)
        for (int kind = DUAL; kind <= INSTANT; kind++) {
            struct size_plant p;
            char text[2000], name[60];
            int used = snprintf(text, sizeof text, "tag,rated_volts,rated_hp\n");
            for (size_t i = 0; i < columns[c].count; i++)
                used += snprintf(text + used, sizeof text - (size_t)used, "m%zu,%g,%s\n", i, columns[c].plate,
                                 horsepower[i]);
            size_open(&p, NULL, text, &(struct size_asked){(enum sag_device)kind, 75, 75, columns[c].board});
            assert_int_equal(p.size.motor_count, columns[c].count);
            for (size_t i = 0; i < columns[c].count; i++) {
                const struct sag_motor_size *m = &p.size.motors[i];
                snprintf(name, sizeof name, "%s hp at %g V", horsepower[i], columns[c].plate);
                if (m->sizing != SAG_SIZED || !m->wire.size || m->wire.amps < m->conductor_min.value)
                    fail_msg("%s: not sized", name);
                if (i)
                    check_not_less(name, m - 1, m);
            }
            size_free(&p);
        }
}

/* --- feeders -------------------------------------------------------------------------------------------------------
 */

struct few_motors {
    unsigned hp[MOST_MOTORS];
    const char *duty[MOST_MOTORS];
    size_t count;
    double load_kw;
};

static struct few_motors some_motors(unsigned *state, bool pumps)
{
    static const char *const duties[] = {"", "", "spare", "fire_pump", "jockey_pump"};
    struct few_motors few = {.count = 1 + dice(state, MOST_MOTORS - 1)};
    few.load_kw = dice(state, 3) ? 0 : 5 * dice(state, 40);
    for (size_t i = 0; i < MOST_MOTORS; i++) {
        few.hp[i] = dice(state, 18);
        few.duty[i] = duties[dice(state, pumps ? 5 : 3)];
    }
    return few;
}

/* The first `count` of them in the order of `order` on a feeder B that hangs on `head`. */
static void open_few(struct size_plant *p, const struct few_motors *few, const char *head, enum sag_device kind,
                     const size_t order[])
{
    char supply[300], motors[600];
    snprintf(supply, sizeof supply, "%s\nB,U,cable,,,,,,30,4/0,,,%g,1\n", head, few->load_kw);
    int used = snprintf(motors, sizeof motors, "tag,feeder,rated_volts,rated_hp,duty\n");
    for (size_t i = 0; i < few->count; i++) {
        size_t at = order ? order[i] : i;
        used += snprintf(motors + used, sizeof motors - (size_t)used, "m%zu,B,460,%s,%s\n", at, horsepower[few->hp[at]],
                         few->duty[at]);
    }
    size_open(p, supply, motors, &(struct size_asked){.device = kind});
}

#define ON_UTILITY "U,,utility,480"
#define ON_SET     "U,,generator,480,10"

/* The largest size not above the sum; where that cannot carry everything, the next one with wires as large. */
static void check_step(const struct sag_feeder_size *f, bool fuse)
{
    double most = f->device_computed.value * (1 + 1e-9);
    double down = sag_ask_rating_down(shared_tables(), most, fuse);
    assert_true(f->wires_for_device == (down < f->carry_min.value * (1 - 1e-9)));
    if (!f->wires_for_device) {
        check_amps("next size down", f->device.value, down);
        return;
    }
    check_amps("next size up", f->device.value, sag_ask_rating_up(shared_tables(), f->carry_min.value, fuse));
    assert_true(f->wire.amps >= f->device.value);
}

static void feeder_devices(void **state)
{
    (void)state;
    unsigned thrown = 1;
    for (int n = 0; n < PLANTS; n++) {
        struct few_motors few = some_motors(&thrown, false);
        for (int kind = DUAL; kind <= BREAKER; kind++) {
            struct size_plant p;
            double largest = 0, sum = 1.25 * few.load_kw * 1000 / (sqrt(3.0) * 480);
            open_few(&p, &few, ON_UTILITY, (enum sag_device)kind, NULL);
            const struct sag_feeder_size *f = size_feeder_of(&p, "B");
            for (size_t i = 0; i < few.count; i++) {
                largest = fmax(largest, p.size.motors[i].device[kind].amps.value);
                if (i != f->device_motor)
                    sum += p.size.motors[i].code_amps.value;
            }
            check_amps("largest branch", f->branch_device, largest);
            check_amps("sum", f->device_computed.value, largest + sum);
            assert_true(f->device.value >= largest);
            assert_true(f->device.value >= f->carry_min.value * (1 - 1e-9));
            check_step(f, kind != BREAKER);
            size_free(&p);
        }
    }
}

static void check_more(const struct few_motors *few, const char *head)
{
    struct size_plant before, after;
    struct few_motors more = *few;
    more.count++;
    open_few(&before, few, head, BREAKER, NULL);
    open_few(&after, &more, head, BREAKER, NULL);
    const struct sag_feeder_size *a = size_feeder_of(&before, "B"), *b = size_feeder_of(&after, "B");
    if (b->conductor_min.value < a->conductor_min.value || b->wire.amps < a->wire.amps)
        fail_msg("%s: %zu motors and %g kW: wire of %g A; then %s hp %s: wire of %g A", head, few->count, few->load_kw,
                 a->conductor_min.value, horsepower[few->hp[few->count]], few->duty[few->count],
                 b->conductor_min.value);
    size_free(&before);
    size_free(&after);
}

/* Nor does a fire pump more, beside whatever other load. */
static void one_motor_more(void **state)
{
    (void)state;
    unsigned thrown = 2;
    for (int n = 0; n < PLANTS; n++) {
        struct few_motors few = some_motors(&thrown, n % 2);
        check_more(&few, n % 4 < 2 ? ON_UTILITY : ON_SET);
    }
}

/* --- order ---------------------------------------------------------------------------------------------------------
 */

static void check_same_feeder(const struct sag_feeder_size *a, const struct sag_feeder_size *b)
{
    check_amps("wire at least", a->conductor_min.value, b->conductor_min.value);
    check_size("wire", a->wire.size, b->wire.size);
    check_amps("wire carries", a->wire.amps, b->wire.amps);
    check_size("ground", a->ground, b->ground);
    check_amps("device", a->device.value, b->device.value);
    check_amps("most", a->device_most.value, b->device_most.value);
    check_amps("carries", a->carry_min.value, b->carry_min.value);
    check_amps("largest", a->largest_amps, b->largest_amps);
    check_amps("branch", a->branch_device, b->branch_device);
}

static void check_order(const struct few_motors *few, const size_t order[])
{
    struct size_plant p, q;
    open_few(&p, few, ON_UTILITY, BREAKER, NULL);
    open_few(&q, few, ON_UTILITY, BREAKER, order);
    for (size_t i = 0; i < p.size.feeder_count; i++)
        check_same_feeder(&p.size.feeders[i], &q.size.feeders[i]);
    for (size_t i = 0; i < few->count; i++) {
        const struct sag_motor_size *a = &p.size.motors[i], *b = size_motor(&q, p.list.plates[i].tag);
        check_size("motor's wire", a->wire.size, b->wire.size);
        check_amps("motor's device", a->device[BREAKER].amps.value, b->device[BREAKER].amps.value);
    }
    size_free(&p);
    size_free(&q);
}

static void order_of_rows(void **state)
{
    (void)state;
    unsigned thrown = 3;
    for (int n = 0; n < PLANTS; n++) {
        struct few_motors few = some_motors(&thrown, n % 2);
        size_t order[MOST_MOTORS];
        for (size_t i = 0; i < few.count; i++)
            order[i] = i;
        for (size_t i = few.count - 1; i > 0; i--) {
            size_t at = dice(&thrown, (unsigned)i + 1), kept = order[i];
            order[i] = order[at];
            order[at] = kept;
        }
        check_order(&few, order);
    }
}

/* 1, 10, 3/4, 10, 3 hp: 17.5 + 22.5 = 40 A, 8 AWG at 60 C; summed in some orders binary numbers come out above 40. */
static void order_of_rows_at_a_size(void **state)
{
    (void)state;
    const struct few_motors few = {.hp = {2, 8, 1, 8, 5}, .duty = {"", "", "", "", ""}, .count = 5};
    size_t order[5];
    for (unsigned n = 0; n < 3125; n++) { /* those that name each once */
        unsigned seen = 0, left = n;
        for (int i = 0; i < 5; i++, left /= 5)
            seen |= 1U << (order[i] = left % 5);
        if (seen != 31)
            continue;
        struct size_plant p;
        open_few(&p, &few, ON_UTILITY, BREAKER, order);
        check_amps("40 A", size_feeder_of(&p, "B")->conductor_min.value, 40);
        check_size("at a size's own amps", size_feeder_of(&p, "B")->wire.size, "8");
        size_free(&p);
    }
}

/* --- heat ----------------------------------------------------------------------------------------------------------
 */

static double copper(const struct sag_wire *wire)
{
    return wire->size ? wire->sets * sag_ask_conductor_area(shared_tables(), wire->size) : INFINITY;
}

static void hotter_places(void **state)
{
    (void)state;
    for (int insulation = 60; insulation <= 90; insulation += 15)
        for (double amps = 5; amps < 1500; amps *= 1.31) {
            struct sag_wire before = {0};
            double rated = INFINITY;
            for (double ambient = -20; ambient <= 90; ambient += 1) {
                const struct sag_wiring wiring = {
                    .ambient_c = ambient, .conductors = NAN, .insulation_c = insulation, .terminal_c = 75};
                struct sag_wire wire = sag_choose_wire(shared_tables(), &wiring, amps);
                if (wire.size && wire.amps < amps)
                    fail_msg("%g A at %g C: %d x %s carries %g", amps, ambient, wire.sets, wire.size, wire.amps);
                bool more_sets = before.size && wire.size && wire.sets > before.sets;
                if (ambient > -20 && copper(&wire) < copper(&before) && !more_sets)
                    fail_msg("%g A, insulation %d, at %g C: %d x %s, cooler %d x %s", amps, insulation, ambient,
                             wire.sets, wire.size, before.sets, before.size);
                assert_true(!wire.size || ambient == -20 || (before.size && wire.sets >= before.sets));
                double now = sag_rate_wire(shared_tables(), &wiring, "4/0", amps).amps;
                assert_true(isnan(now) || now <= rated);
                assert_true(!(isnan(rated) && !isnan(now)));
                rated = now;
                before = wire;
            }
            assert_null(before.size); /* nothing is usable at 90 C */
        }
}

TEST_LIST(size_order, cmocka_unit_test(bigger_motors), cmocka_unit_test(feeder_devices),
          cmocka_unit_test(one_motor_more), cmocka_unit_test(order_of_rows), cmocka_unit_test(order_of_rows_at_a_size),
          cmocka_unit_test(hotter_places))
