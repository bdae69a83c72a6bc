#include <stdlib.h>

#include "read_help.h"

static enum sag_status read_text(const char *text, const struct sag_supply *supply, struct sag_motor_list *list,
                                 struct sag_diags *diags)
{
    struct sag_input input = text_input("m.csv", text);
    return sag_read_motors(&input, shared_tables(), supply, list, diags);
}

static void plate_volts(void **state)
{
    (void)state;
    static const struct {
        const char *cell;
        double options[3];
    } rows[] = {
        {"460", {460, 0, 0}},         {"230/460", {230, 460, 0}}, {"208-230/460", {208, 230, 460}},
        {" 230/460 ", {230, 460, 0}}, {"2300", {2300, 0, 0}},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[100];
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        snprintf(text, sizeof text, "tag,rated_volts,rated_hp\nP,%s,5\n", rows[i].cell);
        read_text(text, NULL, &list, &diags);
        check_diags(rows[i].cell, &diags, "");
        for (int n = 0; n < 3; n++)
            check_near(rows[i].cell, list.plates[0].volts_options[n], rows[i].options[n], 0);
        sag_motor_list_free(&list);
    }
}

struct fault_row {
    const char *name, *text, *faults;
};

static void check_faults(const struct fault_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        enum sag_status status = read_text(rows[i].text, NULL, &list, &diags);
        assert_int_equal(status, diags.errors ? SAG_BAD_INPUT : SAG_OK);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_motor_list_free(&list);
    }
}

#define HEAD "tag,rated_volts,rated_hp,efficiency_pct,power_factor,poles,phases,year,load_pct\n"

static void refuses_cells(void **state)
{
    (void)state;
    static const struct fault_row rows[] = {
        {"fraction", HEAD "P,460,5,0.93\n", "2:4 E efficiency_pct: 0.93 looks like a fraction; write 93\n"},
        {"percent", HEAD "P,460,5,93,85\n", "2:5 E power_factor: 85 looks like a percent; write 0.85\n"},
        {"unit", HEAD "P,460,75 hp\n", "2:3 E rated_hp: \"75 hp\" has more than a number in the cell; write 75\n"},
        {"unit of volts", HEAD "P,440V,5\n",
         "2:2 E rated_volts: \"440V\" is not a plate voltage; write it as 460 or 230/460, without units\n"},
        {"four voltages", HEAD "P,208/230/400/460,5\n",
         "2:2 E rated_volts: \"208/230/400/460\" is not a plate voltage; write it as 460 or 230/460, without units\n"},
        {"half a dual plate", HEAD "P,230/,5\n",
         "2:2 E rated_volts: \"230/\" is not a plate voltage; write it as 460 or 230/460, without units\n"},
        {"volts out of range", HEAD "P,16000,5\n", "2:2 E rated_volts: \"16000\" is outside 20 to 15000 V\n"},
        {"thousands", HEAD "P,460,\"1,200\"\n", "2:3 E rated_hp: \"1,200\" groups digits by thousands; write 1200\n"},
        {"decimal comma", HEAD "P,460,\"7,5\"\n",
         "2:3 E rated_hp: \"7,5\" has a decimal comma in a comma-separated file; write 7.5\n"},
        {"decimal comma among points", "tag;rated_volts;rated_hp\nP;460;1.200\n",
         "2:3 E rated_hp: \"1.200\" groups digits by thousands; write 1200\n"},
        {"too large", HEAD "P,460,1e999\n", "2:3 E rated_hp: \"1e999\" is too large to be a number on a plate\n"},
        {"word", HEAD "P,460,big\n", "2:3 E rated_hp: \"big\" is not a number; write one, or leave the cell blank\n"},
        {"out of range", HEAD "P,460,-5\n", "2:3 E rated_hp: \"-5\" is outside 0.02 to 20000 hp\n"},
        {"part of a year", HEAD "P,460,5,,,,,1999.5\n", "2:8 E year: \"1999.5\" must be a whole number\n"},
        {"two phases", HEAD "P,460,5,,,,2\n", "2:7 E phases: 2 is not supported; write 1 or 3\n"},
        {"odd poles", HEAD "P,460,5,,,3\n", "2:6 E poles: must be even\n"},
        {"no tag", HEAD ",460,5\n", "2:1 E tag: blank; every motor needs a name of its own\n"},
        {"no volts", HEAD "P,,5\n",
         "2:2 E rated_volts: blank; read it from the plate; nothing can be judged without it\n"},
        {"no power", HEAD "P,460\n", "2:3 E rated_hp: blank; give rated_hp or rated_kw\n"},
        {"beyond the header", HEAD "P,460,5,,,,,,,,x\n",
         "2:11 E \"x\" stands beyond the last of 9 columns; an unquoted comma?\n"},
        {"twice", HEAD "P,460,5\nQ,460,5\nP,460,5\n", "4:1 E tag: \"P\" already names the motor of line 2\n"},
        {"many in one row", HEAD "P,460,5,0.9,85,4,3,x\n",
         "2:4 E efficiency_pct: 0.9 looks like a fraction; write 90\n"
         "2:5 E power_factor: 85 looks like a percent; write 0.85\n"
         "2:8 E year: \"x\" is not a number; write one, or leave the cell blank\n"},
        {"hp and kW", "tag,rated_volts,rated_hp,rated_kw\nP,460,20,14.9\nQ,460,20,15.5\n",
         "3:4 E rated_kw: \"15.5\" disagrees with another column of this row, which makes it 14.92\n"},
        {"design", "tag,rated_volts,rated_hp,design\nP,460,5,Q\n",
         "2:4 E design: \"Q\" is not one of A, B, C, D, N, H\n"},
        {"near word", "tag,rated_volts,rated_hp,load\nP,460,5,conveyer\n",
         "2:4 E load: \"conveyer\" is not one of pump, fan, compressor, conveyor, hoist, constant, none; did you mean "
         "conveyor?\n"},
        {"code letter", "tag,rated_volts,rated_hp,code_letter\nP,460,5,Q\nR,460,5,GG\n",
         "2:4 E code_letter: \"Q\" is not a locked-rotor code letter; A to V without I, O and Q\n"
         "3:4 E code_letter: \"GG\" is not a locked-rotor code letter; A to V without I, O and Q\n"},
    };
    check_faults(rows, COUNT(rows));
}

