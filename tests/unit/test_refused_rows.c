/* What cannot be, in rows that read well cell by cell: exact messages at the edges of each rule, and what passes. */
#include "read_help.h"

struct row {
    const char *name, *text, *faults;
};

static void check_supplies(const char *head, const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char text[1000];
        struct sag_supply supply;
        struct sag_diags diags = {0};
        snprintf(text, sizeof text, "%s\nU,,utility,480,\n%s", head, rows[i].text);
        struct sag_input input = text_input("s.csv", text);
        enum sag_status status = sag_read_supply(&input, shared_tables(), &supply, &diags);
        assert_int_equal(status, diags.errors ? SAG_BAD_INPUT : SAG_OK);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_supply_free(&supply);
    }
}

static void loops_and_orphans(void **state)
{
    (void)state;
    static const struct row rows[] = {
        {"two loops, and all else is still looked at",
         "A,B,cable,,10\nB,A,cable,,10\nC,D,cable,,10\nD,C,cable,,10\nT,U,transformer,,\n",
         "3:2 E fed_from: the path runs in a loop through \"A\"; one of its rows must hang on another\n"
         "5:2 E fed_from: the path runs in a loop through \"C\"; one of its rows must hang on another\n"
         "7:7 E kva: blank; a transformer needs its rating\n"
         "7:8 E impedance_pct: blank; it stands on the transformer's plate\n"
         "7:9 E primary_volts: blank; it stands on the transformer's plate\n"
         "7:10 E secondary_volts: blank; it stands on the transformer's plate\n"},
        {"below a loop", "A,B,cable,,10\nB,A,cable,,10\nC,B,cable,,10\n",
         "3:2 E fed_from: the path runs in a loop through \"A\"; one of its rows must hang on another\n"},
        {"a loop and a slip elsewhere", "A,A,cable,,10\nT,U,transformer,,,,45,4,13800,208\n",
         "3:2 E fed_from: \"A\" is fed from itself; write the id of the row above it\n"
         "4:9 E primary_volts: more than 25 % from the board it is fed from, which has volts of \"480\"\n"},
        {"the same orphan twice", "A,NOWHERE,cable,,10\nB,NOWHERE,cable,,10\n",
         "3:2 E fed_from: no row has the id \"NOWHERE\"; write the id of the row above it\n"
         "4:2 E fed_from: no row has the id \"NOWHERE\"; write the id of the row above it\n"},
        {"an orphan near a name", "MAIN,U,cable,,10\nB,MAINS,cable,,10\n",
         "4:2 E fed_from: no row has the id \"MAINS\"; did you mean \"MAIN\"?\n"},
        {"a source below a board", "V,U,utility,480,\n",
         "3:2 E fed_from: a source is not fed; leave it blank, or two sources feed one board\n"},
        {"one name twice", "A,U,cable,,10\nA,U,cable,,20\nB,A,cable,,10\n",
         "4:1 E id: \"A\" already names the row of line 3\n"},
    };
    check_supplies("id,fed_from,kind,nominal_volts,ohms_r,,kva,impedance_pct,primary_volts,secondary_volts", rows,
                   COUNT(rows));
}

