/* SUPPLY.csv: a row a piece of the path that current takes. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "read/columns.h"
#include "read/conductor.h"
#include "read/tags.h"
#include "read/tree.h"
#include "sagband/read.h"

enum text_target {
    TEXT_ID,
    TEXT_FED_FROM,
    TEXT_CONDUCTOR,
};

#define FOOT  SAG_METRES_PER_FOOT
#define CENT  0.01
#define KILO  1e3
#define MEGA  1e6
#define ALL   "every row"
#define SRC   "source"
#define TRAFO "transformer"
#define WIRE  "cable"

/* clang-format off: one row a column */
static const struct column columns[] = {
    {"id", COLUMN_TEXT, TEXT_ID, 1, 0, 0, "", ALL, "name of the row and of the board at its load end", "MAIN"},
    {"fed_from", COLUMN_TEXT, TEXT_FED_FROM, 1, 0, 0, "", ALL, "id it hangs on; blank for a source", ""},
    {"kind", COLUMN_CHOICE, SAG_NODE_KIND, 1, 0, 0, "", ALL, "utility generator transformer cable", "utility"},
    {"nominal_volts", COLUMN_NUMBER, SAG_NODE_NOMINAL_VOLTS, 1, 20, 765000, "V", SRC, "line volts", "480"},
    {"low_volts", COLUMN_NUMBER, SAG_NODE_LOW_VOLTS, 1, 20, 765000, "V", SRC, "default ANSI C84.1 Range A", ""},
    {"high_volts", COLUMN_NUMBER, SAG_NODE_HIGH_VOLTS, 1, 20, 765000, "V", SRC, "default ANSI C84.1 Range A", ""},
    {"hz", COLUMN_NUMBER, SAG_NODE_HZ, 1, 15, 400, "Hz", SRC, "default 60", "60"},
    {"measured_ab", COLUMN_NUMBER, SAG_NODE_MEASURED_AB, 1, 10, 765000, "V", ALL, "line volts at its load end", ""},
    {"measured_bc", COLUMN_NUMBER, SAG_NODE_MEASURED_BC, 1, 10, 765000, "V", ALL, "all three or none", ""},
    {"measured_ca", COLUMN_NUMBER, SAG_NODE_MEASURED_CA, 1, 10, 765000, "V", ALL, "all three or none", ""},
    {"system", COLUMN_CHOICE, SAG_NODE_SYSTEM, 1, 0, 0, "", ALL, "wye delta ungrounded", "wye"},
    {"fault_mva", COLUMN_NUMBER, SAG_NODE_FAULT_VA, MEGA, 0.01, 1e6, "MVA", SRC, "three-phase fault level", "90"},
    {"fault_ka", COLUMN_NUMBER, SAG_NODE_FAULT_AMPS, KILO, 0.01, 1000, "kA", SRC, "instead of fault_mva", ""},
    {"x_over_r", COLUMN_NUMBER, SAG_NODE_X_OVER_R, 1, 0.01, 200, "", ALL, "of utility or transformer", "8"},
    {"kva", COLUMN_NUMBER, SAG_NODE_RATED_VA, KILO, 0.05, 1e6, "kVA", TRAFO, "of generator or transformer", ""},
    {"transient_pct", COLUMN_NUMBER, SAG_NODE_TRANSIENT, CENT, 1, 100, "%", SRC, "generator, on its kva", ""},
    {"recovery_s", COLUMN_NUMBER, SAG_NODE_RECOVERY_TIME, 1, 0, 60, "s", SRC, "generator regulator", ""},
    {"impedance_pct", COLUMN_PERCENT, SAG_NODE_IMPEDANCE, CENT, 0.1, 40, "%", TRAFO, "on its plate", ""},
    {"primary_volts", COLUMN_NUMBER, SAG_NODE_PRIMARY_VOLTS, 1, 20, 765000, "V", TRAFO, "on its plate", ""},
    {"secondary_volts", COLUMN_NUMBER, SAG_NODE_SECONDARY_VOLTS, 1, 20, 765000, "V", TRAFO, "plate, no load", ""},
    {"tap_pct", COLUMN_NUMBER, SAG_NODE_TAP, CENT, -20, 20, "%", TRAFO, "+2.5 raises the secondary by 2.5 %", ""},
    {"bank", COLUMN_CHOICE, SAG_NODE_BANK, 1, 0, 0, "", TRAFO, "closed or open (open delta)", ""},
    {"length_ft", COLUMN_NUMBER, SAG_NODE_LENGTH, FOOT, 0, 1e6, "ft", WIRE, "one way", ""},
    {"length_m", COLUMN_NUMBER, SAG_NODE_LENGTH, 1, 0, 3e5, "m", WIRE, "one way", ""},
    {"conductor", COLUMN_TEXT, TEXT_CONDUCTOR, 1, 0, 0, "", WIRE, "12 .. 4/0, 250 .. 1000, 95mm2", ""},
    {"material", COLUMN_CHOICE, SAG_NODE_MATERIAL, 1, 0, 0, "", WIRE, "cu or al", ""},
    {"raceway", COLUMN_CHOICE, SAG_NODE_RACEWAY, 1, 0, 0, "", WIRE, "steel pvc aluminum", ""},
    {"sets", COLUMN_WHOLE, SAG_NODE_SETS, 1, 1, 40, "", WIRE, "in parallel", ""},
    {"ohms_r", COLUMN_NUMBER, SAG_NODE_OHMS_R, 1, 0, 1e4, "ohm", WIRE, "a phase, instead of the size", ""},
    {"ohms_x", COLUMN_NUMBER, SAG_NODE_OHMS_X, 1, 0, 1e4, "ohm", WIRE, "a phase", ""},
    {"load_kw", COLUMN_NUMBER, SAG_NODE_LOAD_WATTS, KILO, 0, 1e6, "kW", ALL, "other load at this board", ""},
    {"load_pf", COLUMN_SHARE, SAG_NODE_LOAD_PF, 1, 0.05, 1, "", ALL, "its power factor, lagging", ""},
    {"load_kind", COLUMN_CHOICE, SAG_NODE_LOAD_KIND, 1, 0, 0, "", ALL, "power current impedance", ""},
    {"rating_ka", COLUMN_NUMBER, SAG_NODE_RATING_AMPS, KILO, 0.1, 1000, "kA", ALL, "short-circuit rating", ""},
    {"device", COLUMN_CHOICE, SAG_NODE_DEVICE, 1, 0, 0, "", ALL, "installed at its supply end", ""},
    {"device_amps", COLUMN_NUMBER, SAG_NODE_DEVICE_AMPS, 1, 0.5, 10000, "A", ALL, "its rating", ""},
    {"ambient_c", COLUMN_NUMBER, SAG_NODE_AMBIENT, 1, -60, 90, "degC", ALL, "around the conductors", ""},
    {"conductors_in_raceway", COLUMN_WHOLE, SAG_NODE_CONDUCTORS, 1, 1, 500, "", ALL, "current-carrying", ""},
};
/* clang-format on */