/* A factor of 1.2 is no percent: 0.012 would be refused in turn. */
static void power_factor_above_one(void **state)
{
    (void)state;
    static const struct fault_row rows[] = {
        {"above one", HEAD "P,460,5,,1.2\n", "2:5 E power_factor: \"1.2\" is outside 0.1 to 1\n"},
        {"below the range", HEAD "P,460,5,,0.05\n", "2:5 E power_factor: \"0.05\" is outside 0.1 to 1\n"},
    };
    check_faults(rows, COUNT(rows));
}

static void refuses_headers(void **state)
{
    (void)state;
    static const struct fault_row rows[] = {
        {"nothing below", "tag,rated_volts,rated_hp\n", "0:0 E no motors below the header; give at least one row\n"},
        {"no known column", "a_name,b_volts\nP,460\n",
         "1:0 E the header has no column tag\n1:0 E the header has no column rated_volts\n"
         "1:0 E the header has no column rated_hp or rated_kw\n1:1 W column \"a_name\" is ignored\n"
         "1:2 W column \"b_volts\" is ignored\n"},
        {"twice", "tag,rated_volts,rated_hp,Tag\nP,460,5,Q\n", "1:4 E column tag stands twice (first in column 1)\n"},
        {"unknown in capitals", "TAG,Rated_Volts,RATED_HP,RPMS\nP,460,5,1750\n",
         "1:4 W column \"RPMS\" is ignored; did you mean rpm?\n"},
        {"columns without a name", "tag,rated_volts,rated_hp,,\nP,460,5,,x\n", ""},
    };
    check_faults(rows, COUNT(rows));
}

/* As motordata/examples/mistakes.csv has them: the first is close to a known name, the second is not. */
static void names_the_nearest_column(void **state)
{
    (void)state;
    static const struct fault_row rows[] = {
        {"unknown", "tag,rated_volts,rated_hp,efficency,color\nP,460,5,93,grey\n",
         "1:4 W column \"efficency\" is ignored; did you mean efficiency_pct?\n1:5 W column \"color\" is ignored\n"},
    };
    check_faults(rows, COUNT(rows));
}

