/* One object a row, a row a line; a blank is null. */
#include <jansson.h>
#include <math.h>

#include "base/number.h"
#include "write/formats.h"

static void begin(struct sag_sheet *sheet, const char *title)
{
    (void)sheet;
    (void)title;
}

static json_t *value_of(const struct sag_column *column, const struct sag_value *value)
{
    if (column->kind == SAG_CELL_RAW && !isnan(value->number))
        return json_real(value->number);
    if (column->kind != SAG_CELL_NUMBER)
        return *value->text ? json_string(value->text) : json_null();
    double number = sag_number_round(value->number, column->decimals);
    if (isnan(number))
        return json_null();
    return column->decimals == 0 ? json_integer((json_int_t)number) : json_real(number);
}

static enum sag_status row(struct sag_sheet *sheet, const struct sag_value *values)
{
    enum {
        DIGITS = 15
    }; /* all that a rounded number has, none that its binary form adds */
    json_t *object = json_object();
    int failed = object == NULL;
    for (size_t i = 0; i < sheet->view->count && !failed; i++)
        failed = sheet->view->columns[i].name && json_object_set_new(object, sheet->view->columns[i].name,
                                                                     value_of(&sheet->view->columns[i], &values[i]));
    if (!failed)
        failed = json_dumpf(object, sheet->stream, JSON_COMPACT | JSON_PRESERVE_ORDER | JSON_REAL_PRECISION(DIGITS));
    json_decref(object);
    fputc('\n', sheet->stream);
    return !failed ? SAG_OK : ferror(sheet->stream) ? SAG_IO : SAG_NO_MEMORY;
}

static void end(struct sag_sheet *sheet)
{
    (void)sheet;
}

const struct sag_writer sag_as_json = {"json", begin, row, end};
