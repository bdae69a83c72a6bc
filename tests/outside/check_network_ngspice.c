/* The network's solution against a general circuit simulator (ngspice, AC analysis): a path of four levels with motors
   of 60 and of 50 Hz plates, running and at standstill. The path's ohms are worked out here from the same plates and
   the printed conductor table; slips come from the program, and so do amps and flux, from which the formulas give
   each motor's saturated elements. What is left for the simulator is Kirchhoff's laws: a network that had not settled,
   or that carried a wrong ohm, would come out elsewhere. At 1 rad/s a reactance is its inductance. */
#include "outside/reference_circuit.h"
#include "unit/network_help.h"

#define FEET_A_KFT 1000.0

/* A row of the path as ohms a phase at its own volts, and its ratio. */
struct piece {
    const char *id, *above; /* above: NULL for the source */
    double ratio, r, x;
    double load_watts, load_vars, load_volts; /* an admittance that takes so much at those line volts; 0: none */
};

static const char supply_text[] =
    "id,fed_from,kind,nominal_volts,fault_mva,kva,impedance_pct,x_over_r,primary_volts,secondary_volts,tap_pct,"
    "length_ft,conductor,material,raceway,sets,load_kw,load_pf,load_kind\n"
    "U,,utility,13800,90,,,8,,,,,,,,,,,\n"
    "T1,U,transformer,,,750,5.75,5.5,13800,480,2.5,,,,,,40,0.8,power\n"
    "C1,T1,cable,,,,,,,,,260,250,cu,steel,2,25,0.9,impedance\n"
    "T2,C1,transformer,,,75,4,1.5,480,208,0,,,,,,,,\n"
    "C2,T2,cable,,,,,,,,,60,1/0,al,pvc,1,6,0.95,current\n";

static const char motor_text[] =
    "tag,feeder,rated_volts,rated_hp,hz,rpm,efficiency_pct,power_factor,design,code_letter,load,load_pct,"
    "branch_length_ft,branch_conductor,branch_material,branch_raceway\n"
    "M1,C1,460,75,60,1775,94.1,0.86,B,G,pump,90,120,1,cu,steel\n"
    "M2,C1,400,20,50,1465,90.4,0.83,B,G,conveyor,70,,,,\n"
    "M3,C2,200,5,60,1745,87.5,0.84,B,J,fan,80,80,12,cu,pvc\n"
    "M4,C1,460,60,60,1780,94.5,0.87,B,G,compressor,85,60,2,cu,pvc\n";

/* Transformers: percent of volts squared over VA. Cables: NFPA 70 (2023) chapter 9 table 9, the row printed beside. */
static void path_in_ohms(struct piece piece[5])
{
    const double source = 13800.0 * 13800 / 90e6 / hypot(1, 8);
    const double t1 = 0.0575 * 480 * 480 / 750e3 / hypot(1, 5.5), t2 = 0.04 * 208 * 208 / 75e3 / hypot(1, 1.5);
    const double c1 = 260 / FEET_A_KFT / 2, c2 = 60 / FEET_A_KFT;
    piece[0] = (struct piece){"U", NULL, 1, source, 8 * source, 0, 0, 0};
    piece[1] = (struct piece){"T1", "U", 480.0 / 13800 * 1.025, t1, 5.5 * t1, 40e3, 30e3, NAN};
    piece[2] = (struct piece){"C1", "T1", 1, 0.054 * c1, 0.052 * c1, 25e3, 25e3 * tan(acos(0.9)), 480};
    piece[3] = (struct piece){"T2", "C1", 208.0 / 480, t2, 1.5 * t2, 0, 0, NAN};
    piece[4] = (struct piece){"C2", "T2", 1, 0.20 * c2, 0.044 * c2, 6e3, 6e3 * tan(acos(0.95)), NAN};
}

/* Constant power, as an admittance, is worth its watts at the solved volts; constant amps their share of the nominal
   ones. */
static void loads_at(struct piece piece[5], const struct net *net)
{
    double current_at = cabs(net->volts[4]) / 208;
    piece[1].load_volts = cabs(net->volts[1]);
    piece[4].load_watts *= current_at;
    piece[4].load_vars *= current_at;
    piece[4].load_volts = cabs(net->volts[4]);
}

/* r and x in series from node a to node b. Nothing at all is an ammeter: ohms of almost nothing cost the simulator its
   last digits. */