/* Heads as people write them in their own lists. */
static void usual_heads(void **state)
{
    (void)state;
    static const struct fault_row rows[] = {
        {"spaces and dashes", "Tag,Rated Volts,rated-HP,Power Factor\nP,460,5,0.85\n", ""},
        {"short words", "tag,rated_volts,rated_hp,FLA,PF,Eff,SF,Code,LRA,Speed,Freq\nP,460,5\n",
         "1:4 W column \"FLA\" is ignored; did you mean rated_amps?\n"
         "1:5 W column \"PF\" is ignored; did you mean power_factor?\n"
         "1:6 W column \"Eff\" is ignored; did you mean efficiency_pct?\n"
         "1:7 W column \"SF\" is ignored; did you mean service_factor?\n"
         "1:8 W column \"Code\" is ignored; did you mean code_letter?\n"
         "1:9 W column \"LRA\" is ignored; did you mean locked_amps?\n"
         "1:10 W column \"Speed\" is ignored; did you mean rpm?\n"
         "1:11 W column \"Freq\" is ignored; did you mean hz?\n"},
        {"what is needed", "Motor,Volts,HP\nP,460,5\n",
         "1:0 E the header has no column tag\n1:0 E the header has no column rated_volts\n"
         "1:0 E the header has no column rated_hp or rated_kw\n"
         "1:1 W column \"Motor\" is ignored; did you mean tag?\n"
         "1:2 W column \"Volts\" is ignored; did you mean rated_volts?\n"
         "1:3 W column \"HP\" is ignored; did you mean rated_hp?\n"},
        {"a near miss with a space", "tag,rated volt,rated_hp,rated_volts\nP,1,5,460\n",
         "1:2 W column \"rated volt\" is ignored; did you mean rated_volts?\n"},
    };
    check_faults(rows, COUNT(rows));
}

static void two_numbers_in_a_cell(void **state)
{
    (void)state;
#define ONE "is more than one number; write one, a fraction as a decimal, for the volts in use\n"
    static const struct fault_row rows[] = {
        {"fraction", HEAD "P,115,1/2\n", "2:3 E rated_hp: \"1/2\" " ONE},
        {"mixed fraction", HEAD "P,115,1-1/2\n", "2:3 E rated_hp: \"1-1/2\" " ONE},
        {"amps of both volts", "tag,rated_volts,rated_hp,rated_amps\nP,230/460,20,56/28\n",
         "2:4 E rated_amps: \"56/28\" " ONE},
        {"the other way round", "tag,rated_volts,rated_hp,rated_amps\nP,230/460,20,28/56\n",
         "2:4 E rated_amps: \"28/56\" " ONE},
        {"speeds", "tag,rated_volts,rated_hp,rpm\nP,460,20,1765/1475\n", "2:4 E rpm: \"1765/1475\" " ONE},
    };
    check_faults(rows, COUNT(rows));
}

static void load_said_twice(void **state)
{
    (void)state;
#define LOADS "tag,rated_volts,rated_hp,load_pct,load_hp\n"
    static const struct fault_row rows[] = {
        {"agree", LOADS "P,460,50,80,40\n", ""},
        {"agree within rounding", LOADS "P,460,50,81,40\n", ""},
        {"conflict", LOADS "P,460,50,90,40\n", "2:5 E load_hp: disagrees with load_pct on the same row; give one\n"},
        {"conflict with nothing to carry", LOADS "P,460,50,0,40\n",
         "2:5 E load_hp: disagrees with load_pct on the same row; give one\n"},
        {"load_hp alone", LOADS "P,460,50,,40\n", ""},
    };
    check_faults(rows, COUNT(rows));
}

/* `count` cells of a fill behind a start, on one line. */
static char *wide_row(char *at, const char *start, const char *fill, int count)
{
    at = stpcpy(at, start);
    for (int i = 0; i < count; i++)
        at += sprintf(at, ",%s", fill);
    return stpcpy(at, "\n");
}

static void wide_lists(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        int header, row; /* cells beyond the first three */
        const char *fill, *faults;
    } rows[] = {
        {"512 columns", 509, 509, "", ""},
        {"513 columns", 510, 0, "", "1:0 E 513 columns; no list has more than 512\n"},
        {"blank cells beyond the header", 0, 600, "", ""},
        {"a row beyond 512 cells of 512 columns", 509, 600, "", ""},
    };
    char *text = malloc(20000);
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        wide_row(wide_row(text, "tag,rated_volts,rated_hp", "", rows[i].header), "P,460,5", rows[i].fill, rows[i].row);
        read_text(text, NULL, &list, &diags);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_motor_list_free(&list);
    }
    free(text);
}

/* Words in cells that no column stands above are told one by one, up to what is kept. */
static void words_beyond_all_columns(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    char *text = malloc(20000);
    wide_row(wide_row(text, "tag,rated_volts,rated_hp", "", 509), "P,460,5", "x", 600);
    read_text(text, NULL, &list, &diags);
    assert_int_equal(diags.errors, 600 - 509);
    assert_int_equal(diags.items[0].at.column, 513);
    check_text("first", diags.items[0].text, "\"x\" stands beyond the last of 512 columns; an unquoted comma?");
    sag_diags_free(&diags);
    sag_motor_list_free(&list);
    free(text);
}