static void columns_of_other_kinds(void **state)
{
    (void)state;
    static const struct row rows[] = {
        {"bank of a cable", "C,U,cable,,10,,open\n",
         "3:7 E bank: only a transformer has one; leave it blank, or is kind meant as transformer?\n"},
        {"tap of a cable", "C,U,cable,,10,2.5\n",
         "3:6 E tap_pct: only a transformer has one; leave it blank, or put it in that row\n"},
        {"zeros of a spreadsheet", "C,U,cable,,10,0\n", ""},
        {"volts of a cable", "C,U,cable,480,10\n",
         "3:4 N nominal_volts: ignored; only a source has it, and the rows below take theirs from it\n"},
        {"a cable in a transformer's row", "T,U,transformer,,,,,45,4,480,208,40\n",
         "3:12 N length_m: ignored; give the cable a row of its own\n"},
        {"open bank", "T,U,transformer,,,,open,45,4,480,208\n", ""},
        {"tap too high", "T,U,transformer,,,20.1,,45,4,480,208\n", "3:6 E tap_pct: \"20.1\" is outside -20 to 20 %\n"},
        {"tap too low", "T,U,transformer,,,-21,,45,4,480,208\n", "3:6 E tap_pct: \"-21\" is outside -20 to 20 %\n"},
        {"tap at the edge", "T,U,transformer,,,-20,,45,4,480,208\n", ""},
    };
    check_supplies(
        "id,fed_from,kind,nominal_volts,ohms_r,tap_pct,bank,kva,impedance_pct,primary_volts,secondary_volts,length_m",
        rows, COUNT(rows));
}

static void impossible_impedances(void **state)
{
    (void)state;
    static const struct row rows[] = {
        {"negative ohms", "C,U,cable,,-1\n", "3:5 E ohms_r: \"-1\" is outside 0 to 10000 ohm\n"},
        {"negative reactance", "C,U,cable,,1,-1\n", "3:6 E ohms_x: \"-1\" is outside 0 to 10000 ohm\n"},
        {"no ohms", "C,U,cable,,0,0\n",
         "3:5 E ohms_r: no ohms and no length; give one, or for a link without impedance a length of 0\n"},
        {"no reactance and nothing else", "C,U,cable,,,0\n",
         "3:6 E ohms_x: no ohms and no length; give one, or for a link without impedance a length of 0\n"},
        {"no ohms over a length", "C,U,cable,,0,0,30,4\n",
         "3:5 E ohms_r: no ohms, yet a length; leave ohms_r and ohms_x blank to take them from it\n"},
        {"link", "C,U,cable,,,,0\n", ""},
        {"link with a size", "C,U,cable,,,,0,4\n", ""},
        {"link with no ohms", "C,U,cable,,0,0,0\n", ""},
        {"reactance alone", "C,U,cable,,0,0.1\n", ""},
        {"no size", "C,U,cable,,,,30\n", "3:8 E conductor: blank; a cable needs a size, or ohms_r and ohms_x\n"},
        {"impedance of a plate as a fraction", "T,U,transformer,,,,,,,,45,0.0575,480,208\n",
         "3:12 E impedance_pct: 0.0575 looks like a fraction; write 5.75\n"},
        {"x_over_r too high", "V,,utility,480,,,,,,201\n", "3:10 E x_over_r: \"201\" is outside 0.01 to 200\n"},
        {"x_over_r of nothing", "V,,utility,480,,,,,,0\n", "3:10 E x_over_r: \"0\" is outside 0.01 to 200\n"},
        {"transient of nothing", "G,,generator,480,,,,,,,500,,,,0\n",
         "3:15 E transient_pct: \"0\" is outside 1 to 100 %\n"},
        {"transient as a fraction", "G,,generator,480,,,,,,,500,,,,0.18\n",
         "3:15 E transient_pct: 0.18 looks like a fraction; write 18\n"},
        {"transient", "G,,generator,480,,,,,,,500,,,,18\n", ""},
    };
    check_supplies(
        "id,fed_from,kind,nominal_volts,ohms_r,ohms_x,length_m,conductor,material,x_over_r,kva,impedance_pct,"
        "primary_volts,secondary_volts,transient_pct",
        rows, COUNT(rows));
}

