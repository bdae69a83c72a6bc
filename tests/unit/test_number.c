#include <math.h>
#include <string.h>

#include "base/number.h"
#include "support.h"

static void reads_numbers(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        char mark;
        enum sag_number_fault fault;
        double value;
    } rows[] = {
        {"480", '.', SAG_NUMBER_OK, 480},           {"-0.5", '.', SAG_NUMBER_OK, -0.5},
        {"93,5", ',', SAG_NUMBER_OK, 93.5},         {"93.5", ',', SAG_NUMBER_OK, 93.5},
        {"1e3", '.', SAG_NUMBER_OK, 1000},          {".25", '.', SAG_NUMBER_OK, 0.25},
        {"75hp", '.', SAG_NUMBER_UNIT, 0},          {"75 hp", '.', SAG_NUMBER_UNIT, 0},
        {"93,5", '.', SAG_NUMBER_MARK, 0},          {"1,765", '.', SAG_NUMBER_THOUSANDS, 0},
        {"1.765", ',', SAG_NUMBER_THOUSANDS, 0},    {"1.234.567", ',', SAG_NUMBER_THOUSANDS, 0},
        {"0x10", '.', SAG_NUMBER_UNIT, 0},          {"inf", '.', SAG_NUMBER_NOT_ONE, 0},
        {"#REF!", '.', SAG_NUMBER_NOT_ONE, 0},      {"", '.', SAG_NUMBER_NOT_ONE, 0},
        {"1e999", '.', SAG_NUMBER_OUT_OF_RANGE, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double value = 0;
        enum sag_number_fault fault = sag_number_read(rows[i].text, strlen(rows[i].text), rows[i].mark, &value);
        if (fault != rows[i].fault)
            fail_msg("\"%s\": fault %d, wanted %d", rows[i].text, fault, rows[i].fault);
        if (fault == SAG_NUMBER_OK)
            check_near(rows[i].text, value, rows[i].value, 0);
    }
}

static void ungroups_numbers(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        char mark;
        const char *plain; /* NULL: groups nothing */
    } rows[] = {
        {"1,765", '.', "1765"},
        {"1,234.50", '.', "1234.50"},
        {"1.234,5", '.', "1234.5"},
        {"1.234,5", ',', "1234,5"},
        {"-1'234'567", '.', "-1234567"},
        {"1 200", '.', "1200"},
        {"1765", '.', NULL},
        {"0,93", '.', NULL},
        {"1,23", '.', NULL},
        {"1,2345", '.', NULL},
    };
    char plain[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bool grouped = sag_number_ungroup(rows[i].text, strlen(rows[i].text), rows[i].mark, plain);
        if (grouped != (rows[i].plain != NULL))
            fail_msg("\"%s\": grouped is %d", rows[i].text, grouped);
        if (grouped)
            check_text(rows[i].text, plain, rows[i].plain);
    }
}

static void prints_numbers(void **state)
{
    (void)state;
    static const struct {
        double value;
        int decimals;
        const char *text;
    } rows[] = {
        {480, 1, "480.0"}, {-0.04, 1, "0.0"}, {0.125, 2, "0.13"},      {-2.5, 0, "-3"},
        {NAN, 2, ""},      {INFINITY, 2, ""}, {999.999, 2, "1000.00"}, {1e300, 0, "1000000000000000"},
    };
    char text[SAG_NUMBER_ROOM];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_text(rows[i].text, sag_number_print(text, rows[i].value, rows[i].decimals), rows[i].text);
}

/* What is printed reads back as the rounded number. */
static void round_trip(void **state)
{
    (void)state;
    char text[SAG_NUMBER_ROOM];
    uint64_t walk = 1;
    for (int i = 0; i < 20000; i++) {
        walk = walk * 6364136223846793005U + 1442695040888963407U;
        double value = ((double)(walk >> 11) / 9007199254740992.0 - 0.5) * pow(10, (double)(walk % 9));
        int decimals = (int)(walk >> 7 & 7);
        double back = NAN;
        sag_number_print(text, value, decimals);
        assert_int_equal(sag_number_read(text, strlen(text), '.', &back), SAG_NUMBER_OK);
        /* half of the last decimal, and what a double of that size cannot hold */
        check_near(text, back, value, 0.5 * pow(10, -decimals) + 4 * 2.3e-16 * fabs(value));
    }
}

TEST_LIST(number, cmocka_unit_test(reads_numbers), cmocka_unit_test(ungroups_numbers), cmocka_unit_test(prints_numbers),
          cmocka_unit_test(round_trip))