struct supply_reader {
    struct sag_supply *supply;
    const struct sag_tables *tables;
    struct sag_diags *diags;
    struct column_map map;
    struct tag_index ids;
    struct sag_node row;
    const char **fed_from; /* of each node, in file order; NULL where blank */
    const char *row_fed_from;
    size_t room;
    bool has_header;
};

static const char *choice_word(int choice, unsigned value)
{
    static const char *const words[SAG_NODE_CHOICE_COUNT][8] = {
#define WORD(name, word)          word,
#define WORDS(name, column, list) [SAG_NODE_##name] = {"", list(WORD)},
        SAG_NODE_CHOICES(WORDS)
#undef WORDS
#undef WORD
    };
    return value < sizeof *words / sizeof **words ? words[choice][value] : NULL;
}

static enum sag_status take_conductor(struct supply_reader *r, const struct sag_cell *cell, const struct sag_place *at)
{
    enum sag_status status = check_conductor(r->tables, "conductor", cell, at, r->diags);
    if (status != SAG_OK)
        return status;
    r->row.conductor = sag_arena_text(r->supply->arena, cell->text, cell->length);
    return r->row.conductor ? SAG_OK : SAG_NO_MEMORY;
}

static enum sag_status take_text(void *reader, const struct column *column, const struct sag_cell *cell,
                                 const struct sag_place *at)
{
    struct supply_reader *r = reader;
    if (column->target == TEXT_CONDUCTOR)
        return take_conductor(r, cell, at);
    const char *copy = sag_arena_text(r->supply->arena, cell->text, cell->length);
    if (column->target == TEXT_ID)
        r->row.id = copy;
    else
        r->row_fed_from = copy;
    return copy ? SAG_OK : SAG_NO_MEMORY;
}

static const struct column_set supply_set = {columns, (int)(sizeof columns / sizeof *columns), choice_word, take_text};

static enum sag_status complain_at(struct supply_reader *r, const char *column, const char *what)
{
    struct sag_place at = {r->supply->file, r->row.line, cell_of(&supply_set, &r->map, column)};
    return sag_complain(r->diags, SAG_ERROR, &at, "%s: %s", column, what);
}

static bool blank(const struct supply_reader *r, enum sag_node_fact fact)
{
    return isnan(r->row.given[fact]);
}

