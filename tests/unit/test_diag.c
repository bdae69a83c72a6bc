#include "read_help.h"

static void complain(struct sag_diags *diags, const char *file, uint32_t line, uint32_t column)
{
    struct sag_place at = {file, line, column};
    sag_complain(diags, SAG_NOTE, &at, "%zu", diags->count);
}

static void sorts_by_place(void **state)
{
    (void)state;
    static const struct {
        const char *file;
        uint32_t line, column;
    } found[] = {
        {"b.csv", 1, 1}, {"a.csv", 10, 1}, {"a.csv", 9, 3},  {"a.csv", 9, 20}, {"a.csv", 9, 3},
        {"a.csv", 0, 0}, {NULL, 7, 7},     {"a.csv", 10, 0}, {"a.csv", 9, 3},
    };
    struct sag_diags diags = {0};
    for (size_t i = 0; i < COUNT(found); i++)
        complain(&diags, found[i].file, found[i].line, found[i].column);
    check_diags("places", &diags,
                "7:7 N 6\n0:0 N 5\n9:3 N 2\n9:3 N 4\n9:3 N 8\n9:20 N 3\n10:0 N 7\n10:1 N 1\n1:1 N 0\n");
}

static void sorting_none_is_harmless(void **state)
{
    (void)state;
    struct sag_diags diags = {0};
    sag_diags_sort(&diags);
    sag_diags_free(&diags);
    assert_int_equal(diags.count, 0);
}

static void counts_more_than_it_keeps(void **state)
{
    (void)state;
    struct sag_diags diags = {0};
    struct sag_place at = {"a.csv", 1, 1};
    for (int i = 0; i < 70; i++) {
        assert_int_equal(sag_complain(&diags, SAG_ERROR, &at, "error %d", i), SAG_BAD_INPUT);
        assert_int_equal(sag_complain(&diags, SAG_WARNING, &at, "warning %d", i), SAG_OK);
    }
    assert_int_equal(sag_complain(&diags, SAG_NOTE, &at, "note"), SAG_OK);
    assert_int_equal(diags.errors, 70);
    assert_int_equal(diags.warnings, 70);
    assert_int_equal(diags.count, 2 * SAG_DIAGS_KEPT + 1);
    check_text("last error kept", diags.items[98].text, "error 49");
    check_text("last warning kept", diags.items[99].text, "warning 49");
    check_text("a note still fits", diags.items[100].text, "note");
    sag_diags_free(&diags);
    assert_null(diags.items);
}

static void long_text_is_cut(void **state)
{
    (void)state;
    char text[1000];
    struct sag_diags diags = {0};
    memset(text, 'x', sizeof text);
    text[sizeof text - 1] = '\0';
    sag_complain(&diags, SAG_ERROR, &(struct sag_place){0}, "%s", text);
    assert_int_equal(strlen(diags.items[0].text), sizeof diags.items[0].text - 1);
    sag_diags_free(&diags);
}

#define X10 "xxxxxxxxxx"
#define X40 X10 X10 X10 X10

static void shows_user_text(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *shown;
    } rows[] = {
        {"empty", "", ""},
        {"plain", "75hp", "75hp"},
        {"control bytes", "a\nb\tc\033[31m\x7F", "a?b?c?[31m?"},
        {"UTF-8",
         "L\xC3\xBC"
         "fter",
         "L\xC3\xBC"
         "fter"},
        {"48 bytes", X40 "12345678", X40 "12345678"},
        {"49 bytes", X40 "123456789", X40 "12345678..."},
        {"cut before a sequence", X40 "1234567\xC3\xBC", X40 "1234567..."},
        {"cut after a sequence",
         X40 "123456\xC3\xBC"
             "8",
         X40 "123456\xC3\xBC..."},
        {"cut before a long sequence", X40 "12345\xF0\x9F\x98\x80", X40 "12345..."},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_shown shown;
        check_text(rows[i].name, sag_shown(&shown, rows[i].text, strlen(rows[i].text)), rows[i].shown);
    }
}

/* A terminal acts on these as well. */
static void shows_nothing_that_acts(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text;
    } rows[] = {
        {"control sequence introducer of Latin-1", "\xC2\x9B"},
        {"right-to-left override", "\xE2\x80\xAE"},
        {"line separator", "\xE2\x80\xA8"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_shown shown;
        if (strstr(sag_shown(&shown, rows[i].text, strlen(rows[i].text)), rows[i].text))
            fail_msg("%s is shown as it is", rows[i].name);
    }
}

static void shows_a_part_only(void **state)
{
    (void)state;
    struct sag_shown shown;
    check_text("length", sag_shown(&shown, "rated_volts=440,rated_hp", 15), "rated_volts=440");
    check_text("none", sag_shown(&shown, NULL, 0), "");
}

TEST_LIST(diag, cmocka_unit_test(sorts_by_place), cmocka_unit_test(sorting_none_is_harmless),
          cmocka_unit_test(counts_more_than_it_keeps), cmocka_unit_test(long_text_is_cut),
          cmocka_unit_test(shows_user_text), cmocka_unit_test(shows_nothing_that_acts),
          cmocka_unit_test(shows_a_part_only))
