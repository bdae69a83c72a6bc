/* Verdicts at the edges of each limit. */
#include "judge/parts.h"
#include "judge_help.h"

#define OK      SAG_VERDICT_OK
#define WATCH   SAG_VERDICT_WATCH
#define FAIL    SAG_VERDICT_FAIL
#define UNKNOWN SAG_VERDICT_UNKNOWN

static void verdicts(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double value, low, high;
        enum side side;
        bool advisory;
        enum sag_verdict verdict;
    } rows[] = {
        {"inside", 107, 107, 107, AT_MOST, false, OK},
        {"on the watch point", 108, 108, 108, AT_MOST, false, OK},
        {"over it", 108.1, 108.1, 108.1, AT_MOST, false, WATCH},
        {"on the limit", 110, 110, 110, AT_MOST, false, WATCH},
        {"over the limit", 110.001, 110.001, 110.001, AT_MOST, false, FAIL},
        {"rounding of a double", 110 + 1e-13, 110 + 1e-13, 110 + 1e-13, AT_MOST, false, WATCH},
        {"bounds on both sides", 105, 100, 120, AT_MOST, false, UNKNOWN},
        {"value over, one bound inside", 112, 109, 115, AT_MOST, false, UNKNOWN},
        {"bounds inside", 105, 100, 110, AT_MOST, false, OK},
        {"bounds outside", 115, 111, 120, AT_MOST, false, FAIL},
        {"advisory", 120, 120, 120, AT_MOST, true, WATCH},
        {"advisory, bounds on both sides", 105, 100, 120, AT_MOST, true, WATCH},
        {"at least, inside", 112, 112, 112, AT_LEAST, false, OK},
        {"at least, short of the watch point", 111.9, 111.9, 111.9, AT_LEAST, false, WATCH},
        {"at least, below the limit", 109.9, 109.9, 109.9, AT_LEAST, false, FAIL},
        {"at least, bounds on both sides", 111, 109, 113, AT_LEAST, false, UNKNOWN},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_measure m = {.value = sag_between(rows[i].value, rows[i].low, rows[i].high, SAG_TABLE),
                                .limit = 110,
                                .watch = rows[i].side == AT_MOST ? 108 : 112,
                                .side = rows[i].side,
                                .advisory = rows[i].advisory};
        check_verdict(rows[i].name, verdict_of(&m), rows[i].verdict);
    }
}

#define P440 "rated_volts=440,rated_hp=75,rpm=1770,efficiency_pct=93,power_factor=0.86,code_letter=G"
#define P460 "rated_volts=460,rated_hp=50,rpm=1775,efficiency_pct=94.5,power_factor=0.86,code_letter=G"
#define N400 "rated_volts=400,rated_kw=7.5,hz=50,rpm=1465,efficiency_pct=90.4,power_factor=0.83,design=N"

struct volts_row {
    const char *name, *plate;
    double volts, hz;
    enum sag_verdict verdict;
};

static void check_bands(const struct volts_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct judged j;
        judge_typed(rows[i].plate, &(struct sag_typed_volts){{rows[i].volts}, 1, rows[i].hz}, &j);
        check_verdict(rows[i].name, j.result->of[SAG_CASE_NOMINAL].band_verdict, rows[i].verdict);
        judged_free(&j);
    }
}

static void band_of_nema(void **state)
{
    (void)state;
    static const struct volts_row rows[] = {
        {"440 V at 110 %", P440, 484, 60, WATCH},
        {"440 V over 110 %", P440, 484.1, 60, FAIL},
        {"440 V with margin", P440, 475.2, 60, OK},
        {"440 V without", P440, 475.3, 60, WATCH},
        {"440 V at 90 %", P440, 396, 60, WATCH},
        {"440 V below 90 %", P440, 395.9, 60, FAIL},
        {"440 V, margin to the low edge", P440, 404.8, 60, OK},
        {"440 V at 62 Hz, both together 10 %", P440, 440 * (1.1 - 2.0 / 60) - 0.1, 62, WATCH},
        {"440 V at 62 Hz, over", P440, 440 * (1.1 - 2.0 / 60) + 0.1, 62, FAIL},
        {"440 V at 58 Hz, under", P440, 440 * (0.9 + 2.0 / 60) - 0.1, 58, FAIL},
        {"440 V at 50 Hz by flux", P440, 440 * 50.0 / 60, 50, OK},
        {"440 V at 50 Hz, over", P440, 440 * 50.0 / 60 * 1.1 + 0.1, 50, FAIL},
    };
    check_bands(rows, COUNT(rows));
}

