/* The network: what goes in comes out, and what must make no difference makes none. */
#include "unit/network_help.h"

#define SUPPLY                                                                                                         \
    "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,x_over_r,primary_volts,secondary_volts,tap_pct,"       \
    "length_ft,conductor,load_kw,load_pf,load_kind\n"
#define U  "U,,utility,13800,90,,,8\n"
#define T1 "T1,U,transformer,,,750,5.75,5.5,13800,480,2.5,,,22,0.9,power\n"
#define C1 "C1,T1,cable,,,,,,,,,260,250,18,0.92,current\n"
#define C2 "C2,T1,cable,,,,,,,,,310,500,12,1,impedance\n"
#define T2 "T2,C1,transformer,,,45,4,,480,208,0\n"
#define C3 "C3,T2,cable,,,,,,,,,25,1/0,4,0.9,power\n"

#define MOTORS                                                                                                         \
    "tag,feeder,rated_volts,rated_hp,hz,rpm,efficiency_pct,power_factor,design,code_letter,load,load_pct,"             \
    "branch_length_ft,branch_conductor,starting,phases\n"
#define M1     "M1,C1,460,75,60,1775,94.1,0.86,B,G,pump,90,120,1\n"
#define M2     "M2,C1,400,10,50,1465,90.4,0.83,N,,conveyor,70,150,10\n"
#define M3     "M3,C3,200,5,60,1745,87.5,0.84,B,J,fan,80,80,12\n"
#define M4     "M4,C2,440,60,60,1780,94.5,0.87,B,G,compressor,85\n"
#define DRIVEN "M5,C2,460,25,60,1770,93.6,0.85,B,G,fan,80,110,6,drive\n"
#define BENCH  "M6,C3,115,0.5,60,1725,62,0.65,,,constant,50,40,12,,1\n"
#define PLANT  SUPPLY U T1 C1 C2 T2 C3
#define PLATES MOTORS M1 M2 M3 M4 DRIVEN BENCH

/* --- conservation ------------------------------------------------------------------------------------------------- */

static double complex lost_in(double complex z, double complex amps)
{
    return 3 * cabs(amps) * cabs(amps) * z;
}

/* Amps of a line, from line volts and an admittance of one phase. */
static double complex amps_of(double complex volts, double complex admittance)
{
    return volts * admittance / sqrt(3.0);
}

/* What the other load of a node draws, by the words of its kind. */
static double complex other_load(const struct sag_grid_node *node, double volts)
{
    double share = volts / node->volts_nominal;
    double factor = node->load_kind == SAG_LOAD_KIND_POWER     ? 1
                    : node->load_kind == SAG_LOAD_KIND_CURRENT ? share
                                                               : share * share;
    return factor * CMPLX(node->load_watts, node->load_vars);
}

struct powers {
    double complex sources, path, branches, loads, motors;
};

static struct powers add_up(const struct net *net)
{
    struct powers p = {0};
    const struct sag_grid *grid = net->grid;
    for (size_t i = 0; i < grid->node_count; i++) {
        double complex amps = amps_of(net->volts[i], net->below[i]);
        if (grid->nodes[i].parent < 0)
            p.sources += sqrt(3.0) * net->emf[i] * conj(amps);
        p.path += lost_in(CMPLX(grid->nodes[i].r, grid->nodes[i].x), amps);
        p.loads += other_load(&grid->nodes[i], cabs(net->volts[i]));
    }
    for (size_t i = 0; i < grid->motor_count; i++) {
        const struct sag_grid_motor *g = &grid->motors[i];
        const struct net_motor *m = &net->motors[i];
        p.branches += lost_in(CMPLX(g->branch_r, g->branch_x), m->line_amps);
        p.motors += m->how == NET_CIRCUIT ? m->volts_motor * m->volts_motor * conj(m->y_motor)
                                          : m->front.power_share * CMPLX(g->watts, g->vars);
    }
    return p;
}

static void power_is_conserved(void **state)
{
    (void)state;
    struct grid_plant p;
    struct net net;
    grid_plant_open(&p, PLANT, PLATES);
    settle_nominal(&p, &net);
    struct powers sum = add_up(&net);
    double complex out = sum.path + sum.branches + sum.loads + sum.motors;
    check_near("watts", creal(sum.sources), creal(out), 1e-6 * cabs(out));
    check_near("vars", cimag(sum.sources), cimag(out), 1e-6 * cabs(out));
    assert_true(creal(sum.path) > 1000 && creal(sum.branches) > 100); /* there is something to conserve */
    net_free(&net);
    grid_plant_free(&p);
}

/* The same from what is reported: into a board = its loss, its loads, its motors, and into those below. */
static void reports_add_up(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, PLANT, MOTORS "M,C3,200,5,60,1745,87.5,0.84,B,J,none,0\n");
    for (int c = SAG_CASE_NOMINAL; c <= SAG_CASE_LOW; c++)
        for (size_t i = 0; i < p.grid.node_count - 1; i++) { /* the last board has the motor */
            const struct sag_board_flow *f = &p.reports[i].of[c];
            double below = creal(other_load(&p.grid.nodes[i], f->volts_ll));
            for (size_t k = 0; k < p.grid.node_count; k++)
                if (p.grid.nodes[k].parent == (int32_t)i)
                    below += p.reports[k].of[c].watts + p.reports[k].of[c].loss_watts;
            check_near(p.grid.nodes[i].id, f->watts, below, 1e-6 * f->va);
            check_percent(p.grid.nodes[i].id, f->va, sqrt(3.0) * f->volts_ll * f->amps, 1e-6);
            check_percent(p.grid.nodes[i].id, f->va, hypot(f->watts, f->vars), 1e-6);
        }
    grid_plant_free(&p);
}

