/* libcsv counts neither lines nor columns and skips blank lines without a word, so it is fed one physical line at a
   time and the line on which a row began is kept here. */
#include "base/csv.h"

#include <csv.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "base/text.h"

enum {
    BLOCK_SIZE = 64 * 1024,
    MOST_CELLS = 4096 /* in a row; no list has a tenth of that */
};

struct reader {
    const struct sag_input *input;
    const struct sag_csv_events *events;
    struct sag_diags *diags;
    size_t taken; /* bytes that were handed out */

    char separator, newline;
    uint32_t line;     /* being fed */
    uint32_t row_line; /* where the row being fed began */
    bool in_row;
    size_t since_cell; /* bytes fed since the last cell ended */

    char *text; /* the cells of one row, each with its NUL */
    size_t text_used, text_room;
    size_t *starts; /* of each cell in text, and one more for the end */
    struct sag_cell *cells;
    size_t cell_count, start_room, cell_room;
    bool plain;    /* the block being fed has bytes below 128 only */
    bool doubtful; /* the cell being fed may have others */
    bool warned_encoding;
    enum sag_status status;
};

static enum sag_status refuse(struct reader *r, uint32_t line, const char *why)
{
    struct sag_place at = {r->input->name, line, 0};
    return sag_complain(r->diags, SAG_ERROR, &at, "%s", why);
}

static bool room_for_cell(struct reader *r, size_t length)
{
    bool there = r->text_used + length + 1 <= r->text_room && r->cell_count + 2 <= r->start_room &&
                 r->cell_count + 2 <= r->cell_room;
    return there || (sag_grow(&r->text, r->text_used + length + 1, &r->text_room, 1) &&
                     sag_grow(&r->starts, r->cell_count + 2, &r->start_room, sizeof *r->starts) &&
                     sag_grow(&r->cells, r->cell_count + 2, &r->cell_room, sizeof *r->cells));
}

/* Bytes below 128 stand for themselves, and as a rule a block has no others. */
static bool is_plain(const char *text, size_t length)
{
    uint64_t eight, seen = 0;
    size_t at = 0;
    for (; at + sizeof eight <= length; at += sizeof eight) {
        memcpy(&eight, text + at, sizeof eight);
        seen |= eight;
    }
    for (; at < length; at++)
        seen |= (unsigned char)text[at];
    return !(seen & UINT64_C(0x8080808080808080));
}

static bool is_utf8(const char *text, size_t length)
{
    for (size_t at = 0; at < length;) {
        size_t n = sag_utf8_step(text + at, length - at);
        if (n == 0)
            return false;
        at += n;
    }
    return true;
}

static void on_cell(void *cell, size_t length, void *context)
{
    struct reader *r = context;
    bool doubtful = r->doubtful;
    r->since_cell = 0;
    r->doubtful = !r->plain;
    if (r->status != SAG_OK)
        return;
    if (r->cell_count == MOST_CELLS) {
        r->status = refuse(r, r->row_line, "more than 4096 cells in a row");
        return;
    }
    if (!room_for_cell(r, length)) {
        r->status = SAG_NO_MEMORY;
        return;
    }
    r->starts[r->cell_count++] = r->text_used;
    if (length)
        memcpy(r->text + r->text_used, cell, length);
    r->text[r->text_used + length] = '\0';
    r->text_used += length + 1;
    if (doubtful && !r->warned_encoding && !is_utf8(r->text + r->text_used - length - 1, length)) {
        struct sag_place at = {r->input->name, r->row_line, (uint32_t)r->cell_count};
        r->warned_encoding = true;
        sag_complain(r->diags, SAG_ERROR, &at, "text is not UTF-8; save the sheet as \"CSV UTF-8\"");
    }
}

/* A character of ASCII that can be seen. */
static bool is_ink(char c)
{
    return c > ' ' && c < 0x7F;
}

/* Spaces of every kind that a spreadsheet leaves around a cell. */
static void trim(struct sag_cell *cell)
{
    if (cell->length && is_ink(cell->text[0]) && is_ink(cell->text[cell->length - 1])) /* as a rule nothing is left */
        return;
    for (;;) {
        const char *t = cell->text;
        size_t n = cell->length;
        if (n && (t[0] == ' ' || t[0] == '\t' || t[0] == '\n' || t[0] == '\r'))
            *cell = (struct sag_cell){t + 1, n - 1};
        else if (n > 1 && !memcmp(t, "\xC2\xA0", 2))
            *cell = (struct sag_cell){t + 2, n - 2};
        else if (n && (t[n - 1] == ' ' || t[n - 1] == '\t' || t[n - 1] == '\n' || t[n - 1] == '\r'))
            cell->length--;
        else if (n > 1 && !memcmp(t + n - 2, "\xC2\xA0", 2))
            cell->length -= 2;
        else
            return;
    }
}

