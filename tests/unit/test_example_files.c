/* The files of motordata/, read as a user would; and a plate typed on the spot. Paths are from the root of the tree. */
#include "read_help.h"

static enum sag_status read_motors(const char *path, struct sag_motor_list *list, struct sag_diags *diags)
{
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("%s: not found; run the tests from the root of the tree", path);
    struct sag_input input = {.name = path, .file = file};
    enum sag_status status = sag_read_motors(&input, shared_tables(), NULL, list, diags);
    fclose(file);
    return status;
}

#define NO_SIZES                                                                                                       \
    "1:19 N branch_length_m: ignored; without a column branch_conductor the motors' own cables are left out\n"

static void good_files(void **state)
{
    (void)state;
    static const struct {
        const char *path;
        size_t count;
        const char *tag;
        double volts, watts;
        const char *note, *diags;
    } rows[] = {
        {"motordata/examples/european.csv", 5, "KRAN-5", 380, 5500, "Schild auf 380 V; \"alt\"", NO_SIZES},
        {"motordata/examples/spreadsheet.csv", 5, "SUMP", 460, 2238, "", ""},
        {"motordata/examples/fifty-hertz.csv", 7, "M-60-3", 440, 5500, "60 Hz plate at 440 V", ""},
        {"motordata/examples/one-motor.csv", 1, "P-1", 460, 29840, "circulating pump", ""},
        {"motordata/cawdry-flats/motors.csv", 28, "GRIND", 208, 746, "double grinder; line to line", ""},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        enum sag_status status = read_motors(rows[i].path, &list, &diags);
        check_diags(rows[i].path, &diags, rows[i].diags);
        assert_int_equal(status, SAG_OK);
        assert_int_equal(list.count, rows[i].count);
        const struct sag_plate *last = &list.plates[list.count - 1];
        check_text(rows[i].path, last->tag, rows[i].tag);
        check_text(rows[i].path, last->note, rows[i].note);
        check_near(rows[i].path, last->volts_options[0], rows[i].volts, 0);
        check_near(rows[i].path, last->given[SAG_RATED_POWER], rows[i].watts, 1e-9);
        sag_motor_list_free(&list);
    }
}

static void decimal_commas(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    read_motors("motordata/examples/european.csv", &list, &diags);
    check_diags("european", &diags, NO_SIZES);
    check_text("tag", list.plates[1].tag,
               "L\xC3\x9C"
               "FTER-2");
    check_near("18,5 kW", list.plates[0].given[SAG_RATED_POWER], 18500, 1e-9);
    check_near("92,6 %", list.plates[0].given[SAG_EFFICIENCY], 0.926, 1e-12);
    check_near("second voltage", list.plates[2].volts_options[1], 400, 0);
    check_text("note over two lines", list.plates[2].note, "els\xC5\x91 emelet\n\xC3\xBAjratekercselve 2019");
    assert_int_equal(list.plates[2].line, 4);
    assert_int_equal(list.plates[3].line, 6);
    sag_motor_list_free(&list);
}

