#include <stdlib.h>

#include "base/csv.h"
#include "read_help.h"

/* What was read, as text: "#comment" and "line: cell|cell" (with ";" instead of ":" where a comma is the mark). */
struct dump {
    char text[4000];
    size_t used;
};

static void add(struct dump *d, const char *text, size_t length)
{
    size_t room = sizeof d->text - 1 - d->used;
    size_t n = length < room ? length : room;
    memcpy(d->text + d->used, text, n);
    d->used += n;
}

static enum sag_status on_row(void *context, const struct sag_row *row)
{
    char line[24];
    add(context, line, (size_t)snprintf(line, sizeof line, "%u%s ", row->line, row->mark == ',' ? ";" : ":"));
    for (size_t i = 0; i < row->count; i++) {
        assert_int_equal(row->cells[i].length, strlen(row->cells[i].text));
        add(context, i ? "|" : "", i > 0);
        add(context, row->cells[i].text, row->cells[i].length < 60 ? row->cells[i].length : 3);
    }
    add(context, "\n", 1);
    return SAG_OK;
}

static enum sag_status on_comment(void *context, const char *text, size_t length)
{
    add(context, "#", 1);
    add(context, text, length);
    add(context, "\n", 1);
    return SAG_OK;
}

enum way {
    FROM_BYTES,
    FROM_MEMORY_FILE,
    FROM_REAL_FILE,
    WAYS
};

/* The stream that `way` reads `bytes` by; NULL for bytes in memory. */
static FILE *open_way(enum way way, const void *bytes, size_t size)
{
    if (way == FROM_BYTES)
        return NULL;
    if (way == FROM_MEMORY_FILE && size > 0)
        return fmemopen((void *)(uintptr_t)bytes, size, "r");
    FILE *file = tmpfile();
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    rewind(file);
    return file;
}

static enum sag_status read_way(enum way way, const void *bytes, size_t size, struct dump *dump,
                                struct sag_diags *diags)
{
    struct sag_input input = {.name = "t.csv", .bytes = bytes, .size = size, .file = open_way(way, bytes, size)};
    struct sag_csv_events events = {on_row, on_comment, dump};
    *dump = (struct dump){0};
    enum sag_status status = sag_csv_read(&input, &events, diags);
    if (input.file)
        fclose(input.file);
    return status;
}

static void check_read(const char *name, const void *bytes, size_t size, const char *rows, const char *faults)
{
    struct dump dump;
    for (enum way way = FROM_BYTES; way < WAYS; way++) {
        struct sag_diags diags = {0};
        enum sag_status status = read_way(way, bytes, size, &dump, &diags);
        assert_int_equal(status == SAG_OK, diags.errors == 0);
        check_diags(name, &diags, faults);
        check_text(name, dump.text, rows);
    }
}

struct case_row {
    const char *name, *bytes;
    size_t size;
    const char *rows, *faults;
};
#define TEXT(bytes) bytes, sizeof bytes - 1

static void check_rows(const struct case_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        check_read(rows[i].name, rows[i].bytes, rows[i].size, rows[i].rows, rows[i].faults);
}