static void on_row(int terminator, void *context)
{
    (void)terminator;
    struct reader *r = context;
    bool blank = true;
    r->in_row = false;
    for (size_t i = 0; i < r->cell_count && r->status == SAG_OK; i++) {
        size_t end = i + 1 < r->cell_count ? r->starts[i + 1] : r->text_used;
        r->cells[i] = (struct sag_cell){r->text + r->starts[i], end - r->starts[i] - 1};
        trim(&r->cells[i]);
        r->text[(size_t)(r->cells[i].text - r->text) + r->cells[i].length] = '\0';
        blank = blank && r->cells[i].length == 0;
    }
    if (!blank && r->status == SAG_OK) {
        struct sag_row row = {r->cells, r->cell_count, r->row_line, r->separator == ';' ? ',' : '.'};
        r->status = r->events->row(r->events->context, &row);
    }
    r->cell_count = 0;
    r->text_used = 0;
}

static size_t next_block(struct reader *r, char *block)
{
    const struct sag_input *in = r->input;
    size_t left = in->file ? 0 : in->size - r->taken;
    size_t n = left < BLOCK_SIZE ? left : BLOCK_SIZE;
    if (in->file)
        n = fread(block, 1, BLOCK_SIZE, in->file);
    else if (n)
        memcpy(block, (const char *)in->bytes + r->taken, n);
    r->taken += n;
    if (in->seen)
        in->seen(in->seen_context, block, n);
    return n;
}

/* A line of nothing but white space; libcsv makes no row of it. */
static bool is_blank(const char *line, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (line[i] != ' ' && line[i] != '\t' && line[i] != '\n' && line[i] != '\r')
            return false;
    return true;
}

static size_t line_end(const char *text, size_t length, char newline)
{
    const char *end = memchr(text, newline, length);
    return end ? (size_t)(end - text) + 1 : length;
}

/* "sep=;" is a spreadsheet's note to itself. */
static bool is_separator_line(const char *line, size_t length)
{
    return length >= 5 && length <= 7 && memcmp(line, "sep=", 4) == 0;
}