/* One error for each BAD row, in the order of the file; the first of two equal tags is not at fault. */
static const char mistakes[] =
    "3:13 W column \"efficency\" is ignored; did you mean efficiency_pct?\n"
    "3:14 W column \"color\" is ignored\n"
    "5:5 E efficiency_pct: 0.93 looks like a fraction; write 93\n"
    "6:3 E rated_hp: \"75hp\" has more than a number in the cell; write 75\n"
    "7:2 E rated_volts: \"440V\" is not a plate voltage; write it as 460 or 230/460, without units\n"
    "8:5 E efficiency_pct: \"93,0\" has a decimal comma in a comma-separated file; write 93.0\n"
    "9:8 E rpm: \"1,765\" groups digits by thousands; write 1765\n"
    "11:1 E tag: \"BAD-DUPLICATE\" already names the motor of line 10\n"
    "12:1 E tag: blank; every motor needs a name of its own\n"
    "13:2 E rated_volts: blank; read it from the plate; nothing can be judged without it\n"
    "14:4 E rated_kw: \"22\" disagrees with another column of this row, which makes it 14.92\n"
    "15:3 E rated_hp: blank; give rated_hp or rated_kw\n"
    "16:12 E load: \"pmp\" is not one of pump, fan, compressor, conveyor, hoist, constant, none; did you mean pump?\n"
    "17:9 E design: \"Q\" is not one of A, B, C, D, N, H\n"
    "18:10 E code_letter: \"I\" is not a locked-rotor code letter; A to V without I, O and Q\n"
    "19:11 E starting: \"wyedelta\" is not one of across, wye_delta, autotransformer, part_winding, resistor, reactor, "
    "soft, drive; did you mean wye_delta?\n"
    "20:3 E rated_hp: \"-5\" is outside 0.02 to 20000 hp\n"
    "21:5 E efficiency_pct: \"140\" is outside 10 to 100 %\n"
    "22:8 E rpm: \"99999\" is outside 20 to 24000 rev/min\n"
    "23:6 E power_factor: \"1.2\" is outside 0.1 to 1\n"
    "24:6 E power_factor: 85 looks like a percent; write 0.85\n"
    "25:16 E \"left over\" stands beyond the last of 15 columns; an unquoted comma?\n"
    "26:7 E rated_amps: \"#REF!\" is not a number; write one, or leave the cell blank\n"
    "27:8 E rpm: \"high\" is not a number; write one, or leave the cell blank\n";

static void file_of_mistakes(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    assert_int_equal(read_motors("motordata/examples/mistakes.csv", &list, &diags), SAG_BAD_INPUT);
    assert_int_equal(diags.errors, 22);
    check_diags("mistakes.csv", &diags, mistakes);
    sag_motor_list_free(&list);
}

/* With the supply that its feeders are of. */
static void mistakes_beside_a_supply(void **state)
{
    (void)state;
    static const char wanted[] =
        "5:3 E rated_volts: 230 V on a 480 V board (line 6 of the supply file); is the feeder right, or is phases 1 "
        "left out? Plates of 360 to 600 V are taken\n"
        "6:2 E feeder: \"LIFTS\" is not an id of the supply file; did you mean LIFT?\n"
        "7:3 E rated_volts: 115 V on a 208 V board (line 11 of the supply file); is the feeder right, or is phases 1 "
        "left out? Plates of 156 to 260 V are taken\n"
        "8:7 E start_setting: 20 % cannot be the tap of an autotransformer; write 30 to 100 % of line volts\n"
        "9:7 E start_setting: 50 % cannot be the current limit of a soft starter; write 100 to 800 % of rated amps\n"
        "10:7 E start_setting: 20 % cannot be the speed at which it changes over; write 30 to 100 % of synchronous "
        "speed\n"
        "11:7 E start_setting: 3.5 % cannot be the current limit of a soft starter; write 100 to 800 % of rated amps\n"
        "12:8 N transfer_s: ignored; starting is across, which does not change over\n"
        "12:9 N ramp_s: ignored; starting is across, which has no ramp\n"
        "13:11 N start_delay_s: ignored; without start_order the motor has no place in the sequence\n"
        "14:12 N branch_length_ft: ignored without branch_conductor; the motor's own cable is left out\n"
        "15:13 N branch_conductor: ignored without branch_length_ft; the motor's own cable is left out\n"
        "16:13 E branch_conductor: the conductor tables have no aluminum 14; the smallest is 12; is the material "
        "right?\n"
        "17:13 E branch_conductor: \"900\" is not a size of the conductor tables; nearest 750 and 1000; for metric "
        "write 900mm2\n";
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    struct sag_input input = {.name = "supply.csv", .file = fopen("motordata/cawdry-flats/supply.csv", "r")};
    struct sag_input motors = {.name = "mistakes-plant.csv",
                               .file = fopen("motordata/examples/mistakes-plant.csv", "r")};
    assert_non_null(input.file);
    assert_non_null(motors.file);
    assert_int_equal(sag_read_supply(&input, shared_tables(), &supply, &diags), SAG_OK);
    assert_int_equal(sag_read_motors(&motors, shared_tables(), &supply, &list, &diags), SAG_BAD_INPUT);
    check_diags("mistakes-plant.csv", &diags, wanted);
    fclose(input.file);
    fclose(motors.file);
    sag_motor_list_free(&list);
    sag_supply_free(&supply);
}