static void reads_what_spreadsheets_write(void **state)
{
    (void)state;
    static const struct case_row rows[] = {
        {"plain", TEXT("a,b\n1,2\n"), "1: a|b\n2: 1|2\n", ""},
        {"byte order mark",
         TEXT("\xEF\xBB\xBF"
              "a,b\n1,2\n"),
         "1: a|b\n2: 1|2\n", ""},
        {"CRLF", TEXT("a,b\r\n1,2\r\n\r\n3,4\r\n"), "1: a|b\n2: 1|2\n4: 3|4\n", ""},
        {"lone CR", TEXT("#x\ra,b\r1,2\r\r3,4\r"), "#x\n2: a|b\n3: 1|2\n5: 3|4\n", ""},
        {"semicolons", TEXT("a;b\n1,5;2\n"), "1; a|b\n2; 1,5|2\n", ""},
        {"semicolons in quotes", TEXT("a,\"b;;;\"\n1,2\n"), "1: a|b;;;\n2: 1|2\n", ""},
        {"comments", TEXT("# one\n#two\n\na,b\n#3,4\n"), "# one\n#two\n4: a|b\n5: #3|4\n", ""},
        {"comments after a byte order mark", TEXT("\xEF\xBB\xBF#x\r\na,b\r\n"), "#x\n2: a|b\n", ""},
        {"blank lines", TEXT("a,b\n\n\n1,2\n\n3,4\n"), "1: a|b\n4: 1|2\n6: 3|4\n", ""},
        {"empty rows of a sheet", TEXT("a,b\n,,,\n1,2\n,,,\n"), "1: a|b\n3: 1|2\n", ""},
        {"quoted newline", TEXT("a,b\n1,\"x\ny\"\n3,4\n"), "1: a|b\n2: 1|x\ny\n4: 3|4\n", ""},
        {"quoted newline in the first cell", TEXT("a,b\n\n\"x\n\ny\",2\n3,4\n"), "1: a|b\n3: x\n\ny|2\n6: 3|4\n", ""},
        {"doubled quote", TEXT("a\n\"say \"\"on\"\"\"\n"), "1: a\n2: say \"on\"\n", ""},
        {"missing final newline", TEXT("a,b\n1,2"), "1: a|b\n2: 1|2\n", ""},
        {"header alone", TEXT("a,b"), "1: a|b\n", ""},
        {"spaces", TEXT(" a ,\tb\n 1 , \" 2 \" \n"), "1: a|b\n2: 1|2\n", ""},
        {"no-break spaces", TEXT("a,b\n\xC2\xA0 1\xC2\xA0,\"\xC2\xA0\xC2\xA0\"\n"), "1: a|b\n2: 1|\n", ""},
        {"spaces inside", TEXT("a\nx \xC2\xA0y\n"), "1: a\n2: x \xC2\xA0y\n", ""},
        {"note on the separator", TEXT("sep=,\na,b\n1,2\n"), "2: a|b\n3: 1|2\n", ""},
        {"note on the separator, CRLF", TEXT("sep=;\r\na;b\r\n1,5;2\r\n"), "2; a|b\n3; 1,5|2\n", ""},
        {"note on the separator behind a byte order mark",
         TEXT("\xEF\xBB\xBF"
              "sep=;\na;b\n1;2\n"),
         "2; a|b\n3; 1|2\n", ""},
        {"note on the separator below comments", TEXT("# x\nsep=,\n\na,b\n"), "# x\n4: a|b\n", ""},
        {"a column called sep", TEXT("sep=volts,b\n1,2\n"), "1: sep=volts|b\n2: 1|2\n", ""},
        {"ragged", TEXT("a,b\n1\n1,2,3\n"), "1: a|b\n2: 1\n3: 1|2|3\n", ""},
        {"UTF-8", TEXT("a\nL\xC3\xBC\xE2\x82\xAC\xF0\x9F\x98\x80\n"),
         "1: a\n2: L\xC3\xBC\xE2\x82\xAC\xF0\x9F\x98\x80\n", ""},
    };
    check_rows(rows, COUNT(rows));
}

static void lines_of_spaces_count(void **state)
{
    (void)state;
    static const struct case_row rows[] = {
        {"a line of spaces", TEXT("a,b\n   \n1,2\n"), "1: a|b\n3: 1|2\n", ""},
        {"spaces and a tab, CRLF", TEXT("a,b\r\n \t \r\n\r\n1,2\r\n"), "1: a|b\n4: 1|2\n", ""},
        {"spaces above the header", TEXT("#x\n  \na,b\n1,2\n"), "#x\n3: a|b\n4: 1|2\n", ""},
        {"spaces above semicolons", TEXT("  \na;b\n1,5;2\n"), "2; a|b\n3; 1,5|2\n", ""},
    };
    check_rows(rows, COUNT(rows));
}

