/* A recorder's log of three line voltages, row by row. Rows are by the million, so a row that is as it should be takes
   a short way; whatever else stands in a cell goes the way of the other files, which has the messages. */
#include <math.h>
#include <string.h>

#include "base/clock.h"
#include "base/number.h"
#include "read/columns.h"
#include "sagband/read.h"

enum {
    TIME = -1, /* target of the time column, which is no number */
    PAIRS = 3
};

#define ROW       "row"
#define MOST_STEP (31 * 86400.0) /* s; a longer one is a clock that was set, or two logs in one file; a choice */
#define AN_HOUR   3600.0

static const struct column columns[] = {
    {"time", COLUMN_TEXT, TIME, 1, 0, 0, "", ROW, "date and time by ISO 8601, or seconds", "2026-03-02 14:05:00"},
    {"ab", COLUMN_NUMBER, 0, 1, 0, 765000, "V", ROW, "line volts", "481.2"},
    {"bc", COLUMN_NUMBER, 1, 1, 0, 765000, "V", ROW, "line volts", "479.8"},
    {"ca", COLUMN_NUMBER, 2, 1, 0, 765000, "V", ROW, "line volts", "483.0"},
};

struct log_reader {
    const char *file;
    const struct sag_log_events *events;
    struct sag_diags *diags;
    struct sag_log_facts *facts;
    struct column_map map;
    uint32_t time_cell; /* of the file's cells that one that holds the time, from 1 */
    size_t errors;      /* before this file */
    bool has_header;

    struct sag_clock clock; /* of the row being read */
    struct sag_clock_minute minute;
    bool has_time;           /* it was found and can be read */
    struct sag_clock before; /* of the row before, and its line */
    uint32_t before_line;
    double first;   /* universal time of the first row, or what the clock showed */
    double carried; /* s that were lost by setting the clock back */
};

static const char *no_word(int choice, unsigned value)
{
    (void)choice;
    (void)value;
    return NULL;
}

static const char *fault_words(enum sag_clock_fault fault)
{
    switch (fault) {
    case SAG_CLOCK_NO_DAY:
        return "is no day or hour that there is";
    case SAG_CLOCK_ORDER:
        return "leaves open which is the month; write the year first, 2026-03-14 13:30:00";
    case SAG_CLOCK_NO_HOUR:
        return "has no time of day; write 2026-03-14 13:30:00";
    default:
        return "is not a time; write 2026-03-14 13:30:00, or seconds as a number";
    }
}

static enum sag_status take_time(void *reader, const struct column *column, const struct sag_cell *cell,
                                 const struct sag_place *at)
{
    struct log_reader *r = reader;
    struct sag_shown shown;
    (void)column;
    enum sag_clock_fault fault = sag_clock_read(cell->text, cell->length, ',', &r->clock);
    r->has_time = fault == SAG_CLOCK_OK;
    if (r->has_time)
        return SAG_OK;
    return sag_complain(r->diags, SAG_ERROR, at, "time: \"%s\" %s", sag_shown(&shown, cell->text, cell->length),
                        fault_words(fault));
}

static const struct column_set log_set = {columns, (int)(sizeof columns / sizeof *columns), no_word, take_time};

static enum sag_status take_header(struct log_reader *r, const struct sag_row *row)
{
    const struct sag_place at = {r->file, row->line, 0};
    enum sag_status status = map_header(&log_set, row, r->file, &r->map, r->diags);
    r->has_header = true;
    r->time_cell = cell_of(&log_set, &r->map, "time");
    for (int i = 0; i < log_set.count && r->map.count; i++)
        if (!has_column(&log_set, &r->map, columns[i].name))
            status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column %s; a log has time,ab,bc,ca",
                                  columns[i].name);
    return status;
}

/* The short way: every cell there and well. */
static bool take_plain_row(struct log_reader *r, const struct sag_row *row, double line[PAIRS])
{
    if (row->count != r->map.count)
        return false;
    r->has_time = false;
    for (size_t i = 0; i < row->count; i++) {
        const struct sag_cell *cell = &row->cells[i];
        const struct column *c = r->map.column[i] < 0 ? NULL : &columns[r->map.column[i]];
        if (!c)
            continue;
        if (c->target == TIME) {
            r->has_time =
                sag_clock_read_next(cell->text, cell->length, row->mark, &r->minute, &r->clock) == SAG_CLOCK_OK;
            if (!r->has_time)
                return false;
        } else if (sag_number_read(cell->text, cell->length, row->mark, &line[c->target]) != SAG_NUMBER_OK ||
                   !(line[c->target] >= c->low && line[c->target] <= c->high))
            return false;
    }
    return r->has_time;
}

/* What recorders write where they have no reading: dashes, or the word for no number. */
static bool is_no_reading(const struct sag_cell *cell)
{
    return same_word(cell->text, "nan") || strspn(cell->text, "-") == cell->length;
}

