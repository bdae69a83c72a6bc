/* Textbook examples of the T circuit against the program's circuit. Titles, editions and example numbers stand in the
   `source` rows of tests/outside/data/circuit_examples.csv; rows marked `memory` were recalled, and `recomputed` ones
   have no printed figure that agrees with its own circuit. Tolerances are those of the rows: the rounding of the book.
   Each test asserts how many answers it compared, so that a model that drops out is noticed. */
#include <math.h>
#include <string.h>

#include "outside/example.h"

#define WATTS_PER_HP 746.0
#define NM_PER_LBFT  1.3558

/* What the books print of one load point, three phases together. */
struct load_point {
    struct sag_point p;
    double slip, sync, r2, r1, p_rot;
    double gap_w, conv_w, out_w, in_w, copper_w;
};

static struct load_point load_point_of(const struct example *e, double slip)
{
    struct sag_machine m = machine_of_example(e);
    struct load_point l = {.slip = slip, .sync = synchronous_speed(e), .r2 = example_input(e, "r2", NAN)};
    sag_circuit_at(&m, &(struct sag_feed){phase_volts(e), 1, 0}, slip, &l.p);
    l.p_rot = example_input(e, "p_rot", 0);
    l.gap_w = 3 * l.p.gap_power;
    l.conv_w = 3 * l.p.power_out; /* no friction in the machine, so this is the converted power */
    l.out_w = l.conv_w - l.p_rot;
    l.in_w = 3 * l.p.power_in;
    l.copper_w = 3 * (l.p.winding_loss - slip * l.p.gap_power);
    return l;
}

static double rotor_amps(const struct load_point *l)
{
    return sqrt(l->p.gap_power * l->slip / l->r2);
}

static double degrees(double power_factor)
{
    return -180 / acos(-1.0) * acos(power_factor);
}

struct named {
    const char *name;
    double value;
};

static double pick(const char *name, const struct named *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(list[i].name, name) == 0)
            return list[i].value;
    return NAN;
}

static double running_answer(const struct example *e, const char *name)
{
    struct load_point l = load_point_of(e, example_input(e, "slip", 1));
    double out_nm = l.out_w / (l.sync * (1 - l.slip)), gap_nm = l.gap_w / l.sync;
    const struct named list[] = {
        {"n_rpm", 30 / acos(-1.0) * l.sync * l.p.speed},
        {"i1_a", l.p.amps},
        {"i1_deg", degrees(l.p.power_factor)},
        {"pf", l.p.power_factor},
        {"pin_w", l.in_w},
        {"pscl_w", l.copper_w},
        {"pag_w", l.gap_w},
        {"prcl_w", l.gap_w - l.conv_w},
        {"pcore_w", l.in_w - l.copper_w - l.gap_w},
        {"pconv_w", l.conv_w},
        {"pout_w", l.out_w},
        {"pout_hp", l.out_w / WATTS_PER_HP},
        {"i2_a", rotor_amps(&l)},
        {"tau_ind_nm", gap_nm},
        {"tau_ind_lbft", gap_nm / NM_PER_LBFT},
        {"tau_out_nm", out_nm},
        {"tau_out_lbft", out_nm / NM_PER_LBFT},
        {"eff_pct", 100 * l.out_w / l.in_w},
    };
    return pick(name, list, sizeof list / sizeof *list);
}

static double starting_answer(const struct example *e, const char *name)
{
    struct load_point l = load_point_of(e, 1);
    const struct named list[] = {
        {"i_start_a", l.p.amps},  {"i_start_deg", degrees(l.p.power_factor)}, {"i2_start_a", rotor_amps(&l)},
        {"pag_start_w", l.gap_w}, {"tau_start_nm", l.gap_w / l.sync},
    };
    return pick(name, list, sizeof list / sizeof *list);
}

static double breakdown_answer(const struct example *e, const char *name)
{
    struct sag_machine m = machine_of_example(e);
    struct sag_peak peak = sag_find_breakdown(&m, &(struct sag_feed){phase_volts(e), 1, 0});
    double sync = synchronous_speed(e), torque = 3 * peak.torque / sync;
    const struct named list[] = {
        {"s_bd", peak.slip},
        {"n_bd_rpm", 30 / acos(-1.0) * sync * (1 - peak.slip)},
        {"tau_bd_nm", torque},
        {"tau_bd_lbft", torque / NM_PER_LBFT},
        {"pconv_at_bd_kw", torque * sync * (1 - peak.slip) / 1000},
    };
    return pick(name, list, sizeof list / sizeof *list);
}

/* V^2 R / P of a resistor R across the gap is |Z_th|^2 + 2 R R_th + R^2 when Z_th stands before it. */
static double gap_square(const struct example *e, double ohms, double *open_volts)
{
    struct sag_machine m = machine_of_example(e);
    struct sag_point open, loaded;
    const double least_slip = 1e-9; /* no rotor current to speak of: gap volts are V_th */
    sag_circuit_at(&m, &(struct sag_feed){phase_volts(e), 1, 0}, least_slip, &open);
    *open_volts = sqrt(open.gap_power * example_input(e, "r2", NAN) / least_slip);
    m.inner_r = m.outer_r = 2 * ohms;
    m.inner_x = m.outer_x = 0;
    sag_circuit_at(&m, &(struct sag_feed){phase_volts(e), 1, 0}, 1, &loaded);
    return *open_volts * *open_volts * ohms / loaded.gap_power - ohms * ohms;
}

