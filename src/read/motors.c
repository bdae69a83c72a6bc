/* MOTORS.csv: a row a motor. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/number.h"
#include "read/columns.h"
#include "read/conductor.h"
#include "read/motor_rules.h"
#include "read/tags.h"
#include "sagband/read.h"

enum text_target {
    TEXT_TAG,
    TEXT_FEEDER,
    TEXT_NOTE,
    TEXT_VOLTS,
    TEXT_CODE_LETTER,
    TEXT_CONDUCTOR,
};

#define HP     SAG_WATTS_PER_HP
#define FOOT   SAG_METRES_PER_FOOT
#define LBFT2  SAG_KGM2_PER_LBFT2
#define CENT   0.01
#define KILO   1000.0
#define PLATE  "plate"
#define WORK   "load"
#define STARTS "start"
#define BRANCH "own cable and protection"

/* clang-format off: one row a column */
static const struct column columns[] = {
    {"tag", COLUMN_TEXT, TEXT_TAG, 1, 0, 0, "", PLATE, "unique name", "P-1"},
    {"feeder", COLUMN_TEXT, TEXT_FEEDER, 1, 0, 0, "", PLATE, "id in the supply file", "MAIN"},
    {"rated_volts", COLUMN_TEXT, TEXT_VOLTS, 1, 20, 15000, "V", PLATE, "line volts; 230/460 allowed", "460"},
    {"rated_hp", COLUMN_NUMBER, SAG_RATED_POWER, HP, 0.02, 20000, "hp", PLATE, "shaft output (or rated_kw)", "50"},
    {"rated_kw", COLUMN_NUMBER, SAG_RATED_POWER, KILO, 0.015, 15000, "kW", PLATE, "shaft output (or rated_hp)", ""},
    {"efficiency_pct", COLUMN_PERCENT, SAG_EFFICIENCY, CENT, 10, 100, "%", PLATE, "at full load", "94.5"},
    {"power_factor", COLUMN_SHARE, SAG_POWER_FACTOR, 1, 0.1, 1, "", PLATE, "at full load", "0.86"},
    {"rated_amps", COLUMN_NUMBER, SAG_RATED_AMPS, 1, 0.05, 10000, "A", PLATE, "full-load amps at rated_volts", "58"},
    {"phases", COLUMN_WHOLE, SAG_PHASES, 1, 1, 3, "", PLATE, "3 or 1; default 3", "3"},
    {"hz", COLUMN_NUMBER, SAG_HZ, 1, 15, 400, "Hz", PLATE, "default 60", "60"},
    {"rpm", COLUMN_NUMBER, SAG_RPM, 1, 20, 24000, "rev/min", PLATE, "at full load", "1775"},
    {"poles", COLUMN_WHOLE, SAG_POLES, 1, 2, 96, "", PLATE, "2, 4, 6 ...", "4"},
    {"design", COLUMN_CHOICE, SAG_DESIGN, 1, 0, 0, "", PLATE, "A B C D, or N H of IEC 60034-12", "B"},
    {"code_letter", COLUMN_TEXT, TEXT_CODE_LETTER, 1, 0, 0, "", PLATE, "locked-rotor kVA code, A to V", "G"},
    {"locked_amps", COLUMN_NUMBER, SAG_LOCKED_AMPS, 1, 0.1, 100000, "A", PLATE, "at rated_volts", ""},
    {"locked_torque_pct", COLUMN_NUMBER, SAG_LOCKED_TORQUE, CENT, 5, 500, "%", PLATE, "of rated torque", ""},
    {"breakdown_torque_pct", COLUMN_NUMBER, SAG_BREAKDOWN_TORQUE, CENT, 100, 600, "%", PLATE, "of rated torque", ""},
    {"service_factor", COLUMN_NUMBER, SAG_SERVICE_FACTOR, 1, 0.8, 2, "", PLATE, "1.0, 1.15 ...", "1.15"},
    {"insulation", COLUMN_CHOICE, SAG_INSULATION, 1, 0, 0, "", PLATE, "class A B F H", "F"},
    {"rise_c", COLUMN_NUMBER, SAG_RISE, 1, 10, 200, "K", PLATE, "winding rise at rated load", "80"},
    {"enclosure", COLUMN_CHOICE, SAG_ENCLOSURE, 1, 0, 0, "", PLATE, "open or enclosed", "enclosed"},
    {"year", COLUMN_WHOLE, SAG_YEAR, 1, 1880, 2100, "", PLATE, "year built", "2012"},
    {"saturation", COLUMN_CHOICE, SAG_SATURATION, 1, 0, 0, "", PLATE, "low typical high; default typical", ""},
    {"rotor", COLUMN_CHOICE, SAG_ROTOR, 1, 0, 0, "", PLATE, "cage or wound; default cage", ""},
    {"load", COLUMN_CHOICE, SAG_LOAD, 1, 0, 0, "", WORK, "pump fan compressor conveyor hoist constant none", "pump"},
    {"load_pct", COLUMN_PERCENT, SAG_LOAD_SHARE, CENT, 0, 300, "%", WORK, "of rated power; default 100", "90"},
    {"load_hp", COLUMN_NUMBER, SAG_LOAD_POWER, HP, 0, 60000, "hp", WORK, "instead of load_pct", ""},
    {"load_inertia_lbft2", COLUMN_NUMBER, SAG_LOAD_INERTIA, LBFT2, 0, 1e7, "lb ft2", WORK, "at the motor shaft", ""},
    {"load_inertia_kgm2", COLUMN_NUMBER, SAG_LOAD_INERTIA, 1, 0, 1e6, "kg m2", WORK, "the same in kg m2", ""},
    {"rotor_inertia_lbft2", COLUMN_NUMBER, SAG_ROTOR_INERTIA, LBFT2, 1e-4, 1e7, "lb ft2", WORK, "of the motor", ""},
    {"rotor_inertia_kgm2", COLUMN_NUMBER, SAG_ROTOR_INERTIA, 1, 1e-5, 1e6, "kg m2", WORK, "the same in kg m2", ""},
    {"stall_time_s", COLUMN_NUMBER, SAG_STALL_TIME, 1, 1, 600, "s", STARTS, "permitted with locked rotor, hot", ""},
    {"starts_per_hour", COLUMN_NUMBER, SAG_STARTS_PER_HOUR, 1, 0, 1000, "1/h", STARTS, "how often it is started", "2"},
    {"starting", COLUMN_CHOICE, SAG_STARTING, 1, 0, 0, "", STARTS, "across wye_delta autotransformer ...", "across"},
    {"start_setting", COLUMN_PERCENT, SAG_START_SETTING, CENT, 1, 800, "%", STARTS, "tap, or current limit", ""},
    {"transfer_s", COLUMN_NUMBER, SAG_TRANSFER_TIME, 1, 0, 600, "s", STARTS, "when the starter changes over", ""},
    {"ramp_s", COLUMN_NUMBER, SAG_RAMP_TIME, 1, 0, 600, "s", STARTS, "of a soft starter or drive", ""},
    {"start_order", COLUMN_WHOLE, SAG_START_ORDER, 1, 0, 1e6, "", STARTS, "place in the sequence", "1"},
    {"start_delay_s", COLUMN_NUMBER, SAG_START_DELAY, 1, 0, 86400, "s", STARTS, "after the one before", ""},
    {"branch_length_ft", COLUMN_NUMBER, SAG_BRANCH_LENGTH, FOOT, 0, 50000, "ft", BRANCH, "one way", "60"},
    {"branch_length_m", COLUMN_NUMBER, SAG_BRANCH_LENGTH, 1, 0, 15000, "m", BRANCH, "one way", ""},
    {"branch_conductor", COLUMN_TEXT, TEXT_CONDUCTOR, 1, 0, 0, "", BRANCH, "12 .. 4/0, 250 .. 1000, 95mm2", "4"},
    {"branch_material", COLUMN_CHOICE, SAG_MATERIAL, 1, 0, 0, "", BRANCH, "cu or al", "cu"},
    {"branch_raceway", COLUMN_CHOICE, SAG_RACEWAY, 1, 0, 0, "", BRANCH, "steel pvc aluminum", "steel"},
    {"branch_ambient_c", COLUMN_NUMBER, SAG_BRANCH_AMBIENT, 1, -60, 90, "degC", BRANCH, "around it; default 30", ""},
    {"branch_conductors", COLUMN_WHOLE, SAG_BRANCH_CONDUCTORS, 1, 1, 500, "", BRANCH, "in its raceway; default 3", ""},
    {"device", COLUMN_CHOICE, SAG_DEVICE, 1, 0, 0, "", BRANCH, "fuse or breaker installed", "inverse_time_breaker"},
    {"device_amps", COLUMN_NUMBER, SAG_DEVICE_AMPS, 1, 0.5, 10000, "A", BRANCH, "its rating", "125"},
    {"overload_amps", COLUMN_NUMBER, SAG_OVERLOAD_AMPS, 1, 0.05, 10000, "A", BRANCH, "relay setting", ""},
    {"trip_class", COLUMN_CHOICE, SAG_TRIP_CLASS, 1, 0, 0, "", BRANCH, "of the relay: 5 10 20 30", "20"},
    {"duty", COLUMN_CHOICE, SAG_DUTY, 1, 0, 0, "", PLATE, "normal fire_pump jockey_pump spare", "normal"},
    {"note", COLUMN_TEXT, TEXT_NOTE, 1, 0, 0, "", PLATE, "carried through", "first floor, east"},
};
/* clang-format on */