static void band_of_iec(void **state)
{
    (void)state;
    static const struct volts_row rows[] = {
        {"zone A, high", N400, 420, 50, OK},
        {"zone B, high", N400, 420.1, 50, WATCH},
        {"edge of zone B", N400, 440, 50, WATCH},
        {"outside, high", N400, 440.1, 50, FAIL},
        {"zone A, low", N400, 380, 50, OK},
        {"zone B, low", N400, 379.9, 50, WATCH},
        {"outside, low", N400, 359.9, 50, FAIL},
        {"50 Hz plate on 60 Hz, by flux", N400, 480, 60, OK},
        {"50 Hz plate on 60 Hz, zone B", N400, 504.1, 60, WATCH},
        {"50 Hz plate on 60 Hz, outside", N400, 528.1, 60, FAIL},
        {"its own volts on 60 Hz", N400, 400, 60, FAIL},
    };
    check_bands(rows, COUNT(rows));
}

struct finding_row {
    const char *name, *plate;
    struct sag_typed_volts typed;
    const char *check;
    enum sag_case which;
    enum sag_verdict verdict;
    double value, limit; /* 0: not looked at */
};

static void check_findings(const struct finding_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct finding_row *row = &rows[i];
        struct judged j;
        judge_typed(row->plate, &row->typed, &j);
        const struct sag_finding *f = finding_of(&j, row->check, row->which);
        check_verdict(row->name, verdict_in(&j, row->check, row->which), row->verdict);
        if (f && row->value > 0)
            check_percent(row->name, f->value.value, row->value, 0.1);
        if (f && row->limit > 0)
            check_percent(row->name, f->limit, row->limit, 1e-6);
        if (f && !*f->source)
            fail_msg("%s: the limit has no source", row->name);
        judged_free(&j);
    }
}

/* A limit that no table could give has passed nothing. */
static void no_limit_is_unknown(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        enum side side;
        bool advisory;
    } rows[] = {{"at most", AT_MOST, false}, {"at least", AT_LEAST, false}, {"advisory", AT_MOST, true}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_measure m = {.value = sag_exact(100, SAG_COMPUTED),
                                .limit = NAN,
                                .watch = NAN,
                                .side = rows[i].side,
                                .advisory = rows[i].advisory};
        check_verdict(rows[i].name, verdict_of(&m), UNKNOWN);
    }
}

/* The everyday fault: a motor made for 440 V on a 480 V system. */
static void volts_and_hertz(void **state)
{
    (void)state;
    static const struct finding_row rows[] = {
        {"440 on 480", P440, {{480}, 1, 0}, "band_high", SAG_CASE_NOMINAL, WATCH, 109.09, 110},
        {"440 on 480, high", P440, {{480}, 1, 0}, "band_high", SAG_CASE_HIGH, FAIL, 114.55, 110},
        {"440 on 480, low", P440, {{480}, 1, 0}, "band_low", SAG_CASE_LOW, OK, 0, 0},
        {"460 on 480, high", P460, {{480}, 1, 0}, "band_high", SAG_CASE_HIGH, WATCH, 109.57, 110},
        {"flux, high", P440, {{480}, 1, 0}, "flux", SAG_CASE_HIGH, FAIL, 114.55, 110},
        {"flux at 57 Hz", P460, {{480}, 1, 57}, "flux", SAG_CASE_NOMINAL, OK, 0, 0},
        {"flux at 57 Hz, high", P460, {{480}, 1, 57}, "flux", SAG_CASE_HIGH, FAIL, 115.33, 110},
        {"50 Hz plate: flux stays", N400, {{480}, 1, 60}, "flux", SAG_CASE_NOMINAL, OK, 0, 0},
        {"50 Hz plate: frequency", N400, {{480}, 1, 60}, "frequency", SAG_CASE_NOMINAL, WATCH, 20, 3},
        {"63 Hz", P460, {{480}, 1, 63}, "frequency", SAG_CASE_NOMINAL, OK, 0, 0},
        {"63.1 Hz", P460, {{480}, 1, 63.1}, "frequency", SAG_CASE_NOMINAL, WATCH, 5.167, 5},
        {"small unbalance", P460, {{480, 478, 479}, 3, 0}, "unbalance", SAG_CASE_MEASURED, OK, 0, 0},
        {"unbalance", P460, {{460, 467, 450}, 3, 0}, "unbalance", SAG_CASE_MEASURED, WATCH, 1.961, 5},
        {"5 %", P460, {{420, 400, 380}, 3, 0}, "unbalance", SAG_CASE_MEASURED, WATCH, 5, 5},
        {"over 5 %", P460, {{500, 475, 450}, 3, 0}, "unbalance", SAG_CASE_MEASURED, FAIL, 5.263, 5},
        {"derated", P460, {{460, 467, 450}, 3, 0}, "derated_load", SAG_CASE_MEASURED, WATCH, 105.09, 100},
        {"derated, load to spare",
         P460 ",load_pct=90",
         {{460, 467, 450}, 3, 0},
         "derated_load",
         SAG_CASE_MEASURED,
         OK,
         0,
         0},
        {"lowest pair", P440, {{400, 395, 420}, 3, 0}, "lowest_pair", SAG_CASE_MEASURED, WATCH, 89.77, 90},
        {"average in band", P440, {{400, 395, 420}, 3, 0}, "band_low", SAG_CASE_MEASURED, OK, 0, 0},
    };
    check_findings(rows, COUNT(rows));
}

