/* Starting methods as they run: what each lets through, and when it changes over. */
#include <math.h>
#include <stdio.h>

#include "rig.h"

#define HUNDRED                                                                                                        \
    "rated_volts=460,rated_hp=100,rpm=1780,poles=4,efficiency_pct=94.5,rated_amps=118,design=B,locked_amps=690,"       \
    "load=pump,load_pct=50,load_inertia_kgm2=4,"

static void start(struct rig *rig, double x, const char *plate)
{
    rig_start(rig, 460, x / 10, x);
    rig_close(rig, rig_motor(rig, 0, plate), 0);
    rig->job.keep_trace = true;
    rig_run(rig);
}

/* The first row of the trace whose amps are nothing, or NULL. */
static const struct sag_trace_row *first_gap(const struct rig *rig)
{
    for (size_t i = 0; i < rig->run.trace_count; i++)
        if (rig->run.trace[i].amps == 0)
            return &rig->run.trace[i];
    return NULL;
}

/* From the wye to the delta, at a time: the gap lasts what the table says and carries nothing. */
static void wye_delta_at_a_time(void **state)
{
    (void)state;
    struct rig rig;
    double gap = sag_ask_starter_default(shared_tables(), "open_transition_time").value;
    start(&rig, 0.02, HUNDRED "starting=wye_delta,transfer_s=3");
    const struct sag_trace_row *row = first_gap(&rig);
    assert_non_null(row);
    check_near("opens", row->time, 3, 1e-9);
    while (row->amps == 0) {
        assert_true(row->motor_volts == 0 && row->motor_torque_nm == 0 && row->load_torque_nm > 0);
        row++;
    }
    check_near("closes", row->time, 3 + gap, 1e-9);
    assert_true(row[-1].speed < first_gap(&rig)->speed); /* it coasts */
    check_near("delta", row->motor_volts, row->board_volts, 1e-4);
    assert_true(rig_first(&rig)->runs_up);
    rig_free(&rig);
}

/* The same by speed; the blank row takes the table's. */
static void wye_delta_at_a_speed(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double speed;
        bool assumed;
    } rows[] = {{HUNDRED "starting=wye_delta,start_setting=70", 0.7, false}, {HUNDRED "starting=wye_delta", 0.9, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct rig rig;
        start(&rig, 0.02, rows[i].plate);
        assert_non_null(first_gap(&rig));
        check_near(rows[i].plate, first_gap(&rig)->speed, rows[i].speed, 1e-4);
        assert_int_equal(sag_starter_of(shared_tables(), &rig.plates[0]).assumed, rows[i].assumed);
        rig_free(&rig);
    }
}

/* The transient of an open changeover is above locked-rotor amps and below that of full volts against a full field out
   of step, twice as much; what closes before it opens has none. */
static void changeover_transient(void **state)
{
    (void)state;
    static const char *const closed[] = {HUNDRED "starting=autotransformer,start_setting=65,transfer_s=4",
                                         HUNDRED "starting=reactor,start_setting=65,transfer_s=4", HUNDRED};
    struct rig rig;
    start(&rig, 0, HUNDRED "starting=wye_delta,start_setting=95");
    double amps = rig_first(&rig)->amps_transfer;
    assert_true(amps > 690 && amps < 3 * 690);
    assert_true(rig_first(&rig)->amps_peak < 690);
    rig_free(&rig);
    for (size_t i = 0; i < sizeof closed / sizeof *closed; i++) {
        start(&rig, 0, closed[i]);
        assert_true(isnan(rig_first(&rig)->amps_transfer));
        rig_free(&rig);
    }
}

