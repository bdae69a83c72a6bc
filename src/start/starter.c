#include "start/starter.h"

#include <math.h>

static struct stage last_stage(void)
{
    return (struct stage){.front = net_direct(), .until_time = INFINITY, .until_speed = INFINITY, .winding_share = 1};
}

static struct stage first_stage(const struct sag_starter *starter)
{
    struct stage s = last_stage();
    s.until_time = isnan(starter->transfer_time) ? INFINITY : starter->transfer_time;
    s.until_speed = isnan(starter->transfer_speed) ? INFINITY : starter->transfer_speed;
    return s;
}

static double default_of(const struct sag_tables *tables, const char *quantity)
{
    return sag_ask_starter_default(tables, quantity).value;
}

/* The windings in a wye see 1/sqrt3 of the volts, and the line a third of the amps. */
static void wye_delta(const struct sag_tables *tables, const struct sag_starter *starter,
                      const struct sag_grid_motor *motor, struct stages *out)
{
    (void)motor;
    double share = 1 / sqrt(3.0);
    struct stage wye = first_stage(starter), gap = last_stage();
    wye.front.volts_share = wye.front.amps_share = wye.winding_share = share;
    gap.open = true;
    gap.until_time = default_of(tables, "open_transition_time"); /* from the end of the wye */
    *out = (struct stages){{wye, gap, last_stage()}, 3};
}

static void autotransformer(const struct sag_tables *tables, const struct sag_starter *starter,
                            const struct sag_grid_motor *motor, struct stages *out)
{
    (void)tables;
    (void)motor;
    struct stage tap = first_stage(starter);
    tap.front.volts_share = tap.front.amps_share = starter->setting;
    *out = (struct stages){{tap, last_stage()}, 2};
}

static void part_winding(const struct sag_tables *tables, const struct sag_starter *starter,
                         const struct sag_grid_motor *motor, struct stages *out)
{
    (void)motor;
    struct stage half = first_stage(starter);
    half.front.amps_share = default_of(tables, "part_winding_amps");
    half.front.torque_share = default_of(tables, "part_winding_torque");
    *out = (struct stages){{half, last_stage()}, 2};
}

/* What a resistor or a reactor must be for the set share of volts at standstill. */
static void series_element(const struct sag_starter *starter, const struct sag_grid_motor *motor, bool resistor,
                           struct stages *out)
{
    struct stage first = first_stage(starter);
    const struct sag_feed rated = {starter->setting, motor->hz_share, 0};
    struct sag_guess guess = {.amps = 6 * starter->setting};
    struct sag_response r;
    sag_circuit_from(&motor->machine, &rated, 1, &guess, &r);
    double complex z = motor->base.ohms / CMPLX(r.conductance, r.susceptance);
    double whole = cabs(z) / starter->setting;
    double along = resistor ? creal(z) : cimag(z), across = resistor ? cimag(z) : creal(z);
    double ohms = sqrt(fmax(whole * whole - across * across, 0)) - along;
    if (resistor)
        first.front.series_r = ohms;
    else
        first.front.series_x = ohms;
    *out = (struct stages){{first, last_stage()}, 2};
}

static void resistor(const struct sag_tables *tables, const struct sag_starter *starter,
                     const struct sag_grid_motor *motor, struct stages *out)
{
    (void)tables;
    series_element(starter, motor, true, out);
}

static void reactor(const struct sag_tables *tables, const struct sag_starter *starter,
                    const struct sag_grid_motor *motor, struct stages *out)
{
    (void)tables;
    series_element(starter, motor, false, out);
}

static void soft(const struct sag_tables *tables, const struct sag_starter *starter, const struct sag_grid_motor *motor,
                 struct stages *out)
{
    struct stage ramp = last_stage();
    ramp.front.most_amps = starter->setting * motor->base.amps;
    ramp.ramp_from = default_of(tables, "soft_first_volts");
    ramp.ramp_time = starter->ramp_time;
    ramp.controls = true;
    *out = (struct stages){{ramp, last_stage()}, 2};
}

