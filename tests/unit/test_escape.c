#include <stdlib.h>

#include "base/csv.h"
#include "read_help.h"
#include "write/escape.h"

typedef void put_fn(FILE *stream, const char *text);

/* What `put` writes, NUL-terminated; the caller frees it. */
static char *put_text(put_fn *put, const char *text)
{
    char *out = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&out, &size);
    put(stream, text);
    fclose(stream);
    assert_int_equal(strlen(out), size);
    return out;
}

struct put_row {
    const char *name, *text, *wanted;
};

static void check_put(put_fn *put, const struct put_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char *got = put_text(put, rows[i].text);
        check_text(rows[i].name, got, rows[i].wanted);
        free(got);
    }
}

#define RTL_MARK     "\xE2\x80\x8F"
#define RTL_OVERRIDE "\xE2\x80\xAE"
#define RTL_ISOLATE  "\xE2\x81\xA7"
#define UMLAUT       "\xC3\xBC"
#define COMMAND      "\"; system('id') #"

static void csv_cells(void **state)
{
    (void)state;
    static const struct put_row rows[] = {
        {"empty", "", ""},
        {"plain", "P-1", "P-1"},
        {"UTF-8", "L" UMLAUT "fter", "L" UMLAUT "fter"},
        {"comma", "a,b", "\"a,b\""},
        {"semicolon", "a;b", "\"a;b\""},
        {"quote", "say \"on\"", "\"say \"\"on\"\"\""},
        {"newline", "a\nb", "\"a\nb\""},
        {"carriage return", "a\rb", "\"a\rb\""},
        {"formula", "=cmd()", "\"'=cmd()\""},
        {"formula with quotes", "=HYPERLINK(\"x\")", "\"'=HYPERLINK(\"\"x\"\")\""},
        {"plus", "+1", "\"'+1\""},
        {"minus", "-1", "\"'-1\""},
        {"at", "@SUM(A1)", "\"'@SUM(A1)\""},
        {"tab", "\t=1", "\"'\t=1\""},
        {"formula inside", "a=1", "a=1"},
        {"shell", "`id`", "`id`"},
        {"command", COMMAND, "\"\"\"; system('id') #\""},
        {"path", "../../x", "../../x"},
        {"newline first", "\n=1", "\"'\n=1\""},
        {"wide signs",
         "\xEF\xBC\x9D"
         "1",
         "\"'\xEF\xBC\x9D"
         "1\""},
        {"wide plus", "\xEF\xBC\x8B", "\"'\xEF\xBC\x8B\""},
        {"wide minus", "\xEF\xBC\x8D", "\"'\xEF\xBC\x8D\""},
        {"wide at", "\xEF\xBC\xA0", "\"'\xEF\xBC\xA0\""},
        {"no wide sign", "\xEF\xBC\x91", "\xEF\xBC\x91"},
    };
    check_put(put_csv_cell, rows, COUNT(rows));
}

static void plain_text(void **state)
{
    (void)state;
    static const struct put_row rows[] = {
        {"empty", "", ""},
        {"command", COMMAND, COMMAND},
        {"formula", "=cmd()", "=cmd()"},
        {"UTF-8", UMLAUT "\xE2\x82\xAC\xF0\x9F\x98\x80", UMLAUT "\xE2\x82\xAC\xF0\x9F\x98\x80"},
        {"newlines", "a\r\nb", "a??b"},
        {"terminal codes", "\033[31mred\007\x7F", "?[31mred??"},
        {"Latin-1 control",
         "\xC2\x9B"
         "31m",
         "?31m"},
        {"no-break space stays", "a\xC2\xA0", "a\xC2\xA0"},
        {"right-to-left", "a" RTL_MARK RTL_OVERRIDE RTL_ISOLATE "b", "a???b"},
        {"line separator", "a\xE2\x80\xA8", "a?"},
        {"byte order mark",
         "\xEF\xBB\xBF"
         "a",
         "?a"},
    };
    check_put(put_plain, rows, COUNT(rows));
}

/* What has no width of its own. From Unicode's list of code points that are ignored by default (DerivedCoreProperties,
   from memory), and those around them that are not. */