static void refuses_what_is_no_table(void **state)
{
    (void)state;
    static const char not_utf8[] = "E text is not UTF-8; save the sheet as \"CSV UTF-8\"\n";
    static char at_2_2[80], at_2_1[80];
    snprintf(at_2_2, sizeof at_2_2, "2:2 %s", not_utf8);
    snprintf(at_2_1, sizeof at_2_1, "2:1 %s", not_utf8);
    const struct case_row rows[] = {
        {"empty", TEXT(""), "", "0:0 E the file is empty\n"},
        {"only comments", TEXT("# a\n#b"), "", "0:0 E no header row; the first row must name the columns\n"},
        {"only blank lines", TEXT("\n\r\n\n"), "", "0:0 E no header row; the first row must name the columns\n"},
        {"only a byte order mark", TEXT("\xEF\xBB\xBF"), "",
         "0:0 E no header row; the first row must name the columns\n"},
        {"unterminated quote", TEXT("a,b\n1,2\n3,\"4\n5,6\n"), "1: a|b\n2: 1|2\n",
         "3:0 E a quote opened in this row is never closed\n"},
        {"quote inside a cell", TEXT("a,b\n1,2\n3,4\"5\n"), "1: a|b\n2: 1|2\n",
         "3:0 E a quote stands inside a cell; quote the whole cell and double the quote\n"},
        {"text after a quote", TEXT("a,b\n\"1\"x,2\n"), "1: a|b\n",
         "2:0 E a quote stands inside a cell; quote the whole cell and double the quote\n"},
        {"UTF-16 LE",
         TEXT("\xFF\xFE"
              "a\0,\0b\0\n\0"),
         "", "0:0 E this is UTF-16 text; save the sheet as \"CSV UTF-8\"\n"},
        {"UTF-16 BE", TEXT("\xFE\xFF\0a\0,\0b\0\n"), "",
         "0:0 E this is UTF-16 text; save the sheet as \"CSV UTF-8\"\n"},
        {"zip", TEXT("PK\3\4\24\0\6\0"), "",
         "0:0 E this is a spreadsheet file, not CSV; save the sheet as \"CSV UTF-8\"\n"},
        {"old spreadsheet", TEXT("\xD0\xCF\x11\xE0\xA1\xB1"), "",
         "0:0 E this is a spreadsheet file, not CSV; save the sheet as \"CSV UTF-8\"\n"},
        {"zero byte", TEXT("a,b\n1,\0\n"), "",
         "0:0 E holds a zero byte, so it is not a text file; save the sheet as \"CSV UTF-8\"\n"},
        {"tabs", TEXT("# a\na\tb\tc,d\n1\t2\t3\n"), "# a\n",
         "2:0 E cells are separated by tabs; save the sheet as CSV (comma or semicolon)\n"},
        {"Latin-1", TEXT("a,b\n1,L\xFC\n3,\xE9t\xE9\n"), "1: a|b\n2: 1|L\xFC\n3: 3|\xE9t\xE9\n", at_2_2},
        {"overlong", TEXT("a\n\xC0\xAF\n"), "1: a\n2: \xC0\xAF\n", at_2_1},
        {"surrogate", TEXT("a\n\xED\xA0\x80\n"), "1: a\n2: \xED\xA0\x80\n", at_2_1},
        {"beyond Unicode", TEXT("a\n\xF4\x90\x80\x80\n"), "1: a\n2: \xF4\x90\x80\x80\n", at_2_1},
        {"cut sequence", TEXT("a\n\xE2\x82\n"), "1: a\n2: \xE2\x82\n", at_2_1},
    };
    check_rows(rows, COUNT(rows));
}

/* `head`, then `count` times `fill`, then `tail`. */
static char *filled(const char *head, const char *fill, size_t count, const char *tail)
{
    char *text = malloc(strlen(head) + count * strlen(fill) + strlen(tail) + 1);
    assert_non_null(text);
    char *at = stpcpy(text, head);
    for (size_t i = 0; i < count; i++)
        at = stpcpy(at, fill);
    strcpy(at, tail);
    return text;
}

/* Larger than any buffer on the way. */
static void reads_long_things(void **state)
{
    (void)state;
    static const struct {
        const char *name, *head, *fill, *tail;
        size_t count;
        const char *rows, *faults;
    } rows[] = {
        {"cell under 1 MiB", "a\n", "xxxxxxxxxx", "\n9\n", 104000, "1: a\n2: xxx\n3: 9\n", ""},
        {"cell over 1 MiB", "a\n", "xxxxxxxxxx", "\n9\n", 120000, "1: a\n",
         "2:0 E a cell longer than 1 MiB; a closing quote may be missing\n"},
        {"quote that is not closed for 1 MiB", "a,b\n1,2\n3,\"4\n", "5,6,7,8,9\n", "", 120000, "1: a|b\n2: 1|2\n",
         "3:0 E a cell longer than 1 MiB; a closing quote may be missing\n"},
        {"lines over buffers", "a,b\n", "\r\n", "1,2\r\n", 100000, "1: a|b\n100002: 1|2\n", ""},
        {"quoted lines over buffers", "a,b\n\"x", "\n", "z\",2\n3,4\n", 100000, "1: a|b\n2: x\n\n|2\n100003: 3|4\n",
         ""},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char *text = filled(rows[i].head, rows[i].fill, rows[i].count, rows[i].tail);
        check_read(rows[i].name, text, strlen(text), rows[i].rows, rows[i].faults);
        free(text);
    }
}