static enum sag_status check_source(struct supply_reader *r)
{
    const double *g = r->row.given;
    enum sag_status status = SAG_OK;
    bool generator = r->row.choice[SAG_NODE_KIND] == SAG_NODE_GENERATOR;
    if (r->row_fed_from)
        status = complain_at(r, "fed_from", "a source is not fed; leave it blank, or two sources feed one board");
    if (blank(r, SAG_NODE_NOMINAL_VOLTS))
        status = complain_at(r, "nominal_volts", "blank; a source needs its line volts");
    if (g[SAG_NODE_LOW_VOLTS] > g[SAG_NODE_NOMINAL_VOLTS])
        status = complain_at(r, "low_volts", "is above nominal_volts");
    if (g[SAG_NODE_HIGH_VOLTS] < g[SAG_NODE_NOMINAL_VOLTS])
        status = complain_at(r, "high_volts", "is below nominal_volts");
    if (generator && blank(r, SAG_NODE_RATED_VA))
        status = complain_at(r, "kva", "blank; a generator needs its rating");
    return status;
}

static enum sag_status check_transformer(struct supply_reader *r)
{
    enum sag_status status = SAG_OK;
    if (blank(r, SAG_NODE_RATED_VA))
        status = complain_at(r, "kva", "blank; a transformer needs its rating");
    if (blank(r, SAG_NODE_IMPEDANCE))
        status = complain_at(r, "impedance_pct", "blank; it stands on the transformer's plate");
    if (blank(r, SAG_NODE_PRIMARY_VOLTS))
        status = complain_at(r, "primary_volts", "blank; it stands on the transformer's plate");
    if (blank(r, SAG_NODE_SECONDARY_VOLTS))
        status = complain_at(r, "secondary_volts", "blank; it stands on the transformer's plate");
    return status;
}

static enum sag_status check_cable(struct supply_reader *r)
{
    enum sag_status status = SAG_OK;
    bool ohms = !blank(r, SAG_NODE_OHMS_R) || !blank(r, SAG_NODE_OHMS_X);
    if (blank(r, SAG_NODE_LENGTH) && !ohms)
        status = complain_at(r, "length_ft", "blank; a cable needs a length, or ohms_r and ohms_x");
    if (!*r->row.conductor && !ohms)
        status = complain_at(r, "conductor", "blank; a cable needs a size, or ohms_r and ohms_x");
    return status;
}

bool sag_lines_close(const double line[3])
{
    double most = fmax(line[0], fmax(line[1], line[2]));
    return 2 * most < line[0] + line[1] + line[2];
}

static enum sag_status check_measured(struct supply_reader *r)
{
    const double *g = r->row.given;
    const double line[3] = {g[SAG_NODE_MEASURED_AB], g[SAG_NODE_MEASURED_BC], g[SAG_NODE_MEASURED_CA]};
    if (!isnan(line[0] + line[1] + line[2]) && !sag_lines_close(line))
        return complain_at(r, "measured_ab",
                           "cannot be line voltages: the largest is not less than the other two together");
    int given = 3 - blank(r, SAG_NODE_MEASURED_AB) - blank(r, SAG_NODE_MEASURED_BC) - blank(r, SAG_NODE_MEASURED_CA);
    return given == 0 || given == 3 ? SAG_OK
                                    : complain_at(r,
                                                  blank(r, SAG_NODE_MEASURED_AB)   ? "measured_ab"
                                                  : blank(r, SAG_NODE_MEASURED_BC) ? "measured_bc"
                                                                                   : "measured_ca",
                                                  "blank; give all three line voltages or none");
}

static enum sag_status check_row(struct supply_reader *r)
{
    enum sag_status status = check_measured(r);
    enum sag_status kind = SAG_OK;
    uint8_t what = r->row.choice[SAG_NODE_KIND];
    if (!r->row.id)
        status = complain_at(r, "id", "blank; every row needs a name of its own");
    if (what == SAG_NODE_KIND_BLANK)
        return complain_at(r, "kind", "blank; write utility, generator, transformer or cable");
    if (what == SAG_NODE_TRANSFORMER)
        kind = check_transformer(r);
    else if (what == SAG_NODE_CABLE)
        kind = check_cable(r);
    else
        kind = check_source(r);
    if ((what == SAG_NODE_TRANSFORMER || what == SAG_NODE_CABLE) && !r->row_fed_from)
        kind = complain_at(r, "fed_from", "blank; only a utility or a generator stands at the top");
    return kind != SAG_OK ? kind : status;
}

