/* The built-in tables as they are printed: the same cells as in their files, whatever the format. */
#include <jansson.h>
#include <stdlib.h>

#include "base/csv.h"
#include "read_help.h"

static char *printed(const struct sag_table *table, const char *format)
{
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(sag_print_table(stream, table, format), SAG_OK);
    fclose(stream);
    return text;
}

/* Every cell of a row, one a line, with a blank line after the row. */
static enum sag_status put_cells(void *context, const struct sag_row *row)
{
    for (size_t i = 0; i < row->count; i++)
        fprintf(context, "%s\n", row->cells[i].text);
    fputc('\n', context);
    return SAG_OK;
}

static char *cells_of(const struct sag_input *input)
{
    char *text = NULL;
    size_t size = 0;
    struct sag_diags diags = {0};
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    sag_csv_read(input, &(struct sag_csv_events){put_cells, NULL, stream}, &diags);
    fclose(stream);
    check_diags(input->name, &diags, "");
    return text;
}

static char *cells_of_file(const struct sag_table *table)
{
    char path[200];
    snprintf(path, sizeof path, "motordata/tables/%s.csv", table->name);
    struct sag_input input = {.name = path, .file = fopen(path, "r")};
    if (!input.file)
        fail_msg("%s: not found; run the tests from the root of the tree", path);
    char *cells = cells_of(&input);
    fclose(input.file);
    return cells;
}

static void csv_has_the_cells_of_the_file(void **state)
{
    (void)state;
    for (size_t i = 0; i < sag_tables_count(shared_tables()); i++) {
        const struct sag_table *table = sag_tables_at(shared_tables(), i);
        char *text = printed(table, "csv");
        struct sag_input input = text_input(table->name, text);
        char *got = cells_of(&input), *wanted = cells_of_file(table);
        check_text(table->name, got, wanted);
        free(wanted);
        free(got);
        free(text);
    }
}

/* A cell that starts with a minus is a number here, not a formula to be disarmed. */
static void csv_keeps_negative_numbers(void **state)
{
    (void)state;
    char *text = printed(sag_tables_find(shared_tables(), "iec_60034_30_1_interpolation"), "csv");
    assert_non_null(strstr(text, "\nIE1,2,0.5234,-5.0499,17.418,74.3171\n"));
    free(text);
}

static void check_json_cell(const struct sag_table *table, size_t at, const json_t *value)
{
    const char *cell = table->cells[at];
    char name[200];
    snprintf(name, sizeof name, "%s, cell \"%s\"", table->name, cell);
    if (!isnan(table->numbers[at])) {
        if (!json_is_number(value))
            fail_msg("%s: is not a number", name);
        check_percent(name, json_number_value(value), table->numbers[at], 1e-12);
    } else if (*cell) {
        if (!json_is_string(value))
            fail_msg("%s: is not text", name);
        check_text(name, json_string_value(value), cell);
    } else if (!json_is_null(value)) {
        fail_msg("%s: is not null", name);
    }
}

static void check_json_row(const struct sag_table *table, size_t row, const char *line, size_t length)
{
    json_t *object = json_loadb(line, length, JSON_REJECT_DUPLICATES, NULL);
    if (!json_is_object(object))
        fail_msg("%s: row %zu is no object", table->name, row);
    assert_int_equal(json_object_size(object), table->columns);
    for (size_t c = 0; c < table->columns; c++) {
        const json_t *value = json_object_get(object, table->head[c]);
        if (!value)
            fail_msg("%s: row %zu lacks %s", table->name, row, table->head[c]);
        check_json_cell(table, row * table->columns + c, value);
    }
    json_decref(object);
}

static void json_has_numbers(void **state)
{
    (void)state;
    for (size_t i = 0; i < sag_tables_count(shared_tables()); i++) {
        const struct sag_table *table = sag_tables_at(shared_tables(), i);
        char *text = printed(table, "json"), *line = text;
        for (size_t row = 0; row < table->rows; row++) {
            size_t length = strcspn(line, "\n");
            check_json_row(table, row, line, length);
            line += length + 1;
        }
        check_text(table->name, line, "");
        free(text);
    }
}

static void text_has_no_trailing_blanks(void **state)
{
    (void)state;
    char faulty[4000] = "";
    for (size_t i = 0; i < sag_tables_count(shared_tables()); i++) {
        const struct sag_table *table = sag_tables_at(shared_tables(), i);
        char *text = printed(table, "text");
        size_t used = strlen(faulty);
        if (strstr(text, " \n"))
            snprintf(faulty + used, sizeof faulty - used, " %s", table->name);
        free(text);
    }
    check_text("tables with blanks at the end of a line", faulty, "");
}

TEST_LIST(print_tables, cmocka_unit_test(csv_has_the_cells_of_the_file), cmocka_unit_test(csv_keeps_negative_numbers),
          cmocka_unit_test(json_has_numbers), cmocka_unit_test(text_has_no_trailing_blanks))
