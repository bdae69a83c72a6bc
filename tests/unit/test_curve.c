/* A maker's curve read: rows to points in rising order, or the exact words why not. */
#include <math.h>
#include <stdlib.h>

#include "read_help.h"

enum {
    MOST_POINTS = 4
};

struct curve_row {
    const char *name, *text;
    size_t count;
    struct sag_curve_point points[MOST_POINTS];
    const char *notes;
};

static void check_read(const struct curve_row *row)
{
    struct sag_input input = text_input("c.csv", row->text);
    struct sag_diags diags = {0};
    struct sag_curve_point *points;
    size_t count;
    enum sag_status status = sag_read_curve(&input, &points, &count, &diags);
    check_diags(row->name, &diags, row->notes ? row->notes : "");
    assert_int_equal(status, SAG_OK);
    check_near(row->name, (double)count, (double)row->count, 0);
    for (size_t i = 0; i < count && i < row->count; i++) {
        check_near(row->name, points[i].seconds, row->points[i].seconds, 0);
        check_near(row->name, points[i].multiple, row->points[i].multiple, 0);
    }
    free(points);
}

static void taken(void **state)
{
    (void)state;
    static const struct curve_row rows[] = {
        {"two points", "time_s,multiple\n100,2\n10,6\n", 2, {{100, 2}, {10, 6}}, NULL},
        {"columns the other way round", "multiple,time_s\n2,100\n6,10\n", 2, {{100, 2}, {10, 6}}, NULL},
        {"rows in any order",
         "time_s,multiple\n10,6\n300,1.5\n1,10\n100,2\n",
         4,
         {{300, 1.5}, {100, 2}, {10, 6}, {1, 10}},
         NULL},
        {"as slow at more amps", "time_s,multiple\n10,2\n10,6\n", 2, {{10, 2}, {10, 6}}, NULL},
        {"semicolons and decimal commas", "time_s;multiple\n100,5;1,5\n0,25;12\n", 2, {{100.5, 1.5}, {0.25, 12}}, NULL},
        {"comments and blank lines",
         "# read off a sheet\n# hot\ntime_s,multiple\n\n100,2\n10,6\n",
         2,
         {{100, 2}, {10, 6}},
         NULL},
        {"a row without cells is none", "time_s,multiple\n100,2\n,\n10,6\n", 2, {{100, 2}, {10, 6}}, NULL},
        {"heads as people write them", "Time S,MULTIPLE\r\n100,2\r\n10,6\r\n", 2, {{100, 2}, {10, 6}}, NULL},
        {"another column",
         "maker,time_s,multiple\nA,100,2\nB,10,6\n",
         2,
         {{100, 2}, {10, 6}},
         "1:1 W column \"maker\" is ignored\n"},
        {"at the ends of the range", "time_s,multiple\n100000,0.5\n0.001,100\n", 2, {{1e5, 0.5}, {1e-3, 100}}, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_read(&rows[i]);
}

#define HEAD "time_s,multiple\n"

static void check_refused(const char *name, const char *text, const char *wanted)
{
    struct sag_input input = text_input("c.csv", text);
    struct sag_diags diags = {0};
    struct sag_curve_point *points;
    size_t count;
    enum sag_status status = sag_read_curve(&input, &points, &count, &diags);
    check_diags(name, &diags, wanted);
    assert_int_equal(status, SAG_BAD_INPUT);
    assert_null(points);
    assert_int_equal(count, 0);
}

static void refused(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *wanted;
    } rows[] = {
        {"nothing", "", "0:0 E the file is empty\n"},
        {"comments only", "# a\n# b\n", "0:0 E no header row; the first row must name the columns\n"},
        {"a comment among the points", HEAD "100,2\n# hot\n10,6\n",
         "3:1 E time_s: \"# hot\" is not a number; write one, or leave the cell blank\n"},
        {"a header only", HEAD, "0:0 E a curve needs at least two points (columns time_s, multiple)\n"},
        {"one point", HEAD "10,6\n", "0:0 E a curve needs at least two points (columns time_s, multiple)\n"},
        {"a time blank", HEAD "100,2\n,4\n10,6\n", "3:0 E time_s is blank; a point needs both\n"},
        {"a multiple blank", HEAD "100,2\n50,\n10,6\n", "3:0 E multiple is blank; a point needs both\n"},
        {"the same multiple", HEAD "100,2\n50,4\n40,4\n10,6\n",
         "4:0 E multiple: line 3 has the same one; keep one of them\n"},
        {"the same point twice", HEAD "100,2\n100,2\n10,6\n",
         "3:0 E multiple: line 2 has the same one; keep one of them\n"},
        {"a rising time", HEAD "10,2\n20,4\n5,6\n",
         "3:0 E time_s: longer than at the lower multiple of line 2; a curve falls\n"},
        {"a rising time, rows turned round", HEAD "5,6\n20,4\n10,2\n",
         "3:0 E time_s: longer than at the lower multiple of line 4; a curve falls\n"},
        {"a word", HEAD "100,2\nten,4\n10,6\n",
         "3:1 E time_s: \"ten\" is not a number; write one, or leave the cell blank\n"},
        {"a unit", HEAD "100,2\n20 s,4\n10,6\n",
         "3:1 E time_s: \"20 s\" has more than a number in the cell; write 20\n"},
        {"a time of nothing", HEAD "100,2\n0,6\n10,5\n", "3:1 E time_s: \"0\" is outside 0.001 to 100000 s\n"},
        {"a time too long", HEAD "100001,2\n10,6\n20,5\n", "2:1 E time_s: \"100001\" is outside 0.001 to 100000 s\n"},
        {"a multiple too small", HEAD "100,0.49\n10,6\n20,5\n", "2:2 E multiple: \"0.49\" is outside 0.5 to 100\n"},
        {"a multiple too large", HEAD "100,2\n10,101\n20,5\n", "3:2 E multiple: \"101\" is outside 0.5 to 100\n"},
        {"below nothing", HEAD "100,2\n-10,6\n20,5\n", "3:1 E time_s: \"-10\" is outside 0.001 to 100000 s\n"},
        {"a decimal comma among commas", HEAD "100,2\n\"10,5\",6\n20,5\n",
         "3:1 E time_s: \"10,5\" has a decimal comma in a comma-separated file; write 10.5\n"},
        {"a cell too many", HEAD "100,2\n10,6,7\n20,5\n",
         "3:3 E \"7\" stands beyond the last of 2 columns; an unquoted comma?\n"},
        {"a column twice", "time_s,multiple,time_s\n100,2,100\n10,6,10\n",
         "1:3 E column time_s stands twice (first in column 1)\n"},
        {"two faults in two rows", HEAD "x,2\n10,y\n20,5\n10,6\n",
         "2:1 E time_s: \"x\" is not a number; write one, or leave the cell blank\n"
         "3:2 E multiple: \"y\" is not a number; write one, or leave the cell blank\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_refused(rows[i].name, rows[i].text, rows[i].wanted);
    }
}

/* A header that lacks a column is told once, not once more a row. */
static void header_without_a_column(void **state)
{
    (void)state;
    static const struct {
        const char *name, *text, *wanted;
    } rows[] = {
        {"no multiple", "time_s\n100\n10\n", "1:0 E the header has no column multiple; a curve has time_s,multiple\n"},
        {"no time", "multiple\n2\n6\n", "1:0 E the header has no column time_s; a curve has time_s,multiple\n"},
        {"neither", "100,2\n10,6\n",
         "1:0 E the header has no column time_s; a curve has time_s,multiple\n"
         "1:0 E the header has no column multiple; a curve has time_s,multiple\n"
         "1:1 W column \"100\" is ignored\n1:2 W column \"2\" is ignored\n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_refused(rows[i].name, rows[i].text, rows[i].wanted);
    }
}

/* What was complained of before does not make a good curve bad. */
static void earlier_complaints(void **state)
{
    (void)state;
    struct sag_input input = text_input("c.csv", HEAD "100,2\n10,6\n");
    struct sag_diags diags = {0};
    struct sag_curve_point *points;
    size_t count;
    sag_complain(&diags, SAG_ERROR, &(struct sag_place){0}, "of another file");
    assert_int_equal(sag_read_curve(&input, &points, &count, &diags), SAG_OK);
    assert_int_equal(count, 2);
    sag_diags_free(&diags);
    free(points);
}

TEST_LIST(curve, cmocka_unit_test(taken), cmocka_unit_test(refused), cmocka_unit_test(header_without_a_column),
          cmocka_unit_test(earlier_complaints))
