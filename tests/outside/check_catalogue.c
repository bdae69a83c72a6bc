#include <math.h>
#include <stdio.h>
#include <string.h>

#include "outside/published.h"

struct curve {
    const struct published *file;
    size_t first, count;
    double hp;
    const char *maker;
};

static struct curve curve_at(const struct published *file, size_t first)
{
    struct curve c = {file, first, 0, published_number(file, first, "rated_hp"), published_text(file, first, "maker")};
    while (first + c.count < file->rows && published_number(file, first + c.count, "rated_hp") == c.hp &&
           strcmp(published_text(file, first + c.count, "maker"), c.maker) == 0)
        c.count++;
    return c;
}
static double cell(const struct curve *c, size_t i, const char *column)
{
    return published_number(c->file, c->first + i, column);
}
static void dump(void **state)
{
    (void)state;
    const struct published *file = published_file("catalogue_torque_current_curves.csv");
    for (size_t first = 0; first < file->rows;) {
        struct curve c = curve_at(file, first);
        first += c.count;
        double most = 0, rated = NAN;
        for (size_t i = 0; i < c.count; i++) {
            most = fmax(most, cell(&c, i, "torque_pu"));
            if (i + 1 < c.count && cell(&c, i, "torque_pu") >= 1 && cell(&c, i + 1, "torque_pu") < 1 && i > 5) {
                double a = cell(&c, i, "torque_pu"), b = cell(&c, i + 1, "torque_pu");
                double x = cell(&c, i, "speed_percent_of_synchronous"), y = cell(&c, i + 1, "speed_percent_of_synchronous");
                rated = x + (a - 1) / (a - b) * (y - x);
            }
        }
        struct sag_running r = sag_ask_typical_running(shared_tables(), c.hp, 4);
        struct sag_targets t = {.efficiency = 0.9 + 0.01 * log(c.hp), .power_factor = r.power_factor.value, .slip = 1 - rated / 100, .locked_amps = cell(&c, 0, "current_pu"), .locked_torque = cell(&c, 0, "torque_pu"), .breakdown_torque = most, .poles = 4};
        struct sag_machine m;
        sag_fit_machine(&t, &m);
        printf("%s %g hp: slip %.4f eff %.3f pf %.3f way %d la %.2f lt %.2f bd %.2f sbd %.3f h %.3f miss %.3f %.3f %.3f moved %d\n", c.maker, c.hp, t.slip, t.efficiency, t.power_factor, m.way, t.locked_amps, t.locked_torque, most, m.slip_breakdown, m.leakage_share, m.miss_amps, m.miss_locked_torque, m.miss_breakdown, m.slip_moved);
        for (size_t i = 0; i < c.count; i++) {
            double s = 1 - cell(&c, i, "speed_percent_of_synchronous") / 100;
            struct sag_point p;
            sag_circuit_at(&m, &(struct sag_feed){1, 1, 0.1}, s, &p);
            printf("   %.3f torque %.3f (%.3f)  amps %.3f (%.3f)\n", s, p.torque / (m.power / (1 - m.slip)), cell(&c, i, "torque_pu"), p.amps, cell(&c, i, "current_pu"));
        }
    }
}
TEST_LIST(catalogue, cmocka_unit_test(dump))