static void many_cells(void **state)
{
    (void)state;
    static const struct {
        const char *name, *head;
        size_t commas;
        const char *tail, *rows, *faults;
    } rows[] = {
        {"4096 cells in a header", "a", 4095, "\n", NULL, ""},
        {"4097 cells in a header", "a", 4096, "\n", "", "1:0 E more than 4096 cells in a row\n"},
        {"4097 cells in a row", "a,b\n1,2\n3", 4096, "\n5,6\n", "1: a|b\n2: 1|2\n",
         "3:0 E more than 4096 cells in a row\n"},
        {"a million cells in a row", "a,b\n1,2\n3", 1000000, "\n5,6\n", "1: a|b\n2: 1|2\n",
         "3:0 E more than 4096 cells in a row\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char *text = filled(rows[i].head, ",", rows[i].commas, rows[i].tail);
        struct sag_diags diags = {0};
        struct dump dump;
        if (rows[i].rows) {
            check_read(rows[i].name, text, strlen(text), rows[i].rows, rows[i].faults);
        } else {
            assert_int_equal(read_way(FROM_BYTES, text, strlen(text), &dump, &diags), SAG_OK);
            check_diags(rows[i].name, &diags, "");
        }
        free(text);
    }
}

static enum sag_status count_comment(void *context, const char *text, size_t length)
{
    (void)text;
    (void)length;
    ++*(size_t *)context;
    return SAG_OK;
}

static enum sag_status check_header_line(void *context, const struct sag_row *row)
{
    assert_int_equal(row->line, *(size_t *)context + 1);
    assert_int_equal(row->count, 2);
    return SAG_OK;
}

static void comments_may_be_long(void **state)
{
    (void)state;
    char *text = filled("", "# it was written at length\n", 4000, "a,b\n");
    size_t comments = 0;
    struct sag_diags diags = {0};
    struct sag_input input = text_input("t.csv", text);
    struct sag_csv_events events = {check_header_line, count_comment, &comments};
    sag_csv_read(&input, &events, &diags);
    check_diags("100 KB of comments", &diags, "");
    assert_int_equal(comments, 4000);
    free(text);
}

/* A block of the reader ends before, inside and behind a letter of two bytes, and a byte that is none: it is found in a
   cell that goes on into a block of plain bytes, and nowhere else. */
static void letters_across_a_block(void **state)
{
    (void)state;
    enum {
        BLOCK = 64 * 1024 /* as in base/csv.c */
    };
    for (int bad = 0; bad < 2; bad++)
        for (size_t at = BLOCK - 4; at <= BLOCK + 2; at++) {
            char *text = filled("", "a,b\n", at / 4, "");
            struct dump d = {.used = 0};
            struct sag_diags diags = {0};
            char *whole = calloc(1, at + 2 * BLOCK);
            assert_non_null(whole);
            memcpy(whole, text, at - at % 4);
            memset(whole + at - at % 4, 'x', at % 4);
            strcat(whole, bad ? "\xC3z,last\n" : "\xC3\xA9,last\n");
            for (size_t used = strlen(whole), i = 0; i < BLOCK / 4; i++, used += 4)
                memcpy(whole + used, "c,d\n", 4);
            struct sag_input input = text_input("t.csv", whole);
            enum sag_status status = sag_csv_read(&input, &(struct sag_csv_events){on_row, NULL, &d}, &diags);
            assert_int_equal(status, bad ? SAG_BAD_INPUT : SAG_OK);
            assert_int_equal(diags.errors, bad);
            sag_diags_free(&diags);
            free(whole);
            free(text);
        }
}

static enum sag_status stop_at_second(void *context, const struct sag_row *row)
{
    (void)row;
    return ++*(int *)context == 2 ? SAG_NO_MEMORY : SAG_OK;
}

static void a_row_may_end_the_reading(void **state)
{
    (void)state;
    int rows = 0;
    struct sag_diags diags = {0};
    struct sag_input input = text_input("t.csv", "a\n1\n2\n3");
    struct sag_csv_events events = {stop_at_second, NULL, &rows};
    assert_int_equal(sag_csv_read(&input, &events, &diags), SAG_NO_MEMORY);
    assert_int_equal(rows, 2);
    check_diags("ended", &diags, "");
}

TEST_LIST(csv, cmocka_unit_test(reads_what_spreadsheets_write), cmocka_unit_test(lines_of_spaces_count),
          cmocka_unit_test(refuses_what_is_no_table), cmocka_unit_test(reads_long_things), cmocka_unit_test(many_cells),
          cmocka_unit_test(comments_may_be_long), cmocka_unit_test(letters_across_a_block),
          cmocka_unit_test(a_row_may_end_the_reading))
