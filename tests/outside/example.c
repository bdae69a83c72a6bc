#include "outside/example.h"

#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *text_at(const struct example *e, size_t row, const char *column)
{
    return published_text(e->file, e->first + row, column);
}

double example_input(const struct example *e, const char *name, double otherwise)
{
    for (size_t i = 0; i < e->count; i++)
        if (strcmp(text_at(e, i, "role"), "in") == 0 && strcmp(text_at(e, i, "name"), name) == 0)
            return published_number(e->file, e->first + i, "value");
    return otherwise;
}

/* The example that starts at row `first`; its model is named in its first row. */
static struct example example_at(size_t first)
{
    const struct published *file = published_file("circuit_examples.csv");
    struct example e = {file, published_text(file, first, "example"), published_text(file, first, "value"), first, 0};
    while (first + e.count < file->rows && strcmp(published_text(file, first + e.count, "example"), e.name) == 0)
        e.count++;
    return e;
}

int visit_examples(const char *model, void (*visit)(const struct example *e))
{
    const struct published *file = published_file("circuit_examples.csv");
    int found = 0;
    for (size_t first = 0; first < file->rows;) {
        struct example e = example_at(first);
        first += e.count;
        if (strcmp(e.model, model) != 0)
            continue;
        visit(&e);
        found++;
    }
    return found;
}

int check_examples(const char *model, example_answer *answer)
{
    const struct published *file = published_file("circuit_examples.csv");
    int compared = 0;
    for (size_t first = 0; first < file->rows;) {
        struct example e = example_at(first);
        first += e.count;
        for (size_t i = 0; i < e.count && strcmp(e.model, model) == 0; i++) {
            char label[96];
            if (strcmp(text_at(&e, i, "role"), "out") != 0)
                continue;
            snprintf(label, sizeof label, "%s %s", e.name, text_at(&e, i, "name"));
            check_percent(label, answer(&e, text_at(&e, i, "name")), published_number(file, e.first + i, "value"),
                          published_number(file, e.first + i, "tol_pct"));
            compared++;
        }
    }
    return compared;
}

struct sag_machine machine_in_ohms(double r1, double x1, double r2, double x2, double xm, double rc)
{
    /* two equal cages in parallel are one of half their impedance */
    return (struct sag_machine){
        .stator_r = r1,
        .stator_x = x1,
        .core_r = rc,
        .magnet_x = xm,
        .inner_r = 2 * r2,
        .outer_r = 2 * r2,
        .inner_x = 2 * x2,
        .outer_x = 2 * x2,
        .gap_volts = 1,
        .slip = 1e-3,
        .slip_breakdown = 1,
        .trim_amps = 1,
        .trim_torque = 1,
    };
}

struct sag_machine machine_of_example(const struct example *e)
{
    const double open_branch = 1e12; /* ohms */
    return machine_in_ohms(example_input(e, "r1", 0), example_input(e, "x1", 0), example_input(e, "r2", NAN),
                           example_input(e, "x2", NAN), example_input(e, "xm", open_branch),
                           example_input(e, "rc", open_branch));
}

double phase_volts(const struct example *e)
{
    return example_input(e, "v_ph", example_input(e, "v_ll", NAN) / sqrt(3.0));
}

double synchronous_speed(const struct example *e)
{
    return 4 * acos(-1.0) * example_input(e, "hz", NAN) / example_input(e, "poles", NAN);
}

struct run_up {
    const struct sag_machine *machine;
    double volts, sync;
};

static double seconds_per_slip(double slip, void *context)
{
    const struct run_up *r = context;
    struct sag_point point;
    sag_circuit_at(r->machine, &(struct sag_feed){r->volts, 1, 0}, slip, &point);
    return r->sync / (3 * point.gap_power / r->sync);
}

double run_up_seconds(const struct sag_machine *machine, double volts, double sync, double inertia, double end)
{
    struct run_up run = {machine, volts, sync};
    gsl_function f = {.function = seconds_per_slip, .params = &run};
    double seconds = NAN, error = 0;
    size_t steps = 0;
    if (gsl_integration_qng(&f, end, 1, 0, 1e-6, &seconds, &error, &steps) != 0)
        fail_msg("run-up did not integrate");
    return inertia * seconds;
}
