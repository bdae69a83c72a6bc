/* The built-in tables: a list of them, and one as it is. */
#include <math.h>
#include <string.h>

#include "write/escape.h"
#include "write/formats.h"

enum {
    AT_NAME,
    AT_ROWS,
    AT_STATUS,
    AT_TITLE,
    AT_SOURCE,
    AT_UNITS,
    AT_CHECKED
};

static const struct sag_column columns[] = {
    [AT_NAME] = {"name", "table", "", 32, 0, SAG_CELL_TEXT},
    [AT_ROWS] = {"rows", "rows", "", 4, 0, SAG_CELL_NUMBER},
    [AT_STATUS] = {"status", "status", "", 15, 0, SAG_CELL_TEXT},
    [AT_TITLE] = {"title", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_SOURCE] = {"source", "source", "", 46, 0, SAG_CELL_TEXT},
    [AT_UNITS] = {"units", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_CHECKED] = {"checked", NULL, "", 0, 0, SAG_CELL_TEXT},
};

const struct sag_view sag_tables_view = {columns, sizeof columns / sizeof *columns};

void sag_tables_row(const struct sag_table *table, struct sag_value *v)
{
    v[AT_NAME] = (struct sag_value){NAN, table->name};
    v[AT_ROWS] = (struct sag_value){(double)table->rows, ""};
    v[AT_STATUS] = (struct sag_value){NAN, table->status};
    v[AT_TITLE] = (struct sag_value){NAN, table->title};
    v[AT_SOURCE] = (struct sag_value){NAN, table->source};
    v[AT_UNITS] = (struct sag_value){NAN, table->units};
    v[AT_CHECKED] = (struct sag_value){NAN, table->checked};
}

static void print_head(FILE *stream, const struct sag_table *t)
{
    const struct {
        const char *key, *text;
    } lines[] = {{"title", t->title},   {"source", t->source},   {"units", t->units},
                 {"status", t->status}, {"checked", t->checked}, {"note", t->notes}};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        for (const char *line = lines[i].text; *line;) {
            size_t n = strcspn(line, "\n");
            fprintf(stream, "# %s: %.*s\n", lines[i].key, (int)n, line);
            line += n + (line[n] == '\n');
        }
}

static int column_width(const struct sag_table *t, size_t column)
{
    int width = 0;
    for (size_t i = 0; i <= t->rows; i++) {
        int w = text_width(t->head[i * t->columns + column]);
        width = w > width ? w : width;
    }
    return width;
}

static void print_text(FILE *stream, const struct sag_table *t)
{
    enum {
        WIDEST = 40
    };
    print_head(stream, t);
    for (size_t r = 0; r <= t->rows; r++) {
        const char *const *cells = &t->head[r * t->columns];
        size_t end = t->columns;
        while (end > 1 && !*cells[end - 1])
            end--;
        for (size_t c = 0; c + 1 < end; c++) {
            int width = column_width(t, c);
            put_padded(stream, cells[c], width < WIDEST ? width : WIDEST);
            fputs("  ", stream);
        }
        fprintf(stream, "%s\n", cells[end - 1]);
    }
}

enum sag_status sag_print_table(FILE *stream, const struct sag_table *t, const char *format)
{
    if (strcmp(format, "text") == 0) {
        print_text(stream, t);
        return SAG_OK;
    }
    struct sag_column head[SAG_MOST_COLUMNS];
    struct sag_value values[SAG_MOST_COLUMNS];
    if (t->columns > SAG_MOST_COLUMNS)
        return SAG_NO_SOLUTION;
    for (size_t c = 0; c < t->columns; c++)
        head[c] = (struct sag_column){t->head[c], NULL, "", 0, 0, SAG_CELL_RAW};
    struct sag_view view = {head, t->columns};
    struct sag_sheet sheet = {.stream = stream, .view = &view};
    const struct sag_writer *writer = sag_writer_find(format);
    enum sag_status status = SAG_OK;
    if (strcmp(format, "csv") == 0)
        print_head(stream, t);
    writer->begin(&sheet, t->title);
    for (size_t r = 0; r < t->rows && status == SAG_OK; r++) {
        for (size_t c = 0; c < t->columns; c++)
            values[c] = (struct sag_value){t->numbers[r * t->columns + c], t->cells[r * t->columns + c]};
        status = writer->row(&sheet, values);
    }
    writer->end(&sheet);
    return status;
}
