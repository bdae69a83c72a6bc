/* A maker's curve: a row a point, in any order. */
#include <math.h>
#include <stdlib.h>

#include "base/grow.h"
#include "read/columns.h"
#include "sagband/read.h"

enum {
    SECONDS,
    MULTIPLE,
    NUMBERS
};

#define POINT "point"
static const struct column columns[] = {
    {"time_s", COLUMN_NUMBER, SECONDS, 1, 1e-3, 1e5, "s", POINT, "after which it opens", "10"},
    {"multiple", COLUMN_NUMBER, MULTIPLE, 1, 0.5, 100, "", POINT, "amps over its rating or setting", "5"},
};

static const char *no_word(int choice, unsigned value)
{
    (void)choice;
    (void)value;
    return NULL;
}

static enum sag_status no_text(void *reader, const struct column *column, const struct sag_cell *cell,
                               const struct sag_place *at)
{
    (void)reader;
    (void)column;
    (void)cell;
    (void)at;
    return SAG_OK;
}

static const struct column_set curve_set = {columns, (int)(sizeof columns / sizeof *columns), no_word, no_text};

struct point {
    double number[NUMBERS];
    uint32_t line;
};

struct curve_reader {
    const char *file;
    struct point *points;
    size_t count, room;
    struct column_map map;
    struct sag_diags *diags;
    bool has_header;
};

static enum sag_status take_header(struct curve_reader *r, const struct sag_row *row)
{
    const struct sag_place at = {r->file, row->line, 0};
    enum sag_status status = map_header(&curve_set, row, r->file, &r->map, r->diags);
    r->has_header = true;
    for (int i = 0; i < curve_set.count && r->map.count; i++)
        if (!has_column(&curve_set, &r->map, columns[i].name))
            status = sag_complain(r->diags, SAG_ERROR, &at, "the header has no column %s; a curve has time_s,multiple",
                                  columns[i].name);
    return status;
}

static enum sag_status on_row(void *context, const struct sag_row *row)
{
    struct curve_reader *r = context;
    if (!r->has_header)
        return take_header(r, row);
    if (!sag_grow(&r->points, r->count + 1, &r->room, sizeof *r->points))
        return SAG_NO_MEMORY;
    struct point *p = &r->points[r->count];
    *p = (struct point){{NAN, NAN}, row->line};
    const struct record record = {p->number, NULL, r};
    if (take_row(&curve_set, &r->map, row, r->file, &record, r->diags) != SAG_OK)
        return SAG_OK; /* told; the other rows are looked at too */
    for (int i = 0; i < NUMBERS; i++)
        if (isnan(p->number[i]))
            sag_complain(r->diags, SAG_ERROR, &(struct sag_place){r->file, row->line, 0},
                         "%s is blank; a point needs both", columns[i].name);
    r->count += !isnan(p->number[SECONDS]) && !isnan(p->number[MULTIPLE]);
    return SAG_OK;
}

static int by_multiple(const void *left, const void *right)
{
    const struct point *a = left, *b = right;
    double x = a->number[MULTIPLE], y = b->number[MULTIPLE];
    return x != y ? (x > y) - (x < y) : (a->line > b->line) - (a->line < b->line);
}

/* More amps never open later, and one current has one time. */
static enum sag_status check_points(const struct curve_reader *r)
{
    enum sag_status status = SAG_OK;
    if (r->count < 2)
        return sag_complain(r->diags, SAG_ERROR, &(struct sag_place){r->file, 0, 0},
                            "a curve needs at least two points (columns time_s, multiple)");
    for (size_t i = 1; i < r->count; i++) {
        const struct point *a = &r->points[i - 1], *b = &r->points[i];
        const struct sag_place at = {r->file, b->line, 0};
        if (a->number[MULTIPLE] == b->number[MULTIPLE])
            status =
                sag_complain(r->diags, SAG_ERROR, &at, "multiple: line %u has the same one; keep one of them", a->line);
        else if (b->number[SECONDS] > a->number[SECONDS])
            status = sag_complain(r->diags, SAG_ERROR, &at,
                                  "time_s: longer than at the lower multiple of line %u; a curve falls", a->line);
    }
    return status;
}

static enum sag_status hand_over(const struct curve_reader *r, struct sag_curve_point **points, size_t *count)
{
    *points = calloc(r->count ? r->count : 1, sizeof **points);
    if (!*points)
        return SAG_NO_MEMORY;
    *count = r->count;
    for (size_t i = 0; i < r->count; i++)
        (*points)[i] = (struct sag_curve_point){r->points[i].number[SECONDS], r->points[i].number[MULTIPLE]};
    return SAG_OK;
}

enum sag_status sag_read_curve(const struct sag_input *input, struct sag_curve_point **points, size_t *count,
                               struct sag_diags *diags)
{
    struct curve_reader r = {.file = input->name, .diags = diags};
    size_t errors = diags->errors;
    *points = NULL;
    *count = 0;
    enum sag_status status = sag_csv_read(input, &(struct sag_csv_events){on_row, NULL, &r}, diags);
    if (status == SAG_OK && r.count)
        qsort(r.points, r.count, sizeof *r.points, by_multiple);
    if (status == SAG_OK && (r.count > 1 || diags->errors == errors)) /* those that were taken, beside refused ones */
        status = check_points(&r);
    if (status == SAG_OK && diags->errors > errors)
        status = SAG_BAD_INPUT;
    if (status == SAG_OK)
        status = hand_over(&r, points, count);
    free(r.points);
    return status;
}