/* Zone B of IEC 60034-1 ends at 103 % of rated frequency. */
static void frequency_of_iec(void **state)
{
    (void)state;
    static const struct finding_row rows[] = {
        {"51 Hz", N400, {{400}, 1, 51}, "frequency", SAG_CASE_NOMINAL, OK, 0, 0},
        {"52 Hz", N400, {{400}, 1, 52}, "frequency", SAG_CASE_NOMINAL, WATCH, 4, 3},
    };
    check_findings(rows, COUNT(rows));
}

#define PLATE SAG_CASE_COUNT
#define AT480                                                                                                          \
    {                                                                                                                  \
        {480}, 1, 0                                                                                                    \
    }

static void contradictions(void **state)
{
    (void)state;
    static const struct finding_row rows[] = {
        {"nothing wrong", P460 ",rated_amps=58", AT480, "plate_amps", PLATE, OK, 0, 0},
        {"amps of the other voltage", "rated_volts=460,rated_hp=7.5,rpm=1760,efficiency_pct=91,rated_amps=18.6", AT480,
         "plate_amps", PLATE, WATCH, 100.05, 12},
        {"amps off by less than 12 %", P460 ",rated_amps=64", AT480, "plate_amps", PLATE, OK, 0, 0},
        {"amps off by more than 12 %", P460 ",rated_amps=65", AT480, "plate_amps", PLATE, WATCH, 12.84, 12},
        {"speed over synchronous", "rated_volts=460,rated_hp=50,poles=4,rpm=1850", AT480, "plate_speed", PLATE, WATCH,
         1850, 1800},
        {"synchronous speed", "rated_volts=460,rated_hp=50,poles=4,rpm=1800", AT480, "plate_speed", PLATE, WATCH, 1800,
         1800},
        {"speed below", P460, AT480, "plate_speed", PLATE, OK, 0, 0},
        {"synchronous speed without poles", "rated_volts=460,rated_hp=50,rpm=1800", AT480, "plate_speed", PLATE, WATCH,
         1800, 1800},
        {"synchronous speed has no slip", "rated_volts=460,rated_hp=50,rpm=1800", AT480, "plate_slip", PLATE, OK, 0, 0},
        {"speed of twice the poles", "rated_volts=460,rated_hp=50,rpm=875,poles=4", AT480, "plate_slip", PLATE, WATCH,
         51.389, 8},
        {"slip of 8 %", "rated_volts=460,rated_hp=5,rpm=1656,poles=4", AT480, "plate_slip", PLATE, OK, 0, 0},
        {"slip over 8 %", "rated_volts=460,rated_hp=5,rpm=1655,poles=4", AT480, "plate_slip", PLATE, WATCH, 8.0556, 8},
        {"design D, 15 %", "rated_volts=460,rated_hp=50,rpm=1530,poles=4,design=D", AT480, "plate_slip", PLATE, OK, 0,
         0},
        {"design D, more", "rated_volts=460,rated_hp=50,rpm=1520,poles=4,design=D", AT480, "plate_slip", PLATE, WATCH,
         15.556, 15},
        {"wound rotor, 12 %", "rated_volts=460,rated_hp=50,rpm=1584,poles=4,rotor=wound", AT480, "plate_slip", PLATE,
         OK, 0, 0},
        {"typical slip is no contradiction", "rated_volts=460,rated_hp=50", AT480, "plate_slip", PLATE, OK, 0, 0},
        {"single-phase amps have no arithmetic",
         "rated_volts=115,rated_hp=0.5,phases=1,rated_amps=20",
         {{240}, 1, 0},
         "plate_amps",
         PLATE,
         OK,
         0,
         0},
        {"single-phase amps of the code",
         "rated_volts=115,rated_hp=0.5,phases=1",
         {{240}, 1, 0},
         "plate_amps",
         PLATE,
         OK,
         0,
         0},
        {"single-phase amps with arithmetic",
         "rated_volts=115,rated_hp=0.5,phases=1,efficiency_pct=62,power_factor=0.65,rated_amps=12",
         {{240}, 1, 0},
         "plate_amps",
         PLATE,
         WATCH,
         49.099,
         12},
        {"efficiency", "rated_volts=460,rated_hp=50,efficiency_pct=99.5", AT480, "plate_efficiency", PLATE, WATCH, 99.5,
         99},
        {"losses", "rated_volts=460,rated_hp=50,efficiency_pct=30,power_factor=0.9", AT480, "plate_losses", PLATE,
         WATCH, 27, 30},
        {"letter and amps", P460 ",locked_amps=500", AT480, "plate_code_letter", PLATE, WATCH, 1.6672, 0},
        {"letter and amps agree", P460 ",locked_amps=370", AT480, "plate_code_letter", PLATE, OK, 0, 0},
        {"within rounding", P460 ",locked_amps=351", AT480, "plate_code_letter", PLATE, OK, 0, 0},
    };
    check_findings(rows, COUNT(rows));
}

