/* What a completed motor says besides its facts: connection, refusals, design, and facts held at a value. */
#include "read_help.h"

static void line_or_neutral(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        double volts_ll;
        bool neutral;
        double volts;
        bool line_to_neutral;
    } rows[] = {
        {"115 V on 208Y", "rated_volts=115,rated_hp=0.5,phases=1", 208, true, 115, true},
        {"115 V on 208 V without neutral", "rated_volts=115,rated_hp=0.5,phases=1", 208, false, 115, false},
        {"230 V on 208Y", "rated_volts=230,rated_hp=1,phases=1", 208, true, 230, false},
        {"277 V on 480Y", "rated_volts=277,rated_hp=1,phases=1", 480, true, 277, true},
        {"115 V on the leg of 240 V", "rated_volts=115,rated_hp=0.5,phases=1", 240, true, 115, true},
        {"115 V on 240 V without neutral", "rated_volts=115,rated_hp=0.5,phases=1", 240, false, 115, false},
        {"115/230 V on 208Y", "rated_volts=115/230,rated_hp=1,phases=1", 208, true, 115, true},
        {"115/230 V on 240 V", "rated_volts=115/230,rated_hp=1,phases=1", 240, true, 230, false},
        {"115/208-230 V on 208Y", "rated_volts=115/208-230,rated_hp=1,phases=1", 208, true, 208, false},
        {"three phases never", "rated_volts=120,rated_hp=1", 208, true, 120, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, rows[i].volts_ll, &list, &motor);
        struct sag_connection connection = {rows[i].volts_ll, 60,
                                            !rows[i].neutral          ? 0
                                            : rows[i].volts_ll == 240 ? 0.5
                                                                      : 1 / sqrt(3)};
        sag_complete_motor(shared_tables(), &list.plates[0], &connection, &motor);
        check_near(rows[i].name, motor.fact[SAG_RATED_VOLTS].value, rows[i].volts, 0);
        if (motor.line_to_neutral != rows[i].line_to_neutral)
            fail_msg("%s: line to neutral is %d", rows[i].name, motor.line_to_neutral);
        check_near(rows[i].name, sag_phase_factor(&motor), motor.fact[SAG_PHASES].value == 3 ? sqrt(3) : 1, 0);
        sag_motor_list_free(&list);
    }
}

static void flags(void **state)
{
    (void)state;
    static const struct {
        const char *plate;
        bool speed_refused, iec;
        char design;
    } rows[] = {
        {"rated_volts=460,rated_hp=75", false, false, 'B'},
        {"rated_volts=460,rated_hp=75,design=D", false, false, 'D'},
        {"rated_volts=460,rated_hp=75,design=N", false, true, 'N'},
        {"rated_volts=460,rated_hp=75,design=H", false, true, 'H'},
        {"rated_volts=400,rated_hp=75,hz=50", false, true, 'N'},
        {"rated_volts=400,rated_hp=75,hz=50,design=B", false, true, 'B'},
        {"rated_volts=400,rated_hp=75", false, false, 'B'},
        {"rated_volts=460,rated_hp=75,rotor=wound", false, false, 0},
        {"rated_volts=230,rated_hp=2,phases=1", false, false, 0},
        {"rated_volts=460,rated_hp=75,poles=4,rpm=1800", true, false, 'B'},
        {"rated_volts=460,rated_hp=75,poles=4,rpm=1850", true, false, 'B'},
        {"rated_volts=460,rated_hp=75,poles=4,rpm=1799", false, false, 'B'},
        {"rated_volts=460,rated_hp=75,rpm=3600", true, false, 'B'},
        {"rated_volts=460,rated_hp=75,rpm=1800", true, false, 'B'},
        {"rated_volts=400,rated_hp=75,rpm=1460", false, true, 'N'},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, 480, &list, &motor);
        if (motor.speed_refused != rows[i].speed_refused || motor.iec != rows[i].iec || motor.design != rows[i].design)
            fail_msg("%s: speed refused %d, iec %d, design %c", rows[i].plate, motor.speed_refused, motor.iec,
                     motor.design ? motor.design : '-');
        sag_motor_list_free(&list);
    }
}

static void loads(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_motor motor;
    complete_typed("rated_volts=460,rated_hp=75,load=pump", 480, &list, &motor);
    check_near("pump, breakaway", motor.load.breakaway, 0.15, 0);
    check_near("pump, exponent", motor.load.exponent, 2, 0);
    sag_motor_list_free(&list);
    complete_typed("rated_volts=460,rated_hp=75", 480, &list, &motor);
    check_near("blank: constant torque", motor.load.t0, 1, 0);
    sag_motor_list_free(&list);
    complete_typed("rated_volts=460,rated_hp=75,load=none", 480, &list, &motor);
    check_near("none", motor.fact[SAG_LOAD_SHARE].value, 0, 0);
    sag_motor_list_free(&list);
}

