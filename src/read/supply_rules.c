#include "read/supply_rules.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "read/conductor.h"

static bool blank(const struct sag_node *row, enum sag_node_fact fact)
{
    return isnan(row->given[fact]);
}

/* Zeros fill the cells of many a spreadsheet, and say nothing here. */
static bool says_something(const struct row_check *check, const char *column)
{
    uint32_t cell = cell_of(check->set, check->map, column);
    return is_filled(check, column) && strcmp(check->cells->cells[cell - 1].text, "0") != 0;
}

enum { /* kinds as a set */
    UTILITY = 1 << SAG_NODE_UTILITY,
    GENERATOR = 1 << SAG_NODE_GENERATOR,
    SOURCE = UTILITY | GENERATOR,
    TRANSFORMER = 1 << SAG_NODE_TRANSFORMER,
    CABLE = 1 << SAG_NODE_CABLE,
};

/* A value that its kind of row has no use for was meant for something. A tap or an open bank in the wrong row leaves
   volts wrong without a sign, so these two are refused. */
static enum sag_status check_kind_of_columns(const struct row_check *check, uint8_t kind)
{
    static const struct {
        const char *column;
        int kinds;
        enum sag_severity severity;
        const char *what;
    } rows[] = {
        {"bank", TRANSFORMER, SAG_ERROR,
         "only a transformer has one; leave it blank, or is kind meant as transformer?"},
        {"tap_pct", TRANSFORMER, SAG_ERROR, "only a transformer has one; leave it blank, or put it in that row"},
        {"nominal_volts", SOURCE, SAG_NOTE, "ignored; only a source has it, and the rows below take theirs from it"},
        {"low_volts", SOURCE, SAG_NOTE, "ignored; only a source has it"},
        {"high_volts", SOURCE, SAG_NOTE, "ignored; only a source has it"},
        {"hz", SOURCE, SAG_NOTE, "ignored; only a source has it"},
        {"fault_mva", UTILITY, SAG_NOTE, "ignored; only a utility has it"},
        {"fault_ka", UTILITY, SAG_NOTE, "ignored; only a utility has it"},
        {"transient_pct", GENERATOR, SAG_NOTE, "ignored; only a generator has it"},
        {"recovery_s", GENERATOR, SAG_NOTE, "ignored; only a generator has it"},
        {"kva", GENERATOR | TRANSFORMER, SAG_NOTE, "ignored; only a generator or a transformer has it"},
        {"x_over_r", SOURCE | TRANSFORMER, SAG_NOTE, "ignored; a cable has ohms_r and ohms_x"},
        {"impedance_pct", TRANSFORMER, SAG_NOTE, "ignored; only a transformer has it"},
        {"primary_volts", TRANSFORMER, SAG_NOTE, "ignored; only a transformer has it"},
        {"secondary_volts", TRANSFORMER, SAG_NOTE, "ignored; only a transformer has it"},
        {"length_ft", CABLE, SAG_NOTE, "ignored; give the cable a row of its own"},
        {"length_m", CABLE, SAG_NOTE, "ignored; give the cable a row of its own"},
        {"conductor", CABLE, SAG_NOTE, "ignored; give the cable a row of its own"},
        {"ohms_r", CABLE, SAG_NOTE, "ignored; give the cable a row of its own"},
        {"ohms_x", CABLE, SAG_NOTE, "ignored; give the cable a row of its own"},
    };
    enum sag_status status = SAG_OK;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (!(rows[i].kinds >> kind & 1) && says_something(check, rows[i].column)) {
            enum sag_status one = say_of(check, rows[i].severity, rows[i].column, "%s", rows[i].what);
            status = one != SAG_OK ? one : status;
        }
    return status;
}