struct motor_reader {
    struct sag_motor_list *list;
    const struct sag_tables *tables;
    const struct sag_supply *supply;
    struct sag_diags *diags;
    struct column_map map;
    struct tag_index tags, feeders;
    struct tag_index nodes; /* of the supply, by number counting from 1 */
    struct sag_plate row;   /* being read */
    const char *feeder;     /* cell of that row, or NULL */
    size_t room;
    char mark; /* the file's decimal mark */
    bool has_header;
    bool noted_board; /* that a blank feeder has a meaning */
};

static const char *choice_word(int choice, unsigned value)
{
    return sag_choice_word((enum sag_choice)choice, value);
}

/* "460", "230/460", "208-230/460". */
static enum sag_status take_volts(struct motor_reader *r, const struct column *column, const struct sag_cell *cell,
                                  const struct sag_place *at)
{
    struct sag_shown shown;
    size_t start = 0;
    for (int n = 0; start <= cell->length; n++) {
        size_t end = start;
        while (end < cell->length && cell->text[end] != '/' && cell->text[end] != '-')
            end++;
        double volts = 0;
        if (n == SAG_VOLTS_OPTIONS ||
            sag_number_read(cell->text + start, end - start, r->mark, &volts) != SAG_NUMBER_OK)
            return sag_complain(r->diags, SAG_ERROR, at,
                                "%s: \"%s\" is not a plate voltage; write it as 460 or 230/460, without units",
                                column->name, sag_shown(&shown, cell->text, cell->length));
        if (volts < column->low || volts > column->high)
            return sag_complain(r->diags, SAG_ERROR, at, "%s: \"%s\" is outside %d to %d V", column->name,
                                sag_shown(&shown, cell->text, cell->length), (int)column->low, (int)column->high);
        r->row.volts_options[n] = volts;
        start = end + 1;
    }
    return SAG_OK;
}