static uint64_t bit(enum sag_fact fact)
{
    return (uint64_t)1 << fact;
}

/* Of what the checks rest on, exactly these are not known. */
static void assumed_bits(void **state)
{
    (void)state;
    const struct {
        const char *plate;
        uint64_t bits;
    } rows[] = {
        {"rated_volts=460,rated_hp=50,hz=60,rpm=1775,poles=4,efficiency_pct=94.5,power_factor=0.86,locked_amps=363,"
         "locked_torque_pct=150,breakdown_torque_pct=220,rise_c=80,saturation=low",
         0},
        {"rated_volts=440,rated_hp=75,rpm=1770,rated_amps=95,code_letter=G,rise_c=40,saturation=low,year=1958",
         bit(SAG_EFFICIENCY) | bit(SAG_POWER_FACTOR) | bit(SAG_LOCKED_AMPS) | bit(SAG_LOCKED_TORQUE) |
             bit(SAG_BREAKDOWN_TORQUE)},
        {"rated_volts=400,rated_kw=7.5,poles=4,efficiency_pct=90,power_factor=0.83,locked_amps=106,"
         "locked_torque_pct=210,breakdown_torque_pct=290,rise_c=80,saturation=low",
         bit(SAG_HZ) | bit(SAG_SLIP)},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, 480, &list, &motor);
        uint64_t got = motor.assumed & sag_check_facts();
        if (got != rows[i].bits)
            fail_msg("%s: bits %llx, wanted %llx", rows[i].plate, (unsigned long long)got,
                     (unsigned long long)rows[i].bits);
        sag_motor_list_free(&list);
    }
}

static void held_as_if_on_the_plate(void **state)
{
    (void)state;
    static const struct {
        const char *name, *plate;
        enum sag_fact held;
        double at;
        enum sag_fact seen; /* a fact that follows */
        double value;
    } rows[] = {
        {"efficiency", "rated_volts=460,rated_hp=75,power_factor=0.86", SAG_EFFICIENCY, 0.95, SAG_COMPUTED_AMPS,
         85.9527},
        {"power factor", "rated_volts=460,rated_hp=75,efficiency_pct=94.1", SAG_POWER_FACTOR, 0.8, SAG_COMPUTED_AMPS,
         93.2829},
        {"locked kVA", "rated_volts=440,rated_hp=75,code_letter=G", SAG_LOCKED_KVA, 6.3, SAG_LOCKED_AMPS, 619.995},
        {"slip", "rated_volts=460,rated_hp=75,poles=4", SAG_SLIP, 0.02, SAG_RPM, 1764},
        {"hz", "rated_volts=400,rated_hp=75,poles=4", SAG_HZ, 50, SAG_SYNC_RPM, 1500},
        {"rotor inertia", "rated_volts=460,rated_hp=75,load=fan", SAG_ROTOR_INERTIA, 1, SAG_LOAD_INERTIA, 10},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_motor motor;
        complete_typed(rows[i].plate, 480, &list, &motor);
        struct sag_connection connection = {480, 60, true};
        sag_complete_motor_with(shared_tables(), &list.plates[0], &connection, rows[i].held, rows[i].at, &motor);
        const struct sag_qty *held = &motor.fact[rows[i].held];
        check_near(rows[i].name, held->value, rows[i].at, 0);
        check_near(rows[i].name, held->high - held->low, 0, 0);
        assert_int_equal(held->origin, SAG_NAMEPLATE);
        assert_int_equal(motor.assumed & bit(rows[i].held), 0);
        check_percent(rows[i].name, motor.fact[rows[i].seen].value, rows[i].value, 0.001);
        sag_motor_list_free(&list);
    }
}

/* A held frequency decides by which rules the motor is judged. */
static void held_hz_makes_it_iec(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_motor motor;
    struct sag_connection connection = {480, 60, true};
    complete_typed("rated_volts=400,rated_kw=7.5", 480, &list, &motor);
    assert_false(motor.iec);
    sag_complete_motor_with(shared_tables(), &list.plates[0], &connection, SAG_HZ, 50, &motor);
    assert_true(motor.iec);
    assert_int_equal(motor.design, 'N');
    sag_motor_list_free(&list);
}

TEST_LIST(complete_flags, cmocka_unit_test(line_or_neutral), cmocka_unit_test(flags), cmocka_unit_test(loads),
          cmocka_unit_test(assumed_bits), cmocka_unit_test(held_as_if_on_the_plate),
          cmocka_unit_test(held_hz_makes_it_iec))