/* sqrt3 x 100 A x 1.3856 ohms is half of 480 V. 12 AWG copper in steel has 2.0 ohms per 1000 ft: 692.8 ft. */
static void drops_beyond_belief(void **state)
{
    (void)state;
#define AT_MOST "are length, size, sets and amps right? At most "
    static const struct row rows[] = {
        {"ohms within", "C,U,cable,,1.385,,,,,100\n", ""},
        {"ohms beyond", "C,U,cable,,1.387,,,,,100\n",
         "3:5 E ohms_r: the device's 100 A would drop 50 % of 480 V; is it ohms a phase? At most 1.39 are taken "
         "here\n"},
        {"feet within", "C,U,cable,,,692,,12,,100\n", ""},
        {"feet beyond", "C,U,cable,,,700,,12,,100\n",
         "3:6 E length_ft: the device's 100 A would drop 50.5 % of 480 V; " AT_MOST "693 ft are taken here\n"},
        {"feet typed as metres", "C,U,cable,,,,700,12,,100\n",
         "3:7 E length_m: the device's 100 A would drop 166 % of 480 V; " AT_MOST "211 m are taken here\n"},
        {"two sets", "C,U,cable,,,700,,12,2,100\n", ""},
        {"no device", "C,U,cable,,,70000,,12\n", ""},
        {"below a transformer, in any order", "C,T,cable,,,400,,12,,100\nT,U,transformer,,,,,,,,45,4,480,208\n",
         "3:6 E length_ft: the device's 100 A would drop 66.6 % of 208 V; " AT_MOST "300 ft are taken here\n"},
    };
    check_supplies(
        "id,fed_from,kind,nominal_volts,ohms_r,length_ft,length_m,conductor,sets,device_amps,kva,impedance_pct,"
        "primary_volts,secondary_volts",
        rows, COUNT(rows));
}

/* 1.5 times 750 kVA is 1.125 MVA, and 47.07 A at 13800 V. */
static void weak_utilities(void **state)
{
    (void)state;
#define T1   "T,V,transformer,,,,,,750,5.75,13800,480\n"
#define WANT " was a unit mixed up? At least 1.125 MVA are wanted\n"
    static const struct row rows[] = {
        {"just enough", "V,,utility,13800,1.13\n" T1, ""},
        {"MVA", "V,,utility,13800,1.12\n" T1,
         "3:5 E fault_mva: 1.12 MVA is too weak for the 750 kVA of \"T\" on line 4;" WANT},
        {"kA", "V,,utility,13800,,0.04\n" T1,
         "3:6 E fault_ka: 0.9561 MVA is too weak for the 750 kVA of \"T\" on line 4;" WANT},
        {"the largest of three, one error",
         "V,,utility,13800,0.09\nS,V,transformer,,,,,,500,5,13800,480\n" T1 "W,T,transformer,,,,,,45,4,480,208\n",
         "3:5 E fault_mva: 0.09 MVA is too weak for the 750 kVA of \"T\" on line 5;" WANT},
        {"another source is not its concern", "V,,utility,13800,90\nW,,utility,13800,0.5\n" T1, ""},
        {"unknown level", "V,,utility,13800\n" T1, ""},
        {"a generator has no such level", "V,,generator,13800,,,,,800\n" T1, ""},
        {"MVA and kA agree", "V,,utility,13800,90,3.8\n", ""},
        {"MVA and kA do not", "V,,utility,13800,90,38\n",
         "3:6 E fault_ka: disagrees with fault_mva, which makes it 3.765 kA; give one of them\n"},
        {"range at its edges", "V,,utility,480,,,360,600\n", ""},
        {"range too low", "V,,utility,480,,,359,500\n",
         "3:7 E low_volts: more than 25 % below the nominal 480 V; is it a slip? 360 V is the least that is taken\n"},
        {"range too high", "V,,utility,480,,,460,601\n",
         "3:8 E high_volts: more than 25 % above the nominal 480 V; is it a slip? 600 V is the most that is taken\n"},
    };
    check_supplies(
        "id,fed_from,kind,nominal_volts,fault_mva,fault_ka,low_volts,high_volts,kva,impedance_pct,primary_volts,"
        "secondary_volts",
        rows, COUNT(rows));
}

