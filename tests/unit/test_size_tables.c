/* Corners of the tables that sizes rest on: first and last rows, rows in the middle, between rows, past the ends. All
   figures typed here from the prints (NFPA 70, the clause beside each), not read from the built-in files. */
#include "size_help.h"

#define CU SAG_MATERIAL_CU
#define AL SAG_MATERIAL_AL

/* --- conductors ----------------------------------------------------------------------------------------------------
 */

/* Table 310.16, 2011 to 2023: columns of 60, 75, 90 C. */
static void ampacity(void **state)
{
    (void)state;
    static const struct {
        const char *size;
        double cu[3], al[3];
    } rows[] = {
        {"14", {15, 20, 25}, {NAN, NAN, NAN}},     {"12", {20, 25, 30}, {15, 20, 25}},
        {"10", {30, 35, 40}, {25, 30, 35}},        {"8", {40, 50, 55}, {35, 40, 45}},
        {"6", {55, 65, 75}, {40, 50, 55}},         {"3", {85, 100, 115}, {65, 75, 85}},
        {"1", {110, 130, 145}, {85, 100, 115}},    {"1/0", {125, 150, 170}, {100, 120, 135}},
        {"4/0", {195, 230, 260}, {150, 180, 205}}, {"250", {215, 255, 290}, {170, 205, 230}},
        {"500", {320, 380, 430}, {260, 310, 350}}, {"1000", {455, 545, 615}, {375, 445, 500}},
    };
    static const int columns[] = {60, 75, 90};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int c = 0; c < 3; c++) {
            size_t at = sag_find_conductor_size(shared_tables(), rows[i].size);
            check_size(rows[i].size, sag_conductor_size(shared_tables(), at), rows[i].size);
            check_amps(rows[i].size, sag_ask_ampacity(shared_tables(), at, CU, columns[c]), rows[i].cu[c]);
            check_amps(rows[i].size, sag_ask_ampacity(shared_tables(), at, AL, columns[c]), rows[i].al[c]);
        }
}

static void conductor_sizes(void **state)
{
    (void)state;
    static const struct {
        const char *size, *taken; /* NULL: none */
    } rows[] = {
        {"14", "14"},      {"1000", "1000"},  {"18", NULL},      {"1250", NULL},     {"banana", NULL},
        {"2.5mm2", "14"},  {"2mm2", NULL},    {"4mm2", "12"},    {"95mm2", "3/0"},   {"107.3mm2", "4/0"},
        {"120mm2", "4/0"}, {"127mm2", "250"}, {"500mm2", "900"}, {"507mm2", "1000"}, {"1000mm2", "1000"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        size_t at = sag_find_conductor_size(shared_tables(), rows[i].size);
        check_size(rows[i].size, sag_conductor_size(shared_tables(), at), rows[i].taken);
    }
    check_size("first", sag_conductor_size(shared_tables(), 0), "14");
    check_amps("14", sag_ask_conductor_area(shared_tables(), "14"), 4110);
    check_amps("1000", sag_ask_conductor_area(shared_tables(), "1000"), 1000000);
    check_amps("1250", sag_ask_conductor_area(shared_tables(), "1250"), NAN);
}

/* Table 310.15(B)(1)(1), base 30 C; the bands include their upper ends. */
static void ambient_factors(void **state)
{
    (void)state;
    static const struct {
        double ambient, factor[3];
    } rows[] = {
        {-40, {1.29, 1.20, 1.15}}, {10, {1.29, 1.20, 1.15}}, {10.1, {1.22, 1.15, 1.12}}, {25, {1.08, 1.05, 1.04}},
        {26, {1, 1, 1}},           {30, {1, 1, 1}},          {31, {0.91, 0.94, 0.96}},   {46, {0.58, 0.75, 0.82}},
        {55, {0.41, 0.67, 0.76}},  {56, {NAN, 0.58, 0.71}},  {70, {NAN, 0.33, 0.58}},    {71, {NAN, NAN, 0.50}},
        {85, {NAN, NAN, 0.29}},    {86, {NAN, NAN, NAN}},
    };
    static const int columns[] = {60, 75, 90};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int c = 0; c < 3; c++) {
            char name[40];
            snprintf(name, sizeof name, "%g C, insulation %d", rows[i].ambient, columns[c]);
            check_amps(name, sag_ask_ambient_factor(shared_tables(), rows[i].ambient, columns[c]), rows[i].factor[c]);
        }
}

