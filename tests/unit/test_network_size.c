/* A plant far beyond any: ten thousand boards, deep and wide, with a hundred thousand motors, settles and adds up. */
#include "unit/network_help.h"

enum {
    BOARDS = 10000,
    DEPTH = 200, /* boards one below the other in each chain */
    CHAINS = BOARDS / DEPTH,
    MOTORS_A_BOARD = 10,
    MOTORS = BOARDS * MOTORS_A_BOARD
};

struct text {
    char *bytes;
    size_t used, room;
};

static void append(struct text *t, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    t->used += (size_t)vsnprintf(t->bytes + t->used, t->room - t->used, format, args);
    va_end(args);
    assert_true(t->used < t->room);
}

/* One service and CHAINS lines of DEPTH boards; every tenth board has a transformer of its own, every seventh other
   load, in turn of each kind. Ratings are not of this world: a quarter of a gigawatt at 480 V. */
static void write_supply(struct text *t)
{
    static const char *const kinds[] = {"power", "current", "impedance"};
    append(t, "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,primary_volts,secondary_volts,tap_pct,ohms_r,"
              "ohms_x,load_kw,load_kind\nU,,utility,13800,\nT,U,transformer,,,500000,4,13800,480,2.5\n");
    for (int i = 0; i < BOARDS; i++) {
        char above[20];
        snprintf(above, sizeof above, i % DEPTH ? "B%d" : "T", i - 1);
        const char *what = i % 10 == 5 ? "transformer,,,500000,3,480,480,0,," : "cable,,,,,,,,2e-6,2e-6";
        append(t, "B%d,%s,%s,%s,%s\n", i, above, what, i % 7 ? "" : "1", kinds[i % 3]);
    }
}

static void write_motors(struct text *t)
{
    static const char *const plates[] = {
        "460,3,1750,86.5,0.80,B,K,pump,80",     "460,5,1745,87.5,0.82,B,J,fan,70",
        "440,2,1740,84,0.77,B,L,conveyor,60",   "460,7.5,1755,89.5,0.83,B,H,pump,90",
        "460,1,1740,82.5,0.72,B,M,hoist,50",    "460,10,1755,89.5,0.84,B,H,fan,85",
        "230/460,1.5,1740,84,0.75,B,M,pump,75",
    };
    append(t, "tag,feeder,rated_volts,rated_hp,rpm,efficiency_pct,power_factor,design,code_letter,load,load_pct,"
              "branch_length_ft,branch_conductor\n");
    for (int i = 0; i < MOTORS; i++)
        append(t, "M%d,B%d,%s,%s\n", i, i / MOTORS_A_BOARD, plates[(size_t)i % COUNT(plates)], i % 2 ? "60,12" : ",");
}

/* Watts of the source = losses of path and branches + other load + motors. */
static void check_conservation(const struct net *net)
{
    const struct sag_grid *grid = net->grid;
    double source = 0, path = 0, load = 0, branches = 0, motors = 0;
    for (size_t i = 0; i < grid->node_count; i++) {
        const struct sag_grid_node *node = &grid->nodes[i];
        double volts = cabs(net->volts[i]), amps = volts * cabs(net->below[i]) / sqrt(3.0);
        double share = volts / node->volts_nominal;
        path += 3 * amps * amps * node->r;
        load += node->load_watts * pow(share, node->load_kind - SAG_LOAD_KIND_POWER);
        if (node->parent < 0)
            source += creal(net->emf[i] * conj(net->volts[i] * net->below[i]));
    }
    for (size_t i = 0; i < grid->motor_count; i++) {
        const struct net_motor *m = &net->motors[i];
        branches += 3 * m->line_amps * m->line_amps * grid->motors[i].branch_r;
        motors += m->volts_motor * m->volts_motor * creal(m->y_motor);
        assert_true(m->how == NET_CIRCUIT && m->slip < 0.1);
    }
    check_percent("watts", source, path + load + branches + motors, 1e-4);
    assert_true(path > 0.001 * source && motors > 0.5 * source);
}

static void a_hundred_thousand_motors(void **state)
{
    (void)state;
    struct text supply = {.room = 2u << 20}, motors = {.room = 12u << 20};
    struct grid_plant p;
    struct net net;
    supply.bytes = malloc(supply.room);
    motors.bytes = malloc(motors.room);
    write_supply(&supply);
    write_motors(&motors);
    grid_plant_open(&p, supply.bytes, motors.bytes);
    assert_int_equal(p.grid.node_count, BOARDS + 2);
    assert_int_equal(p.grid.motor_count, MOTORS);
    settle_nominal(&p, &net);
    check_conservation(&net);
    double last = cabs(net.volts[node_at(&p, "B199")]) / 480, first = cabs(net.volts[node_at(&p, "B0")]) / 480;
    assert_true(first < 1.025 && last < first - 0.01 && last > 0.85); /* it is a deep path, and one that works */
    net_free(&net);
    grid_plant_free(&p);
    free(supply.bytes);
    free(motors.bytes);
}

TEST_LIST(network_size, cmocka_unit_test(a_hundred_thousand_motors))
