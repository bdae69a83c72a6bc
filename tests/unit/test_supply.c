#include <stdlib.h>

#include "read_help.h"

static enum sag_status read_text(const char *text, struct sag_supply *supply, struct sag_diags *diags)
{
    struct sag_input input = text_input("s.csv", text);
    return sag_read_supply(&input, shared_tables(), supply, diags);
}

static enum sag_status read_file(const char *path, struct sag_supply *supply, struct sag_diags *diags)
{
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("%s: not found; run the tests from the root of the tree", path);
    struct sag_input input = {.name = path, .file = file};
    enum sag_status status = sag_read_supply(&input, shared_tables(), supply, diags);
    fclose(file);
    return status;
}

static void check_order(const struct sag_supply *supply)
{
    for (size_t i = 0; i < supply->count; i++)
        assert_true(supply->nodes[i].parent < (int32_t)i);
}

struct node_row {
    const char *id, *parent;
    double volts;
};

static void check_nodes(const struct sag_supply *supply, const struct node_row *rows, size_t count)
{
    assert_int_equal(supply->count, count);
    check_order(supply);
    for (size_t i = 0; i < count; i++) {
        int32_t at = sag_find_node(supply, rows[i].id);
        if (at < 0)
            fail_msg("%s: not there", rows[i].id);
        const struct sag_node *node = &supply->nodes[at];
        check_text(rows[i].id, node->parent < 0 ? "" : supply->nodes[node->parent].id, rows[i].parent);
        check_near(rows[i].id, node->volts_nominal, rows[i].volts, 0);
        check_near(rows[i].id, node->hz, 60, 0);
        assert_int_equal(node->system, SAG_SYSTEM_WYE);
    }
    assert_int_equal(sag_find_node(supply, "NOWHERE"), -1);
}

static void demo_files(void **state)
{
    (void)state;
    static const struct node_row utility[] = {
        {"UTIL", "", 13800}, {"T1", "UTIL", 480}, {"LIFT", "T1", 480}, {"PACK", "T1", 480},
        {"COLD", "T1", 480}, {"FIRE", "T1", 480}, {"T2", "PACK", 208}, {"SHOP", "T2", 208},
    };
    static const struct node_row standby[] = {
        {"GEN", "", 480},     {"LIFT", "GEN", 480}, {"PACK", "GEN", 480}, {"COLD", "GEN", 480},
        {"FIRE", "GEN", 480}, {"T2", "PACK", 208},  {"SHOP", "T2", 208},
    };
    struct sag_supply supply;
    struct sag_diags diags = {0};
    read_file("motordata/cawdry-flats/supply.csv", &supply, &diags);
    check_diags("supply.csv", &diags, "");
    check_nodes(&supply, utility, COUNT(utility));
    sag_supply_free(&supply);
    read_file("motordata/cawdry-flats/supply-standby.csv", &supply, &diags);
    check_diags("supply-standby.csv", &diags, "");
    check_nodes(&supply, standby, COUNT(standby));
    sag_supply_free(&supply);
}