/* Input = copper + core + friction + what the load takes. */
static void motors_turn_input_into_losses_and_work(void **state)
{
    (void)state;
    struct grid_plant p;
    struct net net;
    grid_plant_open(&p, PLANT, PLATES);
    settle_nominal(&p, &net);
    for (size_t i = 0; i < 4; i++) {
        const struct sag_grid_motor *g = &p.grid.motors[i];
        const struct net_motor *m = &net.motors[i];
        const struct sag_machine *c = &g->machine;
        struct sag_feed feed = {m->volts_motor / g->volts_rated, g->hz_share, g->main_flux};
        struct sag_point at;
        sag_circuit_at(c, &feed, m->slip, &at);
        double input = m->volts_motor * m->volts_motor * creal(m->y_motor) / g->base.watts;
        double complex amps = at.amps * CMPLX(at.power_factor, -sqrt(1 - at.power_factor * at.power_factor));
        double gap = cabs(feed.volts - amps * CMPLX(c->stator_r, g->hz_share * c->stator_x)); /* below onset */
        double core = gap * gap / (c->core_r * sqrt(g->hz_share));
        double rated = 1 - c->slip, friction = c->friction * pow(at.speed / rated, 3);
        double work = sag_load_torque(c, &g->load, g->share, at.speed) * at.speed;
        check_near(p.list.plates[i].tag, input, at.winding_loss + core + friction + work, 1e-6 * input);
        assert_true(at.amps < 2 && work > 0.4);
    }
    net_free(&net);
    grid_plant_free(&p);
}

/* --- what makes no difference ------------------------------------------------------------------------------------- */

static void compare_plants(const char *name, struct grid_plant *a, struct grid_plant *b, double tolerance)
{
    size_t compared = 0;
    for (size_t i = 0; i < b->grid.node_count; i++) {
        int32_t other = sag_find_node(&a->supply, b->grid.nodes[i].id);
        for (int c = 0; c < SAG_CASE_MEASURED && other >= 0; c++, compared++) {
            double volts = a->reports[other].of[c].volts_ll;
            check_near(name, b->reports[i].of[c].volts_ll, volts, tolerance * volts);
        }
        if (other >= 0)
            check_percent(name, b->reports[i].motor_fault_amps, a->reports[other].motor_fault_amps, 1e-6);
    }
    for (size_t i = 0; i < b->list.count; i++)
        for (int c = 0; c < SAG_CASE_MEASURED; c++, compared++) {
            double volts = a->volts[motor_at(a, b->list.plates[i].tag)].at_motor[c];
            check_near(name, b->volts[i].at_motor[c], volts, tolerance * volts);
        }
    assert_int_equal(compared, 3 * (a->grid.node_count + a->list.count));
}

static void no_difference(void **state)
{
    (void)state;
    static const struct {
        const char *name, *supply, *motors;
        double tolerance;
    } rows[] = {
        {"the same again", PLANT, PLATES, 0},
        {"order of the path", SUPPLY C3 T2 C2 C1 T1 U, PLATES, 1e-12},
        {"order of the motors", PLANT, MOTORS BENCH M4 M3 DRIVEN M1 M2, 1e-12},
        {"a cable of no length at the end", PLANT "END,C3,cable,,,,,,,,,0,12\n", PLATES, 1e-12},
        {"a cable of no length in between",
         SUPPLY U T1 "Z,T1,cable,,,,,,,,,0,12\n" C2 "C1,Z,cable,,,,,,,,,260,250,18,0.92,current\n" T2 C3, PLATES,
         1e-12},
        {"a second source", PLANT "V,,utility,480,20\n", PLATES, 0},
    };
    struct grid_plant a;
    grid_plant_solved(&a, PLANT, PLATES);
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct grid_plant b;
        grid_plant_solved(&b, rows[i].supply, rows[i].motors);
        compare_plants(rows[i].name, &a, &b, rows[i].tolerance);
        grid_plant_free(&b);
    }
    grid_plant_free(&a);
}

/* A source that holds its volts, and wires of no length: nothing drops. */
static void nothing_in_the_way(void **state)
{
    (void)state;
    struct grid_plant p;
    grid_plant_solved(&p, SUPPLY "U,,utility,480,,,,,,,,,,100\nC1,U,cable,,,,,,,,,0,12,50\n",
                      MOTORS "M1,C1,460,75,60,1775,94.1,0.86,B,G,pump,90\n");
    for (size_t i = 0; i < 2; i++) {
        assert_true(p.reports[i].of[SAG_CASE_NOMINAL].volts_ll == 480);
        assert_true(p.reports[i].of[SAG_CASE_LOW].volts_ll == 456);
        assert_true(p.reports[i].of[SAG_CASE_HIGH].volts_ll == 504);
        assert_true(p.reports[i].of[SAG_CASE_NOMINAL].loss_watts == 0);
    }
    assert_true(p.volts[0].at_motor[SAG_CASE_LOW] == 456);
    grid_plant_free(&p);
}

TEST_LIST(network, cmocka_unit_test(power_is_conserved), cmocka_unit_test(reports_add_up),
          cmocka_unit_test(motors_turn_input_into_losses_and_work), cmocka_unit_test(no_difference),
          cmocka_unit_test(nothing_in_the_way))