static void write_branch(FILE *f, const char *name, const char *a, const char *b, double complex z)
{
    if (z == 0)
        fprintf(f, "v%s %s %s 0\n", name, a, b);
    else
        fprintf(f, "r%s %s %s_m %.17g\nl%s %s_m %s %.17g\n", name, a, name, creal(z), name, name, b, cimag(z));
}

/* An ideal transformer: volts forward, amps back. */
static void write_piece(FILE *f, const struct piece *p)
{
    char above[40], here[40];
    snprintf(above, sizeof above, "%s", p->above ? p->above : "source");
    snprintf(here, sizeof here, "%s_e", p->id);
    if (p->above) {
        fprintf(f, "e%s %s_s 0 %s 0 %.17g\n", p->id, p->id, above, p->ratio);
        fprintf(f, "vs%s %s_s %s 0\n", p->id, p->id, here);
        fprintf(f, "f%s %s 0 vs%s %.17g\n", p->id, above, p->id, p->ratio);
    } else
        fprintf(f, "v%s %s 0 dc 0 ac %.17g\n", p->id, here, 13800 / sqrt(3.0));
    write_branch(f, p->id, here, p->id, CMPLX(p->r, p->x));
    if (p->load_watts > 0) /* in parallel: volts squared over watts, over vars */
        fprintf(f, "rload%s %s 0 %.17g\nlload%s %s 0 %.17g\n", p->id, p->id,
                p->load_volts * p->load_volts / p->load_watts, p->id, p->id,
                p->load_volts * p->load_volts / p->load_vars);
}

/* Branch cables, by the same table. */
static double complex branch_of(size_t motor)
{
    static const struct {
        double r, x, feet;
    } rows[] = {{0.16, 0.057, 120}, {0, 0, 0}, {2.0, 0.054, 80}, {0.19, 0.045, 60}};
    return CMPLX(rows[motor].r, rows[motor].x) * rows[motor].feet / FEET_A_KFT;
}

/* One phase of a motor in ohms behind its branch cable and an ammeter. The trim multiplies the amps that the circuit
   takes, so it divides every ohm. */
static void write_motor(FILE *f, const struct net *net, size_t motor, const char *tag)
{
    const struct sag_grid_motor *g = &net->grid->motors[motor];
    const struct net_motor *m = &net->motors[motor];
    const struct sag_machine *c = &g->machine;
    double trim = m->slip >= 1 ? c->trim_amps : 1, ohms = g->base.ohms / trim;
    double complex amps = m->volts_motor / g->volts_rated * m->y_motor * ohms;
    double k = g->hz_share * reference_leakage(c->leakage_share, fmax(cabs(amps), 1e-9));
    double complex gap = m->volts_motor / g->volts_rated - amps * (c->stator_r + I * k * c->stator_x);
    double flux = cabs(gap) / (g->hz_share * c->gap_volts);
    double xm = g->hz_share * c->magnet_x / reference_magnetising(g->main_flux, flux);
    char name[40], from[40], to[40];
    snprintf(from, sizeof from, "%s_a", tag);
    snprintf(to, sizeof to, "%s_t", tag);
    fprintf(f, "vm%s %s %s 0\n", tag, g->node == 4 ? "C2" : "C1", from);
    write_branch(f, tag, from, to, branch_of(motor));
    snprintf(name, sizeof name, "s%s", tag);
    snprintf(from, sizeof from, "%s_g", tag);
    write_branch(f, name, to, from, ohms * CMPLX(c->stator_r, k * c->stator_x));
    fprintf(f, "rc%s %s 0 %.17g\nlx%s %s 0 %.17g\n", tag, from, ohms * c->core_r * sqrt(g->hz_share), tag, from,
            ohms * xm);
    snprintf(name, sizeof name, "i%s", tag);
    write_branch(f, name, from, "0", ohms * CMPLX(c->inner_r / m->slip, k * c->inner_x));
    snprintf(name, sizeof name, "o%s", tag);
    write_branch(f, name, from, "0", ohms * CMPLX(c->outer_r / m->slip, k * c->outer_x));
}

static size_t count_on(const struct net *net)
{
    size_t on = 0;
    for (size_t i = 0; i < net->grid->motor_count; i++)
        on += net->motors[i].how != NET_OFF;
    return on;
}