static double thevenin_answer(const struct example *e, const char *name)
{
    double volts = NAN, one = gap_square(e, 1, &volts), two = gap_square(e, 2, &volts);
    double r = (two - one) / 2, z_square = one - 2 * r;
    const struct named list[] = {{"vth_v", volts}, {"rth", r}, {"xth", sqrt(z_square - r * r)}};
    return pick(name, list, sizeof list / sizeof *list);
}

/* The books' greatest developed power: (1 - s) times air-gap power over all slips. */
static double greatest_power_answer(const struct example *e, const char *name)
{
    double low = 1e-3, high = 1;
    const double golden = 0.5 * (sqrt(5.0) - 1);
    while (high - low > 1e-7) {
        double left = high - golden * (high - low), right = low + golden * (high - low);
        if (load_point_of(e, left).conv_w > load_point_of(e, right).conv_w)
            high = right;
        else
            low = left;
    }
    struct load_point l = load_point_of(e, low);
    const struct named list[] = {
        {"s_pmax", low}, {"pconv_max_kw", l.conv_w / 1000}, {"tau_at_pmax_nm", l.gap_w / l.sync}};
    return pick(name, list, sizeof list / sizeof *list);
}

/* A 746 W horsepower and synchronous speed make the base of the reprinted machine tables. */
static double base_answer(const struct example *e, const char *name)
{
    double watts = example_input(e, "hp", NAN) * SAG_WATTS_PER_HP;
    const struct named list[] = {{"tau_base_nm", watts / synchronous_speed(e)},
                                 {"i_base_a", watts / (3 * phase_volts(e))}};
    return pick(name, list, sizeof list / sizeof *list);
}

static double run_up_answer(const struct example *e, const char *name)
{
    struct sag_machine m = machine_of_example(e);
    const struct named list[] = {{"t_runup_unloaded_s", run_up_seconds(&m, phase_volts(e), synchronous_speed(e),
                                                                       example_input(e, "j", NAN), 0.01)}};
    return pick(name, list, sizeof list / sizeof *list);
}

static double tee_answer(const struct example *e, const char *name)
{
    static example_answer *const asked[] = {running_answer,        starting_answer, breakdown_answer, thevenin_answer,
                                            greatest_power_answer, base_answer,     run_up_answer};
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        double value = asked[i](e, name);
        if (!isnan(value))
            return value;
    }
    return NAN;
}

static void t_circuit(void **state)
{
    (void)state;
    assert_int_equal(check_examples("tee", tee_answer), 83);
}

static void t_circuit_and_run_up(void **state)
{
    (void)state;
    assert_int_equal(check_examples("tee_run", tee_answer), 30);
}

static void series_circuit(void **state)
{
    (void)state;
    assert_int_equal(check_examples("noxm", tee_answer), 9);
}

/* Magnetising branch at the terminals: the stator's impedance stands in the rotor's branch, so its resistance is that
   of a rotor whose r2/s has r1 added, and the share r2/s of the branch's power crosses the gap. */
static double gamma_answer(const struct example *e, const char *name)
{
    double s = example_input(e, "slip", NAN), r2 = example_input(e, "r2", NAN), p_rot = example_input(e, "p_rot", 0);
    double branch_r = r2 + s * example_input(e, "r1", NAN);
    struct sag_machine m = machine_in_ohms(0, 0, branch_r, example_input(e, "x1", NAN) + example_input(e, "x2", NAN),
                                           example_input(e, "xm", NAN), 1e12);
    struct sag_point p;
    sag_circuit_at(&m, &(struct sag_feed){phase_volts(e), 1, 0}, s, &p);
    double conv = (1 - s) * 3 * p.gap_power * r2 / branch_r, in = 3 * p.power_in;
    const struct named list[] = {
        {"i1_a", p.amps},
        {"pin_w", in},
        {"pconv_w", conv},
        {"tau_out_nm", (conv - p_rot) / (synchronous_speed(e) * (1 - s))},
        {"eff_pct", 100 * (conv - p_rot) / in},
    };
    return pick(name, list, sizeof list / sizeof *list);
}

static void branch_at_the_terminals(void **state)
{
    (void)state;
    assert_int_equal(check_examples("gamma", gamma_answer), 5);
}

static double two_cage_answer(const struct example *e, const char *name)
{
    struct sag_machine m = machine_in_ohms(example_input(e, "r1", NAN), example_input(e, "x1", NAN), 1, 1, 1e12, 1e12);
    m.inner_r = example_input(e, "r21", NAN);
    m.inner_x = example_input(e, "x21", NAN);
    m.outer_r = example_input(e, "r22", NAN);
    m.outer_x = example_input(e, "x22", NAN);
    struct sag_point p;
    double slip = strcmp(name, "pag_at_s1_w") == 0 ? 1 : strcmp(name, "pag_at_s0.04_w") == 0 ? 0.04 : NAN;
    sag_circuit_at(&m, &(struct sag_feed){phase_volts(e), 1, 0}, slip, &p);
    return example_input(e, "phases", NAN) * p.gap_power;
}

static void two_cages(void **state)
{
    (void)state;
    assert_int_equal(check_examples("double", two_cage_answer), 2);
}

TEST_LIST(circuit_examples, cmocka_unit_test(t_circuit), cmocka_unit_test(t_circuit_and_run_up),
          cmocka_unit_test(series_circuit), cmocka_unit_test(branch_at_the_terminals), cmocka_unit_test(two_cages))