/* The ends of a source's range: on their side of nominal, and not so far off that a digit slipped. */
static enum sag_status check_range(const struct row_check *check, const struct sag_node *row)
{
    const double apart = 0.25; /* beyond any supply's range; common practice, no source */
    enum sag_status status = SAG_OK;
    char far[SAG_NUMBER_ROOM], volts[SAG_NUMBER_ROOM];
    double nominal = row->given[SAG_NODE_NOMINAL_VOLTS];
    double low = row->given[SAG_NODE_LOW_VOLTS], high = row->given[SAG_NODE_HIGH_VOLTS];
    sag_number_figures(volts, nominal, 6);
    if (low > nominal)
        status = refuse_cell(check, "low_volts", "is above nominal_volts; write the low end of the range");
    if (high < nominal)
        status = refuse_cell(check, "high_volts", "is below nominal_volts; write the high end of the range");
    if (low < (1 - apart) * nominal)
        status = say_of(check, SAG_ERROR, "low_volts",
                        "more than 25 %% below the nominal %s V; is it a slip? %s V is the least that is taken", volts,
                        sag_number_figures(far, (1 - apart) * nominal, 6));
    if (high > (1 + apart) * nominal)
        status = say_of(check, SAG_ERROR, "high_volts",
                        "more than 25 %% above the nominal %s V; is it a slip? %s V is the most that is taken", volts,
                        sag_number_figures(far, (1 + apart) * nominal, 6));
    return status;
}

/* Both are the same fact, and only one of them would be used. */
static enum sag_status check_fault_level(const struct row_check *check, const struct sag_node *row)
{
    const double same = 0.1;   /* share; both are rounded, often to two figures */
    const double most = 400e3; /* A; twice the most that breakers are built to break, common practice, no source */
    const double *g = row->given;
    double by_amps = sqrt(3.0) * g[SAG_NODE_NOMINAL_VOLTS] * g[SAG_NODE_FAULT_AMPS];
    char text[SAG_NUMBER_ROOM];
    double amps = fmax(g[SAG_NODE_FAULT_VA] / sqrt(3.0) / g[SAG_NODE_NOMINAL_VOLTS], g[SAG_NODE_FAULT_AMPS]);
    if (amps > most)
        return say_of(check, SAG_ERROR, isnan(g[SAG_NODE_FAULT_VA]) ? "fault_ka" : "fault_mva",
                      "makes a bolted fault of %s kA, which no public supply has; is it in kVA, or the volts wrong?",
                      sag_number_figures(text, amps / 1000, 4));
    if (!(fabs(by_amps / g[SAG_NODE_FAULT_VA] - 1) > same))
        return SAG_OK;
    return say_of(check, SAG_ERROR, "fault_ka", "disagrees with fault_mva, which makes it %s kA; give one of them",
                  sag_number_figures(text, g[SAG_NODE_FAULT_VA] / sqrt(3.0) / g[SAG_NODE_NOMINAL_VOLTS] / 1000, 4));
}

static enum sag_status check_source(const struct row_check *check, const struct sag_node *row, const char *fed_from)
{
    bool generator = row->choice[SAG_NODE_KIND] == SAG_NODE_GENERATOR;
    enum sag_status status = check_range(check, row);
    enum sag_status level = check_fault_level(check, row);
    if (fed_from)
        status = refuse_cell(check, "fed_from", "a source is not fed; leave it blank, or two sources feed one board");
    if (blank(row, SAG_NODE_NOMINAL_VOLTS))
        status = refuse_cell(check, "nominal_volts", "blank; a source needs its line volts");
    if (generator && blank(row, SAG_NODE_RATED_VA))
        status = refuse_cell(check, "kva", "blank; a generator needs its rating");
    return level != SAG_OK ? level : status;
}

static enum sag_status check_transformer(const struct row_check *check, const struct sag_node *row)
{
    enum sag_status status = SAG_OK;
    if (blank(row, SAG_NODE_RATED_VA))
        status = refuse_cell(check, "kva", "blank; a transformer needs its rating");
    if (blank(row, SAG_NODE_IMPEDANCE))
        status = refuse_cell(check, "impedance_pct", "blank; it stands on the transformer's plate");
    if (blank(row, SAG_NODE_PRIMARY_VOLTS))
        status = refuse_cell(check, "primary_volts", "blank; it stands on the transformer's plate");
    if (blank(row, SAG_NODE_SECONDARY_VOLTS))
        status = refuse_cell(check, "secondary_volts", "blank; it stands on the transformer's plate");
    return status;
}