static void characters_that_hide(void **state)
{
    (void)state;
    static const struct put_row rows[] = {
        {"soft hyphen",
         "a\xC2\xAD"
         "b",
         "a?b"},
        {"grapheme joiner",
         "a\xCD\x8F"
         "b",
         "a?b"},
        {"Hangul filler",
         "a\xE1\x85\x9F\xE3\x85\xA4\xEF\xBE\xA0"
         "b",
         "a???b"},
        {"Khmer vowels",
         "a\xE1\x9E\xB4\xE1\x9E\xB5"
         "b",
         "a??b"},
        {"zero width",
         "a\xE2\x80\x8B\xE2\x80\x8D\xE2\x81\xA0"
         "b",
         "a???b"},
        {"isolates",
         "a\xE2\x81\xA6\xE2\x81\xA9"
         "b",
         "a??b"},
        {"variation",
         "a\xEF\xB8\x80\xEF\xB8\x8F"
         "b",
         "a??b"},
        {"interlinear",
         "a\xEF\xBF\xB9\xEF\xBF\xBB"
         "b",
         "a??b"},
        {"music",
         "a\xF0\x9D\x85\xB3"
         "b",
         "a?b"},
        {"tags",
         "a\xF3\xA0\x81\x81\xF3\xA0\x80\x80"
         "b",
         "a??b"},
        {"registered sign stays", "\xC2\xAE", "\xC2\xAE"},
        {"replacement stays", "\xEF\xBF\xBD", "\xEF\xBF\xBD"},
        {"presentation form stays", "\xEF\xB7\xBF", "\xEF\xB7\xBF"},
        {"private plane stays", "\xF3\xB0\x80\x80", "\xF3\xB0\x80\x80"},
    };
    check_put(put_plain, rows, COUNT(rows));
}

/* The third of the marks that Unicode calls directional (LRM, RLM, ALM) has two bytes. */
static void arabic_letter_mark(void **state)
{
    (void)state;
    static const struct put_row rows[] = {{"U+061C", "a\xD8\x9C", "a?"}};
    check_put(put_plain, rows, COUNT(rows));
}

static void gnuplot_strings(void **state)
{
    (void)state;
    static const struct put_row rows[] = {
        {"empty", "", "''"},
        {"plain", "Pump 1, east", "'Pump 1, east'"},
        {"formula", "=cmd()", "'=cmd()'"},
        {"shell", "`id`", "'_id_'"},
        {"command", COMMAND, "'\xE2\x80\x99; system(\xE2\x80\x99id\xE2\x80\x99) #'"},
        {"path", "../../x", "'../../x'"},
        {"escape", "a\\nb", "'a_nb'"},
        {"macro", "@x $y", "'_x _y'"},
        {"newline", "a\nb", "'a b'"},
        {"right-to-left", "a" RTL_OVERRIDE "b", "'a b'"},
        {"UTF-8", "L" UMLAUT "fter", "'L" UMLAUT "fter'"},
    };
    check_put(put_gnuplot, rows, COUNT(rows));
}

/* Every pair of bytes stays inside the string. */
static void gnuplot_strings_hold(void **state)
{
    (void)state;
    for (int a = 1; a < 256; a++)
        for (int b = 1; b < 256; b++) {
            const char text[] = {(char)a, (char)b, '\0'};
            char *got = put_text(put_gnuplot, text);
            size_t n = strlen(got);
            if (n < 2 || got[0] != '\'' || got[n - 1] != '\'' || strcspn(got + 1, "'\"`$\\@\n\r") != n - 2)
                fail_msg("bytes %d %d give %s", a, b, got);
            free(got);
        }
}

/* A byte that is no UTF-8 does not carry a control byte through. */
static void broken_sequences(void **state)
{
    (void)state;
    for (int a = 1; a < 0x20; a++) {
        const char text[] = {(char)a, (char)0x80, '\0'};
        char *got = put_text(put_plain, text);
        if (strchr(got, a))
            fail_msg("control byte %d passes", a);
        free(got);
    }
}