static void running(void **state)
{
    (void)state;
#define HOT  P460 ",insulation=B,rise_c=80,service_factor=1.0"
#define WEAK P460 ",locked_torque_pct=100,breakdown_torque_pct=150"
    static const struct finding_row rows[] = {
        {"rise at its limit", HOT, {{460}, 1, 0}, "rise", SAG_CASE_NOMINAL, OK, 0, 0},
        {"rise at low volts", HOT, {{480}, 1, 0}, "rise", SAG_CASE_LOW, WATCH, 0, 80},
        {"rise, half loaded", HOT ",load_pct=50", {{480}, 1, 0}, "rise", SAG_CASE_LOW, OK, 0, 0},
        {"torque to spare", WEAK, {{460}, 1, 0}, "pull_out", SAG_CASE_NOMINAL, OK, 0, 0},
        {"stalls at 75 %", WEAK, {{345}, 1, 0}, "pull_out", SAG_CASE_NOMINAL, FAIL, 0, 100},
        {"amps at 80 %", P460, {{368}, 1, 0}, "running_amps", SAG_CASE_NOMINAL, FAIL, 0, 115},
        {"amps of the plate, not of arithmetic",
         "rated_volts=460,rated_hp=50,rpm=1770,efficiency_pct=90,power_factor=0.84,rated_amps=50,service_factor=1.0",
         {{460}, 1, 0},
         "running_amps",
         SAG_CASE_NOMINAL,
         FAIL,
         0,
         115},
        {"arithmetic without plate amps",
         "rated_volts=460,rated_hp=50,rpm=1770,efficiency_pct=90,power_factor=0.84,service_factor=1.0",
         {{460}, 1, 0},
         "running_amps",
         SAG_CASE_NOMINAL,
         OK,
         0,
         0},
        {"amps at 80 %, half loaded", P460 ",load_pct=50", {{368}, 1, 0}, "running_amps", SAG_CASE_NOMINAL, OK, 0, 0},
    };
    check_findings(rows, COUNT(rows));
}

