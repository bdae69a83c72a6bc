/* libcsv counts neither lines nor columns and skips blank lines without a word, so it is fed one physical line at a
   time and the line on which a row began is kept here. */
#include "base/csv.h"

#include <csv.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum {
    BLOCK_SIZE = 64 * 1024
};

struct reader {
    const struct sag_input *input;
    const struct sag_csv_events *events;
    struct sag_diags *diags;
    size_t taken; /* bytes of input->bytes already handed out */

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
    bool warned_encoding;
    enum sag_status status;
};

static enum sag_status refuse(struct reader *r, uint32_t line, const char *why)
{
    struct sag_place at = {r->input->name, line, 0};
    return sag_complain(r->diags, SAG_ERROR, &at, "%s", why);
}

static bool grow(void **items, size_t *room, size_t wanted, size_t size)
{
    if (wanted <= *room)
        return true;
    size_t more = *room ? *room : 64;
    while (more < wanted)
        more *= 2;
    void *moved = realloc(*items, more * size);
    if (!moved)
        return false;
    *items = moved;
    *room = more;
    return true;
}

static bool room_for_cell(struct reader *r, size_t length)
{
    return grow((void **)&r->text, &r->text_room, r->text_used + length + 1, 1) &&
           grow((void **)&r->starts, &r->start_room, r->cell_count + 2, sizeof *r->starts) &&
           grow((void **)&r->cells, &r->cell_room, r->cell_count + 2, sizeof *r->cells);
}

/* Length of the UTF-8 sequence at text, 0 when it is none. */
static size_t utf8_step(const unsigned char *text, size_t left)
{
    size_t n = text[0] < 0x80 ? 1 : text[0] >= 0xC2 && text[0] < 0xE0 ? 2 : (text[0] & 0xF0) == 0xE0 ? 3 : 4;
    if (n > left || (text[0] >= 0x80 && text[0] < 0xC2) || text[0] > 0xF4)
        return 0;
    for (size_t i = 1; i < n; i++)
        if ((text[i] & 0xC0) != 0x80)
            return 0;
    bool overlong = (text[0] == 0xE0 && text[1] < 0xA0) || (text[0] == 0xF0 && text[1] < 0x90);
    bool surrogate = text[0] == 0xED && text[1] >= 0xA0;
    bool beyond = text[0] == 0xF4 && text[1] >= 0x90;
    return overlong || surrogate || beyond ? 0 : n;
}

static bool is_utf8(const char *text, size_t length)
{
    for (size_t at = 0; at < length;) {
        size_t n = utf8_step((const unsigned char *)text + at, length - at);
        if (n == 0)
            return false;
        at += n;
    }
    return true;
}

static void on_cell(void *cell, size_t length, void *context)
{
    struct reader *r = context;
    r->since_cell = 0;
    if (r->status != SAG_OK)
        return;
    if (!room_for_cell(r, length)) {
        r->status = SAG_NO_MEMORY;
        return;
    }
    r->starts[r->cell_count++] = r->text_used;
    if (length)
        memcpy(r->text + r->text_used, cell, length);
    r->text[r->text_used + length] = '\0';
    r->text_used += length + 1;
    if (!r->warned_encoding && !is_utf8(r->text + r->text_used - length - 1, length)) {
        struct sag_place at = {r->input->name, r->row_line, (uint32_t)r->cell_count};
        r->warned_encoding = true;
        sag_complain(r->diags, SAG_ERROR, &at, "text is not UTF-8; save the sheet as \"CSV UTF-8\"");
    }
}

/* Spaces of every kind that a spreadsheet leaves around a cell. */
static void trim(struct sag_cell *cell)
{
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
    if (in->file)
        return fread(block, 1, BLOCK_SIZE, in->file);
    size_t left = in->size - r->taken;
    size_t n = left < BLOCK_SIZE ? left : BLOCK_SIZE;
    if (n)
        memcpy(block, (const char *)in->bytes + r->taken, n);
    r->taken += n;
    return n;
}

static size_t line_end(const char *text, size_t length, char newline)
{
    const char *end = memchr(text, newline, length);
    return end ? (size_t)(end - text) + 1 : length;
}

/* Over the byte order mark and the comments to the first byte of the header. */
static enum sag_status skip_head(struct reader *r, const char *block, size_t length, size_t *header)
{
    size_t at = length >= 3 && !memcmp(block, "\xEF\xBB\xBF", 3) ? 3 : 0;
    r->newline = !memchr(block, '\n', length) && memchr(block, '\r', length) ? '\r' : '\n';
    r->line = 1;
    while (at < length) {
        size_t n = line_end(block + at, length - at, r->newline);
        size_t bare = n;
        while (bare && (block[at + bare - 1] == '\n' || block[at + bare - 1] == '\r'))
            bare--;
        if (bare && block[at] != '#')
            break;
        if (bare && r->events->comment) {
            enum sag_status status = r->events->comment(r->events->context, block + at + 1, bare - 1);
            if (status != SAG_OK)
                return status;
        }
        at += n;
        r->line++;
    }
    *header = at;
    return at < length ? SAG_OK : refuse(r, 0, "no header row; the first row must name the columns");
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
        return refuse(r, r->line, "holds a zero byte, so it is not a text file; save the sheet as \"CSV UTF-8\"");
    return SAG_OK;
}

static enum sag_status feed(struct reader *r, struct csv_parser *parser, const char *text, size_t length)
{
    for (size_t at = 0; at < length && r->status == SAG_OK;) {
        size_t n = line_end(text + at, length - at, r->newline);
        if (!r->in_row && text[at] != '\n' && text[at] != '\r') {
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

static enum sag_status feed_all(struct reader *r, struct csv_parser *parser, char *block)
{
    size_t length = next_block(r, block);
    if (length == 0)
        return refuse(r, 0, "the file is empty");
    enum sag_status status = check_bytes(r, block, length);
    size_t header = 0;
    if (status == SAG_OK)
        status = skip_head(r, block, length, &header);
    if (status == SAG_OK)
        status = find_separator(r, block + header, length - header);
    if (status != SAG_OK)
        return status;
    csv_set_delim(parser, (unsigned char)r->separator);
    status = feed(r, parser, block + header, length - header);
    while (status == SAG_OK && (length = next_block(r, block)) > 0) {
        status = check_bytes(r, block, length);
        if (status == SAG_OK)
            status = feed(r, parser, block, length);
    }
    if (status == SAG_OK && r->input->file && ferror(r->input->file))
        return refuse(r, r->line, "could not be read to its end");
    if (status == SAG_OK && csv_fini(parser, on_cell, on_row, r) != 0)
        return refuse(r, r->row_line, "a quote opened in this row is never closed");
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