/* A drive holds its amps while it ramps; then it takes what the load needs. */
static void drive(const struct sag_tables *tables, const struct sag_starter *starter,
                  const struct sag_grid_motor *motor, struct stages *out)
{
    (void)tables;
    (void)motor;
    struct stage ramp = last_stage();
    ramp.until_time = starter->ramp_time;
    *out = (struct stages){{ramp, last_stage()}, 2};
}

static void across(const struct sag_tables *tables, const struct sag_starter *starter,
                   const struct sag_grid_motor *motor, struct stages *out)
{
    (void)tables;
    (void)starter;
    (void)motor;
    *out = (struct stages){{last_stage()}, 1};
}

/* ORDER STARTING. A method: how its stages are built, what its setting means when blank, whether it changes over. */
static const struct method {
    void (*build)(const struct sag_tables *, const struct sag_starter *, const struct sag_grid_motor *,
                  struct stages *);
    const char *setting; /* row of starter_defaults; NULL: no setting */
    const char *ramp;    /* row of starter_defaults; NULL: no ramp */
    bool changes_over;
    bool setting_is_speed; /* the setting is the speed at which it changes over */
} methods[] = {
    [SAG_STARTING_BLANK] = {across, NULL, NULL, false, false},
    [SAG_STARTING_ACROSS] = {across, NULL, NULL, false, false},
    [SAG_STARTING_WYE_DELTA] = {wye_delta, NULL, NULL, true, true},
    [SAG_STARTING_AUTOTRANSFORMER] = {autotransformer, "autotransformer_tap", NULL, true, false},
    [SAG_STARTING_PART_WINDING] = {part_winding, NULL, NULL, true, true},
    [SAG_STARTING_RESISTOR] = {resistor, "resistor_tap", NULL, true, false},
    [SAG_STARTING_REACTOR] = {reactor, "reactor_tap", NULL, true, false},
    [SAG_STARTING_SOFT] = {soft, "soft_current_limit", "soft_ramp_time", false, false},
    [SAG_STARTING_DRIVE] = {drive, "drive_amps", "drive_ramp_time", false, false},
};

struct sag_starter sag_starter_of(const struct sag_tables *tables, const struct sag_plate *plate)
{
    const struct method *m = &methods[plate->choice[SAG_STARTING]];
    double setting = plate->given[SAG_START_SETTING];
    struct sag_starter s = {
        .method = (enum sag_starting)plate->choice[SAG_STARTING],
        .setting = m->setting ? setting : NAN,
        .transfer_time = m->changes_over ? plate->given[SAG_TRANSFER_TIME] : NAN,
        .transfer_speed = m->setting_is_speed ? setting : NAN,
        .ramp_time = m->ramp ? plate->given[SAG_RAMP_TIME] : NAN,
    };
    if (m->setting && isnan(setting)) {
        s.setting = default_of(tables, m->setting);
        s.assumed = true;
    }
    if (m->changes_over && isnan(s.transfer_time) && isnan(s.transfer_speed)) {
        s.transfer_speed = default_of(tables, "transfer_speed");
        s.assumed = true;
    }
    if (m->ramp && isnan(s.ramp_time)) {
        s.ramp_time = default_of(tables, m->ramp);
        s.assumed = true;
    }
    return s;
}

void stages_of(const struct sag_tables *tables, const struct sag_starter *starter, const struct sag_grid_motor *motor,
               struct stages *out)
{
    methods[starter->method].build(tables, starter, motor, out);
}

double ramp_share(const struct stage *stage, double since_closing)
{
    if (!(stage->ramp_time > 0))
        return 1;
    double done = fmin(fmax(since_closing / stage->ramp_time, 0), 1);
    return stage->ramp_from + (1 - stage->ramp_from) * done;
}
