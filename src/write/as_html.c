/* A table of a web page: a caption, heads that say which column or row they are of, verdicts as words in a frame. Each
   begin() ends the table before. */
#include <math.h>
#include <string.h>

#include "base/number.h"
#include "write/escape.h"
#include "write/formats.h"
#include "write/html.h"

static void put_head(FILE *f, const struct sag_column *column)
{
    fprintf(f, "<th scope=\"col\"%s>", column->kind == SAG_CELL_NUMBER ? " class=\"n\"" : "");
    put_html(f, column->head);
    if (*column->unit) {
        fputs(" <span class=\"u\">", f);
        put_html(f, column->unit);
        fputs("</span>", f);
    }
    fputs("</th>", f);
}

static void finish(struct sag_sheet *sheet)
{
    if (sheet->started)
        end_table(sheet->stream);
    sheet->started = false;
}

static void begin(struct sag_sheet *sheet, const char *title)
{
    FILE *f = sheet->stream;
    finish(sheet);
    sheet->started = true;
    begin_table(f, "", title ? title : "");
    for (size_t i = 0; i < sheet->view->count; i++)
        if (sheet->view->columns[i].head)
            put_head(f, &sheet->view->columns[i]);
    begin_rows(f);
}

/* Our own words (start_torque, wye_delta) may be broken behind the line between them. */
static void put_breakable(FILE *f, const char *text)
{
    char word[200];
    while (*text) {
        size_t n = strcspn(text, "_");
        n += text[n] == '_';
        if (n >= sizeof word) { /* no word of ours */
            put_html(f, text);
            return;
        }
        snprintf(word, sizeof word, "%.*s", (int)n, text);
        put_html(f, word);
        fputs(text[n] ? "<wbr>" : "", f);
        text += n;
    }
}

static void put_cell(FILE *f, const struct sag_column *column, const struct sag_value *value, bool first)
{
    char number[SAG_NUMBER_ROOM];
    bool is_number = column->kind == SAG_CELL_NUMBER;
    const char *text =
        is_number && !isnan(value->number) ? sag_number_print(number, value->number, column->decimals) : value->text;
    fputs(first ? "<th scope=\"row\">" : is_number ? "<td class=\"n\">" : "<td>", f);
    if (column->kind == SAG_CELL_VERDICT && *text)
        put_verdict(f, text);
    else if (first || is_number)
        put_html(f, text);
    else
        put_breakable(f, text);
    fputs(first ? "</th>" : "</td>", f);
}

static enum sag_status row(struct sag_sheet *sheet, const struct sag_value *values)
{
    bool first = true;
    fputs("<tr>", sheet->stream);
    for (size_t i = 0; i < sheet->view->count; i++)
        if (sheet->view->columns[i].head) {
            put_cell(sheet->stream, &sheet->view->columns[i], &values[i], first);
            first = false;
        }
    fputs("</tr>\n", sheet->stream);
    return ferror(sheet->stream) ? SAG_IO : SAG_OK;
}

const struct sag_writer sag_as_html = {"html", begin, row, finish};