static void file_names(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text;
        size_t room;
        const char *wanted;
    } rows[] = {
        {"plain", "LIFT-2.a_b", 80, "LIFT-2.a_b"},
        {"empty", "", 80, "_"},
        {"path", "../../x", 80, "_._.._x"},
        {"absolute", "/etc/passwd", 80, "_etc_passwd"},
        {"option", "-rf", 80, "_rf"},
        {"hidden", ".bashrc", 80, "_bashrc"},
        {"up", "..", 80, "_."},
        {"shell", "`id`", 80, "_id_"},
        {"formula", "=cmd()", 80, "_cmd__"},
        {"command", COMMAND, 80, "___system__id____"},
        {"newline", "a\nb", 80, "a_b"},
        {"UTF-8", "L" UMLAUT, 80, "L__"},
        {"little room", "abcdef", 4, "abc"},
        {"backslash", "a\\b", 80, "a_b"},
        {"least room", "abc", 2, "a"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char out[80];
        memset(out, '!', sizeof out);
        check_text(rows[i].name, put_file_name(out, rows[i].room, rows[i].text), rows[i].wanted);
        if (rows[i].room < sizeof out && out[rows[i].room] != '!')
            fail_msg("%s: writes past its room", rows[i].name);
    }
}

static void padded(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text;
        int width;
        const char *wanted;
    } rows[] = {
        {"left", "abc", 5, "abc  "},
        {"right", "abc", -5, "  abc"},
        {"fits", "abcde", 5, "abcde"},
        {"cut", "abcdef", 5, "abcd~"},
        {"cut, right", "abcdef", -5, "abcd~"},
        {"empty", "", 3, "   "},
        {"one", "ab", 1, "~"},
        {"characters, not bytes", "L" UMLAUT "fter", 8, "L" UMLAUT "fter  "},
        {"characters to the right", "L" UMLAUT "fter", -8, "  L" UMLAUT "fter"},
        {"cut at a character", UMLAUT UMLAUT UMLAUT UMLAUT, 3, UMLAUT UMLAUT "~"},
        {"unseen ones take a place", "a" RTL_OVERRIDE "b", 4, "a?b "},
        {"newline", "a\nb", 4, "a?b "},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char *out = NULL;
        size_t size = 0;
        FILE *stream = open_memstream(&out, &size);
        put_padded(stream, rows[i].text, rows[i].width);
        fclose(stream);
        check_text(rows[i].name, out, rows[i].wanted);
        free(out);
    }
    assert_int_equal(text_width("L" UMLAUT "fter \xF0\x9F\x98\x80"), 8);
    assert_int_equal(text_width(""), 0);
}

static void long_text(void **state)
{
    (void)state;
    enum {
        LENGTH = 200 * 1024
    };
    char *text = malloc(LENGTH + 1);
    memset(text, 'x', LENGTH);
    text[LENGTH] = '\0';
    char *csv = put_text(put_csv_cell, text), *plain = put_text(put_plain, text);
    assert_int_equal(strlen(csv), LENGTH);
    assert_int_equal(strlen(plain), LENGTH);
    char *gnuplot = put_text(put_gnuplot, text);
    assert_int_equal(strlen(gnuplot), 63); /* 60 characters, "~" and quotes */
    check_text("gnuplot's end", gnuplot + 60, "x~'");
    char name[4096];
    assert_int_equal(strlen(put_file_name(name, sizeof name, text)), 60);
    free(gnuplot);
    free(plain);
    free(csv);
    free(text);
}

static enum sag_status take_cell(void *context, const struct sag_row *row)
{
    snprintf(context, 100, "%s", row->cells[0].text);
    return SAG_OK;
}

/* What a cell is written as reads back as it was. */
static void cells_read_back(void **state)
{
    (void)state;
    static const char *const texts[] = {"a,b", "say \"on\"", "\"", "a\nb", "a;b", "x\ty", "`id`", COMMAND, UMLAUT};
    for (size_t i = 0; i < COUNT(texts); i++) {
        char back[100] = "", *cell = put_text(put_csv_cell, texts[i]), file[200];
        snprintf(file, sizeof file, "head,b\n%s,1\n", cell);
        struct sag_diags diags = {0};
        struct sag_input input = text_input("t.csv", file);
        sag_csv_read(&input, &(struct sag_csv_events){take_cell, NULL, back}, &diags);
        check_diags(texts[i], &diags, "");
        check_text("read back", back, texts[i]);
        free(cell);
    }
}

TEST_LIST(escape, cmocka_unit_test(csv_cells), cmocka_unit_test(plain_text), cmocka_unit_test(arabic_letter_mark),
          cmocka_unit_test(characters_that_hide), cmocka_unit_test(gnuplot_strings),
          cmocka_unit_test(gnuplot_strings_hold), cmocka_unit_test(broken_sequences), cmocka_unit_test(file_names),
          cmocka_unit_test(padded), cmocka_unit_test(long_text), cmocka_unit_test(cells_read_back))
