/* Every column of MOTORS.csv lands where it belongs. */
#include "read_help.h"

enum kind {
    NUMBER,
    CHOICE,
    TEXT
};

struct column_row {
    const char *column, *cell;
    enum kind kind;
    int index;
    double value; /* SI; for a choice its enumerator */
};

static const struct column_row rows[] = {
    {"tag", "P-1", TEXT, 0, 0},
    {"feeder", "LIFT", TEXT, 0, 0},
    {"rated_volts", "460", TEXT, 0, 0},
    {"rated_hp", "75", NUMBER, SAG_RATED_POWER, 55950},
    {"efficiency_pct", "94.1", NUMBER, SAG_EFFICIENCY, 0.941},
    {"power_factor", "0.86", NUMBER, SAG_POWER_FACTOR, 0.86},
    {"rated_amps", "87.5", NUMBER, SAG_RATED_AMPS, 87.5},
    {"phases", "3", NUMBER, SAG_PHASES, 3},
    {"hz", "50", NUMBER, SAG_HZ, 50},
    {"rpm", "1470", NUMBER, SAG_RPM, 1470},
    {"poles", "4", NUMBER, SAG_POLES, 4},
    {"design", "c", CHOICE, SAG_DESIGN, SAG_DESIGN_C},
    {"code_letter", "g", TEXT, 0, 0},
    {"locked_amps", "540", NUMBER, SAG_LOCKED_AMPS, 540},
    {"locked_torque_pct", "150", NUMBER, SAG_LOCKED_TORQUE, 1.5},
    {"breakdown_torque_pct", "220", NUMBER, SAG_BREAKDOWN_TORQUE, 2.2},
    {"service_factor", "1.15", NUMBER, SAG_SERVICE_FACTOR, 1.15},
    {"insulation", "F", CHOICE, SAG_INSULATION, SAG_INSULATION_F},
    {"rise_c", "80", NUMBER, SAG_RISE, 80},
    {"enclosure", "Enclosed", CHOICE, SAG_ENCLOSURE, SAG_ENCLOSURE_CLOSED},
    {"year", "1958", NUMBER, SAG_YEAR, 1958},
    {"saturation", "HIGH", CHOICE, SAG_SATURATION, SAG_SATURATION_HIGH},
    {"rotor", "wound", CHOICE, SAG_ROTOR, SAG_ROTOR_WOUND},
    {"load", "compressor", CHOICE, SAG_LOAD, SAG_LOAD_COMPRESSOR},
    {"load_pct", "90", NUMBER, SAG_LOAD_SHARE, 0.9},
    {"load_hp", "67.5", NUMBER, SAG_LOAD_POWER, 50355},
    {"load_inertia_lbft2", "9", NUMBER, SAG_LOAD_INERTIA, 0.379260990846},
    {"rotor_inertia_lbft2", "10", NUMBER, SAG_ROTOR_INERTIA, 0.42140110094},
    {"stall_time_s", "14", NUMBER, SAG_STALL_TIME, 14},
    {"starts_per_hour", "2", NUMBER, SAG_STARTS_PER_HOUR, 2},
    {"starting", "autotransformer", CHOICE, SAG_STARTING, SAG_STARTING_AUTOTRANSFORMER},
    {"start_setting", "65", NUMBER, SAG_START_SETTING, 0.65},
    {"transfer_s", "6", NUMBER, SAG_TRANSFER_TIME, 6},
    {"ramp_s", "5", NUMBER, SAG_RAMP_TIME, 5},
    {"start_order", "8", NUMBER, SAG_START_ORDER, 8},
    {"start_delay_s", "30", NUMBER, SAG_START_DELAY, 30},
    {"branch_length_ft", "60", NUMBER, SAG_BRANCH_LENGTH, 18.288},
    {"branch_conductor", "2/0", TEXT, 0, 0},
    {"branch_material", "al", CHOICE, SAG_MATERIAL, SAG_MATERIAL_AL},
    {"branch_raceway", "pvc", CHOICE, SAG_RACEWAY, SAG_RACEWAY_PVC},
    {"device", "nontime_fuse", CHOICE, SAG_DEVICE, SAG_DEVICE_NONTIME_FUSE},
    {"device_amps", "200", NUMBER, SAG_DEVICE_AMPS, 200},
    {"overload_amps", "100", NUMBER, SAG_OVERLOAD_AMPS, 100},
    {"trip_class", "20", CHOICE, SAG_TRIP_CLASS, 3},
    {"duty", "fire_pump", CHOICE, SAG_DUTY, 2},
    {"note", "east, \"old\"", TEXT, 0, 0},
};
/* The same facts in the other unit. */
static const struct column_row twins[] = {
    {"rated_kw", "55", NUMBER, SAG_RATED_POWER, 55000},
    {"load_inertia_kgm2", "0.4", NUMBER, SAG_LOAD_INERTIA, 0.4},
    {"rotor_inertia_kgm2", "0.5", NUMBER, SAG_ROTOR_INERTIA, 0.5},
    {"branch_length_m", "20", NUMBER, SAG_BRANCH_LENGTH, 20},
    {"branch_ambient_c", "46", NUMBER, SAG_BRANCH_AMBIENT, 46},
    {"branch_conductors", "6", NUMBER, SAG_BRANCH_CONDUCTORS, 6},
};