static void measured_far_off(void **state)
{
    (void)state;
#define TAKEN " V on a board of 480 V; is it a slip? From 240 to 624 V are taken, line to line\n"
    static const struct row rows[] = {
        {"at the edges", "C,U,cable,,1,624,624,624\nD,U,cable,,1,240,240,240\n", ""},
        {"a digit lost", "C,U,cable,,1,480,48,481\n", "3:7 E measured_bc: 48" TAKEN},
        {"above", "C,U,cable,,1,625,620,620\n", "3:6 E measured_ab: 625" TAKEN},
        {"all three below", "C,U,cable,,1,208,208,207\n",
         "3:6 E measured_ab: 208" TAKEN "3:7 E measured_bc: 208" TAKEN "3:8 E measured_ca: 207" TAKEN},
        {"to the neutral is told as such", "C,U,cable,,1,277,277,278\n",
         "3:6 E measured_ab: these look like volts to the neutral; give line to line, at \"C\"\n"},
        {"no triangle is told once", "C,U,cable,,1,480,200,230\n",
         "3:6 E measured_ab: cannot be line voltages: the largest is not less than the other two together\n"},
    };
    check_supplies("id,fed_from,kind,nominal_volts,ohms_r,measured_ab,measured_bc,measured_ca", rows, COUNT(rows));
}

static void sizes_of_the_tables(void **state)
{
    (void)state;
#define NOT_A_SIZE "is not a size of the conductor tables; nearest "
    static const struct row rows[] = {
        {"700", "C,U,cable,,30,700\n", "3:6 E conductor: \"700\" " NOT_A_SIZE "600 and 750; for metric write 700mm2\n"},
        {"800", "C,U,cable,,30,800\n",
         "3:6 E conductor: \"800\" " NOT_A_SIZE "750 and 1000; for metric write 800mm2\n"},
        {"900", "C,U,cable,,30,900\n",
         "3:6 E conductor: \"900\" " NOT_A_SIZE "750 and 1000; for metric write 900mm2\n"},
        {"2000", "C,U,cable,,30,2000\n", "3:6 E conductor: \"2000\" " NOT_A_SIZE "1000; for metric write 2000mm2\n"},
        {"an odd gauge", "C,U,cable,,30,5\n", "3:6 E conductor: \"5\" " NOT_A_SIZE "6 and 4; for metric write 5mm2\n"},
        {"a slip", "C,U,cable,,30,2/O\n",
         "3:6 E conductor: \"2/O\" is not a size of the conductor tables; did you mean 2/0?\n"},
        {"between gauges and kcmil", "C,U,cable,,30,95\n",
         "3:6 E conductor: \"95\" is not a size of the conductor tables; write 12, 4/0, 250 (kcmil), or for metric "
         "95mm2\n"},
        {"aluminum 14", "C,U,cable,,30,14,al\n",
         "3:6 E conductor: the conductor tables have no aluminum 14; the smallest is 12; is the material right?\n"},
        {"copper 14", "C,U,cable,,30,14,cu\n", ""},
        {"14 without a material", "C,U,cable,,30,14\n", ""},
        {"aluminum 12", "C,U,cable,,30,12,al\n", ""},
        {"metric aluminum", "C,U,cable,,30,1.5mm2,al\n", ""},
    };
    check_supplies("id,fed_from,kind,nominal_volts,length_ft,conductor,material", rows, COUNT(rows));
}

/* --- motors ----------------------------------------------------------------------------------------------------- */

static const char boards[] =
    "id,fed_from,kind,nominal_volts,system,kva,impedance_pct,primary_volts,secondary_volts,ohms_r\n"
    "U,,utility,480\nLP,U,cable,,,,,,,0.01\n"
    "T208,U,transformer,,,45,4,480,208\nWYE208,T208,cable,,,,,,,0.01\n"
    "T240,U,transformer,,delta,45,4,480,240\nLEG240,T240,cable,,,,,,,0.01\n"
    "T3,U,transformer,,ungrounded,45,4,480,240\nBARE240,T3,cable,,,,,,,0.01\n"
    "T4,U,transformer,,delta,45,4,480,208\nBARE208,T4,cable,,,,,,,0.01\n"
    "T5,U,transformer,,ungrounded,45,4,480,480\nBARE480,T5,cable,,,,,,,0.01\n";