/* 50 hp at 460 V, 90 %, 0.84 draws 61.9 A; against a plate of 50 A that is 124 %. */
static void amps_against_the_plate(void **state)
{
    (void)state;
    struct judged j;
    judge_typed("rated_volts=460,rated_hp=50,rpm=1770,efficiency_pct=90,power_factor=0.84,rated_amps=50,"
                "service_factor=1.0",
                &(struct sag_typed_volts){{460}, 1, 0}, &j);
    const struct sag_finding *f = finding_of(&j, "running_amps", SAG_CASE_NOMINAL);
    assert_non_null(f);
    check_percent("amps", f->value.value, 100 * 37300 / (sqrt(3) * 460 * 0.9 * 0.84) / 50, 0.2);
    check_verdict("plate_amps", verdict_in(&j, "plate_amps", PLATE), WATCH);
    check_verdict("worst", j.result->worst, FAIL);
    judged_free(&j);
}

/* Nearly 7 % of unbalance: in one of the lines the two sequences may add up. */
static void worst_line_under_unbalance(void **state)
{
    (void)state;
    struct judged j;
    judge_typed(P460, &(struct sag_typed_volts){{492, 460, 428}, 3, 0}, &j);
    const struct sag_effects *e = &j.result->of[SAG_CASE_MEASURED].effects;
    const struct sag_finding *f = finding_of(&j, "running_amps", SAG_CASE_MEASURED);
    double average = e->of[SAG_EFFECT_RUNNING_AMPS].at_case.value;
    assert_non_null(f);
    assert_true(e->negative_amps.value > 0.1 * average);
    check_percent("worst line", f->value.value,
                  100 * (average + e->negative_amps.value) / j.result->motor.fact[SAG_COMPUTED_AMPS].value, 1e-9);
    check_verdict("amps", (enum sag_verdict)f->verdict, FAIL);
    check_verdict("unbalance", verdict_in(&j, "unbalance", SAG_CASE_MEASURED), FAIL);
    judged_free(&j);
    judge_typed(P460, &(struct sag_typed_volts){{460, 460, 460}, 3, 0}, &j);
    check_verdict("balanced", verdict_in(&j, "running_amps", SAG_CASE_MEASURED), OK);
    assert_false(sag_known(&j.result->of[SAG_CASE_MEASURED].effects.negative_amps));
    judged_free(&j);
}

/* A fan takes power with the cube of its speed, and 60 Hz turns it a fifth faster. */
static void load_at_another_frequency(void **state)
{
    (void)state;
    static const struct finding_row rows[] = {
        {"fan", N400 ",load=fan", {{480}, 1, 60}, "load_power", SAG_CASE_NOMINAL, WATCH, 0, 100},
        {"fan at half load", N400 ",load=fan,load_pct=50", {{480}, 1, 60}, "load_power", SAG_CASE_NOMINAL, OK, 0, 0},
        {"conveyor", N400 ",load=conveyor", {{480}, 1, 60}, "load_power", SAG_CASE_NOMINAL, WATCH, 0, 100},
        {"conveyor with service factor",
         N400 ",load=conveyor,service_factor=1.25",
         {{480}, 1, 60},
         "load_power",
         SAG_CASE_NOMINAL,
         OK,
         0,
         0},
        {"fan at its own frequency", N400 ",load=fan", {{400}, 1, 50}, "load_power", SAG_CASE_NOMINAL, OK, 0, 0},
        {"fan at a lower one", P460 ",load=fan", {{383}, 1, 50}, "load_power", SAG_CASE_NOMINAL, OK, 0, 0},
    };
    check_findings(rows, COUNT(rows));
    struct judged j;
    judge_typed(N400 ",load=fan", &(struct sag_typed_volts){{480}, 1, 60}, &j);
    const struct sag_finding *f = finding_of(&j, "load_power", SAG_CASE_NOMINAL);
    assert_non_null(f);
    double speed = j.result->of[SAG_CASE_NOMINAL].effects.of[SAG_EFFECT_SPEED].at_case.value;
    assert_true(speed > 1700 && speed < 1800);
    check_percent("cube of the speed", f->value.value, 100 * pow(speed / 1465, 3), 0.2);
    judged_free(&j);
}

TEST_LIST(judge, cmocka_unit_test(verdicts), cmocka_unit_test(no_limit_is_unknown), cmocka_unit_test(band_of_nema),
          cmocka_unit_test(band_of_iec), cmocka_unit_test(volts_and_hertz), cmocka_unit_test(frequency_of_iec),
          cmocka_unit_test(contradictions), cmocka_unit_test(running), cmocka_unit_test(amps_against_the_plate),
          cmocka_unit_test(worst_line_under_unbalance), cmocka_unit_test(load_at_another_frequency))