static const struct column_row *twin_of(const struct column_row *row)
{
    for (size_t i = 0; i < COUNT(twins); i++)
        if (row->kind == NUMBER && twins[i].index == row->index)
            return &twins[i];
    return row;
}

/* Header and one row, all columns from the last to the first. */
static void write_file(char *out, bool si)
{
    const char *between = "";
    for (int line = 0; line < 2; line++, between = "\n") {
        out = stpcpy(out, between);
        for (size_t i = COUNT(rows); i-- > 0;) {
            const struct column_row *row = si ? twin_of(&rows[i]) : &rows[i];
            const char *text = line == 0                     ? row->column
                               : strcmp(row->column, "note") ? row->cell
                                                             : "\"east, \"\"old\"\"\"";
            out = stpcpy(stpcpy(out, text), i ? "," : "");
        }
    }
}

static void check_plate(const struct sag_plate *plate, bool si)
{
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct column_row *row = si ? twin_of(&rows[i]) : &rows[i];
        if (row->kind == NUMBER)
            check_percent(row->column, plate->given[row->index], row->value, 1e-10);
        if (row->kind == CHOICE)
            check_near(row->column, plate->choice[row->index], row->value, 0);
    }
    check_text("tag", plate->tag, "P-1");
    check_text("note", plate->note, "east, \"old\"");
    check_text("branch_conductor", plate->conductor, "2/0");
    assert_int_equal(plate->code_letter, 'G');
    assert_int_equal(plate->line, 2);
    check_near("rated_volts", plate->volts_options[0], 460, 0);
    check_near("second voltage", plate->volts_options[1], 0, 0);
    assert_true(isnan(plate->given[SAG_RATED_VOLTS]));
}

static void every_column_lands(void **state)
{
    (void)state;
    for (int si = 0; si < 2; si++) {
        char text[4000];
        struct sag_motor_list list;
        struct sag_diags diags = {0};
        write_file(text, si);
        struct sag_input input = text_input("m.csv", text);
        enum sag_status status = sag_read_motors(&input, shared_tables(), NULL, &list, &diags);
        check_diags("all columns", &diags, "2:13 N ramp_s: ignored; starting is autotransformer, which has no ramp\n");
        assert_int_equal(status, SAG_OK);
        assert_int_equal(list.count, 1);
        check_plate(&list.plates[0], si);
        check_text("feeder", list.feeders[list.plates[0].feeder].id, "LIFT");
        assert_int_equal(list.feeders[0].node, -1);
        sag_motor_list_free(&list);
    }
}

static bool is_tried(const char *column)
{
    for (size_t i = 0; i < COUNT(rows); i++)
        if (strcmp(rows[i].column, column) == 0)
            return true;
    for (size_t i = 0; i < COUNT(twins); i++)
        if (strcmp(twins[i].column, column) == 0)
            return true;
    return false;
}

/* No column is left out above, and none above is unknown. */
static void the_list_is_complete(void **state)
{
    (void)state;
    struct sag_column_help help;
    assert_int_equal(sag_motor_columns(0, &help), COUNT(rows) + COUNT(twins));
    for (size_t i = 0; i < sag_motor_columns(i, &help); i++) {
        sag_motor_columns(i, &help);
        if (!is_tried(help.name) || !*help.group || !*help.help)
            fail_msg("%s: not tried above, or without words", help.name);
    }
}

static void facts_name_their_column(void **state)
{
    (void)state;
    static const struct {
        enum sag_fact fact;
        const char *column;
    } asked[] = {
        {SAG_RATED_VOLTS, "rated_volts"},
        {SAG_RATED_POWER, "rated_hp"},
        {SAG_HZ, "hz"},
        {SAG_SLIP, "rpm"},
        {SAG_LOCKED_KVA, "code_letter"},
        {SAG_MAIN_FLUX, "saturation"},
        {SAG_RISE, "rise_c"},
        {SAG_DEVICE_AMPS, "device_amps"},
    };
    for (size_t i = 0; i < COUNT(asked); i++)
        check_text("column", sag_motor_column_of(asked[i].fact), asked[i].column);
    assert_null(sag_motor_column_of(SAG_TABLE_AMPS));
    assert_null(sag_motor_column_of(SAG_RATED_TORQUE));
}

TEST_LIST(motor_columns, cmocka_unit_test(every_column_lands), cmocka_unit_test(the_list_is_complete),
          cmocka_unit_test(facts_name_their_column))