/* Table 310.15(C)(1). */
static void count_factors(void **state)
{
    (void)state;
    static const double rows[][2] = {{1, 1},     {3, 1},     {4, 0.80},  {6, 0.80},  {7, 0.70},
                                     {9, 0.70},  {10, 0.50}, {20, 0.50}, {21, 0.45}, {30, 0.45},
                                     {31, 0.40}, {40, 0.40}, {41, 0.35}, {500, 0.35}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        char name[40];
        snprintf(name, sizeof name, "%g conductors", rows[i][0]);
        check_amps(name, sag_ask_count_factor(shared_tables(), rows[i][0]), rows[i][1]);
    }
}

/* 110.14(C)(1). */
static void terminals(void **state)
{
    (void)state;
    static const struct {
        double amps;
        int plain, design_bcd;
    } rows[] = {{1, 60, 75}, {100, 60, 75}, {100.1, 75, 75}, {4000, 75, 75}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_int_equal(sag_ask_terminal_column(shared_tables(), rows[i].amps, false), rows[i].plain);
        assert_int_equal(sag_ask_terminal_column(shared_tables(), rows[i].amps, true), rows[i].design_bcd);
    }
}

/* Table 250.122. */
static void grounds(void **state)
{
    (void)state;
    static const struct {
        double device;
        const char *cu, *al;
    } rows[] = {
        {1, "14", "12"},      {15, "14", "12"},     {15.1, "12", "10"},   {20, "12", "10"},      {25, "10", "8"},
        {60, "10", "8"},      {70, "8", "6"},       {100, "8", "6"},      {110, "6", "4"},       {200, "6", "4"},
        {300, "4", "2"},      {400, "3", "1"},      {500, "2", "1/0"},    {600, "1", "2/0"},     {601, "1/0", "3/0"},
        {800, "1/0", "3/0"},  {1000, "2/0", "4/0"}, {1200, "3/0", "250"}, {1600, "4/0", "350"},  {2000, "250", "400"},
        {2500, "350", "600"}, {3000, "400", "600"}, {4000, "500", "750"}, {5000, "700", "1250"}, {6000, "800", "1250"},
        {6000.1, NULL, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char name[40];
        snprintf(name, sizeof name, "device of %g A", rows[i].device);
        check_size(name, sag_ask_ground_conductor(shared_tables(), rows[i].device, CU), rows[i].cu);
        check_size(name, sag_ask_ground_conductor(shared_tables(), rows[i].device, AL), rows[i].al);
    }
}

/* --- devices -------------------------------------------------------------------------------------------------------
 */

/* Table 240.6(A); 1, 3, 6, 10 and 601 A are of fuses only. */
static void ratings(void **state)
{
    (void)state;
    static const struct {
        double amps, fuse_up, fuse_down, breaker_up, breaker_down;
    } rows[] = {
        {0.5, 1, NAN, 15, NAN},
        {1, 1, 1, 15, NAN},
        {2, 3, 1, 15, NAN},
        {6, 6, 6, 15, NAN},
        {10, 10, 10, 15, NAN},
        {10.1, 15, 10, 15, NAN},
        {15, 15, 15, 15, 15},
        {15.01, 20, 15, 20, 15},
        {50.1, 60, 50, 60, 50},
        {100, 100, 100, 100, 100},
        {113.75, 125, 110, 125, 110},
        {600, 600, 600, 600, 600},
        {600.5, 601, 600, 700, 600},
        {601, 601, 601, 700, 600},
        {650, 700, 601, 700, 600},
        {1200.5, 1600, 1200, 1600, 1200},
        {6000, 6000, 6000, 6000, 6000},
        {6000.1, NAN, 6000, NAN, 6000},
        {100 * 1.1, 110, 110, 110, 110}, /* 110.00000000000001 stays that rating */
        {41.1 / 1.37 * 3, 90, 90, 90, 90},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char name[40];
        snprintf(name, sizeof name, "rating of %g A", rows[i].amps);
        check_amps(name, sag_ask_rating_up(shared_tables(), rows[i].amps, true), rows[i].fuse_up);
        check_amps(name, sag_ask_rating_down(shared_tables(), rows[i].amps, true), rows[i].fuse_down);
        check_amps(name, sag_ask_rating_up(shared_tables(), rows[i].amps, false), rows[i].breaker_up);
        check_amps(name, sag_ask_rating_down(shared_tables(), rows[i].amps, false), rows[i].breaker_down);
    }
    assert_true(isnan(sag_ask_rating_up(shared_tables(), NAN, true)));
    assert_true(isnan(sag_ask_rating_down(shared_tables(), NAN, true)));
}

/* Table 430.52(C)(1) with exceptions 2 and (C)(3): dual-element, nontime, breaker, instantaneous. */
static void device_shares(void **state)
{
    (void)state;
    static const struct {
        const char *type;
        double base[4], instant_most;
    } rows[] = {
        {"single_phase_ac", {1.75, 3, 2.5, 8}, 13},
        {"polyphase_other_than_wound_rotor", {1.75, 3, 2.5, 8}, 13},
        {"squirrel_cage_not_design_b_efficient", {1.75, 3, 2.5, 8}, 13},
        {"design_b_energy_or_premium_efficient", {1.75, 3, 2.5, 11}, 17},
        {"synchronous", {1.75, 3, 2.5, 8}, 13},
        {"wound_rotor", {1.5, 1.5, 1.5, 8}, 13},
        {"dc_constant_voltage", {1.5, 1.5, 1.5, 2.5}, 13},
        {"steam_engine", {NAN, NAN, NAN, NAN}, NAN},
    };
    const double most[] = {2.25, 4, 4}, most_over_600[] = {3, 3, 4};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int kind = DUAL; kind <= INSTANT; kind++) {
            bool known = !isnan(rows[i].instant_most);
            struct sag_device_share s = sag_ask_device_share(shared_tables(), rows[i].type, (enum sag_device)kind, 100);
            check_amps(rows[i].type, s.base, rows[i].base[kind - DUAL]);
            check_amps(rows[i].type, s.most, !known || kind == INSTANT ? rows[i].instant_most : most[kind - DUAL]);
            if (kind != INSTANT)
                check_amps(rows[i].type, s.most_over_600, known ? most_over_600[kind - DUAL] : NAN);
        }
}