static void values_are_si(void **state)
{
    (void)state;
    struct sag_supply supply;
    struct sag_diags diags = {0};
    read_file("motordata/cawdry-flats/supply.csv", &supply, &diags);
    check_diags("supply.csv", &diags, "");
    const double *util = supply.nodes[sag_find_node(&supply, "UTIL")].given;
    const double *t1 = supply.nodes[sag_find_node(&supply, "T1")].given;
    const struct sag_node *lift = &supply.nodes[sag_find_node(&supply, "LIFT")];
    const struct sag_node *cold = &supply.nodes[sag_find_node(&supply, "COLD")];
    const struct {
        const char *name;
        double got, wanted;
    } rows[] = {
        {"fault_mva", util[SAG_NODE_FAULT_VA], 90e6},
        {"x_over_r", t1[SAG_NODE_X_OVER_R], 5.5},
        {"kva", t1[SAG_NODE_RATED_VA], 750e3},
        {"impedance_pct", t1[SAG_NODE_IMPEDANCE], 0.0575},
        {"tap_pct", t1[SAG_NODE_TAP], 0.025},
        {"rating_ka", t1[SAG_NODE_RATING_AMPS], 22e3},
        {"measured_ca", lift->given[SAG_NODE_MEASURED_CA], 499},
        {"length_ft", lift->given[SAG_NODE_LENGTH], 54.864},
        {"sets", lift->given[SAG_NODE_SETS], 2},
        {"device_amps", lift->given[SAG_NODE_DEVICE_AMPS], 600},
        {"load_kw", cold->given[SAG_NODE_LOAD_WATTS], 12e3},
        {"load_pf", cold->given[SAG_NODE_LOAD_PF], 1},
        {"ambient_c", cold->given[SAG_NODE_AMBIENT], 46},
        {"conductors", cold->given[SAG_NODE_CONDUCTORS], 3},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_percent(rows[i].name, rows[i].got, rows[i].wanted, 1e-10);
    check_text("conductor", lift->conductor, "250");
    assert_int_equal(cold->choice[SAG_NODE_MATERIAL], SAG_MATERIAL_AL);
    assert_int_equal(cold->choice[SAG_NODE_LOAD_KIND], SAG_LOAD_KIND_IMPEDANCE);
    assert_true(isnan(util[SAG_NODE_LOW_VOLTS]));
    sag_supply_free(&supply);
}

static void file_of_mistakes(void **state)
{
    (void)state;
    static const char mistakes[] =
        "6:2 E fed_from: the path runs in a loop through \"LOOP-A\"; one of its rows must hang on another\n"
        "8:2 E fed_from: no row has the id \"NOWHERE\"; write the id of the row above it\n"
        "9:2 E fed_from: a source is not fed; leave it blank, or two sources feed one board\n"
        "10:2 E fed_from: blank; only a utility or a generator stands at the top\n"
        "11:15 E secondary_volts: blank; it stands on the transformer's plate\n"
        "12:16 E length_ft: blank; a cable needs a length, or ohms_r and ohms_x\n"
        "13:3 E kind: \"busway\" is not one of utility, generator, transformer, cable\n"
        "14:13 E impedance_pct: \"-4\" is outside 0.1 to 40 %\n"
        "15:17 E conductor: \"35\" is not a size of the conductor tables; write 12, 4/0, 250 (kcmil), or for metric "
        "35mm2\n"
        "17:1 E id: \"TWICE\" already names the row of line 16\n"
        "18:8 E measured_ca: blank; give all three line voltages or none\n"
        "19:2 E fed_from: \"ITSELF\" is fed from itself; write the id of the row above it\n"
        "20:2 E fed_from: no row has the id \"GOD\"; did you mean \"GOOD\"?\n"
        "21:13 E impedance_pct: 0.0575 looks like a fraction; write 5.75\n"
        "22:23 E tap_pct: \"25\" is outside -20 to 20 %\n"
        "23:24 E bank: only a transformer has one; leave it blank, or is kind meant as transformer?\n"
        "24:16 N length_ft: ignored; give the cable a row of its own\n"
        "25:25 E ohms_r: no ohms and no length; give one, or for a link without impedance a length of 0\n"
        "26:25 E ohms_r: \"-0.1\" is outside 0 to 10000 ohm\n"
        "27:16 E length_ft: the device's 30 A would drop 390 % of 480 V; are length, size, sets and amps right? At "
        "most 2309 ft are taken here\n"
        "28:17 E conductor: \"700\" is not a size of the conductor tables; nearest 600 and 750; for metric write "
        "700mm2\n"
        "29:17 E conductor: the conductor tables have no aluminum 14; the smallest is 12; is the material right?\n"
        "30:8 E measured_ca: 48 V on a board of 480 V; is it a slip? From 240 to 624 V are taken, line to line\n"
        "31:10 E fault_mva: 0.9 MVA is too weak for the 750 kVA of \"T-WEAK\" on line 32; was a unit mixed up? At "
        "least 1.125 MVA are wanted\n"
        "33:11 E x_over_r: \"1000\" is outside 0.01 to 200\n"
        "34:21 E low_volts: more than 25 % below the nominal 480 V; is it a slip? 360 V is the least that is taken\n"
        "34:22 E high_volts: more than 25 % above the nominal 480 V; is it a slip? 600 V is the most that is taken\n"
        "35:27 E transient_pct: 0.18 looks like a fraction; write 18\n";
    struct sag_supply supply;
    struct sag_diags diags = {0};
    assert_int_equal(read_file("motordata/examples/mistakes-supply.csv", &supply, &diags), SAG_BAD_INPUT);
    check_diags("mistakes-supply.csv", &diags, mistakes);
    sag_supply_free(&supply);
}

#define HEAD                                                                                                           \
    "id,fed_from,kind,nominal_volts,low_volts,high_volts,kva,impedance_pct,primary_volts,secondary_volts,length_ft,"   \
    "conductor,system,hz,ohms_r,measured_ab,measured_bc,measured_ca\n"
#define UTIL "U,,utility,480\n"

static void refuses_rows(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *faults;
    } rows[] = {
        {"no volts", HEAD "U,,utility\n", "2:4 E nominal_volts: blank; a source needs its line volts\n"},
        {"low above nominal", HEAD "U,,utility,480,490\n",
         "2:5 E low_volts: is above nominal_volts; write the low end of the range\n"},
        {"high below nominal", HEAD "U,,utility,480,,470\n",
         "2:6 E high_volts: is below nominal_volts; write the high end of the range\n"},
        {"generator", HEAD "G,,generator,480\n", "2:7 E kva: blank; a generator needs its rating\n"},
        {"transformer", HEAD UTIL "T,U,transformer\n",
         "3:7 E kva: blank; a transformer needs its rating\n"
         "3:8 E impedance_pct: blank; it stands on the transformer's plate\n"
         "3:9 E primary_volts: blank; it stands on the transformer's plate\n"
         "3:10 E secondary_volts: blank; it stands on the transformer's plate\n"},
        {"primary far off", HEAD UTIL "T,U,transformer,,,,45,4,13800,208\n",
         "3:9 E primary_volts: more than 25 % from the board it is fed from, which has volts of \"480\"\n"},
        {"cable", HEAD UTIL "C,U,cable\n",
         "3:11 E length_ft: blank; a cable needs a length, or ohms_r and ohms_x\n"
         "3:12 E conductor: blank; a cable needs a size, or ohms_r and ohms_x\n"},
        {"size", HEAD UTIL "C,U,cable,,,,,,,,10,251\n",
         "3:12 E conductor: \"251\" is not a size of the conductor tables; nearest 250 and 300; for metric write "
         "251mm2\n"},
        {"size with a slip", HEAD UTIL "C,U,cable,,,,,,,,10,4/O\n",
         "3:12 E conductor: \"4/O\" is not a size of the conductor tables; did you mean 4/0?\n"},
        {"size of nothing", HEAD UTIL "C,U,cable,,,,,,,,10,thick wire\n",
         "3:12 E conductor: \"thick wire\" is not a size of the conductor tables; write 12, 4/0, 250 (kcmil), or for "
         "metric 95mm2\n"},
        {"no id, no kind", HEAD UTIL ",U\n",
         "3:1 E id: blank; every row needs a name of its own\n"
         "3:3 E kind: blank; write utility, generator, transformer or cable\n"},
        {"near id", HEAD UTIL "MAIN,U,cable,,,,,,,,10,250\nC,MAI,cable,,,,,,,,10,250\n",
         "4:2 E fed_from: no row has the id \"MAI\"; did you mean \"MAIN\"?\n"},
        {"fed by itself", HEAD UTIL "C,C,cable,,,,,,,,10,250\n",
         "3:2 E fed_from: \"C\" is fed from itself; write the id of the row above it\n"},
        {"one measured", HEAD "U,,utility,480,,,,,,,,,,,,480\n",
         "2:17 E measured_bc: blank; give all three line voltages or none\n"},
        {"impedance as a share", HEAD UTIL "T,U,transformer,,,,45,0.0575,480,208\n",
         "3:8 E impedance_pct: 0.0575 looks like a fraction; write 5.75\n"},
        {"volts to the neutral", HEAD "U,,utility,480,,,,,,,,,,,,277,278,276\n",
         "2:16 E measured_ab: these look like volts to the neutral; give line to line, at \"U\"\n"},
        {"volts to the neutral behind a transformer", HEAD UTIL "T,U,transformer,,,,45,4,480,208,,,,,,120,121,119\n",
         "3:16 E measured_ab: these look like volts to the neutral; give line to line, at \"T\"\n"},
        {"no triangle", HEAD "U,,utility,480,,,,,,,,,,,,480,240,230\n",
         "2:16 E measured_ab: cannot be line voltages: the largest is not less than the other two together\n"},
        {"a triangle laid flat", HEAD "U,,utility,480,,,,,,,,,,,,480,240,240\n",
         "2:16 E measured_ab: cannot be line voltages: the largest is not less than the other two together\n"},
        {"no rows", HEAD, "0:0 E no rows below the header; give at least a source\n"},
        {"header", "id,volts\nU,480\n",
         "1:0 E the header has no column fed_from\n1:0 E the header has no column kind\n"
         "1:2 W column \"volts\" is ignored\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_supply supply;
        struct sag_diags diags = {0};
        assert_int_equal(read_text(rows[i].text, &supply, &diags), SAG_BAD_INPUT);
        check_diags(rows[i].name, &diags, rows[i].faults);
        sag_supply_free(&supply);
    }
}

static void carries_system_and_hz(void **state)
{
    (void)state;
    static const struct {
        const char *id;
        double volts;
        int system;
    } rows[] = {
        {"U", 480, SAG_SYSTEM_DELTA}, {"C", 480, SAG_SYSTEM_DELTA},      {"T", 208, SAG_SYSTEM_WYE},
        {"D", 208, SAG_SYSTEM_WYE},   {"X", 240, SAG_SYSTEM_UNGROUNDED}, {"E", 240, SAG_SYSTEM_UNGROUNDED},
    };
    struct sag_supply supply;
    struct sag_diags diags = {0};
    read_text(HEAD "E,X,cable,,,,,,,,10,95mm2\nD,T,cable,,,,,,,,10,4/0\nX,U,transformer,,,,45,4,480,240,,,ungrounded\n"
                   "T,C,transformer,,,,45,4,480,208\nC,U,cable,,,,,,,,,,,,0.01\nU,,utility,480,,,,,,,,,delta,50\n",
              &supply, &diags);
    check_diags("systems", &diags, "");
    check_order(&supply);
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct sag_node *node = &supply.nodes[sag_find_node(&supply, rows[i].id)];
        check_near(rows[i].id, node->volts_nominal, rows[i].volts, 0);
        check_near(rows[i].id, node->hz, 50, 0);
        if (node->system != rows[i].system)
            fail_msg("%s: system %d, wanted %d", rows[i].id, node->system, rows[i].system);
    }
    sag_supply_free(&supply);
}