/* On a source without impedance: line amps are the square of the tap before, the whole after, at one speed. */
static void autotransformer_changes_over(void **state)
{
    (void)state;
    const double tap = 0.65;
    struct rig rig;
    rig_start(&rig, 460, 0, 0);
    rig_close(&rig, rig_motor(&rig, 0, HUNDRED "starting=autotransformer,start_setting=65,transfer_s=1"), 0);
    rig_make_linear(&rig.motors[0]);
    rig.job.keep_trace = true;
    rig_run(&rig);
    const struct sag_trace_row *row = rig.run.trace;
    while (row[1].time > row->time) /* two rows of one time are the two sides of a changeover */
        row++;
    const struct sag_trace_row *after = row + 1;
    check_near("at its time", after->time, 1, 1e-9);
    check_near("volts before", row->motor_volts, tap * 460, 1e-4);
    check_near("volts after", after->motor_volts, 460, 1e-4);
    check_near("at one speed", after->speed, row->speed, 0);
    check_percent("amps", row->amps / after->amps, tap * tap, 1e-3);
    rig_free(&rig);
}

/* Heat goes with the motor's own amps, which are more than the line's behind a tap. */
static void heat_is_that_of_the_motor(void **state)
{
    (void)state;
    const double tap = 0.5, change = 2;
    struct rig rig;
    start(&rig, 0.02, HUNDRED "starting=autotransformer,start_setting=50,transfer_s=2");
    const struct sag_started *s = rig_first(&rig);
    double heat = 0, last = 0;
    assert_true(s->time_to_speed > change + 0.1);
    for (size_t i = 0; i < rig.run.trace_count && rig.run.trace[i].time <= s->time_to_speed; i++) {
        const struct sag_trace_row *row = &rig.run.trace[i];
        double now = pow(row->amps / (row->time < change - 1e-9 ? tap : 1) / 690, 2);
        heat += i ? 0.5 * (now + last) * (row->time - row[-1].time) : 0;
        last = now;
    }
    check_percent("heat", s->heat_used, heat, 3); /* the last piece of the way is not in the sum */
    rig_free(&rig);
}

/* Too little torque behind the tap, so it stands there: two seconds more at the tap are two seconds' heat of standing
   amps and nothing else, however long the steps are. So it is with energy. */
#define LOADED                                                                                                         \
    "rated_volts=460,rated_hp=100,rpm=1780,poles=4,efficiency_pct=94.5,rated_amps=118,design=B,locked_amps=690,"       \
    "load=constant,load_pct=90,load_inertia_kgm2=4,starting=autotransformer,start_setting=50,transfer_s="

static void heat_of_each_stage(void **state)
{
    (void)state;
    struct rig at_two, at_four;
    start(&at_two, 0.02, LOADED "2");
    start(&at_four, 0.02, LOADED "4");
    const struct sag_started *two = rig_first(&at_two), *four = rig_first(&at_four);
    const struct sag_trace_row *standing = &at_two.run.trace[1];
    check_near("it stands", standing->speed, 0, 1e-12);
    assert_true(two->runs_up && four->runs_up);
    check_near("the rest is the same", four->time_to_speed - two->time_to_speed, 2, 1e-6);
    double motor_amps = standing->amps / 0.5;
    check_percent("heat", four->heat_used - two->heat_used, 2 * pow(motor_amps / 690, 2), 0.01);
    assert_true(four->energy > two->energy);
    rig_free(&at_two);
    rig_free(&at_four);
}

/* A limit that is reached: amps stay at it until the motor lets go of it, never above. */
static void soft_holds_its_limit(void **state)
{
    (void)state;
    static const double reactances[] = {0, 0.03, 0.1};
    for (size_t i = 0; i < sizeof reactances / sizeof *reactances; i++) {
        struct rig rig;
        double most = 0, limit = 3.5, at_limit = 0;
        start(&rig, reactances[i], HUNDRED "starting=soft,start_setting=350,ramp_s=4");
        limit *= rig.motors[0].base.amps;
        for (size_t k = 0; k < rig.run.trace_count; k++) {
            most = fmax(most, rig.run.trace[k].amps);
            at_limit += fabs(rig.run.trace[k].amps - limit) < 1e-3 * limit;
        }
        check_percent("never above", most, limit, 0.1);
        assert_true(at_limit > 10);
        assert_true(rig_first(&rig)->runs_up);
        check_near("all volts in the end", rig_last(&rig, 0)->motor_volts, rig_last(&rig, 0)->board_volts, 0.01);
        rig_free(&rig);
    }
}