/* Up to 100 A an inverse-time breaker may go to 400 %, above to 300 %; fuses know no such line. */
static void device_shares_at_100_amps(void **state)
{
    (void)state;
    static const char type[] = "squirrel_cage_not_design_b_efficient";
    static const double rows[][2] = {{1, 4}, {99.9, 4}, {100, 4}, {100.1, 3}, {590, 3}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_device_share s = sag_ask_device_share(shared_tables(), type, BREAKER, rows[i][0]);
        check_amps("breaker", s.most, rows[i][1]);
        check_amps("breaker", s.base, 2.5);
        check_amps("fuse", sag_ask_device_share(shared_tables(), type, NONTIME, rows[i][0]).most, 4);
        check_amps("dual", sag_ask_device_share(shared_tables(), type, DUAL, rows[i][0]).most, 2.25);
    }
}

/* Table 450.3(B), both windings 1000 V or less. */
static void transformer_shares(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        bool both, secondary;
        double amps, share;
        bool next_up;
    } rows[] = {
        {"primary only, tiny", false, false, 0, 3, false},
        {"primary only, below 2 A", false, false, 1.99, 3, false},
        {"primary only, 2 A", false, false, 2, 1.67, false},
        {"primary only, below 9 A", false, false, 8.99, 1.67, false},
        {"primary only, 9 A", false, false, 9, 1.25, true},
        {"primary only, large", false, false, 4000, 1.25, true},
        {"both, primary, tiny", true, false, 1, 2.5, false},
        {"both, primary, large", true, false, 1000, 2.5, false},
        {"both, secondary below 9 A", true, true, 8.99, 1.67, false},
        {"both, secondary 9 A", true, true, 9, 1.25, true},
        {"both, secondary large", true, true, 4000, 1.25, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct sag_transformer_share s =
            sag_ask_transformer_share(shared_tables(), rows[i].both, rows[i].secondary, rows[i].amps);
        assert_true(s.found);
        check_amps(rows[i].name, s.share, rows[i].share);
        assert_int_equal(s.next_up, rows[i].next_up);
        assert_false(s.from_memory);
    }
    assert_false(sag_ask_transformer_share(shared_tables(), false, true, 20).found);
}

TEST_LIST(size_tables, cmocka_unit_test(ampacity), cmocka_unit_test(conductor_sizes), cmocka_unit_test(ambient_factors),
          cmocka_unit_test(count_factors), cmocka_unit_test(terminals), cmocka_unit_test(grounds),
          cmocka_unit_test(ratings), cmocka_unit_test(device_shares), cmocka_unit_test(device_shares_at_100_amps),
          cmocka_unit_test(transformer_shares))