static void check_motors(const char *head, const struct row *rows, size_t count)
{
    struct sag_supply supply;
    struct sag_diags diags = {0};
    struct sag_input input = text_input("s.csv", boards);
    assert_int_equal(sag_read_supply(&input, shared_tables(), &supply, &diags), SAG_OK);
    for (size_t i = 0; i < count; i++) {
        char text[1000];
        struct sag_motor_list list;
        snprintf(text, sizeof text, "%s\n%s", head, rows[i].text);
        struct sag_input motors = text_input("m.csv", text);
        enum sag_status status = sag_read_motors(&motors, shared_tables(), &supply, &list, &diags);
        assert_int_equal(status, diags.errors ? SAG_BAD_INPUT : SAG_OK);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_motor_list_free(&list);
    }
    sag_supply_free(&supply);
}

static void plates_of_another_system(void **state)
{
    (void)state;
#define ON_480                                                                                                         \
    " V on a 480 V board (line 3 of the supply file); is the feeder right? Plates of 360 to 600 V are taken\n"
#define ON_208                                                                                                         \
    " V on a 208 V board (line 5 of the supply file); is the feeder right? Plates of 156 to 260 V are taken\n"
#define OR_ONE ", or is phases 1 left out? Plates of "
    static const struct row rows[] = {
        {"lowest", "P,LP,360,5\n", ""},
        {"too low", "P,LP,359,5\n", "2:3 E rated_volts: 359" ON_480},
        {"highest", "P,LP,600,5\n", ""},
        {"too high", "P,LP,601,5\n", "2:3 E rated_volts: 601" ON_480},
        {"older and foreign plates", "A,LP,440,5\nB,LP,400,5\nC,LP,380,5\nD,LP,575,5\nE,WYE208,230,5\nF,WYE208,200,5\n",
         ""},
        {"dual plates take the nearest", "A,LP,230/460,5\nB,WYE208,208-230/460,5\nC,LP,230/400,5\n", ""},
        {"dual plate of another system", "A,WYE208,400/690,5\n", "2:3 E rated_volts: 400" ON_208},
        {"half the volts", "P,LP,230,5\n",
         "2:3 E rated_volts: 230 V on a 480 V board (line 3 of the supply file); is the feeder right" OR_ONE
         "360 to 600 V are taken\n"},
        {"twice the volts", "P,WYE208,460,5\n", "2:3 E rated_volts: 460" ON_208},
        {"single-phase to the neutral", "P,WYE208,115,0.5,1\nQ,LP,277,1,1\nR,LP,265,1,1\n", ""},
        {"single-phase line to line", "P,WYE208,208-230,1,1\nQ,LP,460,1,1\n", ""},
        {"single-phase, neither", "P,LP,115,0.5,1\n", "2:3 E rated_volts: 115" ON_480},
        {"phases left out", "P,WYE208,115,0.5\n",
         "2:3 E rated_volts: 115 V on a 208 V board (line 5 of the supply file); is the feeder right" OR_ONE
         "156 to 260 V are taken\n"},
    };
    check_motors("tag,feeder,rated_volts,rated_hp,phases", rows, COUNT(rows));
}