static enum sag_status check_id(struct supply_reader *r)
{
    struct sag_shown shown;
    struct sag_place at = {r->supply->file, r->row.line, cell_of(&supply_set, &r->map, "id")};
    uint32_t first = 0;
    enum sag_status status = tag_index_add(&r->ids, r->row.id, r->row.line, &first);
    if (status != SAG_OK || first == 0)
        return status;
    return sag_complain(r->diags, SAG_ERROR, &at, "id: \"%s\" already names the row of line %u",
                        sag_shown(&shown, r->row.id, strlen(r->row.id)), first);
}

static enum sag_status keep_row(struct supply_reader *r)
{
    if (r->supply->count == r->room) {
        size_t room = r->room ? 2 * r->room : 16;
        struct sag_node *nodes = realloc(r->supply->nodes, room * sizeof *nodes);
        if (!nodes)
            return SAG_NO_MEMORY;
        r->supply->nodes = nodes;
        const char **fed_from = realloc(r->fed_from, room * sizeof *fed_from);
        if (!fed_from)
            return SAG_NO_MEMORY;
        r->fed_from = fed_from;
        r->room = room;
    }
    r->fed_from[r->supply->count] = r->row_fed_from;
    r->supply->nodes[r->supply->count++] = r->row;
    return SAG_OK;
}

static enum sag_status take_header(struct supply_reader *r, const struct sag_row *row)
{
    struct sag_place at = {r->supply->file, row->line, 0};
    static const char *const needed[] = {"id", "fed_from", "kind"};
    enum sag_status status = map_header(&supply_set, row, r->supply->file, &r->map, r->diags);
    r->has_header = true;
    for (size_t i = 0; i < sizeof needed / sizeof *needed && r->map.count; i++)
        if (!has_column(&supply_set, &r->map, needed[i]))
            status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column %s", needed[i]);
    return status;
}

static enum sag_status on_row(void *context, const struct sag_row *row)
{
    struct supply_reader *r = context;
    if (!r->has_header)
        return take_header(r, row);
    r->row = (struct sag_node){.line = row->line, .conductor = "", .parent = -1};
    for (int i = 0; i < SAG_NODE_FACT_COUNT; i++)
        r->row.given[i] = NAN;
    r->row_fed_from = NULL;
    struct record record = {r->row.given, r->row.choice, r};
    enum sag_status status = take_row(&supply_set, &r->map, row, r->supply->file, &record, r->diags);
    if (status == SAG_OK)
        status = check_row(r);
    if (r->row.id && status != SAG_NO_MEMORY) {
        enum sag_status id = check_id(r);
        /* a faulty row still stands in the tree, so that its children are not called orphans */
        status = id != SAG_OK ? id : keep_row(r);
    }
    return status == SAG_NO_MEMORY ? status : SAG_OK;
}

enum sag_status sag_read_supply(const struct sag_input *input, const struct sag_tables *tables, struct sag_supply *out,
                                struct sag_diags *diags)
{
    *out = (struct sag_supply){.file = input->name, .arena = sag_arena_new()};
    struct supply_reader r = {.supply = out, .diags = diags, .tables = tables};
    size_t errors = diags->errors;
    if (!out->arena)
        return SAG_NO_MEMORY;
    enum sag_status status = sag_csv_read(input, &(struct sag_csv_events){on_row, NULL, &r}, diags);
    tag_index_free(&r.ids);
    if (status == SAG_OK && out->count == 0)
        status = sag_complain(diags, SAG_ERROR, &(struct sag_place){input->name, 0, 0},
                              "no rows below the header; give at least a source");
    if (status == SAG_OK) {
        struct tree_columns where = {cell_of(&supply_set, &r.map, "fed_from"),
                                     cell_of(&supply_set, &r.map, "primary_volts"),
                                     cell_of(&supply_set, &r.map, "measured_ab")};
        status = plant_tree(out, r.fed_from, &where, diags);
    }
    free(r.fed_from);
    return status == SAG_OK && diags->errors > errors ? SAG_BAD_INPUT : status;
}

void sag_supply_free(struct sag_supply *supply)
{
    free(supply->nodes);
    sag_arena_free(supply->arena);
    *supply = (struct sag_supply){0};
}

int32_t sag_find_node(const struct sag_supply *supply, const char *id)
{
    for (size_t i = 0; i < supply->count; i++)
        if (strcmp(supply->nodes[i].id, id) == 0)
            return (int32_t)i;
    return -1;
}

size_t sag_supply_columns(size_t index, struct sag_column_help *help)
{
    size_t count = sizeof columns / sizeof *columns;
    if (index < count)
        *help = (struct sag_column_help){columns[index].name, columns[index].group, columns[index].help,
                                         columns[index].example};
    return count;
}