/* Ohms stand instead of length and size, so that two zeros would wipe out a length. A link without impedance is a
   cable of length 0. */
static enum sag_status check_ohms(const struct row_check *check, const struct sag_node *row)
{
    const double *g = row->given;
    const char *column = used_column(check, "ohms_r", "ohms_x");
    if (fmax(g[SAG_NODE_OHMS_R], g[SAG_NODE_OHMS_X]) > 0 || g[SAG_NODE_LENGTH] == 0)
        return SAG_OK;
    if (g[SAG_NODE_LENGTH] > 0)
        return refuse_cell(check, column, "no ohms, yet a length; leave ohms_r and ohms_x blank to take them from it");
    return refuse_cell(check, column, "no ohms and no length; give one, or for a link without impedance a length of 0");
}

static enum sag_status check_cable(const struct row_check *check, const struct sag_node *row)
{
    enum sag_status status = SAG_OK;
    bool ohms = !blank(row, SAG_NODE_OHMS_R) || !blank(row, SAG_NODE_OHMS_X);
    bool link = row->given[SAG_NODE_LENGTH] == 0; /* bars side by side: no size matters */
    if (ohms)
        status = check_ohms(check, row);
    else if (blank(row, SAG_NODE_LENGTH))
        status = refuse_cell(check, used_column(check, "length_ft", "length_m"),
                             "blank; a cable needs a length, or ohms_r and ohms_x");
    if (!*row->conductor && !ohms && !link)
        status = refuse_cell(check, "conductor", "blank; a cable needs a size, or ohms_r and ohms_x");
    if (*row->conductor) {
        struct conductor_cells cells = {"conductor", row->conductor, row->choice[SAG_NODE_MATERIAL]};
        enum sag_status material = check_material(check, &cells);
        status = material != SAG_OK ? material : status;
    }
    return status;
}

bool sag_lines_close(const double line[3])
{
    double most = fmax(line[0], fmax(line[1], line[2]));
    return 2 * most < line[0] + line[1] + line[2];
}

static enum sag_status check_measured(const struct row_check *check, const struct sag_node *row)
{
    const double *g = row->given;
    const double line[3] = {g[SAG_NODE_MEASURED_AB], g[SAG_NODE_MEASURED_BC], g[SAG_NODE_MEASURED_CA]};
    if (!isnan(line[0] + line[1] + line[2]) && !sag_lines_close(line))
        return refuse_cell(check, "measured_ab",
                           "cannot be line voltages: the largest is not less than the other two together");
    int given = !isnan(line[0]) + !isnan(line[1]) + !isnan(line[2]);
    const char *missing = isnan(line[0]) ? "measured_ab" : isnan(line[1]) ? "measured_bc" : "measured_ca";
    return given == 0 || given == 3 ? SAG_OK
                                    : refuse_cell(check, missing, "blank; give all three line voltages or none");
}

enum sag_status check_supply_row(const struct row_check *check, const struct sag_node *row, const char *fed_from)
{
    enum sag_status status = check_measured(check, row);
    enum sag_status kind = SAG_OK;
    uint8_t what = row->choice[SAG_NODE_KIND];
    if (!row->id)
        status = refuse_cell(check, "id", "blank; every row needs a name of its own");
    if (what == SAG_NODE_KIND_BLANK)
        return refuse_cell(check, "kind", "blank; write utility, generator, transformer or cable");
    if (what == SAG_NODE_TRANSFORMER)
        kind = check_transformer(check, row);
    else if (what == SAG_NODE_CABLE)
        kind = check_cable(check, row);
    else
        kind = check_source(check, row, fed_from);
    if ((what == SAG_NODE_TRANSFORMER || what == SAG_NODE_CABLE) && !fed_from)
        kind = refuse_cell(check, "fed_from", "blank; only a utility or a generator stands at the top");
    enum sag_status columns = check_kind_of_columns(check, what);
    return kind != SAG_OK ? kind : columns != SAG_OK ? columns : status;
}
