/* Transformer devices against published answers, and sizes against facts of the trade, driven through the library as a
   user's list. Every row names its source; "computed" beside it: our own arithmetic from the tables of NFPA 70. */
#include "unit/size_help.h"

static const struct size_asked plain = {0};

/* --- transformers --------------------------------------------------------------------------------------------------
 */

#define ON_TRANSFORMER(kva, primary, secondary)                                                                        \
    "U,,utility," primary "\nT,U,transformer,," kva ",3," primary "," secondary "\nB,T,cable,,,,,,30,2,cu\n"
#define SMALL_MOTOR "tag,feeder,rated_volts,rated_hp\nm,B,200,1\n"

static void transformers(void **state)
{
    (void)state;
    static const struct {
        const char *name, *supply, *motors;
        double rated[SAG_WINDINGS], device[SAG_WINDINGS];
    } rows[] = {
        /* state exam, items PE14-19 and PE12-21: 69.3 A there (1.732), 86.62 A, 90 A; 208.18 A. Primary: computed */
        {"25 kVA", ON_TRANSFORMER("25", "480", "208"), SMALL_MOTOR, {30.07033, 69.39307}, {40, 90}},
        {"75 kVA", ON_TRANSFORMER("75", "480", "208"), SMALL_MOTOR, {90.21098, 208.17920}, {125, 300}},
        /* common practice, no source: one size, 50 A at 480 V and 100 A at 208 V, of which the code allows 110 A */
        {"30 kVA", ON_TRANSFORMER("30", "480", "208"), SMALL_MOTOR, {36.08439, 83.27168}, {50, 110}},
        /* the same unit turned round: the primary is now the side with more amps */
        {"30 kVA up",
         ON_TRANSFORMER("30", "208", "480"),
         "tag,feeder,rated_volts,rated_hp\nm,B,460,1\n",
         {83.27168, 36.08439},
         {110, 50}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct size_plant p;
        size_open(&p, rows[i].supply, rows[i].motors, &plain);
        const struct sag_transformer_size *t = size_transformer_of(&p, "T");
        assert_true(t->sized);
        for (int w = 0; w < SAG_WINDINGS; w++) {
            check_amps(rows[i].name, t->rated_amps[w].value, rows[i].rated[w]);
            check_amps(rows[i].name, t->computed[w].value, 1.25 * rows[i].rated[w]);
            check_amps(rows[i].name, t->device[w].value, rows[i].device[w]);
        }
        assert_int_equal(t->rated_amps[SAG_SECONDARY].value > t->rated_amps[SAG_PRIMARY].value,
                         t->volts[SAG_SECONDARY] < t->volts[SAG_PRIMARY]); /* more amps on its low side */
        size_free(&p);
    }
}

/* Common practice, no source: 100 A on the secondary of 30 kVA stands between its rated amps and what 450.3(B) allows,
   and is a standard rating. */
static void hundred_amps_on_30_kva(void **state)
{
    (void)state;
    struct size_plant p;
    size_open(&p, ON_TRANSFORMER("30", "480", "208"), SMALL_MOTOR, &plain);
    const struct sag_transformer_size *t = size_transformer_of(&p, "T");
    assert_true(t->rated_amps[SAG_SECONDARY].value < 100 && 100 < t->device[SAG_SECONDARY].value);
    check_amps("standard", sag_ask_rating_up(shared_tables(), 100, false), 100);
    size_free(&p);
}

/* Common practice, no source: the code table is above the plate. Wire and device go by it, the overload by the plate.
 */
static void code_amps_against_plate(void **state)
{
    (void)state;
    struct size_plant p;
    const struct sag_motor_size *m =
        size_plate(&p, "rated_volts=460,rated_hp=100,rated_amps=119,service_factor=1.15", &plain);
    check_amps("code", m->code_amps.value, 124);
    check_amps("wire", m->conductor_min.value, 155);
    check_amps("device", m->device[BREAKER].computed.value, 310);
    check_amps("overload", m->overload.value, 148.75);
    size_free(&p);
    m = size_plate(&p, "rated_volts=460,rated_hp=100,efficiency_pct=93.6,power_factor=0.84,service_factor=1.15",
                   &plain);
    check_near("about 119 A by its own figures", m->plate_amps.value, 119, 0.5);
    size_free(&p);
}

TEST_LIST(protect_trade, cmocka_unit_test(transformers), cmocka_unit_test(hundred_amps_on_30_kva),
          cmocka_unit_test(code_amps_against_plate))
