/* The embedded bytes become tables here, once; afterwards nothing changes them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/csv.h"
#include "base/number.h"
#include "embedded_tables.h"
#include "tables/parts.h"

struct sag_tables {
    struct sag_arena *arena;
    struct sag_table *items;
    size_t count;
    struct used_table used[USE_COUNT];
};

struct builder {
    struct sag_arena *arena;
    struct sag_table *table;
    const char **cells; /* header and rows, growing */
    size_t rows, room;  /* rows counts the header */
    struct sag_diags *diags;
    const char *file;
};

/* "key: value" of a head line into the field of that key. */
static enum sag_status take_head_line(void *context, const char *text, size_t length)
{
    struct builder *b = context;
    const struct {
        const char *key;
        const char **field;
    } fields[] = {
        {" title: ", &b->table->title},   {" source: ", &b->table->source},   {" units: ", &b->table->units},
        {" status: ", &b->table->status}, {" checked: ", &b->table->checked}, {" note: ", &b->table->notes},
    };
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        size_t n = strlen(fields[i].key);
        if (length < n || memcmp(text, fields[i].key, n) != 0)
            continue;
        size_t before = strlen(*fields[i].field);
        char *joined = sag_arena_bytes(b->arena, before + length - n + 2);
        if (!joined)
            return SAG_NO_MEMORY;
        memcpy(joined, *fields[i].field, before);
        if (before)
            joined[before++] = '\n';
        memcpy(joined + before, text + n, length - n);
        *fields[i].field = joined;
    }
    return SAG_OK;
}

static enum sag_status take_row(void *context, const struct sag_row *row)
{
    struct builder *b = context;
    struct sag_table *table = b->table;
    if (b->rows == 0)
        table->columns = row->count;
    if (row->count != table->columns) {
        struct sag_place at = {b->file, row->line, 0};
        return sag_complain(b->diags, SAG_ERROR, &at, "%zu cells where the header has %zu", row->count, table->columns);
    }
    if ((b->rows + 1) * table->columns > b->room) {
        b->room = 2 * b->room + 16 * table->columns;
        const char **cells = realloc(b->cells, b->room * sizeof *cells);
        if (!cells)
            return SAG_NO_MEMORY;
        b->cells = cells;
    }
    for (size_t i = 0; i < row->count; i++) {
        const char *copy = sag_arena_text(b->arena, row->cells[i].text, row->cells[i].length);
        if (!copy)
            return SAG_NO_MEMORY;
        b->cells[b->rows * table->columns + i] = copy;
    }
    b->rows++;
    return SAG_OK;
}

static bool starts_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

static bool is_unchecked(const char *status)
{
    return !starts_with(status, "checked") && !starts_with(status, "computed");
}

static size_t column_of(const struct sag_table *table, const char *name)
{
    for (size_t i = 0; i < table->columns; i++)
        if (strcmp(table->head[i], name) == 0)
            return i;
    return table->columns;
}

static enum sag_status finish_table(struct builder *b)
{
    struct sag_table *table = b->table;
    size_t cells = b->rows * table->columns;
    const char **kept = sag_arena_bytes(b->arena, cells * sizeof *kept);
    double *numbers = sag_arena_bytes(b->arena, cells * sizeof *numbers);
    bool *from_memory = sag_arena_bytes(b->arena, b->rows * sizeof *from_memory);
    if (!kept || !numbers || !from_memory)
        return SAG_NO_MEMORY;
    memcpy(kept, b->cells, cells * sizeof *kept);
    table->head = kept;
    table->cells = kept + table->columns;
    table->rows = b->rows - 1;
    table->numbers = numbers;
    table->from_memory = from_memory;
    size_t status = column_of(table, "status");
    for (size_t i = 0; i < table->rows * table->columns; i++)
        if (sag_number_read(table->cells[i], strlen(table->cells[i]), '.', &numbers[i]) != SAG_NUMBER_OK)
            numbers[i] = NAN;
    for (size_t r = 0; r < table->rows; r++)
        from_memory[r] =
            is_unchecked(status < table->columns ? table->cells[r * table->columns + status] : table->status);
    return SAG_OK;
}

static enum sag_status build_table(struct sag_tables *tables, const struct embedded_table *bytes,
                                   struct sag_diags *diags)
{
    struct sag_table *table = &tables->items[tables->count];
    *table = (struct sag_table){bytes->name, "", "", "", "", "", "", 0, 0, NULL, NULL, NULL, NULL};
    struct builder b = {.arena = tables->arena, .table = table, .diags = diags, .file = bytes->name};
    struct sag_input input = {.name = bytes->name, .bytes = bytes->bytes, .size = bytes->size};
    struct sag_csv_events events = {take_row, take_head_line, &b};
    enum sag_status status = sag_csv_read(&input, &events, diags);
    if (status == SAG_OK)
        status = finish_table(&b);
    free(b.cells);
    tables->count += status == SAG_OK;
    return status;
}

static enum sag_status resolve_uses(struct sag_tables *tables, struct sag_diags *diags)
{
    static const struct {
        const char *table, *columns[USE_COLUMNS];
    } uses[] = {
#define USE(name, table, ...) {table, {__VA_ARGS__}},
        TABLE_USES(USE)
#undef USE
    };
    enum sag_status status = SAG_OK;
    for (size_t u = 0; u < USE_COUNT; u++) {
        struct sag_place at = {uses[u].table, 0, 0};
        const struct sag_table *table = sag_tables_find(tables, uses[u].table);
        tables->used[u].table = table;
        if (!table) {
            status = sag_complain(diags, SAG_ERROR, &at, "this table is asked for but not built in");
            continue;
        }
        for (size_t c = 0; c < USE_COLUMNS && uses[u].columns[c]; c++) {
            tables->used[u].column[c] = column_of(table, uses[u].columns[c]);
            if (tables->used[u].column[c] == table->columns)
                status = sag_complain(diags, SAG_ERROR, &at, "lacks the column %s", uses[u].columns[c]);
        }
    }
    return status;
}

enum sag_status sag_tables_open(struct sag_tables **opened, struct sag_diags *diags)
{
    enum {
        COUNT = sizeof embedded_tables / sizeof *embedded_tables
    };
    struct sag_tables *tables = calloc(1, sizeof *tables);
    *opened = tables;
    if (!tables)
        return SAG_NO_MEMORY;
    tables->arena = sag_arena_new();
    tables->items = calloc(COUNT, sizeof *tables->items);
    enum sag_status status = tables->arena && tables->items ? SAG_OK : SAG_NO_MEMORY;
    for (size_t i = 0; i < COUNT && status == SAG_OK; i++)
        status = build_table(tables, &embedded_tables[i], diags);
    if (status == SAG_OK)
        status = resolve_uses(tables, diags);
    return status;
}

void sag_tables_free(struct sag_tables *tables)
{
    if (!tables)
        return;
    sag_arena_free(tables->arena);
    free(tables->items);
    free(tables);
}

size_t sag_tables_count(const struct sag_tables *tables)
{
    return tables->count;
}

const struct sag_table *sag_tables_at(const struct sag_tables *tables, size_t index)
{
    return index < tables->count ? &tables->items[index] : NULL;
}

const struct sag_table *sag_tables_find(const struct sag_tables *tables, const char *name)
{
    for (size_t i = 0; i < tables->count; i++)
        if (strcmp(tables->items[i].name, name) == 0)
            return &tables->items[i];
    return NULL;
}

const struct used_table *sag_used_table(const struct sag_tables *tables, enum table_use use)
{
    return &tables->used[use];
}