static enum sag_status take_code_letter(struct motor_reader *r, const struct sag_cell *cell, const struct sag_place *at)
{
    struct sag_shown shown;
    char letter = cell->length == 1 ? cell->text[0] : '?';
    letter = (char)(letter >= 'a' && letter <= 'v' ? letter - 'a' + 'A' : letter);
    if (letter < 'A' || letter > 'V' || strchr("IOQ", letter))
        return sag_complain(r->diags, SAG_ERROR, at,
                            "code_letter: \"%s\" is not a locked-rotor code letter; A to V without I, O and Q",
                            sag_shown(&shown, cell->text, cell->length));
    r->row.code_letter = letter;
    return SAG_OK;
}

static enum sag_status keep_text(struct motor_reader *r, const char **slot, const struct sag_cell *cell)
{
    *slot = sag_arena_text(r->list->arena, cell->text, cell->length);
    return *slot ? SAG_OK : SAG_NO_MEMORY;
}

static enum sag_status take_conductor(struct motor_reader *r, const struct sag_cell *cell, const struct sag_place *at)
{
    enum sag_status status = check_conductor(r->tables, "branch_conductor", cell, at, r->diags);
    return status == SAG_OK ? keep_text(r, &r->row.conductor, cell) : status;
}

static enum sag_status take_text(void *reader, const struct column *column, const struct sag_cell *cell,
                                 const struct sag_place *at)
{
    struct motor_reader *r = reader;
    switch ((enum text_target)column->target) {
    case TEXT_TAG:
        return keep_text(r, &r->row.tag, cell);
    case TEXT_NOTE:
        return keep_text(r, &r->row.note, cell);
    case TEXT_FEEDER:
        r->feeder = cell->text;
        return SAG_OK;
    case TEXT_CONDUCTOR:
        return take_conductor(r, cell, at);
    case TEXT_VOLTS:
        return take_volts(r, column, cell, at);
    case TEXT_CODE_LETTER:
        return take_code_letter(r, cell, at);
    }
    return SAG_OK;
}

