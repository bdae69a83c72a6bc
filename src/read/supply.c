/* SUPPLY.csv: a row a piece of the path that current takes. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "read/columns.h"
#include "read/conductor.h"
#include "read/path_rules.h"
#include "read/supply_rules.h"
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
    {"transient_pct", COLUMN_PERCENT, SAG_NODE_TRANSIENT, CENT, 1, 100, "%", SRC, "generator, on its kva", ""},
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
    struct path_row *rows; /* of each node, in file order */
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

static enum sag_status keep_row(struct supply_reader *r, const struct row_check *check)
{
    if (r->supply->count == r->room) {
        size_t room = r->room ? 2 * r->room : 16;
        struct sag_node *nodes = realloc(r->supply->nodes, room * sizeof *nodes);
        if (!nodes)
            return SAG_NO_MEMORY;
        r->supply->nodes = nodes;
        struct path_row *rows = realloc(r->rows, room * sizeof *rows);
        if (!rows)
            return SAG_NO_MEMORY;
        r->rows = rows;
        r->room = room;
    }
    r->rows[r->supply->count] = path_row_of(check, r->row_fed_from);
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
    struct row_check check = {&supply_set, &r->map, row, r->supply->file, r->tables, r->diags};
    if (status == SAG_OK)
        status = check_supply_row(&check, &r->row, r->row_fed_from);
    if (r->row.id && status != SAG_NO_MEMORY) {
        enum sag_status id = check_id(r);
        /* a faulty row still stands in the tree, so that its children are not called orphans */
        status = id != SAG_OK ? id : keep_row(r, &check);
    }
    return status == SAG_NO_MEMORY ? status : SAG_OK;
}

static enum sag_status check_path(struct supply_reader *r)
{
    enum sag_status status = plant_tree(r->supply, r->rows, cell_of(&supply_set, &r->map, "fed_from"), r->diags);
    struct path_check check = {r->supply, &supply_set, &r->map, r->rows, r->tables, r->diags};
    return status == SAG_NO_MEMORY ? status : check_path_rules(&check);
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
    if (status == SAG_OK)
        status = check_path(&r);
    free(r.rows);
    return status == SAG_OK && diags->errors > errors ? SAG_BAD_INPUT : status;
}

void sag_supply_free(struct sag_supply *supply)
{
    free(supply->nodes);
    sag_arena_free(supply->arena);
    *supply = (struct sag_supply){0};
}

double sag_neutral_share(enum sag_system system, double volts)
{
    const double low = 216, high = 254;
    bool two_legs = volts >= low && volts <= high;
    if (two_legs && system != SAG_SYSTEM_UNGROUNDED)
        return 0.5;
    return system == SAG_SYSTEM_WYE ? 1 / sqrt(3.0) : 0;
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