/* The row with such cells blank; `cells` has room for as many as a file may have. */
static struct sag_row without_words(const struct sag_row *row, struct sag_cell cells[MAX_FILE_COLUMNS])
{
    struct sag_row plain = *row;
    if (row->count > MAX_FILE_COLUMNS)
        return plain;
    for (size_t i = 0; i < row->count; i++)
        cells[i] = is_no_reading(&row->cells[i]) ? (struct sag_cell){"", 0} : row->cells[i];
    plain.cells = cells;
    return plain;
}

static enum sag_status take_any_row(struct log_reader *r, const struct sag_row *given, double line[PAIRS])
{
    const struct record record = {line, NULL, r};
    struct sag_cell cells[MAX_FILE_COLUMNS];
    const struct sag_row plain = without_words(given, cells), *row = &plain;
    r->has_time = false;
    for (int i = 0; i < PAIRS; i++)
        line[i] = NAN;
    size_t errors = r->diags->errors;
    enum sag_status status = take_row(&log_set, &r->map, row, r->file, &record, r->diags);
    if (!r->has_time && r->diags->errors == errors)
        status = sag_complain(r->diags, SAG_ERROR, &(struct sag_place){r->file, row->line, r->time_cell},
                              "time: is blank; a row of a log needs one");
    return status;
}

static double universal(const struct sag_clock *clock)
{
    return clock->seconds - clock->offset;
}

static enum sag_status refuse_step(const struct log_reader *r, const struct sag_place *at, double step)
{
    char days[SAG_NUMBER_ROOM];
    if (step < 0)
        return sag_complain(r->diags, SAG_ERROR, at, "time: before that of line %u; sort the rows by time",
                            r->before_line);
    return sag_complain(r->diags, SAG_ERROR, at,
                        "time: %s days after line %u; set the clock right, or make two logs of it",
                        sag_number_figures(days, step / 86400, 4), r->before_line);
}

/* Time of the row against the one before. Local clocks go back by an hour in autumn: the row that does so comes when
   the next one was due, so what is lost is the hour. */
static enum sag_status check_order(struct log_reader *r, const struct sag_row *row)
{
    const struct sag_place at = {r->file, row->line, r->time_cell};
    const double least_back = AN_HOUR / 2; /* a longer step than half an hour shows no such hour */
    if (r->before_line == 0) {
        r->first = universal(&r->clock);
        r->facts->begin = r->clock.seconds;
        r->facts->dated = r->clock.kind != SAG_CLOCK_SECONDS;
        return SAG_OK;
    }
    if (r->clock.kind != r->before.kind)
        return sag_complain(r->diags, SAG_ERROR, &at,
                            "time: written in another way than in line %u; write all of them alike", r->before_line);
    double step = universal(&r->clock) - universal(&r->before);
    if (r->clock.kind == SAG_CLOCK_DATED && step <= -least_back && step >= -AN_HOUR) {
        r->carried += AN_HOUR;
        r->facts->back_line = r->facts->clock_backs++ ? r->facts->back_line : row->line;
        step += AN_HOUR;
    }
    if (step < 0 || step > MOST_STEP)
        return refuse_step(r, &at, step);
    r->facts->equal_times += step == 0;
    return SAG_OK;
}

static enum sag_status hand_on(struct log_reader *r, const double line[PAIRS])
{
    struct sag_volt_sample s = {.time = universal(&r->clock) + r->carried - r->first, .clock = r->clock.seconds};
    bool blank = isnan(line[0]) || isnan(line[1]) || isnan(line[2]);
    for (int i = 0; i < PAIRS; i++)
        s.line[i] = blank ? NAN : line[i];
    r->facts->rows++;
    r->facts->blank_rows += blank;
    r->facts->end = r->clock.seconds;
    return r->diags->errors > r->errors ? SAG_OK : r->events->sample(r->events->context, &s);
}

static enum sag_status on_row(void *context, const struct sag_row *row)
{
    struct log_reader *r = context;
    double line[PAIRS] = {NAN, NAN, NAN};
    if (!r->has_header)
        return take_header(r, row);
    if (!take_plain_row(r, row, line) && take_any_row(r, row, line) != SAG_OK)
        return SAG_OK; /* told; the other rows are looked at too */
    if (check_order(r, row) != SAG_OK)
        return SAG_OK;
    r->before = r->clock;
    r->before_line = row->line;
    return hand_on(r, line);
}

enum sag_status sag_read_volt_log(const struct sag_input *input, const struct sag_log_events *events,
                                  struct sag_log_facts *facts, struct sag_diags *diags)
{
    struct log_reader r = {
        .file = input->name, .events = events, .diags = diags, .facts = facts, .errors = diags->errors};
    *facts = (struct sag_log_facts){.begin = NAN, .end = NAN};
    enum sag_status status = sag_csv_read(input, &(struct sag_csv_events){on_row, NULL, &r}, diags);
    if (status == SAG_OK && facts->rows < 2 && diags->errors == r.errors)
        status = sag_complain(diags, SAG_ERROR, &(struct sag_place){input->name, 0, 0},
                              "a log needs at least two rows (columns time, ab, bc, ca)");
    return status == SAG_OK && diags->errors > r.errors ? SAG_BAD_INPUT : status;
}