static const struct column_set motor_set = {columns, (int)(sizeof columns / sizeof *columns), choice_word, take_text};

static enum sag_status check_tag(struct motor_reader *r, const struct sag_place *row)
{
    struct sag_shown shown;
    struct sag_place at = *row;
    uint32_t first = 0;
    enum sag_status status = tag_index_add(&r->tags, r->row.tag, row->line, &first);
    if (status != SAG_OK || first == 0)
        return status;
    at.column = cell_of(&motor_set, &r->map, "tag");
    return sag_complain(r->diags, SAG_ERROR, &at, "tag: \"%s\" already names the motor of line %u",
                        sag_shown(&shown, r->row.tag, strlen(r->row.tag)), first);
}

/* Without a supply file any name is a feeder; without a name it is the first board, or "MAIN". */
static int32_t default_node(const struct sag_supply *supply)
{
    for (size_t i = 0; i < supply->count; i++)
        if (supply->nodes[i].parent >= 0)
            return (int32_t)i;
    return 0;
}

static const char *node_id(const void *context, size_t index)
{
    const struct sag_supply *supply = context;
    return index < supply->count ? supply->nodes[index].id : NULL;
}

/* Said once: a cell forgotten puts a motor on a board it does not hang on. */
static void note_default_board(struct motor_reader *r, const struct sag_place *row, const char *id)
{
    struct sag_shown shown;
    size_t boards = 0;
    for (size_t i = 0; i < r->supply->count; i++)
        boards += r->supply->nodes[i].parent >= 0;
    if (r->noted_board || boards < 2)
        return;
    r->noted_board = true;
    struct sag_place at = *row;
    at.column = cell_of(&motor_set, &r->map, "feeder");
    sag_complain(r->diags, SAG_NOTE, &at, "feeder: blank here (and it may be below); taken as %s, the first board",
                 sag_shown(&shown, id, strlen(id)));
}

static enum sag_status find_feeder(struct motor_reader *r, const struct sag_place *row)
{
    struct sag_motor_list *list = r->list;
    struct sag_shown shown, other;
    const char *id = r->feeder;
    int32_t node = -1;
    if (r->supply) {
        node = id ? (int32_t)tag_index_find(&r->nodes, id) - 1 : default_node(r->supply);
        if (node < 0 && id) {
            const char *near = r->diags->errors < SAG_DIAGS_KEPT ? nearest_word(id, node_id, r->supply) : NULL;
            struct sag_place at = *row;
            at.column = cell_of(&motor_set, &r->map, "feeder");
            return sag_complain(r->diags, SAG_ERROR, &at, "feeder: \"%s\" is not an id of the supply file%s%s%s",
                                sag_shown(&shown, id, strlen(id)), near ? "; did you mean " : "",
                                near ? sag_shown(&other, near, strlen(near)) : "", near ? "?" : "");
        }
        if (!id)
            note_default_board(r, row, r->supply->nodes[node].id);
        id = r->supply->nodes[node].id;
    }
    id = id ? id : "MAIN";
    uint32_t known = 0; /* number of the feeder, counting from 1 */
    const char *copy = sag_arena_text(list->arena, id, strlen(id));
    if (!copy || tag_index_add(&r->feeders, copy, (uint32_t)list->feeder_count + 1, &known) != SAG_OK)
        return SAG_NO_MEMORY;
    r->row.feeder = known ? known - 1 : (uint32_t)list->feeder_count;
    if (known)
        return SAG_OK;
    struct sag_feeder *feeders = realloc(list->feeders, (list->feeder_count + 1) * sizeof *feeders);
    if (!feeders)
        return SAG_NO_MEMORY;
    list->feeders = feeders;
    feeders[list->feeder_count++] = (struct sag_feeder){copy, node};
    return SAG_OK;
}

static enum sag_status keep_row(struct motor_reader *r)
{
    struct sag_motor_list *list = r->list;
    if (list->count == r->room) {
        size_t room = r->room ? r->room + r->room / 2 : 32;
        struct sag_plate *plates = realloc(list->plates, room * sizeof *plates);
        if (!plates)
            return SAG_NO_MEMORY;
        list->plates = plates;
        r->room = room;
    }
    list->plates[list->count++] = r->row;
    return SAG_OK;
}