static void motors_that_need_a_neutral(void **state)
{
    (void)state;
#define LACKS(volts, board, system, line)                                                                              \
    "2:3 E rated_volts: a single-phase motor of " volts " V needs a neutral, which \"" board                           \
    "\" lacks: system is " system " on line " line                                                                     \
    " of the supply file; write wye there if it has one, or another feeder here\n"
    static const struct row rows[] = {
        {"a leg of 240 V", "P,LEG240,115,0.5,1\n", ""},
        {"240 V without ground", "P,BARE240,115,0.5,1\n", LACKS("115", "BARE240", "ungrounded", "8")},
        {"the same line to line", "P,BARE240,230,0.5,1\n", ""},
        {"dual plate goes line to line", "P,BARE240,115/230,0.5,1\n", ""},
        {"delta of 208 V", "P,BARE208,120,0.5,1\n", LACKS("120", "BARE208", "delta", "10")},
        {"480 V without ground", "P,BARE480,277,0.5,1\n", LACKS("277", "BARE480", "ungrounded", "12")},
        {"at the row itself", "P,T5,265,0.5,1\n", LACKS("265", "T5", "ungrounded", "12")},
        {"three-phase", "P,BARE480,460,5\n", ""},
    };
    check_motors("tag,feeder,rated_volts,rated_hp,phases", rows, COUNT(rows));
}

static void start_columns(void **state)
{
    (void)state;
#define TAP   " % cannot be the tap of an autotransformer; write 30 to 100 % of line volts\n"
#define LIMIT " % cannot be the current limit of a soft starter; write 100 to 800 % of rated amps\n"
#define SPEED " % cannot be the speed at which it changes over; write 30 to 100 % of synchronous speed\n"
    static const struct row rows[] = {
        {"taps", "A,LP,460,20,autotransformer,30,6\nB,LP,460,20,autotransformer,100\n", ""},
        {"tap too low", "A,LP,460,20,autotransformer,29\n", "2:6 E start_setting: 29" TAP},
        {"tap too high", "A,LP,460,20,autotransformer,101\n", "2:6 E start_setting: 101" TAP},
        {"tap as a fraction", "A,LP,460,20,autotransformer,0.65\n",
         "2:6 E start_setting: 0.65 looks like a fraction; write 65\n"},
        {"limits", "A,LP,460,20,soft,100,,8\nB,LP,460,20,soft,800\n", ""},
        {"limit too low", "A,LP,460,20,soft,99\n", "2:6 E start_setting: 99" LIMIT},
        {"limit in times", "A,LP,460,20,soft,3.5\n", "2:6 E start_setting: 3.5" LIMIT},
        {"limit too high", "A,LP,460,20,soft,801\n", "2:6 E start_setting: \"801\" is outside 1 to 800 %\n"},
        {"speeds", "A,LP,460,20,wye_delta,30\nB,LP,460,20,wye_delta,100,7\n", ""},
        {"speed too low", "A,LP,460,20,wye_delta,20\n", "2:6 E start_setting: 20" SPEED},
        {"speed too high", "A,LP,460,20,part_winding,110\n", "2:6 E start_setting: 110" SPEED},
        {"idle columns", "A,LP,460,20,across,65,6,8\n",
         "2:6 N start_setting: ignored; starting is across, which has no setting\n"
         "2:7 N transfer_s: ignored; starting is across, which does not change over\n"
         "2:8 N ramp_s: ignored; starting is across, which has no ramp\n"},
        {"no method", "A,LP,460,20,,65\n", "2:6 N start_setting: ignored; starting is blank, which has no setting\n"},
        {"transfer of a drive", "A,LP,460,20,drive,,6,8\n",
         "2:7 N transfer_s: ignored; starting is drive, which does not change over\n"},
        {"two in one place close together", "A,LP,460,20,,,,,1,5\nB,LP,460,20,,,,,1,5\n", ""},
        {"delay without order", "A,LP,460,20,,,,,,5\n",
         "2:10 N start_delay_s: ignored; without start_order the motor has no place in the sequence\n"},
    };
    check_motors("tag,feeder,rated_volts,rated_hp,starting,start_setting,transfer_s,ramp_s,start_order,start_delay_s",
                 rows, COUNT(rows));
}

