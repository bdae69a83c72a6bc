/* The circuit's solution against a general circuit simulator (ngspice, AC analysis). Saturation is resolved outside:
   the leakage that is left at the solved amps and the magnetising branch at the solved flux are worked out from the
   formulas and go into the netlist as plain reactances, so that the simulator has nothing to do but Kirchhoff's laws.
   At 1 rad/s a reactance is its inductance. A circuit that had not settled would not come out with the same amps. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "outside/reference_circuit.h"
#include "support.h"

enum {
    MOST_POINTS = 200,
    READINGS = 6 /* line, inner, outer: real and imaginary */
};

struct trial {
    struct sag_machine m;
    struct sag_feed feed;
    double slip;
    struct sag_point p;
    double read[READINGS];
};

struct bench {
    struct trial trials[MOST_POINTS];
    size_t count;
};

static void add(struct bench *b, const struct sag_machine *m, double volts, double hz, double slip)
{
    struct trial *t = &b->trials[b->count++];
    assert_true(b->count <= MOST_POINTS);
    *t = (struct trial){.m = *m, .feed = {volts, hz, 0.1}, .slip = slip};
    t->m.trim_amps = t->m.trim_torque = 1; /* trims are no part of the circuit */
    sag_circuit_at(&t->m, &t->feed, slip, &t->p);
}

/* Motors of the kinds that a plant has, the last two with a circuit that misses its targets. */
static void fit_bench(struct bench *b)
{
    static const struct sag_targets motors[] = {
        {0.825, 0.76, 0.0361, 6.2, 3.00, 3.20, 4}, {0.885, 0.83, 0.0278, 6.1, 2.10, 2.60, 4},
        {0.936, 0.84, 0.0167, 6.1, 1.75, 2.40, 4}, {0.945, 0.90, 0.0110, 6.4, 1.40, 2.30, 2},
        {0.945, 0.87, 0.0100, 6.2, 1.60, 2.30, 4}, {0.962, 0.87, 0.0072, 6.0, 0.95, 2.10, 6},
        {0.880, 0.72, 0.0300, 6.4, 1.60, 2.45, 8}, {0.790, 0.70, 0.0400, 5.8, 1.60, 2.60, 8},
    };
    static const double volts[] = {0.58, 0.9, 1, 1.1, 1.2};
    for (size_t i = 0; i < sizeof motors / sizeof *motors; i++) {
        struct sag_machine m;
        sag_fit_machine(&motors[i], &m);
        for (size_t k = 0; k < sizeof volts / sizeof *volts; k++) {
            add(b, &m, volts[k], 1, m.slip);
            add(b, &m, volts[k], 1, m.slip_breakdown);
            add(b, &m, volts[k], 1, 1);
        }
        add(b, &m, 1, 1, 1e-4);
        add(b, &m, 1, 0.95, m.slip);
        add(b, &m, 0.9, 0.95, 1);
        add(b, &m, 1, 50.0 / 60, m.slip);
        add(b, &m, 1, 50.0 / 60, 0.5);
    }
}

/* Leakage and magnetising branch in force at the program's solution. Frequency scales every reactance; core resistance
   goes with its square root (core loss with flux squared and frequency to the 1.5; the program's own choice). */
static void write_trial(FILE *netlist, size_t i, const struct trial *t)
{
    const struct sag_machine *m = &t->m;
    double k = t->feed.hz * reference_leakage(m->leakage_share, t->p.amps);
    double complex amps = t->p.amps * (t->p.power_factor - I * sqrt(1 - t->p.power_factor * t->p.power_factor));
    double flux = cabs(t->feed.volts - amps * (m->stator_r + I * k * m->stator_x)) / (t->feed.hz * m->gap_volts);
    double xm = t->feed.hz * m->magnet_x / reference_magnetising(t->feed.main_flux, flux);
    fprintf(netlist, "v%zu a%zu 0 dc 0 ac %.17g\n", i, i, t->feed.volts);
    fprintf(netlist, "rs%zu a%zu b%zu %.17g\nls%zu b%zu e%zu %.17g\n", i, i, i, m->stator_r, i, i, i, k * m->stator_x);
    fprintf(netlist, "rc%zu e%zu 0 %.17g\nlm%zu e%zu 0 %.17g\n", i, i, m->core_r * sqrt(t->feed.hz), i, i, xm);
    fprintf(netlist, "vi%zu e%zu i%zu 0\nri%zu i%zu j%zu %.17g\nli%zu j%zu 0 %.17g\n", i, i, i, i, i, i,
            m->inner_r / t->slip, i, i, k * m->inner_x);
    fprintf(netlist, "vo%zu e%zu o%zu 0\nro%zu o%zu p%zu %.17g\nlo%zu p%zu 0 %.17g\n", i, i, i, i, i, i,
            m->outer_r / t->slip, i, i, k * m->outer_x);
}

