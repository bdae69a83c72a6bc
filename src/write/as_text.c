/* A table for people: fixed widths, so that a million rows stream; verdicts coloured on a terminal. */
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"

static bool is_shown(const struct sag_column *column)
{
    return column->head != NULL;
}

static size_t last_shown(const struct sag_view *view)
{
    size_t last = view->count;
    while (last > 0 && !is_shown(&view->columns[last - 1]))
        last--;
    return last;
}

/* Numbers stand to the right, words to the left, and so do their heads. */
static void put_head_line(struct sag_sheet *sheet, bool units)
{
    size_t end = last_shown(sheet->view);
    for (size_t i = 0; i < end; i++) {
        const struct sag_column *column = &sheet->view->columns[i];
        if (!is_shown(column))
            continue;
        bool last = i + 1 == end;
        int width = column->kind == SAG_CELL_NUMBER ? -column->width : last ? 0 : column->width;
        const char *text = units ? column->unit : column->head;
        if (width)
            put_padded(sheet->stream, text, width);
        else
            fputs(text, sheet->stream);
        fputs(last ? "\n" : " ", sheet->stream);
    }
}

static bool has_units(const struct sag_view *view)
{
    for (size_t i = 0; i < view->count; i++)
        if (is_shown(&view->columns[i]) && *view->columns[i].unit)
            return true;
    return false;
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
    put_head_line(sheet, false);
    if (has_units(sheet->view))
        put_head_line(sheet, true);
}

const char *verdict_colour(const char *word)
{
    static const struct {
        const char *word, *colour;
    } colours[] = {{"fail", "\033[1;31m"}, {"unknown", "\033[35m"}, {"watch", "\033[33m"}, {"ok", "\033[32m"}};
    for (size_t i = 0; i < sizeof colours / sizeof *colours; i++)
        if (strcmp(colours[i].word, word) == 0)
            return colours[i].colour;
    return "";
}

static void put_verdict(struct sag_sheet *sheet, const char *word)
{
    if (sheet->colour)
        fprintf(sheet->stream, "%s%s\033[0m", verdict_colour(word), word);
    else
        fputs(word, sheet->stream);
}

static enum sag_status row(struct sag_sheet *sheet, const struct sag_value *values)
{
    char number[SAG_NUMBER_ROOM];
    size_t end = last_shown(sheet->view);
    for (size_t i = 0; i < end; i++) {
        const struct sag_column *column = &sheet->view->columns[i];
        if (!is_shown(column))
            continue;
        bool last = i + 1 == end;
        if (column->kind == SAG_CELL_NUMBER)
            put_padded(sheet->stream, sag_number_print(number, values[i].number, column->decimals), -column->width);
        else if (column->kind == SAG_CELL_VERDICT)
            put_verdict(sheet, values[i].text);
        else if (last)
            put_plain(sheet->stream, values[i].text);
        else
            put_padded(sheet->stream, values[i].text, column->width);
        fputs(last ? "\n" : " ", sheet->stream);
    }
    return SAG_OK;
}

static void finish(struct sag_sheet *sheet)
{
    (void)sheet;
}

const struct sag_writer sag_as_text = {"text", begin, row, finish};