static void write_netlist(const char *path, const struct grid_plant *p, const struct net *net)
{
    struct piece piece[5];
    FILE *f = fopen(path, "w");
    assert_non_null(f);
    path_in_ohms(piece);
    loads_at(piece, net);
    fprintf(f, "a plant at 1 rad/s\n");
    for (size_t i = 0; i < COUNT(piece); i++)
        write_piece(f, &piece[i]);
    for (size_t i = 0; i < count_on(net); i++)
        write_motor(f, net, i, p->list.plates[i].tag);
    fprintf(f, ".control\nset numdgt=12\nac lin 1 %.17g %.17g\n", 0.5 / acos(-1.0), 0.5 / acos(-1.0));
    for (size_t i = 0; i < COUNT(piece); i++)
        fprintf(f, "print real(v(%s)) imag(v(%s))\n", piece[i].id, piece[i].id);
    for (size_t i = 0; i < count_on(net); i++)
        fprintf(f, "print real(i(vm%s)) imag(i(vm%s))\n", p->list.plates[i].tag, p->list.plates[i].tag);
    fprintf(f, "quit\n.endc\n.end\n");
    assert_int_equal(fclose(f), 0);
}

/* Lines "real(v(u)) = 7.9e+03", in the order of the netlist. */
static void run_simulator(const char *folder, double *read, size_t wanted)
{
    char command[160], line[400];
    size_t values = 0;
    snprintf(command, sizeof command, "cd %s && ngspice -b plant.cir 2>&1", folder);
    FILE *output = popen(command, "r");
    assert_non_null(output);
    while (fgets(line, sizeof line, output)) {
        char *equals = strstr(line, ")) = ");
        if (equals && values < wanted)
            read[values++] = strtod(equals + 5, NULL);
    }
    int status = pclose(output);
    if (values != wanted)
        fail_msg("ngspice gave %zu of %zu values (status %d); is it installed?", values, wanted, status);
}

static void check_phasor(const char *name, const char *state, double complex got, const double *read)
{
    const double percent = 1e-5, radians = 1e-7; /* the network closes at 1e-10 of the volts, 1e-9 of a motor's amps */
    char label[80];
    double complex wanted = CMPLX(read[0], read[1]);
    snprintf(label, sizeof label, "%s, %s, magnitude", state, name);
    check_percent(label, cabs(got), cabs(wanted), percent);
    snprintf(label, sizeof label, "%s, %s, angle", state, name);
    check_near(label, carg(got), carg(wanted), radians);
}

static void compare(const struct grid_plant *p, const struct net *net, const char *folder, const char *state)
{
    char path[64];
    double read[2 * (5 + 4)] = {0};
    snprintf(path, sizeof path, "%s/plant.cir", folder);
    write_netlist(path, p, net);
    run_simulator(folder, read, 2 * (5 + count_on(net)));
    for (size_t i = 0; i < p->grid.node_count; i++)
        check_phasor(p->grid.nodes[i].id, state, net->volts[i] / sqrt(3.0), read + 2 * i);
    for (size_t i = 0; i < count_on(net); i++) {
        double complex amps = net->motors[i].y_node * net->volts[p->grid.motors[i].node] / sqrt(3.0);
        check_phasor(p->list.plates[i].tag, state, amps, read + 2 * (5 + i));
        check_percent(p->list.plates[i].tag, net->motors[i].line_amps, cabs(amps), 1e-6);
    }
}

static void agrees_with_a_circuit_simulator(void **state)
{
    struct grid_plant p;
    struct net net;
    grid_plant_open(&p, supply_text, motor_text);
    assert_int_equal(p.grid.node_count, 5);
    assert_int_equal(net_init(&p.grid, &net), SAG_OK);
    net_set_case(&net, SAG_CASE_NOMINAL);
    for (size_t i = 0; i < 3; i++)
        net_run_motor(&net, i, p.grid.motors[i].share);
    assert_true(net_settle(&net, NULL));
    compare(&p, &net, *state, "three running");
    double before = cabs(net.volts[4]), slip = net.motors[0].slip;

    net.motors[3] = (struct net_motor){.how = NET_CIRCUIT, .slip = 1, .front = net_direct(), .guess = {.amps = 6}};
    assert_true(net_solve(&net, 1e-10));
    compare(&p, &net, *state, "the fourth closes");
    assert_true(cabs(net.volts[4]) < 0.97 * before); /* it is a start that matters */

    assert_true(net_settle(&net, NULL));
    compare(&p, &net, *state, "the fourth stands, the others have slowed down");
    assert_true(net.motors[0].slip > 1.02 * slip && net.motors[0].slip < 0.5);
    net_free(&net);
    grid_plant_free(&p);
}

TEST_LIST(network_ngspice, IN_FOLDER(agrees_with_a_circuit_simulator))