static void write_netlist(const char *path, const struct bench *b)
{
    FILE *netlist = fopen(path, "w");
    assert_non_null(netlist);
    fprintf(netlist, "motors at 1 rad/s\n");
    for (size_t i = 0; i < b->count; i++)
        write_trial(netlist, i, &b->trials[i]);
    fprintf(netlist, ".control\nset numdgt=12\nac lin 1 %.17g %.17g\n", 0.5 / acos(-1.0), 0.5 / acos(-1.0));
    for (size_t i = 0; i < b->count; i++)
        fprintf(netlist,
                "print real(i(v%zu)) imag(i(v%zu)) real(i(vi%zu)) imag(i(vi%zu)) real(i(vo%zu)) imag(i(vo%zu))\n", i, i,
                i, i, i, i);
    fprintf(netlist, "quit\n.endc\n.end\n");
    assert_int_equal(fclose(netlist), 0);
}

/* Lines "real(i(v3)) = -1.0e+00", in the order of the netlist. */
static size_t read_currents(FILE *output, struct bench *b)
{
    char line[400];
    size_t values = 0;
    while (fgets(line, sizeof line, output)) {
        char *equals = strstr(line, ")) = ");
        if (!equals || values >= b->count * READINGS)
            continue;
        b->trials[values / READINGS].read[values % READINGS] = strtod(equals + 5, NULL);
        values++;
    }
    return values;
}

static void run_simulator(struct bench *b, const char *folder)
{
    char path[64], command[160];
    snprintf(path, sizeof path, "%s/motors.cir", folder);
    write_netlist(path, b);
    snprintf(command, sizeof command, "cd %s && ngspice -b motors.cir 2>&1", folder);
    FILE *output = popen(command, "r");
    assert_non_null(output);
    size_t values = read_currents(output, b);
    int status = pclose(output);
    if (values != b->count * READINGS)
        fail_msg("ngspice gave %zu of %zu currents (status %d); is it installed?", values, b->count * READINGS, status);
}

static void compare(const struct trial *t)
{
    const double percent = 0.01; /* 1e-4 */
    char label[120];
    double complex amps = -(t->read[0] + I * t->read[1]); /* a source's current flows into its plus */
    double inner = cabs(t->read[2] + I * t->read[3]), outer = cabs(t->read[4] + I * t->read[5]);
    double gap = (inner * inner * t->m.inner_r + outer * outer * t->m.outer_r) / t->slip;
    snprintf(label, sizeof label, "volts %g, hz %g, slip %g", t->feed.volts, t->feed.hz, t->slip);
    check_percent(label, t->p.amps, cabs(amps), percent);
    check_percent(label, t->p.power_factor, creal(amps) / cabs(amps), percent);
    check_percent(label, t->p.power_in, t->feed.volts * creal(amps), percent);
    check_percent(label, t->p.gap_power, gap, percent);
    check_percent(label, t->p.winding_loss, creal(amps * conj(amps)) * t->m.stator_r + t->slip * gap, percent);
}

static void agrees_with_a_circuit_simulator(void **state)
{
    static struct bench b;
    b.count = 0;
    fit_bench(&b);
    run_simulator(&b, *state);
    for (size_t i = 0; i < b.count; i++)
        compare(&b.trials[i]);
    print_message("%zu points of 8 motors agree with the simulator\n", b.count);
    assert_int_equal(b.count, 160);
}

TEST_LIST(ngspice, IN_FOLDER(agrees_with_a_circuit_simulator))