static void plate_volts_with_decimal_commas(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    read_text("tag;rated_volts;rated_kw\nP;400,0;5,5\nQ;230,0/400,0;5,5\n", NULL, &list, &diags);
    check_diags("decimal commas", &diags, "");
    check_near("one", list.plates[0].volts_options[0], 400, 0);
    check_near("dual", list.plates[1].volts_options[1], 400, 0);
    sag_motor_list_free(&list);
}

static const char supply_text[] =
    "id,fed_from,kind,nominal_volts,kva,impedance_pct,primary_volts,secondary_volts,ohms_r\n"
    "LIFT,T1,cable,,,,,,0.01\n"
    "T1,UTIL,transformer,,750,5.75,13800,480,\n"
    "UTIL,,utility,13800,,,,,\n";

static void feeders_of_a_supply(void **state)
{
    (void)state;
    struct sag_supply supply;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    struct sag_input input = text_input("s.csv", supply_text);
    assert_int_equal(sag_read_supply(&input, shared_tables(), &supply, &diags), SAG_OK);
    read_text("tag,rated_volts,rated_hp,feeder\nA,460,5,\nB,460,5,LIFT\nC,460,5,T1\nD,460,5,LIFT\n", &supply, &list,
              &diags);
    assert_int_equal(list.feeder_count, 2);
    check_text("default: the first board", list.feeders[list.plates[0].feeder].id, "T1");
    check_text("named", list.feeders[list.plates[1].feeder].id, "LIFT");
    assert_int_equal(list.plates[2].feeder, list.plates[0].feeder);
    assert_int_equal(list.plates[3].feeder, list.plates[1].feeder);
    assert_int_equal(list.feeders[list.plates[1].feeder].node, sag_find_node(&supply, "LIFT"));
    sag_motor_list_free(&list);
    read_text("tag,rated_volts,rated_hp,feeder\nA,460,5,LIFTS\nB,460,5,elsewhere\n", &supply, &list, &diags);
    check_diags("unknown feeders", &diags,
                "2:4 N feeder: blank here (and it may be below); taken as T1, the first board\n"
                "2:4 E feeder: \"LIFTS\" is not an id of the supply file; did you mean LIFT?\n"
                "3:4 E feeder: \"elsewhere\" is not an id of the supply file\n");
    sag_motor_list_free(&list);
    sag_supply_free(&supply);
}

static void feeders_without_a_supply(void **state)
{
    (void)state;
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    read_text("tag,rated_volts,rated_hp,feeder\nA,460,5,\nB,460,5,PACK\nC,460,5,\n", NULL, &list, &diags);
    check_diags("feeders", &diags, "");
    assert_int_equal(list.feeder_count, 2);
    check_text("default", list.feeders[0].id, "MAIN");
    check_text("any name", list.feeders[1].id, "PACK");
    assert_int_equal(list.plates[2].feeder, 0);
    sag_motor_list_free(&list);
}

static void many_rows(void **state)
{
    (void)state;
    enum {
        MANY = 20000
    };
    char *text = malloc(MANY * 24 + 100);
    char *at = stpcpy(text, "tag,rated_volts,rated_hp\n");
    for (int i = 0; i < MANY; i++)
        at += sprintf(at, "M-%d,460,%d\n", i, i % 100 + 1);
    strcpy(at, "M-7,460,5\n");
    struct sag_motor_list list;
    struct sag_diags diags = {0};
    read_text(text, NULL, &list, &diags);
    check_diags("duplicate at the end", &diags, "20002:1 E tag: \"M-7\" already names the motor of line 9\n");
    assert_int_equal(list.count, MANY);
    check_text("last", list.plates[MANY - 1].tag, "M-19999");
    check_near("its power", list.plates[MANY - 1].given[SAG_RATED_POWER], 100 * SAG_WATTS_PER_HP, 0);
    sag_motor_list_free(&list);
    free(text);
}

TEST_LIST(motors, cmocka_unit_test(plate_volts), cmocka_unit_test(refuses_cells),
          cmocka_unit_test(power_factor_above_one), cmocka_unit_test(refuses_headers),
          cmocka_unit_test(names_the_nearest_column), cmocka_unit_test(usual_heads),
          cmocka_unit_test(two_numbers_in_a_cell), cmocka_unit_test(load_said_twice), cmocka_unit_test(wide_lists),
          cmocka_unit_test(words_beyond_all_columns), cmocka_unit_test(plate_volts_with_decimal_commas),
          cmocka_unit_test(feeders_of_a_supply), cmocka_unit_test(feeders_without_a_supply),
          cmocka_unit_test(many_rows))