static enum sag_status check_header(struct motor_reader *r, uint32_t line)
{
    struct sag_place at = {r->list->file, line, 0};
    enum sag_status status = SAG_OK;
    bool power = has_column(&motor_set, &r->map, "rated_hp") || has_column(&motor_set, &r->map, "rated_kw");
    if (!has_column(&motor_set, &r->map, "tag"))
        status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column tag");
    if (!has_column(&motor_set, &r->map, "rated_volts"))
        status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column rated_volts");
    if (!power)
        status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column rated_hp or rated_kw");
    return status;
}

static struct sag_plate blank_plate(uint32_t line)
{
    struct sag_plate plate = {.note = "", .conductor = "", .line = line};
    for (int i = 0; i < SAG_GIVEN_COUNT; i++)
        plate.given[i] = NAN;
    return plate;
}

static enum sag_status check_row(const struct motor_reader *r, const struct row_check *check)
{
    enum sag_status plate = check_plate(check, &r->row);
    enum sag_status start = check_start(check, &r->row);
    enum sag_status branch = check_branch(check, &r->row);
    return plate != SAG_OK ? plate : start != SAG_OK ? start : branch;
}

static enum sag_status check_supplied(const struct motor_reader *r, const struct sag_place *row)
{
    struct sag_place at = {row->file, row->line, r->list->volts_column};
    int32_t node = r->list->feeders[r->row.feeder].node;
    struct board_seen board = {r->supply, node, r->supply->nodes[node].volts_nominal};
    return check_board(&board, &r->row, &at, r->diags);
}

static enum sag_status take_header(struct motor_reader *r, const struct sag_row *row)
{
    struct row_check header = {&motor_set, &r->map, row, r->list->file, r->tables, r->diags};
    r->has_header = true;
    enum sag_status status = map_header(&motor_set, row, r->list->file, &r->map, r->diags);
    enum sag_status complete = r->map.count ? check_header(r, row->line) : status;
    check_branch_columns(&header);
    r->list->volts_column = cell_of(&motor_set, &r->map, "rated_volts");
    return status != SAG_OK ? status : complete;
}

/* Faults are in the diagnostics; reading goes on to find them all, so only running out of memory ends it. */
static enum sag_status on_row(void *context, const struct sag_row *row)
{
    struct motor_reader *r = context;
    struct sag_place at = {r->list->file, row->line, 0};
    if (!r->has_header)
        return take_header(r, row);
    r->row = blank_plate(row->line);
    r->mark = row->mark;
    r->feeder = NULL;
    struct record record = {r->row.given, r->row.choice, r};
    enum sag_status status = take_row(&motor_set, &r->map, row, r->list->file, &record, r->diags);
    struct row_check check = {&motor_set, &r->map, row, r->list->file, r->tables, r->diags};
    if (status == SAG_OK)
        status = check_row(r, &check);
    if (r->row.tag && status != SAG_NO_MEMORY) {
        enum sag_status tag = check_tag(r, &at);
        status = tag != SAG_OK ? tag : status;
    }
    if (status == SAG_OK)
        status = find_feeder(r, &at);
    if (status == SAG_OK && r->supply)
        status = check_supplied(r, &at);
    if (status == SAG_OK)
        status = keep_row(r);
    return status == SAG_NO_MEMORY ? status : SAG_OK;
}

enum sag_status sag_read_motors(const struct sag_input *input, const struct sag_tables *tables,
                                const struct sag_supply *supply, struct sag_motor_list *out, struct sag_diags *diags)
{
    *out = (struct sag_motor_list){.file = input->name, .arena = sag_arena_new()};
    struct motor_reader r = {.list = out, .tables = tables, .supply = supply, .diags = diags};
    size_t errors = diags->errors;
    if (!out->arena)
        return SAG_NO_MEMORY;
    enum sag_status status = SAG_OK;
    uint32_t first = 0;
    for (size_t i = 0; supply && i < supply->count && status == SAG_OK; i++)
        status = tag_index_add(&r.nodes, supply->nodes[i].id, (uint32_t)i + 1, &first);
    if (status == SAG_OK)
        status = sag_csv_read(input, &(struct sag_csv_events){on_row, NULL, &r}, diags);
    tag_index_free(&r.tags);
    tag_index_free(&r.feeders);
    tag_index_free(&r.nodes);
    if (status == SAG_OK && diags->errors > errors)
        status = SAG_BAD_INPUT;
    if (status == SAG_OK && out->count == 0)
        status = sag_complain(diags, SAG_ERROR, &(struct sag_place){input->name, 0, 0},
                              "no motors below the header; give at least one row");
    return status;
}