/* A chain of cables below one source, the deepest first when `upside_down`. */
static void read_chain(int depth, bool upside_down, struct sag_supply *supply)
{
    char *text = malloc((size_t)depth * 40 + 300);
    char *at = stpcpy(text, HEAD UTIL);
    for (int i = 0; i < depth; i++) {
        int n = upside_down ? depth - i : i + 1;
        at += n == 1 ? sprintf(at, "C1,U,cable,,,,,,,,1,250\n") : sprintf(at, "C%d,C%d,cable,,,,,,,,1,250\n", n, n - 1);
    }
    struct sag_diags diags = {0};
    enum sag_status status = read_text(text, supply, &diags);
    check_diags("chain", &diags, "");
    assert_int_equal(status, SAG_OK);
    free(text);
}

static void row_order_changes_nothing(void **state)
{
    (void)state;
    enum {
        DEPTH = 3000
    };
    struct sag_supply down, up;
    read_chain(DEPTH, false, &down);
    read_chain(DEPTH, true, &up);
    assert_int_equal(down.count, DEPTH + 1);
    assert_int_equal(up.count, DEPTH + 1);
    check_order(&up);
    for (size_t i = 0; i < down.count; i++) { /* one path: parents before children leaves one order only */
        check_text("id", up.nodes[i].id, down.nodes[i].id);
        assert_int_equal(up.nodes[i].parent, down.nodes[i].parent);
        check_near("volts", up.nodes[i].volts_nominal, 480, 0);
    }
    check_text("deepest", down.nodes[DEPTH].id, "C3000");
    sag_supply_free(&down);
    sag_supply_free(&up);
}

TEST_LIST(supply, cmocka_unit_test(demo_files), cmocka_unit_test(values_are_si), cmocka_unit_test(file_of_mistakes),
          cmocka_unit_test(refuses_rows), cmocka_unit_test(carries_system_and_hz),
          cmocka_unit_test(row_order_changes_nothing))
