#include <math.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"

static void begin(struct sag_sheet *sheet, const char *title)
{
    const char *comma = "";
    (void)title;
    if (sheet->started)
        return;
    sheet->started = true;
    for (size_t i = 0; i < sheet->view->count; i++)
        if (sheet->view->columns[i].name) {
            fprintf(sheet->stream, "%s%s", comma, sheet->view->columns[i].name);
            comma = ",";
        }
    fputc('\n', sheet->stream);
}

static enum sag_status row(struct sag_sheet *sheet, const struct sag_value *values)
{
    char number[SAG_NUMBER_ROOM];
    const char *comma = "";
    for (size_t i = 0; i < sheet->view->count; i++) {
        const struct sag_column *column = &sheet->view->columns[i];
        if (!column->name)
            continue;
        fputs(comma, sheet->stream);
        comma = ",";
        if (column->kind == SAG_CELL_NUMBER)
            fputs(sag_number_print(number, values[i].number, column->decimals), sheet->stream);
        else if (column->kind == SAG_CELL_RAW && !isnan(values[i].number))
            fputs(values[i].text, sheet->stream);
        else
            put_csv_cell(sheet->stream, values[i].text);
    }
    fputc('\n', sheet->stream);
    return SAG_OK;
}

static void end(struct sag_sheet *sheet)
{
    (void)sheet;
}

const struct sag_writer sag_as_csv = {"csv", begin, row, end};
