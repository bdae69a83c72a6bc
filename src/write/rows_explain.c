/* A calculation sheet as rows, and as the page that is read and signed. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"

enum {
    AT_SECTION,
    AT_SYMBOL,
    AT_QUANTITY,
    AT_FORMULA,
    AT_NUMBERS,
    AT_VALUE,
    AT_LOW,
    AT_HIGH,
    AT_UNIT,
    AT_ORIGIN,
    AT_SOURCE,
    AT_NOTE
};

static const struct sag_column columns[] = {
    [AT_SECTION] = {"section", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_SYMBOL] = {"symbol", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_QUANTITY] = {"quantity", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_FORMULA] = {"formula", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_NUMBERS] = {"numbers", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_VALUE] = {"value", NULL, "", 0, 6, SAG_CELL_NUMBER},
    [AT_LOW] = {"low", NULL, "", 0, 6, SAG_CELL_NUMBER},
    [AT_HIGH] = {"high", NULL, "", 0, 6, SAG_CELL_NUMBER},
    [AT_UNIT] = {"unit", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_ORIGIN] = {"origin", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_SOURCE] = {"source", NULL, "", 0, 0, SAG_CELL_TEXT},
    [AT_NOTE] = {"note", NULL, "", 0, 0, SAG_CELL_TEXT},
};

const struct sag_view sag_explain_view = {columns, sizeof columns / sizeof *columns};

void sag_explain_row(const struct sag_line *line, struct sag_value *v)
{
    v[AT_SECTION] = (struct sag_value){NAN, line->section};
    v[AT_SYMBOL] = (struct sag_value){NAN, line->symbol};
    v[AT_QUANTITY] = (struct sag_value){NAN, line->words};
    v[AT_FORMULA] = (struct sag_value){NAN, line->formula};
    v[AT_NUMBERS] = (struct sag_value){NAN, line->numbers};
    v[AT_VALUE] = (struct sag_value){line->value.value, ""};
    v[AT_LOW] = (struct sag_value){line->value.low, ""};
    v[AT_HIGH] = (struct sag_value){line->value.high, ""};
    v[AT_UNIT] = (struct sag_value){NAN, line->unit};
    v[AT_ORIGIN] = (struct sag_value){NAN, line->origin};
    v[AT_SOURCE] = (struct sag_value){NAN, line->source};
    v[AT_NOTE] = (struct sag_value){NAN, line->note};
}

enum {
    SYMBOL = 9,
    WORDS = 42,
    UNIT = 8,
    BOUNDS = 17
};

struct cell {
    const char *text;
    int width; /* at least */
};

/* No cell is cut; blanks at the end of the line are left out. */
static void put_cells(FILE *stream, const struct cell cells[], size_t count)
{
    while (count > 0 && !*cells[count - 1].text)
        count--;
    for (size_t i = 0; i < count; i++) {
        bool wide = text_width(cells[i].text) >= cells[i].width;
        if (i + 1 == count || wide) {
            put_plain(stream, cells[i].text);
            fputs(i + 1 < count && i == 0 ? " " : "", stream);
        } else
            put_padded(stream, cells[i].text, cells[i].width);
    }
}

/* A line of its own, or the rest of one. Whatever it is, it may name a board, so nothing of it goes out unseen. */
static void put_below(FILE *stream, const char *before, const char *text, const char *after)
{
    fputs(before, stream);
    put_plain(stream, text);
    fputs(after, stream);
}

/* Where a line is from, and what else is to be said of it. */
static void put_foundation(FILE *stream, const struct sag_line *line)
{
    if (*line->source)
        put_below(stream, "            [", line->source, "]\n");
    if (*line->note)
        put_below(stream, "            ", line->note, "\n");
}

/* Symbol, quantity, result, unit, bounds, origin; below it the formula with its numbers, then where it is from. */
static void print_line(FILE *stream, const struct sag_line *line)
{
    char number[SAG_NUMBER_ROOM], low[SAG_NUMBER_ROOM], high[SAG_NUMBER_ROOM], bounds[2 * SAG_NUMBER_ROOM + 8] = "";
    const struct sag_qty *q = &line->value;
    fputs("  ", stream);
    if (text_width(line->symbol) > SYMBOL) {
        put_plain(stream, line->symbol);
        fprintf(stream, "\n%*s", SYMBOL + 3, "");
    } else {
        put_padded(stream, line->symbol, SYMBOL);
        fputc(' ', stream);
    }
    if (!sag_known(q)) {
        put_plain(stream, line->words);
        fputc('\n', stream);
        put_foundation(stream, line);
        return;
    }
    if (text_width(line->words) > WORDS) {
        put_plain(stream, line->words);
        fprintf(stream, "\n%*s", 12 + WORDS, "");
    } else {
        put_padded(stream, line->words, WORDS);
    }
    put_padded(stream, sag_number_figures(number, q->value, line->figures), -10);
    fputc(' ', stream);
    if (q->low < q->high)
        snprintf(bounds, sizeof bounds, "%s..%s", sag_number_figures(low, q->low, line->figures),
                 sag_number_figures(high, q->high, line->figures));
    const struct cell last[] = {{line->unit, UNIT}, {bounds, BOUNDS}, {*line->origin ? " " : "", 1}, {line->origin, 0}};
    put_cells(stream, last, sizeof last / sizeof *last);
    fputc('\n', stream);
    bool two_lines = strlen(line->formula) + strlen(line->numbers) > 82; /* with the indent, more than 100 columns */
    if (*line->numbers) {
        put_below(stream, "            = ", line->formula, two_lines ? "\n            = " : " = ");
        put_below(stream, "", line->numbers, "\n");
    } else if (*line->formula) {
        put_below(stream, "            ", line->formula, "\n");
    }
    put_foundation(stream, line);
}

void sag_print_lines(FILE *stream, const struct sag_lines *lines)
{
    const char *section = "";
    for (size_t i = 0; i < lines->count; i++) {
        const struct sag_line *line = &lines->items[i];
        if (strcmp(line->section, section) != 0) {
            fputs(i ? "\n" : "", stream);
            put_plain(stream, line->section); /* it may name a board */
            fputc('\n', stream);
        }
        section = line->section;
        print_line(stream, line);
    }
}
