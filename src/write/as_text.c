/* A table for people: fixed widths, so that a million rows stream; verdicts coloured on a terminal. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"

static bool is_shown(const struct sag_column *column)
{
    return column->head != NULL;
}

const char *verdict_colour(const char *word)
{
    static const struct {
        const char *word, *colour;
    } colours[] = {{"fail", "\033[1;31m"}, {"unknown", "\033[36m"}, {"watch", "\033[33m"}, {"ok", "\033[32m"}};
    for (size_t i = 0; i < sizeof colours / sizeof *colours; i++)
        if (strcmp(colours[i].word, word) == 0)
            return colours[i].colour;
    return "";
}

/* Numbers stand to the right and are never cut; words stand to the left; the last of a line is neither cut nor padded.
 */
static void put_text(struct sag_sheet *sheet, const struct sag_column *column, const char *text, bool last)
{
    bool coloured = sheet->colour && column->kind == SAG_CELL_VERDICT;
    if (coloured)
        fputs(verdict_colour(text), sheet->stream);
    if (column->kind == SAG_CELL_NUMBER)
        fprintf(sheet->stream, "%*s", column->width, text);
    else if (last && (column->width == 0 || text_width(text) <= column->width))
        put_plain(sheet->stream, text);
    else
        put_padded(sheet->stream, text, column->width);
    if (coloured)
        fputs("\033[0m", sheet->stream);
}

/* One line; texts[i] belongs to column i. Blanks at its end are left out. */
static void put_line(struct sag_sheet *sheet, const char *const texts[])
{
    const struct sag_column *columns = sheet->view->columns;
    size_t end = sheet->view->count;
    while (end > 0 && (!is_shown(&columns[end - 1]) || !*texts[end - 1]))
        end--;
    const char *space = "";
    for (size_t i = 0; i < end; i++) {
        if (!is_shown(&columns[i]))
            continue;
        fputs(space, sheet->stream);
        put_text(sheet, &columns[i], texts[i], i + 1 == end);
        space = " ";
    }
    fputc('\n', sheet->stream);
}

static void put_heads(struct sag_sheet *sheet)
{
    const char *heads[SAG_MOST_COLUMNS] = {0}, *units[SAG_MOST_COLUMNS] = {0};
    bool any_unit = false;
    for (size_t i = 0; i < sheet->view->count; i++) {
        heads[i] = is_shown(&sheet->view->columns[i]) ? sheet->view->columns[i].head : "";
        units[i] = sheet->view->columns[i].unit;
        any_unit = any_unit || (is_shown(&sheet->view->columns[i]) && *units[i]);
    }
    put_line(sheet, heads);
    if (any_unit)
        put_line(sheet, units);
}

static void begin(struct sag_sheet *sheet, const char *title)
{
    if (sheet->started)
        fputc('\n', sheet->stream);
    sheet->started = true;
    if (title) {
        put_plain(sheet->stream, title);
        fputc('\n', sheet->stream);
    }
    bool colour = sheet->colour;
    sheet->colour = false; /* a head is no verdict */
    put_heads(sheet);
    sheet->colour = colour;
}

static enum sag_status row(struct sag_sheet *sheet, const struct sag_value *values)
{
    char numbers[SAG_MOST_COLUMNS][SAG_NUMBER_ROOM];
    const char *texts[SAG_MOST_COLUMNS] = {0};
    for (size_t i = 0; i < sheet->view->count; i++) {
        const struct sag_column *column = &sheet->view->columns[i];
        bool number = column->kind == SAG_CELL_NUMBER && !isnan(values[i].number); /* else the words for a blank */
        texts[i] = number ? sag_number_print(numbers[i], values[i].number, column->decimals) : values[i].text;
    }
    put_line(sheet, texts);
    return SAG_OK;
}

static void finish(struct sag_sheet *sheet)
{
    (void)sheet;
}

const struct sag_writer sag_as_text = {"text", begin, row, finish};