enum sag_status sag_check_typed_volts(const struct sag_motor_list *list, double volts, struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    struct board_seen board = {NULL, -1, volts};
    for (size_t i = 0; i < list->count && list->feeder_count == 1; i++) {
        struct sag_place at = {list->file, list->plates[i].line, list->volts_column};
        enum sag_status one = check_board(&board, &list->plates[i], &at, diags);
        status = one != SAG_OK ? one : status;
    }
    return status;
}

/* Text that grows at its end; room was made for all of it beforehand. */
struct text {
    char *bytes;
    size_t used;
};

static void append(struct text *text, const char *bytes, size_t length)
{
    memcpy(text->bytes + text->used, bytes, length);
    text->used += length;
}

/* One pair of "column=value" into the header and the row that are being built. */
static enum sag_status append_pair(const char *pair, size_t length, struct text *header, struct text *row,
                                   struct sag_diags *diags)
{
    const char *equals = memchr(pair, '=', length);
    struct sag_shown shown;
    if (!equals || memchr(pair, '"', length) || memchr(pair, '\n', length) || memchr(pair, '\r', length))
        return sag_complain(diags, SAG_ERROR, &(struct sag_place){"--plate", 0, 0},
                            "\"%s\" is not column=value; write for example rated_volts=440,rated_hp=75",
                            sag_shown(&shown, pair, length));
    append(header, pair, (size_t)(equals - pair));
    append(header, ",", 1);
    append(row, equals + 1, length - (size_t)(equals - pair) - 1);
    append(row, ",", 1);
    return SAG_OK;
}

/* Does the header being built name the tag, in whatever case and with whatever spaces? */
static bool names_tag(const struct text *header)
{
    for (size_t at = 0; at < header->used; at++) {
        char name[8] = "";
        size_t n = 0;
        for (; at < header->used && header->bytes[at] != ','; at++)
            if (header->bytes[at] != ' ' && n + 1 < sizeof name)
                name[n++] = header->bytes[at];
        if (same_word(name, "tag"))
            return true;
    }
    return false;
}

/* The text becomes a two-row CSV, so that a plate typed on the spot is read by the same rules as a file. */
enum sag_status sag_read_plate(const char *text, const struct sag_tables *tables, const struct sag_supply *supply,
                               struct sag_motor_list *out, struct sag_diags *diags)
{
    size_t room = 3 * strlen(text) + 32; /* header, row, and what stands for a tag */
    struct text header = {.bytes = malloc(room)}, row = {.bytes = malloc(room)};
    *out = (struct sag_motor_list){0};
    enum sag_status status = header.bytes && row.bytes ? SAG_OK : SAG_NO_MEMORY;
    for (const char *pair = text; status == SAG_OK && *pair;) {
        size_t n = strcspn(pair, ",");
        status = append_pair(pair, n, &header, &row, diags);
        pair += n + (pair[n] == ',');
    }
    if (status == SAG_OK) {
        bool named = names_tag(&header);
        append(&header, named ? "\n" : "tag\n", named ? 1 : 4);
        append(&row, named ? "\n" : "plate\n", named ? 1 : 6);
        append(&header, row.bytes, row.used);
        struct sag_input input = {.name = "--plate", .bytes = header.bytes, .size = header.used};
        status = sag_read_motors(&input, tables, supply, out, diags);
    }
    free(header.bytes);
    free(row.bytes);
    return status;
}

void sag_motor_list_free(struct sag_motor_list *list)
{
    free(list->plates);
    free(list->feeders);
    sag_arena_free(list->arena);
    *list = (struct sag_motor_list){0};
}

size_t sag_motor_columns(size_t index, struct sag_column_help *help)
{
    size_t count = sizeof columns / sizeof *columns;
    if (index < count)
        *help = (struct sag_column_help){columns[index].name, columns[index].group, columns[index].help,
                                         columns[index].example};
    return count;
}

const char *sag_motor_column_of(enum sag_fact fact)
{
    switch (fact) {
    case SAG_RATED_VOLTS:
        return "rated_volts";
    case SAG_SLIP:
    case SAG_SYNC_RPM:
        return "rpm";
    case SAG_MAIN_FLUX:
        return "saturation";
    case SAG_LOCKED_KVA:
        return "code_letter";
    default:
        break;
    }
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
        if (columns[i].kind < COLUMN_CHOICE && columns[i].target == (int)fact)
            return columns[i].name;
    return NULL;
}