static void branch_cables(void **state)
{
    (void)state;
    static const struct row rows[] = {
        {"both", "A,LP,460,20,60,,8\nB,LP,460,20,,20,10mm2\n", ""},
        {"length alone", "A,LP,460,20,,20\n",
         "2:6 N branch_length_m: ignored without branch_conductor; the motor's own cable is left out\n"},
        {"size alone", "A,LP,460,20,,,8\n",
         "2:7 N branch_conductor: ignored without branch_length_ft; the motor's own cable is left out\n"},
        {"aluminum 14", "A,LP,460,2,60,,14,al\n",
         "2:7 E branch_conductor: the conductor tables have no aluminum 14; the smallest is 12; is the material "
         "right?\n"},
        {"between two sizes", "A,LP,460,2,60,,450\n",
         "2:7 E branch_conductor: \"450\" " NOT_A_SIZE "400 and 500; for metric write 450mm2\n"},
    };
    static const struct row lengths[] = {
        {"a list without sizes says it once", "A,LP,460,20,60\nB,LP,460,20,60\n",
         "1:5 N branch_length_ft: ignored; without a column branch_conductor the motors' own cables are left out\n"}};
    static const struct row sizes[] = {{"a list without lengths says it once", "A,LP,460,20,8\nB,LP,460,20,8\n",
                                        "1:5 N branch_conductor: ignored; without a column branch_length_ft or "
                                        "branch_length_m the motors' own cables are "
                                        "left out\n"}};
    check_motors("tag,feeder,rated_volts,rated_hp,branch_length_ft,branch_length_m,branch_conductor,branch_material",
                 rows, COUNT(rows));
    check_motors("tag,feeder,rated_volts,rated_hp,branch_length_ft", lengths, COUNT(lengths));
    check_motors("tag,feeder,rated_volts,rated_hp,branch_conductor", sizes, COUNT(sizes));
}

static void typed_volts(void **state)
{
    (void)state;
    static const struct {
        const char *name, *rows;
        double volts;
        const char *faults;
    } rows[] = {
        {"fits", "P,,460,5,\n", 480, ""},
        {"another system", "P,,230,5,\nQ,,460,5,\nR,,2300,5,\n", 480,
         "2:3 E rated_volts: 230 V on 480 V; is --volts right" OR_ONE "360 to 600 V are taken\n"
         "4:3 E rated_volts: 2300 V on 480 V; is --volts right? Plates of 360 to 600 V are taken\n"},
        {"to the neutral", "P,,115,0.5,1\n", 208, ""},
        {"a named feeder", "P,SHOP,115,5,\n", 480,
         "2:3 E rated_volts: 115 V on 480 V; is --volts right? Plates of 360 to 600 V are taken\n"},
        {"several feeders", "P,LIFT,460,5,\nQ,SHOP,208,5,\n", 480, ""},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[500];
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        snprintf(text, sizeof text, "tag,feeder,rated_volts,rated_hp,phases\n%s", rows[i].rows);
        struct sag_input motors = text_input("m.csv", text);
        assert_int_equal(sag_read_motors(&motors, shared_tables(), NULL, &list, &diags), SAG_OK);
        enum sag_status status = sag_check_typed_volts(&list, rows[i].volts, &diags);
        assert_int_equal(status, diags.errors ? SAG_BAD_INPUT : SAG_OK);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_motor_list_free(&list);
    }
}

TEST_LIST(refused_rows, cmocka_unit_test(loops_and_orphans), cmocka_unit_test(columns_of_other_kinds),
          cmocka_unit_test(impossible_impedances), cmocka_unit_test(drops_beyond_belief),
          cmocka_unit_test(weak_utilities), cmocka_unit_test(measured_far_off), cmocka_unit_test(sizes_of_the_tables),
          cmocka_unit_test(plates_of_another_system), cmocka_unit_test(motors_that_need_a_neutral),
          cmocka_unit_test(start_columns), cmocka_unit_test(branch_cables), cmocka_unit_test(typed_volts))
