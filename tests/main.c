/* One program for all tests, so that the run closes with one count. Arguments choose lists by name; none runs all. */
#include <gsl/gsl_errno.h>
#include <string.h>

#include "support.h"

/* X(list) */
#define LISTS(X)                                                                                                       \
    X(escape)                                                                                                          \
    X(out)                                                                                                             \
    X(judge)                                                                                                           \
    X(judge_plant)                                                                                                     \
    X(cases)                                                                                                           \
    X(network)                                                                                                         \
    X(network_boards)                                                                                                  \
    X(network_limits)                                                                                                  \
    X(network_size)                                                                                                    \
    X(start_judge)                                                                                                     \
    X(advise)                                                                                                          \
    X(complete)                                                                                                        \
    X(complete_flags)                                                                                                  \
    X(let_start)                                                                                                       \
    X(let_bounds)                                                                                                      \
    X(let_order)                                                                                                       \
    X(let_standards)                                                                                                   \
    X(protect_judge)                                                                                                   \
    X(circuits_judge)                                                                                                  \
    X(curve)                                                                                                           \
    X(clock)                                                                                                           \
    X(volt_log)                                                                                                        \
    X(survey)                                                                                                          \
    X(survey_judge)                                                                                                    \
    X(survey_outside)                                                                                                  \
    X(measured_log)                                                                                                    \
    X(supply)                                                                                                          \
    X(motors)                                                                                                          \
    X(motor_columns)                                                                                                   \
    X(example_files)                                                                                                   \
    X(refused_rows)                                                                                                    \
    X(tables)                                                                                                          \
    X(table_facts)                                                                                                     \
    X(size_tables)                                                                                                     \
    X(trip_tables)                                                                                                     \
    X(sizes)                                                                                                           \
    X(feeder_sizes)                                                                                                    \
    X(transformer_sizes)                                                                                               \
    X(size_order)                                                                                                      \
    X(corpus)                                                                                                          \
    X(csv)                                                                                                             \
    X(diag)                                                                                                            \
    X(number)                                                                                                          \
    X(catalogue)                                                                                                       \
    X(measured)                                                                                                        \
    X(voltage_effect)                                                                                                  \
    X(bands)                                                                                                           \
    X(published_tables)                                                                                                \
    X(network_ngspice)                                                                                                 \
    X(network_books)                                                                                                   \
    X(protect_books)                                                                                                   \
    X(protect_trade)                                                                                                   \
    X(ngspice)                                                                                                         \
    X(fit_reference)                                                                                                   \
    X(circuit_rules)                                                                                                   \
    X(runup_books)                                                                                                     \
    X(runup_integrator)                                                                                                \
    X(runup_steps)                                                                                                     \
    X(start)                                                                                                           \
    X(starters)                                                                                                        \
    X(generator_start)                                                                                                 \
    X(circuit_examples)                                                                                                \
    X(judge_boards)                                                                                                    \
    X(hand_start)                                                                                                      \
    X(findings)                                                                                                        \
    X(print_tables)                                                                                                    \
    X(load_curve)                                                                                                      \
    X(plant_text)                                                                                                      \
    X(quantity)                                                                                                        \
    X(plot_starts)                                                                                                     \
    X(plot_protect)                                                                                                    \
    X(faults)                                                                                                          \
    X(curve_files)                                                                                                     \
    X(disks)                                                                                                           \
    X(memory)                                                                                                          \
    X(changed)                                                                                                         \
    X(report_page)                                                                                                     \
    X(report)                                                                                                          \
    X(kills)                                                                                                           \
    X(hostile)                                                                                                         \
    X(install)                                                                                                         \
    X(example)                                                                                                         \
    X(completion)                                                                                                      \
    X(hostile_output)                                                                                                  \
    X(golden)                                                                                                          \
    X(manual)                                                                                                          \
    X(pages)

#define DECLARE(name) const struct CMUnitTest *name##_tests(size_t *count);
LISTS(DECLARE)
#undef DECLARE

enum {
    MOST_TESTS = 1000
};

static bool is_wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return true;
    return argc < 2;
}

int main(int argc, char **argv)
{
    static struct CMUnitTest all[MOST_TESTS];
    size_t count = 0;
    gsl_set_error_handler_off();
#define ADD(name)                                                                                                      \
    if (is_wanted(#name, argc, argv)) {                                                                                \
        size_t n = 0;                                                                                                  \
        const struct CMUnitTest *list = name##_tests(&n);                                                              \
        for (size_t i = 0; i < n && count < MOST_TESTS; i++)                                                           \
            all[count++] = list[i];                                                                                    \
    }
    LISTS(ADD)
#undef ADD
    return _cmocka_run_group_tests("sagband", all, count, NULL, NULL);
}