static size_t mark_length(const char *text, size_t length)
{
    return length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

/* Over the byte order mark, comments and blank lines of what has been read so far. Returns SAG_NO_SOLUTION when the
   header has not been read to its end and more is needed. `at_end`: nothing more will come. */
static enum sag_status skip_head(struct reader *r, const char *text, size_t length, bool at_end, size_t *header)
{
    size_t at = mark_length(text, length);
    r->newline = !memchr(text, '\n', length) && memchr(text, '\r', length) ? '\r' : '\n';
    r->line = 1;
    while (at < length) {
        size_t n = line_end(text + at, length - at, r->newline);
        if (text[at + n - 1] != r->newline && !at_end)
            return SAG_NO_SOLUTION;
        bool blank = is_blank(text + at, n) || is_separator_line(text + at, n);
        if (!blank && text[at] != '#')
            break;
        at += n;
        r->line++;
    }
    *header = at;
    if (at < length)
        return SAG_OK;
    return at_end ? refuse(r, 0, "no header row; the first row must name the columns") : SAG_NO_SOLUTION;
}

/* Hand on the comments above the header. */
static enum sag_status tell_comments(struct reader *r, const char *text, size_t length)
{
    enum sag_status status = SAG_OK;
    for (size_t at = mark_length(text, length); at < length && status == SAG_OK && r->events->comment;) {
        size_t n = line_end(text + at, length - at, r->newline), bare = n;
        while (bare && (text[at + bare - 1] == '\n' || text[at + bare - 1] == '\r'))
            bare--;
        if (bare && text[at] == '#')
            status = r->events->comment(r->events->context, text + at + 1, bare - 1);
        at += n;
    }
    return status;
}

/* Comma or semicolon, whichever the header has more of outside quotes. */
static enum sag_status find_separator(struct reader *r, const char *header, size_t length)
{
    size_t commas = 0, semicolons = 0, tabs = 0;
    bool quoted = false;
    size_t n = line_end(header, length, r->newline);
    for (size_t i = 0; i < n; i++) {
        quoted = quoted != (header[i] == '"');
        commas += !quoted && header[i] == ',';
        semicolons += !quoted && header[i] == ';';
        tabs += !quoted && header[i] == '\t';
    }
    if (tabs > commas + semicolons)
        return refuse(r, r->line, "cells are separated by tabs; save the sheet as CSV (comma or semicolon)");
    r->separator = semicolons > commas ? ';' : ',';
    return SAG_OK;
}

static enum sag_status check_bytes(struct reader *r, const char *block, size_t length)
{
    if (r->line == 0 && length >= 2 && (!memcmp(block, "\xFF\xFE", 2) || !memcmp(block, "\xFE\xFF", 2)))
        return refuse(r, 0, "this is UTF-16 text; save the sheet as \"CSV UTF-8\"");
    if (r->line == 0 && length >= 4 && (!memcmp(block, "PK\3\4", 4) || !memcmp(block, "\xD0\xCF\x11\xE0", 4)))
        return refuse(r, 0, "this is a spreadsheet file, not CSV; save the sheet as \"CSV UTF-8\"");
    if (memchr(block, '\0', length))
        return refuse(r, 0, "holds a zero byte, so it is not a text file; save the sheet as \"CSV UTF-8\"");
    return SAG_OK;
}

static enum sag_status feed(struct reader *r, struct csv_parser *parser, const char *text, size_t length)
{
    r->plain = is_plain(text, length);
    r->doubtful = r->doubtful || !r->plain; /* a cell may have begun in the block before */
    for (size_t at = 0; at < length && r->status == SAG_OK;) {
        size_t n = line_end(text + at, length - at, r->newline);
        if (!r->in_row && is_blank(text + at, n)) {
            r->line += text[at + n - 1] == r->newline;
            at += n;
            continue;
        }
        if (!r->in_row) {
            r->in_row = true;
            r->row_line = r->line;
        }
        r->since_cell += n;
        if (csv_parse(parser, text + at, n, on_cell, on_row, r) < n) {
            if (csv_error(parser) == CSV_EPARSE)
                return refuse(r, r->line, "a quote stands inside a cell; quote the whole cell and double the quote");
            return SAG_NO_MEMORY;
        }
        if (r->since_cell > SAG_CELL_LIMIT)
            return refuse(r, r->row_line, "a cell longer than 1 MiB; a closing quote may be missing");
        r->line += text[at + n - 1] == r->newline;
        at += n;
    }
    return r->status;
}

/* What is read before the header ends: as a rule one block, more when long comments stand above it. */
struct head {
    char *text;
    size_t length, room;
};

static enum sag_status read_head(struct reader *r, struct head *head, size_t *header)
{
    enum sag_status status = SAG_NO_SOLUTION;
    while (status == SAG_NO_SOLUTION) {
        if (head->length > SAG_CELL_LIMIT)
            return refuse(r, 0, "no header row within the first MiB");
        if (!sag_grow(&head->text, head->length + BLOCK_SIZE, &head->room, 1))
            return SAG_NO_MEMORY;
        size_t n = next_block(r, head->text + head->length);
        if (head->length + n == 0)
            return refuse(r, 0, "the file is empty");
        r->line = 0;
        status = check_bytes(r, head->text, head->length + n);
        head->length += n;
        if (status == SAG_OK)
            status = skip_head(r, head->text, head->length, n == 0, header);
    }
    return status;
}

static enum sag_status feed_all(struct reader *r, struct csv_parser *parser, char *block)
{
    struct head head = {0};
    size_t header = 0, length = 0;
    enum sag_status status = read_head(r, &head, &header);
    if (status == SAG_OK)
        status = tell_comments(r, head.text, header);
    if (status == SAG_OK)
        status = find_separator(r, head.text + header, head.length - header);
    if (status == SAG_OK) {
        csv_set_delim(parser, (unsigned char)r->separator);
        status = feed(r, parser, head.text + header, head.length - header);
    }
    free(head.text);
    while (status == SAG_OK && (length = next_block(r, block)) > 0) {
        status = check_bytes(r, block, length);
        if (status == SAG_OK)
            status = feed(r, parser, block, length);
    }
    if (status == SAG_OK && r->input->file && ferror(r->input->file))
        return refuse(r, r->line, "could not be read to its end");
    if (status == SAG_OK && csv_fini(parser, on_cell, on_row, r) != 0)
        return refuse(r, r->row_line, "a quote opened in this row is never closed");
    if (status == SAG_OK && r->status == SAG_OK && r->warned_encoding)
        return SAG_BAD_INPUT;
    return status == SAG_OK ? r->status : status;
}

enum sag_status sag_csv_read(const struct sag_input *input, const struct sag_csv_events *events,
                             struct sag_diags *diags)
{
    struct reader r = {.input = input, .events = events, .diags = diags};
    struct csv_parser parser;
    char *block = malloc(BLOCK_SIZE);
    enum sag_status status = SAG_NO_MEMORY;
    if (block && csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) == 0) {
        status = feed_all(&r, &parser, block);
        csv_free(&parser);
    }
    free(block);
    free(r.text);
    free(r.starts);
    free(r.cells);
    return status;
}