/* A limit that is not reached leaves the ramp: a straight line of volts from the table's share to all. */
static void soft_ramps(void **state)
{
    (void)state;
    struct rig rig;
    const double ramp = 6;
    double from = sag_ask_starter_default(shared_tables(), "soft_first_volts").value;
    start(&rig, 0, HUNDRED "starting=soft,start_setting=800,ramp_s=6");
    for (size_t i = 0; i < rig.run.trace_count; i++) {
        const struct sag_trace_row *row = &rig.run.trace[i];
        double share = from + (1 - from) * fmin(row->time / ramp, 1);
        check_near("volts", row->motor_volts / 460, share, 1e-4);
    }
    assert_true(rig.run.end_time >= ramp);
    rig_free(&rig);
}

/* With saturation too a resistor or a reactor gives the volts it was set for, at standstill and rated line volts. */
static void series_elements_give_their_volts(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        double share;
    } rows[] = {
        {HUNDRED "starting=resistor,start_setting=80,transfer_s=2", 0.8},
        {HUNDRED "starting=resistor,start_setting=65,transfer_s=2", 0.65},
        {HUNDRED "starting=reactor,start_setting=80,transfer_s=2", 0.8},
        {HUNDRED "starting=reactor,start_setting=50,transfer_s=2", 0.5},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct rig rig;
        start(&rig, 0, rows[i].plate);
        const struct sag_trace_row *row = rig.run.trace;
        check_near(rows[i].plate, row->motor_volts / 460, rows[i].share, 1e-3);
        assert_true(row[5].motor_volts >= row->motor_volts); /* it rises as amps fall */
        rig_free(&rig);
    }
}

/* A drive draws its stated amps at most while it ramps. */
static void drive_has_no_inrush(void **state)
{
    (void)state;
    struct rig rig;
    start(&rig, 0.06, HUNDRED "starting=drive,start_setting=120,ramp_s=8");
    const struct sag_started *s = rig_first(&rig);
    assert_true(s->driven && s->computed && s->runs_up);
    check_percent("amps", s->amps_peak, 1.2 * rig.motors[0].base.amps, 0.1);
    check_near("time", s->time_to_speed, 8, 1e-9);
    assert_true(isnan(s->heat_used) && isnan(s->amps_transfer));
    double across = sqrt(3.0) * 0.06 * s->amps_peak; /* all of it reactive would be the most */
    assert_true(s->volts_lowest > 460 - 1.05 * across && s->volts_lowest < 460 - 0.1 * across);
    rig_free(&rig);
}

/* The same motor in a hurry and with care: peak amps, dips and times are in the order that everyone expects. */
static void methods_compare(void **state)
{
    (void)state;
    static const char *const plates[] = {HUNDRED, HUNDRED "starting=reactor,start_setting=80",
                                         HUNDRED "starting=autotransformer,start_setting=80",
                                         HUNDRED "starting=autotransformer,start_setting=65"};
    struct sag_started s[4];
    for (size_t i = 0; i < 4; i++) {
        struct rig rig;
        start(&rig, 0.06, plates[i]);
        s[i] = *rig_first(&rig);
        rig_free(&rig);
        assert_true(s[i].runs_up);
        if (i == 0)
            continue;
        assert_true(s[i].volts_closing > s[i - 1].volts_closing);
        assert_true(s[i].time_to_speed > s[0].time_to_speed);
    }
}

TEST_LIST(starters, cmocka_unit_test(wye_delta_at_a_time), cmocka_unit_test(wye_delta_at_a_speed),
          cmocka_unit_test(changeover_transient), cmocka_unit_test(autotransformer_changes_over),
          cmocka_unit_test(heat_is_that_of_the_motor), cmocka_unit_test(heat_of_each_stage),
          cmocka_unit_test(soft_holds_its_limit), cmocka_unit_test(soft_ramps),
          cmocka_unit_test(series_elements_give_their_volts), cmocka_unit_test(drive_has_no_inrush),
          cmocka_unit_test(methods_compare))