static void typed_plates(void **state)
{
    (void)state;
    static const struct {
        const char *text, *tag;
        double volts, watts;
    } rows[] = {
        {"rated_volts=440,rated_hp=75", "plate", 440, 55950},
        {"rated_volts=440,rated_hp=75,", "plate", 440, 55950},
        {"rated_volts = 440 , rated_kw = 55", "plate", 440, 55000},
        {"tag=P-9,rated_volts=440,rated_hp=75", "P-9", 440, 55950},
        {"rated_volts=440,rated_hp=75,tag=P-9", "P-9", 440, 55950},
        {"rated_volts=230/460,rated_hp=75,note=a=b", "plate", 230, 55950},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        sag_read_plate(rows[i].text, shared_tables(), NULL, &list, &diags);
        check_diags(rows[i].text, &diags, "");
        check_text(rows[i].text, list.plates[0].tag, rows[i].tag);
        check_near(rows[i].text, list.plates[0].volts_options[0], rows[i].volts, 0);
        check_near(rows[i].text, list.plates[0].given[SAG_RATED_POWER], rows[i].watts, 0);
        sag_motor_list_free(&list);
    }
}

/* Names of columns know no case and no spaces, `tag` neither. */
static void typed_tag_is_a_column_like_others(void **state)
{
    (void)state;
    static const char *const rows[] = {"TAG=P-9,rated_volts=440,rated_hp=75", "rated_volts=440, tag=P-9,rated_hp=75",
                                       "rated_volts=440,rated_hp=75,tag =P-9"};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        sag_read_plate(rows[i], shared_tables(), NULL, &list, &diags);
        check_diags(rows[i], &diags, "");
        check_text(rows[i], list.plates[0].tag, "P-9");
        sag_motor_list_free(&list);
    }
}

static void refuses_typed_plates(void **state)
{
    (void)state;
#define SHAPE "is not column=value; write for example rated_volts=440,rated_hp=75"
    static const struct {
        const char *text, *fault;
    } rows[] = {
        {"rated_volts", "\"rated_volts\" " SHAPE},
        {"rated_volts=440,,rated_hp=75", "\"\" " SHAPE},
        {"rated_volts=440,note=\"x", "\"note=\"x\" " SHAPE},
        {"note=a\nb", "\"note=a?b\" " SHAPE},
        {"rated_volts=440,rated_hp=75,efficiency_pct=0.91", "efficiency_pct: 0.91 looks like a fraction; write 91"},
        {"rated_volts=440", "the header has no column rated_hp or rated_kw"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        assert_int_equal(sag_read_plate(rows[i].text, shared_tables(), NULL, &list, &diags), SAG_BAD_INPUT);
        check_text(rows[i].text, diags.items[0].text, rows[i].fault);
        check_text(rows[i].text, diags.items[0].at.file, "--plate");
        sag_diags_free(&diags);
        sag_motor_list_free(&list);
    }
}

TEST_LIST(example_files, cmocka_unit_test(good_files), cmocka_unit_test(decimal_commas),
          cmocka_unit_test(file_of_mistakes), cmocka_unit_test(mistakes_beside_a_supply),
          cmocka_unit_test(typed_plates), cmocka_unit_test(typed_tag_is_a_column_like_others),
          cmocka_unit_test(refuses_typed_plates))
